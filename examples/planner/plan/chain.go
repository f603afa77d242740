package plan

import (
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// A demand is what the inverter is asked for, in volt-amperes and watts.
type demand struct {
	real     motor.Range[unit.Power]
	apparent motor.Range[motor.ApparentPower]
}

// An outcome is what becomes of a demand on its way from the battery: at the
// good end (least demand, stiffest source) and at the bad end (greatest
// demand, softest source).
type outcome struct {
	good, bad inverter.Check
}

// span of a quantity over the two ends, with the sides of a voltage in order.
func (o outcome) dc() motor.Range[unit.Power] {
	return motor.Range[unit.Power]{Low: o.good.DC.Low, High: o.bad.DC.High}
}

func (o outcome) current() motor.Range[unit.Current] {
	return motor.Range[unit.Current]{Low: o.good.Current.Low, High: o.bad.Current.High}
}

func (o outcome) voltage() motor.Range[unit.Voltage] {
	return motor.Range[unit.Voltage]{Low: o.bad.Voltage.Low, High: o.good.Voltage.High}
}

// collapses reports whether the source has no operating point at the bad end.
func (o outcome) collapses() bool { return o.bad.Collapse.Verdict != inverter.Passes }

// source is the dc source at one end of what is known.
func (m *maker) source(at rested, good bool) inverter.Source {
	s := inverter.Source{
		OpenCircuit: at.volts.Low, Battery: at.resistance.High, Cable: m.cable.loop.High, Contacts: m.cable.contacts.High,
	}
	if good {
		s.OpenCircuit, s.Battery = at.volts.High, at.resistance.Low
		s.Cable, s.Contacts = m.cable.loop.Low, m.cable.contacts.Low
	}
	return s
}

// cutOff is the low-voltage cut-off at one end of what is known.
func (m *maker) cutOff(good bool) inverter.CutOff {
	c := m.inv.cutOff
	if s := m.site.Inverter.CutOff; good && s.High > s.Low {
		c.Running = s.Low
		c.Start = min(c.Start, s.Low)
	}
	return c
}

// carry lays a demand before the chain of battery, cable and inverter with
// the bank at one point of its discharge. A steady demand has no duration.
func (m *maker) carry(d demand, at rested, duration motor.Range[unit.Time]) (outcome, error) {
	var o outcome
	for _, good := range []bool{true, false} {
		_, bad := m.inv.bestAndWorst(d.real.High, d.apparent.High)
		system := inverter.System{Loss: bad, Surge: m.inv.surge, Source: m.source(at, good), CutOff: m.cutOff(good)}
		p, s, t := d.real.High, d.apparent.High, duration.High
		if good {
			best, _ := m.inv.bestAndWorst(d.real.Low, d.apparent.Low)
			system.Loss, p, s, t = best, d.real.Low, d.apparent.Low, duration.Low
		}
		asked := inverter.Demand{Real: motor.Exactly(p), Apparent: motor.Exactly(max(s, motor.ApparentPower(p)))}
		var check inverter.Check
		var err error
		if t > 0 {
			check, err = system.CheckStart(asked, t)
		} else {
			check, err = system.CheckRun(asked)
		}
		if err != nil {
			return o, m.fault("inverter", err)
		}
		if good {
			o.good = check
		} else {
			o.bad = check
		}
	}
	return o, nil
}

// A together is what becomes of all loads at the end of the discharge: running
// at once, and with the start that takes most from the battery beside them.
type together struct {
	demand            demand
	running, starting outcome
	hardest           *load  // whose start that is; nil: nothing starts
	beside            demand // of it, with all else running
}

func (m *maker) findTogether() (err error) {
	a := &m.all
	a.demand.real, a.demand.apparent = m.together(-1)
	if a.running, err = m.carry(a.demand, m.bank.end, motor.Range[unit.Time]{}); err != nil {
		return err
	}
	for i := range m.loads {
		l := &m.loads[i]
		if l.noStart || !m.suited(l) {
			continue
		}
		d, err := m.startDemand(i)
		if err != nil {
			return err
		}
		this, err := m.carry(d, m.bank.end, l.duration)
		if err != nil {
			return err
		}
		if a.hardest == nil || this.bad.DC.High > a.starting.bad.DC.High {
			a.hardest, a.starting, a.beside = l, this, d
		}
	}
	return nil
}
