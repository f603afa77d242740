package conductor

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// A Range is what is known of a quantity: it lies between Low and High.
//
// Definition: a closed interval.
type Range[T ~float64] = quantity.Range[T]

// A DCFault is a bolted short circuit on the direct-current side: both poles of
// a cable joined at some distance from the battery.
type DCFault struct {
	// OpenCircuit is the voltage of the bank without load, discharged and full.
	OpenCircuit Range[unit.Voltage]
	// Source is the resistance of the bank with its links: warm and full is Low,
	// cold, aged and discharged is High.
	Source Range[unit.Resistance]
	// Line is the loop from the bank to the fault, cold and hot; zero for a fault
	// at the bank's terminals.
	Line Range[unit.Resistance]
}

// Current returns the lowest and highest prospective current,
//
//	Ilow = Vlow/(Rs,high + Rl,high)    Ihigh = Vhigh/(Rs,low + Rl,low)
//
// with the open-circuit voltage V (V), the resistance Rs of the source and Rl of
// the line, out and back (Ω). The high one is what a device has to interrupt, the
// low one what it has to notice. Inductance, which slows the rise, and the arc
// are left out. A battery's resistance at such a current may be higher than at a
// small one: makers' figures go first.
//
// Valid for 1 V to 1500 V, 1 µΩ to 1 kΩ of source and 0 to 1 kΩ of line, each from low to
// high; otherwise err wraps [ErrDomain].
//
// Source: Ohm's law; IEC 61660-1 for stationary batteries without inductance
// (recalled).
func (f DCFault) Current() (Range[unit.Current], error) {
	if !(f.OpenCircuit.Valid() && f.Source.Valid() && f.Line.Valid() && f.OpenCircuit.Low >= minSource &&
		f.OpenCircuit.High <= maxDC && f.Source.Low >= minSourceOhm && f.Source.High <= maxSourceOhm &&
		f.Line.Low >= 0 && f.Line.High <= maxSourceOhm) {
		return Range[unit.Current]{}, f.check()
	}
	return Range[unit.Current]{
		Low:  unit.Current(float64(f.OpenCircuit.Low) / float64(f.Source.High+f.Line.High)),
		High: unit.Current(float64(f.OpenCircuit.High) / float64(f.Source.Low+f.Line.Low)),
	}, nil
}

const (
	maxDC                      = 1500      // (V)
	minSourceOhm, maxSourceOhm = 1e-6, 1e3 // (Ω)
)

func (f DCFault) check() error {
	return errors.Join(
		pkg.Range("lowest open-circuit voltage", float64(f.OpenCircuit.Low), minSource, maxDC, domain.Volt),
		pkg.Range("highest open-circuit voltage", float64(f.OpenCircuit.High), float64(f.OpenCircuit.Low), maxDC, domain.Volt),
		pkg.Range("lowest source resistance", float64(f.Source.Low), minSourceOhm, maxSourceOhm, domain.Ohm),
		pkg.Range("highest source resistance", float64(f.Source.High), float64(f.Source.Low), maxSourceOhm, domain.Ohm),
		pkg.Range("lowest line resistance", float64(f.Line.Low), 0, maxSourceOhm, domain.Ohm),
		pkg.Range("highest line resistance", float64(f.Line.High), float64(f.Line.Low), maxSourceOhm, domain.Ohm))
}

// BankShortCircuit returns the short-circuit current of a bank of equal
// batteries from that of one,
//
//	I = p·Ib
//
// with p strings in parallel. Batteries in series do not add: voltage and
// resistance grow alike, and the number is taken only to be checked. Links and
// cables between them lower the current and are not counted here.
//
// Valid for 1 A to 1 MA, and 1 to 1000 in series and in parallel; otherwise err
// wraps [ErrDomain].
//
// Source: ABYC E-11, note on banks; Ohm's law.
func BankShortCircuit(battery unit.Current, series, parallel int) (unit.Current, error) {
	err := checkFault(battery)
	for _, n := range [...]struct {
		name  string
		count int
	}{{"batteries in series", series}, {"strings in parallel", parallel}} {
		if n.count < 1 || n.count > 1000 {
			err = errors.Join(err, pkg.Invalid(n.name, strconv.Itoa(n.count), "1 to 1000"))
		}
	}
	if err != nil {
		return 0, err
	}
	return battery * unit.Current(parallel), nil
}
