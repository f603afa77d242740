package battery

import (
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ErrDomain is what every refused argument is, by [errors.Is].
var ErrDomain = domain.ErrDomain

// A DomainError says which argument was refused, and what would be accepted.
type DomainError = domain.Error

const pkg = domain.Package("battery")

// Bounds that several files share. The lower ones catch a forgotten unit: a
// bare 1000 for 1000 Ah is 0.28 Ah, a bare 100 for the 100 h rate 1.7 min.
const (
	leastCapacity = 0.5 * AmpereHour
	mostCapacity  = 100e3 * AmpereHour

	leastCurrent = unit.Current(1e-3)
	mostCurrent  = unit.Current(100e3)

	leastResistance = unit.Resistance(1e-6)
	mostResistance  = unit.Resistance(10)
)

func checkCapacity(name string, c unit.Charge) error {
	return pkg.Range(name, float64(c), float64(leastCapacity), float64(mostCapacity), domain.AmpereHour)
}

func checkCurrent(name string, i unit.Current) error {
	return pkg.Range(name, float64(i), float64(leastCurrent), float64(mostCurrent), domain.Ampere)
}

func checkFraction(name string, x, lo float64) error {
	return pkg.Range(name, x, lo, 1, domain.One)
}

// checkRange refuses a range with an end outside lo to hi, or upside down.
func checkRange[T ~float64](name string, r Range[T], lo, hi float64, u domain.Unit) error {
	if err := pkg.Range(name, float64(r.Low), lo, hi, u); err != nil {
		return err
	}
	// The high end must not be below the low one.
	return pkg.Range(name, float64(r.High), float64(r.Low), hi, u)
}
