package tank

import (
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/quantity"
)

// Pressure.
const (
	// PSI is a pound-force a square inch.
	PSI = quantity.PSI
	// Bar is 100 kPa.
	Bar = quantity.Bar
	// Kilopascal is 1000 Pa.
	Kilopascal = quantity.Kilopascal
	// SeaLevel is the standard atmosphere, 101 325 Pa absolute.
	SeaLevel = quantity.Atmosphere
)

// Volume.
const (
	// USGallon is 231 cubic inches, 3.785 L.
	USGallon = quantity.USGallon
	// ImperialGallon is 4.546 09 L.
	ImperialGallon = quantity.ImperialGallon
	// Litre is 0.001 m³.
	Litre = quantity.Litre
)

// Length, power and time.
const (
	// Foot is 0.3048 m.
	Foot = quantity.Foot
	// Horsepower is 550 ft·lbf/s.
	Horsepower = quantity.Horsepower
	// Minute is 60 s.
	Minute = quantity.Minute
	// Hour is 3600 s.
	Hour = quantity.Hour
	// Day is 24 h.
	Day = quantity.Day
)

// How often a pump starts: 6*PerHour is six starts an hour.
const (
	PerHour = unit.Frequency(1.0 / 3600)
	PerDay  = unit.Frequency(1.0 / 86400)
)

// A Range is what is known of a quantity: it lies between Low and High.
type Range[T ~float64] = quantity.Range[T]

// Celsius returns the temperature t °C as a point in kelvin.
//
// Definition: T = t + 273.15 K (9th SI brochure).
func Celsius(t float64) unit.Temperature { return quantity.Celsius(t) }

// InCelsius reads a temperature back in °C.
//
// Definition: t = T − 273.15 K (9th SI brochure).
func InCelsius(t unit.Temperature) float64 { return quantity.InCelsius(t) }

// Fahrenheit returns the temperature t °F as a point in kelvin.
//
// Definition: T = (t + 459.67)/1.8 K (NIST Special Publication 811, appendix B).
func Fahrenheit(t float64) unit.Temperature { return quantity.Fahrenheit(t) }

// InFahrenheit reads a temperature back in °F.
//
// Definition: t = 1.8·T − 459.67 (NIST Special Publication 811, appendix B).
func InFahrenheit(t unit.Temperature) float64 { return quantity.InFahrenheit(t) }
