package conductor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// An AdiabaticFactor is the k of a conductor that keeps all the heat of a short
// current: current density times the root of time (A·√s/m²) that brings it from
// its initial to its final temperature.
//
// Definition: IEC 60364-5-54, k in S = √(I²·t)/k.
type AdiabaticFactor float64

// Units of the factor: the one of IEC tables and the one of ICEA charts, where
// it is called C.
const (
	AmpereRootSecondPerSquareMillimetre = AdiabaticFactor(1 / SquareMillimetre)
	AmpereRootSecondPerCircularMil      = AdiabaticFactor(1 / CircularMil)
)

// A JouleIntegral is the let-through energy I²·t of a current (A²·s): what a
// fuse or breaker lets pass before it clears.
//
// Definition: IEC 60050-441-18-23.
type JouleIntegral float64

// AmpereSquaredSecond is the unit of [JouleIntegral].
const AmpereSquaredSecond JouleIntegral = 1

// Limits of the arguments.
const (
	minAdiabatic, maxAdiabatic       = 1e6, 400e6 // (A·√s/m²)
	minShort, maxShort               = 0.1, 5     // (s)
	minFaultCurrent, maxFaultCurrent = 1, 1e6     // (A)
	minJoule, maxJoule               = 1e-2, 1e12 // (A²·s)
	hottestAdiabatic                 = 500 + 273.15 + 1e-6
	coldestAdiabatic                 = minTemperature
)

// ErrOutsideAdiabatic is the answer where a current reaches the limit in a time
// for which the adiabatic law does not hold, too short or too long. [AdiabaticTimeError] carries the figures.
var ErrOutsideAdiabatic = errors.New("conductor: time outside the adiabatic law")

// ErrOverheat is the answer where a surge brings a conductor above 500 °C, where
// the adiabatic law ends; every insulation is destroyed long before.
// [OverheatError] carries the figures.
var ErrOverheat = errors.New("conductor: the surge heats beyond 500 °C")

// LargestCurrent returns the largest current that a conductor of area S stands
// for a time,
//
//	I = k·S/√t
//
// with k in A·√s/mm², S in mm² and t in seconds. No heat is taken to leave the
// conductor, so that surges that follow before it cools add up: start the next
// one from [HeatingLaw.FinalTemperature].
//
// Valid for 0.1 to 5 s, 0.005 to 2000 mm² and k of 1 to 400 A·√s/mm²;
// otherwise err wraps [ErrDomain]. Below 0.1 s the asymmetry of a fault and the
// current limitation of a fuse count: use [AdiabaticFactor.LetThrough].
//
// Source: IEC 60364-4-43:2008, 434.5.2; IEC 60364-5-54; ICEA P-32-382.
func (k AdiabaticFactor) LargestCurrent(area unit.Area, t unit.Time) (unit.Current, error) {
	if !(k.ok() && areaOK(area) && shortOK(t)) {
		return 0, errors.Join(k.check(), checkArea(area), checkShort(t))
	}
	return unit.Current(float64(k) * float64(area) / math.Sqrt(float64(t))), nil
}

// LongestTime returns for how long a conductor of area S stands a current,
//
//	t = (k·S/I)²
//
// with k in A·√s/mm², S in mm² and I in amperes. A time outside 0.1 to 5 s is
// an [AdiabaticTimeError], which is [ErrOutsideAdiabatic]: above 5 s heat
// leaves and the conductor stands the current longer than the formula says;
// below 0.1 s use [AdiabaticFactor.LetThrough].
//
// Valid for 1 A to 1 MA, 0.005 to 2000 mm² and k of 1 to 400 A·√s/mm²;
// otherwise err wraps [ErrDomain].
//
// Source: IEC 60364-4-43:2008, 434.5.2; ICEA P-32-382.
func (k AdiabaticFactor) LongestTime(area unit.Area, i unit.Current) (unit.Time, error) {
	if !(k.ok() && areaOK(area) && faultOK(i)) {
		return 0, errors.Join(k.check(), checkArea(area), checkFault(i))
	}
	root := float64(k) * float64(area) / float64(i)
	t := unit.Time(root * root)
	if !shortOK(t) {
		return 0, &AdiabaticTimeError{Current: i, Formula: t, Least: minShort, Most: maxShort}
	}
	return t, nil
}

// LeastArea returns the least area that stands a current for a time,
//
//	S = I·√t/k
//
// with I in amperes, t in seconds and k in A·√s/mm².
//
// Valid for 0.1 to 5 s, 1 A to 1 MA and k of 1 to 400 A·√s/mm²; otherwise err
// wraps [ErrDomain]. Below 0.1 s use [AdiabaticFactor.LeastAreaFor].
//
// Source: IEC 60364-5-54, 543.1.2; ICEA P-32-382.
func (k AdiabaticFactor) LeastArea(i unit.Current, t unit.Time) (unit.Area, error) {
	if !(k.ok() && faultOK(i) && shortOK(t)) {
		return 0, errors.Join(k.check(), checkFault(i), checkShort(t))
	}
	return unit.Area(float64(i) * math.Sqrt(float64(t)) / float64(k)), nil
}

// LetThrough returns the largest I²·t that a conductor of area S stands,
//
//	I²·t = (k·S)²
//
// with k in A·√s/mm² and S in mm². Compare it with the let-through energy that
// the maker of a fuse or breaker states: that is the check where a device
// clears in less than 0.1 s. It holds for any time up to 5 s.
//
// Valid for 0.005 to 2000 mm² and k of 1 to 400 A·√s/mm²; otherwise err wraps
// [ErrDomain].
//
// Source: IEC 60364-4-43:2008, 434.5.2, condition for times under 0.1 s.
func (k AdiabaticFactor) LetThrough(area unit.Area) (JouleIntegral, error) {
	if !(k.ok() && areaOK(area)) {
		return 0, errors.Join(k.check(), checkArea(area))
	}
	root := float64(k) * float64(area)
	return JouleIntegral(root * root), nil
}

// LeastAreaFor returns the least area that stands a let-through energy,
//
//	S = √(I²·t)/k
//
// with I²·t in A²·s and k in A·√s/mm².
//
// Valid for 0.01 to 1e12 A²·s and k of 1 to 400 A·√s/mm²; otherwise err wraps
// [ErrDomain].
//
// Source: IEC 60364-4-43:2008, 434.5.2; IEC 60364-5-54, 543.1.2.
func (k AdiabaticFactor) LeastAreaFor(energy JouleIntegral) (unit.Area, error) {
	if !(k.ok() && jouleOK(energy)) {
		return 0, errors.Join(k.check(), checkJoule(energy))
	}
	return unit.Area(math.Sqrt(float64(energy)) / float64(k)), nil
}

// An AdiabaticTimeError says what time a formula gives outside the span for
// which it holds. It is [ErrOutsideAdiabatic].
type AdiabaticTimeError struct {
	Current     unit.Current // of the fault
	Formula     unit.Time    // what it gives, not to be relied on
	Least, Most unit.Time    // the span for which it holds
}

// An OverheatError says which surge brings a conductor above 500 °C. It is
// [ErrOverheat].
type OverheatError struct {
	Current unit.Current // of the surge
	Time    unit.Time    // of the surge
}

func (k AdiabaticFactor) ok() bool { return k >= minAdiabatic && k <= maxAdiabatic }

func (k AdiabaticFactor) check() error {
	return pkg.Range("adiabatic factor", float64(k), minAdiabatic, maxAdiabatic, adiabaticUnit)
}

var (
	adiabaticUnit = domain.Unit{Symbol: "A·√s/mm²", Size: 1e6, Base: "A·√s/m²"}
	jouleUnit     = domain.Unit{Symbol: "A²·s", Size: 1}
)

func shortOK(t unit.Time) bool     { return t >= minShort && t <= maxShort }
func faultOK(i unit.Current) bool  { return i >= minFaultCurrent && i <= maxFaultCurrent }
func jouleOK(e JouleIntegral) bool { return e >= minJoule && e <= maxJoule }
func areaOK(a unit.Area) bool      { return a >= 0.0049e-6 && a <= 2000e-6*(1+1e-9) }
func checkShort(t unit.Time) error {
	return pkg.Range("time", float64(t), minShort, maxShort, domain.Second)
}

func checkJoule(e JouleIntegral) error {
	return pkg.Range("let-through energy", float64(e), minJoule, maxJoule, jouleUnit)
}

func checkFault(i unit.Current) error {
	return pkg.Range("fault current", float64(i), minFaultCurrent, maxFaultCurrent, domain.Ampere)
}
