package plan

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
)

// checkRunning lays all loads running at once before inverter and bank.
func (m *maker) checkRunning() error {
	p, sva, o := m.all.demand.real, m.all.demand.apparent, m.all.running
	basis := worst(m.inv.rating, m.inv.loss)
	for i := range m.loads {
		basis = worst(basis, m.loads[i].vaBasis, m.loads[i].runBasis)
	}
	m.check(Check{
		ID: "inverter.running", Title: "all loads running, within the inverter's rating", Unit: "VA",
		Low: float64(sva.Low), High: float64(sva.High), Limit: float64(m.inv.surge.Continuous), Basis: basis,
		Message: "Volt-amperes count here, not watts. Switch something off or take a larger inverter.",
		Source:  "the inverter's label; volt-amperes of several loads summed, which errs on the safe side",
	})
	if m.site.Inverter.Power.Given() {
		m.check(Check{
			ID: "inverter.running_w", Title: "all loads running, within the inverter's watts", Unit: "W",
			Low: float64(p.Low), High: float64(p.High), Limit: float64(m.inv.rated), Basis: basis,
			Message: "Switch something off or take a larger inverter.", Source: "the inverter's label",
		})
	}
	m.checkManaged()
	message := fmt.Sprintf("At the depth limit the voltage falls to %s V against a cut-off of %s V.", num(o.voltage().Low), num(o.bad.Limit))
	switch {
	case o.collapses():
		message = "The dc side collapses: " + o.asked()
	case m.bank.cutOffFirst > 0:
		message = fmt.Sprintf("At the bad end of what is known the voltage falls to %s V against a cut-off of %s V, at the charge where the good end stops.", num(o.voltage().Low), num(o.bad.Limit))
	}
	// Where the cut-off ends the discharge at the good end too, the good end stands
	// just at it.
	most := o.good.Largest
	if m.bank.atCutOff && o.good.DC.Low < most*(1+1e-3) {
		most = max(most, o.good.DC.Low)
	}
	m.check(Check{
		ID: "battery.running", Title: "all loads running, dc side above cut-off", Unit: "W",
		Low: float64(o.good.DC.Low), High: float64(o.bad.DC.High), Limit: float64(o.bad.Largest), GoodLimit: float64(most),
		Basis: worst(basis, m.bank.voltBasis, m.cable.basis, m.inv.cut), Message: message, Source: "P_cut = V_cut·(Voc - V_cut)/R",
	})
	return nil
}

// asked says what a source that collapses is asked for, and gives at most.
func (o outcome) asked() string {
	return fmt.Sprintf("%s W are asked of a source that gives %s W at most.", num(o.bad.DC.High), num(unit.Power(o.bad.Collapse.Margin.Low)*o.bad.DC.High))
}

// checkFreezing lays the coldest temperature beside the freezing point of the
// acid at the end of the discharge: ice bursts the case.
func (m *maker) checkFreezing() error {
	s := &m.site.Battery
	if !s.Chemistry.LeadAcid() {
		return nil
	}
	end := 1 - max(m.bank.bad.DepthLimit, m.bank.good.DepthLimit)
	point, err := battery.FreezingPointAtCharge(max(end, 0))
	if err != nil {
		return m.fault("battery", err)
	}
	m.check(Check{
		ID: "battery.freezing", Title: "degrees above the freezing point of the acid", Unit: "°C", AtLeast: true, Setting: true,
		Low: float64(s.Temperature.Low - point.High), High: float64(s.Temperature.High - point.Low), Limit: 1,
		Basis: worst(s.Temperature.Basis, s.DepthLimit.Basis, RuleOfThumb),
		Message: fmt.Sprintf("At the end of the discharge the acid freezes at %s °C and bursts the case. Keep the bank warmer, or fuller.",
			brief(battery.InCelsius(point.Low), battery.InCelsius(point.High))),
		Source: "freezing points of US Army TM 5-1185 and others against specific gravity",
	})
	return nil
}

// noteRate says when a battery is drained faster than its kind stands.
func (m *maker) noteRate(s *Section, i unit.Current) {
	rate := float64(i) * float64(battery.Hour) / float64(m.bank.Rating().Capacity)
	if rate > 1 {
		s.note("With everything on the bank is drained at %s times its ampere-hours an hour. Above 1 few batteries keep their promises, and cables, terminals and management systems give way first.", num(round3(rate)))
	}
}
