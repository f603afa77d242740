package plan

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// A softStart is an inverter behind a starter that holds the motor's current,
// which may not meet any other limit.
type softStart struct{ inverter.Limited }

// Under is that of the inverter, which switches off at every limit but the
// starter's.
func (s softStart) Under(load complex128, after unit.Time) (unit.Voltage, unit.Frequency, error) {
	at, err := s.State(load, after)
	if err != nil {
		return 0, 0, err
	}
	if at.Limit != 0 && at.Limit != inverter.CurrentLimit {
		return 0, 0, &inverter.TripError{Limit: at.Limit, After: after, Output: at.Voltage, Input: at.DC.Voltage}
	}
	return at.Voltage, s.Frequency, nil
}

// starts reports whether the case starts on an inverter that switches off at any
// limit.
func (s startCase) starts() bool {
	strict := s.inverter
	strict.Trips = true
	c, trip, err := s.on(strict, strict)
	return err == nil && trip == nil && c.comesUp()
}

// ideal returns how the case goes on the inverter's voltage with nothing to limit
// it.
func (s startCase) ideal() corner {
	c, _, err := s.on(motor.Line{Voltage: s.inverter.Voltage, Frequency: s.inverter.Frequency, Phases: 1}, s.inverter)
	if err != nil {
		return corner{}
	}
	return c
}

// allStart reports whether every case starts once it is changed.
func allStart(cases []startCase, changes ...func(*inverter.Limited)) bool {
	for _, c := range cases {
		for _, change := range changes {
			if change != nil {
				change(&c.inverter)
			}
		}
		if !c.starts() {
			return false
		}
	}
	return true
}

// edge returns the value nearest to bad at which ok holds, to 1 %, where it holds
// at good; 0 and false if it does not. More than a dozen questions it never
// asks.
func edge(good, bad float64, ok func(float64) bool) (float64, bool) {
	if !ok(good) {
		return 0, false
	}
	for range 12 {
		x := (good + bad) / 2
		if good > 0 && (bad > 4*good || good > 4*bad) {
			x = math.Sqrt(good * bad)
		}
		if ok(x) {
			good = x
		} else {
			bad = x
		}
		if math.Abs(good-bad) < 0.01*max(good, bad) {
			break
		}
	}
	return good, true
}

// A remedies lists what would make a start hold at the bad end, each alone.
type remedies struct {
	m       *maker
	s       *Section
	l       *load
	u       *runUp
	failing []startCase
	help    []string
	not     []string
}

// showRemedies says what would have to change, and by how much, for a start to
// hold at the bad end of what is known, at the depth limit, on an inverter that
// switches off at a limit. What costs least comes first.
func (m *maker) showRemedies(s *Section, i int, motors []typicalMotor, u *runUp) error {
	if u.state() == Holds {
		return nil
	}
	l := &m.loads[i]
	r := remedies{m: m, s: s, l: l, u: u}
	for k, c := range u.low.ends[0] {
		if !c.starts() {
			r.failing = append(r.failing, u.weak[k])
		}
	}
	for _, c := range r.failing {
		if !c.ideal().comesUp() {
			s.note("%s: at the bad end of what is known it does not come up on any source of %s V, so that nothing is gained by a better one: what is in doubt is the motor and what it drives. A measured locked-rotor current, and the key drives, would tell.",
				l.Name, num(m.fundamental()))
			return nil
		}
	}
	if err := r.alone(i, motors); err != nil {
		return err
	}
	r.cable()
	r.softStart()
	r.battery(nil)
	r.surge(i, nil)
	text := l.Name + ": for it to start at the bad end of what is known, at the depth limit, "
	switch len(r.help) {
	case 0:
		text += "no single change is enough"
		if two := r.two(i); two != "" {
			text += ", but two together are: " + two
		}
		text += "."
	case 1:
		text += "one change is enough: " + r.help[0] + "."
	default:
		text += "any one of these is enough: " + strings.Join(r.help, "; ") + "."
	}
	if len(r.not) > 0 {
		text += " Not enough by itself: " + strings.Join(r.not, "; ") + "."
	}
	if m.bank.management.Continuous != 0 {
		text += " The battery's management is none of this: its own check has to hold as well."
	}
	s.note("%s", text)
	return nil
}

// two asks for a stiffer battery and more surge together. No limit acts where it
// starts, so that what the one asks for does not depend on the other.
func (r *remedies) two(i int) string {
	alone := r.not
	battery := r.battery(func(s *inverter.Limited) { s.Surge = surgeOf(s.Surge.Continuous, mostSurge, longestSurge) })
	surge := r.surge(i, func(s *inverter.Limited) { s.Source.Battery = stiffest })
	r.not = alone
	if !battery || !surge {
		return ""
	}
	return strings.Join(r.help, ", and ")
}

// alone asks whether it starts while nothing else runs.
func (r *remedies) alone(i int, motors []typicalMotor) error {
	if len(r.m.loads) < 2 {
		return nil
	}
	cases, err := r.m.startCases(i, motors, r.m.bank.end, weakAlone)
	if err != nil {
		return err
	}
	if allStart(cases) {
		r.help = append(r.help, "start it while nothing else runs")
	} else {
		r.not = append(r.not, "switching everything else off")
	}
	return nil
}

// deeper takes the discharge on to the depth limit, where the cut-off with
// everything running ends it before: a stiffer source gets there.
func (r *remedies) deeper(l *inverter.Limited) {
	at := r.m.bank.limit
	l.Source.OpenCircuit = min(l.Source.OpenCircuit, at.volts.Low)
	l.Source.Battery = max(l.Source.Battery, at.resistance.High)
}

const remedySource = "bracketing on the simulated start: equation of motion on the inverter's limits and the battery, each change alone"

// figure adds what one change comes to.
func (r *remedies) figure(key, label, symbol string, need float64, also, formula, now string) {
	r.s.add(Figure{
		Key: r.l.key + "." + key, Label: r.l.Name + ": " + label, Unit: symbol, Low: need, High: need,
		Basis: worst(r.l.startBasis, RuleOfThumb, r.m.inv.loss, r.m.bank.voltBasis, r.m.cable.basis, r.m.inv.cut), Also: also,
		Formula: formula, Numbers: now + "; bad end of what is known, at the depth limit", Source: remedySource,
	})
}

// cable asks how little resistance cable and contacts need.
func (r *remedies) cable() {
	now := float64(r.m.cable.loop.High + r.m.cable.contacts.High)
	need, ok := edge(0, now, func(x float64) bool {
		return allStart(r.u.weak, r.deeper, func(l *inverter.Limited) { l.Source.Cable, l.Source.Contacts = 0, unit.Resistance(x) })
	})
	if !ok {
		r.not = append(r.not, "a dc cable however thick")
		return
	}
	also := fmt.Sprintf("%s mΩ, now up to %s mΩ", num(down(1000*need, 3)), num(round3(1000*now)))
	need = down(1000*need, 3) / 1000
	r.figure("need_cable_ohm", "dc cable and contacts that would start it", "Ω", need, also, "greatest R_cable + R_contacts at which no limit acts", also)
	r.help = append(r.help, fmt.Sprintf("at most %s mΩ of dc cable and contacts (now up to %s mΩ)", num(down(1000*need, 3)), num(round3(1000*now))))
}

// softStart asks to what share of its current at rest the motor may be held, the
// torque going with the square of it.
func (r *remedies) softStart() {
	const least, step = 25, 5 // (%)
	free := make([]unit.Current, len(r.u.weak))
	for k, c := range r.u.weak {
		free[k] = c.ideal().result.First.Current
	}
	works := func(percent int) bool {
		for k, c := range r.u.weak {
			held := softStart{c.inverter}
			held.Current = max(0.05, unit.Current(percent)/100*free[k])
			went, trip, err := c.on(held, held.Limited)
			if err != nil || trip != nil || !went.comesUp() {
				return false
			}
		}
		return true
	}
	low, high := 0, 0
	for percent := 100 - step; percent >= least; percent -= step {
		switch ok := works(percent); {
		case ok && high == 0:
			low, high = percent, percent
		case ok:
			low = percent
		case high != 0:
			percent = 0 // below the least that starts it
		}
	}
	if high == 0 {
		r.not = append(r.not, "a soft starter, as torque falls with the square of the current that it holds")
		return
	}
	r.s.add(Figure{
		Key: r.l.key + ".need_soft_start_percent", Label: r.l.Name + ": soft start that would start it", Unit: "%", Low: float64(low), High: float64(high),
		Basis: worst(r.l.startBasis, RuleOfThumb, r.m.inv.loss, r.m.bank.voltBasis, r.m.cable.basis, r.m.inv.cut), Also: "of the current at rest, in steps of 5 %",
		Formula: "I = k·I_lr, T = k²·T_lr at rest", Numbers: "bad end of what is known, at the depth limit", Source: remedySource + "; sine waves",
	})
	r.help = append(r.help, fmt.Sprintf("a soft starter that holds it to %s %% of its current at rest, if its motor suits one", strings.Replace(span(float64(low), float64(high)), "..", " to ", 1)))
}
