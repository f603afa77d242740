package conductor

import (
	"fmt"
	"strconv"

	"gonum.org/v1/gonum/unit"
)

// ambientRow is a band of ambient temperature by its upper edge (°C) with the
// factors of the ratings; 0 where nothing is left.
type ambientRow struct {
	edge   float64
	factor [6]float64
}

// Source: NEC (2023) table 310.15(B)(1), base 30 °C, ratings 60, 75, 90 °C.
var ambientFrom30 = [...]ambientRow{
	{10, [6]float64{1.29, 1.20, 1.15}},
	{15, [6]float64{1.22, 1.15, 1.12}},
	{20, [6]float64{1.15, 1.11, 1.08}},
	{25, [6]float64{1.08, 1.05, 1.04}},
	{30, [6]float64{1.00, 1.00, 1.00}},
	{35, [6]float64{0.91, 0.94, 0.96}},
	{40, [6]float64{0.82, 0.88, 0.91}},
	{45, [6]float64{0.71, 0.82, 0.87}},
	{50, [6]float64{0.58, 0.75, 0.82}},
	{55, [6]float64{0.41, 0.67, 0.76}},
	{60, [6]float64{0, 0.58, 0.71}},
	{65, [6]float64{0, 0.47, 0.65}},
	{70, [6]float64{0, 0.33, 0.58}},
	{75, [6]float64{0, 0, 0.50}},
	{80, [6]float64{0, 0, 0.41}},
	{85, [6]float64{0, 0, 0.29}},
}

// Source: NEC (2023) table 310.15(B)(2), base 40 °C, ratings 60, 75, 90, 150,
// 200 and 250 °C.
var ambientFrom40 = [...]ambientRow{
	{10, [6]float64{1.58, 1.36, 1.26, 1.13, 1.09, 1.07}},
	{15, [6]float64{1.50, 1.31, 1.22, 1.11, 1.08, 1.06}},
	{20, [6]float64{1.41, 1.25, 1.18, 1.09, 1.06, 1.05}},
	{25, [6]float64{1.32, 1.20, 1.14, 1.07, 1.05, 1.04}},
	{30, [6]float64{1.22, 1.13, 1.10, 1.04, 1.03, 1.02}},
	{35, [6]float64{1.12, 1.07, 1.05, 1.02, 1.02, 1.01}},
	{40, [6]float64{1.00, 1.00, 1.00, 1.00, 1.00, 1.00}},
	{45, [6]float64{0.87, 0.93, 0.95, 0.98, 0.98, 0.99}},
	{50, [6]float64{0.71, 0.85, 0.89, 0.95, 0.97, 0.98}},
	{55, [6]float64{0.50, 0.76, 0.84, 0.93, 0.95, 0.96}},
	{60, [6]float64{0, 0.65, 0.77, 0.90, 0.94, 0.95}},
	{65, [6]float64{0, 0.53, 0.71, 0.88, 0.92, 0.94}},
	{70, [6]float64{0, 0.38, 0.63, 0.85, 0.90, 0.93}},
	{75, [6]float64{0, 0, 0.55, 0.83, 0.88, 0.91}},
	{80, [6]float64{0, 0, 0.45, 0.80, 0.87, 0.90}},
	{90, [6]float64{0, 0, 0, 0.74, 0.83, 0.87}},
	{100, [6]float64{0, 0, 0, 0.67, 0.79, 0.85}},
	{110, [6]float64{0, 0, 0, 0.60, 0.75, 0.82}},
	{120, [6]float64{0, 0, 0, 0.52, 0.71, 0.79}},
	{130, [6]float64{0, 0, 0, 0.43, 0.66, 0.76}},
	{140, [6]float64{0, 0, 0, 0.30, 0.61, 0.72}},
	{160, [6]float64{0, 0, 0, 0, 0.50, 0.65}},
	{180, [6]float64{0, 0, 0, 0, 0.35, 0.58}},
	{200, [6]float64{0, 0, 0, 0, 0, 0.49}},
	{225, [6]float64{0, 0, 0, 0, 0, 0.35}},
}

// An AmbientBase is the ambient temperature that an ampacity table was made
// for. A factor of one base must not meet an ampacity of the other: 12 AWG of
// 90 °C has at 55 °C 0.76 times 30 A, not 0.84 times. The zero value is no
// base, and every function refuses it.
type AmbientBase uint8

const (
	// Base30C is the base of tables 310.16 and 310.17.
	Base30C AmbientBase = iota + 1
	// Base40C is the base of tables 310.18 to 310.21.
	Base40C
)

// String returns "30 °C" or "40 °C".
//
// Definition: the base temperatures of the code's ampacity tables.
func (b AmbientBase) String() string {
	switch b {
	case Base30C:
		return "30 °C"
	case Base40C:
		return "40 °C"
	default:
		return "no base"
	}
}

// AmbientFactor returns the code's tabulated factor for an ambient temperature,
// by bands of 5, 10 or 20 °C. A temperature between two bands, such as 30.4 °C,
// belongs to the upper one. Each factor is that of [AmbientLaw] at the upper
// edge of its band, so that it never allows more than the law.
//
// Where the table has no factor because the insulation is as hot before it
// carries anything, err is [ErrNoAmpacity]. Valid for −60 to 300 °C, ratings to
// 90 °C for the base of 30 °C and all ratings for that of 40 °C; otherwise err
// wraps [ErrDomain].
//
// Source: NEC (2023) tables 310.15(B)(1) and 310.15(B)(2); tables
// 310.15(B)(2)(a) and (b) of 2011 to 2017.
func AmbientFactor(r TemperatureRating, b AmbientBase, ambient unit.Temperature) (float64, error) {
	var rows []ambientRow
	last := Rated250C
	switch b {
	case Base30C:
		rows, last = ambientFrom30[:], Rated90C
	case Base40C:
		rows = ambientFrom40[:]
	default:
		return 0, pkg.Invalid("ambient base", strconv.Itoa(int(b)), "Base30C or Base40C")
	}
	if r < Rated60C || r > last {
		return 0, r.refuse("60, 75 or 90 °C; with base 40 °C also 150, 200 and 250 °C")
	}
	if err := checkTemperature(float64(ambient)); err != nil {
		return 0, err
	}
	t := InCelsius(ambient) - bandSlack
	for i := range rows {
		if t <= rows[i].edge {
			if f := rows[i].factor[r-Rated60C]; f > 0 {
				return f, nil
			}
			break
		}
	}
	return 0, fmt.Errorf("%w: insulation of %v at %.4g °C", ErrNoAmpacity, r, InCelsius(ambient))
}

// bandSlack lets 86 °F be 30 °C (K).
const bandSlack = 1e-6
