package plan

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// A runtime is how long the bank lasts.
type runtime struct {
	continuous motor.Range[unit.Time] // everything on all the time; zero: cannot be carried
	duty       motor.Range[unit.Time] // at the stated duty
	pumping    motor.Range[unit.Time] // the pump alone, without a rest
	average    unit.Power             // drawn from the battery at the bad end of the stated duty; zero: cannot be carried
	basis      Basis
}

// showHours adds run times and the energy account.
func (m *maker) showHours() error {
	s := Section{Title: "How long it runs"}
	if err := m.checkRunning(); err != nil {
		return err
	}
	if err := m.showContinuous(&s); err != nil {
		return err
	}
	if err := m.showDuty(&s); err != nil {
		return err
	}
	m.checkOutage()
	if err := m.checkFreezing(); err != nil {
		return err
	}
	if soc := m.bank.cutOffFirst; soc > 0 {
		s.note("At the bad end of what is known the inverter's cut-off ends the discharge at %s %% charge with everything running, before the depth limit does.", num(100*soc))
	}
	if err := m.showIdle(&s); err != nil {
		return err
	}
	m.show(s)
	return nil
}

// bankText writes what stands for the bank in an explanation.
func (m *maker) bankText() string {
	b := m.site.Battery
	return fmt.Sprintf("C = %s Ah at the %s h rate, k = %s, %s °C, health %s, full to depth limit %s",
		num(m.bank.Rating().Capacity/battery.AmpereHour), num(b.Rate.Mid()/battery.Hour),
		span(m.bank.good.Peukert.Exponent, m.bank.bad.Peukert.Exponent), span(battery.InCelsius(b.Temperature.Low), battery.InCelsius(b.Temperature.High)),
		span(b.Health.Low, b.Health.High), span(b.DepthLimit.Low, b.DepthLimit.High))
}

const (
	peukertFormula = "t = H·(C/(I·H))^k, times temperature, health and depth factors"
	peukertSource  = "Peukert 1897 in rated-hour form; IEEE Std 485 table 1 (temperature), IEEE Std 1013 (depth)"
)

// showContinuous adds the time with everything on.
func (m *maker) showContinuous(s *Section) error {
	var ends [2]phase
	for i, good := range []bool{false, true} {
		p, va := m.together(-1)
		ends[i] = phase{share: 1, real: p.High, apparent: va.High}
		if good {
			ends[i] = phase{share: 1, real: p.Low, apparent: va.Low}
		}
		err := m.feed(&ends[i], good)
		if errors.Is(err, inverter.ErrCollapse) {
			s.note("Everything on at once collapses the dc side: %v.", err)
			return nil
		}
		if err != nil {
			return err
		}
	}
	bad, err := usable(m.bank.bad, ends[0].current)
	if err != nil {
		return m.beyond(s, "Everything on at once", err)
	}
	good, err := usable(m.bank.good, ends[1].current)
	if err != nil {
		return m.beyond(s, "Everything on at once", err)
	}
	m.hours.continuous = motor.Range[unit.Time]{Low: bad.Runtime, High: max(bad.Runtime, good.Runtime)}
	i := (ends[0].current + ends[1].current) / 2
	naive, err := battery.ShortcutRuntime(m.bank.Rating().Capacity, i)
	if err != nil {
		return m.fault("battery", err)
	}
	m.noteRate(s, ends[0].current)
	basis := worst(m.bank.basis, m.inv.loss, m.bank.voltBasis, m.cable.basis)
	for k := range m.loads {
		basis = worst(basis, m.loads[k].runBasis)
	}
	s.add(Figure{
		Key: "battery.continuous_dc_a", Label: "Battery current with everything on", Unit: "A",
		Low: float64(ends[1].current), High: float64(ends[0].current), Basis: worst(basis, m.bank.voltBasis),
		Also:    "dc",
		Formula: "I = 2P/(Voc + √(Voc² - 4PR)), P the dc power",
		Numbers: fmt.Sprintf("P = %s W dc for %s W ac; Voc = %s V half way; R = %s mΩ", span(ends[1].dc, ends[0].dc), span(ends[1].real, ends[0].real),
			span(m.bank.middle.volts.Low, m.bank.middle.volts.High), m.loopText(m.bank.middle)),
		Source: "P = V·(Voc - V)/R",
		Shortcut: &Shortcut{
			Rule: "dc watts over the nominal voltage", Value: float64(ends[0].dc) / float64(m.bank.Voltage()),
			Why: "It leaves out the sag under load, and the bank's voltage is seldom the nominal one.",
		},
	})
	s.add(Figure{
		Key: "battery.runtime_continuous_h", Label: "Run time with everything on, without a rest", Unit: "h",
		Low: float64(bad.Runtime / battery.Hour), High: float64(m.hours.continuous.High / battery.Hour), Basis: basis,
		Formula: peukertFormula, Numbers: fmt.Sprintf("I = %s A; %s", span(ends[1].current, ends[0].current), m.bankText()), Source: peukertSource,
		Shortcut: &Shortcut{
			Rule: "ampere-hours over amperes", Value: float64(naive / battery.Hour),
			Why: "A battery gives less the faster it is drained, less in the cold, less with age, and must not be emptied.",
		},
	})
	s.add(Figure{
		Key: "battery.usable_continuous_ah", Label: "Usable charge at that current", Unit: "Ah",
		Low: float64(bad.Charge / battery.AmpereHour), High: float64(max(bad.Charge, good.Charge) / battery.AmpereHour), Basis: m.bank.basis,
		Also:    fmt.Sprintf("of %s Ah on the label", num(m.bank.Rating().Capacity/battery.AmpereHour)),
		Formula: "Q = C·rate·temperature·health·depth, each taken once",
		Numbers: fmt.Sprintf("factors %s, %s, %s, %s", span(bad.RateFactor, good.RateFactor), span(bad.TemperatureFactor, good.TemperatureFactor),
			span(bad.AgeFactor, good.AgeFactor), span(bad.DepthFactor, good.DepthFactor)),
		Source: peukertSource,
	})
	return nil
}

// beyond turns a current that no bank of this size is drained with into an
// answer; any other error stays one.
func (m *maker) beyond(s *Section, what string, err error) error {
	var domain *motor.DomainError
	if errors.As(err, &domain) && domain.Quantity == "current" {
		s.note("%s: %v. A bank of this size is not drained so fast.", what, err)
		return nil
	}
	return m.fault("battery", err)
}

// showDuty adds the bracket for the loads as they come and go.
func (m *maker) showDuty(s *Section) error {
	var own, average [2]unit.Time
	var mean [2]unit.Current
	var share [2][]phase
	for i, good := range []bool{false, true} {
		phases, err := m.phases(good)
		if errors.Is(err, inverter.ErrCollapse) {
			s.note("No run time at the stated duty: %v.", err)
			return nil
		}
		if err != nil {
			return err
		}
		c := m.bank.bad
		if good {
			c = m.bank.good
		} else {
			m.hours.average = total(phases)
		}
		share[i] = phases
		if own[i], average[i], mean[i], err = lasts(c, phases); err != nil {
			if errors.Is(err, errNoLoad) {
				return m.site.at("load[0]", errNoLoad)
			}
			return m.beyond(s, "No run time at the stated duty", err)
		}
	}
	m.hours.duty = motor.Range[unit.Time]{Low: own[0], High: max(own[0], average[1])}
	basis := m.bank.basis
	var acAverage motor.Range[unit.Power]
	for i := range m.loads {
		basis = worst(basis, m.loads[i].avgBasis)
		acAverage.Low, acAverage.High = acAverage.Low+m.loads[i].average.Low, acAverage.High+m.loads[i].average.High
	}
	basis = worst(basis, m.inv.loss, m.bank.voltBasis, m.cable.basis)
	// A metered average keeps its watts: less power while it runs is a longer
	// run, and may lose less.
	dc := hull(motor.Exactly(total(share[1])), motor.Exactly(total(share[0])))
	s.add(Figure{
		Key: "battery.average_dc_w", Label: "Average drawn from the battery", Unit: "W",
		Low: float64(dc.Low), High: float64(dc.High), Basis: basis,
		Also:    fmt.Sprintf("%s A dc, idle draw included", brief(mean[1], mean[0])),
		Formula: "Σ share·(P_0 + (1 + v)·P + r·S²/P_r)",
		Numbers: fmt.Sprintf("%s W ac on average; idle draw %s W", span(acAverage.Low, acAverage.High), span(m.inv.idle.Low, m.inv.idle.High)),
		Source:  "quadratic inverter loss model, Schmidt and Sauer 1996",
		Shortcut: shortcut(float64(acAverage.High), "the loads' average watts alone",
			"The inverter's losses and its idle draw run all the hours that the pump rests."),
	})
	s.add(Figure{
		Key: "battery.runtime_running_current_h", Label: "Run time, every minute at the rate of its own current", Unit: "h",
		Low: float64(own[0] / battery.Hour), High: float64(max(own[0], own[1]) / battery.Hour), Basis: basis,
		Formula: peukertFormula + "; 1/T = Σ share/t(I)", Numbers: fmt.Sprintf("%s; %s", phasesText(share[0]), m.bankText()),
		Source: peukertSource + "; pessimistic, as rests give nothing back",
	})
	s.add(Figure{
		Key: "battery.runtime_average_current_h", Label: "Run time, at the average current", Unit: "h",
		Low: float64(average[0] / battery.Hour), High: float64(max(average[0], average[1]) / battery.Hour), Basis: basis,
		Formula: peukertFormula + "; T = t(Σ share·I)", Numbers: fmt.Sprintf("average %s A; %s", span(mean[1], mean[0]), m.bankText()),
		Source: peukertSource + "; optimistic, as if rests gave all back",
	})
	if err := m.showKinetic(s, share[0], share[1], basis); err != nil {
		return err
	}
	s.add(Figure{
		Key: "battery.runtime_h", Label: "Run time at the stated duty", Unit: "h",
		Low: float64(m.hours.duty.Low / battery.Hour), High: float64(m.hours.duty.High / battery.Hour), Basis: basis,
		Also:    brief(m.hours.duty.Low/(24*battery.Hour), m.hours.duty.High/(24*battery.Hour)) + " days",
		Formula: "from the least at its own rates, or by the kinetic model if that is less, to the most at the average current",
		Numbers: fmt.Sprintf("%s h and %s h", num(m.hours.duty.Low/battery.Hour), num(m.hours.duty.High/battery.Hour)),
		Source:  peukertSource + "; the two ends bracket what rests give back",
		Shortcut: shortcut(float64(m.bank.Energy()/battery.WattHour)/float64(acAverage.High), "rated watt-hours over the loads' average watts",
			"It forgets losses, idle draw, rate, cold, age and the depth limit."),
	})
	m.hours.basis = basis
	return nil
}

// checkOutage lays the run time beside the outage. A bank that cannot carry
// the loads at all lasts no time.
func (m *maker) checkOutage() {
	outage := m.site.Outage.Length
	d := m.hours.duty
	message := "Shed a load, add capacity, or plan a recharge before this many hours are over."
	if d.High == 0 {
		message = "The bank does not carry these loads at all."
	}
	m.check(Check{
		ID: "battery.outage", Title: "the bank lasts the outage", Unit: "h", AtLeast: true,
		Low: float64(d.Low / battery.Hour), High: float64(d.High / battery.Hour), Limit: float64(outage.High / battery.Hour),
		Basis: worst(m.hours.basis, outage.Basis), Message: message, Source: peukertSource,
	})
}

// shortcut is a rule of the trade, or none where it gives nothing, as for
// loads that are all switched off.
func shortcut(value float64, rule, why string) *Shortcut {
	if !(value > 0) || math.IsInf(value, 0) {
		return nil
	}
	return &Shortcut{Rule: rule, Value: value, Why: why}
}

// showIdle adds what the inverter takes for itself over the outage.
func (m *maker) showIdle(s *Section) error {
	if !m.inv.standing {
		s.note("The inverter is taken to be switched off between uses, so that its idle draw counts only while something runs.")
		return nil
	}
	outage := m.site.Outage.Length
	var ends [2]unit.Energy
	for i, idle := range []unit.Power{m.inv.idle.Low, m.inv.idle.High} {
		var err error
		if ends[i], err = inverter.IdleEnergy(idle, [2]unit.Time{outage.Low, outage.High}[i]); err != nil {
			return m.fault("outage", err)
		}
	}
	s.add(Figure{
		Key: "inverter.idle_wh", Label: "Idle draw of the inverter over the outage", Unit: "Wh",
		Low: float64(ends[0] / battery.WattHour), High: float64(ends[1] / battery.WattHour), Basis: worst(m.inv.idle.Basis, outage.Basis),
		Also:    fmt.Sprintf("%s %% of the bank's rated %s Wh", brief(100*ends[0]/m.bank.Energy(), 100*ends[1]/m.bank.Energy()), num(m.bank.Energy()/battery.WattHour)),
		Formula: "E = P_0·t", Numbers: fmt.Sprintf("P_0 = %s W, t = %s h", span(m.inv.idle.Low, m.inv.idle.High), span(outage.Low/battery.Hour, outage.High/battery.Hour)),
		Source: "definition of energy; already inside the average above",
	})
	return nil
}
