package plan

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
	"ridethrough.example/internal/numeric"
	"ridethrough.example/motor"
)

// A bank is the battery of the site, at the good and at the bad end of what
// is known of it.
type bank struct {
	battery.Bank

	good, bad battery.Condition
	basis     Basis // worst of capacity, rate law, temperature, age and depth

	// Rest voltage and resistance, and what they rest on.
	start, end battery.Range[unit.Voltage] // at the start and at the depth limit
	middle     battery.Range[unit.Voltage] // half way between
	resistance battery.Range[unit.Resistance]
	voltBasis  Basis

	// cutOffFirst is the state of charge at which the cut-off ends the
	// discharge before the depth limit does; 0: it does not.
	cutOffFirst float64
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
	return m.readSource()
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

// readCharge takes the state of charge from a rest voltage, or lays the two
// beside each other if both are given. A voltage above that of a rested full
// bank is the charger's, and would make every start look easier than it is.
func (m *maker) readCharge() error {
	b, s := &m.bank, &m.site.Battery
	if !s.OpenCircuit.Given() {
		return nil
	}
	t := s.Temperature.Mid()
	full, err := b.OpenCircuit(1, t)
	if err != nil {
		return m.fault("battery", err)
	}
	if s.OpenCircuit.High > full.High*1.02 {
		return m.site.at("battery.open_circuit", fmt.Errorf(
			"%s V is above the %s V of a rested full bank; let it rest for hours without charger and load", num(s.OpenCircuit.High), num(full.High)))
	}
	low, err1 := b.StateOfCharge(s.OpenCircuit.Low, t)
	high, err2 := b.StateOfCharge(s.OpenCircuit.High, t)
	var flat *battery.FlatError
	if errors.As(first(err1, err2), &flat) {
		return nil // lithium iron phosphate: the voltage says next to nothing
	}
	if err := first(err1, err2); err != nil {
		return m.fault("battery", err)
	}
	if !s.ChargeAtStart.Given() {
		s.ChargeAtStart = Value[Ratio]{Low: max(Ratio(low.Low), 0.01), High: max(Ratio(high.High), 0.01), Basis: worst(s.OpenCircuit.Basis, RuleOfThumb)}
		m.assume("battery.charge_at_start: %s %%, from the rest voltage by the charts, which differ",
			brief(100*s.ChargeAtStart.Low, 100*s.ChargeAtStart.High))
		return nil
	}
	const slack = 0.1 // of the charge, for the charts
	if float64(s.ChargeAtStart.Low) > high.High+slack || float64(s.ChargeAtStart.High) < low.Low-slack {
		return m.site.at("battery.open_circuit", fmt.Errorf("%s V stands for a charge of %s %%, but charge_at_start says %s %%",
			span(s.OpenCircuit.Low, s.OpenCircuit.High), brief(100*low.Low, 100*high.High), brief(100*s.ChargeAtStart.Low, 100*s.ChargeAtStart.High)))
	}
	return nil
}

// voltages returns the chart's rest voltages between two states of charge.
func (b *bank) voltages(low, high float64, t unit.Temperature) (battery.Range[unit.Voltage], error) {
	v, err1 := b.OpenCircuit(low, t)
	w, err2 := b.OpenCircuit(high, t)
	return hull(v, w), first(err1, err2)
}

// readSource finds the rest voltage at the start and the resistance.
func (m *maker) readSource() error {
	b, s := &m.bank, &m.site.Battery
	var err error
	b.start, err = b.voltages(float64(s.ChargeAtStart.Low), float64(s.ChargeAtStart.High), s.Temperature.Mid())
	if err != nil {
		return m.fault("battery", err)
	}
	b.voltBasis = RuleOfThumb
	if s.OpenCircuit.Given() {
		b.start = battery.Range[unit.Voltage]{Low: s.OpenCircuit.Low, High: s.OpenCircuit.High}
	}
	r, typical, err := b.InternalResistance(0)
	if err != nil {
		return m.fault("battery", err)
	}
	if typical {
		m.assume("battery.unit_resistance: typical of %v of this size, %s mΩ for the bank at 25 °C; two readings of volts and amperes would tell",
			s.Chemistry, span(r.Low*1000, r.High*1000))
		b.voltBasis = Assumed
	} else {
		b.voltBasis = worst(b.voltBasis, s.UnitResistance.Basis)
	}
	b.resistance = r
	if s.Chemistry.LeadAcid() {
		low, err1 := battery.ColdResistance(r.Low, s.Temperature.High)
		high, err2 := battery.ColdResistance(r.High, s.Temperature.Low)
		if err := first(err1, err2); err != nil {
			return m.fault("battery", err)
		}
		b.resistance = battery.Range[unit.Resistance]{Low: low, High: high}
	}
	return nil
}

// leastDepth is the least depth of discharge that is worth speaking of.
const leastDepth = 0.01

// findEnd finds the charge at which the discharge ends: at the depth limit, or
// earlier where the inverter's cut-off comes first with everything running.
// From there follow the rest voltages at the end and half way.
func (m *maker) findEnd() error {
	b, s := &m.bank, &m.site.Battery
	t := s.Temperature.Mid()
	for _, good := range []bool{false, true} {
		c := &b.bad
		if good {
			c = &b.good
		}
		limit := 1 - c.DepthLimit
		soc, err := m.cutOffCharge(good, limit)
		if err != nil {
			return err
		}
		switch {
		case soc <= limit:
			continue
		case soc > c.StateOfCharge-leastDepth:
			c.StateOfCharge, c.DepthLimit = leastDepth, leastDepth // nothing is usable
		default:
			c.DepthLimit = 1 - soc
		}
		if !good {
			b.cutOffFirst = soc
		}
	}
	stop := 1 - max(b.bad.DepthLimit, b.good.DepthLimit)
	var err1, err2 error
	b.end, err1 = b.voltages(stop, stop, t)
	b.middle, err2 = b.voltages((float64(s.ChargeAtStart.Low)+stop)/2, (float64(s.ChargeAtStart.High)+stop)/2, t)
	if err := first(err1, err2); err != nil {
		return m.fault("battery", err)
	}
	// A rest voltage read low says that this bank lies low on the charts.
	if s.OpenCircuit.Given() {
		b.end.High, b.middle.High = min(b.end.High, b.start.High), min(b.middle.High, b.start.High)
		b.end.Low, b.middle.Low = min(b.end.Low, b.start.High), min(b.middle.Low, b.start.High)
	}
	return nil
}

// cutOffCharge returns the state of charge at which the voltage with
// everything running meets the running cut-off, or least if it never does
// above that. 1 stands for a cut-off that is met at once.
func (m *maker) cutOffCharge(good bool, least float64) (float64, error) {
	p, va := m.together(-1)
	f := phase{real: p.High, apparent: va.High}
	cut := m.site.Inverter.CutOff.High
	if good {
		f, cut = phase{real: p.Low, apparent: va.Low}, m.site.Inverter.CutOff.Low
	}
	source := m.source(m.bank.start, good)
	best, bad := m.inv.bestAndWorst(f.real, f.apparent)
	loss := bad
	if good {
		loss = best
	}
	dc, err := loss.DCPowerAt(f.real, max(f.apparent, motor.ApparentPower(f.real)))
	if err != nil {
		return 0, m.fault("inverter", err)
	}
	// At the cut-off the current is P/V, and the rest voltage V + I·R.
	needed := float64(cut) + float64(dc)/float64(cut)*float64(source.Resistance())
	over := func(soc float64) float64 {
		v, err := m.bank.OpenCircuit(soc, m.site.Battery.Temperature.Mid())
		if err != nil {
			return math.NaN()
		}
		if good {
			return float64(v.High) - needed
		}
		return float64(v.Low) - needed
	}
	switch {
	case over(least) >= 0:
		return least, nil
	case !(over(1) > 0):
		return 1, nil
	}
	soc, err := numeric.Root(over, least, 1, 1e-6)
	if err != nil {
		return 0, m.fault("battery", err)
	}
	return soc, nil
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
