package conductor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// The functions of this file tell when bare wire melts. Insulation chars,
// terminals fail and neighbours burn at a small part of these currents: no
// cable and no fuse is chosen by them. They answer what a fault does to a wire
// that nothing protects, and how far above a rating destruction lies.

// Limits of the arguments.
const (
	meltingCopper          = 1083 + celsius0 // (K), the convention of the formula; 1084.6 °C on today's scale
	minMelting, maxMelting = 1e-3, 10        // (s)
	minFuseCurrent         = 0.01            // (A)
	minWire, maxWire       = 25.4e-6, 12.7e-3
)

// onderdonk is 33·(I/A)²·t of the formula (cmil).
func onderdonk(ambient unit.Temperature) float64 {
	ta := float64(ambient) - celsius0
	return math.Log10((float64(meltingCopper)-celsius0-ta)/(234+ta) + 1)
}

// MeltingCurrentOnderdonk returns the current that melts a bare copper wire in
// a time, a destruction limit and no rating,
//
//	33·(I/A)²·t = log10((Tm − Ta)/(234 + Ta) + 1)
//
// with I in amperes, A in circular mils, t in seconds, the ambient Ta in °C and
// Tm = 1083 °C. No heat leaves, as in [HeatingLaw]; the heat of melting is not
// in it. A form with 234 − Ta goes round, which is 5 % high at 25 °C.
//
// Valid for 1 ms to 10 s, 0.005 to 2000 mm² and −60 to 300 °C; otherwise err
// wraps [ErrDomain]. Past some 5 s thin wire loses so much heat that it stands
// more: see [MeltingCurrentPreece].
//
// Source: I. M. Onderdonk's equation in E. R. Stauffacher, Short-Time Current
// Carrying Capacity of Copper Wire, General Electric Review 31 (1928).
func MeltingCurrentOnderdonk(area unit.Area, t unit.Time, ambient unit.Temperature) (unit.Current, error) {
	if !(areaOK(area) && t >= minMelting && t <= maxMelting && temperatureOK(ambient)) {
		return 0, errors.Join(checkArea(area), checkAmbient(ambient),
			pkg.Range("time", float64(t), minMelting, maxMelting, domain.Second))
	}
	return unit.Current(float64(area/CircularMil) * math.Sqrt(onderdonk(ambient)/(33*float64(t)))), nil
}

// MeltingTimeOnderdonk returns the time in which a current melts a bare copper
// wire, a destruction limit and no rating: the equation of
// [MeltingCurrentOnderdonk] solved for t,
//
//	t = log10((Tm − Ta)/(234 + Ta) + 1)·A²/(33·I²)
//
// with A in circular mils, I in amperes and the temperatures in °C.
//
// A time outside 1 ms to 10 s is an [AdiabaticTimeError], which is
// [ErrOutsideAdiabatic]; above 10 s the wire may never melt.
//
// Valid for 0.01 A to 1 MA, 0.005 to 2000 mm² and −60 to 300 °C; otherwise err
// wraps [ErrDomain].
//
// Source: as [MeltingCurrentOnderdonk].
func MeltingTimeOnderdonk(area unit.Area, i unit.Current, ambient unit.Temperature) (unit.Time, error) {
	if !(areaOK(area) && i >= minFuseCurrent && i <= maxFaultCurrent && temperatureOK(ambient)) {
		return 0, errors.Join(checkArea(area), checkAmbient(ambient), checkMelting(i))
	}
	ratio := float64(area/CircularMil) / float64(i)
	t := onderdonk(ambient) * ratio * ratio / 33
	if !(t >= minMelting && t <= maxMelting) {
		return 0, &AdiabaticTimeError{Current: i, Formula: unit.Time(t), Least: minMelting, Most: maxMelting}
	}
	return unit.Time(t), nil
}

// MeltingCurrentPreece returns the current that in the end melts a bare wire in
// still air, a destruction limit and no rating,
//
//	I = C·d^1.5
//
// with d in inches and C = 10244 for copper, 7585 for aluminium. It holds for
// about 10 s and longer, away from terminals that cool the wire; in less time
// the wire stands more, by [MeltingCurrentOnderdonk].
//
// Valid for 1 mil to 0.5 in; otherwise, and for the zero Metal, err wraps
// [ErrDomain].
//
// Source: W. H. Preece, On the Heating Effects of Electric Currents, Proc.
// Royal Society 36 (1884), 43 (1887), 44 (1888).
func MeltingCurrentPreece(m Metal, diameter unit.Length) (unit.Current, error) {
	d := float64(diameter)
	if !(m.ok() && d >= minWire && d <= maxWire) {
		return 0, errors.Join(m.check(), pkg.Range("wire diameter", d, minWire, maxWire, mil))
	}
	d /= float64(Inch)
	return unit.Current(m.preece() * d * math.Sqrt(d)), nil
}

// MeltingDiameterPreece returns the diameter of the bare wire that a current
// melts in the end, a destruction limit and no rating: [MeltingCurrentPreece]
// solved for d,
//
//	d = (I/C)^(2/3)
//
// with d in inches, I in amperes and C as there.
//
// Valid for 0.5 A to 2 kA in either metal, which keeps d within the range there;
// otherwise, and for the zero Metal, err wraps [ErrDomain].
//
// Source: as [MeltingCurrentPreece].
func MeltingDiameterPreece(m Metal, i unit.Current) (unit.Length, error) {
	if !(m.ok() && i >= 0.5 && i <= 2000) {
		return 0, errors.Join(m.check(), pkg.Range("fusing current", float64(i), 0.5, 2000, domain.Ampere))
	}
	d := math.Cbrt(float64(i) / m.preece())
	return unit.Length(d*d) * Inch, nil
}

func (m Metal) ok() bool { return m == Copper || m == Aluminium }

// preece is Preece's coefficient for inches.
func (m Metal) preece() float64 {
	if m == Aluminium {
		return 7585
	}
	return 10244
}

func checkMelting(i unit.Current) error {
	return pkg.Range("current", float64(i), minFuseCurrent, maxFaultCurrent, domain.Ampere)
}
