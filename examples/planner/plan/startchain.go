package plan

import (
	"cmp"
	"errors"
	"slices"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// An inverter on its battery is what a motor starts on.
var _ motor.Source = inverter.Limited{}

// A startCase is a start at one end of what is known, ready to run: a motor such
// as the load's may be with its wires, and the inverter on its battery.
type startCase struct {
	run         motor.RunUp // all but the source
	inverter    inverter.Limited
	synchronous motor.Speed
}

// A corner is how a startCase goes.
type corner struct {
	result motor.RunUpResult // on an inverter that lowers its voltage where it can
	reach  float64           // speed reached over the synchronous one (%)
	// limit is the first to act, after is when; 0: none acts. An inverter that
	// switches off at a limit does so there, at the speed tripped (%).
	limit   inverter.Link
	after   unit.Time
	tripped float64

	dcVoltage unit.Voltage // least at the inverter, to full speed
	dcCurrent unit.Current // greatest
}

// follow runs the case on an inverter that switches off at any limit, which says
// which limit acts first and when: until then the one that lowers its voltage
// does the same. That one is followed where a limit acts. Samples along a run
// would miss the instant, and a source that notes its calls would note steps
// that the integration throws away.
func (s startCase) follow() (corner, error) {
	strict := s.inverter
	strict.Trips = true
	c, trip, err := s.on(strict, strict)
	if err != nil || trip == nil {
		c.tripped = c.reach
		return c, err
	}
	held, _, err := s.on(s.inverter, s.inverter)
	held.limit, held.after, held.tripped = trip.Limit, trip.After, c.reach
	return held, err
}

// on runs the case on a source, the dc side of which is that of an inverter, and
// returns by what it trips.
func (s startCase) on(source motor.Source, i inverter.Limited) (c corner, trip *inverter.TripError, err error) {
	r := s.run
	r.Source = source
	r.DC = func(w unit.Power, va motor.ApparentPower) unit.Power {
		dc, err := i.Loss.DCPowerAt(max(0, w), max(va, motor.ApparentPower(w)))
		if err != nil {
			return 0
		}
		return dc
	}
	if c.result, err = r.QuasiSteady(); err != nil {
		return c, nil, err
	}
	if cause := c.result.Cause; cause != nil && !errors.As(cause, &trip) {
		return c, nil, cause
	}
	c.reach = 100 * float64(c.result.Speed/s.synchronous)
	at, err := i.Source.Operate(c.result.GreatestDC)
	if errors.Is(err, inverter.ErrCollapse) { // by the last bits, which a held voltage leaves
		at.Voltage = i.Source.OpenCircuit / 2
		at.Current = unit.Current(float64(at.Voltage) / float64(i.Source.Resistance()))
	} else if err != nil {
		return c, nil, err
	}
	c.dcVoltage, c.dcCurrent = at.Voltage, at.Current
	if trip != nil && trip.Input < c.dcVoltage {
		c.dcVoltage = trip.Input
		c.dcCurrent = unit.Current(float64(i.Source.OpenCircuit-trip.Input) / float64(i.Source.Resistance()))
	}
	return c, trip, nil
}

// comesUp reports whether it starts on an inverter that lowers its voltage where
// a limit acts.
func (c corner) comesUp() bool {
	return c.result.Outcome == motor.Starts && c.result.Cause == nil && c.reach >= fullSpeed
}

// starts reports whether it starts without any limit acting.
func (c corner) starts() bool { return c.comesUp() && c.limit == 0 }

// rank puts corners in order, worst first: what does not come up, what comes up
// only at a limit, what starts.
func (c corner) rank() int {
	switch {
	case c.starts():
		return 2
	case c.comesUp():
		return 1
	}
	return 0
}

// order is negative if a ends worse than b: of lower rank, later, or slower.
func (c corner) order(b corner) int {
	late := func(x corner) float64 {
		if x.comesUp() {
			return float64(x.result.FullSpeed)
		}
		return 0
	}
	return cmp.Or(cmp.Compare(c.rank(), b.rank()), cmp.Compare(late(b), late(c)), cmp.Compare(c.reach, b.reach))
}

// An end is one end of what is known of a start.
type end byte

// The ends: the bad one with all other loads running, the same without them, and
// the good one, which starts alone.
const (
	weakAmong end = iota
	weakAlone
	strongest
)

// startCases are the starts of a load at one end of what is known, with the bank
// at one point of its discharge.
func (m *maker) startCases(i int, motors []typicalMotor, at rested, e end) ([]startCase, error) {
	l := &m.loads[i]
	source, err := m.limited(i, at, e)
	if err != nil {
		return nil, m.fault(l.table, err)
	}
	// Longer wires take torque from the motor, shorter ones let more current meet
	// the inverter's limits.
	side, paths := 0, []complex128{l.path[1]}
	switch {
	case e == strongest:
		side, paths = 1, []complex128{l.path[0]}
	case l.path[0] != l.path[1]:
		paths = append(paths, l.path[0])
	}
	var cases []startCase
	for _, kind := range motors {
		// On its own voltage the motor of less current has less torque; held to
		// a current, that of more.
		currents := []unit.Current{l.start.Current.Low, l.start.Current.High}
		for _, current := range slices.Compact(currents) {
			c, err := kind.circuit.WithLockedRotorCurrent(current)
			if err != nil {
				return nil, m.fault(l.table, err)
			}
			for _, path := range paths {
				s := startCase{
					run: motor.RunUp{
						Circuit: c, Load: kind.load[side], Inertia: kind.inertia[side], Feeder: path, Settle: 0.5,
					},
					inverter: source, synchronous: kind.synchronous,
				}
				if c.Auxiliary.Switch > 0 {
					s.run.Until = latestSwitch
				}
				s.inverter.Frequency = kind.frequency
				cases = append(cases, s)
			}
		}
	}
	return cases, nil
}

// limited is the inverter with all that limits it at one end of what is known.
// At the bad end all other loads run beside the start: their volt-amperes are
// taken off every surge rating, and what they add to the dc power while the
// rotor stands still is taken as drawn all the time, as if it were idle draw.
// The good end starts alone.
func (m *maker) limited(i int, at rested, e end) (inverter.Limited, error) {
	l, good := &m.loads[i], e == strongest
	s, p, _, err := l.corners(m.fundamental())
	if err != nil {
		return inverter.Limited{}, err
	}
	lim := inverter.Limited{Voltage: m.fundamental(), Source: m.source(at, good), CutOff: m.cutOff(good)}
	beside := motor.ApparentPower(0)
	if good {
		lim.Loss, _ = m.inv.bestAndWorst(p.Low, s.Low)
	} else {
		otherP, otherS := m.together(i)
		if e == weakAlone {
			otherP.High, otherS.High = 0, 0
		}
		_, loss := m.inv.bestAndWorst(p.High+otherP.High, s.High+otherS.High)
		alone, err1 := loss.DCPowerAt(p.High, max(s.High, motor.ApparentPower(p.High)))
		all, err2 := loss.DCPowerAt(p.High+otherP.High, max(s.High+otherS.High, motor.ApparentPower(p.High+otherP.High)))
		if err := first(err1, err2); err != nil {
			return lim, err
		}
		lim.Loss, beside = idling(loss, all-alone), otherS.High
	}
	// A rating is a current at the label's voltage; of a stepped wave the
	// fundamental alone turns the motor.
	share := motor.ApparentPower(m.fundamental() / m.supply)
	left := func(va motor.ApparentPower) motor.ApparentPower { return max(leastLeft, (va-beside)*share) }
	lim.Surge.Continuous = left(m.inv.surge.Continuous)
	for _, point := range m.inv.surge.Points {
		lim.Surge.Points = append(lim.Surge.Points, inverter.SurgePoint{Apparent: left(point.Apparent), For: point.For})
	}
	return lim, nil
}

// leastLeft stands for nothing where other loads take the whole rating (VA).
const leastLeft = 10

// idling is a loss model that draws more without load. The model refuses an idle
// draw above a quarter of its rated power, so that the rated power rises with
// it, and the quadratic coefficient, which counts by the rated power.
func idling(l inverter.Loss, more unit.Power) inverter.Loss {
	idle := l.Idle + more
	if rated := min(4*idle, 100e3); rated > l.Rated {
		l.Quadratic = min(1, l.Quadratic*float64(rated/l.Rated))
		l.Rated = rated
	}
	l.Idle = min(idle, l.Rated/4)
	return l
}
