package main

import (
	"errors"
	"fmt"
	"math"

	"ridethrough.example/tank"
)

// defaultDemands are looked at where the file names none: shares of the flow at
// cut-out.
var defaultDemands = []float64{0.1, 0.25, 0.5, 0.75, 0.95}

// showCycles tells how the pump starts and stops while water is drawn.
func (r *reckoner) showCycles() error {
	if r.fill == nil {
		return nil
	}
	s := Section{Title: "Starts and stops at a steady draw", Basis: r.energyBasis().String()}
	t := Table{
		Key: "cycles", Title: "By demand", Source: "water balance of the tank, pump's flow by its curve",
		Columns: []Column{
			{"demand_lpm", "L/min", 1},
			{"demand_gpm", "gal/min", 2},
			{"run_min", "run min", 2},
			{"rest_min", "rest min", 2},
			{"starts_per_hour", "starts/h", 2},
			{"energy_wh", "Wh a run", 1},
			{"energy_wh_per_l", "Wh/L", 3},
		},
	}
	for _, d := range r.system.Demands {
		row, err := r.cycle(figureOf(d.Text), d.Low)
		if err != nil {
			return r.system.at("demands", err)
		}
		t.Rows = append(t.Rows, row)
	}
	if len(r.system.Demands) == 0 {
		for _, share := range defaultDemands {
			row, err := r.cycle(fmt.Sprintf("%g %% of the flow at cut-out", 100*share), tank.FlowRate(share)*r.fill.CutOut.Flow)
			if err != nil {
				return err
			}
			t.Rows = append(t.Rows, row)
		}
	}
	worst, err := r.supply.WorstDemand()
	if err != nil {
		return err
	}
	row, err := r.cycle("worst demand", worst.Demand)
	if err != nil {
		return err
	}
	t.Rows = append(t.Rows, row)
	s.Tables = append(s.Tables, t)
	f := plain("cycles.worst_starts_per_hour", "Starts an hour at the worst demand", float64(worst.Starts/tank.PerHour), "an hour", "golden section over the demand")
	if at, err := r.supply.At(r.ends()[1].gauge); err == nil {
		if c, err := (tank.System{Drawdown: r.drawdown, Pump: at.Flow}).WorstDemand(); err == nil {
			f = f.against("Q/(4·Vd), Q that at mid pressure", float64(c.Starts/tank.PerHour), "the flow is not constant")
		}
	}
	s.Figures = append(s.Figures, f, plain("cycles.shortest_run_min", "Shortest run, nothing drawn meanwhile", minutes(r.fill.Time), "min", "the fill above"))
	says := fmt.Sprintf("at the worst demand the pump runs %s s and rests %s s", short(float64(worst.On)), short(float64(worst.Off)))
	if worst.Short() {
		says += ": it short-cycles, as 30 s and less between two clicks of the switch are called"
	}
	r.check(Check{ID: "pump.short_cycle", Holds: !worst.Short(), Says: says, Source: "common practice"})
	if err := r.checkCustom(worst); err != nil {
		return err
	}
	if err := r.showWaterlogged(&s); err != nil {
		return err
	}
	r.add(s)
	return nil
}

// cycle is the row of one demand.
func (r *reckoner) cycle(name string, q tank.FlowRate) (Row, error) {
	c, err := r.supply.Cycle(q)
	if err != nil {
		if errors.Is(err, tank.ErrNeverStops) || errors.Is(err, tank.ErrNeverStarts) {
			return Row{Name: name, Why: reason(err)}, nil
		}
		return Row{}, err
	}
	f, err := r.supply.Fill(q, tank.Isothermal)
	if err != nil {
		return Row{}, err
	}
	energy, perL := math.NaN(), math.NaN()
	if f.Energy > 0 {
		energy, perL = wattHours(f.Energy), wattHours(f.Energy)/litres(f.Pumped)
	}
	return Row{Name: name, Values: []float64{
		lpm(q), gpm(q), minutes(c.On), minutes(c.Off), float64(c.Starts / tank.PerHour), energy, perL,
	}}, nil
}

// practice is the custom for the motor's size, if that is known.
func (r *reckoner) practice() (*tank.Practice, error) {
	p := &r.system.Pump
	if !p.Motor.Given() {
		return nil, nil
	}
	c, err := tank.PracticeFor(p.Motor.Low, max(1, p.Phases))
	if err != nil {
		return nil, r.system.at("pump.motor", err)
	}
	return &c, nil
}

// checkCustom compares run and starts with what is asked of the motor's size.
func (r *reckoner) checkCustom(worst tank.Cycle) error {
	custom, err := r.practice()
	if custom == nil || err != nil {
		return err
	}
	const source = "common practice: makers' tables of submersible motors, a residential pressure tank standard"
	r.check(Check{
		ID: "pump.run", Advice: true, Holds: r.fill.Time >= custom.Run, Source: source,
		Says: fmt.Sprintf("shortest run %s min, custom asks for %s min or more", short(minutes(r.fill.Time)), short(minutes(custom.Run))),
	})
	r.check(Check{
		ID: "pump.starts_hour", Advice: true, Holds: worst.Starts <= custom.HourlyStarts, Source: source,
		Says: fmt.Sprintf("%s starts an hour at the worst demand, custom allows %s", short(float64(worst.Starts/tank.PerHour)), short(float64(custom.HourlyStarts/tank.PerHour))),
	})
	return nil
}

// showWaterlogged tells how the pump would cycle with the air that is left.
func (r *reckoner) showWaterlogged(s *Section) error {
	air := r.system.Tank.AirLeft
	if !air.Given() {
		return nil
	}
	lost := r.supply
	lost.Tank = tank.Waterlogged{Air: air.Low, CutIn: r.vessel.CutIn, CutOut: r.vessel.CutOut, Atmosphere: r.vessel.Atmosphere}
	f, err1 := lost.Fill(0, tank.Isothermal)
	worst, err2 := lost.WorstDemand()
	if err := first(err1, err2); err != nil {
		return r.system.at("tank.air_left", err)
	}
	s.Figures = append(s.Figures,
		volume("waterlogged.drawdown", fmt.Sprintf("Drawdown, had the tank only %s of air left", figureOf(air.Text)), f.Stored, boyle),
		plain("waterlogged.run_s", "The pump would then run for", float64(f.Time), "s", "the fill of a waterlogged tank"),
		plain("waterlogged.starts_per_hour", "and start at worst", float64(worst.Starts/tank.PerHour), "an hour", "the fill of a waterlogged tank"))
	return nil
}
