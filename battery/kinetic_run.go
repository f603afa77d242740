package battery

import (
	"errors"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A KineticRun is how a kinetic battery carried a load.
type KineticRun struct {
	Elapsed   unit.Time   // to the end, rests included
	Delivered unit.Charge // drawn in that time; what was charged is not taken off
	End       KineticEnd  // [KineticLasted]: the load ended first
	Wells     Wells       // at the end

	// Where it ended: after this many whole cycles, in this step of the load
	// (counted from 0), this far into it. After the last step Step is the
	// number of steps.
	Cycles int
	Step   int
	Into   unit.Time
}

// In returns how much of r.Elapsed fell into step j of the load that was run:
// a pump's running time, for the step that it runs in. For a j that is no step
// of the load it is 0.
//
// Definition: whole cycles times the time of the step, and the part of the
// last one.
func (r KineticRun) In(load []Step, j int) unit.Time {
	if j < 0 || j >= len(load) {
		return 0
	}
	t := unit.Time(r.Cycles) * load[j].For
	switch {
	case j < r.Step:
		t += load[j].For
	case j == r.Step:
		t += r.Into
	}
	return t
}

// mostCycleSteps bounds a repeated cycle, whose steps are kept on the stack.
const mostCycleSteps = 64

// leastCycle is the shortest cycle, and mostRepeat the longest time looked at.
const (
	leastCycle = unit.Time(1)
	mostRepeat = mostStepTime
)

func (m Kinetic) checkLoad(w Wells, floor unit.Charge, load []Step) error {
	if err := checkWells(&m, &w); err != nil {
		return err
	}
	err := pkg.Range("floor of the charge", float64(floor), 0, float64(m.Capacity), domain.AmpereHour)
	for _, s := range load {
		err = errors.Join(err, checkFlow(&m, s.Current), checkStepTime(s.For))
	}
	return err
}

// Run returns how the battery carries a sequence of constant currents of
// either sign, each step by [Kinetic.Step], to the end of the load or to the
// exact moment at which the available well is empty or the charge of both
// wells is down to a floor. Floor zero: down to the empty well. A depth limit
// d of qmax is the floor (1-d)·qmax.
//
// Where the available well is full on charge, the charger tapers for the rest
// of the step so that it stays full, and takes in what flows through the
// valve: the height difference then falls as exp(-c·k′t).
//
// Valid for steps as [Kinetic.Step] takes them and a floor from 0 to qmax;
// otherwise, and for wells that do not fit the model, err wraps [ErrDomain].
//
// Source: Manwell and McGowan, 1993.
func (m Kinetic) Run(w Wells, floor unit.Charge, load []Step) (KineticRun, error) {
	if err := m.checkLoad(w, floor, load); err != nil {
		return KineticRun{}, err
	}
	k := m.kernel()
	r := kineticRunner{kineticKernel: k, s: k.state(w), floor: float64(floor)}
	for j, s := range load {
		p := k.phase(float64(s.Current), float64(s.For))
		if into, end := r.run(&p); end != KineticLasted {
			return r.result(KineticRun{Elapsed: unit.Time(r.elapsed), Step: j, Into: unit.Time(into), End: end}), nil
		}
	}
	return r.result(KineticRun{Elapsed: unit.Time(r.elapsed), Step: len(load)}), nil
}

// Repeat returns how long the battery carries a cycle of constant currents
// that is repeated without end: a pump 5 min on and 25 min off, or what
// [NestedDuty] makes of several loads. It ends as [Kinetic.Run] does, and after
// 10000 h with [KineticLasted], as it must where the cycle charges as much as
// it draws.
//
// A cycle has 1 to 64 steps and takes at least 1 s; otherwise as for
// [Kinetic.Run].
//
// Source: Manwell and McGowan, 1993, with the exponentials of each step
// computed once. Where the cycle charges nothing, whole cycles that surely end
// nothing are taken at once: over n of them the charge falls by n times that
// of one, and d nears its value d* of the steady cycle as exp(-k′P·n), where P
// is the time of a cycle.
func (m Kinetic) Repeat(w Wells, floor unit.Charge, cycle []Step) (KineticRun, error) {
	if !(len(cycle) >= 1 && len(cycle) <= mostCycleSteps) {
		return KineticRun{}, pkg.Invalid("cycle", "of "+strconv.Itoa(len(cycle))+" steps", "1 to "+strconv.Itoa(mostCycleSteps))
	}
	if err := m.checkLoad(w, floor, cycle); err != nil {
		return KineticRun{}, err
	}
	k := m.kernel()
	var phases [mostCycleSteps]kineticPhase
	var period float64
	for j, s := range cycle {
		phases[j] = k.phase(float64(s.Current), float64(s.For))
		period += float64(s.For)
	}
	if err := pkg.Range("time of a cycle", period, float64(leastCycle), float64(mostRepeat), domain.Second); err != nil {
		return KineticRun{}, err
	}
	r := kineticRunner{kineticKernel: k, s: k.state(w), floor: float64(floor)}
	cycles := int(math.Floor(float64(mostRepeat) / period))
	for n := r.skip(phases[:len(cycle)], period, cycles); n < cycles; n++ {
		for j := range cycle {
			p := &phases[j]
			// What run does with a phase that nothing ends, at hand.
			next := r.s.after(p)
			if h := r.height(next); p.i >= 0 && h >= 0 && next.q >= r.floor || p.i < 0 && h <= r.qmax {
				r.s = next
				r.delivered += max(p.it, 0)
				continue
			}
			if into, end := r.run(p); end != KineticLasted {
				return r.result(KineticRun{
					// Whole cycles are multiplied, not added up.
					Elapsed: unit.Time(float64(n)*period) + sumOfSteps(cycle[:j]) + unit.Time(into),
					Cycles:  n, Step: j, Into: unit.Time(into), End: end,
				}), nil
			}
		}
	}
	return r.result(KineticRun{Elapsed: unit.Time(float64(cycles) * period), Cycles: cycles}), nil
}

// skip takes as many whole cycles at once, at most the given number, as surely
// carry through, and returns how many. A cycle that charges is not skipped.
func (r *kineticRunner) skip(phases []kineticPhase, period float64, most int) (n int) {
	var it, still float64
	for j := range phases {
		p := &phases[j]
		if p.i < 0 {
			return 0
		}
		it += p.it
		still = still*p.e + p.rise
	}
	still /= -math.Expm1(-r.k * period) // d* at the start of the steady cycle
	highest := still
	for d, j := still, 0; j < len(phases); j++ {
		d = d*phases[j].e + phases[j].rise
		highest = max(highest, d)
	}
	for n < most {
		// From here on d stays below its highest in the steady cycle, plus
		// what it is above the steady cycle now.
		above := max(0, r.s.d-still)
		spare := min(r.s.q-(1-r.c)*(highest+above), r.s.q-r.floor)
		jump := most - n
		if it > 0 {
			// Two cycles are left for the last bits.
			if x := math.Floor(spare/it) - 2; !(x >= 1) {
				return n
			} else if x < float64(jump) {
				jump = int(x)
			}
		}
		x := float64(jump)
		r.s.d = still + (r.s.d-still)*math.Exp(-r.k*period*x)
		r.s.q -= x * it
		r.delivered += x * it
		n += jump
	}
	return n
}

func sumOfSteps(steps []Step) (t unit.Time) {
	for _, s := range steps {
		t += s.For
	}
	return t
}

// A kineticRunner carries a state through a load.
type kineticRunner struct {
	kineticKernel
	s                  kineticState
	floor              float64
	elapsed, delivered float64
}

// run carries a phase, or the part of it up to the end of the discharge.
func (r *kineticRunner) run(p *kineticPhase) (into float64, end KineticEnd) {
	next := r.s.after(p)
	switch h := r.height(next); {
	case p.i > 0:
		if h < 0 || next.q < r.floor {
			into, end = r.event(r.s, p, r.floor)
			part := r.phase(p.i, into)
			r.s = r.s.after(&part)
			r.elapsed += into
			r.delivered += p.i * into
			return into, end
		}
		r.delivered += p.it
	case p.i < 0 && h > r.qmax:
		next = r.taper(p)
	}
	r.s = next
	r.elapsed += p.t
	return p.t, KineticLasted
}

// taper returns the state after a charging phase in which the available well
// gets full and is then held full.
func (r *kineticRunner) taper(p *kineticPhase) kineticState {
	t, _ := r.event(r.s, p, 0)
	part := r.phase(p.i, t)
	s := r.s.after(&part)
	d := s.d * math.Exp(-r.c*r.k*(p.t-t))
	return kineticState{r.qmax + (1-r.c)*d, d}
}

func (r *kineticRunner) result(run KineticRun) KineticRun {
	run.Delivered = unit.Charge(r.delivered)
	run.Wells = r.wells(r.s)
	return run
}

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
