package motor

import (
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// serviceFactors holds, from each horsepower on, the factors of 2, 4, 6 and 8
// poles.
//
// Source: NEMA MG 1 Table 12-4. The row below 1/6 hp is from memory.
var serviceFactors = [...]struct {
	hp     float64
	factor [4]float64
}{
	{1.0 / 20, [4]float64{1.40, 1.40, 1.40, 1.40}},
	{1.0 / 6, [4]float64{1.35, 1.35, 1.35, 1.35}},
	{0.5, [4]float64{1.25, 1.25, 1.25, 1.25}},
	{0.75, [4]float64{1.25, 1.25, 1.15, 1.15}},
	{1, [4]float64{1.25, 1.15, 1.15, 1.15}},
	{1.5, [4]float64{1.15, 1.15, 1.15, 1.15}},
}

const greatestFactored = 200 * float64(Horsepower) * (1 + 1e-9)

// GeneralPurposeServiceFactor returns the service factor of a general-purpose
// open ac motor with the given number of poles (2, 4, 6 or 8; 3600, 1800,
// 1200 or 900 rpm at 60 Hz). The plate's own figure goes before it: enclosed
// motors have 1.0 unless marked, pump motors have factors of their own, larger
// in small sizes.
//
// It multiplies the power the motor may deliver continuously, not its
// locked-rotor current or torque. Between the listed sizes the smaller one's
// row holds. Valid for 1/20 to 200 hp, above which the table tells two poles
// from four; outside, and for another number of poles, err wraps [ErrDomain].
//
// Source: NEMA MG 1 Table 12-4 (12.52); below 1/6 hp and the end at 200 hp from
// memory.
func GeneralPurposeServiceFactor(output unit.Power, poles int) (float64, error) {
	if err := pkg.Range("output", float64(output), leastOutput, greatestFactored, domain.Horsepower); err != nil {
		return 0, err
	}
	if poles < 2 || poles > 8 || poles%2 != 0 {
		return 0, pkg.Invalid("number of poles", strconv.Itoa(poles), "2, 4, 6 or 8")
	}
	hp, row := float64(output/Horsepower)*1.001, 0
	for i := range serviceFactors {
		if hp >= serviceFactors[i].hp {
			row = i
		}
	}
	return serviceFactors[row].factor[poles/2-1], nil
}
