package main

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/tank"
)

// pointColumns are those of operating points.
var pointColumns = []Column{
	{"pressure_kpa", "kPa", 0},
	{"pressure_psi", "psi", 1},
	{"flow_lpm", "L/min", 1},
	{"flow_gpm", "gal/min", 2},
	{"head_m", "head m", 1},
	{"head_ft", "ft", 1},
	{"water_w", "water W", 0},
	{"input_w", "input W", 0},
	{"efficiency_percent", "%", 1},
}

// showPoints tells where pump and system meet, and what a lower frequency does.
func (r *reckoner) showPoints() error {
	s := Section{Title: "Operating points", Basis: r.energyBasis().String()}
	s.Tables = append(s.Tables, r.points("points", "Where pump and system meet", r.supply))
	if r.slow != nil {
		p := &r.system.Pump
		t := r.points("points_slow", fmt.Sprintf("The same at %g Hz", float64(p.Frequency)), *r.slow)
		t.Source = "affinity laws: head by the square of the speed, power by its cube; speed in proportion to frequency"
		s.Tables = append(s.Tables, t)
		r.showSlower(&s)
	}
	r.add(s)
	return nil
}

func (r *reckoner) points(key, title string, supply tank.Supply) Table {
	t := Table{Key: key, Title: title, Columns: pointColumns, Source: "H(Q) = z + p/(ρ·g) + friction(Q); efficiency from wire to water"}
	for _, e := range r.ends() {
		at, err := supply.At(e.gauge)
		if err != nil {
			t.Rows = append(t.Rows, Row{Name: e.name, Why: reason(err)})
			continue
		}
		t.Rows = append(t.Rows, Row{Name: e.name, Values: []float64{
			kilopascals(e.gauge), psi(e.gauge), lpm(at.Flow), gpm(at.Flow), float64(at.Head), feet(at.Head),
			float64(at.Water), float64(at.Input), 100 * at.Efficiency(),
		}})
	}
	return t
}

// showSlower compares the flow at the other frequency with the affinity law
// alone, and tells whether cut-out is still reached.
func (r *reckoner) showSlower(s *Section) {
	mid := r.ends()[1].gauge
	hz := float64(r.system.Pump.Frequency)
	before, err1 := r.supply.At(mid)
	after, err2 := r.slow.At(mid)
	if err1 == nil && (err2 == nil || isShutOff(err2)) {
		s.Figures = append(s.Figures, flow("pump.flow_slow", fmt.Sprintf("Flow at mid pressure and %g Hz", hz), after.Flow, "affinity laws and the system's curve").
			against("flow in proportion to frequency", lpm(before.Flow)*r.ratio, "lift and pressure do not fall with the speed"))
	}
	c := Check{ID: "pump.frequency", Source: "affinity laws", Says: fmt.Sprintf("at %g Hz the pump reaches cut-out", hz)}
	f, err := r.slow.Fill(0, tank.Isothermal)
	switch {
	case err == nil:
		c.Holds = true
		c.Says += fmt.Sprintf(", in %s min", short(minutes(f.Time)))
	case errors.Is(err, tank.ErrPrechargeAboveCutIn):
		return
	default:
		c.Says = fmt.Sprintf("at %g Hz: %s", hz, reason(err))
	}
	r.check(c)
}

func isShutOff(err error) bool {
	var none *tank.ShutOffError
	return errors.As(err, &none)
}

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
	held, err := r.held()
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

// held is the pressure that the pump makes at the tank with the taps shut.
func (r *reckoner) held() (unit.Pressure, error) {
	per, err := tank.HeadOfPressure(tank.PSI, r.supply.Main.Water.Density)
	if err != nil {
		return 0, err
	}
	return tank.PSI * unit.Pressure(float64((r.supply.Pump.ShutOff()-r.supply.Main.Lift)/per)), nil
}

func energyPerVolume(key string, e tank.EnergyPerVolume) Figure {
	return both(key+".energy_wh_per_l", "Energy a litre", float64(e/tank.WattHourPerLitre), "Wh/L",
		float64(e/tank.WattHourPerUSGallon), "Wh/gal", "energy drawn over water pumped")
}

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
