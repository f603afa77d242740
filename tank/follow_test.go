package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// A steady demand gives the cycle of [System.At], from cut-in to cut-in.
func TestFollowSteady(t *testing.T) {
	s := System{Drawdown: 50e-3, Pump: 0.5e-3}
	for _, share := range []float64{0.01, 0.3, 0.5, 0.9} {
		q := s.Pump * FlowRate(share)
		c, err := s.At(q)
		require.NoError(t, err)
		got, err := s.Follow(Level{}, 0, []Draw{{For: 1000 * c.Period(), Demand: q}})
		require.NoError(t, err)
		assert.InDelta(t, 1000, got.Starts, 1)
		assert.InEpsilon(t, 1000*float64(c.On), float64(got.PumpTime), 1e-9)
		assert.InEpsilon(t, float64(c.On), float64(got.LongestOn), 1e-9)
		assert.InEpsilon(t, 1000*float64(c.Delivered()), float64(got.Drawn), 1e-9)
		assert.Zero(t, got.Unmet)
	}
}

// Power off in a full tank: nothing but the drawdown comes out before the pump
// starts.
func TestFollowPieces(t *testing.T) {
	s := System{Drawdown: 50e-3, Pump: 0.5e-3}
	full := Level{Stored: s.Drawdown}
	got, err := s.Follow(full, 0, []Draw{{For: 99, Demand: 0.5e-3}})
	require.NoError(t, err)
	assert.Zero(t, got.Starts)
	assert.InDelta(t, 0.5e-3, float64(got.End.Stored), 1e-12)

	// Twice the pump's flow: it starts after 50 s, and the tank's reserve of 20 L
	// lasts 40 s more; then half of the demand is unmet.
	got, err = s.Follow(full, 20e-3, []Draw{{For: 200, Demand: 1e-3}})
	require.NoError(t, err)
	assert.Equal(t, 1, got.Starts)
	assert.InDelta(t, 150, float64(got.PumpTime), 1e-9)
	assert.InDelta(t, 110*0.5e-3, float64(got.Unmet), 1e-12)
	assert.InDelta(t, 0.2-110*0.5e-3, float64(got.Drawn), 1e-12)
	assert.InDelta(t, -20e-3, float64(got.Least), 1e-15)
	assert.True(t, got.End.Running)

	// Nobody draws: a pump that runs fills the tank and stops.
	got, err = s.Follow(Level{Running: true}, 0, []Draw{{For: 3600}})
	require.NoError(t, err)
	assert.InDelta(t, 100, float64(got.PumpTime), 1e-9)
	assert.False(t, got.End.Running)
}

// Water is neither made nor lost, and where pieces end makes no difference.
func FuzzFollow(f *testing.F) {
	f.Add(0.05, 0.0005, 0.01, 0.0002, 3000.0, 0.0009, 400.0, 0.3)
	f.Add(0.2, 0.001, 0.0, 0.0009, 86400.0, 0.0, 10.0, 0.9)
	f.Fuzz(func(t *testing.T, vd, pump, reserve, q1, t1, q2, t2, share float64) {
		s := System{Drawdown: unit.Volume(vd), Pump: FlowRate(pump)}
		draws := []Draw{{For: unit.Time(t1), Demand: FlowRate(q1)}, {For: unit.Time(t2), Demand: FlowRate(q2)}, {For: 500, Demand: FlowRate(q1)}}
		from := Level{Stored: unit.Volume(vd * share)}
		got, err := s.Follow(from, unit.Volume(reserve), draws)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		if !(share >= 0 && share <= 1) || vd < 1e-4 {
			t.Skip()
		}
		asked := q1*t1 + q2*t2 + q1*500
		scale := asked + vd + pump*float64(got.PumpTime)
		assert.InDelta(t, asked, float64(got.Drawn+got.Unmet), 1e-9*scale)
		assert.InDelta(t, float64(from.Stored)+pump*float64(got.PumpTime), float64(got.Drawn+got.End.Stored), 1e-9*scale)
		assert.LessOrEqual(t, float64(got.Least), float64(from.Stored))
		assert.GreaterOrEqual(t, float64(got.Least), -reserve)

		cut := t1 * (0.1 + 0.8*math.Abs(math.Remainder(share, 1)))
		split := append([]Draw{{For: unit.Time(cut), Demand: FlowRate(q1)}, {For: unit.Time(t1 - cut), Demand: FlowRate(q1)}}, draws[1:]...)
		other, err := s.Follow(from, unit.Volume(reserve), split)
		require.NoError(t, err)
		assert.InDelta(t, float64(got.PumpTime), float64(other.PumpTime), 1e-6*scale/pump)
		assert.InDelta(t, float64(got.Drawn), float64(other.Drawn), 1e-9*scale)
		assert.InDelta(t, float64(got.Starts), float64(other.Starts), 1, "a start at the very end may fall either way")
	})
}

func TestFollowBounds(t *testing.T) {
	s := System{Drawdown: 50e-3, Pump: 0.5e-3}
	for _, x := range []float64{math.NaN(), math.Inf(1), -1, 1e300} {
		_, err := s.Follow(Level{}, unit.Volume(x), nil)
		require.ErrorIs(t, err, ErrDomain)
		_, err = s.Follow(Level{Stored: unit.Volume(x)}, 0, nil)
		require.ErrorIs(t, err, ErrDomain)
		_, err = s.Follow(Level{}, 0, []Draw{{For: unit.Time(x)}})
		require.ErrorIs(t, err, ErrDomain)
		_, err = s.Follow(Level{}, 0, []Draw{{For: 1, Demand: FlowRate(x)}})
		require.ErrorIs(t, err, ErrDomain)
		_, err = System{Drawdown: unit.Volume(x), Pump: 0.5e-3}.Follow(Level{}, 0, nil)
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err := s.Follow(Level{}, 0, make([]Draw, mostDraws+1))
	require.ErrorIs(t, err, ErrDomain)
}

// Millions of cycles cost what their pieces cost.
func BenchmarkFollow(b *testing.B) {
	s := System{Drawdown: 1e-6, Pump: 0.5e-3}
	day := make([]Draw, 24)
	for h := range day {
		day[h] = Draw{For: Hour, Demand: FlowRate(float64(h+1) * 1e-5)}
	}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			got, err := s.Follow(Level{}, 0, day)
			if err != nil {
				b.Fatal(err)
			}
			sink = float64(got.PumpTime)
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			on := 0.0
			for _, d := range day {
				on += 3600 * float64(d.Demand) / 0.5e-3
			}
			sink = on
		}
	})
}
