package main

import "ridethrough.example/examples/planner/plan"

// What the sections rest on: the worst of what was typed.

func (r *reckoner) tankBasis() plan.Basis {
	t := &r.system.Tank
	return max(t.Volume.Basis, t.Precharge.Basis, t.CutIn.Basis, t.CutOut.Basis)
}

func (r *reckoner) mainBasis() plan.Basis {
	w := &r.system.Well
	b := max(w.Level.Basis, w.Rise.Basis, w.Drawdown.basis())
	for _, p := range r.system.Pipes {
		b = max(b, p.Size.Basis, p.Inside.Basis, p.Length.Basis)
	}
	return b
}

func (r *reckoner) flowBasis() plan.Basis {
	b := max(r.tankBasis(), r.mainBasis())
	for _, p := range r.system.Pump.Curve {
		b = max(b, p.basis())
	}
	if len(r.system.Pump.Curve) == 1 {
		b = max(b, plan.RuleOfThumb)
	}
	return b
}

func (r *reckoner) energyBasis() plan.Basis {
	b := r.flowBasis()
	for _, p := range r.system.Pump.Input {
		b = max(b, p.basis())
	}
	for _, p := range r.system.Pump.Efficiency {
		b = max(b, p.basis())
	}
	if len(r.system.Pump.Input)+len(r.system.Pump.Efficiency) == 0 {
		b = max(b, plan.Assumed)
	}
	return b
}
