package tank

import "math"

// What tank, switch and pump do while water is drawn, from one switching to the
// next. [System.Follow] and [Supply.Follow] are this walk, one with a flow that is
// fixed.

// A walk is a profile under way, in SI units.
type walk struct {
	pump        *pumping
	vd, reserve float64

	stored       float64
	running      bool
	starts       int
	total        leg     // with the pump running
	pumped       float64 // by it
	run, longest float64 // pump time since its last start
	drawn, unmet float64
	least        float64

	whole    leg     // a run from cut-in to cut-out ...
	wholeFor float64 // ... at this demand

	// trace is told of each change, and says whether to go on. With it, cycles
	// are walked one by one.
	trace func(passed, stored float64, running bool) bool
	clock float64
	ended bool
}

// begin starts the pump of a tank that stands at cut-in.
func (w *walk) begin(stored, vd float64, running bool) {
	w.stored, w.vd, w.running = stored, vd, running
	w.least, w.wholeFor = stored, math.NaN()
	w.pass(0)
	if stored <= 0 && !running {
		w.start()
	}
}

func (w *walk) start() {
	w.running, w.run, w.starts = true, 0, w.starts+1
	w.pass(0)
}

// pass lets time pass and tells of the state then.
func (w *walk) pass(t float64) {
	if w.trace != nil {
		w.clock += t
		w.ended = w.ended || !w.trace(w.clock, w.stored, w.running)
	}
}

// draw follows one piece of constant demand.
func (w *walk) draw(left, q float64) {
	for left > 0 && !w.ended {
		if !w.running {
			left = w.rest(left, q)
			continue
		}
		if q > 0 && w.stored == 0 && w.run == 0 && w.trace == nil {
			left = w.cycles(left, q)
		}
		left = w.pumping(left, q)
	}
}

// rest lets the tank empty down to cut-in, and returns the time left.
func (w *walk) rest(left, q float64) float64 {
	if q*left < w.stored {
		w.stored -= q * left
		w.drawn += q * left
		w.least = math.Min(w.least, w.stored)
		w.pass(left)
		return 0
	}
	t := w.stored / q
	w.drawn += w.stored
	w.stored, w.least = 0, math.Min(w.least, 0)
	w.pass(t)
	w.start()
	return left - t
}

// inBalance is how near to each other, as a share, a demand and the pump's flow
// are alike. It is more than the last bits of the flow, so that it does not depend
// on the way there.
const inBalance = 1e-12

// stops reports whether the pump reaches cut-out while a demand is drawn.
func (w *walk) stops(q float64) bool {
	return w.pump.flow(w.vd)-q > inBalance*q && !w.pump.holds(w.vd, q)
}

// fill is a run from cut-in to cut-out, reckoned once a demand.
func (w *walk) fill(q float64) leg {
	if w.wholeFor != q {
		w.whole, w.wholeFor = leg{time: math.Inf(1)}, q
		if w.stops(q) {
			w.whole = w.pump.until(0, w.vd, q)
		}
	}
	return w.whole
}

// cycles counts whole cycles from cut-in to cut-in.
func (w *walk) cycles(left, q float64) float64 {
	on := w.fill(q)
	period := on.time + w.vd/q
	n := math.Floor(left / period)
	if !(n >= 1) {
		return left
	}
	w.starts += int(n)
	w.total = w.total.plus(on.times(n))
	w.longest = math.Max(w.longest, on.time)
	w.drawn += n * period * q
	w.pumped += n * (w.vd + q*on.time)
	return math.Max(0, left-n*period)
}

// pumping runs the pump until the tank is full, empty or the time is up.
func (w *walk) pumping(left, q float64) float64 {
	flow := w.pump.flow(w.stored)
	net := flow - q
	balance := math.Abs(net) <= inBalance*q || w.pump.holds(w.stored, q)
	if balance || net < 0 && w.stored <= -w.reserve {
		// In balance, or empty: nothing changes, and the pump's flow is all.
		if balance {
			flow = q // but for the last bits, which are no lack of water
		}
		w.add(w.pump.perSecond(flow).times(left))
		w.drawn += flow * left
		w.pumped += flow * left
		w.unmet += (q - flow) * left
		w.pass(left)
		return 0
	}
	target := w.vd
	if net < 0 {
		target = -w.reserve
	}
	v, on, known := target, leg{}, false
	if w.stored == 0 && net > 0 {
		on = w.fill(q)
		known = on.time <= left
	}
	if !known {
		var reached bool
		v, on, reached = w.pump.after(w.stored, target, q, left)
		if !reached || net > 0 && !w.stops(q) {
			// The last bits must not carry it over the end that it has not reached.
			v = math.Max(-w.reserve, math.Min(v, math.Nextafter(w.vd, -w.vd)))
		}
	}
	w.add(on)
	w.drawn += q * on.time
	w.pumped += math.Max(0, v-w.stored+q*on.time)
	w.stored = v
	w.least = math.Min(w.least, v)
	w.pass(on.time)
	if v == w.vd {
		w.running = false
		w.longest = math.Max(w.longest, w.run)
		w.run = 0
		w.pass(0)
	}
	return left - on.time
}

func (w *walk) add(on leg) {
	w.total = w.total.plus(on)
	w.run += on.time
}
