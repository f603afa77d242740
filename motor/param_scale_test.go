package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// Scaled impedances draw the wanted current, and torque with it, at every speed.
func TestWithLockedRotorCurrent(t *testing.T) {
	c := quarterHorse(reactance(3, 14.5))
	c.Auxiliary.Run = reactance(9, 172)
	own, err := c.Starting(1, 110)
	require.NoError(t, err)
	got, err := c.WithLockedRotorCurrent(1.3 * own.Current)
	require.NoError(t, err)
	for _, slip := range []float64{1, 0.5, 0.05} {
		for _, turn := range []func(SinglePhaseCircuit) (Point, error){
			func(c SinglePhaseCircuit) (Point, error) { return c.Starting(slip, 110) },
			func(c SinglePhaseCircuit) (Point, error) { return c.Running(slip, 110) },
		} {
			a, err := turn(c)
			require.NoError(t, err)
			b, err := turn(got)
			require.NoError(t, err)
			assert.InEpsilon(t, 1.3, float64(b.Current/a.Current), 1e-9)
			assert.InEpsilon(t, 1.3, float64(b.Torque/a.Torque), 1e-9)
			assert.InDelta(t, a.PowerFactor, b.PowerFactor, 1e-12)
			assert.InDelta(t, float64(a.CapacitorVoltage), float64(b.CapacitorVoltage), 1e-9)
		}
	}
	three := ThreePhaseCircuit{Voltage: 460, Frequency: 60, Poles: 6, R1: 0.2, X1: 1.2, R2: 0.25, X2: 1.29, Xm: 42, Rc: 317}
	th, err := three.Thevenin(460)
	require.NoError(t, err)
	scaled, err := three.WithLockedRotorCurrent(2 * th.LockedRotor)
	require.NoError(t, err)
	twice, err := scaled.Thevenin(460)
	require.NoError(t, err)
	assert.InEpsilon(t, 2, float64(twice.LockedRotor/th.LockedRotor), 1e-12)
	assert.InEpsilon(t, 2, float64(twice.Torque/th.Torque), 1e-12)
	assert.InDelta(t, th.Breakdown, twice.Breakdown, 1e-12)

	for _, i := range []unit.Current{0, 0.04, 1, 200, 21000, unit.Current(math.NaN()), unit.Current(math.Inf(1))} {
		_, err = c.WithLockedRotorCurrent(i)
		require.ErrorIs(t, err, ErrDomain, "%g", float64(i))
	}
	for _, i := range []unit.Current{1, 21000, unit.Current(math.NaN())} {
		_, err = three.WithLockedRotorCurrent(i)
		require.ErrorIs(t, err, ErrDomain, "%g", float64(i))
	}
	_, err = SinglePhaseCircuit{}.WithLockedRotorCurrent(10)
	require.ErrorIs(t, err, ErrDomain)
	_, err = ThreePhaseCircuit{}.WithLockedRotorCurrent(10)
	require.ErrorIs(t, err, ErrDomain)
}

func TestWithLockedRotorPowerFactor(t *testing.T) {
	for _, pf := range []float64{0.928, 0.95} {
		c := quarterHorse(reactance(3, 14.5))
		own, err := c.Starting(1, 110)
		require.NoError(t, err)
		got, err := c.WithLockedRotorPowerFactor(pf)
		require.NoError(t, err)
		held, err := got.Starting(1, 110)
		require.NoError(t, err)
		assert.InDelta(t, pf, held.PowerFactor, 1e-9)
		assert.InEpsilon(t, float64(own.Current), float64(held.Current), 1e-9)
		assert.InEpsilon(t, float64(c.Auxiliary.R/c.R1), float64(got.Auxiliary.R/got.R1), 1e-9)
	}
	three := ThreePhaseCircuit{Voltage: 460, Frequency: 60, Poles: 4, R1: 0.641, X1: 1.106, R2: 0.332, X2: 0.464, Xm: 26.3}
	for _, pf := range []float64{0.35, 0.52, 0.7} {
		got, err := three.WithLockedRotorPowerFactor(pf)
		require.NoError(t, err)
		held, err := got.Starting(1, 460)
		require.NoError(t, err)
		assert.InDelta(t, pf, held.PowerFactor, 1e-9)
	}
	var contradicts *ContradictionError
	_, err := three.WithLockedRotorPowerFactor(0.1) // the rotor alone has more
	require.ErrorAs(t, err, &contradicts)
	three.R1 = 0
	_, err = three.WithLockedRotorPowerFactor(0.6)
	require.ErrorAs(t, err, &contradicts)
	c := quarterHorse(Branch{})
	_, err = c.WithLockedRotorPowerFactor(0.2)
	require.ErrorAs(t, err, &contradicts)
	for _, pf := range []float64{0, 0.09, 1.01, math.NaN(), math.Inf(1)} {
		_, err = c.WithLockedRotorPowerFactor(pf)
		require.ErrorIs(t, err, ErrDomain)
		_, err = three.WithLockedRotorPowerFactor(pf)
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err = SinglePhaseCircuit{}.WithLockedRotorPowerFactor(0.5)
	require.ErrorIs(t, err, ErrDomain)
	_, err = ThreePhaseCircuit{}.WithLockedRotorPowerFactor(0.5)
	require.ErrorIs(t, err, ErrDomain)
}
