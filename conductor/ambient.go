package conductor

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ErrNoAmpacity is the answer where the ambient is so hot that the insulation
// may carry no current at all.
var ErrNoAmpacity = errors.New("conductor: the ambient temperature leaves no ampacity")

// AmbientLaw returns the factor by which an ampacity changes with ambient
// temperature,
//
//	F = √((Tc − Ta2) / (Tc − Ta1))
//
// where Tc is the temperature rating of the insulation, Ta1 the ambient of the
// table and Ta2 the real one (°C or K): heating grows with the square of the
// current, and the rise that is left is what it may make. Warming the conductor
// raises its resistance no further, as it ends at Tc in both cases.
//
// At ambient temperatures inside a band this allows more than [AmbientFactor]:
// at 37.8 °C, 75 °C insulation has 0.909 by the law and 0.88 by the table.
//
// Where Ta2 is not 0.01 K or more below Tc, err is [ErrNoAmpacity]. Valid for −60 to 300 °C
// with Ta1 at least 5 K below Tc; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 310.15(B), equation for other ambient temperatures.
func AmbientLaw(tc, ta1, ta2 unit.Temperature) (float64, error) {
	c, a1, a2 := float64(tc), float64(ta1), float64(ta2)
	if !(c >= minTemperature && c <= maxTemperature && a1 >= minTemperature && a1 <= c-5 && a2 >= minTemperature && a2 <= maxTemperature) {
		return 0, errors.Join(checkTemperature(c), checkTemperature(a2),
			pkg.Range("base temperature", a1, minTemperature, c-5, domain.Celsius))
	}
	if !(a2 <= c-leastRise) {
		return 0, fmt.Errorf("%w: insulation of %.4g °C at %.4g °C", ErrNoAmpacity, InCelsius(tc), InCelsius(ta2))
	}
	return math.Sqrt((c - a2) / (c - a1)), nil
}

// leastRise is what ambient and insulation have to be apart for a current that
// is worth the name (K).
const leastRise = 0.01

// Factors at 10, 15, 20 ... °C.
//
// Source: IEC 60364-5-52:2009, table B.52.14.
var (
	ambientPVC  = [...]float64{1.22, 1.17, 1.12, 1.06, 1.00, 0.94, 0.87, 0.79, 0.71, 0.61, 0.50}
	ambientXLPE = [...]float64{1.15, 1.12, 1.08, 1.04, 1.00, 0.96, 0.91, 0.87, 0.82, 0.76, 0.71, 0.65, 0.58, 0.50, 0.41}
)

// IECAmbientFactor returns the tabulated factor for cables in air, of which the
// capacity was tabulated at 30 °C. The table has points every 5 °C from 10 °C;
// between two the hotter holds, and below 10 °C the first, both on the safe
// side. The points are those of [AmbientLaw] within 0.007.
//
// Above 60 °C for PVC and 80 °C for XLPE the table ends and err is
// [ErrNoAmpacity]. Valid for −60 to 300 °C; otherwise err wraps [ErrDomain].
//
// Source: IEC 60364-5-52:2009, table B.52.14.
func IECAmbientFactor(n IECInsulation, ambient unit.Temperature) (float64, error) {
	if err := errors.Join(n.check(), checkTemperature(float64(ambient))); err != nil {
		return 0, err
	}
	factors := ambientPVC[:]
	if n == XLPE90 {
		factors = ambientXLPE[:]
	}
	i := max(0, int(math.Ceil((InCelsius(ambient)-10-bandSlack)/5)))
	if i >= len(factors) {
		return 0, fmt.Errorf("%w: %v at %.4g °C", ErrNoAmpacity, n, InCelsius(ambient))
	}
	return factors[i], nil
}
