package conductor

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A DropLimit is a circuit whose drop must stay within an allowed one. Its
// methods solve the drop formula
//
//	Vd = m·L·z·I
//
// for one of its parts, with the drop Vd in volts, the one-way length L in
// metres, the current I in amperes, the impedance z of one conductor in Ω/m,
// and m = 2 for [TwoWire] and √3 for [ThreePhase]. A method leaves the field it
// solves for unread.
type DropLimit struct {
	Circuit Circuit      // two-wire or three-phase
	OneWay  unit.Length  // from source to load, not out and back
	Current unit.Current // rms, of one line
	Allowed unit.Voltage // the drop itself, not the voltage that is left
}

// Resistance returns the largest resistance (or effective impedance) per
// length of one conductor,
//
//	z = Vd/(m·L·I)
//
// Valid for 1 cm to 20 km, 1 mA to 100 kA and 1 mV to 35 kV; otherwise err
// wraps [ErrDomain].
//
// Source: NEC chapter 9, table 8, used backwards; UFC 3-520-01, appendix B.
func (d DropLimit) Resistance() (ResistancePerLength, error) {
	m, errCircuit := d.Circuit.Factor()
	if err := errors.Join(errCircuit, checkOneWay(float64(d.OneWay)), d.checkCurrent(), d.checkAllowed()); err != nil {
		return 0, err
	}
	return ResistancePerLength(float64(d.Allowed) / (m * float64(d.OneWay) * float64(d.Current))), nil
}

// Area returns the least area of metal of resistivity k,
//
//	A = m·K·L·I/Vd
//
// with K in Ω·m, the trade's circular-mil formula in SI. Take K from
// [Metal.Resistivity] and add 2 % for strands, or put in a printed one such as
// 12.9 * [OhmCircularMilPerFoot].
//
// Valid as [DropLimit.Resistance] and for 1 nΩ·m to 1 µΩ·m; otherwise err wraps
// [ErrDomain].
//
// Source: circular-mil formula of the trade, as in ABYC E-11 with K = 10.75.
func (d DropLimit) Area(k Resistivity) (unit.Area, error) {
	r, errDrop := d.Resistance()
	if err := errors.Join(errDrop, pkg.Range("resistivity", float64(k), 1e-9, 1e-6, ohmMetre)); err != nil {
		return 0, err
	}
	return unit.Area(float64(k) / float64(r)), nil
}

// LongestOneWay returns the longest one-way run of a conductor of impedance z,
//
//	L = Vd/(m·z·I)
//
// Valid as [DropLimit.Resistance] and for 1 nΩ/m to 100 Ω/m; otherwise err
// wraps [ErrDomain].
//
// Source: NEC chapter 9, tables 8 and 9, used backwards.
func (d DropLimit) LongestOneWay(z ResistancePerLength) (unit.Length, error) {
	m, errCircuit := d.Circuit.Factor()
	if err := errors.Join(errCircuit, checkPerLength(z), d.checkCurrent(), d.checkAllowed()); err != nil {
		return 0, err
	}
	return unit.Length(float64(d.Allowed) / (m * float64(z) * float64(d.Current))), nil
}

// LargestCurrent returns the largest current of a conductor of impedance z,
//
//	I = Vd/(m·L·z)
//
// which says nothing of the conductor's ampacity.
//
// Valid as [DropLimit.Resistance] and for 1 nΩ/m to 100 Ω/m; otherwise err
// wraps [ErrDomain].
//
// Source: NEC chapter 9, tables 8 and 9, used backwards.
func (d DropLimit) LargestCurrent(z ResistancePerLength) (unit.Current, error) {
	m, errCircuit := d.Circuit.Factor()
	if err := errors.Join(errCircuit, checkPerLength(z), checkOneWay(float64(d.OneWay)), d.checkAllowed()); err != nil {
		return 0, err
	}
	return unit.Current(float64(d.Allowed) / (m * float64(z) * float64(d.OneWay))), nil
}

func (d DropLimit) checkCurrent() error {
	return pkg.Range("current", float64(d.Current), 1e-3, maxCurrent, domain.Ampere)
}

func (d DropLimit) checkAllowed() error {
	return pkg.Range("allowed drop", float64(d.Allowed), minDrop, maxDrop, domain.Volt)
}

func checkPerLength(z ResistancePerLength) error {
	return pkg.Range("resistance", float64(z), 1e-9, maxPerLength, perKilometre)
}

var ohmMetre = domain.Unit{Symbol: "Ω·m", Size: 1}
