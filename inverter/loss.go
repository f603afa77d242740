package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Loss is the quadratic loss model of an inverter. For an ac output P (W),
//
//	P_loss = P_0 + v·P + r·P²/P_r
//	P_dc   = P + P_loss
//
// where P_0 is the idle draw (W), v and r are pure numbers, and P_r is the
// rated ac output (W). In the form P_dc = P_0 + k1·P + k2·P² of other books,
// k1 = 1 + v and k2 = r/P_r (1/W).
//
// P_0 stands for control and magnetising loss, v for voltage drops across
// switches, r for resistance. The idle draw is inside the model at every load
// and is not to be counted a second time while a load runs.
//
// Above P_r the curve is an extrapolation, which is all there is for a start.
//
// Source: Schmidt and Sauer, 1996; Jantsch, Schmidt and Schmid, 1992 (both
// recalled).
type Loss struct {
	Rated     unit.Power // P_r, rated ac output, 20 W to 100 kW
	Idle      unit.Power // P_0, dc draw with nothing connected, 0 to 25 % of Rated; 0 is an inverter without idle draw
	Linear    float64    // v, 0 to 1; 0 is no loss proportional to output
	Quadratic float64    // r, 0 to 1; 0 is no loss with the square of output
}

const (
	leastRated = 20
	mostRated  = 100e3
	mostIdle   = 0.25 // of rated
	mostDC     = 10e6 // (W)
)

// ErrBelowIdle says that a dc power is less than the inverter takes with
// nothing connected, so that no ac output belongs to it.
var ErrBelowIdle = errors.New("inverter: dc power below the idle draw")

// ok is validate without the words, small enough for the hot path.
func (l Loss) ok() bool {
	pr, p0 := float64(l.Rated), float64(l.Idle)
	return pr >= leastRated && pr <= mostRated && p0 >= 0 && p0 <= mostIdle*pr &&
		l.Linear >= 0 && l.Linear <= 1 && l.Quadratic >= 0 && l.Quadratic <= 1
}

// Validate returns nil for a model whose four fields are in the ranges stated
// beside them, and otherwise an error that names each fault.
//
// Definition: the ranges hold every inverter that is 33 to 100 % efficient at
// rated load.
func (l Loss) Validate() error {
	if l.ok() {
		return nil
	}
	err := pkg.Range("rated power", float64(l.Rated), leastRated, mostRated, domain.Watt)
	if err == nil {
		err = pkg.Range("idle draw", float64(l.Idle), 0, mostIdle*float64(l.Rated), domain.Watt)
	}
	return errors.Join(
		err,
		pkg.Range("linear loss coefficient", l.Linear, 0, 1, domain.One),
		pkg.Range("quadratic loss coefficient", l.Quadratic, 0, 1, domain.One),
	)
}

// check validates model and load together.
func (l Loss) check(ac unit.Power) error {
	if l.ok() && ac >= 0 && ac <= mostPower {
		return nil
	}
	return errors.Join(l.Validate(), acPower(ac))
}

// DCPower returns the dc power taken for an ac output of unity power factor,
//
//	P_dc = P_0 + (1 + v)·P + r·P²/P_r
//
// with P = ac (W). Valid for 0 to 1 MW; otherwise err wraps [ErrDomain]. For
// ac = 0 it is the idle draw.
//
// Source: Schmidt and Sauer, 1996.
func (l Loss) DCPower(ac unit.Power) (dc unit.Power, err error) {
	if err := l.check(ac); err != nil {
		return 0, err
	}
	return unit.Power(l.dc(float64(ac))), nil
}

func (l Loss) dc(p float64) float64 {
	return float64(l.Idle) + ((1+l.Linear)+l.Quadratic/float64(l.Rated)*p)*p
}

// withLoad is the loss beyond the idle draw (W). It is not taken as a difference
// of dc powers, whose last bits could leave it below zero.
func (l Loss) withLoad(p float64) float64 {
	return (l.Linear + l.Quadratic/float64(l.Rated)*p) * p
}

// DCPowerAt returns the dc power taken for an ac output of any power factor.
// Resistive loss follows the current, so that S (VA) takes the place of P in
// the quadratic term:
//
//	P_dc = P_0 + (1 + v)·P + r·S²/P_r
//
// Valid for 0 ≤ P ≤ S ≤ 1 MVA; otherwise err wraps [ErrDomain].
//
// Source: Schmidt and Sauer, 1996, with the quadratic term taken as I²R; that
// the linear term stays with P is an assumption.
func (l Loss) DCPowerAt(ac unit.Power, s ApparentPower) (dc unit.Power, err error) {
	if err := l.check(ac); err != nil {
		return 0, err
	}
	if err := notBelow(s, ac); err != nil {
		return 0, err
	}
	return unit.Power(l.dcAt(float64(ac), float64(s))), nil
}

func (l Loss) dcAt(p, s float64) float64 {
	return float64(l.Idle) + (1+l.Linear)*p + l.Quadratic/float64(l.Rated)*s*s
}

// notBelow refuses an apparent power below the real power, the last bits
// excepted.
func notBelow(s ApparentPower, p unit.Power) error {
	return pkg.Range("apparent power", float64(s), float64(p)*(1-1e-12), mostPower, domain.VoltAmpere)
}

// ACPower returns the ac output at unity power factor that takes the dc power
// given, the inverse of [Loss.DCPower],
//
//	P = 2·(P_dc - P_0) / [(1 + v) + √((1 + v)² + 4·r·(P_dc - P_0)/P_r)]
//
// in the form that holds for r = 0 and loses no digits at light load. Valid
// for 0 to 10 MW, otherwise err wraps [ErrDomain]; below the idle draw err is
// [ErrBelowIdle].
//
// Source: the root of the model of Schmidt and Sauer, 1996.
func (l Loss) ACPower(dc unit.Power) (ac unit.Power, err error) {
	if !l.ok() || !(dc >= 0 && dc <= mostDC) {
		return 0, errors.Join(l.Validate(), pkg.Range("dc power", float64(dc), 0, mostDC, domain.Watt))
	}
	x := float64(dc - l.Idle)
	if x < 0 {
		return 0, ErrBelowIdle
	}
	b := 1 + l.Linear
	return unit.Power(2 * x / (b + math.Sqrt(b*b+4*l.Quadratic/float64(l.Rated)*x))), nil
}

// ACPowerAt returns the real ac output that belongs to a dc power and an
// apparent power measured together, such as volts and amperes on both sides,
//
//	P = (P_dc - P_0 - r·S²/P_r) / (1 + v)
//
// from which the power factor P/S follows. If P comes out above S the readings
// contradict the model and err wraps [ErrDomain]; if it comes out negative err
// is [ErrBelowIdle].
//
// Source: the inverse of [Loss.DCPowerAt].
func (l Loss) ACPowerAt(dc unit.Power, s ApparentPower) (ac unit.Power, err error) {
	err = errors.Join(
		l.Validate(),
		pkg.Range("dc power", float64(dc), 0, mostDC, domain.Watt),
		pkg.Range("apparent power", float64(s), 0, mostPower, domain.VoltAmpere),
	)
	if err != nil {
		return 0, err
	}
	va := float64(s)
	p := (float64(dc-l.Idle) - l.Quadratic*va*va/float64(l.Rated)) / (1 + l.Linear)
	if p < 0 {
		return 0, ErrBelowIdle
	}
	if err := notBelow(s, unit.Power(p)); err != nil {
		return 0, err
	}
	return unit.Power(p), nil
}

// Efficiency returns η = P/P_dc at an ac output of unity power factor. It is 0
// at no load, or the limit 1/(1 + v) for a model without idle draw. Valid as
// [Loss.DCPower] is.
//
// Definition: ac output over dc input (IEC 61683).
func (l Loss) Efficiency(ac unit.Power) (float64, error) {
	if err := l.check(ac); err != nil {
		return 0, err
	}
	return l.efficiency(float64(ac)), nil
}

func (l Loss) efficiency(p float64) float64 {
	if p == 0 && l.Idle == 0 {
		return 1 / (1 + l.Linear)
	}
	return p / l.dc(p)
}

// PeakEfficiency returns the highest efficiency from no load to rated load and
// the ac output at which it stands,
//
//	P* = √(P_0·P_r/r)
//	η* = 1 / [1 + v + 2·√(P_0·r/P_r)]
//
// If P* lies above P_r, as it does for r = 0, the peak is at rated load.
//
// Source: dη/dP = 0 in the model of Schmidt and Sauer, 1996.
func (l Loss) PeakEfficiency() (efficiency float64, at unit.Power, err error) {
	if err := l.Validate(); err != nil {
		return 0, 0, err
	}
	p := float64(l.Rated)
	if p0 := float64(l.Idle); p0 < l.Quadratic*p {
		p = math.Sqrt(p0 * p / l.Quadratic)
	}
	return l.efficiency(p), unit.Power(p), nil
}
