package conductor

import (
	"errors"
	"fmt"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A CableLimit says how far above the ampacity of a cable the rating of its
// fuse or breaker may lie. The zero value is the strictest.
type CableLimit uint8

const (
	// NotAboveAmpacity lets no device be rated above the ampacity.
	NotAboveAmpacity CableLimit = iota
	// NextStandardUp lets it be the next standard rating up to 800 A, as
	// [StandardRatings.ForAmpacity]; the small conductors' own limit comes
	// beside it.
	NextStandardUp
	// BoatLimit lets it be 150 % of the ampacity, where no rating nearer to the
	// ampacity is to be had.
	BoatLimit
)

// String returns the limit in words.
//
// Definition: the words of this package.
func (l CableLimit) String() string {
	switch l {
	case NotAboveAmpacity:
		return "not above the ampacity"
	case NextStandardUp:
		return "next standard rating up"
	case BoatLimit:
		return "150 % of the ampacity"
	default:
		return "no limit"
	}
}

const (
	continuousFactor = 1.25
	boatFactor       = 1.5
)

// A Protection is a cable whose fuse or breaker is looked for.
type Protection struct {
	Running unit.Current // the largest that flows for long
	// Intermittent: Running flows for less than three hours at a time, so that
	// the device may be rated for 100 % of it instead of 125 %.
	Intermittent bool
	// Surge flows for SurgeTime at the start and must not open the device; both
	// zero: no surge.
	Surge     unit.Current
	SurgeTime unit.Time
	Ampacity  unit.Current // of the cable, where it lies
	Limit     CableLimit   // zero: not above the ampacity
	// Ratings is the list to choose from; zero: breakers. The fuses of batteries
	// and vehicles, 80 A to 400 A and more, have ratings of that list.
	Ratings StandardRatings
	// Withstand is what the device stands for a short time, read off its
	// time-current curve or from [DeviceKind.Withstand]; empty: a device that
	// nothing is known of but its rating.
	Withstand []Withstand
}

// A SurgeVerdict says what is known of a device while a surge flows. The zero
// value is that of a cable without surge.
type SurgeVerdict uint8

const (
	// NoSurge was stated.
	NoSurge SurgeVerdict = iota
	// SurgeHolds says that the points of the curve that were given keep the device
	// closed.
	SurgeHolds
	// SurgeUndecided says that the points do not tell; the maker's time-current
	// curve has to be read.
	SurgeUndecided
)

// String returns the verdict in words.
//
// Definition: the words of this package.
func (v SurgeVerdict) String() string {
	switch v {
	case NoSurge:
		return "no surge stated"
	case SurgeHolds:
		return "stays closed"
	case SurgeUndecided:
		return "time-current curve must decide"
	default:
		return "no verdict"
	}
}

// A DeviceChoice is the window of ratings that protect a cable and carry its
// load, and a rating out of it.
type DeviceChoice struct {
	Least, Most unit.Current // ends of the window: what the load asks, what the cable allows
	// ForSurge is the least rating that surely stays closed in the surge; zero
	// without one.
	ForSurge unit.Current
	// Smallest and Largest are the standard ratings at the ends of the window.
	Smallest, Largest unit.Current
	// Rating is the smallest one in the window that surely stays closed, and
	// Largest where none does.
	Rating unit.Current
	Surge  SurgeVerdict // at Rating
}

// Device returns the ratings between what the load asks for and what the cable
// allows,
//
//	1.25·Irunning ≤ In ≤ Iz, the next standard rating above Iz, or 1.5·Iz
//
// with the ampacity Iz (A) and the factor 1 instead of 1.25 for intermittent
// loads, and chooses the smallest that stands the surge. Motor circuits of the
// code have wider limits: see [MotorCircuit].
//
// Where no standard rating lies in the window the cable is too small for the
// load, and err is a [NoRatingError], which is [ErrNoRating]. Valid for 1 mA to
// 4 kA of running current, 1 A to 4 kA of ampacity, a surge of at least the running
// current up to 100 kA and 1 ms to 600 s; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 210.20(A) and 215.3 for 125 %, 240.4(B) and (C), 240.6(A);
// IEC 60364-4-43, 433.1 (In ≤ Iz); ABYC E-11, 11.10.1.1 for 150 % (recalled).
func (p Protection) Device() (DeviceChoice, error) {
	if !p.ok() {
		return DeviceChoice{}, p.check()
	}
	c := DeviceChoice{Least: p.Running * continuousFactor}
	if p.Intermittent {
		c.Least = p.Running
	}
	var largest float64
	switch p.Limit {
	case BoatLimit:
		c.Most = p.Ampacity * boatFactor
		largest = p.Ratings.down(float64(c.Most))
	case NextStandardUp:
		up, err := p.Ratings.ForAmpacity(p.Ampacity)
		if err != nil {
			return DeviceChoice{}, err
		}
		c.Most, largest = up, float64(up)
	default:
		c.Most = p.Ampacity
		largest = p.Ratings.down(float64(c.Most))
	}
	smallest, err := p.Ratings.Up(c.Least)
	if err != nil {
		return DeviceChoice{}, err
	}
	c.Smallest, c.Largest = smallest, unit.Current(largest)
	if c.Smallest > c.Largest {
		return DeviceChoice{}, &NoRatingError{Least: c.Least, Most: c.Most, Next: c.Smallest}
	}
	c.Rating = c.Smallest
	if p.Surge == 0 {
		return c, nil
	}
	c.ForSurge = leastForSurge(p.Withstand, p.Surge, p.SurgeTime)
	if !(c.ForSurge <= c.Largest*(1+ratingSlack)) {
		c.Rating, c.Surge = c.Largest, SurgeUndecided
		return c, nil
	}
	up, err := p.Ratings.Up(max(c.Least, c.ForSurge))
	if err != nil {
		return DeviceChoice{}, err
	}
	c.Rating, c.Surge = up, SurgeHolds
	return c, nil
}

func (p Protection) ok() bool {
	surge := p.Surge == 0 && p.SurgeTime == 0 ||
		p.Surge >= p.Running && p.Surge <= maxCurrent && p.SurgeTime >= minSurge && p.SurgeTime <= maxSurge
	return p.Running >= 1e-3 && p.Running <= maxProtected && p.Ampacity >= 1 && p.Ampacity <= maxProtected && surge &&
		p.Limit <= BoatLimit && p.Ratings <= StandardFuses && withstandOK(p.Withstand)
}

const maxProtected = 4000 // (A), so that 150 % are on the list

func (p Protection) check() error {
	err := errors.Join(
		pkg.Range("running current", float64(p.Running), 1e-3, maxProtected, domain.Ampere),
		pkg.Range("ampacity", float64(p.Ampacity), 1, maxProtected, domain.Ampere),
		p.Ratings.check(15, 1), checkWithstand(p.Withstand))
	if p.Surge != 0 || p.SurgeTime != 0 {
		err = errors.Join(err, pkg.Range("surge", float64(p.Surge), float64(p.Running), maxCurrent, domain.Ampere),
			pkg.Range("surge time", float64(p.SurgeTime), minSurge, maxSurge, domain.Second))
	}
	if p.Limit > BoatLimit {
		err = errors.Join(err, pkg.Invalid("cable limit", strconv.Itoa(int(p.Limit)), "NotAboveAmpacity, NextStandardUp or BoatLimit"))
	}
	return err
}

// ErrNoRating is the answer where no standard rating both carries the load and
// protects the cable. [NoRatingError] carries the figures.
var ErrNoRating = errors.New("conductor: no standard rating carries the load and protects the cable")

// A NoRatingError says which ratings the load asks for and the cable allows. It
// is [ErrNoRating].
type NoRatingError struct {
	Least unit.Current // that the load asks for
	Most  unit.Current // that the cable allows
	Next  unit.Current // the standard rating from Least upwards
}

// Error gives the figures in words.
//
// Definition: the fields of the error.
func (e *NoRatingError) Error() string {
	return fmt.Sprintf("%v: at least %.4g asked for, a standard %.4g, at most %.4g allowed", ErrNoRating, e.Least, e.Next, e.Most)
}

// Is reports whether target is [ErrNoRating].
//
// Definition: every NoRatingError is this answer.
func (e *NoRatingError) Is(target error) bool { return target == ErrNoRating }
