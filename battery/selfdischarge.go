package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Month is a twelfth of 365.25 days.
const Month = 365.25 / 12 * Day

// A SelfDischarge says what share of its capacity a battery loses by itself
// over a time at a temperature: 3 % in a month at 20 °C. The zero value is
// invalid.
type SelfDischarge struct {
	Share       float64          // lost over Time, 0.0001 to 0.5
	Time        unit.Time        // 1 day to 1 year
	Temperature unit.Temperature // at which it was measured, -40 to 60 °C
}

const (
	leastLossTime = 1 * Day
	mostLossTime  = 366 * Day
	mostStorage   = 3660 * Day
)

func (s SelfDischarge) validate() error {
	if s.Share >= 1e-4 && s.Share <= 0.5 && s.Time >= leastLossTime && s.Time <= mostLossTime {
		return checkTemperature("temperature of the self-discharge", s.Temperature)
	}
	return errors.Join(
		pkg.Range("self-discharge", s.Share, 1e-4, 0.5, domain.Percent),
		pkg.Range("time of the self-discharge", float64(s.Time), float64(leastLossTime), float64(mostLossTime), domain.Hour),
		checkTemperature("temperature of the self-discharge", s.Temperature),
	)
}

// checkLoss says what is wrong with the loss of a capacity at a temperature.
func (s SelfDischarge) checkLoss(c unit.Charge, t unit.Temperature) error {
	err := s.validate()
	if err == nil && c >= leastCapacity && c <= mostCapacity {
		return checkTemperature("battery temperature", t)
	}
	return errors.Join(err, checkCapacity("capacity", c), checkTemperature("battery temperature", t))
}

// rate returns the share lost in a second at a temperature.
func (s SelfDischarge) rate(t unit.Temperature) float64 {
	return s.Share / float64(s.Time) * math.Exp2(float64(t-s.Temperature)/10)
}

// At returns the share that is lost over s.Time at another temperature,
//
//	r = r0·2^((T - T0)/10)
//
// where r0 is s.Share, T0 is s.Temperature and T the temperature (°C). Twice
// the loss for each 10 °C holds for all seven types of the source, from 10 to
// 20 °C; the result may pass 1 where it is hot.
//
// Valid for -40 to 60 °C; outside, and for an s outside its bounds, err wraps
// [ErrDomain].
//
// Source: Vader, Energy Unlimited, section 2.5.10.
func (s SelfDischarge) At(t unit.Temperature) (float64, error) {
	if err := errors.Join(s.validate(), checkTemperature("battery temperature", t)); err != nil {
		return 0, err
	}
	return s.rate(t) * float64(s.Time), nil
}

// Left returns the state of charge after storage, from a full battery,
//
//	x = 1 - r·t/t0, but at least 0
//
// where t is the time in storage, t0 is s.Time and r is from
// [SelfDischarge.At]. The straight line is the makers' rule; the true curve is
// steeper at first and flatter later.
//
// Valid for 0 to 10 years; otherwise err wraps [ErrDomain], as with what At
// refuses.
//
// Common practice: the linear rule.
func (s SelfDischarge) Left(t unit.Temperature, stored unit.Time) (float64, error) {
	err := errors.Join(
		s.validate(), checkTemperature("battery temperature", t),
		pkg.Range("time in storage", float64(stored), 0, float64(mostStorage), domain.Hour),
	)
	if err != nil {
		return 0, err
	}
	return max(0, 1-s.rate(t)*float64(stored)), nil
}

// Until returns the time in storage after which a full battery has fallen to a
// state of charge, the inverse of [SelfDischarge.Left],
//
//	t = (1 - x)·t0/r
//
// in the same symbols. Lead-acid sulphates when left discharged: recharge it
// before that. The state of charge must be from 0 to 1; otherwise err wraps
// [ErrDomain], as with what At refuses.
//
// Common practice: as for Left.
func (s SelfDischarge) Until(t unit.Temperature, stateOfCharge float64) (unit.Time, error) {
	err := errors.Join(
		s.validate(), checkTemperature("battery temperature", t),
		checkFraction("state of charge", stateOfCharge, 0),
	)
	if err != nil {
		return 0, err
	}
	return unit.Time((1 - stateOfCharge) / s.rate(t)), nil
}

// Current returns the steady current that would empty a battery as fast as it
// loses charge by itself,
//
//	I = r·C/t0
//
// where C is the rated capacity (Ah), t0 is s.Time (h) and r is from
// [SelfDischarge.At]. A capacity outside 0.5 Ah to 100 kAh is an [ErrDomain],
// as is what At refuses.
//
// Definition: charge lost in a time.
func (s SelfDischarge) Current(c unit.Charge, t unit.Temperature) (unit.Current, error) {
	if err := s.checkLoss(c, t); err != nil {
		return 0, err
	}
	return unit.Current(s.rate(t) * float64(c)), nil
}

// MaintainerCurrent returns the steady current that a maintainer must supply
// so that a full battery stays full,
//
//	I = Is + Id/η
//
// where Is is what the standing loads draw (A), Id is from
// [SelfDischarge.Current] and η the share of the charging current that stays
// in the battery. Near full η of lead-acid is far below its mean: 0.5 is on the
// safe side. A maintainer that gives less lets the battery run down; one that
// is not regulated and gives much more boils it dry.
//
// Valid for 0 to 1 kA and η of 0.1 to 1; otherwise err wraps [ErrDomain], as
// with what Current refuses.
//
// Definition: the balance of currents at the battery.
func (s SelfDischarge) MaintainerCurrent(c unit.Charge, t unit.Temperature, standing unit.Current, efficiency float64) (unit.Current, error) {
	err := s.checkLoss(c, t)
	if !(err == nil && standing >= 0 && standing <= 1000 && efficiency >= 0.1 && efficiency <= 1) {
		return 0, errors.Join(
			err,
			pkg.Range("standing load", float64(standing), 0, 1000, domain.Ampere),
			checkFraction("charging efficiency", efficiency, 0.1),
		)
	}
	return standing + unit.Current(s.rate(t)*float64(c)/efficiency), nil
}

// TypicalSelfDischarge returns the loss in a month at 20 °C as a band over
// published figures: flooded 5 to 12 %, the more antimony the more; AGM 2 to 4
// %; gel 2 %. Age and dirt raise it several times. No figure for lithium iron
// phosphate could be verified: what its battery management draws decides, and
// the maker must say. That and a chemistry that is none is an [ErrDomain].
//
// Source: Vader, Energy Unlimited, section 2.5.10 (antimony 1.6 and 5 %, AGM,
// gel); common practice for the ends of the bands.
func TypicalSelfDischarge(c Chemistry) (low, high SelfDischarge, err error) {
	if err := c.validate(); err != nil {
		return low, high, err
	}
	if !c.LeadAcid() {
		return low, high, pkg.Invalid("chemistry", c.String(), "flooded, AGM or gel")
	}
	band := [...]Range[float64]{Flooded: {Low: 0.05, High: 0.12}, AGM: {Low: 0.02, High: 0.04}, Gel: {Low: 0.02, High: 0.02}}[c]
	at := SelfDischarge{Time: Month, Temperature: Celsius(20)}
	low, high = at, at
	low.Share, high.Share = band.Low, band.High
	return low, high, nil
}
