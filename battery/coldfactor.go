package battery

import (
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// Figures from below the end of the IEEE 485 table, and of services other than
// the stationary one.
// Source: the rows of testdata; the first point is the end of the IEEE table.
var (
	// coldFactor is the size factor against temperature (°F).
	coldFactor = numeric.NewTable([]float64{0, 14, 20, 25}, []float64{2.5, 1.65, 1.59, 1.52})

	// motivePower and cranking are the share of the capacity and of the
	// cranking power (%) against temperature (°F).
	motivePower = numeric.NewTable([]float64{0, 32, 77}, []float64{40, 75, 100})
	cranking    = numeric.NewTable([]float64{0, 30, 80}, []float64{40, 65, 100})
)

// ColdSizingFactor returns the size factor of vented lead-acid cells down to 0
// °F (-18 °C): [SizingFactor] where the IEEE table reaches, and below its end
// at 25 °F a line through single figures of other sources, 1.59 at 20 °F, 1.65
// at 14 °F and 2.5 at 0 °F. The acid of a battery that is not well charged
// freezes there: see [FreezingPointAtCharge].
//
// Valid for 0 to 125 °F (-17.8 to 51.7 °C); otherwise err wraps [ErrDomain].
//
// Source: IEEE Std 485, Table 1, from 25 °F up; US Army TM 10-6140-200-14 at 0
// °F. Common practice: a sizing worksheet at 20 °F, a maker's note at 14 °F.
func ColdSizingFactor(t unit.Temperature) (float64, error) {
	f := InFahrenheit(t)
	lo, hi := coldFactor.Bounds()
	if !(f >= lo-roundedDegree && f <= hi) {
		if f > hi {
			return SizingFactor(t)
		}
		return 0, pkg.Range("electrolyte temperature", float64(t), float64(Fahrenheit(lo)), float64(Fahrenheit(125)), domain.Celsius)
	}
	factor, _ := coldFactor.At(max(f, lo))
	return factor, nil
}

// MotivePowerCapacity returns the capacity of a flooded traction battery at its
// 6 h rate over that at 77 °F: 0.75 at 32 °F, 0.40 at 0 °F, straight between.
//
// Valid for 0 to 77 °F (-17.8 to 25 °C); otherwise err wraps [ErrDomain].
//
// Source: US Army TM 10-6140-200-14.
func MotivePowerCapacity(t unit.Temperature) (float64, error) {
	return coldShare(&motivePower, t)
}

// CrankingPower returns the power that a flooded starter battery gives for
// seconds over that at 80 °F: 0.65 at 30 °F, 0.40 at 0 °F, straight between. A
// motor that an inverter starts from a cold battery meets the same loss.
//
// Valid for 0 to 80 °F (-17.8 to 26.7 °C); otherwise err wraps [ErrDomain].
//
// Source: US Army TM 5-1185.
func CrankingPower(t unit.Temperature) (float64, error) {
	return coldShare(&cranking, t)
}

func coldShare(table *numeric.Table, t unit.Temperature) (float64, error) {
	f := InFahrenheit(t)
	lo, hi := table.Bounds()
	if !(f >= lo-roundedDegree && f <= hi+roundedDegree) {
		return 0, pkg.Range("battery temperature", float64(t), float64(Fahrenheit(lo)), float64(Fahrenheit(hi)), domain.Celsius)
	}
	share, _ := table.At(min(max(f, lo), hi))
	return share / 100, nil
}
