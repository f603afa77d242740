package conductor

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Construction is a kind of cable by what bounds its bends. The zero value is
// none, and every function refuses it.
type Construction uint8

const (
	// PlainPower is power cable without shield or armour, whose multiple grows
	// with the thickness of the insulation and the diameter.
	PlainPower Construction = iota + 1
	// UnshieldedOver2kV is an unshielded conductor above 2000 V.
	UnshieldedOver2kV
	// ShieldedOrLead is shielded or lead-covered.
	ShieldedOrLead
	// Portable is flexible cable with a rubber jacket to 5 kV.
	Portable
	// PortableOver5kV is the same above 5 kV.
	PortableOver5kV
	// Armoured has interlocked armour or a corrugated sheath.
	Armoured
	// InstrumentPair is a twisted pair without armour or shield.
	InstrumentPair
	// HouseCable is nonmetallic-sheathed, underground feeder or service cable.
	HouseCable
	// ThinFlexible is flexible copper to 8 mm of diameter, free to move.
	ThinFlexible
	// BatteryCable is rope-lay cable for batteries and welding, for which makers
	// print 4 to 8.
	BatteryCable
)

// bendMultiples holds what does not depend on dimensions; PlainPower does.
// Source: NEC 300.34, 330.24, 334.24 and 338.24 (the last two recalled), ICEA
// S-95-658 app. H, HD 516 (recalled); common practice for battery cable.
var bendMultiples = [...]float64{
	UnshieldedOver2kV: 8, ShieldedOrLead: 12, Portable: 6, PortableOver5kV: 8, Armoured: 7, InstrumentPair: 6,
	HouseCable: 5, ThinFlexible: 4, BatteryCable: 6,
}

// BendMultiple returns the least radius of a permanent bend, measured at its
// inside, in diameters of the cable. Pulling over sheaves wants more.
//
//   - plain power cable, insulation to 0.156 in: 4, 5 or 6 for a diameter to 1
//     in, to 2 in or above; insulation to 0.315 in: 5, 6 or 7; above: 7 to 2 in,
//     8 above
//   - others: 8 unshielded above 2 kV, 12 shielded, 6 portable (8 above 5 kV), 7
//     armoured, 6 pairs, 5 house cable, 4 thin flexible, 6 battery cable
//
// The thickness of the insulation is read for [PlainPower] only.
//
// Valid for a diameter of 1 to 150 mm, to 8 mm for [ThinFlexible], and
// insulation of 0.1 mm to half the diameter, above 0.315 in only with more than
// 1 in; otherwise err wraps [ErrDomain].
//
// Source: ICEA S-95-658, appendix H; NEC (2023) 305.5 (300.34 before), 330.24,
// 334.24, 338.24; HD 516 (recalled). Battery cable: common practice.
func BendMultiple(c Construction, outside, insulation unit.Length) (float64, error) {
	if c < PlainPower || c > BatteryCable {
		return 0, pkg.Invalid("construction", strconv.Itoa(int(c)), "PlainPower to BatteryCable")
	}
	largest := maxOutside
	if c == ThinFlexible {
		largest = 8e-3 * (1 + 1e-9)
	}
	if err := pkg.Range("diameter", float64(outside), minOutside, largest, inMillimetres); err != nil {
		return 0, err
	}
	if c != PlainPower {
		return bendMultiples[c], nil
	}
	least := 0.1e-3
	if err := pkg.Range("insulation", float64(insulation), least, float64(outside)/2, inMillimetres); err != nil {
		return 0, err
	}
	step := 2.0
	switch od := outside / Inch; {
	case od <= 1+1e-9:
		step = 0
	case od <= 2+1e-9:
		step = 1
	}
	switch thick := insulation / Inch; {
	case thick < 0.1565:
		return 4 + step, nil
	case thick < 0.3155:
		return 5 + step, nil
	case step > 0:
		return 6 + step, nil
	default:
		return 0, pkg.Invalid("insulation", "above 0.315 in", "thinner on a cable of 1 in and less")
	}
}

const minOutside, maxOutside = 1e-3, 150e-3 // (m)

// BendRadius returns the least radius at the inside of a bend,
//
//	r = k·D
//
// with the multiple k of [BendMultiple] and the diameter D (m) of the cable.
//
// Valid for 1 to 20 times and 1 to 150 mm; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 305.5; ICEA S-95-658, appendix H.
func BendRadius(multiple float64, outside unit.Length) (unit.Length, error) {
	if !(multiple >= 1 && multiple <= maxBend && outside >= minOutside && outside <= maxOutside) {
		return 0, errors.Join(pkg.Range("multiple", multiple, 1, maxBend, domain.One),
			pkg.Range("diameter", float64(outside), minOutside, maxOutside, inMillimetres))
	}
	return unit.Length(multiple) * outside, nil
}

const maxBend = 20

// StrandStrain returns how far the outer fibre of a strand is stretched where a
// wire is bent,
//
//	ε = d/(2·r + d)
//
// with the diameter d of one strand, not of the wire, as strands slide on each
// other, and the radius r at the inside of the bend. A solid wire is one strand.
// It compares flexible with coarse make-up at one radius: 4/0 AWG of class K has
// strands of 0.25 mm, class B 2.7 mm and 10 times the strain. Annealed copper
// breaks at about 0.2 to 0.3 at once, and at a hundredth of it after many bends.
//
// Valid for AWG and kcmil sizes and radii of 1 mm to 10 m; otherwise err wraps
// [ErrDomain].
//
// Definition: strain of a fibre bent to a circle; strands as in ASTM B8 and B172.
func StrandStrain(w Wire, inside unit.Length) (float64, error) {
	if err := w.check(); err != nil {
		return 0, err
	}
	if w.Size.IsMetric() {
		return 0, w.Size.refuse("an AWG or kcmil size")
	}
	if err := pkg.Range("radius", float64(inside), 1e-3, 10, domain.Metre); err != nil {
		return 0, err
	}
	d := w.strandDiameter(w.Size.area()) * float64(Inch)
	return d / (2*float64(inside) + d), nil
}
