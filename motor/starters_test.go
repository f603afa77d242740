package motor

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestStartersAgainstExamples(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/starters.csv") {
		var got float64
		switch row.Text("quantity") {
		case "motor", "line", "torque":
			r, err := AutotransformerStart(row.Param("a", ""))
			require.NoError(t, err)
			got = row.Param("x", "") * map[string]float64{"motor": r.Motor, "line": r.Line, "torque": r.Torque}[row.Text("quantity")]
		case "wye":
			got = WyeDeltaStart().Line
		case "resistor":
			p, err := SeriesResistor(ohms(t, row.ParamText("Z")), unit.Voltage(row.Param("Vp", "V")), unit.Current(row.Param("I", "A")))
			require.NoError(t, err)
			got = float64(p.Impedance)
		default:
			p, err := SeriesReactor(ohms(t, row.ParamText("Z")), volts(row)/sqrt3, unit.Current(row.Param("I", "A")), unit.Frequency(row.Param("f", "Hz")))
			require.NoError(t, err)
			got = float64(p.Voltage)
			if row.Text("quantity") == "inductance" {
				got = 1e3 * float64(p.Inductance)
			}
		}
		row.Expected(got)
		alsoComputed(t, row, got)
	}
}

func TestSoftStartPractice(t *testing.T) {
	voltage, frequency, taps := SubmersibleVoltageRamp(), SubmersibleFrequencyRamp(), AutotransformerTaps()
	figures := map[string]float64{
		"voltage ramp reached first": 100 * voltage.Voltage, "voltage ramp time to the first": float64(voltage.First),
		"voltage ramp time to full": float64(voltage.Full), "frequency ramp reached first": float64(frequency.Frequency),
		"frequency ramp time to the first": float64(frequency.First), "frequency ramp time to full": float64(frequency.Full),
		"autotransformer least voltage": 100 * SubmersibleLeastTap,
		"autotransformer lower tap":     100 * taps[0], "autotransformer upper tap": 100 * taps[1],
	}
	for _, row := range reftest.Rows(t, "motor/soft_start_practice.csv") {
		got, ok := figures[row.Text("starter")+" "+row.Text("quantity")]
		require.True(t, ok, row.Source())
		row.Printed("value", got)
	}
}

func TestRampKeepsToPractice(t *testing.T) {
	practice := SubmersibleVoltageRamp()
	nan := math.NaN()
	for _, tt := range []struct {
		ramp Ramp
		ok   bool
	}{
		{practice, true},
		{Ramp{Voltage: 0.9, First: 0.5, Full: 2}, true},
		{Ramp{Voltage: 0.79, First: 1, Full: 4}, false},
		{Ramp{Voltage: 0.8, First: 1.01, Full: 4}, false},
		{Ramp{Voltage: 0.8, First: 1, Full: 4.01}, false},
		{Ramp{Voltage: 0.8, First: 1, Full: 0.5}, false},
		{Ramp{Voltage: 0.8, First: -1, Full: 4}, false},
		{Ramp{Voltage: nan, First: 1, Full: 4}, false},
		{Ramp{Voltage: 0.8, First: unit.Time(nan), Full: 4}, false},
		{Ramp{Voltage: 0.8, First: 1, Full: unit.Time(nan)}, false},
		{Ramp{}, false},
	} {
		assert.Equal(t, tt.ok, tt.ramp.KeepsTo(practice), tt.ramp)
	}
	slow := SubmersibleFrequencyRamp()
	slow.Frequency = 20
	assert.False(t, slow.KeepsTo(SubmersibleFrequencyRamp()))
}

// No reduced voltage gives more torque per ampere of the source than full
// voltage does: transformers keep it, voltage alone loses it, a drive gains.
func TestTorquePerAmpere(t *testing.T) {
	for _, x := range []float64{0.3, 0.55, 0.65, 0.8, 1} {
		a, err := AutotransformerStart(x)
		require.NoError(t, err)
		assert.InDelta(t, 1, a.TorquePerAmpere(), 1e-15)
		v, err := VoltageRampStart(x)
		require.NoError(t, err)
		assert.InDelta(t, x, v.TorquePerAmpere(), 1e-15)
		torque, err := TorqueRatio(x, 1)
		require.NoError(t, err)
		assert.InDelta(t, torque, v.Torque, 1e-15)
		s, err := SeriesStart(3+4i, complex(1/x-1, 0)*(3+4i))
		require.NoError(t, err)
		assert.InDelta(t, x, s.TorquePerAmpere(), 1e-12)
		assert.InDelta(t, x*x, s.Torque, 1e-12)
	}
	assert.InDelta(t, 1, WyeDeltaStart().TorquePerAmpere(), 1e-15)
	assert.InDelta(t, 1, 3*WyeDeltaStart().Motor*WyeDeltaStart().Motor, 1e-15)
	d, err := DriveStart(6, 1.6)
	require.NoError(t, err)
	assert.InDelta(t, 6/1.6, d.TorquePerAmpere(), 1e-12)
	assert.Zero(t, StarterRatios{}.TorquePerAmpere())
}

func TestStarterBounds(t *testing.T) {
	for _, tt := range []struct {
		try    func(float64) error
		lo, hi float64
	}{
		{func(x float64) error { _, err := AutotransformerStart(x); return err }, 0.3, 1},
		{func(x float64) error { _, err := VoltageRampStart(x); return err }, 0.1, 1},
		{func(x float64) error { _, err := DriveStart(x, 1); return err }, 1.5, 15},
		{func(x float64) error { _, err := DriveStart(6, x); return err }, 0.2, 5},
		{func(x float64) error { _, err := SeriesResistor(0.3+0.8i, unit.Voltage(x), 48); return err }, 5, 15e3},
		{func(x float64) error { _, err := SeriesResistor(0.3+0.8i, 120, unit.Current(x)); return err }, 0.05, 20e3},
		{func(x float64) error { _, err := SeriesResistor(complex(x, 0.8), 120, 48); return err }, 0, 0.999e6},
		{func(x float64) error { _, err := SeriesResistor(complex(0.3, x), 120, 48); return err }, 0, 0.999e6},
		{func(x float64) error { _, err := SeriesReactor(0.3+0.8i, 120, 48, unit.Frequency(x)); return err }, 10, 400},
		{func(x float64) error { _, err := SeriesReactor(0.3+0.8i, unit.Voltage(x), 48, 60); return err }, 5, 15e3},
	} {
		require.NoError(t, tt.try(tt.lo))
		require.NoError(t, tt.try(tt.hi))
		for _, x := range append([]float64{tt.lo - 0.001*(1+tt.lo), tt.hi * 1.01}, bad...) {
			require.ErrorIs(t, tt.try(x), ErrDomain, x)
		}
	}
	_, err := SeriesStart(0, 1)
	require.ErrorIs(t, err, ErrDomain)
	_, err = SeriesResistor(0, 120, 48)
	require.ErrorIs(t, err, ErrDomain)
}

// A limit that the motor keeps by itself asks for no part.
func TestNoSeriesPart(t *testing.T) {
	z := 3 + 4i
	for amps, missing := range map[unit.Current]NoPart{23.9: PartNeeded, 24: EnoughImpedance, 30: EnoughImpedance} {
		r, err := SeriesResistor(z, 120, amps)
		require.NoError(t, err)
		assert.Equal(t, missing, r.Missing)
		x, err := SeriesReactor(z, 120, amps, 60)
		require.NoError(t, err)
		assert.Equal(t, missing, x.Missing)
		if missing == EnoughImpedance {
			assert.Equal(t, StarterRatios{1, 1, 1}, r.Ratios)
			assert.Zero(t, r.Impedance)
			assert.Zero(t, x.Inductance)
		}
	}
}

// What is sized holds the current to its limit, and what it drops and heats
// follows from it.
func FuzzSeriesPart(f *testing.F) {
	f.Add(0.0978, 0.2549, 132.79, 234.0)
	f.Add(3.0, 4.0, 120.0, 23.99999)
	f.Add(math.NaN(), -1.0, 0.0, math.Inf(1))
	f.Fuzz(func(t *testing.T, r, x, v, i float64) {
		z := complex(r, x)
		res, err := SeriesResistor(z, unit.Voltage(v), unit.Current(i))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		rea, err := SeriesReactor(z, unit.Voltage(v), unit.Current(i), 50)
		require.NoError(t, err)
		for part, p := range map[complex128]SeriesPart{complex(float64(res.Impedance), 0): res, complex(0, float64(rea.Impedance)): rea} {
			if p.Missing == EnoughImpedance {
				require.LessOrEqual(t, v/cmplx.Abs(z), i*(1+1e-9))
				continue
			}
			require.GreaterOrEqual(t, float64(p.Impedance), 0.0)
			require.InEpsilon(t, i, v/cmplx.Abs(z+part), 1e-9)
			require.InEpsilon(t, p.Ratios.Motor*p.Ratios.Motor, p.Ratios.Torque, 1e-9)
			require.InDelta(t, p.Ratios.Motor, cmplx.Abs(z/(z+part)), 1e-9)
			require.InDelta(t, i*cmplx.Abs(part), float64(p.Voltage), 1e-9*v)
		}
		require.InDelta(t, float64(res.Power), i*float64(res.Voltage), 1e-9*math.Abs(i*v))
	})
}
