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
	now := float64(r.m.bank.limit.resistance.High)
	need, ok := edge(stiffest, now, func(x float64) bool {
		return allStart(r.u.weak, with, r.deeper, func(l *inverter.Limited) { l.Source.Battery = unit.Resistance(x) })
	})
	if !ok {
		r.not = append(r.not, "a battery however stiff")
		return false
	}
	count := math.Ceil(float64(r.m.bank.Parallel) * now / need)
	also := fmt.Sprintf("%s mΩ, now up to %s mΩ, which %s strings of the same batteries in parallel have in place of %d",
		num(down(1000*need, 3)), num(round3(1000*now)), num(count), r.m.bank.Parallel)
	if count > mostStrings {
		also = fmt.Sprintf("%s mΩ, now up to %s mΩ, which asks for a bank of higher voltage", num(down(1000*need, 3)), num(round3(1000*now)))
	}
	need = down(1000*need, 3) / 1000
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
	// What runs on must be within the continuous rating, or no surge is long
	// enough.
	steady, more := float64(r.m.inv.surge.Continuous), ""
	if all := float64(r.m.all.demand.apparent.High); all > steady {
		steady = up(all, 3)
		more = fmt.Sprintf(" and %s VA without end", num(steady))
	}
	enough := func(x float64, t unit.Time) bool {
		return allStart(r.u.weak, with, func(l *inverter.Limited) {
			l.Surge = surgeOf(label(steady), label(x), t)
		})
	}
	need, ok := edge(mostSurge, steady, func(x float64) bool { return enough(x, longestSurge) })
	if !ok {
		r.not = append(r.not, "an inverter with more surge")
		return false
	}
	// The check of volt-amperes, for the time that is stated or customary, is to
	// hold as well.
	d, err := r.m.startDemand(i)
	if err != nil {
		return false
	}
	need = up(max(need, float64(d.apparent.High)), 3)
	// The current stays high beyond full speed, which is 90 % of the synchronous
	// one.
	lasts, _ := edge(longestSurge, shortestStart, func(t float64) bool { return enough(need, unit.Time(t)) })
	lasts = up(max(lasts, float64(r.l.duration.High)), 2)
	also := fmt.Sprintf("for %s s at least%s; now %s VA at the most", num(lasts), more, num(now))
	r.figure("need_surge_va", "surge of the inverter that would start it", "VA", need, also, "least S for the whole start at which no limit acts, what runs beside it included", also)
	r.help = append(r.help, fmt.Sprintf("an inverter with %s VA of surge for %s s%s (now %s VA at the most)", num(need), num(lasts), more, num(now)))
	return true
}

// longestSurge is longer than a start that is followed (s).
const longestSurge = 11.0

// surgeOf is a continuous rating that carries x for a time besides, and nothing
// else: another inverter has other surges.
func surgeOf(continuous, x motor.ApparentPower, t unit.Time) inverter.Surge {
	s := inverter.Surge{Continuous: continuous}
	if x > continuous {
		s.Points = []inverter.SurgePoint{{Apparent: x, For: t}}
	}
	return s
}
