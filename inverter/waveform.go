package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Degree is π/180 rad: 30*inverter.Degree.
const Degree = unit.Angle(math.Pi / 180)

// LowestTHD is the zero angle α at which a stepped wave has the least total
// harmonic distortion, 28.96 %: 23.218°, the root of (π - 2α)·tan α = 1.
//
// Source: derivative of the closed form of [SteppedWave.Figures].
const LowestTHD = unit.Angle(0.40523514158768537)

// A SteppedWave is the three-level output, +V, 0 and -V, that the trade calls
// modified sine. Each half cycle is 0 for α, V for π - 2α, and 0 for α again,
// so that the waves of all α are in phase. Books state the wave by three other
// angles, each with a function here: conduction δ = π - 2α ([Conducting]), the
// whole dwell at zero 2α ([Dwelling]) and duty D = δ/π ([WithDuty]).
type SteppedWave struct {
	Peak unit.Voltage // V, 1 V to 1 kV
	Zero unit.Angle   // α at each end of a half cycle (rad), 0 to 89.1°; 0 is a square wave
}

const (
	leastDuty = 0.01
	mostZero  = math.Pi / 2 * (1 - leastDuty)
	leastPeak = 1
)

var degrees = domain.Unit{Symbol: "°", Size: float64(Degree), Base: "rad"}

// Conducting returns the wave that is not at zero for δ of each half cycle,
// 1.8° to 180°: α = (π - δ)/2.
//
// Definition: conduction angle.
func Conducting(peak unit.Voltage, delta unit.Angle) (SteppedWave, error) {
	return made(peak, (math.Pi-delta)/2)
}

// Dwelling returns the wave that is at zero for 2α between one pulse and the
// next, 0 to 178.2°: α is half of it.
//
// Definition: zero dwell.
func Dwelling(peak unit.Voltage, dwell unit.Angle) (SteppedWave, error) {
	return made(peak, dwell/2)
}

// WithDuty returns the wave that is not at zero for the share D of the time,
// 0.01 to 1: α = (1 - D)·π/2.
//
// Definition: duty.
func WithDuty(peak unit.Voltage, duty float64) (SteppedWave, error) {
	if err := pkg.Range("duty", duty, leastDuty, 1, domain.One); err != nil {
		return SteppedWave{}, errors.Join(err, checkPeak(peak))
	}
	// The rounding of 1 - 0.01 is not the caller's.
	return made(peak, unit.Angle(min(mostZero, math.Pi/2*(1-duty))))
}

func made(peak unit.Voltage, zero unit.Angle) (SteppedWave, error) {
	w := SteppedWave{peak, zero}
	if err := w.Validate(); err != nil {
		return SteppedWave{}, err
	}
	return w, nil
}

func checkPeak(peak unit.Voltage) error {
	return pkg.Range("peak voltage", float64(peak), leastPeak, mostVolt, domain.Volt)
}

// ok is Validate without the words, for the hot path.
func (w SteppedWave) ok() bool {
	return w.Peak >= leastPeak && w.Peak <= mostVolt && w.Zero >= 0 && w.Zero <= mostZero
}

// Validate returns nil if both fields are in range, and otherwise an error that
// names each fault.
//
// Definition: the ranges stand beside the fields.
func (w SteppedWave) Validate() error {
	if w.ok() {
		return nil
	}
	return errors.Join(checkPeak(w.Peak), pkg.Range("zero angle", float64(w.Zero), 0, mostZero, degrees))
}

// Duty returns the share of the time in which the wave is not at zero,
//
//	D = 1 - 2α/π
//
// Definition: duty.
func (w SteppedWave) Duty() (float64, error) {
	if !w.ok() {
		return 0, w.Validate()
	}
	return w.duty(), nil
}

func (w SteppedWave) duty() float64 { return 1 - 2*float64(w.Zero)/math.Pi }

// WaveFigures are what meters and motors see of a voltage.
type WaveFigures struct {
	Peak        unit.Voltage // greatest instantaneous value
	RMS         unit.Voltage // what a true-rms meter shows, and what a heater feels
	Rectified   unit.Voltage // mean of the absolute value
	Average     unit.Voltage // shown by a meter that takes the mean and is scaled for sine, π/(2√2) times it
	Fundamental unit.Voltage // rms of the first harmonic, which turns a motor
	THD         float64      // total harmonic distortion: rms of all the rest over the fundamental
	Crest       float64      // peak over rms; √2 for a sine
}

// sineForm is rms over rectified mean of a sine, π/(2√2) = 1.1107.
const sineForm = math.Pi / (2 * math.Sqrt2)

// Figures returns the wave's figures in closed form, all harmonics counted,
//
//	D = 1 - 2α/π,  V_rms = V·√D,  V_mean = V·D
//	V_1 = (2√2/π)·V·cos α,  THD² = (π²/8)·D/cos²α - 1
//
// for the peak V (V). A meter that stops at the order n shows less distortion:
// [SteppedWave.THDTo].
//
// Source: Fourier series of the wave, as in Mohan, Undeland and Robbins, Power
// Electronics.
func (w SteppedWave) Figures() (WaveFigures, error) {
	if !w.ok() {
		return WaveFigures{}, w.Validate()
	}
	return w.figures(), nil
}

func (w SteppedWave) figures() WaveFigures {
	v, d, c := w.Peak, w.duty(), math.Cos(float64(w.Zero))
	rms := unit.Voltage(math.Sqrt(d))
	return WaveFigures{
		Peak: v, RMS: v * rms, Rectified: v * unit.Voltage(d), Average: v * unit.Voltage(sineForm*d),
		Fundamental: v * unit.Voltage(2*math.Sqrt2/math.Pi*c),
		THD:         math.Sqrt(max(0, math.Pi*math.Pi/8*d/(c*c)-1)),
		Crest:       1 / float64(rms),
	}
}

// TrueRMS returns the rms of this shape of wave, of whatever peak, from what an
// average-responding meter shows of it,
//
//	V_rms = reading/(1.1107·√D)
//
// and likewise for a current of that shape, such as a heater's. Valid for 0.1 V
// to 1 kV; the wave's own peak counts for nothing.
//
// Source: ratio of rms to rectified mean of the wave and of a sine.
func (w SteppedWave) TrueRMS(reading unit.Voltage) (unit.Voltage, error) {
	w.Peak = leastPeak
	if err := errors.Join(w.Validate(), pkg.Range("reading", float64(reading), 0.1, mostVolt, domain.Volt)); err != nil {
		return 0, err
	}
	return reading / unit.Voltage(sineForm*math.Sqrt(w.duty())), nil
}

// A HeldWave is what an inverter that regulates its rms makes of the peak that
// the dc side leaves it.
type HeldWave struct {
	Wave    SteppedWave // at that peak
	Figures WaveFigures // of that wave: RMS is what is left where it is not held
	Held    bool        // false where the peak is below the rms asked for
	Torque  float64     // of an induction motor, over that on a sine of the rms asked for, about (V_1/V_rms)²
}

// HoldRMS returns the wave of an inverter that holds the rms V_rms (V) by its
// duty while its peak V_pk (V) follows the dc side,
//
//	D = (V_rms/V_pk)²
//
// Below V_pk = V_rms even a square wave is not enough: the rms is V_pk and
// falls with the battery, and Held is false. The rms that is held says little
// about torque, which follows the fundamental: at 170 V and 120 V it is 108 V.
// Valid for peaks of 1 V to 1 kV and an rms of a tenth of the peak to 1 kV.
//
// Source: rms of the wave of [SteppedWave.Figures].
func HoldRMS(peak, rms unit.Voltage) (HeldWave, error) {
	err := checkPeak(peak)
	if err == nil {
		err = pkg.Range("rms voltage", float64(rms), math.Sqrt(leastDuty)*float64(peak), mostVolt, domain.Volt)
	}
	if err != nil {
		return HeldWave{}, err
	}
	h := HeldWave{Wave: SteppedWave{Peak: peak}, Held: peak >= rms}
	if h.Held {
		r := float64(rms / peak)
		h.Wave.Zero = unit.Angle(min(mostZero, math.Pi/2*(1-r*r)))
	}
	h.Figures = h.Wave.figures()
	k := float64(h.Figures.Fundamental / rms)
	h.Torque = k * k
	return h, nil
}
