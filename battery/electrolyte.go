package battery

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// The specific gravity of the acid, corrected to 80 °F, against state of
// charge (%), of batteries that are full at 1.265 and at 1.280. The second
// chart ends at 25 % and is run on along its last two points.
// Source: the published charts in testdata.
var (
	gravity1265 = numeric.NewTable([]float64{0, 25, 50, 75, 100}, []float64{1.120, 1.155, 1.190, 1.225, 1.265})
	gravity1280 = numeric.NewTable([]float64{0, 25, 50, 75, 100}, []float64{1.100, 1.160, 1.220, 1.250, 1.280})
)

// GravityAtCharge returns the specific gravity of the acid of a flooded
// battery at a state of charge of 0 to 1, as the band of two published charts:
//
//	0 %: 1.100 to 1.120    50 %: 1.190 to 1.220    100 %: 1.265 to 1.280
//
// straight between their points. A battery that is filled for the tropics is
// below the band. A state of charge outside 0 to 1 is an [ErrDomain].
//
// Source: US Army TM 10-6140-200-14, Table 1-1 (full at 1.280; run on below 25
// %). Common practice: the trade's chart (full at 1.265).
func GravityAtCharge(stateOfCharge float64) (Range[float64], error) {
	if err := checkFraction("state of charge", stateOfCharge, 0); err != nil {
		return Range[float64]{}, err
	}
	a, _ := gravity1265.At(100 * stateOfCharge)
	b, _ := gravity1280.At(100 * stateOfCharge)
	return Range[float64]{Low: min(a, b), High: max(a, b)}, nil
}

// FreezingPointAtCharge returns the temperature at which the acid of a flooded
// battery begins to freeze at a state of charge of 0 to 1, by
// [GravityAtCharge] and [FreezingPoint]. The high end is the safe one to plan
// by: -7 °C flat, -24 °C half charged, -59 °C full.
//
// A state of charge outside 0 to 1 is an [ErrDomain].
//
// Source: as for [GravityAtCharge] and [FreezingPoint].
func FreezingPointAtCharge(stateOfCharge float64) (Range[unit.Temperature], error) {
	sg, err := GravityAtCharge(stateOfCharge)
	if err != nil {
		return Range[unit.Temperature]{}, err
	}
	warm, err := FreezingPoint(sg.Low)
	cold, err2 := FreezingPoint(sg.High)
	if err := errors.Join(err, err2); err != nil {
		return Range[unit.Temperature]{}, err
	}
	return Range[unit.Temperature]{Low: cold, High: warm}, nil
}

// GravityAt80F returns what a hydrometer would read at 80 °F (26.7 °C),
//
//	SG = r + 0.0004·(T - 80)
//
// where r is the reading and T the temperature of the acid (°F). The table of
// the source is met within 0.002. Cold acid is denser and reads high: a battery
// at 0 °F that reads 1.265 stands at 1.233.
//
// Valid for a reading of 1.05 to 1.36 and -60 to 130 °F; otherwise err wraps
// [ErrDomain].
//
// Source: US Army TM 5-1185, Table IV, as the rule of 4 points per 10 °F.
func GravityAt80F(reading float64, t unit.Temperature) (float64, error) {
	if err := checkHydrometer(reading, t); err != nil {
		return 0, err
	}
	return reading + 0.0004*(InFahrenheit(t)-80), nil
}

// GravityAt77F returns what a hydrometer would read at 77 °F (25 °C),
//
//	SG = r + 0.001·(T - 77)/3
//
// where r is the reading and T the temperature of the acid (°F): the rule of
// stationary practice, which corrects by 17 % less than [GravityAt80F].
//
// Bounds as there.
//
// Source: IEEE Std 450 (1 point per 3 °F, recalled).
func GravityAt77F(reading float64, t unit.Temperature) (float64, error) {
	if err := checkHydrometer(reading, t); err != nil {
		return 0, err
	}
	return reading + 0.001*(InFahrenheit(t)-77)/3, nil
}

func checkHydrometer(reading float64, t unit.Temperature) error {
	return errors.Join(
		pkg.Range("hydrometer reading", reading, 1.05, 1.36, domain.One),
		pkg.Range("electrolyte temperature", float64(t), float64(Fahrenheit(-60))-1e-9, float64(Fahrenheit(130))+1e-9, domain.Celsius),
	)
}
