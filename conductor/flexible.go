package conductor

import (
	"slices"

	"gonum.org/v1/gonum/unit"
)

// A FlexibleCable is one size of rope-lay copper cable with rubber insulation
// for 600 V, as sold for welding and batteries: class K, strands of 30 AWG.
type FlexibleCable struct {
	Size      Size
	Strands   int          // of 30 AWG
	Outside   unit.Length  // diameter over the insulation
	Mass      unit.Mass    // of a metre
	Suggested unit.Current // continuous, 105 °C conductor, 40 °C ambient, one cable in air
}

// flexibleRow holds a row in the units of print.
type flexibleRow struct {
	size    Size
	strands int32
	outside float64 // (in)
	mass    float64 // (lb/kft)
	current float64 // (A)
}

// Source: a maker's data sheet of 600 V cable to ASTM B172 and ICEA S-75-381.
var flexibleCables = [...]flexibleRow{
	{Size{gauge, 6}, 273, 0.320, 125, 115},
	{Size{gauge, 4}, 427, 0.375, 182, 150},
	{Size{gauge, 2}, 651, 0.440, 271, 205},
	{Size{gauge, 1}, 840, 0.505, 360, 240},
	{Size{gauge, 0}, 1044, 0.570, 444, 285},
	{Size{gauge, -1}, 1308, 0.605, 535, 325},
	{Size{gauge, -2}, 1653, 0.670, 667, 380},
	{Size{gauge, -3}, 2071, 0.720, 809, 440},
	{Size{kcmil, 250}, 2516, 0.860, 1048, 495},
	{Size{kcmil, 350}, 3478, 0.905, 1396, 625},
	{Size{kcmil, 500}, 5002, 1.110, 1973, 765},
}

// FlexibleCables returns the table, smallest cable first. Other makers differ
// by some per cent in diameter and by more in the current they suggest.
//
// Source: a maker's data sheet of 600 V cable to ASTM B172 (class K) and ICEA
// S-75-381.
func FlexibleCables() []FlexibleCable {
	rows := make([]FlexibleCable, len(flexibleCables))
	for i := range flexibleCables {
		rows[i] = flexibleCables[i].row()
	}
	return rows
}

// FlexibleCableOf returns the row of one size.
//
// Valid for 6, 4, 2, 1 AWG, 1/0 to 4/0 AWG, 250, 350 and 500 kcmil; otherwise
// err wraps [ErrDomain].
//
// Source: as [FlexibleCables].
func FlexibleCableOf(s Size) (FlexibleCable, error) {
	i := slices.IndexFunc(flexibleCables[:], func(r flexibleRow) bool { return r.size == s })
	if i < 0 {
		return FlexibleCable{}, s.refuse("a size of the table: 6, 4, 2, 1 AWG, 1/0 to 4/0 AWG, 250, 350 or 500 kcmil")
	}
	return flexibleCables[i].row(), nil
}

func (r *flexibleRow) row() FlexibleCable {
	const pound = 0.45359237 // (kg)
	perFoot := r.mass / 1000 * pound
	return FlexibleCable{
		Size: r.size, Strands: int(r.strands),
		Outside:   unit.Length(r.outside) * Inch,
		Mass:      unit.Mass(perFoot / float64(Foot)),
		Suggested: unit.Current(r.current),
	}
}

// MetalArea returns the area of the strands together,
//
//	A = n·a30
//
// where a30 is the area of one strand of 30 AWG by [Size.Area]: −1.6 to +4.6 %
// of the area that the size names.
//
// Definition: sum of the strands; ASTM B258 for the strand.
func (c FlexibleCable) MetalArea() unit.Area {
	return unit.Area(float64(c.Strands) * AWG(30).area())
}
