package numeric

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// fall is a ball in uniform gravity: height and speed upward.
func fall(_ float64, y, dy []float64) { dy[0], dy[1] = y[1], -9.80665 }

// A ball that keeps a part of its speed bounces at times in closed form; the
// steps of the free flight are exact, so that only the events are under test.
func TestBouncingBall(t *testing.T) {
	const g, keep, height = 9.80665, 0.8, 2.0
	s := NewSolver(ODE{
		F: fall, RTol: 1e-9, ATol: []float64{1e-12},
		Events: []Event{{G: func(_ float64, y []float64) float64 { return y[0] }, Direction: Falling}},
	}, 2)
	require.NoError(t, s.Start(0, []float64{height, 0}))
	want, speed := math.Sqrt(2*height/g), math.Sqrt(2*height*g)
	for range 25 {
		require.NoError(t, s.Run(100))
		require.Equal(t, 0, s.Event())
		require.True(t, s.Fired(0))
		assert.InEpsilon(t, want, s.T(), 4e-14)
		assert.InEpsilon(t, -speed, s.Y()[1], 1e-12)
		assert.InDelta(t, 0, s.Y()[0], 1e-14)
		speed *= keep
		want += 2 * speed / g
		s.Y()[0], s.Y()[1] = 0, -keep*s.Y()[1]
		require.NoError(t, s.Restart())
	}
}
