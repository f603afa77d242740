package inverter

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestFitPointsTable(t *testing.T) {
	const rated = 2000
	for _, row := range reftest.Rows(t, "inverter/loss_least_squares.csv") {
		var idle []unit.Power
		for cell := range strings.SplitSeq(row.Text("idle_pu"), ";") {
			if cell != "" {
				idle = append(idle, unit.Power(rated*number(t, cell)))
			}
		}
		var points []EfficiencyPoint
		for cell := range strings.SplitSeq(row.Text("points_pu"), "; ") {
			load, eta, _ := strings.Cut(cell, " ")
			points = append(points, EfficiencyPoint{unit.Power(rated * number(t, load)), number(t, eta)})
		}
		f, err := FitPoints(rated, idle, points...)
		require.NoError(t, err, row.Source())
		row.Printed("p0", float64(f.Loss.Idle)/rated)
		row.Printed("v", f.Loss.Linear)
		row.Printed("r", f.Loss.Quadratic)
		row.Printed("rms", float64(f.RMS)/rated)
		row.Printed("greatest", float64(f.Greatest)/rated)
	}
}

// Where the exact fits apply, this one is the same.
func TestFitPointsAsExact(t *testing.T) {
	a, b, c := EfficiencyPoint{200, 0.9}, EfficiencyPoint{1000, 0.945}, EfficiencyPoint{2000, 0.93}
	exact := func(want Loss, err error) Loss {
		require.NoError(t, err)
		return want
	}
	for name, tt := range map[string]struct {
		want   Loss
		idle   []unit.Power
		points []EfficiencyPoint
	}{
		"three":        {exact(FitThree(2000, a, b, c)), nil, []EfficiencyPoint{a, b, c}},
		"two":          {exact(FitTwo(2000, a, c)), nil, []EfficiencyPoint{c, a}},
		"idle and two": {exact(FitIdleTwo(2000, 20, b, c)), []unit.Power{20}, []EfficiencyPoint{b, c}},
		"idle and one": {exact(FitIdleOne(2000, 20, b)), []unit.Power{20}, []EfficiencyPoint{b}},
	} {
		f, err := FitPoints(2000, tt.idle, tt.points...)
		require.NoError(t, err, name)
		closeTo(t, float64(tt.want.Idle), float64(f.Loss.Idle), 1e-9)
		assert.InDelta(t, tt.want.Linear, f.Loss.Linear, 1e-12, name)
		assert.InDelta(t, tt.want.Quadratic, f.Loss.Quadratic, 1e-12, name)
		assert.InDelta(t, 0, float64(f.Greatest), 1e-9, name)
	}
}

func TestFitPointsRefuses(t *testing.T) {
	a := EfficiencyPoint{1000, 0.9}
	_, err := FitPoints(19, nil, a, a)
	domainError(t, err, "rated power")
	_, err = FitPoints(2000, []unit.Power{-1}, a)
	domainError(t, err, "idle draw")
	_, err = FitPoints(2000, nil, a, EfficiencyPoint{1000, 1.1})
	domainError(t, err, "efficiency")
	for _, points := range [][]EfficiencyPoint{nil, {a}, {a, a}, {a, {1015, 0.9}}} {
		_, err = FitPoints(2000, nil, points...)
		domainError(t, err, "fewer than two loads")
	}
	_, err = FitPoints(2000, []unit.Power{20, 30})
	domainError(t, err, "fewer than two loads")
	_, err = FitPoints(2000, []unit.Power{20}, EfficiencyPoint{1000, 0.3})
	var fit *FitError
	require.ErrorAs(t, err, &fit)
}

// FuzzFitPoints: points taken from a model give the model back, and points
// beside it never fit better than the best of a crowd of models.
func FuzzFitPoints(f *testing.F) {
	seeds(f, 200, 8)
	f.Fuzz(func(t *testing.T, raw bool, idle, v, r, e1, e2, e3, e4, other float64) {
		l := Loss{2000, unit.Power(fold(raw, idle, 0, 60)), fold(raw, v, 0, 0.1), fold(raw, r, 0, 0.15)}
		if l.Validate() != nil {
			return
		}
		var points []EfficiencyPoint
		for _, p := range []unit.Power{100, 400, 1000, 1500, 2000} {
			points = append(points, EfficiencyPoint{p, l.efficiency(float64(p))})
		}
		got, err := FitPoints(2000, []unit.Power{l.Idle}, points...)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.InDelta(t, float64(l.Idle), float64(got.Loss.Idle), 1e-6)
		require.InDelta(t, l.Linear, got.Loss.Linear, 1e-8)
		require.InDelta(t, l.Quadratic, got.Loss.Quadratic, 1e-8)
		require.InDelta(t, 0, float64(got.Greatest), 1e-6)

		for i, e := range []float64{e1, e2, e3, e4} {
			points[i].Efficiency *= fold(raw, e, 0.97, 1)
		}
		got, err = FitPoints(2000, []unit.Power{l.Idle}, points...)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		rms := func(l Loss, p0 unit.Power) float64 {
			sum := math.Pow(float64(l.Idle-p0), 2)
			for _, a := range points {
				p := float64(a.Output)
				sum += math.Pow(float64(l.Idle)+l.withLoad(p)-(p/a.Efficiency-p), 2)
			}
			return math.Sqrt(sum / 6)
		}
		require.InDelta(t, rms(got.Loss, l.Idle), float64(got.RMS), 1e-6)
		k := fold(raw, other, 0, 2)
		if !(k >= 0 && k <= 2) {
			return
		}
		for _, m := range []Loss{
			l,
			{2000, unit.Power(k) * got.Loss.Idle, got.Loss.Linear, got.Loss.Quadratic},
			{2000, got.Loss.Idle, k * got.Loss.Linear, got.Loss.Quadratic},
			{2000, got.Loss.Idle, got.Loss.Linear, k * got.Loss.Quadratic},
		} {
			require.GreaterOrEqual(t, rms(m, l.Idle), float64(got.RMS)*(1-1e-9)-1e-9)
		}
	})
}
