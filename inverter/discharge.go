package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A RunDown is the course of a battery under a constant power to its end.
type RunDown struct {
	Time      unit.Time   // from full to the end
	Drawn     unit.Charge // charge taken
	Energy    unit.Energy // at the inverter's terminals
	Left      float64     // charge left over capacity
	Start     Point       // with the battery full
	End       Point       // where it stops
	StoppedBy Link        // Empty, RunningCutOff or Collapse
}

// RunDown returns how long the source carries a constant dc power P (W) if its
// open-circuit voltage falls in a straight line from OpenCircuit, full, to
// empty (V) over the capacity Q (C), until the terminal voltage reaches the
// cut-off or the charge is used up:
//
//	t = Q/(2·P·a)·[F(V_s) - F(V_e)],  a = V_s - V_empty
//	F(V) = V²/2 + (V/2)·√(V² - b) - (b/2)·ln(V + √(V² - b)),  b = 4·P·R
//	V_e = V_cut + P·R/V_cut, or V_empty if that is higher
//
// V_s and V_e are open-circuit voltages at start and end. A cut-off so low
// that the source collapses before it ends the run at V_e = √b. A start below
// the cut-off gives zero time. At high power the cut-off stops the run by sag
// with most of the charge left, where Q·V/P is several times too long.
//
// Capacity does not depend on rate here, and Loss, R and temperature do not
// change on the way: it is a check on shortcuts, not a battery model. Valid
// for 1 W to 10 MW, 0.1 Ah to 100 kAh, an empty voltage of 5 V or more that is
// at least 0.1 % below OpenCircuit.
//
// Source: dq/dt = -I(q)/Q with the current of [Source.Operate], integrated.
func (s Source) RunDown(empty unit.Voltage, capacity unit.Charge, dc unit.Power, cutoff unit.Voltage) (RunDown, error) {
	err := errors.Join(
		s.Validate(),
		pkg.Range("open-circuit voltage of the empty battery", float64(empty), leastVolt, 0.999*float64(s.OpenCircuit), domain.Volt),
		pkg.Range("capacity", float64(capacity), 360, 3.6e8, domain.AmpereHour),
		pkg.Range("dc power", float64(dc), 1, mostDC, domain.Watt),
		dcVoltage("cut-off voltage", cutoff),
	)
	if err != nil {
		return RunDown{}, err
	}
	start, err := s.Operate(dc)
	if err != nil {
		return RunDown{}, err
	}
	q, p, r := float64(capacity), float64(dc), float64(s.Resistance())
	vs, ve, link := float64(s.OpenCircuit), float64(empty), Empty
	b := 4 * p * r
	switch vc := float64(cutoff); {
	case vc*vc < p*r && ve < math.Sqrt(b):
		ve, link = math.Sqrt(b), Collapse
	case vc*vc >= p*r && ve < vc+p*r/vc:
		ve, link = vc+p*r/vc, RunningCutOff
	}
	if ve >= vs {
		return RunDown{Left: 1, Start: start, End: start, StoppedBy: link}, nil
	}
	a := vs - float64(empty)
	f := func(v float64) float64 {
		w := math.Sqrt(max(0, v*v-b))
		return (v*v + v*w - b*math.Log(v+w)) / 2
	}
	t := q / (2 * p * a) * (f(vs) - f(ve))
	x := ve + math.Sqrt(max(0, ve*ve-b))
	return RunDown{
		Time: unit.Time(t), Drawn: unit.Charge(q * (vs - ve) / a), Energy: unit.Energy(p * t),
		Left: (ve - float64(empty)) / a, Start: start,
		End:       Point{dc, unit.Current(2 * p / x), unit.Voltage(x / 2)},
		StoppedBy: link,
	}, nil
}
