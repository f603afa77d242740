package tank

import (
	"math"
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

// after is the content a time t later, on the way to another, and the leg there;
// or the other one, and the leg to it, if it is reached before.
func (p *pumping) after(from, to, demand, t float64) (v float64, sum leg, reached bool) {
	for from != to {
		flow, end, constant := p.zone(from, to)
		left := t - sum.time
		if constant {
			l := p.flat(from, end, flow, demand)
			if l.time > left {
				return from + (flow-demand)*left, sum.plus(p.perSecond(flow).times(left)), false
			}
			sum, from = sum.plus(l), end
			continue
		}
		w := way{pumping: p, from: flow, demand: demand}
		s := w.end(p.flow(end))
		if math.IsInf(s, 1) {
			v, l := w.towards(left)
			return v, sum.plus(l), false
		}
		l := w.over(0, s)
		if l.time > left {
			at, l := w.find(left, s)
			return p.content(at), sum.plus(l), false
		}
		sum, from = sum.plus(l), end
	}
	return to, sum, true
}
