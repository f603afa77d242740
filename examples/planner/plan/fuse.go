package plan

import (
	"errors"
	"fmt"

	"ridethrough.example/conductor"
	"ridethrough.example/motor"
)

// dcFuse returns the window of standard fuses for the battery's cable; window
// is false where there is none. An end of it that is not known is 0, the lower
// one where the load cannot be carried at all.
func (m *maker) dcFuse() (choice conductor.DeviceChoice, window bool, err error) {
	running := m.all.running
	a, ok := ampacityOf(m.cable.wire, false)
	if !ok {
		return choice, false, nil
	}
	choice.Most = a.Low
	if running.collapses() || running.current().High < leastCurrent {
		return choice, false, nil
	}
	protection := conductor.Protection{Running: running.current().High, Ampacity: a.Low, Ratings: conductor.StandardFuses}
	if l := m.all.hardest; l != nil && !m.all.starting.collapses() {
		protection.Surge = max(m.all.starting.current().High, protection.Running)
		protection.SurgeTime = l.duration.High
	}
	choice, err = protection.Device()
	var none *conductor.NoRatingError
	if errors.As(err, &none) {
		return conductor.DeviceChoice{Least: none.Least, Most: none.Most}, false, nil
	}
	return choice, err == nil, m.fault("dc_cable", err)
}

// motorProtection says what the code asks for a motor's branch circuit, from
// the table's full-load current; ok is false for a size that it does not list.
func motorProtection(l *load) (text string, ok bool) {
	if _, err := motor.CodeFullLoadCurrent(l.plate[1].Output, l.plate[1].Voltage, l.Phases); err != nil {
		return "", false
	}
	c := motorCircuit(l)
	wire, err1 := c.ConductorAmpacity()
	device, err2 := c.ShortCircuit(conductor.InverseTimeBreaker)
	if first(err1, err2) != nil {
		return "", false
	}
	text = fmt.Sprintf("table current %s A: wire of %s A, breaker to %s A", num(c.Table), num(wire), num(device.Standard))
	if l.FullLoadCurrent.Given() {
		c.Nameplate = l.FullLoadCurrent.High
		if overload, err := c.Overload(); err == nil {
			text += fmt.Sprintf(", overload %s A", num(round3(overload.Largest)))
		}
	}
	return text, true
}

// checkFuse lays the fuse of the site file beside what it must be: a rating
// in the window, an interrupting rating above the bank's fault current, a
// place near the battery.
func (m *maker) checkFuse() error {
	s := &m.site.DCCable
	if s.Fuse.Given() {
		choice, _, err := m.dcFuse()
		if err != nil {
			return err
		}
		c := Check{
			ID: "dc_cable.fuse", Title: "dc fuse not above what its cable carries", Unit: "A",
			Low: float64(s.Fuse.Low), High: float64(s.Fuse.High), Limit: float64(choice.Most), Basis: worst(s.Fuse.Basis, Table),
			Message: "A larger fuse lets the cable burn.", Source: "IEC 60364-4-43, 433.1; NEC (2023) 240.4",
		}
		if !m.cable.given {
			c.GoodLimit, c.Message = c.High, "What the cable carries is not known: its size is not in the site file."
		}
		m.check(c)
		if choice.Least > 0 {
			m.check(Check{
				ID: "dc_cable.fuse_least", Title: "dc fuse carries the running current with 25 % to spare", Unit: "A", AtLeast: true,
				Low: float64(s.Fuse.Low), High: float64(s.Fuse.High), Limit: float64(choice.Least), Basis: worst(s.Fuse.Basis, Table),
				Message: "A smaller fuse opens while everything runs. Whether it stands the start its time-current curve must say.", Source: "NEC (2023) 215.3",
			})
		}
	}
	if !s.Fuse.Given() {
		m.assume("dc_cable.fuse: none is given, so that no fuse is checked; without one the cable is a fire hazard")
	}
	if s.Interrupting.Given() {
		i, err := m.bank.FaultCurrent(0)
		if err != nil {
			return m.fault("battery", err)
		}
		m.check(Check{
			ID: "dc_cable.interrupting", Title: "dc fuse interrupts the bank's short circuit", Unit: "A", AtLeast: true,
			Low: float64(s.Interrupting.Low), High: float64(s.Interrupting.High), Limit: float64(i.High), Basis: worst(s.Interrupting.Basis, m.bank.voltBasis),
			Message: "A fuse that cannot interrupt the current bursts or goes on arcing. The rating must be for dc, at the bank's voltage; one for ac says nothing.",
			Source:  "NEC (2023) 110.9",
		})
	}
	if s.FuseDistance.Given() {
		limit, err1 := conductor.FarthestDevice(conductor.Uncovered)
		sheathed, err2 := conductor.FarthestDevice(conductor.SheathedAtBattery)
		if err := first(err1, err2); err != nil {
			return m.fault("dc_cable", err)
		}
		if m.cable.given && s.FuseDistance.Low > s.Length.High {
			return m.site.at("dc_cable.fuse_distance", errors.New("the fuse is farther from the battery than the cable is long"))
		}
		m.check(Check{
			ID: "dc_cable.fuse_distance", Title: "dc fuse near the battery", Unit: "m",
			Low: float64(s.FuseDistance.Low), High: float64(s.FuseDistance.High), Limit: float64(limit), GoodLimit: float64(sheathed), Basis: s.FuseDistance.Basis,
			Message: "Nothing protects the cable before its fuse. In a sheath or conduit from the battery on it may be up to 1.8 m away.",
			Source:  "common practice: ABYC E-11, 11.10.1 (recalled)",
		})
	}
	return nil
}

// motorCircuit is the load as the code sees it: by the table's full-load
// current, or for a motor that the table does not list by the largest current
// that is known of it.
func motorCircuit(l *load) conductor.MotorCircuit {
	kind := conductor.SinglePhase
	if l.Phases == 3 {
		kind = conductor.Polyphase
	}
	largest := max(l.FullLoadCurrent.High, l.run.Current.High)
	table, err := motor.CodeFullLoadCurrent(l.plate[1].Output, l.plate[1].Voltage, l.Phases)
	if err != nil {
		table = largest
	}
	return conductor.MotorCircuit{Kind: kind, Table: table, Nameplate: largest, ServiceFactor: l.plate[1].ServiceFactor}
}
