package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestFitTable(t *testing.T) {
	const rated = unit.Power(2000)
	for _, row := range reftest.Rows(t, "inverter/loss_fits.csv") {
		at := func(name string, load unit.Power) EfficiencyPoint {
			return EfficiencyPoint{Output: load * rated, Efficiency: row.Param(name, "")}
		}
		var l Loss
		var err error
		if row.HasParam("eta50") {
			l, err = FitThree(rated, at("eta10", 0.1), at("eta50", 0.5), at("eta100", 1))
		} else {
			l, err = FitTwo(rated, at("eta10", 0.1), at("eta100", 1))
			assert.Zero(t, l.Linear)
		}
		require.NoError(t, err, row.Source())
		switch q := row.Text("quantity"); q {
		case "fitted p_self", "fitted k0 (no linear term)":
			row.Expected(float64(l.Idle / rated))
		case "fitted v":
			row.Expected(l.Linear)
		case "fitted r", "fitted k1":
			row.Expected(l.Quadratic)
		default:
			t.Fatalf("%s: no test for %q", row.Source(), q)
		}
	}
}

// point is a point on a model's own curve.
func point(t *testing.T, l Loss, load unit.Power) EfficiencyPoint {
	t.Helper()
	e, err := l.Efficiency(load * l.Rated)
	require.NoError(t, err)
	return EfficiencyPoint{Output: load * l.Rated, Efficiency: e}
}

// Every fit gives back the model on whose curve its points lie, whatever their
// order.
func TestFitReturnsModel(t *testing.T) {
	for _, l := range []Loss{unit3kW, {Rated: 600, Idle: 12, Linear: 0.05}, {Rated: 600, Linear: 0.05}, {Rated: 600, Idle: 6, Quadratic: 0.08}} {
		a, b, c := point(t, l, 0.1), point(t, l, 0.5), point(t, l, 1)
		same := func(got Loss, err error) {
			t.Helper()
			require.NoError(t, err)
			require.NoError(t, got.Validate())
			assert.InDelta(t, float64(l.Idle), float64(got.Idle), 1e-9)
			assert.InDelta(t, l.Linear, got.Linear, 1e-12)
			assert.InDelta(t, l.Quadratic, got.Quadratic, 1e-12)
		}
		same(FitThree(l.Rated, a, b, c))
		same(FitThree(l.Rated, c, a, b))
		same(FitIdleTwo(l.Rated, l.Idle, a, c))
		same(FitIdleTwo(l.Rated, l.Idle, c, b))
		if l.Linear == 0 {
			same(FitTwo(l.Rated, a, c))
			same(FitIdleOne(l.Rated, l.Idle, b))
		}
	}
}

// The two-parameter form over-predicts half load by 0.4 to 0.6 points on the
// two test curves.
func TestFitTwoOverPredicts(t *testing.T) {
	for _, c := range []struct{ e10, e50, e100 float64 }{{0.80, 0.90, 0.88}, {0.90, 0.945, 0.93}} {
		l, err := FitTwo(1000, EfficiencyPoint{100, c.e10}, EfficiencyPoint{1000, c.e100})
		require.NoError(t, err)
		e, err := l.Efficiency(500)
		require.NoError(t, err)
		assert.InDelta(t, 0.5, 100*(e-c.e50), 0.15)
	}
}

func TestFitBadData(t *testing.T) {
	// Half load far too good for the other two: a linear term below zero.
	_, err := FitThree(1000, EfficiencyPoint{100, 0.80}, EfficiencyPoint{500, 0.97}, EfficiencyPoint{1000, 0.88})
	var bad *FitError
	require.ErrorAs(t, err, &bad)
	assert.Equal(t, "linear", bad.Coefficient)
	assert.Less(t, bad.Value, 0.0)
	domainError(t, err, "linear loss of -0.2")

	// Efficiency still rising at full load: a quadratic term below zero.
	_, err = FitThree(1000, EfficiencyPoint{100, 0.80}, EfficiencyPoint{500, 0.85}, EfficiencyPoint{1000, 0.93})
	domainError(t, err, "quadratic loss of -")

	// Light load no worse than full load leaves nothing for idling, or less.
	_, err = FitTwo(1000, EfficiencyPoint{100, 0.99}, EfficiencyPoint{1000, 0.90})
	domainError(t, err, "idle loss of -")

	// An idle draw greater than the whole loss at the point.
	_, err = FitIdleOne(1000, 40, EfficiencyPoint{100, 0.80})
	domainError(t, err, "quadratic loss of -")
	_, err = FitIdleTwo(1000, 40, EfficiencyPoint{100, 0.80}, EfficiencyPoint{1000, 0.80})
	domainError(t, err, "linear loss of -")
}

// A coefficient below zero by the last bits is zero; by more it is bad data.
func TestFitRounding(t *testing.T) {
	l, err := fitted(1000, -1e-12, -1e-12, -1e-12)
	require.NoError(t, err)
	assert.Equal(t, Loss{Rated: 1000}, l)
	_, err = fitted(1000, -2e-9, 0.3, 1.1)
	domainError(t, err, "idle loss of -2e-09 of rated power, want 0 to 0.25")
	domainError(t, err, "quadratic loss of 1.1 of rated power, want 0 to 1")
	require.NotContains(t, err.Error(), "linear")
	_, err = fitted(1000, math.NaN(), 0, 0)
	require.ErrorIs(t, err, ErrDomain)
}

func TestFitBounds(t *testing.T) {
	ok := EfficiencyPoint{1000, 0.9}
	low := EfficiencyPoint{100, 0.8}
	mid := EfficiencyPoint{500, 0.9}
	for _, c := range []struct {
		p     EfficiencyPoint
		words string
	}{
		{EfficiencyPoint{1000, 90}, "efficiency 90, want 0.01 to 1"}, // percent
		{EfficiencyPoint{1, 0.9}, ""},                                // per unit instead of watts: fits, or not, but is taken
		{EfficiencyPoint{0.99, 0.9}, "output of an efficiency point"},
		{EfficiencyPoint{2001, 0.9}, "output of an efficiency point"},
		{EfficiencyPoint{109, 0.9}, "at least 1 % of rated power away"},
		{EfficiencyPoint{505, 0.9}, "at least 1 % of rated power away"},
		{EfficiencyPoint{1000, 0.009}, "efficiency"},
		{EfficiencyPoint{1000, 1.001}, "efficiency"},
	} {
		_, err := FitThree(1000, low, mid, c.p)
		if c.words == "" {
			continue
		}
		domainError(t, err, c.words)
	}
	for _, x := range strange {
		for _, p := range []EfficiencyPoint{{unit.Power(x), 0.9}, {1000, x}} {
			_, err := FitThree(1000, low, mid, p)
			require.ErrorIs(t, err, ErrDomain)
			_, err = FitTwo(1000, low, p)
			require.ErrorIs(t, err, ErrDomain)
			_, err = FitIdleTwo(1000, 10, low, p)
			require.ErrorIs(t, err, ErrDomain)
			_, err = FitIdleOne(1000, 10, p)
			require.ErrorIs(t, err, ErrDomain)
		}
		_, err := FitThree(unit.Power(x), low, mid, ok)
		domainError(t, err, "rated power")
		_, err = FitIdleOne(1000, unit.Power(x), ok)
		require.ErrorIs(t, err, ErrDomain)
		_, err = FitIdleTwo(1000, unit.Power(x), low, ok)
		require.ErrorIs(t, err, ErrDomain)
		_, err = Flat(unit.Power(x), 10, 0.9)
		require.ErrorIs(t, err, ErrDomain)
		_, err = Flat(1000, unit.Power(x), 0.9)
		require.ErrorIs(t, err, ErrDomain)
		_, err = Flat(1000, 10, x)
		require.ErrorIs(t, err, ErrDomain)
	}
}

func TestFlat(t *testing.T) {
	l, err := Flat(1500, 15, 0.85)
	require.NoError(t, err)
	dc, err := l.DCPower(850)
	require.NoError(t, err)
	assert.InDelta(t, 1015, float64(dc), 1e-9)
	for e, v := range map[float64]float64{0.5: 1, 1: 0} {
		l, err = Flat(1500, 15, e)
		require.NoError(t, err)
		assert.Equal(t, Loss{Rated: 1500, Idle: 15, Linear: v}, l)
	}
	for _, e := range []float64{0, 0.499, 1.001, 85} {
		_, err = Flat(1500, 15, e)
		domainError(t, err, "efficiency")
	}
}

func TestFlatRange(t *testing.T) {
	idle, eff := Range[unit.Power]{Low: 10, High: 20}, Range[float64]{Low: 0.85, High: 0.92}
	best, worst, err := FlatRange(1500, idle, eff)
	require.NoError(t, err)
	for _, p := range []unit.Power{0, 100, 1500} {
		lo, errLo := best.DCPower(p)
		hi, errHi := worst.DCPower(p)
		require.NoError(t, errLo)
		require.NoError(t, errHi)
		assert.InDelta(t, 10+float64(p)/0.92, float64(lo), 1e-9)
		assert.InDelta(t, 20+float64(p)/0.85, float64(hi), 1e-9)
	}
	_, _, err = FlatRange(1500, Range[unit.Power]{Low: 20, High: 10}, eff)
	domainError(t, err, "idle draw 20 to 10 W")
	_, _, err = FlatRange(1500, idle, Range[float64]{Low: 0.92, High: 0.85})
	domainError(t, err, "efficiency 0.92 to 0.85")
	_, _, err = FlatRange(1500, idle, Range[float64]{Low: math.NaN(), High: 0.85})
	require.ErrorIs(t, err, ErrDomain)
	_, _, err = FlatRange(1500, idle, Range[float64]{Low: 0.4, High: 0.85})
	domainError(t, err, "efficiency 0.4")
}
