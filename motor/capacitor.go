package motor

import (
	"errors"
	"math"
	"math/cmplx"
	"strconv"

	"gonum.org/v1/gonum/unit"
)

// A CapacitorRule says what a start capacitor is sized for.
type CapacitorRule byte

// The rules. They give different capacitors: that for quadrature is 8 to 47 %
// smaller than that for the most torque in the machines of textbooks.
const (
	// Quadrature sets the two winding currents at 90° to each other.
	Quadrature CapacitorRule = iota + 1
	// MostTorque gives the greatest starting torque there is.
	MostTorque
	// MostTorquePerAmpere gives the greatest starting torque per ampere of
	// line current, which a weak source wants.
	MostTorquePerAmpere
)

var capacitorRuleNames = [...]string{"unknown", "quadrature", "most torque", "most torque per ampere"}

// String returns the rule in words.
//
// Definition: quadrature, most torque, most torque per ampere.
func (r CapacitorRule) String() string {
	if int(r) < len(capacitorRuleNames) {
		return capacitorRuleNames[r]
	}
	return capacitorRuleNames[0]
}

// A StartCapacitor is what a rule asks for.
type StartCapacitor struct {
	Rule CapacitorRule
	// Missing says why no capacitor is asked for; [PartNeeded] where one is.
	Missing NoPart
	// Reactance is what the rule asks for in series (Ω); it is 0 or negative,
	// or next to 0, where no capacitor is needed.
	Reactance unit.Resistance
	// Capacitance is 1/(2π·f·Reactance) (F), 0 where none is needed.
	Capacitance unit.Capacitance
	// Voltage is what the capacitor stands at while the rotor is held (V,
	// rms), 0 where there is none. It can be above the line's, and it rises as
	// the motor gains speed.
	Voltage unit.Voltage
}

// mostFarads is the largest capacitance of a start circuit.
const mostFarads = 0.1

// StartCapacitor returns the capacitor in series with the auxiliary winding
// that the rule asks for,
//
//	quadrature               X_c = X_a + R_a·R_m/X_m
//	most torque              X_c = X_a + R_a·R_m/(X_m + |Z_m|)
//	most torque per ampere   X_c = X_a + (|Z_m|·√(R_a·(R_a + R_m)) − X_m·R_a)/R_m
//	                         or, where X_m² > 4·R_a·(R_a + R_m),
//	                         X_c = X_a + (X_m + √(X_m² − 4·R_a·(R_a + R_m)))/2
//	C = 1/(2π·f·X_c)         V_c = V·X_c/|R_a + j(X_a − X_c)|
//
// with Z_m = R_m + jX_m the main and R_a + jX_a the auxiliary winding (Ω,
// rotor held), f the frequency (Hz) and V the voltage across both windings (V,
// rms). A resistance of the capacitor itself belongs into R_a. The rules make
// the most of I_m·I_a·sin α, to which the torque is proportional at standstill
// (α is the angle between the two currents), not of the torque near full
// speed.
//
// Where X_c is not above 0, the auxiliary circuit is as capacitive as the rule
// wants: Missing is [EnoughCapacitive] and Capacitance 0. So it is where the
// capacitor would be above 0.1 F.
//
// Valid for 10 V to 15 kV and the bounds of [LockedWindings]; outside, and for
// another rule, err wraps [ErrDomain].
//
// Source: P. C. Sen, Principles of Electric Machines and Power Electronics,
// chapter 7 (most torque); C. I. Hubert, Electric Machines, 2nd edition,
// section 6 (quadrature); A. E. Fitzgerald and others, Electric Machinery, 6th
// edition, chapter 9. The case of a large X_m follows from the same condition.
// Each optimum was confirmed by a numeric search.
func (w LockedWindings) StartCapacitor(rule CapacitorRule, voltage unit.Voltage) (StartCapacitor, error) {
	if !(w.good() && goodVoltage(voltage) && rule >= Quadrature && rule <= MostTorquePerAmpere) {
		return StartCapacitor{}, badCapacitor(&w, rule, voltage)
	}
	rm, xm := real(w.Main), imag(w.Main)
	ra, xa := real(w.Auxiliary), imag(w.Auxiliary)
	xc := xa
	switch rule {
	case Quadrature:
		xc += ra * rm / xm
	case MostTorque:
		xc += ra * rm / (xm + cmplx.Abs(w.Main))
	case MostTorquePerAmpere:
		if d := xm*xm - 4*ra*(ra+rm); d > 0 {
			xc += (xm + math.Sqrt(d)) / 2
			break
		}
		// (|Zm|·√(Ra·(Ra+Rm)) − Xm·Ra)/Rm without the difference of two
		// nearly equal numbers where Rm is small.
		a, b := cmplx.Abs(w.Main)*math.Sqrt(ra*(ra+rm)), xm*ra
		xc += ra * (rm*(ra+rm) + xm*xm) / (a + b)
	}
	c := StartCapacitor{Rule: rule, Reactance: unit.Resistance(xc)}
	omega := twoPi * float64(w.Frequency)
	if !(xc*omega*mostFarads >= 1) {
		c.Missing = EnoughCapacitive
		return c, nil
	}
	c.Capacitance = unit.Capacitance(1 / (omega * xc))
	c.Voltage = voltage * unit.Voltage(xc/math.Hypot(ra, xa-xc))
	return c, nil
}

func badCapacitor(w *LockedWindings, rule CapacitorRule, voltage unit.Voltage) error {
	err := errors.Join(w.Validate(), checkVoltage(voltage))
	if rule < Quadrature || rule > MostTorquePerAmpere {
		err = errors.Join(err, pkg.Invalid("capacitor rule", strconv.Itoa(int(rule)), "quadrature, most torque or most torque per ampere"))
	}
	return err
}
