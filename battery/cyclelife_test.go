package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

func TestCycleLife(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/cycle_life.csv") {
		p := CyclePoint{Depth: row.Float("depth_pct") / 100, Cycles: row.Float("cycles")}
		row.Printed("equivalent_full_cycles", must[float64](t)(p.EquivalentFullCycles()))
		if row.Has("preset") {
			c := must[Chemistry](t)(ParseChemistry(row.Text("preset")))
			curve := must[CycleCurve](t)(TypicalCycleLife(c))
			row.Printed("cycles", must[float64](t)(curve.Cycles(p.Depth)))
		}
	}
}

// Along each curve the cycles fall with every step and the throughput stays
// within a factor of two.
func TestTypicalCycleLifeLaws(t *testing.T) {
	for c := Flooded; c.Valid(); c++ {
		curve := must[CycleCurve](t)(TypicalCycleLife(c))
		first, end := curve[0], curve[len(curve)-1]
		low, high, last := math.Inf(1), 0.0, math.Inf(1)
		for d := first.Depth; d <= end.Depth; d += 0.01 {
			n := must[float64](t)(curve.Cycles(d))
			assert.Less(t, n, last)
			last = n
			low, high = min(low, n*d), max(high, n*d)
		}
		assert.Less(t, high/low, 2.0, c)
		curve[0].Cycles = -1
		assert.NotEqual(t, curve, must[CycleCurve](t)(TypicalCycleLife(c)), "a copy")
	}
	_, err := TypicalCycleLife(0)
	refused(t, err)
}

func TestCycleCurve(t *testing.T) {
	// A power law is met everywhere, and the wear of a whole life is 1.
	curve := CycleCurve{{0.1, 10000}, {0.4, 2500}, {1, 1000}}
	for d := 0.1; d <= 1; d += 0.05 {
		assert.InEpsilon(t, 1000/d, must[float64](t)(curve.Cycles(d)), 1e-12)
	}
	assert.InEpsilon(t, 1, must[float64](t)(curve.Wear(CyclePoint{0.5, 1000}, CyclePoint{0.2, 2500})), 1e-12)
	assert.Zero(t, must[float64](t)(curve.Wear()))
	for _, c := range []CycleCurve{
		nil, curve[:1],
		{{0.4, 1000}, {0.4, 900}},
		{{0.4, 1000}, {0.5, 1000}},
		{{0, 1000}, {0.5, 900}},
		{{0.1, math.NaN()}, {0.5, 900}},
		{{math.NaN(), 1000}, {0.5, 900}},
		{{0.5, 1e6}, {0.6, 10}},
		{{30, 1000}, {50, 900}},
	} {
		_, err := c.Cycles(0.5)
		refused(t, err, "%v", c)
		_, err = c.Wear()
		refused(t, err, "%v", c)
	}
	for _, d := range []float64{0.0999, 1.01, 0, math.NaN(), 50} {
		_, err := curve.Cycles(d)
		refused(t, err, "%v", d)
	}
	_, err := curve.Wear(CyclePoint{0.5, -1})
	refused(t, err)
	_, err = curve.Wear(CyclePoint{0.05, 1})
	refused(t, err)
	for _, p := range []CyclePoint{{}, {0.5, 9}, {0.5, math.Inf(1)}, {50, 500}} {
		_, err := p.EquivalentFullCycles()
		refused(t, err)
	}
}

// Between the ends of a curve the cycles lie between those of the ends.
func FuzzCycleCurve(f *testing.F) {
	f.Add(0.3, 2000.0, 0.8, 500.0, 0.5)
	f.Add(math.NaN(), 1.0, 1.0, 1.0, 1.0)
	f.Fuzz(func(t *testing.T, d1, n1, d2, n2, at float64) {
		n, err := CycleCurve{{d1, n1}, {d2, n2}}.Cycles(at)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, n >= n2*(1-1e-9) && n <= n1*(1+1e-9))
	})
}
