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

// The resistance of a flat battery over that of a full one.
const (
	flatRiseLow  = 2
	flatRiseHigh = 3
)

// between returns the bank at rest between two states of charge: rest voltage
// by the charts, resistance risen with the discharge.
func (b *bank) between(low, high float64, t unit.Temperature) (r rested, err error) {
	v, err1 := b.OpenCircuit(low, t)
	w, err2 := b.OpenCircuit(high, t)
	r.volts = hull(v, w)
	var err3, err4 error
	r.resistance.Low, err3 = battery.ResistanceAtCharge(b.resistance.Low, high, flatRiseLow)
	r.resistance.High, err4 = battery.ResistanceAtCharge(b.resistance.High, low, flatRiseHigh)
	return r, first(err1, err2, err3, err4)
}

// readSource finds the resistance, and the rest voltage at the start.
func (m *maker) readSource() error {
	b, s := &m.bank, &m.site.Battery
	b.voltBasis = RuleOfThumb
	r, typical, err := b.InternalResistance(0)
	if err != nil {
		return m.fault("battery", err)
	}
	if typical {
		m.assume("battery.unit_resistance: typical of %v of this size, %s mΩ for the bank at 25 °C; two readings of volts and amperes would tell",
			s.Chemistry, brief(r.Low*1000, r.High*1000))
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
	b.start, err = b.between(float64(s.ChargeAtStart.Low), float64(s.ChargeAtStart.High), s.Temperature.Mid())
	if s.OpenCircuit.Given() {
		b.start.volts = battery.Range[unit.Voltage]{Low: s.OpenCircuit.Low, High: s.OpenCircuit.High}
	}
	return m.fault("battery", err)
}

// leastDepth is the least depth of discharge that is worth speaking of.
const leastDepth = 0.01

// findEnd finds the charge at which the discharge ends: at the depth limit, or
// earlier where the inverter's cut-off comes first with everything running.
// From there follow the rest voltages at the end and half way.
func (m *maker) findEnd() error {
	b, s := &m.bank, &m.site.Battery
	t := s.Temperature.Mid()
	deepest := 1 - max(b.bad.DepthLimit, b.good.DepthLimit)
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
		if good {
			b.atCutOff = true
		} else {
			b.cutOffFirst = soc
		}
	}
	stop := 1 - max(b.bad.DepthLimit, b.good.DepthLimit)
	var err1, err2 error
	b.end, err1 = b.between(stop, stop, t)
	b.middle, err2 = b.between((float64(s.ChargeAtStart.Low)+stop)/2, (float64(s.ChargeAtStart.High)+stop)/2, t)
	var err3 error
	b.limit, err3 = b.between(deepest, deepest, t)
	if err := first(err1, err2, err3); err != nil {
		return m.fault("battery", err)
	}
	// A rest voltage read low says that this bank lies low on the charts.
	if s.OpenCircuit.Given() {
		for _, r := range []*rested{&b.middle, &b.end, &b.limit} {
			r.volts.Low, r.volts.High = min(r.volts.Low, b.start.volts.High), min(r.volts.High, b.start.volts.High)
		}
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
	over := func(soc float64) float64 {
		at, err := m.bank.between(soc, soc, m.site.Battery.Temperature.Mid())
		if err != nil {
			return math.NaN()
		}
		source := m.source(at, good)
		return float64(source.OpenCircuit) - float64(cut) - float64(dc)/float64(cut)*float64(source.Resistance())
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
