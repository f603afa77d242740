package inverter

import (
	"errors"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

func (t PowerTriangle) complex() complex128 { return complex(float64(t.Real), float64(t.Reactive)) }

var reactive = domain.Unit{Symbol: "var", Size: 1, SI: true}

func (t PowerTriangle) check(name string) error {
	if t.Real >= 0 && t.Real <= mostPower && t.Reactive >= -mostPower && t.Reactive <= mostPower {
		return nil
	}
	return errors.Join(
		pkg.Range(name, float64(t.Real), 0, mostPower, domain.Watt),
		pkg.Range(name+", reactive", float64(t.Reactive), -mostPower, mostPower, reactive),
	)
}

// A SplitPhase is a 120/240 V source of two stacked inverters, one a leg. What
// hangs on one leg sees one of them, whatever the two have together.
type SplitPhase struct {
	Leg  unit.Voltage // each leg to neutral, 100 to 130 V
	Unit Surge        // of one of the two
}

// SplitLoads are the loads of the two legs and those across both, by their Real
// and Reactive: the other fields are not read.
type SplitLoads struct {
	L1, L2 PowerTriangle // leg to neutral; zero for none
	Across PowerTriangle // leg to leg, such as a 240 V pump
}

// A LegUse is what one leg carries.
type LegUse struct {
	Apparent ApparentPower // of its unit
	Current  unit.Current  // rms
	Share    float64       // of the unit's continuous rating; above 1 it is overloaded
}

// A SplitUse is what the loads make of a split-phase source.
type SplitUse struct {
	L1, L2    LegUse       // the two units
	Neutral   unit.Current // rms; the phasor difference of the legs' own loads
	Imbalance unit.Current // difference of the two leg currents
	Carried   bool         // neither unit is above its continuous rating
	Usable    float64      // share of both ratings to be had at this imbalance
}

func (s SplitPhase) check() error {
	return errors.Join(pkg.Range("leg voltage", float64(s.Leg), 100, 130, domain.Volt), s.Unit.Validate())
}

// Use returns what the loads take of each leg,
//
//	S_1 = S_L1 + S_across/2,  S_2 = S_L2 + S_across/2,  I_N = |S_L1 - S_L2|/V
//
// in complex powers, with V the voltage of a leg (V). A unit of rating I_r that
// carries ΔI more than the other is full while the other has ΔI left, so that
// 1 - ΔI/(2·I_r) of the pair is usable: 30 A a leg with 20 A between them yield
// 67 %. Loads of 0 to 1 MW.
//
// Source: Kirchhoff's current law at the neutral.
func (s SplitPhase) Use(l SplitLoads) (SplitUse, error) {
	err := errors.Join(s.check(), l.L1.check("load of L1"), l.L2.check("load of L2"), l.Across.check("load across"))
	if err != nil {
		return SplitUse{}, err
	}
	v, rating := float64(s.Leg), float64(s.Unit.Continuous)
	leg := func(own PowerTriangle) LegUse {
		va := cmplx.Abs(own.complex() + l.Across.complex()/2)
		return LegUse{ApparentPower(va), unit.Current(va / v), va / rating}
	}
	u := SplitUse{L1: leg(l.L1), L2: leg(l.L2)}
	u.Neutral = unit.Current(cmplx.Abs(l.L1.complex()-l.L2.complex()) / v)
	u.Imbalance = unit.Current(math.Abs(float64(u.L1.Current - u.L2.Current)))
	u.Carried = u.L1.Share <= 1 && u.L2.Share <= 1
	u.Usable = max(0, 1-math.Abs(u.L1.Share-u.L2.Share)/2)
	return u, nil
}

// Start lays the start of a motor beside the surge rating that it meets: one
// unit's, with all of the demand for a motor on one leg and half of it for one
// across both.
//
// Definition: a leg is one unit.
func (s SplitPhase) Start(demand Range[ApparentPower], duration unit.Time, across bool) (SurgeCheck, error) {
	if err := errors.Join(s.check(), checkApparent(demand)); err != nil {
		return SurgeCheck{}, err
	}
	if across {
		demand.Low, demand.High = max(1, demand.Low/2), max(1, demand.High/2)
	}
	return s.Unit.Check(demand, duration)
}
