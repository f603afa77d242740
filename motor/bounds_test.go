package motor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

// Each bound of a struct's fields, from both sides.
func TestFieldBounds(t *testing.T) {
	plate := func(set func(*Nameplate, float64)) func(float64) error {
		return func(x float64) error {
			n := Nameplate{Voltage: 230, Phases: 1}
			set(&n, x)
			return n.Validate()
		}
	}
	reading := func(set func(*Reading, float64)) func(float64) error {
		return func(x float64) error {
			r := Reading{Voltage: 230, Phases: 1}
			set(&r, x)
			_, err := r.Running()
			return err
		}
	}
	dc := func(set func(*DCSide, float64)) func(float64) error {
		return func(x float64) error {
			d := DCSide{Apparent: 500e3, BatteryVoltage: 12, BatteryCurrent: 75, Efficiency: Exactly(0.9)}
			set(&d, x)
			_, err := d.Running()
			return err
		}
	}
	start := func(set func(*StartEvidence, float64)) func(float64) error {
		return func(x float64) error {
			e := StartEvidence{Inrush: Exactly[unit.Current](20e3)}
			set(&e, x)
			_, err := Nameplate{Voltage: 230, Phases: 1}.Start(e)
			return err
		}
	}
	for name, tt := range map[string]struct {
		try    func(float64) error
		lo, hi float64
	}{
		"output":                 {plate(func(n *Nameplate, x float64) { n.Output = unit.Power(x) * Horsepower }), 0.05, 500},
		"voltage":                {plate(func(n *Nameplate, x float64) { n.Voltage = unit.Voltage(x) }), 10, 15e3},
		"full-load current":      {plate(func(n *Nameplate, x float64) { n.FullLoadCurrent = unit.Current(x) }), 0.05, 20e3},
		"service-factor current": {plate(func(n *Nameplate, x float64) { n.ServiceFactorCurrent = unit.Current(x) }), 0.05, 20e3},
		"locked-rotor current":   {plate(func(n *Nameplate, x float64) { n.LockedRotorCurrent = unit.Current(x) }), 0.05, 20e3},
		"service factor":         {plate(func(n *Nameplate, x float64) { n.ServiceFactor = x }), 1, 2},
		"efficiency":             {plate(func(n *Nameplate, x float64) { n.Efficiency = x }), 0.05, 0.99},
		"power factor":           {plate(func(n *Nameplate, x float64) { n.PowerFactor = x }), 0.1, 1},

		"reading's voltage":      {reading(func(r *Reading, x float64) { r.Voltage, r.Current = unit.Voltage(x), 1 }), 10, 15e3},
		"reading's current":      {reading(func(r *Reading, x float64) { r.Current = unit.Current(x) }), 0.05, 20e3},
		"reading's VA":           {reading(func(r *Reading, x float64) { r.Apparent = ApparentPower(x) }), 1, 500e3},
		"reading's W":            {reading(func(r *Reading, x float64) { r.Real, r.PowerFactor = unit.Power(x), 0.9 }), 1, 500e3},
		"reading's power factor": {reading(func(r *Reading, x float64) { r.Current, r.PowerFactor = 1, x }), 0.1, 1},

		"plug's volt-amperes": {dc(func(d *DCSide, x float64) {
			d.Apparent, d.BatteryCurrent = ApparentPower(x), 0.1
			d.Efficiency = Exactly(0.5)
		}), 1, 500e3},
		"plug's voltage":      {dc(func(d *DCSide, x float64) { d.PlugVoltage = unit.Voltage(x) }), 10, 15e3},
		"battery voltage":     {dc(func(d *DCSide, x float64) { d.BatteryVoltage = unit.Voltage(x) }), 6, 1000},
		"battery current":     {dc(func(d *DCSide, x float64) { d.BatteryCurrent = unit.Current(x) }), 0.1, 5000},
		"inverter efficiency": {dc(func(d *DCSide, x float64) { d.Efficiency = Exactly(x) }), 0.3, 0.99},

		"inrush":              {start(func(e *StartEvidence, x float64) { e.Inrush = Exactly(unit.Current(x)) }), 0.05, 20e3},
		"inrush voltage":      {start(func(e *StartEvidence, x float64) { e.InrushVoltage = unit.Voltage(x) }), 115, 276},
		"running current":     {start(func(e *StartEvidence, x float64) { e.Running = Exactly(unit.Current(x)) }), 0.05, 20e3},
		"multiplier":          {start(func(e *StartEvidence, x float64) { e.Multiplier = Exactly(x) }), 1, 15},
		"locked power factor": {start(func(e *StartEvidence, x float64) { e.PowerFactor = Exactly(x) }), 0.05, 1},
	} {
		assert.NoError(t, tt.try(tt.lo), "%s at its least", name)
		assert.NoError(t, tt.try(tt.hi), "%s at its greatest", name)
		assert.ErrorIs(t, tt.try(tt.lo*0.999), ErrDomain, "%s below its least", name)
		assert.ErrorIs(t, tt.try(tt.hi*1.001), ErrDomain, "%s above its greatest", name)
	}
}

// Both sides of what two readings of one meter may differ by.
func TestMeterTolerance(t *testing.T) {
	for factor, want := range map[float64]bool{0.969: false, 0.971: true, 1.029: true, 1.031: false} {
		_, err := Reading{Voltage: 120, Phases: 1, Current: 10, Apparent: ApparentPower(1200 * factor)}.Running()
		assert.Equal(t, want, err == nil, "VA × %v", factor)
		_, err = Reading{Voltage: 120, Phases: 1, Current: 10, Real: 600, PowerFactor: 0.5 * factor}.Running()
		assert.Equal(t, want, err == nil, "PF × %v", factor)
		_, err = Reading{Voltage: 120, Phases: 1, Current: 10, Real: unit.Power(1200 * factor)}.Running()
		assert.Equal(t, want || factor < 1, err == nil, "W × %v", factor)
	}
}

// Both sides of the ratio below which an inrush is suspect.
func TestSuspectRatio(t *testing.T) {
	n := Nameplate{Voltage: 120, Phases: 1, FullLoadCurrent: 4}
	for amps, want := range map[unit.Current]bool{9.99: true, 10: false, 10.01: false} {
		d, err := n.Start(StartEvidence{Inrush: Exactly(amps)})
		assert.NoError(t, err)
		assert.Equal(t, want, d.SuspectInrush, amps)
	}
}
