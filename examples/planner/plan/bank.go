package plan

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// A bank is the battery of the site, at the good and at the bad end of what
// is known of it.
type bank struct {
	battery.Bank

	management inverter.BatteryLimit // of all strings together; zero: none is stated
	managed    Basis                 // what it rests on

	good, bad battery.Condition
	basis     Basis // worst of capacity, rate law, temperature, age and depth

	// Rest voltage and resistance, and what they rest on.
	start, middle, end rested                         // at the start, half way, and where the discharge ends
	limit              rested                         // at the depth limit, where the cut-off does not end it before
	resistance         battery.Range[unit.Resistance] // full, at its temperature
	voltBasis          Basis

	// cutOffFirst is the state of charge at which the cut-off ends the
	// discharge before the depth limit does; 0: it does not.
	cutOffFirst float64
	atCutOff    bool // it does so at the good end too
}

// rested is the bank at rest at one point of its discharge.
type rested struct {
	volts      battery.Range[unit.Voltage]
	resistance battery.Range[unit.Resistance]
}

// Defaults of the planner, each listed in the plan where it is used.
const (
	assumedTemperature  = 25    // (°C)
	assumedHealthLow    = 0.8   // the usual end of life
	assumedLeadDepth    = 0.5   // lead-acid, for the sake of its life
	assumedLithiumDepth = 0.8   // lithium iron phosphate
	assumedIdleLow      = 0.005 // idle draw over rated power
	assumedIdleHigh     = 0.025
	assumedEffLow       = 0.85
	assumedEffHigh      = 0.92
	assumedContactsLow  = 0.2e-3 // (Ω)
	assumedContactsHigh = 1e-3
	assumedOutage       = 24 * 3600 // (s)
)

// readBank turns the [battery] table into a bank.
func (m *maker) readBank() error {
	s := &m.site.Battery
	if s.Series == 0 {
		s.Series = 1
		m.assume("battery.series: 1, one battery in a string")
	}
	if s.Parallel == 0 {
		s.Parallel = 1
		m.assume("battery.parallel: 1, one string")
	}
	if !s.Temperature.Given() {
		s.Temperature = s.Temperature.or(battery.Celsius(assumedTemperature))
		m.assume("battery.temperature: 25 °C; a cold cellar costs capacity")
	}
	if !s.Health.Given() {
		s.Health = s.Health.orRange(assumedHealthLow, 1)
		m.assume("battery.health: 80..100 %%, from the usual end of life to new")
	}
	if !s.ChargeAtStart.Given() && !(s.OpenCircuit.Given() && s.Chemistry.LeadAcid()) {
		s.ChargeAtStart = s.ChargeAtStart.or(1)
		m.assume("battery.charge_at_start: 100 %%, full when the power fails")
	}
	if !s.DepthLimit.Given() {
		depth := Ratio(assumedLeadDepth)
		if s.Chemistry == battery.LithiumIronPhosphate {
			depth = assumedLithiumDepth
		}
		s.DepthLimit = s.DepthLimit.or(depth)
		m.assume("battery.depth_limit: %.0f %%, common practice for %v", 100*float64(depth), s.Chemistry)
	}
	goodK, badK, basisK, err := m.exponents()
	if err != nil {
		return err
	}
	b := &m.bank
	b.Bank = battery.Bank{
		Block: battery.Block{
			Chemistry: s.Chemistry, Voltage: s.UnitVoltage.Mid(),
			Rating:     battery.Rating{Capacity: s.Capacity.Mid(), Time: s.Rate.Mid()},
			Exponent:   goodK,
			Resistance: battery.Range[unit.Resistance]{Low: s.UnitResistance.Low, High: s.UnitResistance.High},
		},
		Series: s.Series, Parallel: s.Parallel,
	}
	if s.SecondCapacity.Given() && s.SecondCapacity.High > s.Capacity.High {
		b.Block.Most = s.SecondCapacity.Mid()
	}
	if err := b.Validate(); err != nil {
		return m.fault("battery", err)
	}
	if err := m.readCharge(); err != nil {
		return err
	}
	b.good = b.condition(s, goodK, true)
	b.bad = b.condition(s, badK, false)
	b.basis = worst(s.Capacity.Basis, s.Rate.Basis, basisK, s.Temperature.Basis, s.TemperatureFactor.Basis, s.Health.Basis, s.DepthLimit.Basis)
	// A first question finds the faults of temperature, age and depth.
	probe := unit.Current(float64(b.Rating().Capacity) / float64(20*battery.Hour))
	_, errGood := b.good.Usable(probe)
	_, errBad := b.bad.Usable(probe)
	if err := errors.Join(errGood, errBad); err != nil {
		if errors.Is(err, battery.ErrBelowLimit) {
			return m.site.at("battery.charge_at_start", battery.ErrBelowLimit)
		}
		return m.fault("battery", first(errGood, errBad))
	}
	return first(m.readSource(), m.readManagement())
}

// condition is the bank at one end of what is known.
func (b *bank) condition(s *Battery, k float64, good bool) battery.Condition {
	c := battery.Condition{
		Peukert: b.Peukert(), Chemistry: s.Chemistry,
		Temperature: s.Temperature.Low, StateOfHealth: float64(s.Health.Low),
		StateOfCharge: float64(s.ChargeAtStart.Low), DepthLimit: float64(s.DepthLimit.Low),
		TemperatureFactor: float64(s.TemperatureFactor.Low),
	}
	c.Peukert.Rating.Capacity = s.Capacity.Low * unit.Charge(s.Parallel)
	if good {
		c.Temperature, c.StateOfHealth = s.Temperature.High, float64(s.Health.High)
		c.StateOfCharge, c.DepthLimit = float64(s.ChargeAtStart.High), float64(s.DepthLimit.High)
		c.TemperatureFactor = float64(s.TemperatureFactor.High)
		c.Peukert.Rating.Capacity = s.Capacity.High * unit.Charge(s.Parallel)
	}
	c.Peukert.Exponent = k
	if c.Peukert.Most != 0 {
		c.Peukert.Most = max(c.Peukert.Most, c.Peukert.Rating.Capacity)
	}
	return c
}

// exponents returns Peukert's exponent at both ends: the smaller is the good
// one.
func (m *maker) exponents() (good, bad float64, basis Basis, err error) {
	s := &m.site.Battery
	rating := battery.Rating{Capacity: s.Capacity.Mid(), Time: s.Rate.Mid()}
	if (s.SecondCapacity.Given() || s.SecondRate.Given()) && s.Reserve.Given() || s.Exponent.Given() && (s.SecondCapacity.Given() || s.Reserve.Given()) {
		return 0, 0, 0, m.site.at("battery.exponent", errors.New("want one of second_capacity with second_rate, reserve and exponent"))
	}
	switch {
	case s.SecondCapacity.Given() != s.SecondRate.Given():
		return 0, 0, 0, m.site.at("battery.second_capacity", errors.New("second_capacity and second_rate need each other"))
	case s.SecondCapacity.Given():
		second := battery.Rating{Capacity: s.SecondCapacity.Mid(), Time: s.SecondRate.Mid()}
		k, err := battery.PeukertExponent(rating, second)
		if err != nil {
			return 0, 0, 0, m.rateFault("battery.second_capacity", err)
		}
		return k, k, worst(s.SecondCapacity.Basis, s.SecondRate.Basis), nil
	case s.Reserve.Given():
		k, err := battery.ExponentFromReserve(rating, s.Reserve.Mid())
		if err != nil {
			return 0, 0, 0, m.rateFault("battery.reserve", err)
		}
		return k, k, s.Reserve.Basis, nil
	case s.Exponent.Given():
		return float64(s.Exponent.Low), float64(s.Exponent.High), s.Exponent.Basis, nil
	}
	typical, err := battery.TypicalExponent(s.Chemistry)
	if err != nil {
		return 0, 0, 0, m.fault("battery", err)
	}
	m.assume("battery.exponent: %s, typical of %v; a second rating would say", span(typical.Low, typical.High), s.Chemistry)
	return typical.Low, typical.High, Assumed, nil
}

// rateFault places a fault of two ratings: at the rating itself if that is
// out of range, and otherwise at the key that contradicts it.
func (m *maker) rateFault(key string, err error) error {
	var domain *motor.DomainError
	if errors.As(err, &domain) && (domain.Quantity == "Peukert exponent" || domain.Quantity == "ratings") {
		return m.site.at(key, err)
	}
	return m.fault("battery", err)
}

// first returns the first error there is: both ends of a range mostly fail
// for one reason, which is said once.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// basisOf maps the library's basis of a motor's figures to the planner's.
func basisOf(b motor.Basis) Basis {
	switch b {
	case motor.BasisMeasured:
		return Measured
	case motor.BasisNameplate, motor.BasisCodeLetter:
		return NameplateOf
	case motor.BasisCodeTable:
		return Table
	}
	return RuleOfThumb
}
