package inverter

import (
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// An ApparentPower is rms volts times rms amperes (VA). It limits an inverter;
// real power (W) empties the battery.
type ApparentPower = quantity.ApparentPower

// A Range is what is known of a quantity: it lies between Low and High.
type Range[T ~float64] = quantity.Range[T]

// Units that multiply plain numbers: 1500*inverter.VoltAmpere.
const (
	// VoltAmpere is the unit of apparent power.
	VoltAmpere = quantity.VoltAmpere
	// KilovoltAmpere is 1000 VA.
	KilovoltAmpere = 1000 * quantity.VoltAmpere
	// Kilowatt is 1000 W.
	Kilowatt = quantity.Kilowatt
	// Milliohm is 0.001 Ω, the size of battery and cable resistances.
	Milliohm = unit.Resistance(1e-3)
	// AmpereHour is 3600 C.
	AmpereHour = quantity.AmpereHour
	// WattHour is 3600 J.
	WattHour = quantity.WattHour
	// KilowattHour is 3.6 MJ.
	KilowattHour = quantity.KilowattHour
	// Minute is 60 s.
	Minute = quantity.Minute
	// Hour is 3600 s.
	Hour = quantity.Hour
	// Day is 24 h.
	Day = quantity.Day
)

// Exactly returns the range that holds x alone.
//
// Definition: Low = High = x.
func Exactly[T ~float64](x T) Range[T] { return quantity.Exactly(x) }

// Bounds common to several models.
const (
	mostPower = 1e6 // (W) or (VA): more than any stand-alone inverter meets
	mostTime  = 400 * 24 * 3600.0
	leastVolt = 5
	mostVolt  = 1000
)

// acPower refuses a load that is negative, not a number or beyond 1 MW.
func acPower(p unit.Power) error {
	return pkg.Range("ac power", float64(p), 0, mostPower, domain.Watt)
}

// dcVoltage refuses a dc voltage outside 5 V to 1 kV.
func dcVoltage(name string, v unit.Voltage) error {
	return pkg.Range(name, float64(v), leastVolt, mostVolt, domain.Volt)
}

// span refuses a time that is negative or longer than 400 days.
func span(name string, t unit.Time) error {
	return pkg.Range(name, float64(t), 0, mostTime, domain.Hour)
}
