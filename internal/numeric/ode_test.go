package numeric

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// swing is the harmonic oscillator of period 2π.
func swing(_ float64, y, dy []float64) { dy[0], dy[1] = y[1], -y[0] }

func TestOscillatorOverManyPeriods(t *testing.T) {
	for _, tol := range []float64{1e-6, 1e-8, 1e-10, 1e-12} {
		s := NewSolver(ODE{F: swing, RTol: tol, ATol: []float64{tol}}, 2)
		require.NoError(t, s.Start(0, []float64{1, 0}))
		const end = 1000 * 2 * math.Pi
		require.NoError(t, s.Run(end))
		energy := math.Hypot(s.Y()[0], s.Y()[1])
		t.Log(tol, s.Steps(), s.Y()[0]-1, s.Y()[1], energy-1)
		assert.InDelta(t, 1, energy, end*tol*0.7)
	}
}
