package conductor

import (
	"errors"

	"ridethrough.example/internal/domain"
)

const pkg = domain.Package("conductor")

// ErrDomain is what every argument error of this package is, by [errors.Is].
var ErrDomain = domain.ErrDomain

// A DomainError names the refused argument, its value and the accepted range.
// Reach it with [errors.As]; several at once are joined.
type DomainError = domain.Error

// ErrCollapse is the answer where no voltage at the load satisfies source,
// line and load together: the line is too long or too thin for the demand.
// The errors [CurrentLimitError] and [PowerLimitError] carry the figures.
var ErrCollapse = errors.New("conductor: the load voltage collapses")

// ErrNoSize is the answer where none of the sizes offered keeps the drop
// within the allowed one. [NoSizeError] carries the figures.
var ErrNoSize = errors.New("conductor: no size suffices")

// Limits of the arguments, in SI units. They are wide enough for any battery
// or branch circuit and narrow enough to show a forgotten unit.
const (
	minLength, maxLength           = 0.01, 20e3                   // (m)
	minTemperature, maxTemperature = 213.15 - 1e-6, 573.15 + 1e-6 // (K), −60 and 300 °C with room for rounding
	maxCurrent                     = 100e3                        // (A)
	minSource, maxSource           = 1, 35e3
	minPowerFactor                 = 0.05
	maxReactance                   = 2e-3 // (Ω/m)
	maxPerLength                   = 100  // (Ω/m), 40 AWG has 3.4
	maxImpedance                   = 1e6  // (Ω)
	minDrop, maxDrop               = 1e-3, 35e3
)

var perKilometre = domain.Unit{Symbol: "Ω/km", Size: 1e-3, Base: "Ω/m"}

func checkTemperature(t float64) error {
	return pkg.Range("temperature", t, minTemperature, maxTemperature, domain.Celsius)
}

func checkOneWay(l float64) error {
	return pkg.Range("one-way length", l, minLength, maxLength, domain.Metre)
}
