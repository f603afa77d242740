package conductor

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"
)

// Drop returns the voltage lost in a line by the usual approximation,
//
//	Vd = I·(R·cos φ + X·sin φ)
//
// with I in amperes and R and X (Ω) of the line as [Run.Impedance] gives them,
// with the factor 2 or √3 inside. It is exact for direct current. For ac it
// takes the load's voltage to be in phase with the source's, which makes it 1 %
// low at a drop of 4 % and 11 % low at a locked rotor: there use
// [Impedance.LoadVoltage] or [Impedance.Divide]. A leading load on an inductive
// line may raise the voltage, and the drop is then negative.
//
// Valid for 0 to 100 kA and a power factor of 0.05 to 1; otherwise err wraps
// [ErrDomain].
//
// Source: NEC chapter 9, table 9, note 2; UFC 3-520-01, appendix B.
func (z Impedance) Drop(l Load) (unit.Voltage, error) {
	if !(z.ok() && l.ok()) {
		return 0, errors.Join(z.check("line"), l.check())
	}
	sin, cos := l.sincos()
	r, x := float64(z.Resistance), float64(z.Reactance)
	return unit.Voltage(float64(l.Current) * (r*cos + x*sin)), nil
}

// LoadVoltage returns the voltage at the end of a line whose load draws a given
// current at a given power factor there, by the phasor diagram,
//
//	Vs² = (Vr·cos φ + I·R)² + (Vr·sin φ + I·X)²
//	Vr  = √(Vs² − I²·(X·cos φ − R·sin φ)²) − I·(R·cos φ + X·sin φ)
//
// with the source voltage Vs and the load voltage Vr in volts (line to line for
// three phases), I in amperes, and R and X (Ω) of the line with the factor 2 or
// √3 inside. The drop is Vs − Vr.
//
// Where the line alone takes the source voltage no load voltage exists, and err
// is a [CurrentLimitError], which is [ErrCollapse].
//
// Valid for 1 V to 35 kV, 0 to 100 kA and a power factor of 0.05 to 1;
// otherwise err wraps [ErrDomain].
//
// Source: the phasor diagram, which IEEE Std 141-1993 (Red Book), chapter 3,
// gives as the exact form of the voltage-drop formula (recalled).
func (z Impedance) LoadVoltage(source unit.Voltage, l Load) (unit.Voltage, error) {
	if !(z.ok() && l.ok() && sourceOK(source)) {
		return 0, errors.Join(z.check("line"), checkSource(source), l.check())
	}
	sin, cos := l.sincos()
	vs, i, r, x := float64(source), float64(l.Current), float64(z.Resistance), float64(z.Reactance)
	across := i * (x*cos - r*sin)
	vr := math.Sqrt(vs*vs-across*across) - i*(r*cos+x*sin)
	if !(vr > 0) {
		return 0, &CurrentLimitError{Source: source, Current: l.Current, Limit: z.limit(source, sin, cos)}
	}
	return unit.Voltage(vr), nil
}

// limit is the current above which there is no load voltage. For an inductive line
// and load that is the short-circuit current; where line and load are of
// opposite kind the square root ends first.
func (z Impedance) limit(source unit.Voltage, sin, cos float64) unit.Current {
	r, x := float64(z.Resistance), float64(z.Reactance)
	if r*cos+x*sin > 0 {
		return unit.Current(float64(source) / math.Hypot(r, x))
	}
	return unit.Current(float64(source) / math.Abs(x*cos-r*sin))
}

// A CurrentLimitError says that a line cannot carry a current at any load
// voltage. It is [ErrCollapse].
type CurrentLimitError struct {
	Source  unit.Voltage // at the head of the line
	Current unit.Current // asked for
	Limit   unit.Current // above which the load has no voltage
}

// Error gives the figures in words.
//
// Definition: the fields of the error.
func (e *CurrentLimitError) Error() string {
	return fmt.Sprintf("%v: %.4g asked of a line that carries at most %.4g from %.4g",
		ErrCollapse, e.Current, e.Limit, e.Source)
}

// Is reports whether target is [ErrCollapse].
//
// Definition: every CurrentLimitError is a collapse.
func (e *CurrentLimitError) Is(target error) bool { return target == ErrCollapse }

// Divide returns the voltage across a load of constant impedance at the end of
// a line,
//
//	V = Vs·|Zl| / |Zl + Z|
//
// with the source voltage Vs in volts and both impedances in ohms. A motor with
// its rotor held is such a load: its current falls with the voltage, and its
// torque with the square of it. Take the load from [LoadImpedance]. The current
// is V/|Zl|.
//
// Valid for 1 V to 35 kV and a load of some impedance, up to 1 MΩ; otherwise
// err wraps [ErrDomain].
//
// Source: voltage divider of complex impedances; IEEE Std 399-1997 (Brown
// Book), chapter 9, motor starting by the impedance method (recalled).
func (z Impedance) Divide(source unit.Voltage, load Impedance) (unit.Voltage, error) {
	if !(z.ok() && load.ok() && sourceOK(source)) {
		return 0, errors.Join(z.check("line"), checkSource(source), load.check("load"))
	}
	r, x := float64(load.Resistance), float64(load.Reactance)
	modulus := math.Hypot(r, x)
	total := math.Hypot(r+float64(z.Resistance), x+float64(z.Reactance))
	if !(modulus >= minLoad && total >= minLoad) {
		return 0, pkg.Invalid("load impedance", fmt.Sprintf("%.3g", unit.Resistance(modulus)),
			"at least 1 µΩ, and not in resonance with the line")
	}
	return unit.Voltage(float64(source) * modulus / total), nil
}

const minLoad = 1e-6 // (Ω)
