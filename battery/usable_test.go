package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// cellar is a flooded 100 Ah battery in a cold cellar, aged, half of it usable.
var cellar = Condition{
	Peukert: hundred, Chemistry: Flooded, Temperature: Fahrenheit(50),
	StateOfHealth: 0.8, StateOfCharge: 1, DepthLimit: 0.5,
}

func TestUsableChain(t *testing.T) {
	u := must[Usable](t)(cellar.Usable(25))
	rate := math.Pow(5.0/25, 0.2)
	assert.InDelta(t, rate, u.RateFactor, 1e-12)
	assert.InDelta(t, 1/1.19, u.TemperatureFactor, 1e-9)
	assert.InDelta(t, 0.8, u.AgeFactor, 0)
	assert.InDelta(t, 0.5, u.DepthFactor, 1e-12)
	assert.InDelta(t, 100, ampereHours(u.Rated), 1e-12)
	assert.InDelta(t, 100*rate, ampereHours(u.AfterRate), 1e-9)
	assert.InDelta(t, 100*rate/1.19, ampereHours(u.AfterTemperature), 1e-7)
	assert.InDelta(t, 100*rate/1.19*0.8, ampereHours(u.AfterAge), 1e-7)
	assert.InDelta(t, 100*rate/1.19*0.4, ampereHours(u.Charge), 1e-7)
	assert.InDelta(t, 100*rate/1.19*0.4/25, hours(u.Runtime), 1e-9)
	assert.InDelta(t, 100*rate/1.19*0.4*12, float64(u.Energy(12)/WattHour), 1e-6)
	product := u.RateFactor * u.TemperatureFactor * u.AgeFactor * u.DepthFactor
	assert.InEpsilon(t, float64(u.Rated)*product, float64(u.Charge), 1e-12, "every reduction once")
}

// A rating that already holds in the cold takes no second factor.
func TestUsableColdRates(t *testing.T) {
	c := cellar
	c.RatingTemperature = c.Temperature
	u := must[Usable](t)(c.Usable(25))
	assert.InDelta(t, 1, u.TemperatureFactor, 0)
	// A rating at 20 °C takes the difference only.
	c.RatingTemperature = Celsius(20)
	u = must[Usable](t)(c.Usable(25))
	assert.InDelta(t, 1.056/1.19, u.TemperatureFactor, 1e-6)
	// A maker's own factor stands in place of the table.
	c.TemperatureFactor = 0.9
	c.Temperature = Celsius(-20)
	u = must[Usable](t)(c.Usable(25))
	assert.InDelta(t, 0.9, u.TemperatureFactor, 0)
	c.TemperatureFactor = 0
	_, err := c.Usable(25)
	refused(t, err, "no table at -20 °C")
	// A cold rating is exempt even where no table reaches.
	c.RatingTemperature = c.Temperature
	u = must[Usable](t)(c.Usable(25))
	assert.InDelta(t, 1, u.TemperatureFactor, 0)
}

func TestUsableStartAndDepth(t *testing.T) {
	c := cellar
	c.StateOfCharge = 0.8
	u := must[Usable](t)(c.Usable(25))
	assert.InDelta(t, 0.3, u.DepthFactor, 1e-12)
	c.StateOfCharge = 0.5
	_, err := c.Usable(25)
	require.ErrorIs(t, err, ErrBelowLimit)
	require.NotErrorIs(t, err, ErrDomain)
	_, err = c.Duty(Duty{Running: 25, OnFraction: 0.5})
	require.ErrorIs(t, err, ErrBelowLimit)
	c.StateOfCharge, c.DepthLimit = 1, 1
	u = must[Usable](t)(c.Usable(25))
	assert.InDelta(t, 1, u.DepthFactor, 1e-12)
}

// Short discharges of sealed batteries lose more in the cold.
func TestUsableSealed(t *testing.T) {
	c := cellar
	c.Chemistry, c.Temperature = AGM, Celsius(0)
	u := must[Usable](t)(c.Usable(10))
	assert.InDelta(t, 0.84, u.TemperatureFactor, 1e-9)
	u = must[Usable](t)(c.Usable(150))
	assert.InDelta(t, 0.80, u.TemperatureFactor, 1e-9)
}

func TestConditionDuty(t *testing.T) {
	d := Duty{Running: 60, Standing: 1, OnFraction: 0.2}
	bare := must[DutyRuntime](t)(hundred.Duty(d))
	got := must[DutyRuntime](t)(cellar.Duty(d))
	assert.InEpsilon(t, float64(bare.RunningCurrent)/1.19*0.4, float64(got.RunningCurrent), 1e-9)
	assert.InEpsilon(t, float64(bare.AverageCurrent)/1.19*0.4, float64(got.AverageCurrent), 1e-9)
	assert.InDelta(t, 0.2, got.OnFraction, 0)
	// A constant load agrees with Usable.
	got = must[DutyRuntime](t)(cellar.Duty(Duty{Running: 25, OnFraction: 1}))
	u := must[Usable](t)(cellar.Usable(25))
	assert.InEpsilon(t, float64(u.Runtime), float64(got.RunningCurrent), 1e-9)
	_, err := cellar.Duty(Duty{})
	refused(t, err)
	cold := cellar
	cold.Temperature = Celsius(-30)
	_, err = cold.Duty(d)
	refused(t, err)
	_, err = Condition{}.Duty(d)
	refused(t, err)
}

func TestConditionBounds(t *testing.T) {
	_, err := Condition{}.Usable(10)
	refused(t, err)
	for _, q := range []string{"rated capacity", "exponent", "chemistry", "temperature", "health", "charge", "depth"} {
		assert.ErrorContains(t, err, q, "all faults at once")
	}
	for name, change := range map[string]func(c *Condition, x float64){
		"temperature":        func(c *Condition, x float64) { c.Temperature = unit.Temperature(x) },
		"state of health":    func(c *Condition, x float64) { c.StateOfHealth = x },
		"state of charge":    func(c *Condition, x float64) { c.StateOfCharge = x },
		"depth limit":        func(c *Condition, x float64) { c.DepthLimit = x },
		"rating temperature": func(c *Condition, x float64) { c.RatingTemperature = unit.Temperature(x + 1e-9) },
		"temperature factor": func(c *Condition, x float64) { c.TemperatureFactor = x + 1e-9 },
	} {
		for _, x := range append(junk, 80, 50) {
			c := cellar
			change(&c, x)
			_, err := c.Usable(25)
			refused(t, err, "%s %v", name, x)
			assert.ErrorContains(t, err, name)
		}
	}
	for _, i := range junk {
		if i == 1e-3 {
			continue
		}
		_, err := cellar.Usable(unit.Current(i))
		refused(t, err, "%v", i)
	}
}

// Run time never rises with age, cold, a lower start or a shallower limit, steady
// and under a kinetic cycle alike.
func FuzzConditionMonotone(f *testing.F) {
	f.Add(25.0, 10.0, 20.0, 0.8, 1.0, 0.9, 0.5, byte(1))
	f.Add(60.0, -3.0, 50.0, 0.5, 0.7, 0.6, 0.8, byte(2))
	f.Add(5.0, 16.0, 40.0, 1.0, 1.1, 1.0, 1.0, byte(4))
	f.Fuzz(func(t *testing.T, i, cold, warm, old, young, soc, depth float64, chemistry byte) {
		if !(i >= 1 && i <= 200 && cold <= warm && old <= young) {
			return
		}
		c := Condition{
			Peukert: hundred, Chemistry: Chemistry(chemistry), Temperature: Celsius(warm),
			StateOfHealth: young, StateOfCharge: soc, DepthLimit: depth,
		}
		cycle := []Step{{Current: unit.Current(i), For: 5 * Minute}, {For: 10 * Minute}}
		best, err := c.Usable(unit.Current(i))
		run, err2 := c.Kinetic(hundredWells, cycle)
		if err != nil || err2 != nil {
			return
		}
		for name, worsen := range map[string]func(*Condition){
			"cold":  func(c *Condition) { c.Temperature = Celsius(cold) },
			"age":   func(c *Condition) { c.StateOfHealth = old },
			"start": func(c *Condition) { c.StateOfCharge -= 0.1 },
			"depth": func(c *Condition) { c.DepthLimit -= 0.1 },
		} {
			worse := c
			worsen(&worse)
			if u, err := worse.Usable(unit.Current(i)); err == nil {
				require.LessOrEqual(t, float64(u.Runtime), float64(best.Runtime)*(1+1e-12), name)
			}
			if r, err := worse.Kinetic(hundredWells, cycle); err == nil {
				require.LessOrEqual(t, float64(r.In(cycle, 0)), float64(run.In(cycle, 0))*(1+1e-9)+1e-6, name)
				require.LessOrEqual(t, float64(r.Elapsed), float64(run.Elapsed)*(1+1e-9)+float64(10*Minute)+1, name)
			}
		}
	})
}

func FuzzUsable(f *testing.F) {
	f.Add(25.0, 50.0, 0.8, 1.0, 0.5, byte(1))
	f.Add(25.0, 50.0, 1.0, 0.9, 0.8, byte(4))
	f.Fuzz(func(t *testing.T, i, fahrenheit, health, soc, depth float64, chemistry byte) {
		c := Condition{
			Peukert: hundred, Chemistry: Chemistry(chemistry), Temperature: Fahrenheit(fahrenheit),
			StateOfHealth: health, StateOfCharge: soc, DepthLimit: depth,
		}
		u, err := c.Usable(unit.Current(i))
		if err != nil {
			return
		}
		require.Positive(t, float64(u.Charge))
		require.LessOrEqual(t, float64(u.AfterRate), float64(u.Rated)*(1+1e-12))
		require.InEpsilon(t, float64(u.Charge), float64(u.Runtime)*i, 1e-9)
		require.InEpsilon(t, float64(u.Rated)*u.RateFactor*u.TemperatureFactor*u.AgeFactor*u.DepthFactor, float64(u.Charge), 1e-9)
	})
}
