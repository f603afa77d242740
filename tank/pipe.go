package tank

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// What pipes are: inner diameters by nominal size, and the roughness and the
// coefficient C of their surfaces.

// Inch is 25.4 mm.
const Inch = quantity.Inch

// A PipeKind is a series of pipes whose nominal sizes stand for one set of
// diameters. The zero value is none.
type PipeKind byte

// The kinds. Sizes of the last four are from memory, not from a page.
const (
	SteelSchedule40 PipeKind = iota + 1 // ASME B36.10
	PVCSDR13                            // ASTM D2241 class 315, SDR 13.5
	PVCSchedule40                       // ASTM D1785, average within its tolerance
	PESIDR15                            // ASTM D2239, made to its inner diameter
	CopperTypeL                         // ASTM B88
	PEXSDR9                             // ASTM F876
)

var pipeKinds = [...]string{
	"", "steel schedule 40", "PVC SDR 13.5", "PVC schedule 40", "PE SIDR 15", "copper type L", "PEX SDR 9",
}

// String returns the name of the kind.
func (k PipeKind) String() string {
	if k == 0 || int(k) >= len(pipeKinds) {
		return fmt.Sprintf("PipeKind(%d)", byte(k))
	}
	return pipeKinds[k]
}

// A PipeSize is one size of a kind.
type PipeSize struct {
	Inside  unit.Length // the average inner diameter (m)
	Outside unit.Length // 0 where the standard sets none (m)
	Wall    unit.Length // (m)
	// Seen is whether the figures were read on a page; others are recalled
	// from the standards, to be checked before they matter.
	Seen bool
}

// pipeSizes are outer diameter and wall in inches, by nominal inches. The
// outer diameter of PE follows from the inner one.
var pipeSizes = [...][]struct{ nominal, outside, wall float64 }{
	SteelSchedule40: {
		{0.5, 0.84, 0.109},
		{0.75, 1.05, 0.113},
		{1, 1.315, 0.133},
		{1.25, 1.66, 0.14},
		{1.5, 1.9, 0.145},
		{2, 2.375, 0.154},
		{2.5, 2.875, 0.203},
		{3, 3.5, 0.216},
		{4, 4.5, 0.237},
	},
	PVCSDR13: {
		{0.5, 0.84, 0.072}, {0.75, 1.05, 0.088}, {1, 1.315, 0.107}, {1.25, 1.66, 0.133}, {1.5, 1.9, 0.151}, {2, 2.375, 0.196},
	},
	PVCSchedule40: {
		{0.5, 0.84, 0.119}, {0.75, 1.05, 0.123}, {1, 1.315, 0.143}, {1.25, 1.66, 0.15}, {1.5, 1.9, 0.155},
	},
	PESIDR15: {
		{0.5, 0.622 + 2*0.06, 0.06},
		{0.75, 0.824 + 2*0.06, 0.06},
		{1, 1.049 + 2*0.07, 0.07},
		{1.25, 1.38 + 2*0.092, 0.092},
		{1.5, 1.61 + 2*0.107, 0.107},
		{2, 2.067 + 2*0.138, 0.138},
	},
	CopperTypeL: {{0.5, 0.625, 0.04}, {0.75, 0.875, 0.045}, {1, 1.125, 0.05}, {1.25, 1.375, 0.055}, {1.5, 1.625, 0.06}},
	PEXSDR9:     {{0.5, 0.625, 0.07}, {0.75, 0.875, 0.097}, {1, 1.125, 0.125}},
}

// Size returns the diameters of a nominal size, as 1.25*Inch for 1 1/4,
//
//	d = D − 2·t
//
// where D is the outer diameter and t the wall (m). The nominal size is no
// diameter: 1/2 in PEX is 0.485 in inside and 1/2 in steel 0.622 in, which is
// a factor of 3.4 in friction. Plastic's average wall lies above its least, so
// that schedule 40 PVC is 0.02 in narrower than steel and costs 10 % more at 1
// in, although many tables give both the diameter of steel.
//
// Valid for the sizes that the kind has here, of 1/2 to 4 in; otherwise err
// wraps [ErrDomain].
//
// Source: ASME B36.10, ASTM D2241 (read in tables of pipe sizes); ASTM D1785,
// D2239, B88 and F876, recalled.
func (k PipeKind) Size(nominal unit.Length) (PipeSize, error) {
	if k == 0 || int(k) >= len(pipeSizes) {
		return PipeSize{}, pkg.Invalid("pipe kind", k.String(), "one of the constants")
	}
	for _, s := range pipeSizes[k] {
		if math.Abs(float64(nominal/Inch)-s.nominal) <= 1e-6 {
			p := PipeSize{
				Inside: unit.Length(s.outside-2*s.wall) * Inch, Outside: unit.Length(s.outside) * Inch,
				Wall: unit.Length(s.wall) * Inch, Seen: k == SteelSchedule40 || k == PVCSDR13,
			}
			if k == PESIDR15 {
				p.Outside = 0
			}
			return p, nil
		}
	}
	return PipeSize{}, pkg.Invalid("nominal size", fmt.Sprintf("%.6g in (%.6g m)", float64(nominal/Inch), float64(nominal)),
		"a size of "+k.String())
}

// A Surface is the inside of a pipe. The zero value is none.
type Surface byte

// The surfaces.
const (
	Plastic         Surface = iota + 1
	DrawnTubing             // copper and brass
	NewSteel                // commercial steel, wrought iron
	GalvanizedIron          // zinc on steel
	NewCastIron             // unlined
	CastIron10Years         // unlined, in use that long
	CastIron20Years         // unlined, in use that long
	CastIron40Years         // unlined, in use that long
	AsphaltedIron           // cast iron, dipped
)

// surfaces hold C and roughness (m). A C of 0 and a negative roughness are
// what the source does not tell.
var surfaces = [...]struct{ low, high, roughness float64 }{
	Plastic: {140, 150, 0}, DrawnTubing: {130, 140, 1.5e-6}, NewSteel: {140, 150, 4.5e-5},
	GalvanizedIron: {110, 120, 1.5e-4}, NewCastIron: {130, 130, 2.6e-4},
	CastIron10Years: {107, 113, -1}, CastIron20Years: {89, 100, -1}, CastIron40Years: {64, 83, -1},
	AsphaltedIron: {0, 0, 1.2e-4},
}

// Coefficient returns the range of C that tables give a surface, for
// [HazenWilliamsLoss]: loss goes as C^(−1.852). Pump tables take 140 for
// plastic and irrigation tables 150, which is 14 % in head; for steel, pump
// tables take 100, as it rusts, and not the 140 to 150 of a new pipe.
//
// Valid for surfaces whose C the source tells; otherwise err wraps [ErrDomain].
//
// Source: an engineering software house's table of surfaces, two copies.
func (s Surface) Coefficient() (Range[float64], error) {
	if int(s) >= len(surfaces) || surfaces[s].low == 0 {
		return Range[float64]{}, pkg.Invalid("surface", fmt.Sprintf("Surface(%d)", byte(s)), "one with a known C")
	}
	return Range[float64]{Low: surfaces[s].low, High: surfaces[s].high}, nil
}

// Roughness returns the absolute roughness ε of a new surface (m), for
// [Pipe.Loss]; plastic counts as smooth, 0.
//
// Valid for surfaces whose roughness the source tells, which it does not for
// cast iron of age; otherwise err wraps [ErrDomain].
//
// Source: an engineering software house's table of surfaces, two copies.
func (s Surface) Roughness() (unit.Length, error) {
	if s == 0 || int(s) >= len(surfaces) || surfaces[s].roughness < 0 {
		return 0, pkg.Invalid("surface", fmt.Sprintf("Surface(%d)", byte(s)), "one with a known roughness")
	}
	return unit.Length(surfaces[s].roughness), nil
}

// MinorLoss returns the head lost in a fitting, h = K·V²/(2·g), where K is its
// coefficient (1), see [Fitting.Coefficient], V the velocity in the pipe (m/s)
// and g 9.806 65 m/s².
//
// Valid for K 0 to 1000 and speeds to 20 m/s; otherwise err wraps [ErrDomain].
//
// Source: F. M. White, Fluid Mechanics, chapter 6, on minor losses.
func MinorLoss(k float64, v unit.Velocity) (unit.Length, error) {
	err := errors.Join(pkg.Range("loss coefficient K", k, 0, 1000, domain.One),
		pkg.Range("flow velocity", float64(v), 0, mostVelocity, velocityUnit))
	if err != nil {
		return 0, err
	}
	return unit.Length(k * float64(v) * float64(v) / (2 * gravity)), nil
}
