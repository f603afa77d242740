package conductor

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"
)

// Columns: copper at 60, 75 and 90 °C, aluminium at 60, 75 and 90 °C (A); 0 where
// the table has no figure.
//
// Source: NEC (2020, 2023) table 310.16; table 310.15(B)(16) of 2011 to 2017.
var raceway2011 = [codeSizes][6]float64{
	{0, 0, 14, 0, 0, 0},            // 18 AWG
	{0, 0, 18, 0, 0, 0},            // 16 AWG
	{15, 20, 25, 0, 0, 0},          // 14 AWG
	{20, 25, 30, 15, 20, 25},       // 12 AWG
	{30, 35, 40, 25, 30, 35},       // 10 AWG
	{40, 50, 55, 35, 40, 45},       // 8 AWG
	{55, 65, 75, 40, 50, 55},       // 6 AWG
	{70, 85, 95, 55, 65, 75},       // 4 AWG
	{85, 100, 115, 65, 75, 85},     // 3 AWG
	{95, 115, 130, 75, 90, 100},    // 2 AWG
	{110, 130, 145, 85, 100, 115},  // 1 AWG
	{125, 150, 170, 100, 120, 135}, // 1/0 AWG
	{145, 175, 195, 115, 135, 150}, // 2/0 AWG
	{165, 200, 225, 130, 155, 175}, // 3/0 AWG
	{195, 230, 260, 150, 180, 205}, // 4/0 AWG
	{215, 255, 290, 170, 205, 230}, // 250 kcmil
	{240, 285, 320, 195, 230, 260}, // 300 kcmil
	{260, 310, 350, 210, 250, 280}, // 350 kcmil
	{280, 335, 380, 225, 270, 305}, // 400 kcmil
	{320, 380, 430, 260, 310, 350}, // 500 kcmil
	{350, 420, 475, 285, 340, 385}, // 600 kcmil
	{385, 460, 520, 315, 375, 425}, // 700 kcmil
	{400, 475, 535, 320, 385, 435}, // 750 kcmil
	{410, 490, 555, 330, 395, 445}, // 800 kcmil
	{435, 520, 585, 355, 425, 480}, // 900 kcmil
	{455, 545, 615, 375, 445, 500}, // 1000 kcmil
	{495, 590, 665, 405, 485, 545}, // 1250 kcmil
	{525, 625, 705, 435, 520, 585}, // 1500 kcmil
	{545, 650, 735, 455, 545, 615}, // 1750 kcmil
	{555, 665, 750, 470, 560, 630}, // 2000 kcmil
}

// Source: NEC (1999 to 2008) table 310.16.
var racewayBefore2011 = [codeSizes][6]float64{
	{0, 0, 14, 0, 0, 0},            // 18 AWG
	{0, 0, 18, 0, 0, 0},            // 16 AWG
	{20, 20, 25, 0, 0, 0},          // 14 AWG
	{25, 25, 30, 20, 20, 25},       // 12 AWG
	{30, 35, 40, 25, 30, 35},       // 10 AWG
	{40, 50, 55, 30, 40, 45},       // 8 AWG
	{55, 65, 75, 40, 50, 60},       // 6 AWG
	{70, 85, 95, 55, 65, 75},       // 4 AWG
	{85, 100, 110, 65, 75, 85},     // 3 AWG
	{95, 115, 130, 75, 90, 100},    // 2 AWG
	{110, 130, 150, 85, 100, 115},  // 1 AWG
	{125, 150, 170, 100, 120, 135}, // 1/0 AWG
	{145, 175, 195, 115, 135, 150}, // 2/0 AWG
	{165, 200, 225, 130, 155, 175}, // 3/0 AWG
	{195, 230, 260, 150, 180, 205}, // 4/0 AWG
	{215, 255, 290, 170, 205, 230}, // 250 kcmil
	{240, 285, 320, 190, 230, 255}, // 300 kcmil
	{260, 310, 350, 210, 250, 280}, // 350 kcmil
	{280, 335, 380, 225, 270, 305}, // 400 kcmil
	{320, 380, 430, 260, 310, 350}, // 500 kcmil
	{355, 420, 475, 285, 340, 385}, // 600 kcmil
	{385, 460, 520, 310, 375, 420}, // 700 kcmil
	{400, 475, 535, 320, 385, 435}, // 750 kcmil
	{410, 490, 555, 330, 395, 450}, // 800 kcmil
	{435, 520, 585, 355, 425, 480}, // 900 kcmil
	{455, 545, 615, 375, 445, 500}, // 1000 kcmil
	{495, 590, 665, 405, 485, 545}, // 1250 kcmil
	{520, 625, 705, 435, 520, 585}, // 1500 kcmil
	{545, 650, 735, 455, 545, 615}, // 1750 kcmil
	{560, 665, 750, 470, 560, 630}, // 2000 kcmil
}

// RacewayAmpacity returns the code's basic ampacity of a building wire: not
// more than three conductors that carry current in a raceway, a cable or the
// earth, at 30 °C ambient and up to 2000 V.
//
// The figure still wants correction for ambient temperature and for more
// conductors, and must not exceed the column of the terminals; a [Branch] does
// all of it. It does not hold for boats and vehicles.
//
// Valid for 60, 75 and 90 °C; copper of 14 AWG to 2000 kcmil, and of 18 and
// 16 AWG at 90 °C; aluminium of 12 AWG to 2000 kcmil. Otherwise err wraps
// [ErrDomain]. Sizes between the rows are not interpolated.
//
// Source: NEC (2023) table 310.16; NEC (2008) table 310.16 for [Before2011].
func RacewayAmpacity(s Size, m Metal, r TemperatureRating, e Edition) (unit.Current, error) {
	i := racewayAt(s.codeRow(), m, r, e)
	if i == 0 {
		return 0, refuseRaceway(s, m, r, e)
	}
	return unit.Current(i), nil
}

// racewayAt is the figure of a row, and 0 where the table has none (A).
func racewayAt(row int, m Metal, r TemperatureRating, e Edition) float64 {
	if row < 0 || row >= codeSizes || r < Rated60C || r > Rated90C || m < Copper || m > Aluminium {
		return 0
	}
	column := int(r-Rated60C) + 3*int(m-Copper)
	switch e {
	case Since2011:
		return raceway2011[row][column]
	case Before2011:
		return racewayBefore2011[row][column]
	default:
		return 0
	}
}

// refuseRaceway names the fault of what the table does not have.
func refuseRaceway(s Size, m Metal, r TemperatureRating, e Edition) error {
	err := m.check()
	if r < Rated60C || r > Rated90C {
		err = errors.Join(err, r.refuse("60, 75 or 90 °C"))
	}
	if e > Before2011 {
		err = errors.Join(err, pkg.Invalid("edition", strconv.Itoa(int(e)), "Since2011 or Before2011"))
	}
	switch {
	case s.codeRow() < 0:
		err = errors.Join(err, s.refuse(wantCodeSize))
	case err == nil:
		err = s.refuse("a size that the code's table has in this metal and column")
	}
	return err
}
