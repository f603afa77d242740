package numeric

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestTable(t *testing.T) {
	x, y := []float64{-3, 0, 1, 4, 10}, []float64{5, 2, 2, -1, 0.5}
	table := NewTable(x, y)
	lo, hi := table.Bounds()
	assert.Equal(t, []float64{-3, 10}, []float64{lo, hi})
	for i := range x {
		got, ok := table.At(x[i])
		assert.True(t, ok, x[i])
		assert.InDelta(t, y[i], got, 0, "a point of the table is its own value")
	}
	for i := range x[1:] {
		got, ok := table.At((x[i] + x[i+1]) / 2)
		assert.True(t, ok)
		assert.InDelta(t, (y[i]+y[i+1])/2, got, 1e-15, "half way")
	}
	for _, outside := range []float64{
		math.Nextafter(-3, -4), math.Nextafter(10, 11), math.NaN(), math.Inf(1), math.Inf(-1),
	} {
		got, ok := table.At(outside)
		assert.False(t, ok, outside)
		assert.Zero(t, got)
	}
}

func TestTableRefusesWhatIsNone(t *testing.T) {
	nan := math.NaN()
	for name, points := range map[string][2][]float64{
		"empty":         {nil, nil},
		"one point":     {{1}, {1}},
		"not ascending": {{1, 3, 2}, {1, 2, 3}},
		"x twice":       {{1, 1, 2}, {1, 2, 3}},
		"lengths":       {{1, 2, 3}, {1, 2}},
		"NaN in x":      {{1, nan, 3}, {1, 2, 3}},
		"NaN first":     {{nan, 2, 3}, {1, 2, 3}},
		"NaN in y":      {{1, 2, 3}, {1, nan, 3}},
		"infinite x":    {{1, 2, math.Inf(1)}, {1, 2, 3}},
		"infinite y":    {{1, 2, 3}, {1, 2, math.Inf(1)}},
	} {
		assert.Panics(t, func() { NewTable(points[0], points[1]) }, name)
	}
}

// A table does not change with the slices that it was made from.
func TestTableKeepsItsPoints(t *testing.T) {
	x, y := []float64{0, 1}, []float64{0, 1}
	table := NewTable(x, y)
	x[0], y[1] = 0.9, 7
	got, ok := table.At(0.5)
	assert.True(t, ok)
	assert.InDelta(t, 0.5, got, 0)
}

func TestTableAllocatesNothing(t *testing.T) {
	table := NewTable([]float64{0, 1, 2}, []float64{0, 1, 4})
	x := 0.0
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, ok := table.At(x); !ok {
			t.Fail()
		}
		x += 0.01
	}))
}

// Between its neighbours a look-up lies between their values.
func FuzzTable(f *testing.F) {
	f.Add(0.5)
	f.Add(-1.0)
	x, y := []float64{0, 1, 4, 9}, []float64{3, 1, 2, -5}
	table := NewTable(x, y)
	f.Fuzz(func(t *testing.T, at float64) {
		got, ok := table.At(at)
		if ok != (at >= 0 && at <= 9) {
			t.Errorf("%v accepted: %v", at, ok)
		}
		for i := range x[1:] {
			if at >= x[i] && at <= x[i+1] {
				if got < math.Min(y[i], y[i+1]) || got > math.Max(y[i], y[i+1]) {
					t.Errorf("%v at %v", got, at)
				}
			}
		}
	})
}
