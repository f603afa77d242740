package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// TypicalFaultTimeConstant is L/R of a station battery and its own links,
// where the inductance of the loop is not known.
//
// Source: IEEE Std 946-2020, Annex D: full current after 11 ms, five time
// constants.
const TypicalFaultTimeConstant = unit.Time(2.2e-3)

// A FaultLoop is a bolted short circuit on a battery: a voltage behind a
// resistance and an inductance. The zero value is invalid.
type FaultLoop struct {
	Voltage    unit.Voltage    // open circuit, 0.5 to 1500 V
	Resistance unit.Resistance // of battery, links and cable, 1 µΩ to 10 Ω
	// Inductance of the loop, 1 nH to 1 H. Zero: [TypicalFaultTimeConstant]
	// times Resistance.
	Inductance unit.Inductance
}

func (f FaultLoop) validate() error {
	if f.Voltage >= 0.5 && f.Voltage <= 1500 && f.Resistance >= leastResistance && f.Resistance <= mostResistance &&
		(f.Inductance == 0 || f.Inductance >= leastInductance && f.Inductance <= 1) {
		return nil
	}
	err := errors.Join(
		pkg.Range("open-circuit voltage", float64(f.Voltage), 0.5, 1500, domain.Volt),
		checkResistance("resistance", f.Resistance),
	)
	if f.Inductance != 0 {
		err = errors.Join(err, pkg.Range("inductance", float64(f.Inductance), float64(leastInductance), 1,
			domain.Unit{Symbol: "H", Size: 1, SI: true}))
	}
	return err
}

const leastInductance = unit.Inductance(1e-9)

// TimeConstant returns the time in which the fault current comes to 63 % of
// its final value,
//
//	τ = L/R
//
// where L is in H and R in Ω. A loop outside its bounds is an [ErrDomain].
//
// Definition: time constant of an inductive loop, as in IEEE Std 946.
func (f FaultLoop) TimeConstant() (unit.Time, error) {
	if err := f.validate(); err != nil {
		return 0, err
	}
	return unit.Time(f.tau()), nil
}

func (f FaultLoop) tau() float64 {
	if f.Inductance == 0 {
		return float64(TypicalFaultTimeConstant)
	}
	return float64(f.Inductance) / float64(f.Resistance)
}

// Current returns the fault current at a time after the short,
//
//	i = (V/R)·(1 - exp(-t/τ))
//
// where t is in s and τ is [FaultLoop.TimeConstant]. Valid for times of 0 to
// 1000 s; otherwise, and for a loop outside its bounds, err wraps [ErrDomain].
//
// Source: solution of V = R·i + L·di/dt.
func (f FaultLoop) Current(t unit.Time) (unit.Current, error) {
	if err := f.checkAt(t); err != nil {
		return 0, err
	}
	return unit.Current(float64(f.Voltage) / float64(f.Resistance) * -math.Expm1(-float64(t)/f.tau())), nil
}

func (f FaultLoop) checkAt(t unit.Time) error {
	err := f.validate()
	if !(t >= 0 && t <= 1000) {
		err = errors.Join(err, pkg.Range("time after the fault", float64(t), 0, 1000, domain.Second))
	}
	return err
}

// LetThrough returns the integral of the squared current from the short to a
// time t, such as that at which a device has opened (A²s),
//
//	W = (V/R)²·(t - 2τ·(1 - exp(-t/τ)) + (τ/2)·(1 - exp(-2t/τ)))
//
// where t is in s. For t much shorter than τ it is (V/L)²·t³/3. Bounds as for
// [FaultLoop.Current].
//
// Source: integral of i² of [FaultLoop.Current].
func (f FaultLoop) LetThrough(t unit.Time) (float64, error) {
	if err := f.checkAt(t); err != nil {
		return 0, err
	}
	return f.letThrough(float64(t)), nil
}

func (f FaultLoop) letThrough(t float64) float64 {
	i, tau := float64(f.Voltage)/float64(f.Resistance), f.tau()
	x := t / tau
	if x < 0.03 {
		// The three terms cancel to x³/3; the series is good to 1e-11 here.
		return i * i * tau * x * x * x * (1.0/3 - x*(1.0/4-x*(7.0/60-x*(1.0/24-x*(31.0/2520-x/320)))))
	}
	return i * i * tau * (x + 2*math.Expm1(-x) - math.Expm1(-2*x)/2)
}

// TimeToLetThrough returns when a loop's let-through comes to an I²t (A²s):
// with the melting I²t of a fuse, when it starts to arc. Arcing comes on top;
// the total I²t of the fuse's sheet has it.
//
// Valid for 1e-3 A²s to what 1000 s let through; otherwise, and for a loop
// outside its bounds, err wraps [ErrDomain].
//
// Source: inverse of [FaultLoop.LetThrough].
func (f FaultLoop) TimeToLetThrough(i2t float64) (unit.Time, error) {
	if err := f.validate(); err != nil {
		return 0, err
	}
	const longest = 1000.0
	err := pkg.Range("let-through", i2t, 1e-3, f.letThrough(longest), domain.Unit{Symbol: "A²s", Size: 1})
	if err != nil {
		return 0, err
	}
	// Against the logarithm of time, where Brent's steps suit all of it.
	log, err := numeric.Root(func(x float64) float64 {
		return math.Log(f.letThrough(math.Exp(x)) / i2t)
	}, math.Log(1e-12), math.Log(1.01*longest), 1e-13)
	return unit.Time(min(math.Exp(log), longest)), err
}

// ChargerFaultCurrent returns the most that a current-limited charger adds to
// a fault,
//
//	I = 1.5·Ir
//
// where Ir is its rated current (A). Valid for 1 mA to 100 kA; otherwise err
// wraps [ErrDomain].
//
// Source: IEEE Std 946 (recalled).
func ChargerFaultCurrent(rated unit.Current) (unit.Current, error) {
	if err := checkCurrent("charger current", rated); err != nil {
		return 0, err
	}
	return 1.5 * rated, nil
}

// FaultCurrentFromRate estimates the current of a bolted fault at the
// terminals where no resistance is at hand,
//
//	I = 10·I1
//
// where I1 is the current that empties a lead-acid battery in 1 min to 1.75 V
// a cell (A). Valid for 1 mA to 100 kA; otherwise err wraps [ErrDomain].
//
// Source: rule of IEEE Std 946-2004 (recalled).
func FaultCurrentFromRate(oneMinute unit.Current) (unit.Current, error) {
	if err := checkCurrent("one-minute rate", oneMinute); err != nil {
		return 0, err
	}
	return 10 * oneMinute, nil
}
