package battery

import (
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/quantity"
)

// The units that a caller of this package needs.
const (
	// AmpereHour is 3600 C.
	AmpereHour = quantity.AmpereHour
	// WattHour is 3600 J.
	WattHour = quantity.WattHour
	// KilowattHour is 1000 Wh.
	KilowattHour = quantity.KilowattHour
	// Minute is 60 s.
	Minute = quantity.Minute
	// Hour is 3600 s.
	Hour = quantity.Hour
	// Day is 24 h.
	Day = quantity.Day
	// Milliohm is 0.001 Ω.
	Milliohm = unit.Resistance(1e-3)
)

// A Range is what is known of a quantity: it lies between Low and High.
type Range[T ~float64] = quantity.Range[T]

// Celsius returns the temperature t °C.
//
// Definition: T = t + 273.15 K.
func Celsius(t float64) unit.Temperature { return quantity.Celsius(t) }

// InCelsius reads a temperature back in °C.
//
// Definition: t = T - 273.15 K.
func InCelsius(t unit.Temperature) float64 { return quantity.InCelsius(t) }

// Fahrenheit returns the temperature t °F.
//
// Definition: T = (t - 32)/1.8 + 273.15 K.
func Fahrenheit(t float64) unit.Temperature { return quantity.Fahrenheit(t) }

// InFahrenheit reads a temperature back in °F.
//
// Definition: t = 1.8·(T - 273.15 K) + 32.
func InFahrenheit(t unit.Temperature) float64 { return quantity.InFahrenheit(t) }
