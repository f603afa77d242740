package main

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

const (
	// weaker is the source against which a start is called marginal: with a circuit
	// that is known, and with one that is typical. The torque is its square.
	weaker        = 0.95
	weakerTypical = 0.9
	// mostOfEngine is what a generator's engine gives for an instant, over its
	// rating, without its flywheel.
	//
	// Common practice: as in motor.Generator.
	mostOfEngine = 1.25
	// longStart is how long a start winding may stay on before the start is
	// called marginal.
	//
	// Common practice: the start switch of a healthy motor has opened within 3 s.
	longStart = 3
)

// judge compares the ends of the inertia's range, and a source that is weaker.
func (c *Case) judge(in *Input, wires complex128, inertia motor.Range[motor.Inertia]) error {
	failed, longest := 0, unit.Time(0)
	bad := c.result
	ends := []motor.Inertia{inertia.Low, c.inertia, inertia.High}
	for _, j := range ends {
		r, err := c.runUp(in, wires, j, 1).QuasiSteady()
		if err != nil {
			return err
		}
		if !comesUp(&r) {
			failed++
			bad = r
			continue
		}
		if c.LeastS == 0 {
			c.LeastS = rounded(r.FullSpeed)
		}
		c.MostS = rounded(r.FullSpeed)
		longest = max(longest, r.SwitchOpen, 0)
		if switchOf(c.circuit) == 0 {
			longest = max(longest, r.FullSpeed)
		}
	}
	switch {
	case failed == len(ends):
		c.Verdict, c.Why = fails, c.reason(in, &bad)
		return nil
	case failed > 0:
		c.Verdict, c.Why = depends, "with the greater inertia "+c.reason(in, &bad)
		return nil
	}
	strength := weaker
	if c.typical {
		strength = weakerTypical
	}
	weak, err := c.runUp(in, wires, inertia.High, strength).QuasiSteady()
	if err != nil {
		return err
	}
	switch {
	case !comesUp(&weak):
		c.Verdict, c.Why = marginal, fmt.Sprintf("comes up, but with a source %.0f %% weaker %s", 100*(1-strength), c.reason(in, &weak))
	case in.Source == "generator" && c.GreatestW > mostOfEngine*in.EngineW:
		c.Verdict, c.Why = marginal, fmt.Sprintf("comes up, but asks %.0f W of an engine of %.0f W: its flywheel must carry the start", c.GreatestW, in.EngineW)
	case longest > longStart:
		c.Verdict, c.Why = marginal, fmt.Sprintf("comes up, but takes its starting current for %.1f s, where healthy starts have done with it within %d s: overload protection may trip, and windings and capacitor heat up", float64(longest), longStart)
	default:
		c.Verdict = starts
	}
	return nil
}

// comesUp reports whether a start reaches full speed and keeps its source.
func comesUp(r *motor.RunUpResult) bool { return r.Outcome == motor.Starts && r.Cause == nil }
