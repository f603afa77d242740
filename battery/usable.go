package battery

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ErrBelowLimit says that the battery starts at or below the charge at which
// its depth limit ends the discharge: nothing is usable.
var ErrBelowLimit = errors.New("battery: state of charge is at or below what the depth limit leaves")

// A Condition states everything that reduces what a battery gives, each in one
// field and only there, so that nothing can be taken twice:
//
//   - the rate, by Peukert and the current at hand;
//   - the temperature, by Temperature against RatingTemperature. Taking the
//     IEEE 485 factor on top of rates that already hold in the cold is the
//     usual published mistake; here such rates are declared by
//     RatingTemperature and the factor becomes 1;
//   - age, by StateOfHealth;
//   - a start below full, by StateOfCharge, and the depth limit, by DepthLimit.
//
// The zero value is invalid.
type Condition struct {
	Peukert   Peukert // when new, at RatingTemperature
	Chemistry Chemistry

	// Temperature of the electrolyte or cells, the lowest expected.
	Temperature unit.Temperature
	// RatingTemperature is that at which Peukert holds. Zero: 25 °C.
	RatingTemperature unit.Temperature
	// TemperatureFactor is the capacity at Temperature over that at
	// RatingTemperature from a maker's sheet, 0.1 to 1.3, in place of
	// [CapacityFactor]. Zero: from CapacityFactor.
	TemperatureFactor float64

	// StateOfHealth is the capacity left by age over that when new, 0.2 to
	// 1.1: 1 for new, 0.8 at the usual end of life.
	StateOfHealth float64
	// StateOfCharge at the start, 0.01 to 1: 1 for full.
	StateOfCharge float64
	// DepthLimit is the deepest discharge allowed, from full, 0.01 to 1: 0.5
	// ends the discharge at half charge.
	DepthLimit float64
}

func (c Condition) validate() error {
	err := errors.Join(
		c.Peukert.validate(),
		c.Chemistry.validate(),
		checkTemperature("battery temperature", c.Temperature),
		pkg.Range("state of health", c.StateOfHealth, 0.2, 1.1, domain.One),
		checkFraction("state of charge", c.StateOfCharge, 0.01),
		checkFraction("depth limit", c.DepthLimit, 0.01),
	)
	if c.RatingTemperature != 0 {
		err = errors.Join(err, checkTemperature("rating temperature", c.RatingTemperature))
	}
	if c.TemperatureFactor != 0 {
		err = errors.Join(err, pkg.Range("temperature factor", c.TemperatureFactor, 0.1, 1.3, domain.One))
	}
	return err
}

// checkTemperature refuses what no battery survives, and °C given as kelvin.
func checkTemperature(name string, t unit.Temperature) error {
	return pkg.Range(name, float64(t), float64(Celsius(-40)), float64(Celsius(60)), domain.Celsius)
}

// temperatureFactor returns capacity at c.Temperature over that at the
// temperature of the rating, for a discharge of time t.
func (c Condition) temperatureFactor(t unit.Time) (float64, error) {
	switch {
	case c.TemperatureFactor != 0:
		return c.TemperatureFactor, nil
	case c.RatingTemperature == c.Temperature:
		return 1, nil
	}
	here, err := CapacityFactor(c.Chemistry, c.Temperature, t)
	if c.RatingTemperature == 0 {
		return here, err // the factor is to 25 °C as it is
	}
	there, err2 := CapacityFactor(c.Chemistry, c.RatingTemperature, t)
	if err := errors.Join(err, err2); err != nil {
		return 0, err
	}
	return here / there, nil
}

// depthFactor returns the share of the capacity that lies between the start
// and the depth limit.
func (c Condition) depthFactor() (float64, error) {
	d := c.StateOfCharge + c.DepthLimit - 1
	if !(d > 1e-9) {
		return 0, ErrBelowLimit
	}
	return d, nil
}

// A Usable is what is left of a rating after each reduction in turn, with the
// factor of each: a factor of 1 took nothing.
type Usable struct {
	Rated            unit.Charge // as stated
	AfterRate        unit.Charge // Rated·RateFactor
	AfterTemperature unit.Charge // AfterRate·TemperatureFactor
	AfterAge         unit.Charge // AfterTemperature·AgeFactor
	Charge           unit.Charge // AfterAge·DepthFactor: what may be drawn

	RateFactor        float64
	TemperatureFactor float64
	AgeFactor         float64
	DepthFactor       float64 // StateOfCharge + DepthLimit - 1

	Runtime unit.Time // Charge over the current
}

// Energy returns the usable energy at a mean discharge voltage,
//
//	E = Q·V
//
// where Q is u.Charge (Ah) and V the voltage (V). The nominal voltage is
// close to the mean of a lead-acid discharge at moderate rates.
//
// Definition: energy of a charge moved at a constant voltage.
func (u Usable) Energy(v unit.Voltage) unit.Energy {
	return unit.Energy(float64(u.Charge) * float64(v))
}

// Usable returns what may be drawn at a constant current,
//
//	Q = C·fr·ft·fa·(s + d - 1)
//
// in this order: rate (fr, by Peukert at the current, on the capacity when
// new), temperature (ft), age (fa), and last the start s and the depth limit
// d. The depth limit is taken of the capacity at this rate, temperature and
// age, not of the rated one: at a high rate that ends the discharge earlier
// than a count of rated ampere-hours would, which spares the battery. Age is
// taken as a factor on the capacity at the rate, as IEEE 485 takes it on the
// size; the current is not made heavier for the smaller capacity.
//
// All factors are multiplied. The sizing order of IEEE Std 1013 takes only the
// largest of the depth and end-of-life adjustments and so asks for a smaller
// battery; here the depth limit is kept at the end of life as well.
//
// AGM and gel lose more in the cold in a short discharge; the time that picks
// their table is the one to empty before the reductions.
//
// A c or current outside its bounds, and a temperature that no table covers,
// is an [ErrDomain]; a start at or below the depth limit is [ErrBelowLimit].
//
// Source: the chain of factors of IEEE Std 485 (temperature, aging) and IEEE
// Std 1013 (depth), with Peukert's law for the rate.
func (c Condition) Usable(i unit.Current) (Usable, error) {
	if err := c.validate(); err != nil {
		return Usable{}, err
	}
	t, err := c.Peukert.Runtime(i)
	if err != nil {
		return Usable{}, err
	}
	ft, err := c.temperatureFactor(t)
	d, err2 := c.depthFactor()
	if err := errors.Join(err, err2); err != nil {
		return Usable{}, err
	}
	u := Usable{
		Rated:             c.Peukert.Rating.Capacity,
		AfterRate:         unit.Charge(float64(i) * float64(t)),
		TemperatureFactor: ft,
		AgeFactor:         c.StateOfHealth,
		DepthFactor:       d,
	}
	u.RateFactor = float64(u.AfterRate / u.Rated)
	u.AfterTemperature = u.AfterRate * unit.Charge(ft)
	u.AfterAge = u.AfterTemperature * unit.Charge(c.StateOfHealth)
	u.Charge = u.AfterAge * unit.Charge(d)
	u.Runtime = unit.Time(float64(u.Charge) / float64(i))
	return u, nil
}

// Duty returns the bracket of [Peukert.Duty] with temperature, age, start and
// depth limit taken off both ends: the times are multiplied by ft·fa·(s+d-1)
// in the symbols of [Condition.Usable]. Errors as there.
//
// Source: as for [Peukert.Duty] and [Condition.Usable].
func (c Condition) Duty(d Duty) (DutyRuntime, error) {
	if err := c.validate(); err != nil {
		return DutyRuntime{}, err
	}
	r, err := c.Peukert.Duty(d)
	if err != nil {
		return DutyRuntime{}, err
	}
	ft, err := c.temperatureFactor(r.RunningCurrent)
	depth, err2 := c.depthFactor()
	if err := errors.Join(err, err2); err != nil {
		return DutyRuntime{}, err
	}
	f := unit.Time(ft * c.StateOfHealth * depth)
	r.RunningCurrent *= f
	r.AverageCurrent *= f
	return r, nil
}
