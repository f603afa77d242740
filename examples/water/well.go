package main

import (
	"fmt"

	"ridethrough.example/tank"
)

// showWell compares the pump with what flows into the well.
func (r *reckoner) showWell() error {
	w := &r.system.Well
	if !w.Casing.Given() {
		return nil
	}
	s := Section{Title: "Well", Basis: max(r.mainBasis(), w.Casing.Basis, w.Intake.Basis).String()}
	capacity, err := tank.SpecificCapacityOf(w.Drawdown.Flow.Low, w.Drawdown.What.Low)
	if err != nil {
		return r.system.at("well.drawdown", err)
	}
	well := tank.Well{Casing: w.Casing.Low, Static: w.Level.Low, Intake: w.Intake.Low, Capacity: capacity}
	yield, err1 := well.Yield()
	stored, err2 := well.Stored()
	if err := first(err1, err2); err != nil {
		return r.system.at("well", err)
	}
	s.Figures = append(s.Figures,
		plain("well.capacity_lpm_per_m", "Specific capacity", lpm(tank.FlowRate(capacity)), "L/min a m", "discharge over drawdown"),
		flow("well.yield", "Yield, with the level at the pump's intake", yield, "specific capacity times drawdown"),
		volume("well.stored", "Standing above the intake, once", stored, "geometry of the casing"),
	)
	tenth := (w.Intake.Low - w.Level.Low) / 10
	recovery, err := well.Recovery(10*tenth, tenth)
	if err != nil {
		return r.system.at("well", err)
	}
	s.Figures = append(s.Figures, plain("well.recovery_min", "Recovery from the intake to a tenth of that drawdown", minutes(recovery), "min", "inflow in proportion to drawdown"))
	// At cut-in the pump takes the most.
	at, err := r.supply.At(r.vessel.CutIn)
	if err != nil {
		s.Notes = append(s.Notes, "At cut-in the pump has no flow to compare with the yield: "+reason(err)+".")
		r.add(s)
		return nil
	}
	pumped, err := well.Pump(at.Flow)
	if err != nil {
		return r.system.at("well", err)
	}
	hours, err := well.Delivers(at.Flow, 2*tank.Hour)
	if err != nil {
		return r.system.at("well", err)
	}
	c := Check{
		ID: "well.yield", Holds: !pumped.Outruns, Source: "water balance of the casing",
		Says: fmt.Sprintf("the well yields %s gal/min and the pump takes %s at cut-in", short(gpm(yield)), short(gpm(at.Flow))),
	}
	label := "Out of the well in the first 2 h, at that flow"
	if pumped.Outruns {
		label += ", then the yield"
		s.Notes = append(s.Notes, fmt.Sprintf("What follows does not know the intake: draws of more than the yield and runs of more than %s min are not to be had for long.", short(minutes(pumped.Until))))
		c.Says += fmt.Sprintf(": after %s min of it the pump draws air and runs dry, unless something stops it", short(minutes(pumped.Until)))
		s.Figures = append(s.Figures, plain("well.until_min", "The pump draws the level to its intake after", minutes(pumped.Until), "min", "water balance of the casing"))
	} else {
		s.Figures = append(s.Figures, length("well.pumping_level", "Pumping level, below the well head", pumped.Level, "water balance of the casing"))
	}
	s.Figures = append(s.Figures, volume("well.two_hours", label, hours, "water balance of the casing"))
	s.Notes = append(s.Notes, "Lenders ask for 3 gal/min of a well in use and 5 of a new one (common practice).")
	r.check(c)
	r.add(s)
	return nil
}
