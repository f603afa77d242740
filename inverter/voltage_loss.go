package inverter

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// A VoltageLoss is an inverter whose efficiency depends on its dc voltage. For a
// dc power P_dc (W) at a dc voltage V (V),
//
//	P_ac = [P_ac0/(A - B) - C·(A - B)]·(P_dc - B) + C·(P_dc - B)²
//	A = P_dc0·[1 + C1·(V - V_0)]
//	B = P_s0·[1 + C2·(V - V_0)]
//	C = C0·[1 + C3·(V - V_0)]
//
// The equation was made for grid inverters, whose tests give the coefficients.
// P_s0 is the dc power at which output begins. A stand-alone inverter takes its
// idle draw with nothing connected, for which P_s0 may stand.
//
// Source: King, Gonzalez, Galbraith and Boyson, Performance Model for
// Grid-Connected Photovoltaic Inverters, SAND2007-5036.
type VoltageLoss struct {
	AC         unit.Power   // P_ac0, rated ac output, 20 W to 100 kW
	DC         unit.Power   // P_dc0, dc power for that output at V_0, AC to 2·AC
	Nominal    unit.Voltage // V_0, 5 V to 1 kV
	Start      unit.Power   // P_s0, dc power at which output begins, 0 to 25 % of DC
	Curve      float64      // C0 (1/W), curvature, -1/DC to 1/DC; mostly negative
	DCSlope    float64      // C1 (1/V), -0.1 to 0.1
	StartSlope float64      // C2 (1/V), -0.1 to 0.1
	CurveSlope float64      // C3 (1/V), -1 to 1
}

// Validate returns nil for coefficients in the ranges stated beside them that
// make an inverter at V_0, one whose output rises from P_s0 on and up to P_ac0
// is nowhere above its input. Otherwise err names each fault.
//
// Definition: as [VoltageLoss].
func (l VoltageLoss) Validate() error {
	dc := float64(l.DC)
	err := errors.Join(
		pkg.Range("rated ac power", float64(l.AC), leastRated, mostRated, domain.Watt),
		pkg.Range("rated dc power", dc, float64(l.AC), 2*float64(l.AC), domain.Watt),
	)
	if err != nil {
		return err
	}
	err = errors.Join(
		dcVoltage("nominal dc voltage", l.Nominal),
		pkg.Range("dc power at which output begins", float64(l.Start), 0, mostIdle*dc, domain.Watt),
		pkg.Range("curvature", l.Curve, -1/dc, 1/dc, domain.One),
		pkg.Range("voltage coefficient of dc power", l.DCSlope, -0.1, 0.1, domain.One),
		pkg.Range("voltage coefficient of the start of output", l.StartSlope, -0.1, 0.1, domain.One),
		pkg.Range("voltage coefficient of the curvature", l.CurveSlope, -1, 1, domain.One),
	)
	if err == nil && !l.sensible(float64(l.Nominal)) {
		err = pkg.Invalid("curvature", fmt.Sprintf("%g/W", l.Curve), "one with which output rises, and is nowhere above the input")
	}
	return err
}

// sensible reports whether the coefficients make an inverter at a voltage.
func (l VoltageLoss) sensible(v float64) bool {
	b, slope, c := l.straight(v)
	a := float64(l.DC) * (1 + l.DCSlope*(v-float64(l.Nominal)))
	if !(a > b && b >= 0 && slope > 0) {
		return false
	}
	// Output less input, (slope - 1)·x + c·x² - b, is greatest at full power or
	// where its own slope is zero.
	x := a - b
	if c < 0 {
		x = min(x, max(0, (slope-1)/(-2*c)))
	}
	return (slope-1+c*x)*x-b <= 1e-9*a
}

// straight returns B, slope and C of P_ac = slope·x + C·x², x = P_dc - B.
func (l VoltageLoss) straight(v float64) (b, slope, c float64) {
	u := v - float64(l.Nominal)
	a := float64(l.DC) * (1 + l.DCSlope*u)
	b = float64(l.Start) * (1 + l.StartSlope*u)
	c = l.Curve * (1 + l.CurveSlope*u)
	return b, float64(l.AC)/(a-b) - c*(a-b), c
}

// at is straight with the checks: the coefficients reach only so far from V_0.
func (l VoltageLoss) at(v unit.Voltage) (b, slope, c float64, err error) {
	if err := errors.Join(l.Validate(), dcVoltage("dc voltage", v)); err != nil {
		return 0, 0, 0, err
	}
	if !l.sensible(float64(v)) {
		return 0, 0, 0, l.tooFar(v)
	}
	b, slope, c = l.straight(float64(v))
	return b, slope, c, nil
}

func (l VoltageLoss) tooFar(v unit.Voltage) error {
	return pkg.Invalid("dc voltage", fmt.Sprintf("%g V", float64(v)), "one at which the coefficients still make an inverter")
}

// Unclipped returns the ac output for a dc power at a dc voltage as the equation
// gives it, which may be above the rated output at low voltage. At P_dc0 and V_0
// it is P_ac0, at P_s0 and V_0 it is 0, for any coefficients with which the curve
// rises as far. Valid for 5 V to 1 kV, as far from V_0 as the coefficients make
// an inverter (see [VoltageLoss.Validate]), and from 0 to where the
// curve ceases to rise, at most 10 MW; below the power at which output begins
// err is [ErrBelowIdle], otherwise it wraps [ErrDomain].
//
// Source: King et al., SAND2007-5036.
func (l VoltageLoss) Unclipped(dc unit.Power, v unit.Voltage) (unit.Power, error) {
	b, slope, c, err := l.at(v)
	if err != nil {
		return 0, err
	}
	most := float64(mostDC)
	if c < 0 {
		most = min(most, b-slope/(2*c)) // beyond which the curve falls
	}
	if err := pkg.Range("dc power", float64(dc), 0, most, domain.Watt); err != nil {
		return 0, err
	}
	x := float64(dc) - b
	if x < 0 {
		return 0, ErrBelowIdle
	}
	return unit.Power((slope + c*x) * x), nil
}

// ACPower returns the ac output for a dc power at a dc voltage, at most P_ac0.
// Otherwise as [VoltageLoss.Unclipped].
//
// Source: King et al., SAND2007-5036.
func (l VoltageLoss) ACPower(dc unit.Power, v unit.Voltage) (unit.Power, error) {
	p, err := l.Unclipped(dc, v)
	return min(p, l.AC), err
}

// DCPower returns the dc power taken at a dc voltage for an ac output, 0 to
// P_ac0, the root of the equation that goes over into the straight line,
//
//	P_dc = B + 2·P_ac/[k + √(k² + 4·C·P_ac)],  k = P_ac0/(A - B) - C·(A - B)
//
// err wraps [ErrDomain] for a voltage at which the curve never reaches the
// output asked for.
//
// Source: the inverse of the equation of King et al., SAND2007-5036.
func (l VoltageLoss) DCPower(ac unit.Power, v unit.Voltage) (unit.Power, error) {
	b, slope, c, err := l.at(v)
	if err != nil {
		return 0, err
	}
	most := float64(l.AC)
	if c < 0 {
		most = min(most, -slope*slope/(4*c))
	}
	if err := pkg.Range("ac power", float64(ac), 0, most, domain.Watt); err != nil {
		return 0, err
	}
	return unit.Power(b + 2*float64(ac)/(slope+math.Sqrt(slope*slope+4*c*float64(ac)))), nil
}

// Operate returns the point at which a source carries an ac output through the
// inverter, dc power and dc voltage depending on each other: the V of
//
//	P_dc(P_ac, V) = V·(V_oc - V)/R
//
// that is nearest to V_oc, between V_oc and the voltage at which the source has
// most to spare. Where it never has err is a [CollapseError]. Where the
// coefficients do not reach from V_oc to that point err wraps [ErrDomain].
//
// Source: King et al., SAND2007-5036, and the source of [Source.Operate].
func (l VoltageLoss) Operate(s Source, ac unit.Power) (Point, error) {
	voc, r := float64(s.OpenCircuit), float64(s.Resistance())
	if err := s.Validate(); err != nil {
		return Point{}, err
	}
	most, err := l.DCPower(ac, s.OpenCircuit)
	if err != nil {
		return Point{}, err
	}
	spare := func(v float64) float64 {
		dc, err := l.DCPower(ac, unit.Voltage(v))
		if err != nil {
			return math.Inf(-1)
		}
		return v*(voc-v)/r - float64(dc)
	}
	lowest := l.reach(ac, voc)
	best := numeric.Maximum(spare, lowest, voc, 1e-9*voc)
	v, err := numeric.Root(spare, best, voc, 0)
	if err != nil {
		if lowest > voc/2 && best-lowest < 1e-6*voc {
			return Point{}, l.tooFar(unit.Voltage(lowest))
		}
		return Point{}, &CollapseError{Demand: most, Largest: unit.Power(best * (voc - best) / r)}
	}
	dc, err := l.DCPower(ac, unit.Voltage(v))
	if err != nil {
		return Point{}, err
	}
	return Point{Power: dc, Current: unit.Current(float64(dc) / v), Voltage: unit.Voltage(v)}, nil
}

// reach is how far down from V_oc, to half of it, the coefficients have a dc
// power for an ac output.
func (l VoltageLoss) reach(ac unit.Power, voc float64) float64 {
	const steps = 64
	high := voc
	for step := voc / (2 * steps); step > 1e-12*voc; {
		low := max(voc/2, high-step)
		if _, err := l.DCPower(ac, unit.Voltage(low)); err != nil {
			step /= 2
			continue
		}
		if low == voc/2 {
			return low
		}
		high = low
	}
	return high
}
