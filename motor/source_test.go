package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

func TestLine(t *testing.T) {
	stiff := Line{Voltage: 230, Frequency: 60, Phases: 1}
	require.NoError(t, stiff.Validate())
	v, f, err := stiff.Under(3+4i, 0)
	require.NoError(t, err)
	assert.InDelta(t, 230, float64(v), 1e-9)
	assert.InDelta(t, 60, float64(f), 0)
	_, _, limit := stiff.Linear()
	assert.True(t, math.IsInf(float64(limit), 1))

	soft := stiff
	soft.Impedance = 1
	v, _, _ = soft.Under(3+4i, 0)
	ratio, err := VoltageRatio(3+4i, 1)
	require.NoError(t, err)
	assert.InEpsilon(t, 230*ratio, float64(v), 1e-12)

	// A limit holds the current, of three phases that of the line.
	for _, phases := range []int{1, 3} {
		held := Line{Voltage: 230, Frequency: 60, Phases: phases, Limit: 10}
		v, _, _ = held.Under(3+4i, 0)
		assert.InEpsilon(t, 10, float64(v)/(5*lineFactor(phases)), 1e-12)
	}
}

func TestGenerator(t *testing.T) {
	g := Generator{
		Rating: 5000, Power: 4000, Voltage: 240, Frequency: 60, Phases: 1,
		Subtransient: 0.12, Transient: 0.24, Decay: 0.03, Recovery: 0.5, Droop: 0.05,
	}
	require.NoError(t, g.Validate())
	base := 240.0 * 240 / 5000
	_, z, _ := g.Linear()
	assert.InEpsilon(t, 0.12*base, imag(z), 1e-12)
	assert.InEpsilon(t, 0.24*base, g.reactance(10), 1e-12)
	// Volt by volt: the subtransient at once, then the transient, then the regulator.
	load := complex(8, 6)
	at := func(after unit.Time) float64 {
		v, _, err := g.Under(load, after)
		require.NoError(t, err)
		return float64(v)
	}
	assert.InEpsilon(t, 240*10/math.Hypot(8, 6+0.12*base), at(0), 1e-12)
	assert.Less(t, at(0.05), at(0))
	assert.Greater(t, at(5), 0.999*240)
	none := g
	none.Recovery = 0
	v, f, err := none.Under(load, 100)
	require.NoError(t, err)
	assert.InEpsilon(t, 240*10/math.Hypot(8, 6+0.24*base), float64(v), 1e-12)
	p := float64(v) * float64(v) * 8 / 100
	assert.InEpsilon(t, 60*(1-0.05*p/4000), float64(f), 1e-12)

	var stall *OverloadError
	_, _, err = g.Under(8, 2)
	require.ErrorAs(t, err, &stall)
	assert.InEpsilon(t, 7200, float64(stall.Asked), 0.02)
	_, _, err = g.Under(8, 0.1)
	require.NoError(t, err, "the flywheel carries it")
}

func TestSourceBounds(t *testing.T) {
	line := Line{Voltage: 230, Frequency: 60, Phases: 1, Limit: 10}
	g := Generator{
		Rating: 5000, Power: 4000, Voltage: 240, Frequency: 60, Phases: 1,
		Subtransient: 0.12, Transient: 0.24, Decay: 0.03, Recovery: 0.5, Droop: 0.05,
	}
	for _, x := range bad {
		for i, change := range []func(*Line){
			func(l *Line) { l.Voltage = unit.Voltage(x) }, func(l *Line) { l.Frequency = unit.Frequency(x) },
			func(l *Line) { l.Impedance = complex(x, 0) }, func(l *Line) { l.Impedance = complex(0, x) },
			func(l *Line) { l.Limit = unit.Current(x) },
		} {
			l := line
			change(&l)
			require.ErrorIs(t, l.Validate(), ErrDomain, "%d %v", i, x)
		}
		for i, change := range []func(*Generator){
			func(g *Generator) { g.Rating = ApparentPower(x) }, func(g *Generator) { g.Power = unit.Power(x) },
			func(g *Generator) { g.Voltage = unit.Voltage(x) }, func(g *Generator) { g.Frequency = unit.Frequency(x) },
			func(g *Generator) { g.Subtransient = x }, func(g *Generator) { g.Transient = x },
			func(g *Generator) { g.Decay = unit.Time(x) }, func(g *Generator) { g.Recovery = unit.Time(x) }, func(g *Generator) { g.Droop = x },
		} {
			c := g
			change(&c)
			require.ErrorIs(t, c.Validate(), ErrDomain, "%d %v", i, x)
		}
		r := pumpStart(110)
		for i, change := range []func(*RunUp){
			func(r *RunUp) { r.Inertia = Inertia(x) }, func(r *RunUp) { r.Feeder = complex(x, 0) }, func(r *RunUp) { r.Feeder = complex(0, x) },
			func(r *RunUp) { r.FullSpeed = x }, func(r *RunUp) { r.Until = unit.Time(x) }, func(r *RunUp) { r.Settle = unit.Time(x) },
			func(r *RunUp) { r.Every = unit.Time(x) }, func(r *RunUp) { r.Load = ConstantLoad{Rated: unit.Torque(x)} },
			func(r *RunUp) { r.Source = Line{} }, func(r *RunUp) { r.Source = nil }, func(r *RunUp) { r.Circuit = nil },
			func(r *RunUp) { r.Circuit = SinglePhaseCircuit{} },
		} {
			c := r
			change(&c)
			_, err := c.QuasiSteady()
			require.ErrorIs(t, err, ErrDomain, "%d %v", i, x)
			_, err = c.Dynamic(0, 1e-8)
			require.ErrorIs(t, err, ErrDomain, "%d %v", i, x)
		}
		_, err := r.Dynamic(0, x)
		require.ErrorIs(t, err, ErrDomain)
	}
	// A regulator brings a start through that a plain reactance would not.
	weak := pumpStart(110)
	weak.Source = Generator{
		Rating: 1500, Power: 600, Voltage: 110, Frequency: 60, Phases: 1,
		Subtransient: 0.15, Transient: 0.5, Decay: 0.03, Recovery: 1, Droop: 0.03,
	}
	got, err := weak.QuasiSteady()
	require.NoError(t, err)
	assert.Equal(t, SourceGaveUp, got.Outcome, "more than a kilowatt of a 600 W engine")
	require.Error(t, got.Cause)
}
