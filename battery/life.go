package battery

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// The temperature rises that halve the life of a lead-acid battery.
const (
	// HalvingTrade is 10 °C: the trade's figure, and that of a printed table
	// for seven types of battery.
	HalvingTrade = unit.Temperature(10)
	// HalvingIEEE is 15 °F, which is 8.33 °C.
	HalvingIEEE = unit.Temperature(15 / 1.8)
)

// coldestLife is the temperature below which no further life is credited.
const coldestLife = 15.0 // (°C)

// LifeFactor returns the service life at a temperature over that at 25 °C,
//
//	f = 2^(-(T - 25)/D)
//
// where T is the temperature (°C) and D the rise that halves the life (°C, a
// difference: [HalvingTrade] or [HalvingIEEE]). Corrosion and loss of water go
// on at a rate of which this is the inverse. Below 15 °C the factor of 15 °C
// stands: the cold does not lengthen life without limit, and other things end
// it.
//
// Valid for -40 to 60 °C and D of 5 to 20 °C; otherwise err wraps [ErrDomain].
// Above 40 °C it is an extrapolation.
//
// Source: IEEE Std 450 and 1188 (15 °F, recalled); Vader, Energy Unlimited,
// section 2.5.9 (10 °C). Common practice: nothing credited below 15 °C.
func LifeFactor(t, halving unit.Temperature) (float64, error) {
	if err := errors.Join(checkTemperature("battery temperature", t), checkHalving(halving)); err != nil {
		return 0, err
	}
	return math.Exp2((25 - max(InCelsius(t), coldestLife)) / float64(halving)), nil
}

func checkHalving(d unit.Temperature) error {
	if d >= 5 && d <= 20 {
		return nil
	}
	return pkg.Invalid("temperature rise that halves the life", strconv.FormatFloat(float64(d), 'g', 6, 64)+" °C", "5 °C to 20 °C, a difference")
}

// A Spell is a share of the year spent at one temperature.
type Spell struct {
	Temperature unit.Temperature
	Share       float64 // of the time, above 0; the shares add up to 1
}

// MeanLifeFactor returns the service life over a year of several temperatures
// over that at 25 °C,
//
//	1/f = Σ w/f(T)
//
// where w is the share of each and f(T) its [LifeFactor]. It is the rates of
// ageing that are averaged. Half a year at 15 and half at 35 °C, which is 25 on
// the average, takes a fifth off the life.
//
// No spell, shares that are not above 0 or do not add up to 1 within 1 %, and
// what LifeFactor refuses, is an [ErrDomain]; the sum is scaled to 1.
//
// Source: linear damage (Palmgren, Miner) of the rates of [LifeFactor].
func MeanLifeFactor(halving unit.Temperature, spells ...Spell) (float64, error) {
	var total, rate float64
	for _, s := range spells {
		f, err := LifeFactor(s.Temperature, halving)
		if err := errors.Join(err, checkFraction("share of the year", s.Share, 1e-6)); err != nil {
			return 0, err
		}
		total += s.Share
		rate += s.Share / f
	}
	if err := pkg.Range("sum of the shares of the year", total, 0.99, 1.01, domain.One); err != nil {
		return 0, err
	}
	return total / rate, nil
}
