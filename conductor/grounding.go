package conductor

import (
	"errors"

	"gonum.org/v1/gonum/unit"
)

// groundingRow is the least equipment grounding conductor for overcurrent
// devices up to a rating (A).
type groundingRow struct {
	device            float64
	copper, aluminium Size
}

// Source: NEC (2023) table 250.122.
var grounding = [...]groundingRow{
	{15, Size{gauge, 14}, Size{gauge, 12}},
	{20, Size{gauge, 12}, Size{gauge, 10}},
	{60, Size{gauge, 10}, Size{gauge, 8}},
	{100, Size{gauge, 8}, Size{gauge, 6}},
	{200, Size{gauge, 6}, Size{gauge, 4}},
	{300, Size{gauge, 4}, Size{gauge, 2}},
	{400, Size{gauge, 3}, Size{gauge, 1}},
	{500, Size{gauge, 2}, Size{gauge, 0}},
	{600, Size{gauge, 1}, Size{gauge, -1}},
	{800, Size{gauge, 0}, Size{gauge, -2}},
	{1000, Size{gauge, -1}, Size{gauge, -3}},
	{1200, Size{gauge, -2}, Size{kcmil, 250}},
	{1600, Size{gauge, -3}, Size{kcmil, 350}},
	{2000, Size{kcmil, 250}, Size{kcmil, 400}},
	{2500, Size{kcmil, 350}, Size{kcmil, 600}},
	{3000, Size{kcmil, 400}, Size{kcmil, 600}},
	{4000, Size{kcmil, 500}, Size{kcmil, 750}},
	{5000, Size{kcmil, 700}, Size{kcmil, 1250}},
	{6000, Size{kcmil, 800}, Size{kcmil, 1250}},
}

// GroundingConductor returns the least size of the equipment grounding
// conductor of a circuit by the rating of its overcurrent device, the row of
// the table whose rating is not below it. Where the phase conductors are larger
// than they had to be, [GroundingUpsized] enlarges it. It never has to be
// larger than the phase conductors.
//
// Valid for 1 A to 6 kA; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) table 250.122. Older tables have 800, 1200 and 1200 kcmil
// of aluminium in the last three rows.
func GroundingConductor(device unit.Current, m Metal) (Size, error) {
	if err := errors.Join(m.check(), checkDevice(device)); err != nil {
		return Size{}, err
	}
	i := 0
	for float64(device) > grounding[i].device*(1+ratingSlack) {
		i++
	}
	if m == Aluminium {
		return grounding[i].aluminium, nil
	}
	return grounding[i].copper, nil
}

// GroundingUpsized returns the least size of the equipment grounding conductor
// where the phase conductors were enlarged, for voltage drop say, in proportion
// to their area,
//
//	A = Ag · Au/Ar
//
// with the area Ag of the size that [GroundingConductor] returns, Ar of the
// phase conductor that the circuit requires and Au of the one that is used, all
// in circular mils by table 8. The answer is the next size of the code, and not
// larger than the used one. Where the used conductor is not larger than the
// required one, nothing grows.
//
// Valid for sizes that the code lists, 14 AWG and larger, and devices of 1 A to
// 6 kA; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 250.122(A) and (B).
func GroundingUpsized(device unit.Current, m Metal, required, used Size) (Size, error) {
	least, err := GroundingConductor(device, m)
	r, u := required.codeRow(), used.codeRow()
	if r < smallestRow {
		err = errors.Join(err, required.refuse(wantCodeSize+", not below 14 AWG"))
	}
	if u < smallestRow {
		err = errors.Join(err, used.refuse(wantCodeSize+", not below 14 AWG"))
	}
	if err != nil {
		return Size{}, err
	}
	g := least.codeRow()
	area := codeArea(g) * codeArea(u) / codeArea(r)
	for g < u && codeArea(g) < area*(1-ratingSlack) {
		g++
	}
	return codeList[g], nil
}

// codeArea is the area that table 8 prints for a row of the ampacity tables
// (cmil).
func codeArea(row int) float64 {
	for i := range table8 {
		if table8[i].size == codeList[row] {
			return table8[i].cmil
		}
	}
	return 0
}
