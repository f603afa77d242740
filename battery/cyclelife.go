package battery

import (
	"errors"
	"math"
	"slices"
	"strconv"

	"ridethrough.example/internal/domain"
)

// A CyclePoint says how many cycles of one depth a battery lasts.
type CyclePoint struct {
	Depth  float64 // of discharge, 0.01 to 1
	Cycles float64 // to the end of life, 10 to 100000
}

func (p CyclePoint) validate() error {
	return errors.Join(
		checkFraction("depth of discharge", p.Depth, 0.01),
		pkg.Range("cycles", p.Cycles, 10, 1e5, domain.One),
	)
}

// EquivalentFullCycles returns the throughput of a cycle life,
//
//	E = N·d
//
// where N is p.Cycles and d is p.Depth. Along one curve it changes by less than
// a factor of two: it is the throughput that is nearly constant, not the number
// of cycles. A p outside its bounds is an [ErrDomain].
//
// Definition: cycles of full depth with the same throughput.
func (p CyclePoint) EquivalentFullCycles() (float64, error) {
	if err := p.validate(); err != nil {
		return 0, err
	}
	return p.Cycles * p.Depth, nil
}

// A CycleCurve is the cycle life of one battery against depth of discharge,
// two points or more with the depth rising and the cycles falling. All points
// must speak of one end of life: curves to 80 and to 50 % of the capacity
// cannot be laid side by side.
type CycleCurve []CyclePoint

func (c CycleCurve) validate() error {
	if len(c) < 2 || len(c) > mostPeriods {
		return pkg.Invalid("points of a cycle curve", strconv.Itoa(len(c)), "2 to "+strconv.Itoa(mostPeriods))
	}
	var err error
	for i, p := range c {
		if e := p.validate(); e != nil {
			err = errors.Join(err, e)
		} else if i > 0 && !(p.Depth > c[i-1].Depth && p.Cycles < c[i-1].Cycles) {
			err = errors.Join(err, pkg.Invalid("point "+strconv.Itoa(i+1)+" of a cycle curve", "not deeper with fewer cycles", "depth rising, cycles falling"))
		}
	}
	return err
}

// Cycles returns how many cycles of one depth the battery lasts,
//
//	N = Na·(da/d)^p
//
// a power law between each two points a and b of the curve, with p such that it
// passes through both. A depth outside the points, and a c outside its bounds,
// is an [ErrDomain].
//
// Common practice: straight lines on logarithmic axes.
func (c CycleCurve) Cycles(depth float64) (float64, error) {
	if err := c.validate(); err != nil {
		return 0, err
	}
	return c.cycles(depth)
}

// cycles is Cycles of a curve that was checked.
func (c CycleCurve) cycles(depth float64) (float64, error) {
	if err := pkg.Range("depth of discharge", depth, c[0].Depth, c[len(c)-1].Depth, domain.One); err != nil {
		return 0, err
	}
	i := 1
	for depth > c[i].Depth {
		i++
	}
	a, b := c[i-1], c[i]
	p := math.Log(a.Cycles/b.Cycles) / math.Log(b.Depth/a.Depth)
	return a.Cycles * math.Pow(a.Depth/depth, p), nil
}

// Wear returns the share of its life that cycles of several depths take,
//
//	w = Σ n/N(d)
//
// where n is the Cycles of each use, d its Depth and N(d) is from
// [CycleCurve.Cycles]: at 1 the battery is at the end of its life. Here n may
// be from 0 to 100000. What Cycles refuses is an [ErrDomain].
//
// Source: linear damage (Palmgren, Miner).
func (c CycleCurve) Wear(use ...CyclePoint) (float64, error) {
	if err := c.validate(); err != nil {
		return 0, err
	}
	w := 0.0
	for _, u := range use {
		n, err := c.cycles(u.Depth)
		if err := errors.Join(err, pkg.Range("cycles of a use", u.Cycles, 0, 1e5, domain.One)); err != nil {
			return 0, err
		}
		w += u.Cycles / n
	}
	return w, nil
}

// typicalCycles are curves of typical makers' sheets near 25 °C.
// Source: recalled; see testdata.
var typicalCycles = [...]CycleCurve{
	Flooded:              {{0.20, 3200}, {0.30, 2100}, {0.50, 1200}, {0.80, 700}},
	AGM:                  {{0.30, 1200}, {0.50, 550}, {1.00, 250}},
	Gel:                  {{0.20, 7000}, {0.50, 2900}, {0.80, 1500}},
	LithiumIronPhosphate: {{0.50, 7000}, {0.80, 4000}, {1.00, 2500}},
}

// TypicalCycleLife returns a curve for want of a maker's: flooded deep-cycle,
// AGM of the standby type, tubular gel, lithium iron phosphate at half its
// capacity an hour, to 80 % of the capacity (AGM: to 60 to 80 %). Entry-level
// flooded batteries last a third as long: published figures for 80 % depth go
// from 225 to 700 cycles. A chemistry that is none is an [ErrDomain].
//
// Common practice: typical makers' curves, recalled.
func TypicalCycleLife(c Chemistry) (CycleCurve, error) {
	if err := c.validate(); err != nil {
		return nil, err
	}
	return slices.Clone(typicalCycles[c]), nil
}
