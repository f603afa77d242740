package numeric

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestMaximum(t *testing.T) {
	parabola := func(x float64) float64 { return -(x - 2) * (x - 2) }
	assert.InDelta(t, 2, Maximum(parabola, 0, 5, 0), 1e-7)
	assert.InDelta(t, math.Pi/2, Maximum(math.Sin, 0, 3, 1e-6), 1e-6)
	assert.InDelta(t, 3, Maximum(func(x float64) float64 { return x }, 0, 3, 1e-9), 1e-7, "at the end")
	assert.InDelta(t, 0, Maximum(func(x float64) float64 { return -x }, 0, 3, math.NaN()), 1e-7)
	assert.InDelta(t, 1.5, Maximum(parabola, 1.5, 1.5, 0), 0, "no interval")
}
