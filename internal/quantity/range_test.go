package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

func TestRange(t *testing.T) {
	r := Range[unit.Current]{Low: 8.6, High: 10.8}
	assert.InDelta(t, 9.7, float64(r.Mid()), 1e-12)
	assert.True(t, r.Valid())
	assert.Equal(t, Range[unit.Current]{8.6, 8.6}, Exactly(unit.Current(8.6)))
	assert.InDelta(t, 8.6, float64(Exactly(unit.Current(8.6)).Mid()), 0)
}

func TestRangeEnds(t *testing.T) {
	for name, tt := range map[string]struct {
		low, high float64
		valid     bool
	}{
		"zero value":     {0, 0, true},
		"upside down":    {2, 1, false},
		"no low":         {math.NaN(), 1, false},
		"no high":        {1, math.NaN(), false},
		"unbounded":      {20, math.Inf(1), true},
		"one figure":     {3, 3, true},
		"across zero":    {-1, 1, true},
		"infinite, down": {math.Inf(1), math.Inf(-1), false},
	} {
		assert.Equal(t, tt.valid, Range[float64]{tt.low, tt.high}.Valid(), name)
	}
}

// The middle lies between the ends, even where their distance overflows.
func FuzzMid(f *testing.F) {
	f.Add(8.6, 10.8)
	f.Add(-math.MaxFloat64, math.MaxFloat64)
	f.Add(5e-324, 5e-324)
	f.Fuzz(func(t *testing.T, low, high float64) {
		r := Range[float64]{low, high}
		if !r.Valid() || math.IsInf(low, 0) || math.IsInf(high, 0) {
			return
		}
		if m := r.Mid(); !(m >= low && m <= high) {
			t.Errorf("middle %v of %v to %v", m, low, high)
		}
	})
}
