package motor

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Nameplate holds what is printed on a motor, wired as it is used: of a
// dual-voltage plate the figures of one voltage. Voltage and Phases must be
// given; of the rest, zero means that it is not on the plate, and a question
// that needs it is answered with [ErrMissing].
type Nameplate struct {
	// Output is the rated shaft power, without the service factor (1/20 to
	// 500 hp). Zero: not on the plate, as on most appliances.
	Output unit.Power
	// Voltage is the rated line voltage (rms, line to line; 10 V to 15 kV).
	Voltage unit.Voltage
	// Phases is 1 or 3.
	Phases int
	// FullLoadCurrent is the line current at rated load. Zero: not on the plate.
	FullLoadCurrent unit.Current
	// ServiceFactorCurrent is the line current at rated load times the service
	// factor; pump plates call it SFA or maximum amperes. Zero: not on the plate.
	ServiceFactorCurrent unit.Current
	// LockedRotorCurrent is the line current with the rotor held at rated
	// voltage (LRA). Zero: not on the plate.
	LockedRotorCurrent unit.Current
	// ServiceFactor is the permitted multiple of the rated output (1 to 2).
	// Zero: not on the plate.
	ServiceFactor float64
	// Code is the locked-rotor code letter. Zero: not on the plate. It is not
	// the design letter, which some plates print near it.
	Code CodeLetter
	// Efficiency is shaft power over input power at rated load (0.05 to 0.99).
	// Zero: not on the plate.
	Efficiency float64
	// PowerFactor is real over apparent power at rated load (0.1 to 1).
	// Zero: not on the plate.
	PowerFactor float64
	// Type narrows the figures that the plate does not print. Zero: not known.
	Type Type
}

// Two figures of a plate, each rounded, are allowed to differ by this much.
//
// Common practice: NEMA MG 1 allows efficiency and current their own
// tolerances; no standard states one for the plate as a whole.
const (
	ratingTolerance = 0.15 // efficiency × power factor against output/(V·A)
	letterTolerance = 0.05 // locked-rotor current against the code letter
)

// Validate reports everything that is wrong with the plate: figures out of
// range (a bare 0.5 for 0.5 hp is half a watt) and figures that contradict
// each other, as [ContradictionError]:
//
//   - a service-factor current below the full-load current
//   - a locked-rotor current below a running current
//   - a locked-rotor current more than 5 % outside the code letter's range
//   - an output above the volt-amperes that the running current brings in
//   - efficiency × power factor off output/volt-amperes by more than 15 %, or
//     either of them alone below it by more than 15 %
//   - one phase with the type three-phase, or the reverse
//
// Ranges are those of the fields' comments, and 0.05 A to 20 kA.
//
// Common practice: the two tolerances. Definition: the rest; conservation of
// energy, and NEMA MG 1 10.37.2 for the letter.
func (n Nameplate) Validate() error { return validate(&n) }

// validate is Validate without the copy.
func validate(n *Nameplate) error {
	if !inRange(n) {
		return rangeFaults(n)
	}
	currents, letter, power, kind := checkCurrents(n), checkLetter(n), checkPower(n), checkType(n)
	if currents == nil && letter == nil && power == nil && kind == nil {
		return nil
	}
	return errors.Join(currents, letter, power, kind)
}

// inRange reports whether each figure by itself is plausible.
func inRange(n *Nameplate) bool {
	return goodVoltage(n.Voltage) && goodPhases(n.Phases) &&
		(n.Output == 0 || goodOutput(n.Output)) &&
		(n.FullLoadCurrent == 0 || goodCurrent(n.FullLoadCurrent)) &&
		(n.ServiceFactorCurrent == 0 || goodCurrent(n.ServiceFactorCurrent)) &&
		(n.LockedRotorCurrent == 0 || goodCurrent(n.LockedRotorCurrent)) &&
		(n.ServiceFactor == 0 || within(n.ServiceFactor, 1, greatestServiceFactor)) &&
		(n.Efficiency == 0 || goodEfficiency(n.Efficiency)) &&
		(n.PowerFactor == 0 || goodPowerFactor(n.PowerFactor)) &&
		(n.Code == 0 || n.Code.index() >= 0)
}

const greatestServiceFactor = 2

// rangeFaults says what inRange found.
func rangeFaults(n *Nameplate) error {
	err := errors.Join(checkVoltage(n.Voltage), checkPhases(n.Phases))
	if n.Output != 0 {
		err = errors.Join(err, checkOutput(n.Output))
	}
	if n.FullLoadCurrent != 0 {
		err = errors.Join(err, checkCurrent("full-load current", n.FullLoadCurrent))
	}
	if n.ServiceFactorCurrent != 0 {
		err = errors.Join(err, checkCurrent("service-factor current", n.ServiceFactorCurrent))
	}
	if n.LockedRotorCurrent != 0 {
		err = errors.Join(err, checkCurrent("locked-rotor current", n.LockedRotorCurrent))
	}
	if n.ServiceFactor != 0 {
		err = errors.Join(err, pkg.Range("service factor", n.ServiceFactor, 1, greatestServiceFactor, domain.One))
	}
	if n.Efficiency != 0 {
		err = errors.Join(err, checkEfficiency(n.Efficiency))
	}
	if n.PowerFactor != 0 {
		err = errors.Join(err, checkPowerFactor(n.PowerFactor))
	}
	if n.Code != 0 && n.Code.index() < 0 {
		err = errors.Join(err, badLetter(n.Code))
	}
	return err
}

func checkCurrents(n *Nameplate) error {
	if n.ServiceFactorCurrent != 0 && n.ServiceFactorCurrent < n.FullLoadCurrent {
		return contradiction("service-factor current %.4g is below full-load current %.4g", n.ServiceFactorCurrent, n.FullLoadCurrent)
	}
	if run := max(n.FullLoadCurrent, n.ServiceFactorCurrent); n.LockedRotorCurrent != 0 && n.LockedRotorCurrent < run {
		return contradiction("locked-rotor current %.4g is below running current %.4g", n.LockedRotorCurrent, run)
	}
	return nil
}

func checkLetter(n *Nameplate) error {
	i := n.Code.index()
	if i < 0 || n.LockedRotorCurrent == 0 || n.Output == 0 {
		return nil
	}
	k := float64(n.LockedRotorCurrent) / ampsPerKVAPerHP(n.Voltage, n.Phases, n.Output)
	if k >= codeFloor[i]*(1-letterTolerance) && k <= codeFloor[i+1]*(1+letterTolerance) {
		return nil
	}
	return contradiction("locked-rotor current %.4g is %.3g kVA/hp, letter %v, but the plate says %v", n.LockedRotorCurrent, k, letterOf(k), n.Code)
}

func checkPower(n *Nameplate) error {
	i, p := float64(n.FullLoadCurrent), float64(n.Output)
	if i == 0 {
		i, p = float64(n.ServiceFactorCurrent), p*max(n.ServiceFactor, 1)
	}
	if i == 0 || p == 0 {
		return nil
	}
	s := lineFactor(n.Phases) * float64(n.Voltage) * i
	ratio := p / s
	switch {
	case ratio >= 1:
		return contradiction("output %.4g is not below the %.4g that go in", unit.Power(p), ApparentPower(s))
	case n.Efficiency != 0 && n.Efficiency < ratio*(1-ratingTolerance):
		return contradiction("efficiency %.3g is below output/volt-amperes %.3g", n.Efficiency, ratio)
	case n.PowerFactor != 0 && n.PowerFactor < ratio*(1-ratingTolerance):
		return contradiction("power factor %.3g is below output/volt-amperes %.3g", n.PowerFactor, ratio)
	}
	product := n.Efficiency * n.PowerFactor
	if product == 0 || product >= ratio*(1-ratingTolerance) && product <= ratio*(1+ratingTolerance) {
		return nil
	}
	return contradiction("efficiency × power factor %.3g against output/volt-amperes %.3g", product, ratio)
}

func checkType(n *Nameplate) error {
	if t := n.Type.known(); t == UnknownType || (t == ThreePhase) == (n.Phases == 3) {
		return nil
	}
	return contradiction("type %v with %d phases", n.Type, n.Phases)
}

// contradiction is called where a contradiction was found, and only there:
// it allocates.
func contradiction(form string, args ...any) error {
	return &ContradictionError{What: fmt.Sprintf(form, args...)}
}

// LockedRotor returns the range of line current (A, rms) with the rotor held
// at rated voltage, from the plate alone: its locked-rotor amperes, or else
// the half-open range of its code letter,
//
//	I = 1000·k·P / (√m·V)
//
// with k the kVA/hp of n.Code, P = n.Output (hp), V = n.Voltage (V) and √m 1
// for one phase and √3 for three. For the letter V, High is +Inf; for A, Low
// is 0. The service factor does not enter. err is [ErrMissing] if the plate has neither, and
// what [Nameplate.Validate] says if the plate is faulty.
//
// Source: NEMA MG 1 10.37.2; NEC 430.7(B) and its table.
func (n Nameplate) LockedRotor() (Range[unit.Current], Basis, error) {
	if err := validate(&n); err != nil {
		return Range[unit.Current]{}, 0, err
	}
	if n.LockedRotorCurrent != 0 {
		return Exactly(n.LockedRotorCurrent), BasisNameplate, nil
	}
	return letterCurrent(&n)
}

// letterCurrent is the code letter's part of LockedRotor, on a valid plate.
func letterCurrent(n *Nameplate) (Range[unit.Current], Basis, error) {
	i := n.Code.index()
	if i < 0 {
		return Range[unit.Current]{}, 0, missing("locked-rotor current or code letter")
	}
	if n.Output == 0 {
		return Range[unit.Current]{}, 0, missing("rated output, which the code letter needs,")
	}
	perK := ampsPerKVAPerHP(n.Voltage, n.Phases, n.Output)
	return Range[unit.Current]{
		Low:  unit.Current(codeFloor[i] * perK),
		High: unit.Current(codeFloor[i+1] * perK),
	}, BasisCodeLetter, nil
}

// Rewired returns the plate of a dual-voltage motor connected for its other
// voltage: twice or half of n.Voltage, with the currents halved or doubled.
// The windings carry the same, so power, efficiency and letter stay. Any
// other voltage is an error that wraps [ErrDomain], as is a plate that
// [Nameplate.Validate] refuses.
//
// Definition: two equal winding halves in series or in parallel.
func (n Nameplate) Rewired(v unit.Voltage) (Nameplate, error) {
	if err := validate(&n); err != nil {
		return Nameplate{}, err
	}
	ratio := float64(v / n.Voltage)
	if !(ratio > 1.999999 && ratio < 2.000001 || ratio > 0.4999999 && ratio < 0.5000001) {
		return Nameplate{}, pkg.Invalid("other voltage of a dual-voltage motor", fmt.Sprintf("%.4g", v),
			fmt.Sprintf("%.4g or %.4g", n.Voltage/2, n.Voltage*2))
	}
	n.Voltage = v
	n.FullLoadCurrent /= unit.Current(ratio)
	n.ServiceFactorCurrent /= unit.Current(ratio)
	n.LockedRotorCurrent /= unit.Current(ratio)
	err := validate(&n)
	return n, err
}
