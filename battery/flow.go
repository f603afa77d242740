package battery

import (
	"fmt"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// A FlowRate is a volume a time (m³/s): of air and hydrogen in a battery room,
// of fuel in a generator.
//
// Definition: 1 m³/s.
type FlowRate float64

// Units of flow. As with all units here, multiply to put a figure in and
// divide to read it back.
const (
	// CubicMetrePerHour is 1/3600 m³/s.
	CubicMetrePerHour FlowRate = 1.0 / 3600
	// LitrePerSecond is 0.001 m³/s.
	LitrePerSecond FlowRate = 1e-3
	// CubicFootPerMinute is 1728 cubic inches a minute, the "cfm" of fans.
	CubicFootPerMinute = FlowRate(quantity.Foot*quantity.Foot*quantity.Foot) / 60
	// USGallonPerHour is 231 cubic inches an hour.
	USGallonPerHour = FlowRate(quantity.USGallon) / 3600
)

// Format prints the value with its unit, as the types of gonum do.
func (q FlowRate) Format(fs fmt.State, c rune) { quantity.Format(fs, c, float64(q), "m³/s") }

// The units in which refused flows are shown.
var (
	airflowUnit  = domain.Unit{Symbol: "m³/h", Size: float64(CubicMetrePerHour), Base: "m³/s"}
	fuelflowUnit = domain.Unit{Symbol: "gal/h", Size: float64(USGallonPerHour), Base: "m³/s"}
)
