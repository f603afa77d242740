package battery

import (
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// OpenCircuitFromGravity returns the rest voltage of one lead-acid cell from
// the specific gravity of its acid,
//
//	V = SG + 0.84 to SG + 0.845
//
// where V is in V and SG is the specific gravity at 25 °C. Both constants are
// in use. Beside the trade chart the rule is 0 to 20 mV low on a full 12 V
// block and 0.10 to 0.13 V low on a flat one.
//
// Valid for a specific gravity of 1.05 to 1.32; otherwise err wraps
// [ErrDomain].
//
// Source: DOE-HDBK-1084 (0.845). Common practice: 0.84.
func OpenCircuitFromGravity(sg float64) (Range[unit.Voltage], error) {
	if err := pkg.Range("specific gravity", sg, 1.05, 1.32, domain.One); err != nil {
		return Range[unit.Voltage]{}, err
	}
	return Range[unit.Voltage]{Low: unit.Voltage(sg + 0.84), High: unit.Voltage(sg + 0.845)}, nil
}

// freezing is the freezing point (°F) of the acid against specific gravity.
// Source: US Army TM 5-1185, Table III, and OD 1002, which agree; between
// their points TM 10-6140-200-14, Table 1-1, and an owner's manual, since the
// curve bends and a straight line would read up to 5 °F too cold.
var freezing = numeric.NewTable(
	[]float64{1.000, 1.050, 1.100, 1.150, 1.160, 1.200, 1.220, 1.225, 1.250, 1.265, 1.280},
	[]float64{32, 27, 19, 5, 1, -16, -31, -35, -62, -75, -90},
)

// FreezingPoint returns the temperature at which the acid of a lead-acid cell
// begins to freeze, from its specific gravity: 32 °F at 1.000, 19 at 1.100, 5
// at 1.150, -16 at 1.200, -62 at 1.250, -90 at 1.280, straight between. Tables
// agree within 5 °F.
//
// A flat battery (1.120) freezes near +13 °F (-10 °C). A much copied chart
// says -10 °F there, and is unsafe.
//
// Valid for a specific gravity of 1.000 to 1.280; otherwise err wraps
// [ErrDomain].
//
// Source: US Army TM 5-1185, Table III; TM 10-6140-200-14, Table 1-1.
func FreezingPoint(sg float64) (unit.Temperature, error) {
	f, ok := freezing.At(sg)
	if !ok {
		lo, hi := freezing.Bounds()
		return 0, pkg.Range("specific gravity", sg, lo, hi, domain.One)
	}
	return Fahrenheit(f), nil
}
