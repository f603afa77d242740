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
