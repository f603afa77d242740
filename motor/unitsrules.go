package motor

import (
	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// The units in which the errors of windings, shafts and rules speak.
var (
	capacitanceUnit = domain.Unit{Symbol: "F", Size: 1, SI: true}
	angleUnit       = domain.Unit{Symbol: "rad", Size: 1}
	torqueUnit      = domain.Unit{Symbol: "N·m", Size: 1}
	energyUnit      = domain.Unit{Symbol: "J", Size: 1, SI: true}
	inertiaUnit     = domain.Unit{Symbol: "lb·ft²", Size: float64(quantity.PoundSquareFoot), Base: "kg·m²"}
	speedUnit       = domain.Unit{Symbol: "rpm", Size: float64(quantity.RPM), Base: "rad/s"}
)

// finite reports whether x is a number and no infinity.
func finite(x float64) bool { return x-x == 0 }
