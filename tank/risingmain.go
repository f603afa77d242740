package tank

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A RisingMain is what a pump works against on the way from the well to the
// tank, but for the pressure in the tank: the lift and all friction.
type RisingMain struct {
	// Lift is the height of the tank's gauge above the water level of the well
	// at rest, not above the pump or the bottom of the well: -100 to 500 m.
	Lift unit.Length
	// Water that is lifted. Its density counts always, its viscosity in Pipes.
	Water Water
	// Pipes are reckoned by Darcy and Weisbach, 100 at most. Between Reynolds
	// numbers of 2300 and 4000, where nobody knows, their friction goes in a
	// straight line from one to the other.
	Pipes []Pipe
	// Losses are all others, 100 at most: pipes by Hazen and Williams,
	// fittings, and the well's drawdown.
	Losses []HeadLoss
}

// A HeadLoss is a head that grows as a power of the flow,
//
//	h = Head·(Q/At)^Exponent
//
// A pipe by Hazen and Williams has [HazenWilliamsExponent], a fitting 2, the
// drawdown of a well from which little is drawn 1. A Head of 0 is no loss.
type HeadLoss struct {
	Head     unit.Length // at the flow At, 0 to 500 m
	At       FlowRate    // 0.1 mL/s to 20 L/s
	Exponent float64     // 1 to 2
}

// HazenWilliamsExponent is how friction grows with flow in [HazenWilliamsLoss]:
// 1/0.54. Tables print 1.852 or 1.85.
const HazenWilliamsExponent = 1 / hazenSlope

// Validate reports what is outside the ranges, joined; each wraps [ErrDomain].
//
// Common practice: the bounds are those of household systems.
func (m RisingMain) Validate() error {
	err := errors.Join(
		headRange("lift", m.Lift, -100, 500),
		m.Water.densityRange(),
	)
	if len(m.Pipes) > 0 {
		err = errors.Join(err, m.Water.viscosityRange())
	}
	if n := max(len(m.Pipes), len(m.Losses)); n > 100 {
		return errors.Join(err, pkg.Invalid("number of pipes or losses", strconv.Itoa(n), "100 at most"))
	}
	for _, p := range m.Pipes {
		if !p.ok() {
			err = errors.Join(err, p.faults())
		}
	}
	for _, l := range m.Losses {
		if !(l.Head >= 0 && l.Head <= 500 && l.At >= leastCurveFlow && l.At <= mostFlow && l.Exponent >= 1 && l.Exponent <= 2) {
			err = errors.Join(err,
				headRange("head lost", l.Head, 0, 500),
				pkg.Range("flow of a head lost", float64(l.At), float64(leastCurveFlow), float64(mostFlow), flowUnit),
				pkg.Range("exponent of a head lost", l.Exponent, 1, 2, domain.One))
		}
	}
	return err
}

// Head returns the total dynamic head at a flow and a gauge pressure in the
// tank,
//
//	H = z + p/(ρ·g) + Σhp(Q) + Σh·(Q/Qh)^x
//
// where z is m.Lift (m), p the gauge pressure (Pa), ρ the density (kg/m³), g
// 9.806 65 m/s², hp the friction of each pipe as of [Pipe.Loss] (m), and h, Qh,
// x the head, flow and exponent of each [HeadLoss]. A pump is chosen at cut-out
// and its energy reckoned over the way from cut-in to there.
//
// Valid for flows to 20 L/s and gauge pressures to 150 psi; otherwise err wraps
// [ErrDomain].
//
// Source: hydraulics; total dynamic head as in MIL-HDBK-1164 and pump manuals.
func (m RisingMain) Head(q FlowRate, gauge unit.Pressure) (unit.Length, error) {
	err := errors.Join(m.Validate(),
		pkg.Range("flow", float64(q), 0, float64(mostFlow), flowUnit),
		pkg.Range("pressure", float64(gauge), 0, float64(mostPressure), domain.PSI))
	if err != nil {
		return 0, err
	}
	return unit.Length(m.static(float64(gauge)) + m.friction(float64(q))), nil
}

// static is the head at no flow and a gauge pressure (Pa).
func (m RisingMain) static(gauge float64) float64 {
	return float64(m.Lift + columnHead(unit.Pressure(gauge), m.Water.Density))
}

// friction is the head lost at a flow (m³/s).
func (m RisingMain) friction(q float64) float64 {
	if q <= 0 {
		return 0
	}
	h := 0.0
	for i := range m.Losses {
		l := &m.Losses[i]
		h += float64(l.Head) * math.Pow(q/float64(l.At), l.Exponent)
	}
	for i := range m.Pipes {
		head, _ := m.pipe(&m.Pipes[i], q)
		h += head
	}
	return h
}

// frictionSlope is the slope of the head lost at a flow (s/m²).
func (m RisingMain) frictionSlope(q float64) float64 {
	slope := 0.0
	for i := range m.Losses {
		l := &m.Losses[i]
		slope += l.Exponent * float64(l.Head) / float64(l.At) * math.Pow(q/float64(l.At), l.Exponent-1)
	}
	for i := range m.Pipes {
		_, perFlow := m.pipe(&m.Pipes[i], q)
		slope += perFlow
	}
	return slope
}

// pipe is the head lost in a pipe (m), and its slope (s/m²). Between laminar and
// turbulent flow the head goes in a straight line from one to the other, so that
// it rises everywhere.
func (m RisingMain) pipe(p *Pipe, q float64) (head, slope float64) {
	d, nu := float64(p.Diameter), float64(m.Water.Viscosity)/float64(m.Water.Density)
	perFlow := m.reynolds(p)
	k := float64(p.Length) / d / (2 * gravity) * (nu / d) * (nu / d) // h = k·f·Re²
	rough, re := float64(p.Roughness)/d, q*perFlow
	switch {
	case re < laminarEnd:
		return k * 64 * re, k * 64 * perFlow
	case re < turbulentStart:
		lo, hi := 64*laminarEnd, darcyFactor(turbulentStart, rough)*turbulentStart*turbulentStart
		rise := (hi - lo) / (turbulentStart - laminarEnd)
		return k * (lo + rise*(re-laminarEnd)), k * rise * perFlow
	}
	f := darcyFactor(re, rough)
	h := k * f * re * re
	// With x = 1/√f Colebrook's equation is x + 2·log10(y) = 0, y = a + b·x and
	// b = 2.51/Re; its derivative gives that of x.
	x, b := 1/math.Sqrt(f), 2.51/re
	c := 2 / math.Ln10 * b / (rough/3.7 + b*x)
	return h, 2 * h / q * (1 - c/(1+c))
}

// reynolds is the Reynolds number of a pipe over its flow (s/m³).
func (m RisingMain) reynolds(p *Pipe) float64 {
	d := float64(p.Diameter)
	return velocity(1, d) * d * float64(m.Water.Density) / float64(m.Water.Viscosity)
}

// smooth reports whether there is no friction at all.
func (m RisingMain) smooth() bool { return len(m.Losses) == 0 && len(m.Pipes) == 0 }
