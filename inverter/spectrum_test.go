package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// sampled returns n samples of c cycles of a function of the angle, taken in
// the middle of each interval, so that none falls on a step.
func sampled(n, c int, f func(x float64) float64) []unit.Voltage {
	v := make([]unit.Voltage, n)
	for k := range v {
		v[k] = unit.Voltage(f(2 * math.Pi * float64(c) * (float64(k) + 0.5) / float64(n)))
	}
	return v
}

// at is the stepped wave at an angle.
func (w SteppedWave) at(x float64) float64 {
	a := float64(w.Zero)
	switch y := math.Mod(x, 2*math.Pi); {
	case y > a && y < math.Pi-a:
		return float64(w.Peak)
	case y > math.Pi+a && y < 2*math.Pi-a:
		return -float64(w.Peak)
	}
	return 0
}

// A stepped wave sampled on the grid of its own steps beside the closed form:
// rms, mean and peak exactly, each harmonic larger by x/sin x.
func TestAnalyzeSteppedWave(t *testing.T) {
	for _, alpha := range []unit.Angle{0, 15, 30, 45, 60} {
		for _, cycles := range []int{1, 4} {
			w := SteppedWave{170, alpha * Degree}
			const perCycle = 720
			f, s, err := Analyze(sampled(perCycle*cycles, cycles, w.at), cycles)
			require.NoError(t, err)
			want := w.figures()
			closeTo(t, float64(want.Peak), float64(f.Peak), 1e-15)
			closeTo(t, float64(want.RMS), float64(f.RMS), 1e-12)
			closeTo(t, float64(want.Rectified), float64(f.Rectified), 1e-12)
			closeTo(t, float64(want.Average), float64(f.Average), 1e-12)
			closeTo(t, want.Crest, f.Crest, 1e-12)
			closeTo(t, want.THD, f.THD, 1e-4)
			require.Len(t, s, perCycle/2)
			for n := 1; n < len(s); n++ {
				x := math.Pi * float64(n) / perCycle
				require.InDelta(t, math.Abs(w.harmonic(n))*x/math.Sin(x), float64(s[n]), 1e-10, "n=%d", n)
			}
			thd, err := s.THD()
			require.NoError(t, err)
			assert.InEpsilon(t, f.THD, thd, 1e-9)
			rms, err := s.RMS()
			require.NoError(t, err)
			assert.InEpsilon(t, float64(f.RMS), float64(rms), 1e-9)
		}
	}
}

// A sine has no harmonics; both kinds of meter agree on it.
func TestAnalyzeSine(t *testing.T) {
	f, s, err := Analyze(sampled(256, 2, func(x float64) float64 { return 170 * math.Sin(x+0.3) }), 2)
	require.NoError(t, err)
	closeTo(t, 170/math.Sqrt2, float64(f.RMS), 1e-12)
	closeTo(t, 170/math.Sqrt2, float64(f.Average), 1e-3)
	closeTo(t, 170, float64(s[1]), 1e-12)
	assert.InDelta(t, math.Sqrt2, f.Crest, 1e-3)
	assert.InDelta(t, 0, f.THD, 1e-7)
	hvf, err := s.HVFSinglePhase()
	require.NoError(t, err)
	assert.InDelta(t, 0, hvf, 1e-12)
}

// What a wave is made of comes back, the direct part and even orders too.
func TestAnalyzeRoundTrip(t *testing.T) {
	amplitude := Spectrum{4, 160, 3, 25, 0, 12, 0.5}
	f, s, err := Analyze(sampled(360, 3, func(x float64) float64 {
		v := 4.0
		for n := 1; n < len(amplitude); n++ {
			v += float64(amplitude[n]) * math.Sin(float64(n)*x+float64(n*n))
		}
		return v
	}), 3)
	require.NoError(t, err)
	for n, want := range amplitude {
		require.InDelta(t, float64(want), float64(s[n]), 1e-10)
	}
	thd, err := amplitude.THD()
	require.NoError(t, err)
	closeTo(t, math.Sqrt(9+625+144+0.25)/160, thd, 1e-12)
	closeTo(t, thd, f.THD, 1e-9)
	rms, err := amplitude.RMS()
	require.NoError(t, err)
	closeTo(t, float64(rms), float64(f.RMS), 1e-12)
}

func TestSpectrumBounds(t *testing.T) {
	for _, s := range []Spectrum{nil, {1}, {0, unit.Voltage(math.NaN())}, {0, unit.Voltage(math.Inf(1))}, {0, 1, 2001}} {
		require.ErrorIs(t, s.Validate(), ErrDomain)
		_, err := s.RMS()
		require.ErrorIs(t, err, ErrDomain)
		_, err = s.THD()
		require.ErrorIs(t, err, ErrDomain)
		_, err = s.HVF()
		require.ErrorIs(t, err, ErrDomain)
		_, err = s.Sum(func(int) float64 { return 1 })
		require.ErrorIs(t, err, ErrDomain)
		_, err = s.Load(func(int) complex128 { return 1 })
		require.ErrorIs(t, err, ErrDomain)
	}
	for _, s := range []Spectrum{{0, 0}, {12, 0.001}, {0, 0.01, 100}} {
		require.ErrorIs(t, s.Validate(), ErrNoFundamental)
	}
	_, err := Spectrum{0, 1}.Sum(func(int) float64 { return math.NaN() })
	domainError(t, err, "sum")
	for _, n := range []int{0, 7, 16385} {
		_, _, err := Analyze(make([]unit.Voltage, n), 1)
		domainError(t, err, "number of samples")
	}
	for _, c := range []int{-1, 0, 3} {
		_, _, err := Analyze(make([]unit.Voltage, 16), c)
		domainError(t, err, "number of cycles")
	}
	_, _, err = Analyze(make([]unit.Voltage, 16), 1)
	require.ErrorIs(t, err, ErrNoFundamental)
	for _, x := range []float64{math.NaN(), math.Inf(-1), 2001} {
		v := sampled(16, 1, math.Sin)
		v[3] = unit.Voltage(x)
		_, _, err = Analyze(v, 1)
		domainError(t, err, "sample 3")
	}
	// Two cycles counted as one have no first harmonic.
	_, _, err = Analyze(sampled(64, 2, math.Sin), 1)
	require.ErrorIs(t, err, ErrNoFundamental)
}

// FuzzAnalyze: whatever two harmonics a wave has, they come back, and the meters
// read in the order that the definition asks.
func FuzzAnalyze(f *testing.F) {
	f.Add(false, 0.9, 0.2, 0.3, 0.1)
	f.Add(true, math.NaN(), 3.0, 1.0, 0.0)
	f.Add(true, 2001.0, 3.0, 1.0, 0.0)
	f.Add(true, 1e-9, 3.0, 1.0, 0.0)
	seeds(f, 100, 4)
	f.Fuzz(func(t *testing.T, raw bool, one, order, share, phase float64) {
		one = fold(raw, one, 1, 400)
		n := 2 + int(fold(false, order, 0, 20))
		share = fold(raw, share, 0, 1)
		phase = fold(raw, phase, 0, 2*math.Pi)
		g, s, err := Analyze(sampled(90, 1, func(x float64) float64 {
			return one * (math.Sin(x) + share*math.Sin(float64(n)*x+phase))
		}), 1)
		if err != nil {
			require.True(t, raw)
			return
		}
		if math.IsInf(share, 0) || math.Abs(share) > 100 {
			return
		}
		require.InDelta(t, math.Abs(one), float64(s[1]), 1e-8*math.Abs(one)*(1+math.Abs(share)))
		require.InDelta(t, math.Abs(one*share), float64(s[n]), 1e-8*math.Abs(one)*(1+math.Abs(share)))
		require.InDelta(t, math.Abs(share), g.THD, 1e-6*(1+math.Abs(share)))
		require.LessOrEqual(t, float64(g.Rectified), float64(g.RMS)*(1+1e-12))
		require.LessOrEqual(t, float64(g.RMS), float64(g.Peak)*(1+1e-12))
	})
}

// A fundamental whose squares vanish gave a power factor of NaN, and a missing
// function a panic.
func TestSpectrumOfNothing(t *testing.T) {
	ohm := func(int) complex128 { return 1 }
	for _, v := range []unit.Voltage{0, 1e-200, 1e-9} {
		_, err := Spectrum{0, v}.Load(ohm)
		require.ErrorIs(t, err, ErrNoFundamental, v)
	}
	l, err := Spectrum{0, 1e-8}.Load(func(int) complex128 { return 1e12 })
	require.NoError(t, err)
	assert.InDelta(t, 1, l.PowerFactor, 1e-12)
	_, err = Spectrum{0, 1}.Load(nil)
	require.ErrorIs(t, err, ErrDomain)
	_, err = Spectrum{0, 1}.Sum(nil)
	require.ErrorIs(t, err, ErrDomain)
}
