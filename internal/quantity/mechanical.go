package quantity

import (
	"fmt"

	"gonum.org/v1/gonum/unit"
)

// twoPi is 2π.
const twoPi = 2 * 3.14159265358979323846264338327950288419716939937510582097494459

// An Inertia is a moment of inertia (kg·m²): the sum of mass times the square
// of its distance from the shaft. The trade writes Wk², or, on the continent
// of old, the flywheel effect GD², four times as large.
//
// Definition: ISO 80000-4, moment of inertia.
type Inertia float64

// Moments of inertia.
const (
	KilogramSquareMetre = Inertia(1)
	// PoundSquareFoot is a pound of mass a foot from the shaft.
	PoundSquareFoot = Inertia(pound * foot * foot)
)

// Format prints the value with its unit, as gonum's unit types do: verbs v,
// e, f and g with width and precision.
func (j Inertia) Format(fs fmt.State, c rune) { Format(fs, c, float64(j), "kg m^2") }

// A Speed is the angular speed of a shaft (rad/s).
//
// Definition: ISO 80000-3, angular velocity.
type Speed float64

// RPM is one revolution a minute.
const RPM = Speed(twoPi / 60)

// Format prints the value with its unit, as gonum's unit types do: verbs v,
// e, f and g with width and precision.
func (w Speed) Format(fs fmt.State, c rune) { Format(fs, c, float64(w), "rad/s") }

// FootPound is the torque of a pound-force at a foot (lb·ft).
const FootPound = unit.Torque(foot * poundForce)
