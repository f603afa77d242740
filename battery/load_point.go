package battery

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ErrCollapse says that no operating point exists: the load asks for more
// power than the battery can push through its resistance at any current.
var ErrCollapse = errors.New("battery: no operating point, the voltage collapses")

// A CollapseError is [ErrCollapse] with its figures.
type CollapseError struct {
	Power   unit.Power // asked for
	Largest unit.Power // what the battery could give at half its open-circuit voltage
}

// Error gives both powers.
//
// Definition: the fields of e.
func (e *CollapseError) Error() string {
	return fmt.Sprintf("%v: %.4g W asked, %.4g W is the most", ErrCollapse, float64(e.Power), float64(e.Largest))
}

// Is reports whether target is [ErrCollapse].
//
// Definition: for [errors.Is].
func (e *CollapseError) Is(target error) bool { return target == ErrCollapse }

// A LoadPoint is a battery under load: what flows, and what is left at the
// terminals.
type LoadPoint struct {
	Power   unit.Power   // V·I
	Current unit.Current // positive on discharge
	Voltage unit.Voltage // left under it
}

const mostPointPower = unit.Power(100e6)

func checkOpen(open unit.Voltage) error {
	return pkg.Range("open-circuit voltage", float64(open), float64(leastCurveVoltage), float64(mostCurveVoltage), domain.Volt)
}

func checkSource(open unit.Voltage, r unit.Resistance) error {
	if open >= leastCurveVoltage && open <= mostCurveVoltage && r >= leastResistance && r <= mostResistance {
		return nil
	}
	return errors.Join(checkOpen(open), checkResistance("resistance", r))
}

func checkLoadPower(p, least unit.Power) error {
	return pkg.Range("dc power", float64(p), float64(least), float64(mostPointPower), domain.Watt)
}

// PointAtPower returns the point at which a battery feeds a load of constant
// power, such as an inverter,
//
//	I = 2·P/(Voc + √(Voc² - 4·R·P)),  V = P/I
//
// where Voc is the open-circuit voltage (V), R all the resistance up to where
// V is measured (Ω) and P the dc power there (W). It is the stable one of two
// roots, in the form that keeps its digits at a small P. At P = 0 it is no
// current and Voc.
//
// Valid for 0.5 to 1500 V, 1 µΩ to 10 Ω and 0 W to 100 MW; otherwise err wraps
// [ErrDomain]. Above Voc²/4R err is a [CollapseError].
//
// Source: P = I·(Voc - I·R), solved for I.
func PointAtPower(open unit.Voltage, r unit.Resistance, p unit.Power) (LoadPoint, error) {
	if err := checkSource(open, r); err != nil {
		return LoadPoint{}, err
	}
	if err := checkLoadPower(p, 0); err != nil {
		return LoadPoint{}, err
	}
	x, ok := pointAtPower(float64(open), float64(r), float64(p))
	if !ok {
		return LoadPoint{}, &CollapseError{Power: p, Largest: largestPower(float64(open), float64(r))}
	}
	return x, nil
}

func pointAtPower(open, r, p float64) (x LoadPoint, ok bool) {
	d := open*open - 4*r*p
	if !(d >= 0) {
		return LoadPoint{}, false
	}
	s := open + math.Sqrt(d)
	return LoadPoint{Power: unit.Power(p), Current: unit.Current(2 * p / s), Voltage: unit.Voltage(s / 2)}, true
}

func largestPower(open, r float64) unit.Power { return unit.Power(open * open / (4 * r)) }

// PowerAtCollapse returns the most power that a battery can give, at half its
// open-circuit voltage,
//
//	P = Voc²/(4·R)
//
// in the symbols and bounds of [PointAtPower]. A cut-off ends the discharge
// long before: [PowerAtCutOff].
//
// Source: maximum power transfer.
func PowerAtCollapse(open unit.Voltage, r unit.Resistance) (unit.Power, error) {
	if err := checkSource(open, r); err != nil {
		return 0, err
	}
	return largestPower(float64(open), float64(r)), nil
}

// PowerAtCutOff returns the dc power at which the voltage comes down to a
// cut-off,
//
//	P = Vc·(Voc - Vc)/R
//
// where Vc is the cut-off (V), otherwise in the symbols and bounds of
// [PointAtPower]. Below Voc/2 the collapse comes first, and P is that of
// [PowerAtCollapse]. A cut-off at or above Voc leaves 0 W.
//
// Source: Kirchhoff's voltage law.
func PowerAtCutOff(open unit.Voltage, r unit.Resistance, cutOff unit.Voltage) (unit.Power, error) {
	if err := checkSource(open, r); err != nil {
		return 0, err
	}
	if err := checkCurveVoltage("cut-off voltage", cutOff); err != nil {
		return 0, err
	}
	vc := max(float64(cutOff), float64(open)/2)
	return unit.Power(max(0, vc*(float64(open)-vc)/float64(r))), nil
}
