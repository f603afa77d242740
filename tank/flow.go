package tank

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/quantity"
)

// A FlowRate is a volume of water a unit of time (m³/s): what a pump delivers,
// what taps draw, what a household uses a day. Volume over FlowRate is time:
// unit.Time(float64(v) / float64(q)).
//
// It prints in m^3/s, the unit that it holds. Read it back in another as
// float64(q / tank.USGallonPerMinute).
type FlowRate float64

// Units of flow.
const (
	// CubicMetrePerSecond is the SI unit.
	CubicMetrePerSecond FlowRate = 1
	// CubicMetrePerHour is 16.67 L/min.
	CubicMetrePerHour FlowRate = 1.0 / 3600
	// LitrePerSecond is 60 L/min.
	LitrePerSecond = FlowRate(Litre)
	// LitrePerMinute is a sixtieth of a litre a second.
	LitrePerMinute = FlowRate(Litre) / 60
	// LitrePerDay is a use, rather than a flow.
	LitrePerDay = FlowRate(Litre) / 86400
	// USGallonPerMinute is 3.785 L/min, the trade's gpm.
	USGallonPerMinute = FlowRate(USGallon) / 60
	// USGallonPerDay is a use, rather than a flow.
	USGallonPerDay = FlowRate(USGallon) / 86400
	// ImperialGallonPerMinute is 4.546 L/min.
	ImperialGallonPerMinute = FlowRate(ImperialGallon) / 60
)

// Format prints the flow in m^3/s, as gonum's unit types print: verbs v, e, f
// and g with width and precision.
//
// Definition: the SI unit of volume flow rate (ISO 80000-4).
func (q FlowRate) Format(fs fmt.State, c rune) { quantity.Format(fs, c, float64(q), "m^3/s") }

// Volume returns what flows in a time, V = q·t.
//
// Definition: volume flow rate is volume over time (ISO 80000-4).
func (q FlowRate) Volume(t unit.Time) unit.Volume { return unit.Volume(float64(q) * float64(t)) }

// Bounds of flows (m³/s). A pump delivers a litre a minute or more; 10 for
// 10 gpm lies above the upper bound.
const (
	leastPump   = LitrePerMinute
	leastDemand = FlowRate(1e-9) // a drop every half minute
	mostFlow    = 20 * LitrePerSecond
)

// pumpOK is the short cut of pumpRange.
func pumpOK(q FlowRate) bool { return q >= leastPump && q <= mostFlow }

// pumpRange refuses flows that no well pump of a house has.
func pumpRange(q FlowRate) error {
	return pkg.Range("pump flow", float64(q), float64(leastPump), float64(mostFlow), flowUnit)
}

// demandRange refuses demands other than none and a drip or more.
func demandRange(name string, q FlowRate) error {
	if q == 0 {
		return nil
	}
	return pkg.Range(name, float64(q), float64(leastDemand), float64(mostFlow), flowUnit)
}
