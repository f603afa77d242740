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

// largestDrop is the drop that the code's notes advise for a branch circuit.
const largestDrop = 0.03

// showWires adds the drops of the wires to the loads and the branch circuits.
func (m *maker) showWires() error {
	s := Section{Title: "Wires to the loads"}
	for i := range m.loads {
		l := &m.loads[i]
		if err := m.showPath(&s, l); err != nil {
			return err
		}
		m.showBreaker(&s, l)
		m.checkHeat(&s, l)
	}
	m.show(s)
	return nil
}

func (m *maker) showPath(s *Section, l *load) error {
	if len(l.Run) == 0 {
		return nil
	}
	z := conductor.ImpedanceOf(l.path[1])
	basis := worst(l.vaBasis, l.runBasis, Table)
	for i := range l.Run {
		basis = worst(basis, l.Run[i].Length.Basis)
	}
	numbers := fmt.Sprintf("R = %s Ω, X = %s Ω out and back", num(z.Resistance), num(z.Reactance))
	for i := range l.Run {
		r := &l.Run[i]
		numbers += fmt.Sprintf("; %v %s, %s m one way at %s °C", r.Size, metalName(r.Metal), num(r.Length.High), num(conductor.InCelsius(r.Temperature.High)))
	}
	approx, exact, err := m.drops(l)
	if errors.Is(err, conductor.ErrCollapse) {
		m.check(Check{
			ID: l.key + ".run_drop", Title: l.Name + ": wires carry its running current", Unit: "%", Low: 100, High: 100,
			Limit: 100 * largestDrop, Basis: basis, Message: "The wires cannot carry this current at any voltage: " + err.Error(),
			Source: "IEEE Std 141-1993, 3.11, exact form",
		})
		if l.noStart {
			return nil
		}
		return m.showDip(s, l, basis, numbers)
	}
	if err != nil {
		return m.fault(l.table, err)
	}
	s.add(Figure{
		Key: l.key + ".run_drop_v", Label: l.Name + ": drop in its wires, running", Unit: "V",
		Low: float64(exact.Low), High: float64(exact.High), Basis: basis,
		Also:    fmt.Sprintf("%s %%; by I·(R·cos φ + X·sin φ) %s V", brief(100*exact.Low/m.supply, 100*exact.High/m.supply), num(approx)),
		Formula: "drop = Vs - Vr, Vs² = (Vr·cos φ + I·R)² + (Vr·sin φ + I·X)²",
		Numbers: fmt.Sprintf("Vs = %s V, I = %s A, cos φ = %s, %s", num(m.supply), span(l.run.Current.Low, l.run.Current.High),
			span(l.run.PowerFactor.Low, l.run.PowerFactor.High), numbers),
		Source: "IEEE Std 141-1993 (Red Book), 3.11; resistance from IEC 60028 and ASTM B258, reactance from NEC chapter 9, table 9",
		Shortcut: &Shortcut{
			Rule: "current times resistance", Value: float64(l.run.Current.High) * float64(z.Resistance),
			Why: "At a power factor below 1 part of that drop is out of phase and costs no voltage at the load.",
		},
	})
	m.check(Check{
		ID: l.key + ".run_drop", Title: l.Name + ": drop in its wires, running", Unit: "%",
		Low: 100 * float64(exact.Low/m.supply), High: 100 * float64(exact.High/m.supply), Limit: 100 * largestDrop, Advice: true, Basis: basis,
		Message: "More than 3 % wastes power and warms the motor; a larger size or a shorter way helps.",
		Source:  "NEC 210.19, informational note (advice, not a rule)",
	})
	if l.noStart {
		return nil
	}
	return m.showDip(s, l, basis, numbers)
}

// drops returns the drop by the approximation (greatest) and by the exact
// form (as a range).
func (m *maker) drops(l *load) (approx unit.Voltage, exact motor.Range[unit.Voltage], err error) {
	first := true
	for end, i := range []unit.Current{l.run.Current.Low, l.run.Current.High} {
		z := conductor.ImpedanceOf(l.path[end])
		for _, pf := range []float64{l.run.PowerFactor.Low, l.run.PowerFactor.High} {
			c := conductor.Load{Current: i, PowerFactor: pf}
			a, err1 := z.Drop(c)
			v, err2 := z.LoadVoltage(m.supply, c)
			if err1 != nil || err2 != nil {
				return 0, exact, errors.Join(err1, err2)
			}
			drop := motor.Exactly(m.supply - v)
			if first {
				exact, first = drop, false
			}
			approx, exact = max(approx, a), hull(exact, drop)
		}
	}
	return approx, exact, nil
}

// showDip adds the voltage that is left at the motor with its rotor held.
func (m *maker) showDip(s *Section, l *load, basis Basis, numbers string) error {
	if !m.suited(l) {
		return nil
	}
	_, _, left, err := l.corners(m.fundamental())
	if err != nil {
		return m.fault(l.table, err)
	}
	rated := l.plate[0].Voltage
	z := conductor.ImpedanceOf(l.path[1])
	low, high := unit.Voltage(left.Low)*rated, unit.Voltage(left.High)*rated
	naive := m.supply - unit.Voltage(float64(l.start.Current.High)*float64(z.Modulus()))
	basis = worst(basis, l.startBasis)
	s.add(Figure{
		Key: l.key + ".start_motor_v", Label: l.Name + ": left at the motor as it starts", Unit: "V",
		Low: float64(low), High: float64(high), Basis: basis,
		Also:    brief(100*left.Low, 100*left.High) + " % of its rated " + num(rated) + " V",
		Formula: "V = Vs·|Zm|/|Zm + Z|, Zm = V_rated/I_lr at the locked-rotor power factor",
		Numbers: fmt.Sprintf("Vs = %s V held by the inverter%s, I_lr = %s A, cos φ = %s, %s", num(m.fundamental()), m.waveText(),
			span(l.start.Current.Low, l.start.Current.High), span(l.start.PowerFactor.Low, l.start.PowerFactor.High), numbers),
		Source: "voltage divider, as in IEEE Std 399-1997 (Brown Book), 9.5, impedance method",
		Shortcut: &Shortcut{
			Rule: "Vs - I_lr·|Z|", Value: float64(naive),
			Why: "Subtracting the full locked-rotor drop forgets that the current falls with the voltage.",
		},
	})
	m.check(Check{
		ID: l.key + ".start_voltage", Title: l.Name + ": voltage left at the motor as it starts", Unit: "%",
		Low: 100 * left.Low, High: 100 * left.High, Limit: 65, AtLeast: true, Basis: basis,
		Message: fmt.Sprintf("Torque falls with the square of the voltage: at %s %% it is %s %% of the rated one. Below 65 %% makers do not promise a start.",
			num(100*left.Low), num(100*left.Low*left.Low)),
		Source: "common practice: pump makers' rule for engine sets, 65 % at the motor",
	})
	m.doubt(l)
	return nil
}

// fundamental is the part of the supply's voltage that turns a motor: all of
// a sine; of a stepped wave of 120 V rms and the peak of a sine 108 V.
func (m *maker) fundamental() unit.Voltage {
	if m.stepped() {
		return 0.9 * m.supply
	}
	return m.supply
}

func (m *maker) stepped() bool { return m.site.Inverter.Wave == "stepped" }

func (m *maker) waveText() string {
	if m.stepped() {
		return " (fundamental of its stepped wave, 108 V of 120 V)"
	}
	return ""
}

// showBreaker adds what the branch circuit carries.
func (m *maker) showBreaker(s *Section, l *load) {
	if !l.Breaker.Given() {
		return
	}
	ceiling := float64(m.supply) * float64(l.Breaker.Low)
	s.add(Figure{
		Key: l.key + ".circuit_va", Label: l.Name + ": ceiling of its branch circuit", Unit: "VA",
		Low: ceiling, High: ceiling, Basis: l.Breaker.Basis,
		Formula: "S = V·I", Numbers: fmt.Sprintf("V = %s V, I = %s A", num(m.supply), num(l.Breaker.Low)),
		Source: "definition of apparent power; the breaker's rating is a current",
	})
	m.check(Check{
		ID: l.key + ".circuit", Title: l.Name + ": running current within its breaker", Unit: "A",
		Low: float64(l.run.Current.Low), High: float64(l.run.Current.High), Limit: float64(l.Breaker.Low),
		Basis:   worst(l.runBasis, l.Breaker.Basis),
		Message: fmt.Sprintf("The circuit ends at %s VA; what else hangs on it counts as well.", num(ceiling)),
		Source:  "common practice: volts times amperes of the breaker",
	})
}

// checkHeat lays the running current, and the breaker where the load is no
// motor, beside what the wires to a load carry.
func (m *maker) checkHeat(s *Section, l *load) {
	for i := range l.Run {
		w, err := l.Run[i].wire(conductor.Solid)
		if err != nil {
			continue // said when the site was read
		}
		id, title := fmt.Sprintf("%s.run_%d_ampacity", l.key, i+1), fmt.Sprintf("%s: %v wire carries its current", l.Name, w.Size)
		a, ok := ampacityOf(w, true)
		if !ok {
			m.check(unknownAmpacity(id, title, l.run.Current, w, l.vaBasis))
			continue
		}
		m.check(Check{
			ID: id, Title: title, Unit: "A", Low: float64(l.run.Current.Low), High: float64(l.run.Current.High), Limit: float64(a.Low),
			Basis: worst(l.vaBasis, Table), Message: "More heats the wire beyond what its insulation and the terminals stand. Ambient heat and other wires beside it lower the limit.",
			Source: a.source,
		})
		m.checkProtection(s, l, i, w, a)
	}
}

// checkProtection lays the breaker beside the wire. A motor circuit may have a
// larger one, as its overload device protects the wire; then it is a note.
func (m *maker) checkProtection(s *Section, l *load, i int, w conductor.Wire, a ampacity) {
	if !l.Breaker.Given() {
		return
	}
	limit := a.Low
	if small, limited, err := conductor.SmallConductorLimit(w.Size, w.Metal); err == nil && limited {
		limit = small
	} else if up, err := conductor.StandardBreakers.ForAmpacity(a.Low); err == nil {
		limit = up
	}
	if !l.NoMotor {
		if l.Breaker.High > limit {
			s.note("%s: a %s A breaker on %v wire; the code allows %s A, save for motor circuits sized by article 430. Ask an electrician.",
				l.Name, num(l.Breaker.High), w.Size, num(limit))
		}
		return
	}
	m.check(Check{
		ID: fmt.Sprintf("%s.run_%d_breaker", l.key, i+1), Title: fmt.Sprintf("%s: breaker protects its %v wire", l.Name, w.Size), Unit: "A",
		Low: float64(l.Breaker.Low), High: float64(l.Breaker.High), Limit: float64(limit), Basis: worst(l.Breaker.Basis, Table),
		Message: "A larger breaker lets the wire burn before it opens.", Source: "NEC 240.4(B) and (D); " + a.source,
	})
}

func metalName(metal string) string {
	if metal == "" {
		return "copper"
	}
	return metal
}
