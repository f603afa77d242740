package main

import (
	"errors"
	"fmt"

	"ridethrough.example/tank"
)

const boyle = "Boyle's law"

// showTank tells what the tank holds.
func (r *reckoner) showTank() error {
	v, s := r.vessel, Section{Title: "Tank", Basis: r.tankBasis().String()}
	left, err := v.WaterWhenPowerFails()
	if err != nil {
		return err
	}
	vd, err := v.Drawdown()
	var above *tank.PrechargeError
	switch {
	case errors.As(err, &above):
		s.Figures = append(s.Figures, volume("tank.usable", "What comes out before the taps run dry", above.Usable, boyle))
	case err != nil:
		return err
	default:
		r.drawdown = vd
		if err := r.showDrawdown(&s); err != nil {
			return err
		}
	}
	s.Figures = append(s.Figures,
		volume("tank.left_least", "Left when the power fails just before cut-in", left.Low, boyle),
		volume("tank.left_most", "Left when it fails just after cut-out", left.High, boyle),
		volume("tank.left_mean", "Left in the mean, at a steady draw", left.Mid(), boyle),
	)
	if err := r.showPrecharge(&s); err != nil {
		return err
	}
	r.add(s)
	return nil
}

func (r *reckoner) showDrawdown(s *Section) error {
	v := r.vessel
	gauge, err1 := v.GaugeOnlyDrawdown()
	third, err2 := v.ThirdOfVolume()
	factor, err3 := v.AcceptanceFactor()
	sea := v
	sea.Atmosphere = tank.SeaLevel
	low, err4 := sea.Drawdown()
	if err := first(err1, err2, err3, err4); err != nil {
		return err
	}
	s.Figures = append(s.Figures,
		volume("tank.drawdown", "Drawdown, cut-out to cut-in", r.drawdown, boyle).
			against("gauge pressures without the atmosphere", litres(gauge), "air follows absolute pressure").
			against("a third of the tank", litres(third), "it depends on the switch"),
		plain("tank.acceptance_ratio", "Acceptance factor, drawdown over volume", factor, "", boyle),
		pressure("tank.atmosphere", "Air pressure at the site, absolute", v.Atmosphere, "U.S. Standard Atmosphere 1976, or as typed"),
		plain("tank.altitude_percent", "Drawdown more than at sea level", 100*(float64(r.drawdown/low)-1), "%", boyle),
	)
	if n := r.system.Tank.Exponent; n > 1 {
		hot, err1 := v.PolytropicDrawdown(n)
		sags, err2 := v.SettledPressure(n)
		if err := first(err1, err2); err != nil {
			return err
		}
		s.Figures = append(s.Figures,
			volume("tank.drawdown_warm", fmt.Sprintf("Drawdown of a fill that warms the air, exponent %g", n), hot, "polytropic process"),
			pressure("tank.settled", "Pressure to which the gauge then sags", sags, "polytropic process"),
		)
	}
	return nil
}

// showPrecharge compares the air charge with the switch.
func (r *reckoner) showPrecharge(s *Section) error {
	v, t := r.vessel, &r.system.Tank
	want, err := tank.PrechargeFor(v.CutIn)
	if err != nil {
		return err
	}
	s.Figures = append(s.Figures, pressure("tank.precharge_custom", "Precharge by custom, cut-in less 2 psi", want, "common practice"))
	c := Check{
		ID: "tank.precharge", Holds: v.Precharge <= v.CutIn, Source: "common practice: 2 psi below cut-in",
		Says: fmt.Sprintf("precharge %s psi, cut-in %s psi", short(psi(v.Precharge)), short(psi(v.CutIn))),
	}
	switch gap := v.CutIn - v.Precharge; {
	case gap < 0:
		c.Says += ": the tank is empty before the pump starts, and the taps run dry in every cycle"
	case gap < 1*tank.PSI:
		c.Says += ": nothing is left in the tank at cut-in"
	case gap > 2*tank.PrechargeOffset:
		c.Says += ": lower than the custom, which costs drawdown"
	}
	r.check(c)
	if !t.Coldest.Given() {
		return nil
	}
	cold, err := tank.Charge{Precharge: v.Precharge, Temperature: t.SetAt.Low, Atmosphere: v.Atmosphere}.At(t.Coldest.Low)
	if err != nil {
		return r.system.at("tank.coldest", err)
	}
	s.Figures = append(s.Figures, pressure("tank.precharge_cold", "Precharge at "+figureOf(t.Coldest.Text), cold, "ideal gas at constant volume"))
	return nil
}

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
	if pumped.Outruns {
		c.Says += fmt.Sprintf(": after %s min of it the pump draws air and runs dry, unless something stops it", short(minutes(pumped.Until)))
		s.Figures = append(s.Figures, plain("well.until_min", "The pump draws the level to its intake after", minutes(pumped.Until), "min", "water balance of the casing"))
	} else {
		s.Figures = append(s.Figures, length("well.pumping_level", "Pumping level, below the well head", pumped.Level, "water balance of the casing"))
	}
	s.Figures = append(s.Figures, volume("well.two_hours", "Out of the well in the first 2 h, at that flow", hours, "water balance of the casing"))
	s.Notes = append(s.Notes, "Lenders ask for 3 gal/min of a well in use and 5 of a new one (common practice).")
	r.check(c)
	r.add(s)
	return nil
}

// reason is why there is no figure, in the words of the library but without its
// name.
func reason(err error) string {
	const name = "tank: "
	text := err.Error()
	if len(text) > len(name) && text[:len(name)] == name {
		return text[len(name):]
	}
	return text
}
