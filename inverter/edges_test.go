package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// Both sides of each bound of what waveforms, meters and legs take.
func TestWaveAndMeterEdges(t *testing.T) {
	one := Spectrum{0, 1}
	readings := ACReadings{Voltage: Exactly[unit.Voltage](120), Current: Exactly[unit.Current](6), Real: Exactly[unit.Power](500)}
	dc := DCReadings{Exactly[unit.Voltage](12), Exactly[unit.Current](60)}
	point := MeteredPoint{120, 400, 0.7, 1.2, 12, 0.9}
	for name, tt := range map[string]struct {
		lo, hi float64
		f      func(x float64) error
	}{
		"peak":       {leastPeak, mostVolt, func(x float64) error { return SteppedWave{unit.Voltage(x), 1}.Validate() }},
		"zero angle": {0, mostZero, func(x float64) error { return SteppedWave{100, unit.Angle(x)}.Validate() }},
		"duty":       {leastDuty, 1, func(x float64) error { _, err := WithDuty(100, x); return err }},
		"held rms":   {10, mostVolt, func(x float64) error { _, err := HoldRMS(100, unit.Voltage(x)); return err }},
		"reading":    {0.1, mostVolt, func(x float64) error { _, err := half.TrueRMS(unit.Voltage(x)); return err }},
		"amplitude":  {-2 * mostVolt, 2 * mostVolt, func(x float64) error { return Spectrum{unit.Voltage(x), 2000}.Validate() }},
		"rise time":  {0, 1e-3, func(x float64) error { _, err := one.Ramped(unit.Time(x), 60); return err }},
		"frequency":  {leastHertz, mostHertz, func(x float64) error { _, err := one.Ramped(0, unit.Frequency(x)); return err }},
		"capacitance": {1e-9, 10e-3, func(x float64) error {
			return LineCapacitor{Capacitance: unit.Capacitance(x), Frequency: 60}.Validate()
		}},
		"series resistance": {1e-3, 1e3, func(x float64) error {
			return LineCapacitor{30e-6, 60, unit.Resistance(x), 1e-3}.Validate()
		}},
		"inductance": {0, 1, func(x float64) error { return LineCapacitor{30e-6, 60, 1, unit.Inductance(x)}.Validate() }},
		"impedance": {leastOhm, mostOhm, func(x float64) error {
			_, err := one.Load(func(int) complex128 { return complex(x, 0) })
			return err
		}},
		"harmonic voltage factor": {0, 0.12, func(x float64) error { _, err := HVFDerating(x); return err }},
		"corrected power":         {1, mostPower, func(x float64) error { _, err := Correct(unit.Power(x), 0.8, 0.9, 120, 60); return err }},
		"from":                    {leastPF, 0.9, func(x float64) error { _, err := Correct(100, x, 0.9, 120, 60); return err }},
		"to":                      {0.8, 1, func(x float64) error { _, err := Correct(100, 0.8, x, 120, 60); return err }},
		"line voltage":            {leastAC, mostAC, func(x float64) error { _, err := Correct(100, 0.8, 0.9, unit.Voltage(x), 60); return err }},
		"accuracy":                {0, 0.2, func(x float64) error { _, err := Accuracy[float64]{Share: x}.Of(1); return err }},
		"read voltage":            {leastAC, mostAC, func(x float64) error { r := readings; r.Voltage = Exactly(unit.Voltage(x)); return r.check() }},
		"read current":            {1e-3, 10e3, func(x float64) error { r := readings; r.Current = Exactly(unit.Current(x)); return r.check() }},
		"dc voltage":              {leastVolt, mostVolt, func(x float64) error { d := dc; d.Voltage = Exactly(unit.Voltage(x)); return d.check() }},
		"dc current":              {0, 10e3, func(x float64) error { d := dc; d.Current = Exactly(unit.Current(x)); return d.check() }},
		"form":                    {1, 3, func(x float64) error { p := point; p.Form = x; _, err := p.Show(); return err }},
		"efficiency":              {leastPF, 1, func(x float64) error { p := point; p.Efficiency = x; _, err := p.Show(); return err }},
		"metered energy":          {3600, 3.6e12, func(x float64) error { _, err := MeanPower(unit.Energy(x), 60); return err }},
		"metered time":            {60, mostTime, func(x float64) error { _, err := MeanPower(3600, unit.Time(x)); return err }},
		"usable":                  {3600, 3.6e12, func(x float64) error { _, err := ShortcutRunTime(unit.Energy(x), 1); return err }},
		"run-time power":          {1, mostDC, func(x float64) error { _, err := ShortcutRunTime(3600, unit.Power(x)); return err }},
		"start":                   {1, 100, func(x float64) error { _, _, err := StartRatio(x, 1); return err }},
		"leg":                     {100, 130, func(x float64) error { s := stacked; s.Leg = unit.Voltage(x); return s.check() }},
		"leg load":                {0, mostPower, func(x float64) error { return PowerTriangle{Real: unit.Power(x)}.check("load") }},
		"leg var":                 {-mostPower, mostPower, func(x float64) error { return PowerTriangle{Reactive: ReactivePower(x)}.check("load") }},
		"step-up source":          {100, 260, func(x float64) error { return StepUp{unit.Voltage(x), 480, 100, true, 0, 0}.Validate() }},
		"step-up rating":          {10, mostPower, func(x float64) error { return StepUp{120, 240, ApparentPower(x), true, 0, 0}.Validate() }},
		"step-up loss":            {0, 0.1, func(x float64) error { return StepUp{120, 240, 100, true, x, 0}.Validate() }},
		"step-up inrush":          {0, 40, func(x float64) error { return StepUp{120, 240, 100, true, 0, x}.Validate() }},
	} {
		require.NoError(t, tt.f(tt.lo), name)
		require.NoError(t, tt.f(tt.hi), name)
		require.ErrorIs(t, tt.f(math.Nextafter(tt.lo, math.Inf(-1))), ErrDomain, name)
		require.ErrorIs(t, tt.f(math.Nextafter(tt.hi, math.Inf(1))), ErrDomain, name)
		require.ErrorIs(t, tt.f(math.NaN()), ErrDomain, name)
	}
	require.NoError(t, StepUp{120, 500, 100, true, 0, 0}.Validate())
	domainError(t, StepUp{120, 500.1, 100, true, 0, 0}.Validate(), "load voltage")
}
