package inverter

import (
	"errors"
	"math"
	"math/cmplx"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ErrNoFundamental says that a voltage has no first harmonic to which the others
// could be compared: it is dc, or counted over a wrong number of cycles.
var ErrNoFundamental = errors.New("inverter: the voltage has no fundamental")

// A Spectrum is a periodic voltage by its harmonics: at index n the amplitude
// (V), peak and not rms, of order n, and at index 0 the direct part. Signs do
// not matter to anything here.
type Spectrum []unit.Voltage

// leastShare of the rms that the fundamental of an alternating voltage has, and
// the least of it (V): below, squares of currents would be too small for a
// float64.
const leastShare, leastFirst = 1e-3, 1e-9

// Validate returns nil for a spectrum whose amplitudes are within ±2 kV and
// whose fundamental is at least a thousandth of the rms, and 1 nV; without one
// err is [ErrNoFundamental].
//
// Definition: distortion is stated over the fundamental.
func (s Spectrum) Validate() error {
	if err := checkOrder("number of harmonics", len(s)-1, 1, mostOrder); err != nil {
		return err
	}
	for _, v := range s {
		if !(v >= -2*mostVolt && v <= 2*mostVolt) {
			return pkg.Range("amplitude", float64(v), -2*mostVolt, 2*mostVolt, domain.Volt)
		}
	}
	if v := math.Abs(float64(s[1])) / math.Sqrt2; v < leastFirst || v < leastShare*float64(s.rms()) {
		return ErrNoFundamental
	}
	return nil
}

// rms is √(V_0² + Σ V_n²/2).
func (s Spectrum) rms() unit.Voltage {
	return unit.Voltage(math.Sqrt(float64(s[0]*s[0]) + s.sum(1, func(int) float64 { return 1 })))
}

// sum is Σ g(n)·V_n² over orders from the first one on, V_n rms.
func (s Spectrum) sum(from int, g func(n int) float64) float64 {
	total := 0.0
	for n := from; n < len(s); n++ {
		if v := float64(s[n]); v != 0 {
			total += g(n) * v * v / 2
		}
	}
	return total
}

// RMS returns √(V_0² + Σ V_n²) (V), the V_n being rms, of the orders that the
// spectrum has.
//
// Source: Parseval's theorem.
func (s Spectrum) RMS() (unit.Voltage, error) {
	if err := s.Validate(); err != nil {
		return 0, err
	}
	return s.rms(), nil
}

// THD returns √(V_2² + V_3² + …)/V_1 of the orders that the spectrum has.
//
// Definition: total harmonic distortion over the fundamental, IEC 61000-4-7.
func (s Spectrum) THD() (float64, error) {
	if err := s.Validate(); err != nil {
		return 0, err
	}
	return s.thd(), nil
}

func (s Spectrum) thd() float64 {
	return math.Sqrt(2*s.sum(2, func(int) float64 { return 1 })) / math.Abs(float64(s[1]))
}

// Sum returns Σ g(n)·V_n², n from 1 on and V_n rms (V): anything that a linear
// load has in proportion to the square of each harmonic alone, g being how much
// of it a volt brings: loss in a winding, mean torque, or 1/|Z_n|² for the
// square of a current.
//
// Source: superposition; the mean of a product of two orders is 0.
func (s Spectrum) Sum(g func(order int) float64) (float64, error) {
	if err := s.Validate(); err != nil {
		return 0, err
	}
	if g == nil {
		return 0, pkg.Invalid("weight of the orders", "nil", "a function")
	}
	return finite("sum", s.sum(1, g))
}

// Ramped returns the spectrum with each step of the voltage drawn out to a ramp
// that lasts t (s), centred on the step, at the fundamental frequency f (Hz),
//
//	V_n·sin(x)/x,  x = π·n·f·t
//
// which is what ends the sum of a capacitor's currents where nothing is in
// series with it. Valid for 0 to 1 ms and 40 to 70 Hz; a ramp must be over before
// the next step begins.
//
// Source: Fourier transform of a ramp; a step convolved with a pulse.
func (s Spectrum) Ramped(t unit.Time, f unit.Frequency) (Spectrum, error) {
	err := errors.Join(s.Validate(), pkg.Range("rise time", float64(t), 0, 1e-3, domain.Second), lineFrequency(f))
	if err != nil {
		return nil, err
	}
	r := slices.Clone(s)
	for n := 1; n < len(r); n++ {
		if x := math.Pi * float64(n) * float64(f) * float64(t); x > 0 {
			r[n] *= unit.Voltage(math.Sin(x) / x)
		}
	}
	return r, nil
}

// finite refuses what a caller's function made of it.
func finite(name string, x float64) (float64, error) {
	if err := pkg.Range(name, x, -math.MaxFloat64, math.MaxFloat64, domain.One); err != nil {
		return 0, err
	}
	return x, nil
}

// Analyze returns figures and harmonics of a voltage from N samples, evenly
// spaced over a whole number of cycles,
//
//	V_n = (2/N)·|Σ v_k·exp(-2πi·n·c·k/N)|
//
// where c is the number of cycles. The harmonics end below half of the N/c
// samples of a cycle. A step between two samples is not caught better than by
// its sampling: the harmonics of a stepped wave come out too large by
// x/sin x, x = π·n·c/N.
//
// Samples over a part of a cycle leak into each other, which nothing here can
// see. Valid for 8 to 16384 samples within ±2 kV, at least 8 a cycle; without a
// fundamental err is [ErrNoFundamental].
//
// Source: discrete Fourier transform; Parseval's theorem.
func Analyze(samples []unit.Voltage, cycles int) (WaveFigures, Spectrum, error) {
	n := len(samples)
	err := checkOrder("number of samples", n, 8, 16384)
	if err == nil {
		err = checkOrder("number of cycles", cycles, 1, n/8)
	}
	if err != nil {
		return WaveFigures{}, nil, err
	}
	x := make([]float64, n)
	var f WaveFigures
	square := 0.0
	for k, v := range samples {
		if !(v >= -2*mostVolt && v <= 2*mostVolt) {
			return WaveFigures{}, nil, pkg.Range("sample "+unitless(k), float64(v), -2*mostVolt, 2*mostVolt, domain.Volt)
		}
		x[k] = float64(v)
		a := math.Abs(x[k])
		f.Peak = max(f.Peak, unit.Voltage(a))
		f.Rectified += unit.Voltage(a / float64(n))
		square += a * a / float64(n)
	}
	c := fourier.NewFFT(n).Coefficients(nil, x)
	s := make(Spectrum, (n-1)/(2*cycles)+1)
	s[0] = unit.Voltage(real(c[0]) / float64(n))
	for k := 1; k < len(s); k++ {
		s[k] = unit.Voltage(2 * cmplx.Abs(c[k*cycles]) / float64(n))
	}
	if err := s.Validate(); err != nil {
		return WaveFigures{}, nil, err
	}
	f.RMS = unit.Voltage(math.Sqrt(square))
	f.Average = sineForm * f.Rectified
	f.Fundamental = s[1] / math.Sqrt2
	f.Crest = float64(f.Peak / f.RMS)
	// From the samples themselves, so that what lies between the orders counts.
	rest := square - float64(s[0]*s[0]) - float64(f.Fundamental*f.Fundamental)
	f.THD = math.Sqrt(max(0, rest)) / float64(f.Fundamental)
	return f, s, nil
}

func unitless(n int) string { return strconv.Itoa(n) }
