package motor

import (
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// Units of power.
const (
	// Horsepower is 550 ft·lbf/s, 745.699 872 W. Codes and textbooks round it
	// to 746 W.
	Horsepower = quantity.Horsepower
	// MetricHorsepower is 75 kgf·m/s, 735.498 75 W.
	MetricHorsepower = quantity.MetricHorsepower
	// Kilowatt is 1000 W.
	Kilowatt = quantity.Kilowatt
)

// An ApparentPower is rms volts times rms amperes (VA), which is not what a
// battery delivers: real power (W) is apparent power times power factor.
type ApparentPower = quantity.ApparentPower

// VoltAmpere is the unit of apparent power.
const VoltAmpere = quantity.VoltAmpere

// A Range is what is known of a quantity: it lies between Low and High.
type Range[T ~float64] = quantity.Range[T]

// Exactly returns the range that holds x alone.
//
// Definition: Low = High = x.
func Exactly[T ~float64](x T) Range[T] { return quantity.Exactly(x) }

// times returns the range of products of two ranges of positive numbers.
func times[T, U, P ~float64](a Range[T], b Range[U]) Range[P] {
	return Range[P]{Low: P(float64(a.Low) * float64(b.Low)), High: P(float64(a.High) * float64(b.High))}
}

// checkRange refuses a range that is upside down or leaves lo to hi.
func checkRange[T ~float64](name string, r Range[T], lo, hi float64, u domain.Unit) error {
	if within(float64(r.Low), lo, hi) && within(float64(r.High), lo, hi) && r.Valid() {
		return nil
	}
	if err := pkg.Range("least "+name, float64(r.Low), lo, hi, u); err != nil {
		return err
	}
	return pkg.Range("greatest "+name, float64(r.High), float64(r.Low), hi, u)
}

// lineFactor returns 1 for one phase and √3 for three: volt-amperes are this
// times line volts times line amperes.
func lineFactor(phases int) float64 {
	if phases == 3 {
		return sqrt3
	}
	return 1
}

const sqrt3 = 1.73205080756887729352744634150587236694280525381038062805580698

// The bounds that catch a forgotten unit: a bare 1 for 1 hp is 1 W.
const (
	leastOutput        = float64(Horsepower) / 20 * (1 - 1e-9)
	greatestOutput     = 500 * float64(Horsepower) * (1 + 1e-9)
	leastVolts         = 10
	greatestVolts      = 15e3
	leastAmperes       = 0.05
	greatestAmps       = 20e3
	leastEfficiency    = 0.05
	greatestEfficiency = 0.99
	leastPowerFactor   = 0.1
)

// The good functions are the check functions' bounds alone: kernels ask them
// first, so that gathering all faults costs nothing where there is none.

func within(x, lo, hi float64) bool { return x >= lo && x <= hi }

func goodOutput(p unit.Power) bool { return within(float64(p), leastOutput, greatestOutput) }

func goodVoltage(v unit.Voltage) bool { return within(float64(v), leastVolts, greatestVolts) }

func goodCurrent(i unit.Current) bool { return within(float64(i), leastAmperes, greatestAmps) }

func goodPhases(phases int) bool { return phases == 1 || phases == 3 }

func goodEfficiency(x float64) bool { return within(x, leastEfficiency, greatestEfficiency) }

func goodPowerFactor(x float64) bool { return within(x, leastPowerFactor, 1) }

func checkOutput(p unit.Power) error {
	return pkg.Range("output", float64(p), leastOutput, greatestOutput, domain.Horsepower)
}

func checkVoltage(v unit.Voltage) error {
	return pkg.Range("voltage", float64(v), leastVolts, greatestVolts, domain.Volt)
}

func checkCurrent(name string, i unit.Current) error {
	return pkg.Range(name, float64(i), leastAmperes, greatestAmps, domain.Ampere)
}

func checkPhases(phases int) error {
	if goodPhases(phases) {
		return nil
	}
	return pkg.Invalid("number of phases", strconv.Itoa(phases), "1 or 3")
}

func checkEfficiency(x float64) error {
	return pkg.Range("efficiency", x, leastEfficiency, greatestEfficiency, domain.One)
}

func checkPowerFactor(x float64) error {
	return pkg.Range("power factor", x, leastPowerFactor, 1, domain.One)
}
