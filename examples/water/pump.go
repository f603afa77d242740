package main

import (
	"errors"

	"ridethrough.example/tank"
)

// The pump as it was typed: head and input by flow, and both at another
// frequency.

// buildPump finds the head by the flow.
func (r *reckoner) buildPump() error {
	p := &r.system.Pump
	points := make([]tank.CurvePoint, len(p.Curve))
	for i, c := range p.Curve {
		points[i] = tank.CurvePoint{Flow: c.Flow.Low, Head: c.What.Low}
	}
	var err error
	switch {
	case len(points) == 1:
		r.supply.Pump, err = tank.CurveFromDuty(points[0])
		r.assume("pump.curve: guessed from one point, 4/3 of its head at no flow")
	case p.Through == "fit" || p.Through == "" && len(points) == 3 && points[0].Flow == 0:
		if points[0].Flow != 0 {
			return r.system.at("pump.curve", errors.New("a fit takes its first point at no flow"))
		}
		r.supply.Pump, err = tank.FitCurve(points[0].Head, points[1], points[2])
	default:
		r.supply.Pump, err = tank.CurveThrough(points)
	}
	if err != nil {
		return r.system.at("pump.curve", err)
	}
	return nil
}

// buildInput finds the electrical power: as measured, by an efficiency, or by
// what is typical of the kind.
func (r *reckoner) buildInput() error {
	p := &r.system.Pump
	var err error
	if len(p.Input) > 0 {
		points := make([]tank.InputPoint, len(p.Input))
		for i, at := range p.Input {
			points[i] = tank.InputPoint{Flow: at.Flow.Low, Power: at.What.Low}
		}
		if r.supply.Input, err = tank.InputThrough(points); err != nil {
			return r.system.at("pump.input", err)
		}
		return nil
	}
	var points []tank.EfficiencyAt
	for _, at := range p.Efficiency {
		points = append(points, tank.EfficiencyAt{Flow: at.Flow.Low, Efficiency: float64(at.What.Low)})
	}
	if len(points) == 0 {
		typical, err := pumpKinds[p.Kind].Efficiency()
		if err != nil {
			return r.system.at("pump.kind", err)
		}
		points = []tank.EfficiencyAt{{Flow: r.supply.Pump.RunOut() / 2, Efficiency: typical.Mid()}}
		r.assume("pump.efficiency: %.1f %% from wire to water at half of the curve's last flow, where %s pumps have %.0f to %.0f %%; the same power at all flows",
			100*typical.Mid(), p.Kind, 100*typical.Low, 100*typical.High)
	}
	if r.supply.Input, err = tank.InputFromEfficiency(r.supply.Pump, r.supply.Main.Water.Density, points); err != nil {
		return r.system.at("pump.efficiency", err)
	}
	return nil
}

// buildSpeed makes the same system at the other frequency.
func (r *reckoner) buildSpeed() error {
	p := &r.system.Pump
	if p.Frequency == 0 {
		return nil
	}
	rated := p.Rated
	if rated == 0 {
		rated = 60
		r.assume("pump.rated_frequency: 60 Hz")
	}
	r.ratio = float64(p.Frequency / rated)
	pump, err1 := r.supply.Pump.AtSpeed(r.ratio)
	input, err2 := r.supply.Input.AtSpeed(r.ratio)
	if err := first(err1, err2); err != nil {
		return r.system.at("pump.frequency", err)
	}
	slow := r.supply
	slow.Pump, slow.Input = pump, input
	r.slow = &slow
	return nil
}
