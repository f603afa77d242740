package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// rowAutonomy reads a row of autonomy.csv, whose day is in Ah or in Wh.
func rowAutonomy(row reftest.Row) Autonomy {
	a := Autonomy{
		Days: row.Param("days", ""), MaxDepth: row.Param("depth", ""), MaxDailyDepth: row.Param("daily_depth", ""),
		EndOfLife: row.Param("eol", ""), Chemistry: Flooded,
		TemperatureFactor: row.Param("temperature_factor", ""), DesignMargin: row.Param("margin", ""),
	}
	if row.HasParam("daily") {
		a.Daily = unit.Charge(row.Param("daily", "Ah")) * AmpereHour
	} else {
		a.Daily = unit.Charge(row.Param("wh", "Wh")/row.Param("eff", "")/row.Param("V", "V")) * AmpereHour
	}
	return a
}

func TestAutonomyWorked(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/autonomy.csv") {
		a := rowAutonomy(row)
		s, err := a.Size()
		require.NoError(t, err, row.Source())
		switch step := row.Text("step"); step {
		case "unadjusted":
			row.Expected(ampereHours(s.Unadjusted))
		case "depth":
			row.Expected(ampereHours(s.ForDepth))
		case "daily depth":
			row.Expected(ampereHours(s.ForDailyDepth))
		case "end of life":
			row.Expected(ampereHours(s.ForEndOfLife))
		case "after temperature":
			row.Expected(ampereHours(s.AfterTemperature))
		case "required":
			row.Expected(ampereHours(s.Required))
		case "trap":
			row.Rejects("expected", ampereHours(s.Required), 0.01)
			row.Rejects("expected", ampereHours(s.Adjusted), 0.01)
		default:
			t.Errorf("%s: no check for %s", row.Source(), step)
		}
	}
}

var hut = Autonomy{
	Daily: 60 * AmpereHour, Days: 3, MaxDepth: 0.8, MaxDailyDepth: 0.25, EndOfLife: 0.8,
	Chemistry: Flooded, Temperature: Fahrenheit(50), DesignMargin: 1.1, RunningCurrent: 8,
}

func TestAutonomyGoverning(t *testing.T) {
	s := must[AutonomySize](t)(hut.Size())
	assert.Equal(t, ByDailyDepth, s.Governing)
	assert.InDelta(t, 1.19, s.TemperatureFactor, 1e-9)
	assert.InDelta(t, 240*1.19*1.1, ampereHours(s.Required), 1e-9)
	assert.InDelta(t, 30, hours(s.RateTime), 1e-9)
	a := hut
	a.MaxDailyDepth, a.RunningCurrent = 0, 0
	s = must[AutonomySize](t)(a.Size())
	assert.Equal(t, ByDepth, s.Governing)
	assert.Zero(t, s.ForDailyDepth)
	assert.Zero(t, s.RateTime)
	a.MaxDepth = 0.9
	assert.Equal(t, ByEndOfLife, must[AutonomySize](t)(a.Size()).Governing)
	a.RunningCurrent = 0.01
	assert.Equal(t, mostRatingTime, must[AutonomySize](t)(a.Size()).RateTime)
	for l, name := range map[AutonomyLimit]string{
		ByDepth: "depth of discharge", ByDailyDepth: "daily depth of discharge", ByEndOfLife: "end of life", 9: "AutonomyLimit(9)",
	} {
		assert.Equal(t, name, l.String())
	}
}

func TestAutonomyStrings(t *testing.T) {
	s := AutonomySize{Required: 300 * AmpereHour}
	for each, want := range map[float64]int{300: 1, 100: 3, 99.9: 4, 301: 1} {
		assert.Equal(t, want, must[int](t)(s.Strings(unit.Charge(each)*AmpereHour)), each)
	}
	for _, each := range []unit.Charge{0, 100, 2.9 * AmpereHour, unit.Charge(math.NaN())} {
		_, err := s.Strings(each)
		refused(t, err)
	}
	_, err := AutonomySize{}.Strings(100 * AmpereHour)
	refused(t, err)
}

func TestAutonomyRefuses(t *testing.T) {
	for name, change := range map[string]func(*Autonomy){
		"nothing drawn":    func(a *Autonomy) { a.Daily = 0 },
		"bare figure":      func(a *Autonomy) { a.Daily = 30 },
		"no days":          func(a *Autonomy) { a.Days = 0 },
		"hours for days":   func(a *Autonomy) { a.Days = 72 },
		"days NaN":         func(a *Autonomy) { a.Days = math.NaN() },
		"no depth":         func(a *Autonomy) { a.MaxDepth = 0 },
		"depth per cent":   func(a *Autonomy) { a.MaxDepth = 80 },
		"daily per cent":   func(a *Autonomy) { a.MaxDailyDepth = 25 },
		"daily negative":   func(a *Autonomy) { a.MaxDailyDepth = -0.1 },
		"no end of life":   func(a *Autonomy) { a.EndOfLife = 0 },
		"no chemistry":     func(a *Autonomy) { a.Chemistry = 0 },
		"no temperature":   func(a *Autonomy) { a.Temperature = 0 },
		"too cold":         func(a *Autonomy) { a.Temperature = Celsius(-10) },
		"factor inverted":  func(a *Autonomy) { a.TemperatureFactor = 0.5 },
		"two at once":      func(a *Autonomy) { a.TemperatureFactor, a.Days = 5, 0 },
		"no margin":        func(a *Autonomy) { a.DesignMargin = 0 },
		"negative current": func(a *Autonomy) { a.RunningCurrent = -1 },
	} {
		a := hut
		change(&a)
		s, err := a.Size()
		refused(t, err, name)
		assert.Zero(t, s, name)
	}
	_, err := Autonomy{}.Size()
	refused(t, err)
}

// The largest adjustment is taken: never less than any of the three, never
// their product, and the size never falls where a demand grows.
func FuzzAutonomy(f *testing.F) {
	f.Add(60.0, 3.0, 0.8, 0.25, 0.8)
	f.Add(math.NaN(), 1.0, 0.5, 0.0, 1.0)
	f.Fuzz(func(t *testing.T, daily, days, depth, dailyDepth, eol float64) {
		a := hut
		a.Daily, a.Days, a.MaxDepth, a.MaxDailyDepth, a.EndOfLife = unit.Charge(daily)*AmpereHour, days, depth, dailyDepth, eol
		s, err := a.Size()
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, s.Adjusted >= s.ForDepth && s.Adjusted >= s.ForDailyDepth && s.Adjusted >= s.ForEndOfLife)
		require.True(t, s.Adjusted == s.ForDepth || s.Adjusted == s.ForDailyDepth || s.Adjusted == s.ForEndOfLife)
		a.Days = min(60, days*1.5)
		more := must[AutonomySize](t)(a.Size())
		require.GreaterOrEqual(t, more.Required, s.Required)
	})
}

// The quick check and the one with words agree: both ends of every range hold,
// and a step beyond does not.
func TestAutonomyEnds(t *testing.T) {
	up := func(x float64) float64 { return x * (1 + 1e-9) }
	down := func(x float64) float64 { return x * (1 - 1e-9) }
	for name, at := range map[string]struct {
		set    func(a *Autonomy, x float64)
		lo, hi float64
	}{
		"daily":   {func(a *Autonomy, x float64) { a.Daily = unit.Charge(x) }, float64(leastDaily), float64(mostCapacity)},
		"days":    {func(a *Autonomy, x float64) { a.Days = x }, 0.25, 60},
		"depth":   {func(a *Autonomy, x float64) { a.MaxDepth = x }, 0.1, 1},
		"one day": {func(a *Autonomy, x float64) { a.MaxDailyDepth = x }, 0.01, 1},
		"end":     {func(a *Autonomy, x float64) { a.EndOfLife = x }, 0.5, 1},
		"margin":  {func(a *Autonomy, x float64) { a.DesignMargin = x }, 1, 2},
		"current": {func(a *Autonomy, x float64) { a.RunningCurrent = unit.Current(x) }, 1e-3, 100e3},
		"factor":  {func(a *Autonomy, x float64) { a.TemperatureFactor = x }, 0.8, 4},
	} {
		for _, x := range []float64{at.lo, at.hi} {
			a := hut
			at.set(&a, x)
			_, err := a.Size()
			require.NoError(t, err, "%s %v", name, x)
		}
		for _, x := range []float64{down(at.lo), up(at.hi), math.NaN(), math.Inf(1), -1} {
			a := hut
			at.set(&a, x)
			_, err := a.Size()
			refused(t, err, "%s %v", name, x)
		}
	}
}
