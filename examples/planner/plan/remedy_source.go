package plan

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// The ends of what remedies are sought between.
const (
	stiffest  = 10e-6 // resistance of a battery (Ω)
	mostSurge = 500e3 // (VA)
)

// battery asks how little resistance the bank needs, together with another
// change if that is not nil.
func (r *remedies) battery(with func(*inverter.Limited)) bool {
	now := float64(r.u.weak[0].inverter.Source.Battery)
	change := func(x float64) bool {
		return allStart(r.failing, with, func(l *inverter.Limited) { l.Source.Battery = unit.Resistance(x) })
	}
	need, ok := edge(stiffest, now, change)
	if !ok {
		r.not = append(r.not, "a battery however stiff")
		return false
	}
	count := math.Ceil(float64(r.m.bank.Parallel) * now / need)
	also := fmt.Sprintf("%s mΩ, now up to %s mΩ, which %s strings of the same batteries in parallel have in place of %d",
		num(round3(1000*need)), num(round3(1000*now)), num(count), r.m.bank.Parallel)
	if count > mostStrings {
		also = fmt.Sprintf("%s mΩ, now up to %s mΩ, which asks for a bank of higher voltage", num(round3(1000*need)), num(round3(1000*now)))
	}
	r.figure("need_battery_ohm", "battery resistance that would start it", "Ω", need, also, "greatest R_battery at which no limit acts; n strings have R/n", also)
	r.help = append(r.help, "a battery of at most "+also)
	return true
}

// mostStrings is more than anyone puts side by side.
const mostStrings = 12

// surge asks what rating the inverter needs, and for how long, together with
// another change if that is not nil.
func (r *remedies) surge(i int, with func(*inverter.Limited)) bool {
	_, beside := r.m.together(i)
	share := float64(r.m.fundamental() / r.m.supply)
	now, _, err := r.m.inv.surge.Allowed(0)
	if err != nil {
		return false
	}
	label := func(x float64) motor.ApparentPower {
		return max(leastLeft, motor.ApparentPower((x-float64(beside.High))*share))
	}
	need, ok := edge(mostSurge, float64(r.m.inv.surge.Continuous), func(x float64) bool {
		return allStart(r.failing, with, func(l *inverter.Limited) { l.Surge = atLeast(l.Surge, label(x)) })
	})
	if !ok {
		r.not = append(r.not, "an inverter with more surge")
		return false
	}
	lasts := unit.Time(0)
	for _, c := range r.failing {
		lasts = max(lasts, c.ideal().result.FullSpeed)
	}
	lasts = max(shortestStart, lasts)
	also := fmt.Sprintf("for %s s at least; now %s VA at the most", num(rounded(float64(lasts), 2)), num(now))
	r.figure("need_surge_va", "surge of the inverter that would start it", "VA", need, also, "least S for the whole start at which no limit acts, what runs beside it included", also)
	r.help = append(r.help, fmt.Sprintf("an inverter with %s VA of surge for %s s (now %s VA at the most)", num(round3(need)), num(rounded(float64(lasts), 2)), num(now)))
	return true
}

// atLeast raises a rating to x for as long as any start lasts.
func atLeast(s inverter.Surge, x motor.ApparentPower) inverter.Surge {
	const lasting = 11 // (s)
	out := inverter.Surge{Continuous: s.Continuous}
	done := false
	for _, p := range s.Points {
		if p.For >= lasting && !done {
			if p.For > lasting && p.Apparent < x {
				out.Points = append(out.Points, inverter.SurgePoint{Apparent: x, For: lasting})
			}
			done = true
		}
		if p.For <= lasting {
			p.Apparent = max(p.Apparent, x)
		}
		out.Points = append(out.Points, p)
	}
	if !done && x > s.Continuous {
		out.Points = append(out.Points, inverter.SurgePoint{Apparent: x, For: lasting})
	}
	return out
}
