package tank

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/integrate/quad"

	"ridethrough.example/internal/numeric"
)

// Between two contents of the tank: how long the pump takes, and what it draws.
//
// Pressure, and with it the content, follows from the pump's flow without a
// search, the flow from the content only with one. So time is summed over the
// flow, by a number s that rises from 0 on the way from the flow Q0,
//
//	Q = q + (Q0 - q)·e^(-s),  dt = dV/(Q - q) = -V'(Q)·ds
//
// in which nothing runs away where the flow creeps towards the demand q.

// A leg is a stretch of time with the pump running, in SI units.
type leg struct {
	time, energy, work float64 // s, J drawn, J in the water (ρ·g·H·Q)
}

func (l leg) plus(m leg) leg {
	return leg{time: l.time + m.time, energy: l.energy + m.energy, work: l.work + m.work}
}

func (l leg) times(n float64) leg {
	return leg{time: n * l.time, energy: n * l.energy, work: n * l.work}
}

var never = leg{time: math.Inf(1)}

// gauge is the pressure in the tank with so much stored above cut-in (Pa).
func (p *pumping) gauge(stored float64) float64 {
	return p.absolute(stored, p.n) - p.atmosphere
}

// flow is that of the pump with so much stored.
func (p *pumping) flow(stored float64) float64 {
	if p.fixed > 0 {
		return p.fixed
	}
	return p.against(p.main.static(p.gauge(stored)))
}

// restPressure is the gauge pressure (Pa) at which the pump delivers a flow.
func (p *pumping) restPressure(q float64) float64 {
	return p.weight * (p.pump.head(q) - p.main.static(0) - p.main.friction(q))
}

// content is what is stored where the pump delivers a flow; -Inf where the
// pressure would be below that of a vacuum.
func (p *pumping) content(q float64) float64 {
	abs := p.restPressure(q) + p.atmosphere
	if abs <= 0 {
		return math.Inf(-1)
	}
	return p.stored(abs, p.n)
}

// holds reports whether the content is that at which the pump delivers a flow,
// but for rounding. Near the shut-off head, where the curve is flat, it tells
// what the flow does not.
func (p *pumping) holds(stored, q float64) bool {
	return p.fixed == 0 && q <= float64(p.pump.RunOut()) && math.Abs(p.content(q)-stored) <= 1e-13*p.air
}

// perSecond is a second at a flow.
func (p *pumping) perSecond(q float64) leg {
	if p.fixed > 0 {
		return leg{time: 1}
	}
	l := leg{time: 1, work: p.weight * q * p.pump.head(q)}
	if p.input.known() {
		l.energy = p.input.power(q)
	}
	return l
}

// slope is the leg a unit of s at a flow: -V'(Q) seconds.
func (p *pumping) slope(q float64) leg {
	abs := p.restPressure(q) + p.atmosphere
	x := p.on / abs
	if p.n != 1 {
		x = math.Pow(x, 1/p.n) / p.n
	}
	dt := p.air * x / abs * p.weight * (p.main.frictionSlope(q) - p.pump.headSlope(q))
	return p.perSecond(q).times(dt)
}

// A way is that of the pump's flow from one value towards another, at one
// demand.
type way struct {
	*pumping

	from, demand float64
}

func (w *way) at(s float64) float64 { return w.demand + (w.from-w.demand)*math.Exp(-s) }

// end is s where the flow is to, on the way there; +Inf if it never is.
func (w *way) end(to float64) float64 {
	x := (w.from - w.demand) / (to - w.demand)
	if !(x >= 1-1e-9) {
		return math.Inf(1)
	}
	return math.Log(max(1, x)) // below 1 by rounding only, where it is there
}

const nodes = 10 // of Gauss and Legendre, exact for polynomials to degree 19

// over integrates the slope from a to b, from one point of pump, input and pipes
// to the next: between them all is smooth.
func (w *way) over(a, b float64) (sum leg) {
	for a < b {
		to := b
		if next := w.next(w.at(a)); next >= 0 {
			if s := w.end(next); s > a {
				to = min(b, s)
			}
		}
		whole := w.gauss(a, to)
		sum, a = sum.plus(w.halves(a, to, whole, 1e-11*math.Abs(whole.time), 20)), to
	}
	return sum
}

// next is the flow of the next point on the way, -1 if there is none.
func (w *way) next(q float64) float64 {
	falls := w.from > w.demand
	first := nextKnot(w.pump.knots, q/w.pump.speed, falls) * w.pump.speed
	if w.input.points != nil {
		first = nearer(first, nextKnot(w.input.knots, q/w.input.speed, falls)*w.input.speed, falls)
	}
	for i := range w.main.Pipes {
		knots, perFlow := [...]float64{laminarEnd, turbulentStart}, w.main.reynolds(&w.main.Pipes[i])
		first = nearer(first, nextKnot(knots[:], q*perFlow, falls)/perFlow, falls)
	}
	return first
}

// nearer is the one of two flows that comes first; those below 0 are none.
func nearer(a, b float64, falls bool) float64 {
	if falls || a < 0 || b < 0 {
		return max(a, b)
	}
	return min(a, b)
}

// nextKnot is the next knot below or above q, and no nearer than rounding; -1 if
// there is none.
func nextKnot(knots []float64, q float64, below bool) float64 {
	const apart = 1e-12
	if below {
		if i := sort.SearchFloat64s(knots, q*(1-apart)); i > 0 {
			return knots[i-1]
		}
		return -1
	}
	above := q * (1 + apart)
	if i := sort.Search(len(knots), func(i int) bool { return knots[i] > above }); i < len(knots) {
		return knots[i]
	}
	return -1
}

// halves improves on the whole by two halves, until that changes nothing.
func (w *way) halves(a, b float64, whole leg, seconds float64, depth int) leg {
	mid := a + (b-a)/2
	if !(a < mid && mid < b) {
		return whole // neighbours
	}
	l, r := w.gauss(a, mid), w.gauss(mid, b)
	sum := l.plus(r)
	if depth == 0 || math.Abs(sum.time-whole.time) <= seconds {
		return sum
	}
	return w.halves(a, mid, l, seconds, depth-1).plus(w.halves(mid, b, r, seconds, depth-1))
}

func (w *way) gauss(a, b float64) (sum leg) {
	var x, weight [nodes]float64
	quad.Legendre{}.FixedLocations(x[:], weight[:], a, b)
	for i := range x {
		sum = sum.plus(w.slope(w.at(x[i])).times(weight[i]))
	}
	return sum
}

// zone returns the flow with so much stored, on the way to a content; where the
// pump's flow stops following the pressure on that way; and whether it does not
// follow it now, as below the end of the curve and above the shut-off head.
func (p *pumping) zone(stored, to float64) (flow, end float64, constant bool) {
	if p.fixed > 0 {
		return p.fixed, to, true
	}
	most, rising := float64(p.pump.RunOut()), to > stored
	low, high := p.content(most), p.content(0)
	switch {
	case stored < low || stored == low && !rising:
		if rising {
			to = min(to, low)
		}
		return most, to, true
	case stored > high || stored == high && rising:
		if !rising {
			to = max(to, high)
		}
		return 0, to, true
	}
	return p.flow(stored), min(max(to, low), high), false
}

// flat is the leg at a constant flow from one content to another.
func (p *pumping) flat(from, to, flow, demand float64) leg {
	t := (to - from) / (flow - demand)
	if !(t >= 0) {
		return never
	}
	return p.perSecond(flow).times(t)
}

// until is the leg from one content to another, of infinite time if the pump
// never gets there.
func (p *pumping) until(from, to, demand float64) (sum leg) {
	for from != to {
		flow, end, constant := p.zone(from, to)
		l := never
		if constant {
			l = p.flat(from, end, flow, demand)
		} else {
			w := way{pumping: p, from: flow, demand: demand}
			if s := w.end(p.flow(end)); !math.IsInf(s, 1) {
				l = w.over(0, s)
			}
		}
		if math.IsInf(l.time, 1) {
			return never
		}
		sum, from = sum.plus(l), end
	}
	return sum
}

// after is the content a time t later, on the way to a content that is not
// reached before; and the leg.
func (p *pumping) after(from, to, demand, t float64) (float64, leg) {
	var sum leg
	for from != to {
		flow, end, constant := p.zone(from, to)
		left := t - sum.time
		if constant {
			l := p.flat(from, end, flow, demand)
			if l.time > left {
				return from + (flow-demand)*left, sum.plus(p.perSecond(flow).times(left))
			}
			sum, from = sum.plus(l), end
			continue
		}
		w := way{pumping: p, from: flow, demand: demand}
		s := w.end(p.flow(end))
		if math.IsInf(s, 1) {
			return w.towards(left, sum)
		}
		l := w.over(0, s)
		if l.time > left {
			at, l := w.find(left, s)
			return p.content(at), sum.plus(l)
		}
		sum, from = sum.plus(l), end
	}
	return to, sum
}

// towards is the content a time later, on the way to the balance of flow and
// demand. From the flow's last bit on, it is there.
func (w *way) towards(left float64, sum leg) (float64, leg) {
	last := math.Log(math.Abs(w.from-w.demand) / (1e-15 * float64(w.pump.RunOut())))
	l := w.over(0, last)
	if l.time > left {
		at, l := w.find(left, last)
		return w.content(at), sum.plus(l)
	}
	return w.content(w.demand), sum.plus(l).plus(w.perSecond(w.demand).times(left - l.time))
}

// find is the flow a time t on, before s is last; and the leg. Newton's method
// finds most. Legs are added up from the last s before that time, never taken
// away from a longer one, whose rounding may be more than all of t.
func (w *way) find(t, last float64) (float64, leg) {
	lo, hi, s := 0.0, last, 0.0
	var before, done leg
	to := func(s float64) leg {
		done := before.plus(w.over(lo, s))
		if done.time < t {
			lo, before = s, done
		} else {
			hi = s
		}
		return done
	}
	for range 12 {
		next := s + (t-done.time)/w.slope(w.at(s)).time
		if !(next >= lo && next <= hi) {
			next = lo + (hi-lo)/2
		}
		done = to(next)
		near := math.Abs(done.time-t) <= 1e-13*t || next == s
		if s = next; near {
			done.time = t
			return w.at(s), done
		}
	}
	s, err := numeric.Root(func(s float64) float64 { return to(s).time - t }, lo, hi, 0)
	if err != nil { // the last bits of an end
		s = lo
	}
	done = before.plus(w.over(lo, s))
	done.time = t
	return w.at(s), done
}
