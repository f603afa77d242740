package numeric

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"ridethrough.example/internal/reftest"
)

func TestLambertW(t *testing.T) {
	for _, row := range reftest.Rows(t, "numeric/lambertw.csv") {
		x, within := row.Float("x"), 1e-15
		if x < -0.36 {
			within = 1e-13 // the branch point makes much of the last bit of x
		}
		if x < -0.3678 {
			within = 1e-9
		}
		row.Within("w", LambertW(x), within, "relative, to the last bits of a float64; near the branch point to what the rounding of x leaves")
	}
}

func TestLambertWIdentities(t *testing.T) {
	assert.Zero(t, LambertW(0))
	assert.True(t, math.Signbit(LambertW(math.Copysign(0, -1))))
	assert.True(t, math.IsInf(LambertW(math.Inf(1)), 1))
	for _, x := range []float64{math.NaN(), math.Inf(-1), -1, -0.36788, math.Nextafter(-1/math.E, -1)} {
		assert.True(t, math.IsNaN(LambertW(x)), x)
	}
	assert.InDelta(t, -1, LambertW(-1/math.E), 1e-8)
	assert.InDelta(t, 1, LambertW(math.E), 1e-15)
	assert.InDelta(t, -math.Ln2, LambertW(-math.Ln2/2), 1e-15)
	for w := -0.99; w < 600; w += 0.0137 * (1 + math.Abs(w)) {
		tol := 1e-14 * (1 + 1/(1+w)) // conditioning near the branch point
		assert.InDelta(t, w, LambertW(w*math.Exp(w)), tol*(1+math.Abs(w))/min(1, 1+w), w)
	}
	// ln W = ln x - W, for x beyond what e^W can hold.
	for _, x := range []float64{1e-300, 5e-324, 1, 1e10, 1e308, math.MaxFloat64} {
		w := LambertW(x)
		assert.InDelta(t, math.Log(x)-w, math.Log(w), 1e-13*math.Max(1, math.Abs(math.Log(x))), x)
	}
}

// W takes w·e^w back to w, and rises.
func FuzzLambertW(f *testing.F) {
	f.Add(0.5)
	f.Add(-0.36)
	f.Add(1e200)
	f.Fuzz(func(t *testing.T, x float64) {
		w := LambertW(x)
		switch {
		case math.IsNaN(x) || x < -1/math.E:
			if !math.IsNaN(w) {
				t.Errorf("W(%v) = %v", x, w)
			}
			return
		case math.IsInf(x, 1):
			return
		}
		if !(w >= -1 && w <= math.Max(0, x)) {
			t.Errorf("W(%v) = %v", x, w)
		}
		if w < 700 && math.Abs(w*math.Exp(w)-x) > 1e-13*(math.Abs(x)+1e-300)*(1+math.Abs(w)) {
			t.Errorf("W(%v) = %v, back %v", x, w, w*math.Exp(w))
		}
		if up := LambertW(x + 1e-6*(1+math.Abs(x))); !(up > w) {
			t.Errorf("W falls from %v to %v at %v", w, up, x)
		}
	})
}

func BenchmarkLambertW(b *testing.B) {
	x := 0.1
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			x = 0.1 + LambertW(x)
		}
	})
	b.Run("bare", func(b *testing.B) {
		for b.Loop() {
			w := math.Log1p(x)
			w *= 1 - math.Log1p(w)/(2+w)
			for range 2 { // Newton on w·e^w = x
				e := math.Exp(w)
				w -= (w*e - x) / (e * (1 + w))
			}
			x = 0.1 + w
		}
	})
}
