// Package quantity holds the one exact definition of every unit that the
// library speaks, as products of defined numbers, never as pasted digits.
// The five public packages re-declare the ones that they use.
//
//   - quantity.go: units of length, mass, force, pressure, power, volume, charge
//   - apparent.go: apparent power in volt-amperes, which is no unit.Power
//   - mechanical.go: inertia, speed and torque of a shaft
//   - format.go: how a quantity prints, for the types gonum does not have
package quantity

import "gonum.org/v1/gonum/unit"

// Exact factors.
//
// Source: international yard and pound agreement of 1959 (inch, pound),
// 3rd CGPM 1901 (standard gravity); NIST Special Publication 811, appendix B.
const (
	inch    = 0.0254     // (m)
	foot    = 12 * inch  // (m)
	pound   = 0.45359237 // (kg)
	gravity = 9.80665    // (m/s²)

	poundForce = pound * gravity // (N)

	// quarterPi is π/4, which the circular mil needs.
	quarterPi = 3.14159265358979323846264338327950288419716939937510582097494459 / 4
)

// Length and area.
const (
	Inch = unit.Length(inch)
	Foot = unit.Length(foot)
	Mil  = unit.Length(inch / 1000)

	// CircularMil is the area of a circle one mil across, π/4 mil².
	CircularMil = unit.Area(quarterPi * (inch / 1000) * (inch / 1000))
	// KCMil is a thousand circular mils; older print calls it MCM.
	KCMil = 1000 * CircularMil
	// SquareMillimetre is 1e-6 m².
	SquareMillimetre = unit.Area(1e-6)
)

// Pressure.
const (
	// PSI is a pound-force a square inch.
	PSI        = unit.Pressure(poundForce / (inch * inch))
	Bar        = unit.Pressure(100e3)
	Kilopascal = unit.Pressure(1e3)
	// Atmosphere is the standard atmosphere, 101 325 Pa.
	Atmosphere = unit.Pressure(101325)
)

// Power.
const (
	// Horsepower is 550 ft·lbf/s, 745.699 872 W. Codes and textbooks round
	// it to 746 W, which is 0.04 % more.
	Horsepower = unit.Power(550 * foot * poundForce)
	// MetricHorsepower is 75 kgf·m/s, 735.498 75 W.
	MetricHorsepower = unit.Power(75 * gravity)
	Kilowatt         = unit.Power(1e3)
)

// Volume.
const (
	// USGallon is 231 cubic inches.
	USGallon = unit.Volume(231 * inch * inch * inch)
	// ImperialGallon is 4.546 09 L.
	ImperialGallon = unit.Volume(4.54609e-3)
	Litre          = unit.Volume(1e-3)
)

// Charge, energy and time.
const (
	Minute       = unit.Time(60)
	Hour         = unit.Time(3600)
	Day          = 24 * Hour
	AmpereHour   = unit.Charge(3600)
	WattHour     = unit.Energy(3600)
	KilowattHour = 1000 * WattHour
)

// zeroCelsius is 0 °C in kelvin.
const zeroCelsius = 273.15

// Celsius returns the temperature t °C as a point in kelvin.
func Celsius(t float64) unit.Temperature { return unit.Temperature(t + zeroCelsius) }

// InCelsius reads a temperature back in °C.
func InCelsius(t unit.Temperature) float64 { return float64(t) - zeroCelsius }

// Fahrenheit returns the temperature t °F as a point in kelvin.
func Fahrenheit(t float64) unit.Temperature { return Celsius((t - 32) / 1.8) }

// InFahrenheit reads a temperature back in °F.
func InFahrenheit(t unit.Temperature) float64 { return InCelsius(t)*1.8 + 32 }
