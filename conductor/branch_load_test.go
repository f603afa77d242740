package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

func TestBranchLoad(t *testing.T) {
	assert.EqualValues(t, 20, must[unit.Current](t)(BranchLoad{Continuous: 16}.Demand()))
	assert.EqualValues(t, 16, must[unit.Current](t)(BranchLoad{Other: 16}.Demand()))
	assert.EqualValues(t, 22.5, must[unit.Current](t)(BranchLoad{10, 10}.Demand()))
	assert.EqualValues(t, 10800, must[unit.Current](t)(BranchLoad{4800, 4800}.Demand()))
	assert.EqualValues(t, 0.001, must[unit.Current](t)(BranchLoad{Other: 1e-3}.Demand()))
	assert.EqualValues(t, 20, BranchLoad{10, 10}.Total())
	assert.True(t, math.IsNaN(float64(BranchLoad{unit.Current(math.NaN()), 1}.Total())))
	bounds(t, "continuous load", 0, 4800, func(x float64) error { return second(BranchLoad{unit.Current(x), 1}.Demand()) })
	bounds(t, "other load", 0, 4800, func(x float64) error { return second(BranchLoad{1, unit.Current(x)}.Demand()) })
	refused(t, second(BranchLoad{}.Demand()), "load 0 A")
	// What a device bears continuously demands that device.
	for _, r := range StandardBreakers.All() {
		c := must[unit.Current](t)(ContinuousCapacity(r))
		assert.InDelta(t, float64(r), float64(must[unit.Current](t)(BranchLoad{Continuous: c}.Demand())), 1e-9*float64(r))
	}
	bounds(t, "overcurrent device", 1-ratingSlack, largestRating*(1+ratingSlack), func(x float64) error { return second(ContinuousCapacity(unit.Current(x))) })
}
