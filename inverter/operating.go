package inverter

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Source is a battery and everything in series between it and the inverter's
// dc terminals. Resistances are given by place so that results can say what is
// lost where.
type Source struct {
	OpenCircuit unit.Voltage    // V_oc at the state of charge in question, 5 V to 1 kV
	Battery     unit.Resistance // internal resistance of the bank, 10 µΩ to 1 Ω; it rises with cold and age
	Cable       unit.Resistance // both conductors, 0 to 1 Ω; 0 is neglected
	Contacts    unit.Resistance // lugs, fuse, switch, shunt, 0 to 1 Ω; 0 is neglected
}

const (
	leastBattery   = 10e-6
	mostResistance = 1
)

func (s Source) ok() bool {
	return s.OpenCircuit >= leastVolt && s.OpenCircuit <= mostVolt &&
		s.Battery >= leastBattery && s.Battery <= mostResistance &&
		s.Cable >= 0 && s.Cable <= mostResistance &&
		s.Contacts >= 0 && s.Contacts <= mostResistance
}

// Validate returns nil for a source whose fields are in the ranges stated
// beside them, and otherwise an error that names each fault.
//
// Definition: 10 for 10 mΩ and 0.012 for 12 V are refused.
func (s Source) Validate() error {
	if s.ok() {
		return nil
	}
	return errors.Join(
		dcVoltage("open-circuit voltage", s.OpenCircuit),
		pkg.Range("battery resistance", float64(s.Battery), leastBattery, mostResistance, domain.Ohm),
		pkg.Range("cable resistance", float64(s.Cable), 0, mostResistance, domain.Ohm),
		pkg.Range("contact resistance", float64(s.Contacts), 0, mostResistance, domain.Ohm),
	)
}

// Resistance returns the sum R of the three resistances (Ω).
//
// Definition: resistances in series.
func (s Source) Resistance() unit.Resistance { return s.Battery + s.Cable + s.Contacts }

// A Point is the state in which a source carries a constant power.
// [Source.Drops] and [Source.Losses] say what its current loses where.
type Point struct {
	Power   unit.Power   // dc power at the inverter's terminals
	Current unit.Current // dc current
	Voltage unit.Voltage // at the inverter's terminals
}

// A Drop is the fall of voltage by place.
type Drop struct {
	Battery  unit.Voltage // in the internal resistance
	Cable    unit.Voltage // along both conductors
	Contacts unit.Voltage // across lugs, fuse, switch and shunt
}

// Total returns the sum over the three places (V).
//
// Definition: a sum.
func (d Drop) Total() unit.Voltage { return d.Battery + d.Cable + d.Contacts }

// Drops returns the fall of voltage that a dc current I (A) makes in battery,
// cable and contacts, I·R each (V). Together with the terminal voltage they
// make the open-circuit voltage; the battery's posts are at V_oc less the
// first. Good for any current; a NaN passes through.
//
// Definition: Ohm's law.
func (s Source) Drops(i unit.Current) Drop {
	a := float64(i)
	return Drop{
		Battery:  unit.Voltage(a * float64(s.Battery)),
		Cable:    unit.Voltage(a * float64(s.Cable)),
		Contacts: unit.Voltage(a * float64(s.Contacts)),
	}
}

// A Heat is the power turned into heat by place.
type Heat struct {
	Battery  unit.Power // inside the battery
	Cable    unit.Power // in both conductors
	Contacts unit.Power // in lugs, fuse, switch and shunt
}

// Total returns the sum over the three places (W).
//
// Definition: a sum.
func (h Heat) Total() unit.Power { return h.Battery + h.Cable + h.Contacts }

// Losses returns the heat that a smooth dc current I (A) makes in battery,
// cable and contacts, I²·R each (W); with ripple it is more by the square of
// [RippleFactor]. Good for any current; a NaN passes through.
//
// Definition: Joule's law.
func (s Source) Losses(i unit.Current) Heat {
	q := float64(i) * float64(i)
	return Heat{
		Battery:  unit.Power(q * float64(s.Battery)),
		Cable:    unit.Power(q * float64(s.Cable)),
		Contacts: unit.Power(q * float64(s.Contacts)),
	}
}

// ErrCollapse is what every [CollapseError] is, by [errors.Is].
var ErrCollapse = errors.New("inverter: the source cannot deliver this power at any voltage")

// A CollapseError says that a source has no operating point for a demand: its
// voltage runs away to zero. It is an answer, not an argument error.
type CollapseError struct {
	Demand  unit.Power // dc power asked for
	Largest unit.Power // the most the source delivers, at half its open-circuit voltage
}

// Error says what was asked for and what there is.
func (e *CollapseError) Error() string {
	return fmt.Sprintf("inverter: source collapses at %.0f W dc, its largest power is %.0f W", float64(e.Demand), float64(e.Largest))
}

// Is reports whether target is [ErrCollapse].
func (e *CollapseError) Is(target error) bool { return target == ErrCollapse }

// Operate returns the point at which the source carries the constant dc power
// P (W) of an inverter,
//
//	I = 2·P / [V_oc + √(V_oc² - 4·P·R)]
//	V = [V_oc + √(V_oc² - 4·P·R)] / 2
//
// with V_oc the open-circuit voltage (V) and R the whole series resistance
// (Ω). Of the two roots it is the one of higher voltage; the other is unstable
// under a constant-power load. Above V_oc²/4R there is no point and err is a
// [CollapseError]. Valid for P from 0 to 10 MW; otherwise err wraps
// [ErrDomain].
//
// Source: P = V·(V_oc - V)/R solved for V; the limit is the maximum power
// transfer theorem.
func (s Source) Operate(dc unit.Power) (Point, error) {
	if !s.ok() || !(dc >= 0 && dc <= mostDC) {
		return Point{}, s.refuse(dc)
	}
	p, ok := s.point(dc)
	if !ok {
		return Point{}, &CollapseError{Demand: dc, Largest: s.collapse()}
	}
	return p, nil
}

// point returns the operating point, or false where there is none.
func (s Source) point(dc unit.Power) (Point, bool) {
	voc, p := float64(s.OpenCircuit), float64(dc)
	d := voc*voc - 4*p*float64(s.Resistance())
	if d < 0 {
		return Point{}, false
	}
	x := voc + math.Sqrt(d)
	return Point{dc, unit.Current(2 * p / x), unit.Voltage(x / 2)}, true
}

func (s Source) collapse() unit.Power {
	v := float64(s.OpenCircuit)
	return unit.Power(v * v / (4 * float64(s.Resistance())))
}

func (s Source) refuse(dc unit.Power) error {
	return errors.Join(s.Validate(), pkg.Range("dc power", float64(dc), 0, mostDC, domain.Watt))
}

// CollapsePower returns the largest power the source delivers at any voltage,
// V_oc²/4R (W), at half the open-circuit voltage. No inverter works there:
// [Source.LargestPower] is the limit in practice.
//
// Source: the maximum power transfer theorem.
func (s Source) CollapsePower() (unit.Power, error) {
	if err := s.Validate(); err != nil {
		return 0, err
	}
	return s.collapse(), nil
}

// ErrRestBelowCutOff says that the source at rest is below the cut-off, so
// that the inverter does not even idle.
var ErrRestBelowCutOff = errors.New("inverter: open-circuit voltage below the cut-off")

// LargestPower returns the dc power at which the terminal voltage reaches the
// cut-off,
//
//	P_cut = V_cut·(V_oc - V_cut)/R
//
// or the collapse power V_oc²/4R for a cut-off below V_oc/2, which no load
// reaches. Above V_oc err is [ErrRestBelowCutOff]; outside 5 V to 1 kV it
// wraps [ErrDomain].
//
// Source: P = V·(V_oc - V)/R at V = V_cut.
func (s Source) LargestPower(cutoff unit.Voltage) (unit.Power, error) {
	if !s.ok() || !(cutoff >= leastVolt && cutoff <= mostVolt) {
		return 0, errors.Join(s.Validate(), dcVoltage("cut-off voltage", cutoff))
	}
	if cutoff > s.OpenCircuit {
		return 0, ErrRestBelowCutOff
	}
	return s.largest(cutoff), nil
}

// largest returns 0 for a source that rests at or below the cut-off.
func (s Source) largest(cutoff unit.Voltage) unit.Power {
	voc := float64(s.OpenCircuit)
	v := max(float64(cutoff), voc/2)
	return unit.Power(v * max(0, voc-v) / float64(s.Resistance()))
}
