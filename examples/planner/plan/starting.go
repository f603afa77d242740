package plan

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// showStarting adds what each load asks for at the instant it starts, and
// lays it before inverter and battery.
func (m *maker) showStarting() error {
	s := Section{Title: "What each load asks for as it starts"}
	for i := range m.loads {
		l := &m.loads[i]
		if l.noStart {
			s.note("%s: no motor, so it starts at what it draws running.", l.Name)
			continue
		}
		m.showStart(&s, l)
		if !m.suited(l) {
			s.note("%s: no start is computed on a supply that is not its own.", l.Name)
			continue
		}
		if err := m.checkStart(&s, i); err != nil {
			return err
		}
		if err := m.showRunUp(&s, i); err != nil {
			return err
		}
	}
	if err := m.checkRestart(); err != nil {
		return err
	}
	if m.stepped() {
		s.note("The inverter's wave is stepped. Its fundamental is about 108 V of a nominal 120 V, so that motors have about a fifth less torque, run hotter, and start worse than these figures say; keep capacitors off such a wave.")
	}
	m.show(s)
	return nil
}

// checkRestart lays all starts at one time before the inverter: what happens
// when it is switched on with every load's switch closed.
func (m *maker) checkRestart() error {
	var s motor.Range[motor.ApparentPower]
	starting := 0
	duration := unit.Time(0)
	basis := m.inv.rating
	for i := range m.loads {
		l := &m.loads[i]
		if l.noStart || !m.suited(l) {
			s.Low, s.High = s.Low+l.run.Apparent.Low, s.High+l.run.Apparent.High
			continue
		}
		va, _, _, err := l.corners(m.supply)
		if err != nil {
			return m.fault(l.table, err)
		}
		s.Low, s.High = s.Low+va.Low, s.High+va.High
		starting++
		duration = max(duration, l.duration.High)
		basis = worst(basis, l.startVA)
	}
	if starting < 2 {
		return nil
	}
	allowed, _, err := m.inv.surge.Allowed(duration)
	if err != nil {
		return m.fault("inverter", err)
	}
	m.check(Check{
		ID: "inverter.restart", Title: "everything starting at once", Unit: "VA", Advice: true,
		Low: float64(s.Low), High: float64(s.High), Limit: float64(allowed), Basis: basis,
		Message: "Turning the inverter on, or a reset after a trip, starts every load whose switch is closed. Switch the loads on one by one.",
		Source:  "volt-amperes of all starts summed, which errs on the safe side",
	})
	return nil
}

// startSources says what each basis of a start rests on.
var startSources = map[motor.Basis]string{
	motor.BasisMeasured:    "a clamp meter's reading at this motor",
	motor.BasisNameplate:   "locked-rotor amperes on the plate",
	motor.BasisCodeLetter:  "NEMA MG 1 10.37.2 and NEC table 430.7(B), code letter",
	motor.BasisCodeTable:   "NEC tables 430.251(A) and (B)",
	motor.BasisRuleOfThumb: "common practice: a multiple of the running current",
}

func (m *maker) showStart(s *Section, l *load) {
	d := l.start
	volts := fmt.Sprintf("V = %s V, I_lr = %s A, cos φ = %s with the rotor held", num(d.Voltage), span(d.Current.Low, d.Current.High),
		span(d.PowerFactor.Low, d.PowerFactor.High))
	bound := ""
	if d.Unbounded {
		bound = " at least (code letter V has no upper limit)"
	}
	s.add(Figure{
		Key: l.key + ".start_apparent_va", Label: l.Name + ": apparent power at the start", Unit: "VA",
		Low: float64(d.Apparent.Low), High: float64(d.Apparent.High), Basis: l.startVA,
		Also:    brief(d.Current.Low, d.Current.High) + " A ac at " + num(d.Voltage) + " V" + bound,
		Formula: "S = V·I_lr, with I_lr = 1000·k·hp/V from a code letter of k kVA/hp", Numbers: volts, Source: startSources[d.Basis],
	})
	s.add(Figure{
		Key: l.key + ".start_real_w", Label: l.Name + ": real power at the start", Unit: "W",
		Low: float64(d.Real.Low), High: float64(d.Real.High), Basis: l.startBasis,
		Also:    fmt.Sprintf("for %s s", brief(l.duration.Low, l.duration.High)),
		Formula: "P = S·cos φ", Numbers: volts,
		Source: "locked-rotor power factors computed from published machines by type; 0.2 is for large three-phase motors",
		Shortcut: &Shortcut{
			Rule: "three times the running watts (volts times amperes)", Value: 3 * float64(l.run.Apparent.High),
			Why: "A motor at rest draws its locked-rotor current, whatever it draws later; the ratio runs from 2 to 10.",
		},
	})
	if d.SuspectInrush {
		s.note("%s: an inrush below 2.5 times the running current was probably missed by a slow meter. Use the locked-rotor amperes of the plate.", l.Name)
	}
}

// startDemand is what the inverter sees of a start: the motor's impedance
// behind its wires, at the inverter's voltage, at the bad end with all other
// loads running beside it.
func (m *maker) startDemand(i int) (demand, error) {
	l := &m.loads[i]
	s, p, _, err := l.corners(m.supply)
	if err != nil {
		return demand{}, m.fault(l.table, err)
	}
	otherP, otherS := m.together(i)
	p.High += otherP.High
	s.High += otherS.High
	return demand{real: p, apparent: s}, nil
}

func (m *maker) checkStart(s *Section, i int) error {
	l := &m.loads[i]
	d, err := m.startDemand(i)
	if err != nil {
		return err
	}
	full, err := m.carry(d, m.bank.start, l.duration)
	if err != nil {
		return err
	}
	low, err := m.carry(d, m.bank.end, l.duration)
	if err != nil {
		return err
	}
	beside := ""
	if len(m.loads) > 1 {
		beside = ", at the high end with every other load running"
	}
	numbers := fmt.Sprintf("%s VA and %s W asked of the inverter%s; dc losses from its efficiency", span(d.apparent.Low, d.apparent.High),
		span(d.real.Low, d.real.High), beside)
	basis := worst(l.startBasis, m.inv.loss, m.bank.voltBasis, m.cable.basis)
	source := "P = V·(Voc - V)/R, constant power on a source with resistance (maximum power transfer theorem)"
	if !low.collapses() {
		i := low.current()
		s.add(Figure{
			Key: l.key + ".start_dc_a", Label: l.Name + ": battery current at the start", Unit: "A",
			Low: float64(min(i.Low, full.current().Low)), High: float64(i.High), Basis: basis,
			Also:    "dc, from the beginning of the discharge to its end",
			Formula: "I = 2P/(Voc + √(Voc² - 4PR)), P the dc power", Numbers: fmt.Sprintf("P = %s W dc, %s", span(low.dc().Low, low.dc().High), numbers), Source: source,
			Shortcut: &Shortcut{
				Rule: "dc watts over the nominal voltage", Value: float64(low.dc().High) / float64(m.bank.Voltage()),
				Why: "It leaves out the sag, which raises the current of a constant power.",
			},
		})
	}
	v, fell := low.voltage(), "dc"
	if low.collapses() {
		fell = "dc; it collapses at the bad end"
	}
	s.add(Figure{
		Key: l.key + ".start_dc_v", Label: l.Name + ": voltage at the inverter as it starts", Unit: "V",
		Low: float64(v.Low), High: float64(max(v.High, full.voltage().High)), Basis: basis, Also: fell,
		Formula: "V = (Voc + √(Voc² - 4PR))/2",
		Numbers: fmt.Sprintf("Voc = %s V full, %s V at the depth limit; R = %s mΩ of battery, cable and contacts; %s",
			span(m.bank.start.volts.Low, m.bank.start.volts.High), span(m.bank.end.volts.Low, m.bank.end.volts.High), m.loopText(m.bank.end), numbers),
		Source: source,
	})
	m.showTrip(s, l, low)
	m.startChecks(l, d, full, low, basis)
	return m.checkManagedStart(l, low, basis)
}

// loopText writes the resistance of the dc side in milliohms.
func (m *maker) loopText(at rested) string {
	low := at.resistance.Low + m.cable.loop.Low + m.cable.contacts.Low
	high := at.resistance.High + m.cable.loop.High + m.cable.contacts.High
	return span(1000*low, 1000*high)
}

// startChecks adds the two limits that a start meets: volt-amperes on the
// inverter, watts on the battery, the second at the end of the discharge.
func (m *maker) startChecks(l *load, d demand, full, low outcome, basis Basis) {
	surge := Check{
		ID: l.key + ".start_surge", Title: l.Name + ": start within the inverter's surge", Unit: "VA",
		Low: float64(d.apparent.Low), High: float64(d.apparent.High), Limit: float64(full.bad.Allowed),
		GoodLimit: float64(full.good.Allowed), Basis: worst(l.startBasis, m.inv.rating),
		Message: fmt.Sprintf("Asked for %s s, the inverter carries %s VA. One that limits its current lets the motor hum at reduced voltage until something trips.",
			span(l.duration.Low, l.duration.High), num(full.bad.Allowed)),
		Source: "common practice: locked-rotor volt-amperes against the label's surge, between two times the longer one's",
	}
	m.check(surge)
	m.doubt(l)
	limit := low.bad.Limit
	v := low.voltage()
	message := fmt.Sprintf("At the depth limit the dip reaches %s V against a cut-off of %s V; with a full bank %s V.", num(v.Low), num(limit), num(full.voltage().Low))
	if low.collapses() {
		message = "The dc side collapses: " + low.asked()
	}
	m.check(Check{
		ID: l.key + ".start_dc", Title: l.Name + ": dc side holds through the start", Unit: "W",
		Low: float64(low.good.DC.Low), High: float64(low.bad.DC.High), Limit: float64(low.bad.Largest), GoodLimit: float64(low.good.Largest),
		Basis: worst(basis, m.inv.cut), Message: message, Source: "P_cut = V_cut·(Voc - V_cut)/R",
	})
	m.doubt(l)
}

// doubt turns the latest check, one of a load's start, from holding into
// depending where a start is no more than a guess: for lack of an upper end,
// of evidence, of a cable, or of a sine wave.
func (m *maker) doubt(l *load) {
	c := &m.plan.Checks[len(m.plan.Checks)-1]
	var reasons []string
	if l.start.Unbounded {
		reasons = append(reasons, "the code letter V has no upper limit")
	}
	if l.unsure != "" {
		reasons = append(reasons, l.unsure)
	}
	if m.stepped() {
		reasons = append(reasons, "on a stepped wave motors have less torque and more heat than these figures say")
	}
	if strings.HasSuffix(c.ID, ".start_dc") && !m.cable.given {
		reasons = append(reasons, "the dc cable is not in the site file")
	}
	if len(reasons) == 0 {
		return
	}
	if c.State == Holds {
		c.State = Depends
	}
	c.Message += " Not sure: " + strings.Join(reasons, "; ") + "."
}
