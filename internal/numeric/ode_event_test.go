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

// Every zero of a sine is found once, in the direction asked for, without
// Restart.
func TestEventsOfASine(t *testing.T) {
	for _, tt := range []struct {
		direction   Direction
		begin, each float64
	}{{Both, math.Pi / 2, math.Pi}, {Falling, math.Pi / 2, 2 * math.Pi}, {Rising, 3 * math.Pi / 2, 2 * math.Pi}} {
		s := NewSolver(ODE{
			F: swing, RTol: 1e-12, ATol: []float64{1e-12},
			Events: []Event{{G: first, Direction: tt.direction}},
		}, 2)
		require.NoError(t, s.Start(0, []float64{1, 0}))
		count := 0
		for s.T() < 200 {
			require.NoError(t, s.Run(200))
			if s.Event() < 0 {
				continue
			}
			want := tt.begin + tt.each*float64(count)
			require.InDelta(t, want, s.T(), 2e-12*(1+want))
			require.InDelta(t, 0, s.Y()[0], 2e-14)
			require.InDelta(t, 1, math.Abs(s.Y()[1]), 1e-10)
			count++
		}
		assert.Equal(t, int(math.Floor((200-tt.begin)/tt.each))+1, count)
	}
}

// A state on the zero at the start is no event, whichever way it leaves it,
// and the next zero is found even inside the first step.
func TestEventAtTheStart(t *testing.T) {
	for _, up := range []float64{1, -1} {
		s := NewSolver(ODE{
			F: func(t float64, _, dy []float64) { dy[0] = up * (1 - 2*t) }, RTol: 1e-3, ATol: []float64{1},
			Events: []Event{{G: first}},
		}, 1)
		require.NoError(t, s.Start(0, []float64{0}))
		require.NoError(t, s.Run(50))
		require.Equal(t, 0, s.Event())
		assert.InEpsilon(t, 1, s.T(), 1e-14)
		require.NoError(t, s.Run(50))
		assert.Equal(t, -1, s.Event())
		assert.False(t, s.Fired(0))
		assert.InDelta(t, 50, s.T(), 0)
	}
}

func TestEventsTogether(t *testing.T) {
	at := func(when float64) Event {
		return Event{G: func(t float64, _ []float64) float64 { return t - when }}
	}
	s := NewSolver(ODE{
		F: func(_ float64, _, dy []float64) { dy[0] = 1 }, RTol: 1e-3, ATol: []float64{1},
		Events: []Event{at(3), at(1), at(2), at(1), {G: func(float64, []float64) float64 { return math.NaN() }}},
	}, 1)
	require.NoError(t, s.Start(0, []float64{7}))
	seen := map[int]float64{}
	for s.T() < 10 {
		require.NoError(t, s.Run(10))
		for i := range s.Events {
			if s.Fired(i) {
				assert.NotContains(t, seen, i)
				seen[i] = s.T()
				assert.InEpsilon(t, 7+s.T(), s.Y()[0], 1e-15)
			}
		}
	}
	assert.Len(t, seen, 4)
	for i, want := range map[int]float64{0: 3, 1: 1, 2: 2, 3: 1} {
		assert.InEpsilon(t, want, seen[i], 1e-14)
	}
	assert.False(t, s.Fired(-1))
	assert.False(t, s.Fired(9))
}

// An event at the very end of the run is found there.
func TestEventAtTheEnd(t *testing.T) {
	s := NewSolver(ODE{
		F: func(_ float64, _, dy []float64) { dy[0] = 1 }, RTol: 1e-3,
		Events: []Event{{G: func(t float64, _ []float64) float64 { return t - 4 }, Direction: Rising}},
	}, 1)
	require.NoError(t, s.Start(0, []float64{1}))
	require.NoError(t, s.Run(4))
	assert.True(t, s.Fired(0))
	assert.InDelta(t, 4, s.T(), 1e-14)
}

// A capacitor discharges through an inductor and a resistor until the current
// is zero, where a diode stops it; then it charges from a source behind another
// resistor until it holds half of the source's voltage.
func TestSwitchedCircuit(t *testing.T) {
	const r, l, c, v0, source, behind = 0.4, 2e-3, 50e-6, 100.0, 60.0, 30.0
	swingOut := func(_ float64, y, dy []float64) { // voltage, current
		dy[0], dy[1] = -y[1]/c, (y[0]-r*y[1])/l
	}
	charge := func(_ float64, y, dy []float64) {
		dy[0], dy[1] = (source-y[0])/(behind*c), 0
	}
	s := NewSolver(ODE{F: swingOut, RTol: 1e-12, ATol: []float64{1e-12}, Events: []Event{
		{G: func(_ float64, y []float64) float64 { return y[1] }, Direction: Falling},
		{G: func(_ float64, y []float64) float64 { return y[0] - source/2 }, Direction: Rising},
	}}, 2)
	for range 2 {
		s.F = swingOut
		require.NoError(t, s.Start(0, []float64{v0, 0}))
		require.NoError(t, s.Run(1))
		require.Equal(t, 0, s.Event())
		alpha := r / (2 * l)
		w := math.Sqrt(1/(l*c) - alpha*alpha)
		zero := math.Pi / w
		left := -v0 * math.Exp(-alpha*zero)
		assert.InEpsilon(t, zero, s.T(), 1e-11)
		assert.InEpsilon(t, left, s.Y()[0], 1e-10)
		assert.InDelta(t, 0, s.Y()[1], 1e-12)

		s.F = charge
		s.Y()[1] = 0
		require.NoError(t, s.Restart())
		require.NoError(t, s.Run(1))
		require.Equal(t, 1, s.Event())
		assert.InEpsilon(t, zero+behind*c*math.Log((source-left)/(source/2)), s.T(), 1e-11)
		assert.InEpsilon(t, source/2, s.Y()[0], 1e-13)
	}
}

// The state at an event has the accuracy of the steps, and the polynomial still
// covers the step that the event cut short.
func TestStateAtAnEvent(t *testing.T) {
	for _, tol := range []float64{1e-4, 1e-6, 1e-8, 1e-10, 1e-12} {
		s := NewSolver(ODE{
			F: swing, RTol: tol, ATol: []float64{tol},
			Events: []Event{{G: func(t float64, _ []float64) float64 { return t - 2 }}},
		}, 2)
		require.NoError(t, s.Start(0, []float64{1, 0}))
		require.NoError(t, s.Run(5))
		require.True(t, s.Fired(0))
		assert.InDelta(t, math.Cos(2), s.Y()[0], 5*tol)
		assert.InDelta(t, -math.Sin(2), s.Y()[1], 5*tol)
		assert.InDelta(t, -s.Y()[0], s.Slope()[1], 0)
		var out [2]float64
		from, to := s.Last()
		assert.InEpsilon(t, 2, to, 1e-15)
		require.True(t, s.At((from+to)/2, out[:]))
		assert.InDelta(t, math.Cos((from+to)/2), out[0], 20*tol)
		require.NoError(t, s.Run(5))
		assert.InDelta(t, math.Cos(5), s.Y()[0], 10*tol)
	}
}

// A touch of zero is an event or none, but never a failure, and the solver gets
// past it.
func TestTouch(t *testing.T) {
	for _, lift := range []float64{-1e-13, -1e-15, 0, 1e-15, 1e-13} {
		s := NewSolver(ODE{
			F: swing, RTol: 1e-9, ATol: []float64{1e-9},
			Events: []Event{{G: func(_ float64, y []float64) float64 { return 1 - y[0] + lift }}},
		}, 2)
		require.NoError(t, s.Start(0, []float64{0, 1}))
		for s.T() < 30 {
			require.NoError(t, s.Run(30))
		}
		assert.Less(t, s.Steps(), 5000)
		assert.InDelta(t, math.Sin(30), s.Y()[0], 1e-6)
	}
}
