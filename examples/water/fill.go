package main

import (
	"errors"
	"fmt"

	"ridethrough.example/tank"
)

// showFill follows one run from cut-in to cut-out.
func (r *reckoner) showFill() error {
	s := Section{Title: "Fill from cut-in to cut-out, nothing drawn", Basis: r.energyBasis().String()}
	f, err := r.supply.Fill(0, tank.Isothermal)
	c := Check{ID: "pump.cut_out", Holds: err == nil, Source: "shut-off head less lift; pump curve"}
	if err != nil {
		c.Says = reason(err)
		s.Notes = append(s.Notes, "No fill: "+reason(err)+".")
		var stall *tank.StallError
		if errors.As(err, &stall) {
			s.Figures = append(s.Figures, pressure("fill.held", "Pressure that the pump holds for ever", stall.Pressure, "shut-off head less lift"))
		}
		if errors.Is(err, tank.ErrNeverStops) {
			s.Notes = append(s.Notes, "Such a pump runs until something gives: lower both switch settings, or ask for a pump with more head. It empties a battery.")
		}
		if !errors.Is(err, tank.ErrPrechargeAboveCutIn) { // told already
			r.check(c)
		}
		r.add(s)
		return nil
	}
	r.fill = &f
	held, err := r.supply.ShutOffPressure()
	if err != nil {
		return err
	}
	custom, err := tank.PressureSwitch{CutIn: r.vessel.CutIn, CutOut: r.vessel.CutOut}.ShutOff()
	if err != nil {
		return err
	}
	c.Says = fmt.Sprintf("with the taps shut the pump makes %s psi at the tank, cut-out is %s psi", short(psi(held)), short(psi(r.vessel.CutOut)))
	if held < custom.Low {
		c.Says += "; custom asks for 5 to 10 psi to spare"
	}
	r.check(c)
	s.Figures = append(s.Figures, r.fillTime(f))
	e := plain("fill.energy_wh", "Energy drawn", wattHours(f.Energy), "Wh", "integral of the input power over the fill")
	if at, err := r.supply.At(r.ends()[1].gauge); err == nil && at.Input > 0 {
		e = e.against("input at mid pressure for that time", float64(at.Input)*float64(f.Time)/float64(tank.WattHour), "")
	}
	s.Figures = append(s.Figures,
		volume("fill.stored", "Volume", f.Stored, boyle),
		flow("fill.mean_flow", "Mean flow", f.MeanFlow(), "volume over time"),
		e,
		plain("fill.work_wh", "Of it in the water", wattHours(f.Work), "Wh", "integral of ρ·g·Q·H"),
	)
	r.perVol = tank.EnergyPerVolume(float64(f.Energy) / float64(f.Pumped))
	s.Figures = append(s.Figures, energyPerVolume("fill", r.perVol))
	if n := r.system.Tank.Exponent; n > 1 {
		if hot, err := r.supply.Fill(0, n); err == nil {
			s.Figures = append(s.Figures, plain("fill.time_warm_min", fmt.Sprintf("Time, were the air to warm with exponent %g", n), minutes(hot.Time), "min", "polytropic process"))
		}
	}
	if r.slow != nil {
		if slow, err := r.slow.Fill(0, tank.Isothermal); err == nil {
			s.Figures = append(s.Figures,
				plain("fill.time_slow_min", fmt.Sprintf("Time at %g Hz", float64(r.system.Pump.Frequency)), minutes(slow.Time), "min", "affinity laws"),
				plain("fill.energy_slow_wh", fmt.Sprintf("Energy drawn at %g Hz", float64(r.system.Pump.Frequency)), wattHours(slow.Energy), "Wh", "affinity laws"))
		}
	}
	r.add(s)
	return nil
}

// fillTime is the time of a fill beside that by constant flows.
func (r *reckoner) fillTime(f tank.Fill) Figure {
	t := plain("fill.time_min", "Time", minutes(f.Time), "min", "water balance with the pump's flow falling by its curve")
	for i, e := range r.ends() {
		at, err := r.supply.At(e.gauge)
		if err != nil || at.Flow <= 0 {
			continue
		}
		why := []string{"the pump slows as the pressure rises", "", "it began faster"}[i]
		t = t.against("constant flow, that at "+e.name, float64(r.drawdown)/float64(at.Flow)/float64(tank.Minute), why)
	}
	return t
}

func energyPerVolume(key string, e tank.EnergyPerVolume) Figure {
	return both(key+".energy_wh_per_l", "Energy a litre", float64(e/tank.WattHourPerLitre), "Wh/L",
		float64(e/tank.WattHourPerUSGallon), "Wh/gal", "energy drawn over water pumped")
}
