package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Carried is the state of a system under a steady load, with each watt in one
// place: Given = Real + Idle + WithLoad + Heat.Total().
type Carried struct {
	Real     unit.Power    // ac, to the loads
	Apparent ApparentPower // ac
	DC       Point         // at the inverter's terminals
	Given    unit.Power    // V_oc·I, by the battery's chemistry
	Idle     unit.Power    // lost in the inverter with and without load
	WithLoad unit.Power    // lost in the inverter with the load
	Heat     Heat          // lost in battery, cable and contacts
	// ToCutOff and ToCollapse are the dc power at the running cut-off and at
	// collapse over the dc power: 1 is just there, below 1 beyond. 0 where
	// nothing is drawn.
	ToCutOff, ToCollapse float64
}

// Efficiency returns what of the battery's power reaches the loads; 0 if it
// gives none.
//
// Definition: ac power over V_oc·I.
func (c Carried) Efficiency() float64 {
	if c.Given == 0 {
		return 0
	}
	return float64(c.Real / c.Given)
}

// Carry returns the state in which the system carries loads,
//
//	P_dc = P_0 + (1 + v)·P + r·S²/P_r,  I = 2·P_dc/[V_oc + √(V_oc² - 4·P_dc·R)]
//
// in closed form, since the losses do not depend on the dc voltage; where they
// do use [VoltageLoss.Operate]. A voltage below the cut-off is no error here: see
// ToCutOff. Where there is no point at all err is a [CollapseError]; for
// arguments out of range it wraps [ErrDomain].
//
// Source: the models of [Loss] and [Source].
func (s System) Carry(load PowerTriangle) (Carried, error) {
	if !s.Loss.ok() || !s.Source.ok() || !s.Surge.ok() || !s.CutOff.ok() ||
		!(load.Real >= 0 && float64(load.Real) <= float64(load.Apparent)*(1+1e-12) && load.Apparent <= mostPower) {
		return Carried{}, errors.Join(s.Validate(), acPower(load.Real), notBelow(load.Apparent, load.Real))
	}
	p, va := float64(load.Real), float64(load.Apparent)
	dc := unit.Power(s.Loss.dcAt(p, va))
	at, ok := s.Source.point(dc)
	if !ok {
		return Carried{}, &CollapseError{Demand: dc, Largest: s.Source.collapse()}
	}
	c := Carried{
		Real: load.Real, Apparent: load.Apparent, DC: at,
		Given:    unit.Power(float64(s.Source.OpenCircuit) * float64(at.Current)),
		Idle:     s.Loss.Idle,
		WithLoad: unit.Power(s.Loss.Linear*p + s.Loss.Quadratic/float64(s.Loss.Rated)*va*va),
		Heat:     s.Source.Losses(at.Current),
	}
	if dc > 0 {
		c.ToCutOff = float64(s.Source.largest(s.CutOff.Running) / dc)
		c.ToCollapse = float64(s.Source.collapse() / dc)
	}
	return c, nil
}

// LargestAC returns the largest ac load of a power factor pf that leaves the dc
// voltage at a cut-off or above,
//
//	P = 2·c/[b + √(b² + 4·a·c)],  b = 1 + v,  a = r/(P_r·pf²),  c = P_cut - P_0
//
// with P_cut of [Source.LargestPower]. The inverter's own rating is another
// limit. Valid for pf from 0.05 to 1. A source that rests below the cut-off
// gives [ErrRestBelowCutOff], one that does not carry the idle draw
// [ErrBelowIdle]; other errors wrap [ErrDomain].
//
// Source: the inverse of [Loss.DCPowerAt] at the power of [Source.LargestPower].
func (s System) LargestAC(pf float64, cutoff unit.Voltage) (unit.Power, error) {
	err := errors.Join(s.Validate(), pkg.Range("power factor", pf, 0.05, 1, domain.One))
	if err != nil {
		return 0, err
	}
	most, err := s.Source.LargestPower(cutoff)
	if err != nil {
		return 0, err
	}
	c := float64(most - s.Loss.Idle)
	if c < 0 {
		return 0, ErrBelowIdle
	}
	b, a := 1+s.Loss.Linear, s.Loss.Quadratic/(float64(s.Loss.Rated)*pf*pf)
	return unit.Power(2 * c / (b + math.Sqrt(b*b+4*a*c))), nil
}
