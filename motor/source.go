package motor

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Source is what a start needs to know of what feeds it. Impedances are those
// of one phase, line to neutral; of a single-phase source they count both
// conductors. A source may be [Linked] besides. Its types are gonum's and Go's
// alone, so that a source needs nothing of this package.
type Source interface {
	// Linear returns what the source is from one instant to the next: its
	// open-circuit line voltage (rms), the impedance (Ω, at rated frequency) in
	// series with it, and the greatest rms current, +Inf where nothing limits it.
	Linear() (open unit.Voltage, series complex128, limit unit.Current)
	// Under returns line voltage and frequency at the terminals, some time after
	// the start began, with a load (Ω) across them. An error says that the source
	// gave up: it tripped, or collapsed.
	Under(load complex128, after unit.Time) (unit.Voltage, unit.Frequency, error)
}

// A Line is a voltage behind an impedance: a utility service, a stiff source, or
// with Limit an inverter that holds its current instead of tripping.
type Line struct {
	Voltage   unit.Voltage   // open circuit, line to line (rms; 10 V to 15 kV)
	Frequency unit.Frequency // 10 to 400 Hz
	Phases    int            // 1 or 3
	Impedance complex128     // Ω of one phase, line to neutral; 0: stiff
	Limit     unit.Current   // greatest line current (rms); 0: none
}

// Validate reports what is wrong with the line: resistance and reactance from 0
// to 1 kΩ, a limit from 0.05 A to 20 kA, and what the fields say.
//
// Definition: the ranges are those of services.
func (l Line) Validate() error {
	err := errors.Join(
		checkFrame(l.Voltage, l.Frequency, 2, 0), checkPhases(l.Phases),
		pkg.Range("source resistance", real(l.Impedance), 0, mostSourceOhms, domain.Ohm),
		pkg.Range("source reactance", imag(l.Impedance), 0, mostSourceOhms, domain.Ohm),
	)
	if l.Limit != 0 {
		err = errors.Join(err, checkCurrent("current limit", l.Limit))
	}
	return err
}

const mostSourceOhms = 1000

// Linear returns the line's voltage, impedance and limit.
//
// Definition: [Source].
func (l Line) Linear() (open unit.Voltage, series complex128, limit unit.Current) {
	if l.Limit == 0 {
		return l.Voltage, l.Impedance, unit.Current(math.Inf(1))
	}
	return l.Voltage, l.Impedance, l.Limit
}

// Under returns the voltage that a load leaves of the line's,
//
//	V = V_0·|Z/(Z + Z_s)|, at most √m·I_lim·|Z|
//
// with Z the load and Z_s the line's impedance (Ω), m the phases and I_lim the
// limit (A, rms). Sinusoidal: a limit that clips the peaks lets more rms
// through, by 19 % at 15 A peak on a quarter-horsepower motor. err is always
// nil.
//
// Source: voltage divider, any text on alternating-current circuits.
func (l Line) Under(load complex128, _ unit.Time) (unit.Voltage, unit.Frequency, error) {
	z := cmplx.Abs(load)
	v := float64(l.Voltage) * z / cmplx.Abs(load+l.Impedance)
	if l.Limit != 0 {
		v = math.Min(v, lineFactor(l.Phases)*float64(l.Limit)*z)
	}
	return unit.Voltage(v), l.Frequency, nil
}

// A Generator is an alternator on an engine. Reactances are per unit of the
// impedance V²/S of its rating.
type Generator struct {
	Rating       ApparentPower  // continuous (100 VA to 10 MVA)
	Power        unit.Power     // of the engine, real, at most Rating
	Voltage      unit.Voltage   // regulated at no load, line to line
	Frequency    unit.Frequency // at no load
	Phases       int            // 1 or 3
	Subtransient float64        // X″d, in the first cycles (0.02 to 1 pu)
	Transient    float64        // X′d, after them (X″d to 2 pu)
	Decay        unit.Time      // T″d, from the one to the other (1 ms to 1 s)
	Recovery     unit.Time      // time constant with which the regulator brings the voltage back (0.05 to 20 s); 0: no regulator
	Droop        float64        // share of the frequency lost at full Power (0 to 0.1)
}

// An OverloadError says that a generator's engine is asked for more than it can
// give, so that it slows down and stalls.
type OverloadError struct {
	Asked unit.Power // real power at its terminals
	Rated unit.Power // of the engine
}

// Error returns both powers.
//
// Definition: "motor: engine of the generator stalls: " and both powers.
func (e *OverloadError) Error() string {
	return fmt.Sprintf("motor: engine of the generator stalls: %.4g asked of %.4g", e.Asked, e.Rated)
}

// Validate reports what is wrong with the generator, by the ranges of its
// fields.
//
// Definition: the ranges are those of generator sets.
func (g Generator) Validate() error {
	err := errors.Join(
		checkFrame(g.Voltage, g.Frequency, 2, 0), checkPhases(g.Phases),
		pkg.Range("generator rating", float64(g.Rating), 100, 10e6, domain.VoltAmpere),
		pkg.Range("engine power", float64(g.Power), 50, float64(g.Rating), domain.Watt),
		pkg.Range("subtransient reactance per unit", g.Subtransient, 0.02, 1, domain.One),
		pkg.Range("transient reactance per unit", g.Transient, g.Subtransient, 2, domain.One),
		pkg.Range("decay of the subtransient", float64(g.Decay), 1e-3, 1, domain.Second),
		pkg.Range("droop", g.Droop, 0, 0.1, domain.One),
	)
	if g.Recovery != 0 {
		err = errors.Join(err, pkg.Range("recovery of the voltage", float64(g.Recovery), 0.05, 20, domain.Second))
	}
	return err
}

// reactance is X(t) (Ω): 1/X = 1/X′ + (1/X″ - 1/X′)·e^(-t/T″).
func (g Generator) reactance(after unit.Time) float64 {
	base := float64(g.Voltage) * float64(g.Voltage) / float64(g.Rating)
	fast := math.Exp(-float64(after / g.Decay))
	return base / (1/g.Transient + (1/g.Subtransient-1/g.Transient)*fast)
}

// Linear returns the generator's voltage behind its subtransient reactance,
// which is what the first cycles see.
//
// Definition: [Source]; subtransient reactance, IEC 60034-4.
func (g Generator) Linear() (open unit.Voltage, series complex128, limit unit.Current) {
	return g.Voltage, complex(0, g.reactance(0)), unit.Current(math.Inf(1))
}

// stallOver is the real power over the engine's at which it stalls.
//
// Common practice: small engines carry about a tenth over their rating; the
// flywheel carries more for an instant.
const stallOver = 1.25

// Under returns voltage and frequency of the generator,
//
//	V_dip = V_0·|Z/(Z + jX(t))|    1/X(t) = 1/X′ + (1/X″ - 1/X′)·e^(-t/T″)
//	V = V_dip + (V_0 - V_dip)·(1 - e^(-t/τ))    f = f_0·(1 - d·P/P_r)
//
// with Z the load (Ω), τ the regulator's recovery, d the droop, P the load's
// real power and P_r the engine's. The voltage behind X starts from no load. err
// is an [OverloadError] where P exceeds 1.25·P_r for longer than half a second:
// until then the flywheel helps out.
//
// Source: IEC 60034-4 for the reactances and the decay. Common practice: one
// time constant for the regulator, and the engine's limit.
func (g Generator) Under(load complex128, after unit.Time) (unit.Voltage, unit.Frequency, error) {
	dip := cmplx.Abs(load) / cmplx.Abs(load+complex(0, g.reactance(after)))
	if g.Recovery != 0 && after > 0 {
		dip += (1 - dip) * -math.Expm1(-float64(after/g.Recovery))
	}
	v := float64(g.Voltage) * dip
	p := unit.Power(v * v * real(load) / square(load))
	if p > stallOver*g.Power && after > 0.5 {
		return 0, 0, &OverloadError{Asked: p, Rated: g.Power}
	}
	return unit.Voltage(v), g.Frequency * unit.Frequency(1-g.Droop*float64(p/g.Power)), nil
}
