package main

import (
	"errors"
	"fmt"

	"ridethrough.example/tank"
)

// followDays is how many days are followed, as the tank begins full: a day is
// their mean.
const followDays = 30

// showDay follows tank, switch and pump over the day's draws.
func (r *reckoner) showDay() error {
	s := Section{Title: "A day, on the mean of 30", Basis: max(r.energyBasis(), r.system.Day.Use.Basis).String()}
	full, err := r.supply.Full()
	var draws []tank.Draw
	for range followDays {
		draws = append(draws, r.draws...)
	}
	var d tank.Supplied
	if err == nil {
		d, err = r.supply.Follow(full, draws)
	}
	if err != nil {
		if !errors.Is(err, tank.ErrPrechargeAboveCutIn) && !errors.Is(err, tank.ErrBeyondCurve) {
			return r.system.at("day", err)
		}
		s.Notes = append(s.Notes, "The day cannot be followed: "+reason(err)+".")
		r.add(s)
		return nil
	}
	r.day = &d
	const source = "water balance, followed from switching to switching"
	use := volume("day.use", "Drawn", d.Drawn/followDays, "profile of the day")
	starts := plain("day.starts", "Starts", float64(d.Starts)/followDays, "a day", source)
	// The tank ends with another content than it began: time and energy are those
	// of the water drawn.
	share := 1.0 / followDays
	if d.Pumped > 0 {
		share *= float64(d.Drawn / d.Pumped)
	}
	run := plain("day.run_min", "Pump minutes", minutes(d.PumpTime)*share, "min", source)
	asked := float64(r.use) * float64(tank.Day)
	mid, err := r.supply.At(r.ends()[1].gauge)
	if r.fill == nil {
		// Shortcuts are for a pump that stops.
		mid = tank.OperatingPoint{}
		s.Notes = append(s.Notes, "The pump never stops: its minutes and its energy are those of running on, not of the water alone.")
	} else {
		starts = starts.against("use over drawdown", asked/float64(r.drawdown), "water drawn while the pump runs saves starts")
	}
	if err == nil && mid.Flow > 0 {
		run = run.against("use over the flow at mid pressure", asked/float64(mid.Flow)/float64(tank.Minute), "")
	}
	s.Figures = append(s.Figures, use, starts, run,
		plain("day.longest_run_min", "Longest run", minutes(d.LongestOn), "min", source),
		r.dayEnergy(wattHours(d.Energy)*share, mid))
	if d.Pumped > 0 {
		if e := d.EnergyPerVolume(); e > 0 {
			r.perVol = e
			s.Figures = append(s.Figures, energyPerVolume("day", e))
		}
	}
	s.Figures = append(s.Figures, pressure("day.least_pressure", "Least pressure at the tank", d.LeastPressure, source))
	unmet := volume("day.unmet", "Asked for and not delivered", d.Unmet/followDays, source)
	s.Figures = append(s.Figures, unmet)
	s.Notes = append(s.Notes, "Each hour is drawn evenly. Taps draw in bursts: peaks are higher, pressures lower and starts fewer or more than here.")
	if d.Unmet > 0 {
		r.check(Check{ID: "day.unmet", Says: fmt.Sprintf("%s L (%s gal) a day are asked for with the tank empty", short(unmet.Value), short(gallons(d.Unmet)/followDays)), Source: source})
	} else {
		r.check(Check{ID: "day.unmet", Holds: true, Says: "the day's use is delivered, hour by hour", Source: source})
	}
	custom, err := r.practice()
	if err != nil {
		return err
	}
	if custom != nil && r.fill != nil {
		n, most := float64(d.Starts)/followDays, float64(custom.DailyStarts/tank.PerDay)
		r.check(Check{
			ID: "pump.starts_day", Advice: true, Holds: n <= most, Source: "common practice: makers' tables of submersible motors",
			Says: fmt.Sprintf("%s starts a day, custom allows %s evenly spread", short(n), short(most)),
		})
	}
	r.add(s)
	return nil
}

// dayEnergy is the energy of a day, beside that of the head at mid pressure.
func (r *reckoner) dayEnergy(drawn float64, mid tank.OperatingPoint) Figure {
	f := plain("day.energy_wh", "Energy drawn", drawn, "Wh", "integral of the input power")
	if mid.Efficiency() <= 0 {
		return f
	}
	if e, err := tank.EnergyToRaise(r.supply.Main.Water.Density, mid.Head, mid.Efficiency()); err == nil {
		f = f.against("ρ·g·H/η at mid pressure, times the use", float64(e)*float64(r.use)*float64(tank.Day)/float64(tank.WattHour), "")
	}
	return f
}
