package conductor

import (
	"gonum.org/v1/gonum/unit"
)

// Columns: copper at 60, 75 and 90 °C (A); 0 where the table has no figure.
//
// Source: NEC (2023) table 310.17, 18 AWG to 500 kcmil.
var freeAirCopper = [...][3]float64{
	{0, 0, 18},      // 18 AWG
	{0, 0, 24},      // 16 AWG
	{25, 30, 35},    // 14 AWG
	{30, 35, 40},    // 12 AWG
	{40, 50, 55},    // 10 AWG
	{60, 70, 80},    // 8 AWG
	{80, 95, 105},   // 6 AWG
	{105, 125, 140}, // 4 AWG
	{120, 145, 165}, // 3 AWG
	{140, 170, 190}, // 2 AWG
	{165, 195, 220}, // 1 AWG
	{195, 230, 260}, // 1/0 AWG
	{225, 265, 300}, // 2/0 AWG
	{260, 310, 350}, // 3/0 AWG
	{300, 360, 405}, // 4/0 AWG
	{340, 405, 455}, // 250 kcmil
	{375, 445, 500}, // 300 kcmil
	{420, 505, 570}, // 350 kcmil
	{455, 545, 615}, // 400 kcmil
	{515, 620, 700}, // 500 kcmil
}

// FreeAirAmpacity returns the code's basic ampacity of a single insulated
// copper conductor, spaced in free air, at 30 °C ambient and up to 2000 V: 1.4
// to 1.65 times that of the raceway. Bundled conductors do not have it, and the
// terminals stay bound to the raceway's table: see [Branch].
//
// Valid for 60, 75 and 90 °C and 14 AWG to 500 kcmil, and for 18 and 16 AWG at
// 90 °C; otherwise err wraps [ErrDomain]. Aluminium and the figures of the
// editions before 2011 are not held.
//
// Source: NEC (2023) table 310.17; table 310.15(B)(17) of 2011 to 2017.
func FreeAirAmpacity(s Size, r TemperatureRating) (unit.Current, error) {
	if r < Rated60C || r > Rated90C {
		return 0, r.refuse("60, 75 or 90 °C")
	}
	row := s.codeRow()
	if row < 0 || row >= len(freeAirCopper) {
		return 0, s.refuse("a size from 18 AWG to 500 kcmil that the code lists")
	}
	i := freeAirCopper[row][r-Rated60C]
	if i == 0 {
		return 0, s.refuse("a size that the code's table has in this column")
	}
	return unit.Current(i), nil
}
