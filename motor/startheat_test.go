package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
)

// The closed form is the integral of J·ω_s/T over the slip, and no other slip
// of the greatest torque gets there sooner than the quickest.
func TestNoLoadStartTimeIsTheIntegral(t *testing.T) {
	for _, s := range []float64{0.01, 0.05, 0.2} {
		for _, sm := range []float64{0.1, 0.3, 0.408, 1, 3} {
			got, err := NoLoadStartTime(0.02, 1500*RPM, 12, sm, s)
			require.NoError(t, err)
			want := quad.Fixed(func(u float64) float64 {
				slip := math.Exp(u)
				return slip * 0.02 * float64(1500*RPM) / (2 * 12 / (slip/sm + sm/slip))
			}, math.Log(s), 0, 200, nil, 0)
			assert.InEpsilon(t, want, float64(got), 1e-9)
		}
		best, err := QuickestPeakSlip(s)
		require.NoError(t, err)
		at := func(sm float64) float64 {
			d, err := NoLoadStartTime(0.02, 1500*RPM, 12, sm, s)
			require.NoError(t, err)
			return -float64(d)
		}
		assert.InEpsilon(t, seek(t, 0.02, 5, at), best, 1e-4)
	}
}
