package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// perUnit reads the model of a row whose powers are per unit of rated power.
// It gives it a rated power at which that makes no difference.
func perUnit(row reftest.Row) Loss {
	rated := unit.Power(1000)
	if row.HasParam("P_rated") {
		rated = unit.Power(row.Param("P_rated", "W"))
	}
	return Loss{
		Rated: rated, Idle: unit.Power(row.Param("p_self", "")) * rated,
		Linear: row.Param("v", ""), Quadratic: row.Param("r", ""),
	}
}

func TestLossTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/loss_model.csv") {
		l := perUnit(row)
		switch q := row.Text("quantity"); q {
		case "efficiency of quadratic-loss model":
			got, err := l.Efficiency(unit.Power(row.Param("p_out", "pu")) * l.Rated)
			require.NoError(t, err, row.Source())
			row.Expected(got)
		case "load of maximum efficiency":
			_, at, err := l.PeakEfficiency()
			require.NoError(t, err, row.Source())
			row.Expected(float64(at / l.Rated))
		case "maximum efficiency":
			got, _, err := l.PeakEfficiency()
			require.NoError(t, err, row.Source())
			row.Expected(got)
		case "ac output from dc input":
			got, err := l.ACPower(unit.Power(row.Param("p_in", "pu")) * l.Rated)
			require.NoError(t, err, row.Source())
			row.Expected(float64(got / l.Rated))
		case "dc input power":
			got, err := l.DCPower(unit.Power(row.Param("P_ac", "W")))
			require.NoError(t, err, row.Source())
			row.Expected(float64(got))
		default:
			t.Fatalf("%s: no test for %q", row.Source(), q)
		}
	}
}

func TestLossIdleOnce(t *testing.T) {
	dc, err := unit3kW.DCPower(0)
	require.NoError(t, err)
	assert.InDelta(t, 30, float64(dc), 0)
	// The idle draw is what two models that differ in nothing else differ by.
	free := unit3kW
	free.Idle = 0
	for _, p := range []unit.Power{1, 500, 3000, 9000} {
		a, errA := unit3kW.DCPower(p)
		b, errB := free.DCPower(p)
		require.NoError(t, errA)
		require.NoError(t, errB)
		assert.InDelta(t, 30, float64(a-b), 1e-9)
	}
}

func TestLossAtPowerFactor(t *testing.T) {
	unity, err := unit3kW.DCPower(600)
	require.NoError(t, err)
	same, err := unit3kW.DCPowerAt(600, 600)
	require.NoError(t, err)
	assert.InDelta(t, float64(unity), float64(same), 1e-9)
	// At pf 0.6 the quadratic term grows by 1/0.36: 6 W become 16.67 W.
	low, err := unit3kW.DCPowerAt(600, 1000)
	require.NoError(t, err)
	assert.InDelta(t, 6/0.36-6, float64(low-unity), 1e-9)
	_, err = unit3kW.DCPowerAt(600, 599)
	domainError(t, err, "apparent power 599 VA, want 600 VA to 1 MVA")

	p, err := unit3kW.ACPowerAt(low, 1000)
	require.NoError(t, err)
	assert.InDelta(t, 600, float64(p), 1e-9)
	_, err = unit3kW.ACPowerAt(2000, 1000) // more watts than the volt-amperes can be
	domainError(t, err, "apparent power 1 kVA")
	_, err = unit3kW.ACPowerAt(31, 1000)
	require.ErrorIs(t, err, ErrBelowIdle)
}

// Volts and amperes at the plug against dc amperes: 1200 VA out, 75 A from 12 V
// in, with an efficiency between 85 and 92 % and 10 to 20 W idle draw. The
// watts cannot be 1200, so the power factor is not 1.
func TestRealPowerFromTwoReadings(t *testing.T) {
	best, worst, err := FlatRange(2*Kilowatt, Range[unit.Power]{Low: 10, High: 20}, Range[float64]{Low: 0.85, High: 0.92})
	require.NoError(t, err)
	high, err := best.ACPowerAt(75*12, 1200)
	require.NoError(t, err)
	low, err := worst.ACPowerAt(75*12, 1200)
	require.NoError(t, err)
	assert.InDelta(t, (900-10)*0.92, float64(high), 1e-9)
	assert.InDelta(t, (900-20)*0.85, float64(low), 1e-9)
	assert.Less(t, float64(high)/1200, 0.69)
}

func TestACPowerBelowIdle(t *testing.T) {
	_, err := unit3kW.ACPower(29.99)
	require.ErrorIs(t, err, ErrBelowIdle)
	p, err := unit3kW.ACPower(30)
	require.NoError(t, err)
	assert.Zero(t, p)
}

func TestPeakEfficiencyIsHighest(t *testing.T) {
	for _, l := range []Loss{
		unit3kW,
		{Rated: 1500, Idle: 15, Linear: 0.1}, // r = 0: at rated load
		{Rated: 1500, Linear: 0.1, Quadratic: 0.05},         // no idle draw: at no load
		{Rated: 1500, Idle: 300, Linear: 0, Quadratic: 0.1}, // P* above rated load
		{Rated: 1500}, // no loss at all
	} {
		top, at, err := l.PeakEfficiency()
		require.NoError(t, err)
		there, err := l.Efficiency(at)
		require.NoError(t, err)
		assert.InDelta(t, top, there, 1e-15)
		for x := 0.0; x <= 1; x += 1.0 / 64 {
			e, err := l.Efficiency(unit.Power(x) * l.Rated)
			require.NoError(t, err)
			assert.LessOrEqual(t, e, top+1e-15)
		}
	}
}

func TestLossBounds(t *testing.T) {
	for _, c := range []struct {
		change func(*Loss)
		words  string // "" is accepted
	}{
		{func(l *Loss) { l.Rated, l.Idle = 20, 1 }, ""},
		{func(l *Loss) { l.Rated = 1.5 }, "rated power 1.5 W, want 20 W to 100 kW"}, // kW forgotten
		{func(l *Loss) { l.Rated = 19.99 }, "rated power"},
		{func(l *Loss) { l.Rated = 100e3 }, ""},
		{func(l *Loss) { l.Rated = 100.1e3 }, "rated power"},
		{func(l *Loss) { l.Idle = 750 }, ""},
		{func(l *Loss) { l.Idle = 751 }, "idle draw 751 W, want 0 W to 750 W"},
		{func(l *Loss) { l.Linear = 1 }, ""},
		{func(l *Loss) { l.Linear = 1.02 }, "linear loss"}, // k1 instead of v
		{func(l *Loss) { l.Quadratic = 1 }, ""},
		{func(l *Loss) { l.Quadratic = 1.01 }, "quadratic loss"},
	} {
		l := unit3kW
		c.change(&l)
		if c.words == "" {
			require.NoError(t, l.Validate())
			continue
		}
		domainError(t, l.Validate(), c.words)
	}
	for _, x := range strange {
		for _, l := range []Loss{
			{unit.Power(x), 0, 0, 0},
			{1000, unit.Power(x), 0, 0},
			{1000, 0, x, 0},
			{1000, 0, 0, x},
		} {
			require.ErrorIs(t, l.Validate(), ErrDomain)
			lossRefuses(t, l, 100)
		}
		lossRefuses(t, unit3kW, unit.Power(x))
	}
	lossRefuses(t, Loss{}, 100)
	lossRefuses(t, unit3kW, 11e6)
	_, err := unit3kW.DCPower(1e6)
	require.NoError(t, err)
	_, err = unit3kW.DCPower(1.0001e6)
	domainError(t, err, "ac power 1.0001 MW, want 0 W to 1 MW")
}

// lossRefuses requires that every method refuses the model or the power.
func lossRefuses(t *testing.T, l Loss, p unit.Power) {
	t.Helper()
	_, err := l.DCPower(p)
	require.ErrorIs(t, err, ErrDomain)
	_, err = l.DCPowerAt(p, 1000)
	require.ErrorIs(t, err, ErrDomain)
	_, err = l.ACPower(p)
	require.ErrorIs(t, err, ErrDomain)
	_, err = l.ACPowerAt(p, 1000)
	require.ErrorIs(t, err, ErrDomain)
	_, err = l.Efficiency(p)
	require.ErrorIs(t, err, ErrDomain)
	if l.ok() {
		return
	}
	_, _, err = l.PeakEfficiency()
	require.ErrorIs(t, err, ErrDomain)
	_, err = l.Weighted(CEC)
	require.ErrorIs(t, err, ErrDomain)
	_, err = l.Use(nil, 1)
	require.ErrorIs(t, err, ErrDomain)
}

// Both coefficients wrong are both named.
func TestLossNamesEveryFault(t *testing.T) {
	err := Loss{Rated: 1000, Idle: -1, Linear: math.NaN(), Quadratic: 2}.Validate()
	domainError(t, err, "idle draw")
	domainError(t, err, "linear")
	domainError(t, err, "quadratic")
}
