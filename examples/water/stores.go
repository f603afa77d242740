package main

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/tank"
)

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
	stores, keys := []unit.Volume{left.Mid()}, []string{"tank"}
	if r.system.Stored.Given() {
		stores, keys = append(stores, r.system.Stored.Low), append(keys, "stored_water")
		t.Columns = append(t.Columns, Column{"stored_low_d", "stored d", 1}, Column{"stored_high_d", "to", 1})
	}
	charge, err := r.charge(&s)
	if err != nil {
		return err
	}
	if charge > 0 {
		stores, keys = append(stores, charge), append(keys, "battery")
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
					return r.system.at(keys[i], err)
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
