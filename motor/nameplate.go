package motor

import (
	"fmt"

	"gonum.org/v1/gonum/unit"
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

// LockedRotor returns the range of line current (A, rms) with the rotor held
// at rated voltage, from the plate alone: its locked-rotor amperes, or else
// the half-open range of its code letter,
//
//	I = 1000·k·P / (√m·V)
//
// with k the kVA/hp of n.Code, P = n.Output (hp), V = n.Voltage (V) and √m 1
// for one phase and √3 for three. For the letter V, High is +Inf; for A, Low
// is 0 as the code has it, which [Nameplate.Start] raises. The service factor
// does not enter. err is [ErrMissing] if the plate has neither, or a letter
// without the output that goes with it, and what [Nameplate.Validate] says if
// the plate is faulty.
//
// Source: NEMA MG 1 10.37.2; NEC 430.7(B) and its table.
func (n Nameplate) LockedRotor() (i Range[unit.Current], basis Basis, err error) {
	if err = validate(&n); err != nil {
		return i, 0, err
	}
	if n.LockedRotorCurrent != 0 {
		return Exactly(n.LockedRotorCurrent), BasisNameplate, nil
	}
	if n.Code == 0 || n.Output == 0 {
		return i, 0, noLetter(n.Code)
	}
	return letterCurrent(n.Code, n.Voltage, n.Phases, n.Output), BasisCodeLetter, nil
}

// letterCurrent is the range of the code letter of a valid plate that has one,
// and an output.
func letterCurrent(c CodeLetter, voltage unit.Voltage, phases int, output unit.Power) Range[unit.Current] {
	i, perK := c.index(), ampsPerKVAPerHP(voltage, phases, output)
	return Range[unit.Current]{Low: unit.Current(codeFloor[i] * perK), High: unit.Current(codeFloor[i+1] * perK)}
}

// noLetter says what letterCurrent lacks.
func noLetter(c CodeLetter) error {
	if c == 0 {
		return missing("locked-rotor current or code letter")
	}
	return missing("rated output, which the code letter needs,")
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
	if err := validate(&n); err != nil {
		return Nameplate{}, err
	}
	return n, nil
}
