package main

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

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
	starts = starts.against("use over drawdown", asked/float64(r.drawdown), "water drawn while the pump runs saves starts")
	mid, err := r.supply.At(r.ends()[1].gauge)
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
	if custom != nil {
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

// tiers are those that are shown.
var tiers = []tank.Tier{tank.Drinking, tank.Stored, tank.Emergency, tank.Washing, tank.Normal}

// showStores tells how long the water in the tank, water stored, and the energy
// of a battery last.
func (r *reckoner) showStores() error {
	s := Section{Title: fmt.Sprintf("How long water lasts, %d persons", r.persons), Basis: r.energyBasis().String()}
	left, err := r.vessel.WaterWhenPowerFails()
	if err != nil {
		return err
	}
	t := Table{
		Key: "tiers", Title: "By what is used a day, the thrifty end and the other", Source: "Sphere Handbook, FEMA, WHO, Penn State Extension (uses); volume over flow",
		Columns: []Column{{"use_low_l_per_day", "L/day", 0}, {"use_high_l_per_day", "to", 0}, {"tank_low_h", "tank h", 1}, {"tank_high_h", "to", 1}},
	}
	stores := []unit.Volume{left.Mid()}
	if r.system.Stored.Given() {
		stores = append(stores, r.system.Stored.Low)
		t.Columns = append(t.Columns, Column{"stored_low_d", "stored d", 1}, Column{"stored_high_d", "to", 1})
	}
	charge, err := r.charge(&s)
	if err != nil {
		return err
	}
	if charge > 0 {
		stores = append(stores, charge)
		t.Columns = append(t.Columns, Column{"battery_low_d", "battery d", 1}, Column{"battery_high_d", "to", 1})
	}
	for _, tier := range tiers {
		use, err := tier.Use(r.persons)
		if err != nil {
			return err
		}
		row := Row{Name: tier.String(), Values: []float64{float64(use.Low / tank.LitrePerDay), float64(use.High / tank.LitrePerDay)}}
		for i, v := range stores {
			per := tank.Day
			if i == 0 {
				per = tank.Hour
			}
			for _, q := range []tank.FlowRate{use.High, use.Low} {
				last, err := tank.Lasts(v, q)
				if err != nil {
					return r.system.at("stored_water", err)
				}
				row.Values = append(row.Values, float64(last/per))
			}
		}
		t.Rows = append(t.Rows, row)
	}
	s.Tables = append(s.Tables, t)
	s.Notes = append(s.Notes, fmt.Sprintf("The tank counts with the mean of what it holds when the power fails, %s L (%s gal); the least is %s L.", short(litres(left.Mid())), short(gallons(left.Mid())), short(litres(left.Low))))
	if r.system.Stored.Given() && r.perVol > 0 {
		worth, err := tank.Store{Volume: r.system.Stored.Low, Use: r.use, Energy: r.perVol / tank.EnergyPerVolume(r.inverter())}.Worth()
		if err != nil {
			return r.system.at("stored_water", err)
		}
		s.Figures = append(s.Figures, plain("stored.saved_wh", "Energy that the stored water spares a battery", wattHours(worth.Saved), "Wh", "energy a volume times volume"))
	}
	r.add(s)
	return nil
}

// inverter is the efficiency between battery and pump.
func (r *reckoner) inverter() float64 { return float64(r.system.Inverter.or(1)) }

// charge is the water that a charge of the battery brings up; 0 where there is
// none to tell.
func (r *reckoner) charge(s *Section) (unit.Volume, error) {
	in := r.system
	if !in.Battery.Given() {
		return 0, nil
	}
	if r.perVol <= 0 {
		s.Notes = append(s.Notes, "Water for a charge of the battery is not known, as there is no fill to reckon it from.")
		return 0, nil
	}
	if !in.Inverter.Given() {
		r.assume("inverter_efficiency: none lost, the battery's energy is what reaches the pump")
	}
	v, err := tank.PumpedBy(in.Battery.Low*unit.Energy(r.inverter()), r.perVol)
	if err != nil {
		return 0, in.at("battery", err)
	}
	s.Figures = append(s.Figures, volume("battery.water", "Water for a charge of the battery, "+figureOf(in.Battery.Text), v, "energy over energy a litre"))
	s.Notes = append(s.Notes, "What an inverter idles away, and whether it starts the pump at all, is not in it: the programs planner and start answer that.")
	return v, nil
}
