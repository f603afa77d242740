package conductor

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Withstand is a point below the time-current curve of a fuse or breaker: it
// stays closed at so many times its rating for so long, and for anything less.
type Withstand struct {
	Multiple float64   // of the rated current, 1 to 20
	Time     unit.Time // 1 ms to 600 s
}

// A DeviceKind is a sort of fuse or breaker whose curve is known in outline. The
// zero value is one of which nothing is known but that it carries its rating.
type DeviceKind uint8

const (
	// AnyDevice carries its rated current and promises no more.
	AnyDevice DeviceKind = iota
	// TimeDelayFuse is a fuse marked as such for branch circuits.
	TimeDelayFuse
	// StripFuse is a bolt-down strip fuse for batteries and vehicles.
	StripFuse
	// ThermalMagneticBreaker is a breaker with inverse-time and magnetic trip.
	ThermalMagneticBreaker
)

// String returns the kind in words.
//
// Definition: the words of this package.
func (k DeviceKind) String() string {
	switch k {
	case AnyDevice:
		return "any device"
	case TimeDelayFuse:
		return "time-delay fuse"
	case StripFuse:
		return "bolt-down strip fuse"
	case ThermalMagneticBreaker:
		return "thermal-magnetic breaker"
	default:
		return "no device"
	}
}

// withstands holds the points of each kind. Source: UL 248-8 and 248-12, least
// opening time of a time-delay fuse (recalled); ISO 8820-5, least opening times
// of bolt-in fuse-links (recalled); common practice for breakers, well below the
// band of usual curves.
var withstands = [...][]Withstand{
	TimeDelayFuse:          {{5, 10}},
	StripFuse:              {{2, 1}, {3.5, 0.3}, {5, 0.1}},
	ThermalMagneticBreaker: {{2, 10}, {3, 3}},
}

// Withstand returns points that lie below the time-current curves of a kind: a
// time-delay fuse stands 5 times its rating for 10 s, a strip fuse twice for 1 s,
// 3.5 times for 0.3 s and 5 times for 0.1 s, a breaker twice for 10 s and 3 times
// for 3 s. They are outlines, warm devices and hot places open sooner, and the
// maker's curve goes before them. [AnyDevice] and what is no kind have none.
//
// Common practice: UL 248-8 and 248-12, ISO 8820-5 and usual breaker curves, all
// recalled.
func (k DeviceKind) Withstand() []Withstand {
	if int(k) >= len(withstands) {
		return nil
	}
	return slices.Clone(withstands[k])
}

// LeastRatingForSurge returns the least rating that surely stays closed in a
// surge of I amperes and t seconds,
//
//	In = min(I/M) over the points with T ≥ t, and I where there is none
//
// with M times the rating for T seconds as a point. A device carries its rating
// without end, so that a rating of I always holds.
//
// Valid for 1 mA to 100 kA, 1 ms to 600 s and points of 1 to 20 times; otherwise
// err wraps [ErrDomain].
//
// Definition: the points of [Withstand].
func LeastRatingForSurge(points []Withstand, i unit.Current, t unit.Time) (unit.Current, error) {
	if !(i >= 1e-3 && i <= maxCurrent && t >= minSurge && t <= maxSurge && withstandOK(points)) {
		return 0, errors.Join(pkg.Range("surge", float64(i), 1e-3, maxCurrent, domain.Ampere),
			pkg.Range("surge time", float64(t), minSurge, maxSurge, domain.Second), checkWithstand(points))
	}
	return leastForSurge(points, i, t), nil
}

func leastForSurge(points []Withstand, i unit.Current, t unit.Time) unit.Current {
	multiple := 1.0
	for _, p := range points {
		if p.Time >= t {
			multiple = max(multiple, p.Multiple)
		}
	}
	return i / unit.Current(multiple)
}

const (
	minSurge, maxSurge = 1e-3, 600 // (s)
	maxMultiple        = 20
)

func withstandOK(points []Withstand) bool {
	for _, p := range points {
		if !p.ok() {
			return false
		}
	}
	return true
}

func (p Withstand) ok() bool {
	return p.Multiple >= 1 && p.Multiple <= maxMultiple && p.Time >= minSurge && p.Time <= maxSurge
}

func checkWithstand(points []Withstand) error {
	var err error
	for n, p := range points {
		if !p.ok() {
			err = errors.Join(err, fmt.Errorf("point %d: %w", n+1, errors.Join(
				pkg.Range("multiple of the rating", p.Multiple, 1, maxMultiple, domain.One),
				pkg.Range("time", float64(p.Time), minSurge, maxSurge, domain.Second))))
		}
	}
	return err
}

// A DevicePlace is how the cable between a battery and its first fuse or breaker
// lies. The zero value is a cable without further cover.
type DevicePlace uint8

const (
	// Uncovered is a cable with its insulation alone.
	Uncovered DevicePlace = iota
	// SheathedAtBattery is one in a sheath, conduit or enclosure beside its
	// insulation that starts at a battery's terminal.
	SheathedAtBattery
	// SheathedElsewhere is one so covered that starts at a switch, a bus or
	// another terminal that the battery feeds.
	SheathedElsewhere
)

// FarthestDevice returns how far along the cable from its start the first fuse
// or breaker may be: 7 in for an uncovered cable, 72 in for a covered one from a
// battery's terminal and 40 in for a covered one from elsewhere. Nearer is
// better: what lies before the device nothing protects but the battery's own
// resistance. Starter cables are exempt on boats.
//
// A place that is none gives an error that wraps [ErrDomain].
//
// Common practice: ABYC E-11, 11.10.1 (recalled).
func FarthestDevice(p DevicePlace) (unit.Length, error) {
	switch p {
	case Uncovered:
		return 7 * Inch, nil
	case SheathedAtBattery:
		return 72 * Inch, nil
	case SheathedElsewhere:
		return 40 * Inch, nil
	default:
		return 0, pkg.Invalid("place of the device", strconv.Itoa(int(p)), "Uncovered, SheathedAtBattery or SheathedElsewhere")
	}
}
