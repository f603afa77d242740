package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

// balanced reads a row of split.csv as the loads of a lossless balancer.
func balanced(t *testing.T, r reftest.Row) BalancerUse {
	t.Helper()
	u, err := Balancer{Leg: 120, Rating: 2400}.Balance(SplitLoads{
		va(r.Param("L1", "VA"), r.Param("pf1", "")), va(r.Param("L2", "VA"), r.Param("pf2", "")), va(r.Param("across", "VA"), r.Param("pf", "")),
	})
	require.NoError(t, err)
	return u
}

func TestBalancer(t *testing.T) {
	b := Balancer{Leg: 120, Rating: 2400, Loss: 0.02, Inrush: 10}
	idle, err := b.Balance(SplitLoads{})
	require.NoError(t, err)
	assert.InDelta(t, 48, float64(idle.Standing), 1e-12)
	assert.InDelta(t, 48, float64(idle.Taken.Real), 1e-12)
	assert.InDelta(t, 10*math.Sqrt2*10, float64(idle.Inrush), 1e-9, "ten times the crest of 10 A at 240 V")
	assert.Zero(t, idle.Share)

	// Even legs pass nothing through it.
	even, err := b.Balance(SplitLoads{L1: va(1000, 0.7), L2: va(1000, 0.7)})
	require.NoError(t, err)
	assert.Zero(t, even.Neutral)
	over, err := b.Balance(SplitLoads{L1: va(3000, 1)})
	require.NoError(t, err)
	assert.InDelta(t, 1.25, over.Share, 1e-12)

	for words, change := range map[string]func(*Balancer){
		"leg voltage":   func(b *Balancer) { b.Leg = 240 },
		"rating":        func(b *Balancer) { b.Rating = 0 },
		"standing loss": func(b *Balancer) { b.Loss = math.NaN() },
		"inrush":        func(b *Balancer) { b.Inrush = -1 },
	} {
		bad := b
		change(&bad)
		domainError(t, bad.Validate(), words)
		_, err := bad.Balance(SplitLoads{})
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err = b.Balance(SplitLoads{L1: PowerTriangle{Real: -1}})
	domainError(t, err, "load of L1")
}

// The source gives what the loads and the iron take, and its two lines carry the
// same.
func FuzzBalancer(f *testing.F) {
	f.Add(1000.0, 0.8, 300.0, 1.0, 2000.0, 0.6)
	f.Fuzz(func(t *testing.T, s1, pf1, s2, pf2, s3, pf3 float64) {
		for _, pf := range []float64{pf1, pf2, pf3} {
			if !(pf >= 0.05 && pf <= 1) {
				return
			}
		}
		b := Balancer{Leg: 120, Rating: 5000, Loss: 0.01}
		l := SplitLoads{va(s1, pf1), va(s2, pf2), va(s3, pf3)}
		u, err := b.Balance(l)
		if err != nil {
			return
		}
		sum := float64(l.L1.Real + l.L2.Real + l.Across.Real + u.Standing)
		assert.InDelta(t, sum, float64(u.Taken.Real), 1e-9*(1+sum))
		// The winding's two halves bring the neutral's current in balance.
		assert.InDelta(t, float64(u.Neutral), 2*float64(u.Winding), 1e-9)
		// No less than the pair's mean leg.
		assert.GreaterOrEqual(t, float64(u.Source)*240*(1+1e-12), sum)
	})
}
