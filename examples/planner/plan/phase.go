package plan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
	"ridethrough.example/motor"
)

// A phase is a share of the time with a steady load.
type phase struct {
	share    float64
	real     unit.Power
	apparent motor.ApparentPower
	dc       unit.Power
	current  unit.Current
}

// phases splits the time by which loads are on, at the good or the bad end of
// what is known. Loads are taken to be on together as often as their duties
// allow, which is the hardest on the battery.
func (m *maker) phases(good bool) ([]phase, error) {
	type on struct {
		duty float64
		p    unit.Power
		s    motor.ApparentPower
	}
	var loads []on
	for i := range m.loads {
		r, duty := m.loads[i].run, m.loads[i].duty.High
		p, s := r.Real.High, r.Apparent.High
		if good {
			p, s, duty = r.Real.Low, r.Apparent.Low, m.loads[i].duty.Low
		}
		// A metered average is kept, whatever the running power is taken for.
		if avg := m.loads[i].average; m.loads[i].metered {
			duty = min(1, float64(avg.High/p))
			if good {
				duty = min(1, float64(avg.Low/p))
			}
		}
		loads = append(loads, on{duty, p, s})
	}
	slices.SortStableFunc(loads, func(a, b on) int {
		switch {
		case a.duty > b.duty:
			return -1
		case a.duty < b.duty:
			return 1
		}
		return 0
	})
	var all []phase
	var p unit.Power
	var s motor.ApparentPower
	upper := 1.0 // share of the time that loads up to here are not all on
	for _, l := range loads {
		all = append(all, phase{share: upper - l.duty, real: p, apparent: s})
		p, s, upper = p+l.p, s+l.s, l.duty
	}
	all = append(all, phase{share: upper, real: p, apparent: s})
	all = slices.DeleteFunc(all, func(f phase) bool { return f.share <= 0 })
	for i := range all {
		if err := m.feed(&all[i], good); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// feed finds dc power and current of a phase half way through the discharge.
func (m *maker) feed(f *phase, good bool) error {
	if f.real == 0 && !m.inv.standing {
		return nil
	}
	best, bad := m.inv.bestAndWorst(f.real, f.apparent)
	loss := bad
	if good {
		loss = best
	}
	dc, err := loss.DCPowerAt(f.real, max(f.apparent, motor.ApparentPower(f.real)))
	if err != nil {
		return m.fault("inverter", err)
	}
	point, err := m.source(m.bank.middle, good).Operate(dc)
	f.dc, f.current = dc, point.Current
	return err
}

// lasts returns the time to the depth limit with every minute charged at the
// rate of its own current, and at the average current.
func lasts(c battery.Condition, phases []phase) (own, average unit.Time, mean unit.Current, err error) {
	wear, charge := 0.0, 0.0
	for _, f := range phases {
		charge += f.share * float64(f.current)
		if f.current < leastCurrent {
			continue
		}
		u, err := usable(c, f.current)
		if err != nil {
			return 0, 0, 0, err
		}
		wear += f.share / float64(u.Runtime) // infinite where nothing is usable
	}
	mean = unit.Current(charge)
	if mean < leastCurrent {
		return 0, 0, mean, errNoLoad
	}
	u, err := usable(c, mean)
	if err != nil {
		return 0, 0, mean, err
	}
	return min(unit.Time(1/wear), u.Runtime), u.Runtime, mean, nil
}

// usable is what a condition gives at a current, nothing where the discharge
// ends before it begins. A trickle that would take years is counted as what
// empties the battery in one.
func usable(c battery.Condition, i unit.Current) (battery.Usable, error) {
	const longest = 8000 * battery.Hour
	i = max(i, unit.Current(float64(c.Peukert.Rating.Capacity)/float64(longest)))
	u, err := c.Usable(i)
	if errors.Is(err, battery.ErrBelowLimit) {
		return battery.Usable{Rated: c.Peukert.Rating.Capacity}, nil
	}
	return u, err
}

// leastCurrent is what the battery package takes for a current (A).
const leastCurrent = unit.Current(1e-3)

var errNoLoad = errors.New("nothing draws from the battery; want a load or an idle draw")

// phasesText writes the shares of the time and their currents.
func phasesText(phases []phase) string {
	var parts []string
	for _, f := range phases {
		parts = append(parts, fmt.Sprintf("%s %% at %s A", num(100*f.share), num(f.current)))
	}
	return strings.Join(parts, ", ")
}

func total(phases []phase) unit.Power {
	var sum unit.Power
	for _, f := range phases {
		sum += unit.Power(f.share) * f.dc
	}
	return sum
}
