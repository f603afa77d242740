package tank

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/integrate/quad"

	"ridethrough.example/internal/numeric"
)

// Time and energy summed over the flow of a pump, see leg.go.

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

// towards is the content a time later, on the way to the balance of flow and
// demand. From the flow's last bit on, it is there.
func (w *way) towards(left float64) (float64, leg) {
	last := math.Log(math.Abs(w.from-w.demand) / (1e-15 * float64(w.pump.RunOut())))
	l := w.over(0, last)
	if l.time > left {
		at, l := w.find(left, last)
		return w.content(at), l
	}
	return w.content(w.demand), l.plus(w.perSecond(w.demand).times(left - l.time))
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
