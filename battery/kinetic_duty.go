package battery

import (
	"errors"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// NestedDuty returns one cycle of several on/off loads together, each drawing
// its running current from the start of the period for its share of it and its
// standing current for the rest: a pump that runs 10 % of the time within the
// 30 % of a refrigerator, and so on. That all start at the same moment lays
// their currents on top of each other, which is the hardest on the battery,
// and the cycle ends on its lightest current.
//
// The period is the time in which the loads come round once, 1 s to 10000 h:
// for one pump its cycle from start to start, for several the longest of
// theirs, where 1 h will do if none is known. The longer it is the longer the
// spells of high current, and the less the battery gives. Duties as [Duty]
// takes them, 1 to 63; otherwise err wraps [ErrDomain].
//
// Definition: sum of the currents. Common practice: coincident starts.
func NestedDuty(period unit.Time, duties ...Duty) ([]Step, error) {
	err := pkg.Range("period", float64(period), float64(leastCycle), float64(mostRepeat), domain.Hour)
	if !(len(duties) >= 1 && len(duties) < mostCycleSteps) {
		err = errors.Join(err, pkg.Invalid("loads", strconv.Itoa(len(duties)), "1 to "+strconv.Itoa(mostCycleSteps-1)))
	}
	for _, d := range duties {
		err = errors.Join(err, d.validate())
	}
	if err != nil {
		return nil, err
	}
	ends := []float64{1}
	for _, d := range duties {
		ends = append(ends, d.OnFraction)
	}
	slices.Sort(ends)
	var cycle []Step
	from := 0.0
	for _, to := range slices.Compact(ends) {
		if to == 0 {
			continue
		}
		s := Step{For: unit.Time(to-from) * period}
		for _, d := range duties {
			if d.OnFraction >= to {
				s.Current += d.Running
			} else {
				s.Current += d.Standing
			}
		}
		cycle = append(cycle, s)
		from = to
	}
	return cycle, nil
}

// Kinetic returns how long the battery in this condition carries a repeated
// cycle under a kinetic model, from the rested start to the depth limit or the
// empty available well, whichever is first.
//
// Temperature and age shrink the wells, m scaled by ft·fa in the symbols of
// [Condition.Usable], while the currents stay: relative to the smaller battery
// they are heavier, so that cold and age cost somewhat more than their
// factors. The rate of the valve is left as it is. Start s and depth d are
// counted as a monitor counts, in ampere-hours from full against the most
// capacity Cm that c.Peukert credits at that temperature and age:
//
//	q(0) = qmax - (1-s)·Cm,  floor = qmax - d·Cm
//
// with all three shrunk by ft·fa. So a depth limit of 1 ends at Cm drawn, even
// where the kinetic model has more to give; at high currents the available
// well is empty before.
//
// The time that picks the temperature table of AGM and gel is that of the
// whole battery from full. Errors as for [Condition.Usable] and
// [Kinetic.Repeat]; where Cm is more than qmax and s so low that nothing would
// be left, [ErrBelowLimit].
//
// Source: as for [Kinetic.Repeat] and [Condition.Usable].
func (c Condition) Kinetic(m Kinetic, cycle []Step) (KineticRun, error) {
	full, err := m.Rested(1)
	if err := errors.Join(c.validate(), err); err != nil {
		return KineticRun{}, err
	}
	if _, err := c.depthFactor(); err != nil {
		return KineticRun{}, err
	}
	whole, err := m.Repeat(full, 0, cycle)
	if err != nil {
		return KineticRun{}, err
	}
	ft, err := c.temperatureFactor(max(whole.Elapsed, leastCycle))
	if err != nil {
		return KineticRun{}, err
	}
	most := c.Peukert.most() / float64(m.Capacity)
	start, floor := 1-(1-c.StateOfCharge)*most, max(0, 1-c.DepthLimit*most)
	if !(start > floor) {
		return KineticRun{}, ErrBelowLimit
	}
	m = m.Scale(ft * c.StateOfHealth)
	w, err := m.Rested(start)
	if err != nil {
		return KineticRun{}, err
	}
	return m.Repeat(w, unit.Charge(floor)*m.Capacity, cycle)
}
