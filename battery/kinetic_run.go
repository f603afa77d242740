package battery

import (
	"errors"
	"math"
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

// still is the change over a cycle, as a share of qmax, that is rounding only:
// over the most cycles, 36 million, 4e-8 of qmax.
const still = 1e-15

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
// is the time of a cycle. One that charges is gone through cycle by cycle until
// it ends within rounding where it began, about 0.1 µs a step.
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
	charges := false
	for j, s := range cycle {
		charges = charges || s.Current < 0
		phases[j] = k.phase(float64(s.Current), float64(s.For))
		period += float64(s.For)
	}
	if err := pkg.Range("time of a cycle", period, float64(leastCycle), float64(mostRepeat), domain.Second); err != nil {
		return KineticRun{}, err
	}
	r := kineticRunner{kineticKernel: k, s: k.state(w), floor: float64(floor)}
	cycles := int(math.Floor(float64(mostRepeat) / period))
	for n := r.skip(phases[:len(cycle)], period, cycles); n < cycles; n++ {
		before := r.s
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
		if charges && math.Abs(r.s.q-before.q) <= still*r.qmax && math.Abs(r.s.d-before.d) <= still*r.qmax {
			// So will every later cycle leave it, such as one kept full.
			for j := range cycle {
				r.delivered += max(phases[j].it, 0) * float64(cycles-n-1)
			}
			break
		}
	}
	return r.result(KineticRun{Elapsed: unit.Time(float64(cycles) * period), Cycles: cycles}), nil
}

func sumOfSteps(steps []Step) (t unit.Time) {
	for _, s := range steps {
		t += s.For
	}
	return t
}
