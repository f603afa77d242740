package tank

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// How well a well gives, by a pumping test.

// A SpecificCapacity is what flows into a well for each metre by which its
// level is drawn down (m²/s). Read it back as
// float64(c / tank.USGallonPerMinutePerFoot).
type SpecificCapacity float64

const (
	// SquareMetrePerSecond is the SI unit, a cubic metre a second for a metre.
	SquareMetrePerSecond SpecificCapacity = 1
	// USGallonPerMinutePerFoot is 0.207 L/s for a metre.
	USGallonPerMinutePerFoot = SpecificCapacity(USGallonPerMinute) / SpecificCapacity(Foot)
)

// Format prints the figure in m^2/s, as gonum's unit types print.
//
// Definition: flow over drawdown, in SI units.
func (c SpecificCapacity) Format(fs fmt.State, v rune) { quantity.Format(fs, v, float64(c), "m^2/s") }

// SpecificCapacityOf returns the specific capacity that a pumping test shows,
//
//	c = Q/s
//
// where Q is the flow (m³/s) and s the drawdown once the level has settled, see
// [AirLine] (m). It falls with the years as the screen clogs, and after days of
// pumping in a dry season.
//
// Valid for flows of 1e-6 to 0.25 m³/s, drawdowns of 10 mm to 600 m and a result
// of 1e-7 to 0.1 m²/s; otherwise err wraps [ErrDomain].
//
// Definition: specific capacity is discharge over drawdown.
func SpecificCapacityOf(flow FlowRate, drawdown unit.Length) (SpecificCapacity, error) {
	err := errors.Join(
		pkg.Range("flow", float64(flow), float64(leastPipeFlow), float64(mostPipeFlow), flowUnit),
		pkg.Range("drawdown of the well", float64(drawdown), 0.01, float64(mostDepth), domain.Metre),
	)
	if err != nil {
		return 0, err
	}
	c := SpecificCapacity(float64(flow) / float64(drawdown))
	if err := c.inRange(); err != nil {
		return 0, err
	}
	return c, nil
}

// Bounds of capacity, from a tight bedrock well to a gravel bed. A bare 1 for 1
// gal/min a foot lies outside.
const leastCapacity, mostCapacity = SpecificCapacity(1e-7), SpecificCapacity(0.1)

var capacityUnit = domain.Unit{Symbol: "m²/s", Size: 1}

func (c SpecificCapacity) inRange() error {
	return pkg.Range("specific capacity", float64(c), float64(leastCapacity), float64(mostCapacity), capacityUnit)
}
