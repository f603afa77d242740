package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// step runs a cycle n times, one stretch after the other.
func step(t *testing.T, m ThermalModel, start unit.Temperature, c LoadCycle, n int) CycleTemperatures {
	t.Helper()
	got := CycleTemperatures{AfterRest: start}
	for range n {
		got.AfterOn = must[unit.Temperature](t)(m.After(got.AfterRest, c.Current, c.On))
		got.AfterRest = must[unit.Temperature](t)(m.After(got.AfterOn, c.RestCurrent, c.Rest))
	}
	return got
}

func TestAfterCycles(t *testing.T) {
	for _, m := range []ThermalModel{cable6, cold6} {
		for _, start := range []float64{-20, 30, 120} {
			for _, c := range []LoadCycle{{60, 120, 95, 0}, {10, 5, 40, 90}, {0.5, 0.5, 249.35, 0}, {5, 300, 300, 10}} {
				for _, n := range []int{1, 2, 3, 20} {
					want := step(t, m, Celsius(start), c, n)
					got := must[CycleTemperatures](t)(m.AfterCycles(Celsius(start), c, n))
					assert.InEpsilon(t, float64(want.AfterOn), float64(got.AfterOn), 1e-11, "%v, %d times", c, n)
					assert.InEpsilon(t, float64(want.AfterRest), float64(got.AfterRest), 1e-11, "%v, %d times", c, n)
				}
			}
		}
	}
}

// The limit is what many cycles come to, and a cycle that starts there ends there.
func TestCyclicLimit(t *testing.T) {
	for _, c := range []LoadCycle{{60, 120, 95, 0}, {10, 5, 40, 90}, {5, 300, 300, 10}, {1e5, 1e5, 120, 0}} {
		limit := must[CycleTemperatures](t)(cable6.CyclicLimit(c))
		many := must[CycleTemperatures](t)(cable6.AfterCycles(Celsius(30), c, 1e9))
		assert.InDelta(t, float64(limit.AfterOn), float64(many.AfterOn), 1e-9)
		assert.InDelta(t, float64(limit.AfterRest), float64(many.AfterRest), 1e-9)
		again := step(t, cable6, limit.AfterRest, c, 1)
		assert.InDelta(t, float64(limit.AfterOn), float64(again.AfterOn), 1e-9)
		assert.InDelta(t, float64(limit.AfterRest), float64(again.AfterRest), 1e-9)
	}
}

// A cycle whose two currents are one is no cycle.
func TestCyclicLimitOfSteadyCurrent(t *testing.T) {
	steady := must[unit.Temperature](t)(cable6.Steady(120))
	got := must[CycleTemperatures](t)(cable6.CyclicLimit(LoadCycle{40, 70, 120, 120}))
	assert.InDelta(t, float64(steady), float64(got.AfterOn), 1e-9)
	assert.InDelta(t, float64(steady), float64(got.AfterRest), 1e-9)
	assert.Equal(t, CycleTemperatures{Celsius(30), Celsius(30)}, must[CycleTemperatures](t)(cold6.CyclicLimit(LoadCycle{1, 1, 0, 0})))
}

// With a resistance that stays the limit is the linear law of the duty cycle.
func TestCyclicLimitIsLinearWithoutCoefficient(t *testing.T) {
	m := cable6
	m.Resistance.Coefficient = 0
	tau := must[unit.Time](t)(m.TimeConstant())
	for _, d := range []DutyCycle{{30, 30}, {60, 120}, {300, 60}, {5, 55}} {
		rise := must[unit.Temperature](t)(m.Steady(100)) - m.Ambient
		got := must[CycleTemperatures](t)(m.CyclicLimit(LoadCycle{On: d.On, Rest: d.Off, Current: 100}))
		assert.InEpsilon(t, must[float64](t)(d.PeakRise(tau)), float64((got.AfterOn-m.Ambient)/rise), 1e-9)
	}
}

// A rest saves a cable above its runaway current, and one too short does not.
func TestCycleAboveRunaway(t *testing.T) {
	limit := must[unit.Current](t)(cable6.RunawayCurrent())
	c := LoadCycle{On: 20, Rest: 200, Current: limit * 1.2}
	got := must[CycleTemperatures](t)(cable6.CyclicLimit(c))
	assert.Less(t, InCelsius(got.AfterOn), 120.0)
	c.Rest = 8
	_, err := cable6.CyclicLimit(c)
	var runaway *RunawayError
	require.ErrorAs(t, err, &runaway)
	assert.Equal(t, RunawayError{c.Current, limit}, *runaway)
	_, err = cable6.AfterCycles(Celsius(30), c, 1000)
	var hot *TooHotError
	require.ErrorAs(t, err, &hot)
	assert.Equal(t, c.Current, hot.Current)
	_, err = cable6.CyclicLimit(LoadCycle{200, 1e4, 380, 0})
	require.ErrorIs(t, err, ErrTooHot, "molten within one on-time")
	_, err = cable6.CyclicLimit(LoadCycle{20, 2000, 0, 380})
	require.ErrorIs(t, err, ErrRunaway)
	_, err = cable6.AfterCycles(Celsius(-60), LoadCycle{maxTime, maxTime, maxCurrent, maxCurrent}, maxCycles)
	require.ErrorIs(t, err, ErrTooHot, "beyond every number")
	_, err = cold6.CyclicLimit(LoadCycle{1, 1, 1, 0})
	require.ErrorIs(t, err, ErrRunaway, "heat that is not lost adds up")
}

func TestLoadCycleRefused(t *testing.T) {
	good := LoadCycle{60, 120, 95, 0}
	set := func(f func(*LoadCycle, float64)) func(float64) error {
		return func(x float64) error {
			c := good
			f(&c, x)
			_, err := cable6.AfterCycles(Celsius(30), c, 1)
			_, err2 := cable6.CyclicLimit(c)
			require.Equal(t, err == nil, err2 == nil)
			return err
		}
	}
	bounds(t, "on-time", minPart, maxTime, set(func(c *LoadCycle, x float64) { c.On = unit.Time(x) }))
	bounds(t, "rest", minPart, maxTime, set(func(c *LoadCycle, x float64) { c.Rest = unit.Time(x) }))
	bounds(t, "current", 0, 200, func(x float64) error {
		if x > 200 {
			x += maxCurrent
		}
		return set(func(c *LoadCycle, x float64) { c.Current = unit.Current(x) })(x)
	})
	bounds(t, "current at rest", 0, 200, func(x float64) error {
		if x > 200 {
			x += maxCurrent
		}
		return set(func(c *LoadCycle, x float64) { c.RestCurrent = unit.Current(x) })(x)
	})
	for _, n := range []int{-1, 0, 1e9 + 1} {
		_, err := cable6.AfterCycles(Celsius(30), good, n)
		refused(t, err, "number of cycles")
	}
	_, err := cable6.AfterCycles(20, good, 1)
	refused(t, err, "temperature at the start")
	_, err = ThermalModel{}.CyclicLimit(good)
	refused(t, err, "heat capacity")
}
