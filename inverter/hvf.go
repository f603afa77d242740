package inverter

import (
	"math"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// hvfOrders is the order to which the sums over a stepped wave run: what is
// left beyond it is below 1e-8 of the factor.
const hvfOrders = 49999

// nema weighs the orders that count for a polyphase motor: odd and not divisible
// by three. Those divisible by three are in phase in its three lines and drive
// no current.
func nema(n int) float64 {
	if n < 5 || n%2 == 0 || n%3 == 0 {
		return 0
	}
	return 1 / float64(n)
}

// triplens weighs all odd orders.
func triplens(n int) float64 {
	if n < 3 || n%2 == 0 {
		return 0
	}
	return 1 / float64(n)
}

// HVF returns the harmonic voltage factor of a polyphase motor's supply,
//
//	HVF = √(Σ V_n²/n),  n = 5, 7, 11, 13 …
//
// where V_n is the voltage of order n over the fundamental, and n is odd and not
// divisible by three. A single-phase motor feels the third harmonic too:
// [Spectrum.HVFSinglePhase].
//
// Source: NEMA MG 1-2016, 30.1.2.1.
func (s Spectrum) HVF() (float64, error) { return s.factor(nema) }

// HVFSinglePhase returns the same sum over all odd orders from the third on,
// which for a stepped wave is up to several times as much. No standard knows it.
//
// Common practice: the definition of NEMA MG 1, 30.1.2.1, without its exception
// of orders divisible by three, whose reason is three phases.
func (s Spectrum) HVFSinglePhase() (float64, error) { return s.factor(triplens) }

func (s Spectrum) factor(g func(int) float64) (float64, error) {
	if err := s.Validate(); err != nil {
		return 0, err
	}
	return math.Sqrt(2*s.sum(1, g)) / math.Abs(float64(s[1])), nil
}

// HVF returns [Spectrum.HVF] of the wave with its harmonics to the order 49999.
// It does not tell a motor what a stepped wave does to it: the fundamental that
// is missing counts as much, see [Spectrum.Sum].
//
// Source: NEMA MG 1-2016, 30.1.2.1.
func (w SteppedWave) HVF() (float64, error) { return w.factor(nema) }

// HVFSinglePhase returns [Spectrum.HVFSinglePhase] of the wave with its harmonics
// to the order 49999.
//
// Common practice: as there.
func (w SteppedWave) HVFSinglePhase() (float64, error) { return w.factor(triplens) }

func (w SteppedWave) factor(g func(int) float64) (float64, error) {
	if !w.ok() {
		return 0, w.Validate()
	}
	return math.Sqrt(w.sum(hvfOrders, g)), nil
}

// The curve of NEMA MG 1, figure 30-1, as recalled, and how far off it may be.
var (
	hvfDerating = numeric.NewTable([]float64{0, 0.03, 0.06, 0.09, 0.12}, []float64{1, 1, 0.95, 0.86, 0.73})
	hvfDoubt    = numeric.NewTable([]float64{0, 0.03, 0.06, 0.09, 0.12}, []float64{0, 0.005, 0.02, 0.03, 0.05})
)

// HVFDerating returns the share of its rating that a polyphase motor may give
// at a harmonic voltage factor, with the doubt of the reading on both sides. The
// standard has a graph and no table; these points were recalled, and only the
// flat part to 0.03 is sure. It is no rule for single-phase motors. Between the
// points straight lines; refused outside 0 to 0.12.
//
// Source: NEMA MG 1-2016, figure 30-1, recalled.
func HVFDerating(hvf float64) (Range[float64], error) {
	k, ok := hvfDerating.At(hvf)
	d, _ := hvfDoubt.At(hvf)
	if !ok {
		lo, hi := hvfDerating.Bounds()
		return Range[float64]{}, pkg.Range("harmonic voltage factor", hvf, lo, hi, domain.One)
	}
	return Range[float64]{Low: k - d, High: min(1, k+d)}, nil
}
