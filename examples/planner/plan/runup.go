package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ridethrough.example/motor"
)

// Full speed is this share of the synchronous one; a start should be over before
// a start capacitor or an overload protection suffers, and must be where a start
// switch would not open in time.
//
// Common practice: start capacitors are to be out within 3 to 5 s.
const (
	fullSpeed    = 90.0 // (%)
	longestStart = 3.0  // (s)
	latestSwitch = 5.0  // (s)
	// shortestStart is three cycles, below which quasi-steady times say nothing:
	// they leave out that the flux has to build up.
	shortestStart = 0.05
)

// A stage is a start with the bank at one point of its discharge, at the bad and
// the good end of what is known: motors of its kind from the least to the
// greatest locked-rotor current, wires, inertia and load torque, rest voltage,
// resistance, losses and cut-off, and what runs beside it.
type stage struct {
	bad, good corner
	ends      [2][]corner // all, bad end first
}

// state says what comes of it. A start depends where it comes up only at the
// good end, or at the bad end only on an inverter that lowers its voltage at a
// limit instead of switching off.
func (s stage) state() State {
	switch {
	case s.bad.starts():
		return Holds
	case s.good.comesUp():
		return Depends
	}
	return Fails
}

// A runUp is how a load comes up to speed through the whole chain.
type runUp struct {
	name   string
	key    string
	full   stage       // with the bank as it is when the power fails
	low    stage       // at the depth limit
	weak   []startCase // the bad end at the depth limit
	source string      // the motors it rests on
}

// state is the verdict: from the bad end at the depth limit to the good end at
// the start of the outage.
func (u *runUp) state() State {
	switch {
	case u.low.bad.starts():
		return Holds
	case u.full.good.comesUp():
		return Depends
	}
	return Fails
}

// runUp runs all corners of a load's start.
func (m *maker) runUp(i int, motors []typicalMotor) (*runUp, error) {
	l := &m.loads[i]
	u := &runUp{name: l.Name, key: l.key}
	var sources []string
	for _, kind := range motors {
		sources = append(sources, kind.source)
	}
	u.source = strings.Join(sources, "; ")
	for _, at := range []struct {
		*stage
		rested
	}{{&u.full, m.bank.start}, {&u.low, m.bank.end}} {
		for end, e := range []end{weakAmong, strongest} {
			cases, err := m.startCases(i, motors, at.rested, e)
			if err != nil {
				return nil, err
			}
			for _, c := range cases {
				corner, err := c.follow()
				if err != nil {
					return nil, m.fault(l.table, err)
				}
				at.ends[end] = append(at.ends[end], corner)
			}
			if at.stage == &u.low && e == weakAmong {
				u.weak = cases
			}
		}
		at.bad = slices.MinFunc(at.ends[0], corner.order)
		at.good = slices.MaxFunc(at.ends[1], corner.order)
	}
	return u, nil
}

// over returns a figure's least and greatest over all corners.
func over[T ~float64](u *runUp, of func(corner) T) (r motor.Range[T]) {
	first := true
	for _, s := range []stage{u.full, u.low} {
		for _, end := range s.ends {
			for _, c := range end {
				if first {
					r, first = motor.Exactly(of(c)), false
				}
				r = hull(r, motor.Exactly(of(c)))
			}
		}
	}
	return r
}

// showRunUp follows the start of a load from rest through the chain of battery,
// cable, inverter, wires and motor.
func (m *maker) showRunUp(s *Section, i int) error {
	l := &m.loads[i]
	motors, why := l.typicalMotors()
	if why != "" {
		s.note("%s: whether it comes up to speed is not computed: %s.", l.Name, why)
		return nil
	}
	u, err := m.runUp(i, motors)
	if err != nil {
		return err
	}
	m.runUps = append(m.runUps, u)
	m.showRunUpFigures(s, l, u, motors)
	m.showDynamic(s, l, u)
	basis := worst(l.startBasis, RuleOfThumb, m.inv.loss, m.bank.voltBasis, m.cable.basis, m.inv.cut)
	reach := over(u, func(c corner) float64 { return min(c.reach, c.tripped) })
	m.check(Check{
		ID: l.key + ".start_runup", Title: l.Name + ": comes up to speed", Unit: "%", AtLeast: true, Setting: true,
		Low: reach.Low, High: max(reach.High, u.full.good.reach), Limit: fullSpeed, Basis: basis,
		Message: u.message(), Source: "equation of motion with the equivalent circuits of published motors, on the inverter's limits and the battery; load torque and inertia by common practice",
	})
	m.plan.Checks[len(m.plan.Checks)-1].State = u.state()
	if err := m.showRemedies(s, i, motors, u); err != nil {
		return err
	}
	if u.full.good.comesUp() {
		bad := max(u.full.good.result.FullSpeed, u.low.bad.result.FullSpeed)
		m.check(Check{
			ID: l.key + ".start_time", Title: l.Name + ": up to speed in good time", Unit: "s", Advice: true,
			Low: float64(u.full.good.result.FullSpeed), High: float64(bad), Limit: longestStart, Basis: basis,
			Message: "A start that drags on heats windings and start capacitor, and may trip the overload protection before the motor is up.",
			Source:  "common practice: start capacitors out within 3 to 5 s",
		})
		if c := &m.plan.Checks[len(m.plan.Checks)-1]; !u.low.bad.comesUp() {
			c.State = min(c.State, Depends)
			c.Message = "At the bad end of what is known it never comes up. " + c.Message
		}
	}
	return nil
}

// showRunUpFigures adds the figures of the chain.
func (m *maker) showRunUpFigures(s *Section, l *load, u *runUp, motors []typicalMotor) {
	motorBasis := worst(l.startBasis, RuleOfThumb)
	basis := worst(motorBasis, m.inv.loss, m.bank.voltBasis, m.cable.basis, m.inv.cut)
	inertia, rest, full := turned(motors)
	numbers := fmt.Sprintf("I_lr = %s A; wires %s Ω; J = %s kg·m²; T_load = %s N·m at rest, %s N·m at speed; V_0 = %s V, the surge rating less what else runs; Voc = %s V full, %s V at the depth limit; R = %s mΩ full, %s mΩ at the depth limit",
		span(l.start.Current.Low, l.start.Current.High), span(real(l.path[0]), real(l.path[1])),
		brief(inertia.Low, inertia.High), brief(rest.Low, rest.High), brief(full.Low, full.High), num(m.fundamental()),
		span(m.bank.start.volts.Low, m.bank.start.volts.High), span(m.bank.end.volts.Low, m.bank.end.volts.High), m.loopText(m.bank.start), m.loopText(m.bank.end))
	good, bad := u.full.good, u.low.bad
	if good.comesUp() {
		low, high := good.result.FullSpeed, max(good.result.FullSpeed, bad.result.FullSpeed)
		also := "to 90 % of synchronous speed"
		switch {
		case !bad.comesUp():
			also += "; at the bad end never"
		case !bad.starts():
			also += "; at the bad end on an inverter that lowers its voltage"
		}
		if low < shortestStart {
			also += "; three cycles stand for any shorter start, which the model does not resolve"
			low, high = shortestStart, max(high, shortestStart)
		}
		s.add(Figure{
			Key: l.key + ".runup_s", Label: l.Name + ": time to come up to speed", Unit: "s",
			Low: float64(low), High: float64(high), Basis: basis, Also: also,
			Formula: "J·dω/dt = T(ω, V) - T_load(ω), T = V²·t(ω) of the motor's equivalent circuit, the start switch opening at 75 % of synchronous speed",
			Numbers: numbers, Source: u.source + "; scaling by V²/P is common practice",
			Shortcut: &Shortcut{Rule: "a start lasts a second", Value: 1, Why: "It is inertia over the torque that is left, which falls with the square of the voltage."},
		})
	}
	v := over(u, func(c corner) float64 { return float64(c.result.LeastVoltage) })
	also := ""
	if v.Low == 0 {
		also = "0 where the inverter switches off at once"
	}
	s.add(Figure{
		Key: l.key + ".runup_motor_v", Label: l.Name + ": least voltage at the motor on its way up", Unit: "V",
		Low: v.Low, High: v.High, Basis: basis, Also: also,
		Formula: "V = V_inv·|Z/(Z + Z_wires)|, V_inv = V_0 or what the limit that acts leaves of it", Numbers: numbers, Source: "voltage divider; the motor's impedance from its equivalent circuit",
	})
	dc := over(u, func(c corner) float64 { return float64(c.dcVoltage) })
	p := over(u, func(c corner) float64 { return float64(c.dcVoltage) * float64(c.dcCurrent) })
	s.add(Figure{
		Key: l.key + ".runup_dc_v", Label: l.Name + ": least voltage at the inverter on its way up", Unit: "V",
		Low: dc.Low, High: dc.High, Basis: basis, Also: "dc; " + u.low.bad.acts(),
		Formula: "V = (Voc + √(Voc² - 4PR))/2, P = P_0 + (1 + v)·P_ac + r·S²/P_r at every instant, not below the cut-off",
		Numbers: fmt.Sprintf("P = %s W dc at the most; ", brief(p.Low, p.High)) + numbers, Source: "P = V·(Voc - V)/R, constant power on a source with resistance; a cut-off ends the dip",
	})
	a := over(u, func(c corner) float64 { return float64(c.dcCurrent) })
	numbers = fmt.Sprintf("P = %s W dc at the most, V = %s V; ", brief(p.Low, p.High), brief(dc.Low, dc.High)) + numbers
	s.add(Figure{
		Key: l.key + ".runup_dc_a", Label: l.Name + ": greatest battery current on its way up", Unit: "A",
		Low: a.Low, High: a.High, Basis: basis, Also: "dc",
		Formula: "I = (Voc - V)/R", Numbers: numbers, Source: "Ohm's law",
	})
}

// message says how it comes out.
func (u *runUp) message() string {
	switch u.state() {
	case Holds:
		return fmt.Sprintf("It starts: %s to %s, and no limit of the inverter acts.", u.full.good.text(), u.low.bad.text())
	case Depends:
		return "Marginal. " + u.stages() + " " + danger
	}
	return "It does not start. " + u.stages() + " " + danger
}

// danger is what a start that fails does.
const danger = "A motor that hums or crawls draws its starting current until something trips or burns: switch it off."

// stages says how the start goes at the bad end of what is known, at the depth
// limit and, where that is another way, as the outage begins; then at the good
// end.
func (u *runUp) stages() string {
	text := "At the bad end of what is known, at the depth limit, " + u.low.bad.tell() + "."
	if full := u.full.bad.tell(); full != u.low.bad.tell() {
		text += " At the bad end still, as the outage begins, " + full + "."
	}
	return text + " At the good end, as the outage begins, " + u.full.good.tell() + "."
}

// tell says in a sentence how one end comes out.
func (c corner) tell() string {
	switch {
	case c.starts():
		return "it starts: " + c.text()
	case c.comesUp():
		return fmt.Sprintf("%s; an inverter that then lowers its voltage brings it up (%s), one that switches off does not", c.acts(), c.text())
	case c.limit != 0 && c.result.Cause != nil:
		return c.acts()
	case c.limit != 0:
		return fmt.Sprintf("%s, and it %s even if the inverter only lowers its voltage", c.acts(), c.text())
	}
	return "it " + c.text()
}

// text says how one end comes out.
func (c corner) text() string {
	r := &c.result
	switch {
	case c.comesUp():
		return fmt.Sprintf("up in %s s with at least %s V at the motor", num(round3(max(shortestStart, float64(r.FullSpeed)))), num(round3(float64(r.LeastVoltage))))
	case r.Outcome == motor.StandsStill:
		return r.Outcome.String()
	}
	return fmt.Sprintf("%v, at %s rpm", r.Outcome, num(math.Round(float64(r.Speed/motor.RPM))))
}
