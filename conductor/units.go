package conductor

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/quantity"
)

// Length.
const (
	Metre = unit.Length(1)
	Foot  = quantity.Foot
	Inch  = quantity.Inch
	// Mil is a thousandth of an inch.
	Mil = quantity.Mil
)

// Area.
const (
	SquareMillimetre = quantity.SquareMillimetre
	// CircularMil is the area of a circle one mil across.
	CircularMil = quantity.CircularMil
	// KCMil is a thousand circular mils; older print calls it MCM.
	KCMil = quantity.KCMil
)

// A ResistancePerLength is the resistance of one conductor (Ω/m), not of the
// loop out and back.
//
// Definition: SI, ohm per metre.
type ResistancePerLength float64

// Resistance per length.
const (
	OhmPerMetre     ResistancePerLength = 1
	OhmPerKilometre                     = OhmPerMetre / 1000
	OhmPerFoot                          = OhmPerMetre / ResistancePerLength(quantity.Foot)
	OhmPerKilofoot                      = OhmPerFoot / 1000
)

// Format prints the value in Ω/m, as gonum's unit types print theirs: verbs
// v, e, f and g with width and precision.
//
// Definition: SI.
func (r ResistancePerLength) Format(fs fmt.State, c rune) {
	quantity.Format(fs, c, float64(r), "Ω/m")
}

// Over returns the resistance of a conductor of length l,
//
//	R = r·l
//
// with r in ohms per metre and l in metres: once, not out and back. It is good
// for all inputs and passes NaN on.
//
// Definition: resistance of a uniform conductor.
func (r ResistancePerLength) Over(l unit.Length) unit.Resistance {
	return unit.Resistance(float64(r) * float64(l))
}

// A Resistivity is the resistance of a unit cube of metal (Ω·m).
//
// Definition: SI, ohm metre.
type Resistivity float64

// Resistivity.
const (
	OhmMetre Resistivity = 1
	// OhmCircularMilPerFoot is the unit of the trade's K: the resistance of a
	// foot of wire one mil across.
	OhmCircularMilPerFoot = Resistivity(quantity.CircularMil / unit.Area(quantity.Foot))
	// OhmSquareMillimetrePerMetre is 1 µΩ·m.
	OhmSquareMillimetrePerMetre = Resistivity(quantity.SquareMillimetre)
)

// Format prints the value in Ω·m, as gonum's unit types print theirs.
//
// Definition: SI.
func (r Resistivity) Format(fs fmt.State, c rune) {
	quantity.Format(fs, c, float64(r), "Ω·m")
}

// Celsius returns the temperature t °C as a point in kelvin. It is good for
// all inputs; the functions that take a temperature check it.
//
// Definition: T = t + 273.15 K (SI brochure).
func Celsius(t float64) unit.Temperature { return quantity.Celsius(t) }

// InCelsius reads a temperature back in °C.
//
// Definition: t = T − 273.15 K (SI brochure).
func InCelsius(t unit.Temperature) float64 { return quantity.InCelsius(t) }

// Fahrenheit returns the temperature t °F as a point in kelvin.
//
// Definition: T = (t − 32)/1.8 + 273.15 K (NIST SP 811).
func Fahrenheit(t float64) unit.Temperature { return quantity.Fahrenheit(t) }

// InFahrenheit reads a temperature back in °F.
//
// Definition: t = 1.8·(T − 273.15 K) + 32 (NIST SP 811).
func InFahrenheit(t unit.Temperature) float64 { return quantity.InFahrenheit(t) }
