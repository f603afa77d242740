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
