package conductor

import (
	"strconv"

	"gonum.org/v1/gonum/unit"
)

// A TemperatureRating is the temperature that insulation or a terminal stands.
// The zero value is none, and every function refuses it.
type TemperatureRating uint8

// The ratings of the code's columns.
const (
	Rated60C TemperatureRating = iota + 1
	Rated75C
	Rated90C
)

// String returns "60 °C", "75 °C" or "90 °C" and, for the zero value, "no
// rating".
//
// Definition: the heads of the columns of NEC table 310.16.
func (r TemperatureRating) String() string {
	switch r {
	case Rated60C:
		return "60 °C"
	case Rated75C:
		return "75 °C"
	case Rated90C:
		return "90 °C"
	default:
		return "no rating"
	}
}

// ampacityRow holds the ampacities of one size of copper (A).
type ampacityRow struct {
	size  Size
	rated [3]float64 // 60, 75, 90 °C
	small float64    // largest overcurrent device, 240.4(D); 0 if not limited
}

// Source: NEC (2020, 2023) table 310.16 and section 240.4(D).
var copperAmpacity = [...]ampacityRow{
	{Size{gauge, 14}, [3]float64{15, 20, 25}, 15},
	{Size{gauge, 12}, [3]float64{20, 25, 30}, 20},
	{Size{gauge, 10}, [3]float64{30, 35, 40}, 30},
	{Size{gauge, 8}, [3]float64{40, 50, 55}, 0},
	{Size{gauge, 6}, [3]float64{55, 65, 75}, 0},
	{Size{gauge, 4}, [3]float64{70, 85, 95}, 0},
	{Size{gauge, 3}, [3]float64{85, 100, 115}, 0},
	{Size{gauge, 2}, [3]float64{95, 115, 130}, 0},
	{Size{gauge, 1}, [3]float64{110, 130, 145}, 0},
	{Size{gauge, 0}, [3]float64{125, 150, 170}, 0},
	{Size{gauge, -1}, [3]float64{145, 175, 195}, 0},
	{Size{gauge, -2}, [3]float64{165, 200, 225}, 0},
	{Size{gauge, -3}, [3]float64{195, 230, 260}, 0},
}

// CopperAmpacity returns the code's basic ampacity of a copper building wire:
// not more than three conductors that carry current in a raceway, a cable or
// the earth, at 30 °C ambient and up to 2000 V.
//
// The figure still wants correction for ambient temperature and for more
// conductors, must not exceed the column of the terminals (60 °C up to 100 A or
// 1 AWG unless they are marked 75 °C), and does not hold for cables in free
// air, on boats or in vehicles. For 14, 12 and 10 AWG the overcurrent device
// has a limit of its own: [SmallConductorLimit].
//
// Valid for 14 AWG to 4/0 AWG; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) table 310.16, copper columns; table 310.15(B)(16) of 2011
// to 2017. Earlier editions have other figures for 14, 12, 3 and 1 AWG.
func CopperAmpacity(s Size, rating TemperatureRating) (unit.Current, error) {
	if rating < Rated60C || rating > Rated90C {
		return 0, pkg.Invalid("temperature rating", strconv.Itoa(int(rating)), "60, 75 or 90 °C")
	}
	for i := range copperAmpacity {
		if r := &copperAmpacity[i]; r.size == s {
			return unit.Current(r.rated[rating-Rated60C]), nil
		}
	}
	return 0, s.refuse("a size of 14 AWG to 4/0 AWG that the code lists")
}

// SmallConductorLimit returns the largest overcurrent device that may protect
// copper wire of 14 AWG (15 A), 12 AWG (20 A) and 10 AWG (30 A), whatever the
// ampacity of its insulation; limited is false for larger sizes, which have no
// such rule. Motor circuits are exempt from it and follow article 430.
//
// Valid for 14 AWG to 4/0 AWG; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 240.4(D); 240.4(G) for motors.
func SmallConductorLimit(s Size) (device unit.Current, limited bool, err error) {
	for i := range copperAmpacity {
		if r := &copperAmpacity[i]; r.size == s {
			return unit.Current(r.small), r.small > 0, nil
		}
	}
	return 0, false, s.refuse("a size of 14 AWG to 4/0 AWG that the code lists")
}
