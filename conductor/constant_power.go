package conductor

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

const maxPower = 10e6 // (W)

// ConstantPower returns voltage and current at the end of a dc cable whose load
// takes a constant power, as an inverter does,
//
//	V·(Vs − V)/R = P
//	V = (Vs + √(Vs² − 4·P·R))/2,  I = P/V
//
// with the source voltage Vs in volts, P in watts and the loop resistance R in
// ohms, out and back (a battery's own resistance may be added to it). The
// shortcut I = P/Vs understates current and drop by the factor Vs/V: 1.04 where
// the cable loses 4 % of the voltage, and 2 at the limit.
//
// Above P = Vs²/(4·R), see [LargestPower], no voltage satisfies the equation,
// and err is a [PowerLimitError], which is [ErrCollapse]. At that limit half of
// the voltage is lost; an inverter's low-voltage cut-off acts long before it.
//
// Valid for 1 V to 35 kV, 0 to 10 MW and up to 1 MΩ; otherwise err wraps
// [ErrDomain].
//
// Source: the quadratic follows from Ohm's law; the limit is the theorem of
// maximum power transfer.
func ConstantPower(source unit.Voltage, p unit.Power, loop unit.Resistance) (unit.Voltage, unit.Current, error) {
	if !(sourceOK(source) && p >= 0 && p <= maxPower && loop >= 0 && loop <= maxImpedance) {
		return 0, 0, errors.Join(checkSource(source), checkLoop(loop),
			pkg.Range("power", float64(p), 0, maxPower, domain.Watt))
	}
	vs, w, r := float64(source), float64(p), float64(loop)
	square := vs*vs - 4*w*r
	if square < 0 {
		return 0, 0, &PowerLimitError{Source: source, Power: p, Limit: unit.Power(vs * vs / (4 * r))}
	}
	v := (vs + math.Sqrt(square)) / 2
	return unit.Voltage(v), unit.Current(w / v), nil
}

// LargestPower returns the largest power that a source can deliver through a
// loop resistance,
//
//	P = Vs²/(4·R)
//
// with Vs in volts and R in ohms; the load then has half of the voltage.
//
// Valid for 1 V to 35 kV and 1 nΩ to 1 MΩ; otherwise err wraps [ErrDomain].
//
// Source: theorem of maximum power transfer.
func LargestPower(source unit.Voltage, loop unit.Resistance) (unit.Power, error) {
	if err := errors.Join(checkSource(source),
		pkg.Range("loop resistance", float64(loop), 1e-9, maxImpedance, domain.Ohm)); err != nil {
		return 0, err
	}
	return unit.Power(float64(source) * float64(source) / (4 * float64(loop))), nil
}

func checkLoop(r unit.Resistance) error {
	return pkg.Range("loop resistance", float64(r), 0, maxImpedance, domain.Ohm)
}

// A PowerLimitError says that no voltage lets a power through a cable. It is
// [ErrCollapse].
type PowerLimitError struct {
	Source unit.Voltage // at no load
	Power  unit.Power   // asked for
	Limit  unit.Power   // the largest that gets through
}

// Error gives the figures in words.
//
// Definition: the fields of the error.
func (e *PowerLimitError) Error() string {
	return fmt.Sprintf("%v: %.4g asked of a cable that carries at most %.4g from %.4g",
		ErrCollapse, e.Power, e.Limit, e.Source)
}

// Is reports whether target is [ErrCollapse].
//
// Definition: every PowerLimitError is a collapse.
func (e *PowerLimitError) Is(target error) bool { return target == ErrCollapse }
