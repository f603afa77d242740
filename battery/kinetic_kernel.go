package battery

import (
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/numeric"
)

// A kineticKernel is a checked model in plain numbers, in coulombs and
// seconds.
type kineticKernel struct{ c, k, qmax float64 }

func (m Kinetic) kernel() kineticKernel {
	return kineticKernel{m.Available, float64(m.Rate), float64(m.Capacity)}
}

// A kineticState is the charge q of both wells and their height difference d.
type kineticState struct{ q, d float64 }

func (k kineticKernel) state(w Wells) kineticState {
	y1, y2 := float64(w.Available), float64(w.Bound)
	return kineticState{y1 + y2, (k.c*y2 - (1-k.c)*y1) / (k.c * (1 - k.c))}
}

// height is y1/c: 0 where the available well is empty, qmax where it is full.
func (k kineticKernel) height(s kineticState) float64 { return s.q - (1-k.c)*s.d }

// wells splits the charge; what rounding leaves outside the wells is cut, so
// that the charge of both is kept.
func (k kineticKernel) wells(s kineticState) Wells {
	y1 := min(max(k.c*k.height(s), 0), s.q)
	return Wells{Available: unit.Charge(y1), Bound: unit.Charge(s.q - y1)}
}

// A kineticPhase is a current held for a time, with what follows from them.
type kineticPhase struct{ i, t, it, e, rise float64 }

func (k kineticKernel) phase(i, t float64) kineticPhase {
	r := math.Expm1(-k.k * t)
	return kineticPhase{i: i, t: t, it: i * t, e: 1 + r, rise: -i / (k.c * k.k) * r}
}

// after returns the state after a phase.
func (s kineticState) after(p *kineticPhase) kineticState {
	return kineticState{s.q - p.it, s.d*p.e + p.rise}
}

// slope is the rate at which the height of the available well changes.
func (k kineticKernel) slope(s kineticState, i float64) float64 {
	return -i - (1-k.c)*(i/k.c-k.k*s.d)
}

// event returns when, in a phase that ends with the available well below 0 or
// above qmax, or the charge below the floor, the first of these happens.
// Under one current the height turns at most once, from away from the bound
// towards it, so that the bound is crossed once.
func (k kineticKernel) event(s kineticState, p *kineticPhase, floor float64) (float64, KineticEnd) {
	bound, end := 0.0, KineticEmptied
	if p.i < 0 {
		bound, end = k.qmax, KineticFilled
	}
	over := func(t float64) float64 {
		part := k.phase(p.i, t)
		h := k.height(s.after(&part)) - bound
		if p.i < 0 {
			return h
		}
		return -h
	}
	t := p.t
	if over(p.t) > 0 {
		// Up to the turn the height moves away from the bound, on which it
		// may stand. Where it does not turn it may be there to the last bit.
		t = min(k.turn(s, p.i), p.t)
		if x, err := numeric.Root(over, t, p.t, 0); err == nil {
			t = x
		}
	} else {
		end = KineticLasted
	}
	if p.i > 0 && s.q-p.i*t < floor {
		t, end = max(0, (s.q-floor)/p.i), KineticAtFloor
	}
	return t, end
}

// turn returns when the height of the available well turns under a current, 0
// where it does not.
func (k kineticKernel) turn(s kineticState, i float64) float64 {
	still := i / (k.c * k.k) // the difference that d tends to
	flat := i / ((1 - k.c) * k.k)
	// slope = 0 where k·d = i/(c(1-c)), and d - still falls as e^(-kt).
	if ratio := (s.d - still) / flat; ratio > 1 {
		return math.Log(ratio) / k.k
	}
	return 0
}

// timeToEmpty solves q - I·t = (1-c)·d(t).
func (k kineticKernel) timeToEmpty(s kineticState, i float64) float64 {
	if k.height(s) <= 0 && k.slope(s, i) <= 0 {
		return 0
	}
	b := i * (1 - k.c) / (k.c * k.k)
	a, g := s.q-b, b-(1-k.c)*s.d
	// With g < 0 the well is filling at first. The product is at least -1/e
	// but for rounding.
	z := max(k.k*g/i*math.Exp(-k.k*a/i), -1/math.E)
	t := a/i + numeric.LambertW(z)/k.k
	// One step of Newton's method takes back what a/i and the second term
	// lose against each other.
	p := k.phase(i, max(t, 0))
	now := s.after(&p)
	if v := k.slope(now, i); v < 0 {
		t -= k.height(now) / v
	}
	return max(t, 0)
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
