package conductor

import (
	"strconv"

	"gonum.org/v1/gonum/unit"
)

// A TemperatureRating is the temperature that insulation or a terminal stands.
// The zero value is none, and every function refuses it unless it says what a
// missing rating means there.
type TemperatureRating uint8

// The ratings of the code's columns. Basic ampacities are held for the first
// three, factors for ambient temperature for all.
const (
	Rated60C TemperatureRating = iota + 1
	Rated75C
	Rated90C
	Rated150C
	Rated200C
	Rated250C
)

// ratedAt holds the temperatures of the ratings (°C).
var ratedAt = [...]float64{Rated60C: 60, Rated75C: 75, Rated90C: 90, Rated150C: 150, Rated200C: 200, Rated250C: 250}

// String returns "60 °C" to "250 °C" and, for anything else, "no rating".
//
// Definition: the heads of the columns of the code's ampacity tables.
func (r TemperatureRating) String() string {
	if r < Rated60C || r > Rated250C {
		return "no rating"
	}
	return strconv.Itoa(int(ratedAt[r])) + " °C"
}

// Temperature returns the rating as a temperature.
//
// The zero rating, and any other that is none of the constants, gives an error
// that wraps [ErrDomain].
//
// Definition: the heads of the columns of the code's ampacity tables.
func (r TemperatureRating) Temperature() (unit.Temperature, error) {
	if r < Rated60C || r > Rated250C {
		return 0, r.refuse("60, 75, 90, 150, 200 or 250 °C")
	}
	return Celsius(ratedAt[r]), nil
}

func (r TemperatureRating) refuse(want string) error {
	return pkg.Invalid("temperature rating", strconv.Itoa(int(r)), want)
}

// An Edition is a generation of the code's ampacity table. Fifteen cells of it
// changed in 2011, and print mixes the two to this day. The zero value is the
// current one.
type Edition uint8

const (
	// Since2011 is table 310.15(B)(16) of 2011 to 2017, which since 2020 is
	// table 310.16 again.
	Since2011 Edition = iota
	// Before2011 is table 310.16 of the editions of 1999 to 2008.
	Before2011
)

// String returns the years of the edition.
//
// Definition: the editions of NFPA 70 that hold the table.
func (e Edition) String() string {
	switch e {
	case Since2011:
		return "2011 and later"
	case Before2011:
		return "before 2011"
	default:
		return "no edition"
	}
}

// codeSizes is the number of sizes in the code's ampacity tables: 18 AWG to
// 4/0 AWG and 250 to 2000 kcmil.
const codeSizes = 30

const wantCodeSize = "a size that the code lists: 18, 16, 14, 12, 10, 8, 6, 4 to 1, 1/0 to 4/0 AWG, 250 to 2000 kcmil"

// gaugeRow and kcmilRow give one more than the row of a size, 0 for none: the
// first by gauge number from 4/0, the second by steps of 50 kcmil.
var (
	gaugeRow = [...]int8{15, 14, 13, 12, 11, 10, 9, 8, 0, 7, 0, 6, 0, 5, 0, 4, 0, 3, 0, 2, 0, 1}
	kcmilRow = [...]int8{
		5: 16, 6: 17, 7: 18, 8: 19, 10: 20, 12: 21, 14: 22, 15: 23, 16: 24, 18: 25, 20: 26, 25: 27, 30: 28, 35: 29, 40: 30,
	}
)

// codeRow returns the row of a size in the code's tables, negative if none.
func (s Size) codeRow() int {
	switch n := int(s.number); {
	case s.system == gauge && n-largestGauge < len(gaugeRow):
		return int(gaugeRow[n-largestGauge]) - 1
	case s.system == kcmil && n%50 == 0 && n/50 < len(kcmilRow):
		return int(kcmilRow[n/50]) - 1
	default:
		return -1
	}
}

// smallestRow is the row of 14 AWG, the least size for power.
const smallestRow = 2

// codeList holds the sizes of the rows.
var codeList = [codeSizes]Size{
	{gauge, 18},
	{gauge, 16},
	{gauge, 14},
	{gauge, 12},
	{gauge, 10},
	{gauge, 8},
	{gauge, 6},
	{gauge, 4},
	{gauge, 3},
	{gauge, 2},
	{gauge, 1},
	{gauge, 0},
	{gauge, -1},
	{gauge, -2},
	{gauge, -3},
	{kcmil, 250},
	{kcmil, 300},
	{kcmil, 350},
	{kcmil, 400},
	{kcmil, 500},
	{kcmil, 600},
	{kcmil, 700},
	{kcmil, 750},
	{kcmil, 800},
	{kcmil, 900},
	{kcmil, 1000},
	{kcmil, 1250},
	{kcmil, 1500},
	{kcmil, 1750},
	{kcmil, 2000},
}
