package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
)

// giveVerdict writes the answers first: does it start, how long, how much
// water, and what gives way first.
func (m *maker) giveVerdict() {
	p := &m.plan
	// What must hold comes first, then good practice, then mere settings.
	slices.SortStableFunc(p.Checks, func(a, b Check) int { return a.rank() - b.rank() })
	say := func(format string, args ...any) { p.Verdict = append(p.Verdict, fmt.Sprintf(format, args...)) }
	starts := m.sayStart(say)
	if d := m.hours.duty; d.High > 0 {
		text := fmt.Sprintf("Runs %s at the stated duty", hoursText(d.Low, d.High))
		if starts == Fails {
			text = fmt.Sprintf("Were everything running, the bank would last %s at the stated duty", hoursText(d.Low, d.High))
		}
		if c := m.hours.continuous; c.High > 0 {
			text += fmt.Sprintf(", %s with everything on without a rest", hoursText(c.Low, c.High))
		}
		say("%s.", text)
	} else {
		say("Run time: none could be computed; see the notes.")
	}
	if f, ok := p.Figure("water.at_use_l"); ok {
		say("Water: %s L (%s) over that time at the stated use.", to(f.Low, f.High), spelled(f.Also))
	} else if f, ok := p.Figure("water.pump_only_l"); ok {
		say("Water: %s L (%s) if the battery did nothing but pump.", to(f.Low, f.High), spelled(f.Also))
	}
	for _, c := range p.Checks {
		if c.ID == "battery.outage" {
			say("The outage of %s h: %s.", num(c.Limit), map[State]string{
				Holds: "the bank lasts it", Depends: "whether the bank lasts it depends on figures that are not known well enough", Fails: "the bank does not last it",
			}[c.State])
		}
	}
	if w, ok := weakest(p.Checks, ""); ok {
		say("Tightest of all that must hold (margin %s): %s.", num(round3(w.Margin())), w.Title)
	}
	if p.Passes() {
		say("All checks hold over the whole range of what is known.")
	} else {
		var open []string
		for _, c := range p.Checks {
			if !c.Advice && c.State != Holds {
				open = append(open, c.Title+" ("+c.State.String()+")")
			}
		}
		say("Not good as it stands: %s.", strings.Join(open, "; "))
	}
}

// rank orders checks for the reader; what does not hold stays in front.
func (c Check) rank() int {
	switch {
	case c.Advice:
		return 1
	case c.Setting && c.State == Holds:
		return 2
	}
	return 0
}

// sayStart answers whether everything starts, and returns the answer.
func (m *maker) sayStart(say func(string, ...any)) State {
	state := Holds
	for _, c := range m.plan.Checks {
		if isStart(c.ID) {
			state = min(state, c.State)
		}
	}
	w, ok := weakest(m.plan.Checks, "start")
	switch {
	case !ok:
		say("Starts: nothing here has a starting current that could be checked.")
	case state == Holds:
		say("Starts: yes, every load, with a full bank and at its depth limit. Weakest link (margin %s): %s.", num(round3(w.Margin())), w.Title)
	case state == Depends:
		say("Starts: it depends on figures that are not known well enough. Weakest link (margin %s at the bad end): %s.", num(round3(w.Margin())), w.Title)
	default:
		say("Starts: NO, not everything. What gives way first (margin %s): %s.", num(round3(w.Margin())), w.Title)
	}
	m.sayRunUps(say)
	// A start that fails at the depth limit may hold above some charge.
	for _, key := range m.plan.Keys {
		f, ok := m.plan.Figure(key + ".start_trip_percent")
		if ok && f.High < 100 && slices.ContainsFunc(m.plan.Checks, func(c Check) bool { return c.ID == key+".start_dc" && c.State != Holds }) {
			say("On the dc side the start of %s holds while the charge is above %s %%.", strings.TrimSuffix(f.Label, ": charge below which its start trips"), num(round3(f.High)))
		}
	}
	return state
}

// sayRunUps tells how the starts go through the whole chain: those that hold in
// one sentence, the others one by one, as the outage begins and at the depth
// limit.
func (m *maker) sayRunUps(say func(string, ...any)) {
	var times []string
	least := unit.Voltage(math.Inf(1))
	for _, u := range m.runUps {
		if u.state() == Holds {
			bad := u.low.bad
			times = append(times, fmt.Sprintf("%s in %s s", u.name, num(round3(max(shortestStart, float64(bad.result.FullSpeed))))))
			for _, c := range u.low.ends[0] {
				least = min(least, c.dcVoltage)
			}
		}
	}
	if len(times) > 0 {
		say("Up to speed at the depth limit and the bad end of what is known: %s, the voltage at the inverter never below %s V.",
			strings.Join(times, ", "), num(round3(least)))
	}
	words := map[State]string{Holds: "starts", Depends: "marginal", Fails: "does not start"}
	charge := m.site.Battery.ChargeAtStart
	for _, u := range m.runUps {
		full, low := words[u.full.state()], words[u.low.state()]
		begins := fmt.Sprintf("as the outage begins (charged to %s %%)", brief(100*charge.Low, 100*charge.High))
		switch {
		case u.state() == Holds:
		case full == low:
			say("%s: %s, %s and at the depth limit: at the bad end %s.", u.name, low, begins, u.low.bad.ends())
		default:
			say("%s: %s %s, at the depth limit %s: at the bad end %s.", u.name, begins, full, low, u.low.bad.ends())
		}
	}
}

// isStart reports whether a check is about a start.
func isStart(id string) bool {
	return strings.HasSuffix(id, ".start_surge") || strings.HasSuffix(id, ".start_dc") || strings.HasSuffix(id, ".start_voltage") || strings.HasSuffix(id, ".start_runup") || strings.HasSuffix(id, ".start_management") ||
		strings.Contains(id, ".supply_") || strings.HasSuffix(id, ".phases")
}

// weakest returns the check that is worst off, by its state and then by its
// margin, of those about starts only if kind says so.
func weakest(checks []Check, kind string) (Check, bool) {
	var w Check
	found := false
	for _, c := range checks {
		if c.Advice || kind == "start" && !isStart(c.ID) || c.Setting && c.State == Holds {
			continue
		}
		if !found || cmp.Or(cmp.Compare(c.State, w.State), second(c, w), cmp.Compare(c.Margin(), w.Margin())) < 0 {
			w, found = c, true
		}
	}
	return w, found
}

// second puts the match of two settings, whose margin says little, after a check
// that came out alike.
func second(a, b Check) int {
	switch {
	case a.Setting == b.Setting:
		return 0
	case a.Setting:
		return 1
	}
	return -1
}

// hoursText writes a time in hours, and in days where it is long.
func hoursText[T ~float64](low, high T) string {
	hour := T(battery.Hour)
	text := to(low/hour, high/hour) + " h"
	if low > 48*hour {
		text += " (" + to(low/hour/24, high/hour/24) + " days)"
	}
	return text
}

// to writes a range in words, with three digits.
func to[T ~float64](low, high T) string { return spelled(brief(low, high)) }

// spelled turns "1..2" into "1 to 2".
func spelled(s string) string { return strings.Replace(s, "..", " to ", 1) }
