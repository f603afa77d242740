package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
	"ridethrough.example/motor"
)

// A cable is what lies between battery and inverter.
type cable struct {
	given    bool
	wire     conductor.Wire
	segment  conductor.Segment
	loop     motor.Range[unit.Resistance]
	contacts motor.Range[unit.Resistance]
	basis    Basis
}

// wire reads size, metal and stranding of a segment.
func (s *Segment) wire(stranding conductor.Stranding) (conductor.Wire, error) {
	w := conductor.Wire{Size: s.Size, Stranding: stranding}
	switch s.Metal {
	case "", "copper":
		w.Metal = conductor.Copper
	case "aluminium", "aluminum":
		w.Metal = conductor.Aluminium
	default:
		return w, errors.New(`metal: want "copper" or "aluminium"`)
	}
	switch s.Stranding {
	case "":
	case "solid":
		w.Stranding = conductor.Solid
	case "stranded":
		w.Stranding = conductor.Stranded
	case "flexible":
		w.Stranding = conductor.Flexible
	default:
		return w, errors.New(`stranding: want "solid", "stranded" or "flexible"`)
	}
	return w, nil
}

// conductorAt turns a segment of the site file into one of the library, at
// the greatest length and temperature given, or at the temperature assumed.
func (m *maker) conductorAt(s *Segment, table string, stranding conductor.Stranding, celsius float64) (conductor.Segment, error) {
	w, err := s.wire(stranding)
	if err != nil {
		return conductor.Segment{}, m.site.at(table, err)
	}
	if !s.Length.Given() {
		return conductor.Segment{}, m.site.at(table+".length", errMissing)
	}
	if !s.Temperature.Given() {
		s.Temperature = s.Temperature.or(conductor.Celsius(celsius))
		m.assume("%s.temperature: %.0f °C", table, celsius)
	}
	if s.Stranding == "" {
		m.assume("%s.stranding: %v", table, w.Stranding)
	}
	return conductor.Segment{Wire: w, OneWay: s.Length.High, Temperature: s.Temperature.High}, nil
}

// readCable turns the [dc_cable] table into a cable.
func (m *maker) readCable() error {
	s, c := &m.site.DCCable, &m.cable
	if !s.Contacts.Given() {
		s.Contacts = s.Contacts.orRange(assumedContactsLow, assumedContactsHigh)
		m.assume("dc_cable.contacts: %s mΩ for lugs, fuse and switch", span(s.Contacts.Low*1000, s.Contacts.High*1000))
	}
	c.contacts = motor.Range[unit.Resistance]{Low: s.Contacts.Low, High: s.Contacts.High}
	c.basis = s.Contacts.Basis
	if s.Contacts.High > 1 {
		return m.site.at("dc_cable.contacts", errors.New("contacts "+num(s.Contacts.High)+" Ω, want 0 Ω to 1 Ω"))
	}
	if !s.Size.IsValid() {
		if s.Length.Given() {
			return m.site.at("dc_cable.size", errMissing)
		}
		m.assume("dc_cable: left out, so its drop is not in any figure; say size and length")
		c.basis = Assumed
		return nil
	}
	segment, err := m.conductorAt(&s.Segment, "dc_cable", conductor.Flexible, 30)
	if err != nil {
		return err
	}
	c.given, c.wire, c.segment = true, segment.Wire, segment
	c.basis = worst(c.basis, s.Length.Basis)
	high, err1 := segment.LoopResistance()
	low, err2 := s.Segment.least(segment).LoopResistance()
	c.loop = motor.Range[unit.Resistance]{Low: low, High: high}
	return m.fault("dc_cable", first(err1, err2))
}

// least is a segment at the least length and temperature given.
func (s *Segment) least(c conductor.Segment) conductor.Segment {
	c.OneWay, c.Temperature = s.Length.Low, s.Temperature.Low
	return c
}

// readPath finds the impedance of the wires to a load.
func (m *maker) readPath(l *load) error {
	if len(l.Run) == 0 {
		return nil
	}
	run, err := m.pathOf(l)
	if err != nil {
		return err
	}
	high, err1 := run.Impedance()
	for i := range run.Segments {
		run.Segments[i] = l.Run[i].least(run.Segments[i])
	}
	low, err2 := run.Impedance()
	l.path = [2]complex128{low.Complex(), high.Complex()}
	return m.fault(l.table+".run", first(err1, err2))
}

func (m *maker) pathOf(l *load) (conductor.Run, error) {
	run := conductor.Run{Circuit: conductor.TwoWire}
	if l.Phases == 3 {
		run.Circuit = conductor.ThreePhase
	}
	var errs []error
	for i := range l.Run {
		table := fmt.Sprintf("%s.run[%d]", l.table, i)
		if !l.Run[i].Size.IsValid() {
			errs = append(errs, m.site.at(table+".size", errMissing))
			continue
		}
		s, err := m.conductorAt(&l.Run[i], table, conductor.Solid, 30)
		if err == nil {
			_, err = s.LoopResistance() // finds faults while the place is known
			err = m.fault(table, err)
		}
		errs = append(errs, err)
		s.Reactance = conductor.ReactanceInPVC
		run.Segments = append(run.Segments, s)
	}
	return run, errors.Join(errs...)
}

func metalName(metal string) string {
	if metal == "" {
		return "copper"
	}
	return metal
}
