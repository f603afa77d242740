package conductor

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A DutyCycle is the rhythm of a load that is on and off in turn.
type DutyCycle struct {
	On, Off unit.Time // each at least 1 ms
}

// Duty returns the share of the time that the load is on,
//
//	D = ton/(ton + toff)
//
// Valid for 1 ms to ten years each; otherwise err wraps [ErrDomain].
//
// Definition: duty of a periodic load.
func (d DutyCycle) Duty() (float64, error) {
	if err := d.check(); err != nil {
		return 0, err
	}
	return float64(d.On) / float64(d.On+d.Off), nil
}

// RMSFactor returns the rms current of the cycle over the current while on,
//
//	I/Ion = √D
//
// which the current rating of a conductor is often multiplied with. That is
// right only where the cycle is short against the time constant of the conductor:
// 14 AWG in free air has half a minute, and a pump that runs for a minute and
// rests for two brings it to 82 % of its continuous rise where √D says 33 %.
// Use [DutyCycle.HeatingFactor].
//
// Valid as [DutyCycle.Duty].
//
// Source: definition of rms; NEC table 630.11(A) rounds it to two places.
func (d DutyCycle) RMSFactor() (float64, error) {
	duty, err := d.Duty()
	return math.Sqrt(duty), err
}

// PeakRise returns the highest temperature rise of the cycle over the rise that
// the same current would cause without rests,
//
//	θ/θc = (1 − exp(−ton/τ)) / (1 − exp(−(ton + toff)/τ))
//
// with the thermal time constant τ of the conductor, as of
// [ThermalModel.TimeConstant]. It tends to D where the cycle is short against τ
// and to 1 where it is long. Resistance counts as constant, which is on the safe
// side up to the continuous current; [ThermalModel.CyclicLimit] lets it move.
//
// Valid as [DutyCycle.Duty] and for a time constant of 1 ms to ten years;
// otherwise err wraps [ErrDomain].
//
// Source: first-order heating in the periodic state; principle of IEC 60853-1.
func (d DutyCycle) PeakRise(timeConstant unit.Time) (float64, error) {
	tau := float64(timeConstant)
	if !(d.ok() && tau >= minPart && tau <= maxTime) {
		return 0, errors.Join(d.check(), pkg.Range("thermal time constant", tau, minPart, maxTime, domain.Second))
	}
	on, off := float64(d.On), float64(d.Off)
	return math.Expm1(-on/tau) / math.Expm1(-(on+off)/tau), nil
}

// HeatingFactor returns the continuous current that brings a conductor as high
// as the cycle does at its peak, over the current while on,
//
//	I/Ion = √(θ/θc)
//
// with θ/θc of [DutyCycle.PeakRise]. The ampacity must be at least this times
// the current while on. It lies between [DutyCycle.RMSFactor] and 1.
//
// Valid as [DutyCycle.PeakRise].
//
// Source: as [DutyCycle.PeakRise], heat being in proportion to I².
func (d DutyCycle) HeatingFactor(timeConstant unit.Time) (float64, error) {
	x, err := d.PeakRise(timeConstant)
	return math.Sqrt(x), err
}

func (d DutyCycle) ok() bool {
	return d.On >= minPart && d.On <= maxTime && d.Off >= minPart && d.Off <= maxTime
}

func (d DutyCycle) check() error {
	return errors.Join(pkg.Range("on-time", float64(d.On), minPart, maxTime, domain.Second),
		pkg.Range("off-time", float64(d.Off), minPart, maxTime, domain.Second))
}

// A DutyMultiplier is a row of the code's duty-cycle multipliers.
type DutyMultiplier struct {
	Duty           float64 // share of the time, 0.2 to 1
	WithoutMotor   float64 // by which the supply current is multiplied
	MotorGenerator float64 // the same, of a set whose motor runs on without load
}

// Source: NEC (2008) table 630.11(A).
var dutyMultipliers = [...]DutyMultiplier{
	{1.00, 1.00, 1.00},
	{0.90, 0.95, 0.96},
	{0.80, 0.89, 0.91},
	{0.70, 0.84, 0.86},
	{0.60, 0.78, 0.81},
	{0.50, 0.71, 0.75},
	{0.40, 0.63, 0.69},
	{0.30, 0.55, 0.62},
	{0.20, 0.45, 0.55},
}

// DutyMultipliers returns the code's table of arc welders, highest duty first.
// The column without a motor is √D within 0.5 %, so that it presumes a cycle
// that is short against the time constant of the conductor, as welding is and
// pumping is not: see [DutyCycle.RMSFactor].
//
// Source: NEC (2008) table 630.11(A).
func DutyMultipliers() []DutyMultiplier {
	rows := dutyMultipliers
	return rows[:]
}

// DutyMultiplierOf returns the row of a duty: the one that is printed or, as
// the table is not interpolated, the next higher one. Below 20 % the row of 20 %
// holds.
//
// Valid for a duty above 0 up to 1; otherwise err wraps [ErrDomain].
//
// Source: NEC (2008) table 630.11(A), "20 or less".
func DutyMultiplierOf(duty float64) (DutyMultiplier, error) {
	if !(duty > 0 && duty <= 1) {
		return DutyMultiplier{}, pkg.Invalid("duty", strconv.FormatFloat(duty, 'g', 6, 64), "above 0 up to 1")
	}
	for n := len(dutyMultipliers) - 1; n > 0; n-- {
		if duty <= dutyMultipliers[n].Duty+1e-12 {
			return dutyMultipliers[n], nil
		}
	}
	return dutyMultipliers[0], nil
}
