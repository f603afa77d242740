package plan

import (
	"errors"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// showDCSide adds what the cable between battery and inverter loses, what its
// fuse must carry and what a short circuit would deliver.
func (m *maker) showDCSide() error {
	s := Section{Title: "Between battery and inverter"}
	running := m.all.running
	basis := worst(m.inv.loss, m.bank.voltBasis, m.cable.basis)
	for i := range m.loads {
		basis = worst(basis, m.loads[i].runBasis)
	}
	if m.cable.given && !running.collapses() {
		if err := m.showCableDrop(&s, "running", "everything running", running, basis); err != nil {
			return err
		}
		if l := m.all.hardest; l != nil && !m.all.starting.collapses() {
			if err := m.showCableDrop(&s, "starting", l.Name+" starting", m.all.starting, worst(basis, l.startBasis)); err != nil {
				return err
			}
		}
		m.noteCableSize(&s, running.current().High)
	}
	if !running.collapses() {
		if err := m.showFuse(&s, running, basis); err != nil {
			return err
		}
	}
	if err := first(m.showFault(&s), m.showPrecharge(&s)); err != nil {
		return err
	}
	m.show(s)
	return nil
}

func (m *maker) showCableDrop(s *Section, id, what string, o outcome, basis Basis) error {
	c, i := &m.cable, o.current()
	drop := motor.Range[unit.Voltage]{
		Low:  unit.Voltage(float64(i.Low) * float64(c.loop.Low+c.contacts.Low)),
		High: unit.Voltage(float64(i.High) * float64(c.loop.High+c.contacts.High)),
	}
	n := m.bank.Voltage()
	s.add(Figure{
		Key: "dc_cable.drop_" + id + "_v", Label: "Drop in cable and contacts, " + what, Unit: "V", Low: float64(drop.Low), High: float64(drop.High), Basis: basis,
		Also:    fmt.Sprintf("%s %% of %s V, at %s A dc", brief(100*drop.Low/n, 100*drop.High/n), num(n), brief(i.Low, i.High)),
		Formula: "Vd = I·(2·r·L + R_contacts)",
		Numbers: fmt.Sprintf("%v, %s m one way at %s °C: %s mΩ out and back; contacts %s mΩ", c.wire, num(c.segment.OneWay),
			num(conductor.InCelsius(c.segment.Temperature)), span(1000*c.loop.Low, 1000*c.loop.High), span(1000*c.contacts.Low, 1000*c.contacts.High)),
		Shortcut: &Shortcut{
			Rule:  "dc watts over the nominal voltage, times the cable alone",
			Value: float64(o.dc().High) / float64(n) * float64(c.loop.High),
			Why:   "The inverter draws more amperes as the voltage sags, and the contacts drop some as well.",
		},
		Source: "NEC chapter 9, table 8; IEC 60028 (copper), ASTM B258 (area); class K lay of 5 % is common practice",
	})
	if id == "running" {
		m.check(Check{
			ID: "dc_cable.drop", Title: "dc cable drop, everything running", Unit: "%", Advice: true,
			Low: float64(100 * drop.Low / n), High: float64(100 * drop.High / n), Limit: 100 * largestDrop, Basis: basis,
			Message: "Every volt lost here is missing at the start dip as well.", Source: "common practice: 3 % for circuits that matter",
		})
	}
	return nil
}

// noteCableSize says which size both the running drop and the fuse ask for.
func (m *maker) noteCableSize(s *Section, i unit.Current) {
	allowed := unit.Voltage(0.02) * m.bank.Voltage()
	sizes, name := conductor.BuildingSizes(), "AWG"
	if m.cable.wire.Size.IsMetric() {
		sizes, name = conductor.MetricSizes(), "metric"
	}
	// Only sizes that carry the fuse are offered: a short cable drops little
	// long after it is too hot.
	sizes = slices.DeleteFunc(sizes, func(size conductor.Size) bool {
		w := m.cable.wire
		w.Size = size
		a, ok := ampacityOf(w, false)
		return !ok || a.Low < 1.25*i
	})
	if len(sizes) == 0 {
		s.note("No %s size in the tables carries a fuse for %s A.", name, num(i))
		return
	}
	size, drop, err := conductor.Search{
		Circuit: conductor.TwoWire, Segment: m.cable.segment, Load: conductor.DC(i), Allowed: allowed,
	}.Smallest(sizes)
	switch {
	case errors.Is(err, conductor.ErrNoSize):
		s.note("No %s size keeps the cable's own drop within 2 %% at %s A over this length: move the inverter nearer.", name, num(i))
	case err == nil:
		s.note("The smallest size that carries the fuse (in a raceway, 75 °C) and keeps the cable's own drop within 2 %% (%s V) with everything running is %v, at %s V.",
			num(allowed), size, num(drop))
	}
}

func (m *maker) showFuse(s *Section, running outcome, basis Basis) error {
	i := running.current().High
	rating, err := inverter.LeastRating(i)
	if err != nil {
		return m.fault("inverter", err)
	}
	s.add(Figure{
		Key: "dc_cable.least_fuse_a", Label: "Least rating of the dc fuse, everything running", Unit: "A", Low: float64(rating), High: float64(rating), Basis: basis,
		Also:    "then the next standard size, not above what the cable carries, and slow enough for the start",
		Formula: "1.25·I at the lowest voltage", Numbers: fmt.Sprintf("I = %s A dc at the depth limit", num(i)), Source: "common practice, after the code's 125 % for continuous loads",
	})
	if !m.cable.given {
		return nil
	}
	const title = "dc cable carries its fuse"
	least, err := inverter.LeastRating(running.current().Low)
	if err != nil {
		return m.fault("inverter", err)
	}
	fuse := motor.Range[unit.Current]{Low: least, High: rating}
	a, ok := ampacityOf(m.cable.wire, false)
	if !ok {
		m.check(unknownAmpacity("dc_cable.ampacity", title, fuse, m.cable.wire, basis))
		return nil
	}
	m.check(Check{
		ID: "dc_cable.ampacity", Title: title, Unit: "A",
		Low: float64(fuse.Low), High: float64(fuse.High), Limit: float64(a.Low), GoodLimit: float64(a.High), Basis: worst(basis, Table),
		Message: "A fuse of 125 % of the running current must not be larger than what the cable carries, or the cable is the fuse. The low limit is for a raceway, the high one for free air; cable for higher temperatures carries more, in a hot space less.",
		Source:  a.source,
	})
	return nil
}

func (m *maker) showFault(s *Section) error {
	i, err := m.bank.FaultCurrent(0)
	if err != nil {
		return m.fault("battery", err)
	}
	r, _, err := m.bank.InternalResistance(0)
	if err != nil {
		return m.fault("battery", err)
	}
	s.add(Figure{
		Key: "battery.fault_a", Label: "Short-circuit current at the bank's terminals", Unit: "A", Low: float64(i.Low), High: float64(i.High), Basis: m.bank.voltBasis,
		Also:    "the fuse must interrupt the high end, at dc",
		Formula: "I = Voc/R; high end full and warm, low end nearly flat with three times the resistance",
		Numbers: fmt.Sprintf("R = %s mΩ at 25 °C", span(1000*r.Low, 1000*r.High)),
		Source:  "Ohm's law, as in IEEE Std 946; the threefold resistance is common practice",
	})
	return nil
}
