package inverter

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A DemandSample is what a load asks of an inverter at one instant. Between
// samples both powers go in straight lines; two samples of one time are a step.
type DemandSample struct {
	After    unit.Time     // since the load was switched on, 0 to 400 days
	Apparent ApparentPower // 0 to 1 MVA
	Real     unit.Power    // 0 up to the apparent power
}

// checkDemand refuses a demand that is not in order.
func checkDemand(demand []DemandSample) error {
	if len(demand) == 0 {
		return pkg.Invalid("demand", "without samples", "one at least")
	}
	last := unit.Time(0)
	for _, d := range demand {
		if d.After >= last && d.After <= mostTime && d.Apparent >= 0 && d.Apparent <= mostPower &&
			d.Real >= 0 && float64(d.Real) <= float64(d.Apparent)*(1+1e-12) {
			last = d.After
			continue
		}
		err := errors.Join(
			span("time of a sample", d.After),
			pkg.Range("apparent power", float64(d.Apparent), 0, mostPower, domain.VoltAmpere),
			pkg.Range("real power", float64(d.Real), 0, float64(d.Apparent), domain.Watt),
		)
		if d.After < last {
			err = errors.Join(err, pkg.Invalid("time of a sample", fmt.Sprintf("%g s", float64(d.After)),
				fmt.Sprintf("not before the %g s of the last", float64(last))))
		}
		return err
	}
	return nil
}

// at is the demand at an instant between its first and last; at a step, that
// after the step.
func at(demand []DemandSample, t unit.Time) DemandSample {
	for i := len(demand) - 2; i >= 0; i-- {
		a, b := demand[i], demand[i+1]
		if t >= b.After {
			return b
		}
		if t > a.After {
			x := float64((t - a.After) / (b.After - a.After))
			return DemandSample{
				t, a.Apparent + ApparentPower(x)*(b.Apparent-a.Apparent),
				a.Real + unit.Power(x)*(b.Real-a.Real),
			}
		}
	}
	return demand[0]
}

// beyond is when a course has been above a level for longer than allowed, all
// the times that it is above taken together; false if it never has. Between its
// n points the course is straight.
func beyond(level, allowed float64, n int, point func(i int) (t, y float64)) (float64, bool) {
	over, t0, y0 := 0.0, 0.0, 0.0
	for i := range n {
		t1, y1 := point(i)
		if i == 0 || t1 == t0 {
			if allowed == 0 && y1 > level {
				return t1, true // a step, or the start of the course
			}
			t0, y0 = t1, y1
			continue
		}
		from, to := t0, t1
		switch {
		case y0 <= level && y1 <= level:
			to = from
		case y0 <= level:
			from += (level - y0) / (y1 - y0) * (t1 - t0)
		case y1 <= level:
			to = t0 + (level-y0)/(y1-y0)*(t1-t0)
		}
		if over+(to-from) > allowed {
			return from + (allowed - over), true
		}
		over += to - from
		t0, y0 = t1, y1
	}
	return 0, false
}

// A Breach is the first instant at which a demand goes beyond a limit.
type Breach struct {
	Link   Link         // the limit; 0: the demand stays within it
	Demand DemandSample // at that instant, with its time
}

// earlier returns the breach that comes first.
func (b Breach) earlier(c Breach) Breach {
	if b.Link == 0 || c.Link != 0 && c.Demand.After < b.Demand.After {
		return c
	}
	return b
}

// Follow lays a demand that changes in time beside the rating and returns the
// first instant at which it goes beyond. A rating of S for t seconds, with the
// next lower rating S′ (the continuous one after the last), is read like this:
// the demand never exceeds the highest rating, and all the times together that
// it is above S′ come to no more than t. Rests in between give no credit, as
// the heat they let out is not stated: the cautious reading. Of a demand that
// stands still it says the same as [Surge.Check].
//
// Between samples the demand is a straight line, and the instant exact on it.
//
// err wraps [ErrDomain] for a rating or samples out of order.
//
// Common practice: makers state pairs of volt-amperes and seconds and do not
// say how overloads add up.
func (s Surge) Follow(demand []DemandSample) (Breach, error) {
	if err := errors.Join(s.Validate(), checkDemand(demand)); err != nil {
		return Breach{}, err
	}
	return s.follow(demand), nil
}

func (s Surge) follow(demand []DemandSample) Breach {
	first := Breach{}
	point := func(i int) (t, y float64) { return float64(demand[i].After), float64(demand[i].Apparent) }
	allowed := unit.Time(0)
	for k := 0; k <= len(s.Points); k++ {
		level, link := s.Continuous, ContinuousRating
		if k < len(s.Points) {
			level, link = s.Points[k].Apparent, SurgeRating
		}
		if t, over := beyond(float64(level), float64(allowed), len(demand), point); over {
			first = first.earlier(Breach{link, at(demand, unit.Time(t))})
		}
		if k < len(s.Points) {
			allowed = s.Points[k].For
		}
	}
	return first
}
