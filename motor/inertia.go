package motor

import (
	"errors"
	"fmt"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Bounds of shafts: a bare 3600 for rpm is 34 000 rpm, a bare 3 for lb·ft² is
// refused where the rule at hand has a bound of its own.
const (
	leastInertia  = 1e-7 // (kg·m²)
	leastSpeed    = 1 * float64(RPM)
	greatestSpeed = 30e3 * float64(RPM)
	mostTorque    = 1e6 // (N·m)
	mostEnergy    = 1e9 // (J)
)

func checkInertia(j Inertia) error {
	return pkg.Range("inertia", float64(j), leastInertia, mostInertia, domain.PoundSquareFoot)
}

func checkSpeed(name string, w Speed) error {
	return pkg.Range(name, float64(w), leastSpeed, greatestSpeed, domain.RPM)
}

// StoredEnergy returns the energy in a turning mass,
//
//	E = ½·J·ω²
//
// with J its inertia (kg·m²) and ω its speed (rad/s).
//
// Valid for 1e-7 to 10 000 kg·m² and 1 to 30 000 rpm; outside, err wraps
// [ErrDomain].
//
// Source: mechanics of rotation.
func StoredEnergy(j Inertia, speed Speed) (unit.Energy, error) {
	if err := errors.Join(checkInertia(j), checkSpeed("speed", speed)); err != nil {
		return 0, err
	}
	return unit.Energy(float64(j) * float64(speed) * float64(speed) / 2), nil
}

// InertiaOfEnergy returns the inertia that stores the energy E (J) at the
// speed ω (rad/s),
//
//	J = 2·E/ω²
//
// Valid for 1 mJ to 1 GJ and 1 to 30 000 rpm; outside, err wraps [ErrDomain].
//
// Source: mechanics of rotation.
func InertiaOfEnergy(energy unit.Energy, speed Speed) (Inertia, error) {
	if err := errors.Join(pkg.Range("stored energy", float64(energy), 1e-3, mostEnergy, domain.Joule), checkSpeed("speed", speed)); err != nil {
		return 0, err
	}
	return Inertia(2 * float64(energy) / (float64(speed) * float64(speed))), nil
}

// InertiaOfConstant returns the inertia of an inertia constant H,
//
//	J = 2·H·S/ω²
//
// with H (s) the time for which the stored energy would give the base S, and
// ω the synchronous speed (rad/s). By definition S is the rated apparent power
// (VA). Sources on small motors often take the shaft output instead; put it in
// as ApparentPower(output), knowingly: the two differ by efficiency times
// power factor, twofold in small motors.
//
// Valid for H from 1 ms to 60 s, S from 10 VA to 1 MVA and 1 to 30 000 rpm;
// outside, err wraps [ErrDomain].
//
// Source: definition of H, any text on power-system dynamics.
func InertiaOfConstant(h unit.Time, base ApparentPower, synchronous Speed) (Inertia, error) {
	err := errors.Join(pkg.Range("inertia constant", float64(h), 1e-3, 60, domain.Second), checkBase(base), checkSpeed("synchronous speed", synchronous))
	if err != nil {
		return 0, err
	}
	return Inertia(2 * float64(h) * float64(base) / (float64(synchronous) * float64(synchronous))), nil
}

// InertiaConstant returns the inertia constant (s),
//
//	H = ½·J·ω²/S
//
// with the symbols and the base of [InertiaOfConstant].
//
// Valid for 1e-7 to 10 000 kg·m², S from 10 VA to 1 MVA and 1 to 30 000 rpm;
// outside, err wraps [ErrDomain].
//
// Source: as [InertiaOfConstant].
func InertiaConstant(j Inertia, base ApparentPower, synchronous Speed) (unit.Time, error) {
	if err := errors.Join(checkInertia(j), checkBase(base), checkSpeed("synchronous speed", synchronous)); err != nil {
		return 0, err
	}
	return unit.Time(float64(j) * float64(synchronous) * float64(synchronous) / (2 * float64(base))), nil
}

func checkBase(base ApparentPower) error {
	return pkg.Range("base of the inertia constant", float64(base), 10, 1e6, domain.VoltAmpere)
}

// ReflectedInertia returns the inertia of a load as the motor's shaft feels it
// through a belt or gears,
//
//	J' = J·(n_load/n_motor)²
//
// with J at the load's own shaft. Inertia of belt and pulleys comes on top.
//
// Valid for 1e-7 to 10 000 kg·m² and 1 to 30 000 rpm; outside, err wraps
// [ErrDomain].
//
// Source: NEMA MG 1 12.54 (reference to the motor shaft); stored energy is the
// same on both sides.
func ReflectedInertia(load Inertia, loadSpeed, motorSpeed Speed) (Inertia, error) {
	if err := errors.Join(checkInertia(load), checkSpeed("speed of the load", loadSpeed), checkSpeed("speed of the motor", motorSpeed)); err != nil {
		return 0, err
	}
	ratio := Inertia(loadSpeed / motorSpeed)
	return load * ratio * ratio, nil
}

// Inertia constants on shaft output (s) that enclose the rotors of
// testdata/motor/iec_small_2pole_rotors.csv, widened outwards to two digits.
const (
	leastRotorConstant    = 0.027
	greatestRotorConstant = 0.065
)

// TypicalRotorInertia returns the span of the rotor inertia of a small
// three-phase motor by its shaft output,
//
//	J = 2·H·P/ω²    H from 0.027 s to 0.065 s on shaft output
//
// with ω the synchronous speed of two poles at 50 Hz. It encloses one
// published range of 18 motors of 0.25 to 5.5 kW and is no limit: of one
// output, a larger frame has up to twice the inertia of a smaller one. The
// long slender rotor of a submersible motor has less, a single-phase motor
// of the same output often more. At 60 Hz the same rotors are rated higher.
//
// Valid for two poles and 0.25 to 5.5 kW; another output or number of poles is
// a [NotCoveredError], one outside 1/20 to 500 hp an error that wraps
// [ErrDomain].
//
// Source: public data sheet of a range of three-phase motors, 400 V, 50 Hz, in
// testdata/motor/iec_small_2pole_rotors.csv.
func TypicalRotorInertia(output unit.Power, poles int) (Range[Inertia], error) {
	const rule = "the range of rotor inertias"
	none := Range[Inertia]{}
	if err := checkOutput(output); err != nil {
		return none, err
	}
	if poles != 2 {
		return none, notCovered(rule, UncoveredPoles, "motors of "+strconv.Itoa(poles)+" poles, only of 2")
	}
	if p := float64(output / Kilowatt); !(p >= 0.25*0.999 && p <= 5.5*1.001) {
		return none, notCovered(rule, UncoveredSize, fmt.Sprintf("motors of %.4g kW, only of 0.25 to 5.5 kW", p))
	}
	const omega = 3000 * RPM
	perSecond := Inertia(2 * float64(output) / float64(omega*omega))
	return Range[Inertia]{Low: leastRotorConstant * perSecond, High: greatestRotorConstant * perSecond}, nil
}
