package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

func TestCountFactor(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_310_15_c_count.csv")
	require.Len(t, rows, 7)
	next := 1
	for _, row := range rows {
		first := int(row.Float("conductors_min"))
		assert.Equal(t, next, first, "the rows leave no gap")
		last := 1000
		if row.Has("conductors_max") {
			last = int(row.Float("conductors_max"))
		}
		for n := first; n <= last; n++ {
			row.Printed("percent", 100*must[float64](t)(CountFactor(n)))
		}
		next = last + 1
	}
	assert.Equal(t, 1001, next)
}

// More conductors carry less each, and together not less than fewer did where a
// step of the table does not lie between.
func TestCountFactorLaw(t *testing.T) {
	last := 1.0
	for n := 1; n <= 1000; n++ {
		f := must[float64](t)(CountFactor(n))
		assert.LessOrEqual(t, f, last)
		assert.Greater(t, f, math.Sqrt(1/float64(n))*0.99, "heat grows at most as the number")
		last = f
	}
	for _, n := range []int{0, -1, 1001, math.MinInt, math.MaxInt} {
		refused(t, second(CountFactor(n)), "conductors that carry current")
	}
}
