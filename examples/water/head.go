package main

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/tank"
)

// An end is one of the pressures at which the system is looked at.
type end struct {
	name  string
	gauge unit.Pressure
}

// ends are cut-in, the middle and cut-out.
func (r *reckoner) ends() [3]end {
	v := r.vessel
	return [3]end{{"cut-in", v.CutIn}, {"mid pressure", (v.CutIn + v.CutOut) / 2}, {"cut-out", v.CutOut}}
}

// showHead splits the total dynamic head into its parts, and judges the suction
// of a jet pump.
func (r *reckoner) showHead() error {
	s := Section{Title: "Total dynamic head", Basis: r.flowBasis().String()}
	t := Table{
		Key: "head", Title: "Parts of the head", Source: "hydraulics; Darcy and Weisbach, or Hazen and Williams where a C is typed",
		Columns: []Column{
			{"cut_in_m", "cut-in m", 2}, {"cut_in_ft", "ft", 1}, {"cut_out_m", "cut-out m", 2}, {"cut_out_ft", "ft", 1},
		},
	}
	names := []string{"water level at rest", "drawdown of the well", "rise to the tank", "pressure in the tank", "friction of pipes", "fittings", "total"}
	values := make([][]float64, len(names))
	for _, e := range []int{0, 2} {
		at := r.ends()[e]
		op, err := r.supply.At(at.gauge)
		if err != nil {
			s.Notes = append(s.Notes, fmt.Sprintf("At %s the parts are those of no flow: %s.", at.name, reason(err)))
		}
		parts, err := r.partsAt(op.Flow, at.gauge)
		if err != nil {
			return err
		}
		for i, h := range parts {
			values[i] = append(values[i], float64(h), feet(h))
		}
	}
	for i, name := range names {
		t.Rows = append(t.Rows, Row{Name: name, Values: values[i]})
	}
	s.Tables = append(s.Tables, t)
	total, naive := values[len(names)-1][2], float64(r.system.Well.Level.Low)+2.31*float64(tank.Foot)*psi(r.vessel.CutOut)
	s.Figures = append(s.Figures, length("head.cut_out", "Total dynamic head at cut-out", unit.Length(total), "sum of the parts").
		against("level at rest and 2.31 ft a psi", naive, "drawdown, rise and friction are left out"))
	if low, high := values[5][0], r.fittingsAtMost(); high > 0 && !math.IsNaN(low) {
		s.Notes = append(s.Notes, fmt.Sprintf("Fittings are the middle of what tables print; the highest of them give %s m at cut-in in place of %s m.", short(high), short(low)))
	}
	if err := r.showSuction(&s); err != nil {
		return err
	}
	r.add(s)
	return nil
}

// partsAt returns the parts of the head at a flow and a pressure, the total last.
func (r *reckoner) partsAt(q tank.FlowRate, gauge unit.Pressure) ([]unit.Length, error) {
	w, p := &r.system.Well, &r.parts
	well, err1 := p.well.Head(q, 0)
	pipes, err2 := p.pipes.Head(q, 0)
	fittings, err3 := p.fittings.Head(q, 0)
	pressed, err4 := tank.HeadOfPressure(gauge, p.well.Water.Density)
	total, err5 := r.supply.Main.Head(q, gauge)
	return []unit.Length{w.Level.Low, well, w.Rise.Low, pressed, pipes, fittings, total}, first(err1, err2, err3, err4, err5)
}

// fittingsAtMost is the head of the fittings at cut-in by the highest tables (m).
func (r *reckoner) fittingsAtMost() float64 {
	at, err := r.supply.At(r.vessel.CutIn)
	if err != nil {
		return 0
	}
	m := r.parts.fittings
	m.Losses = r.parts.most
	h, err := m.Head(at.Flow, 0)
	if err != nil {
		return 0
	}
	return float64(h)
}

// jetRequired is the suction head that the customary lift of a shallow-well jet
// pump leaves it.
const jetRequired = 8.5 * tank.Foot

func (r *reckoner) showSuction(s *Section) error {
	p := &r.system.Pump
	if p.Kind != "jet" {
		return nil
	}
	required := p.Required.or(unit.Length(jetRequired))
	if !p.Required.Given() {
		r.assume("pump.suction_head_required: 8.5 ft, which is the customary lift of 25 ft at sea level")
	}
	if !p.Above.Given() {
		r.assume("pump.above_well_head: none")
	}
	if len(r.parts.suction.Pipes)+len(r.parts.suction.Losses) == 0 {
		r.assume("pipe.suction: none, no friction before the pump")
	}
	var q tank.FlowRate // the most is drawn at cut-in
	if at, err := r.supply.At(r.vessel.CutIn); err == nil {
		q = at.Flow
	}
	drawdown, err1 := r.parts.well.Head(q, 0)
	friction, err2 := r.parts.suction.Head(q, 0)
	if err := first(err1, err2); err != nil {
		return err
	}
	suction := tank.Suction{
		Atmosphere: r.vessel.Atmosphere, Lift: r.system.Well.Level.Low + drawdown + p.Above.Low, Friction: friction, Water: r.parts.well.Water,
	}
	jet, err := suction.Jet(required)
	if column, e := tank.HeadOfPressure(suction.Atmosphere, suction.Water.Density); err != nil && e == nil && suction.Lift >= column {
		r.check(Check{
			ID: "pump.suction", Source: "weight of the atmosphere",
			Says: fmt.Sprintf("suction: %s m to lift and the atmosphere pushes water up %s m: no pump draws it from above", short(float64(suction.Lift)), short(float64(column))),
		})
		return nil
	}
	if err != nil {
		return r.system.at("pump.suction_head_required", err)
	}
	greatest, err := suction.GreatestLift(required)
	if err != nil {
		return err
	}
	f := length("suction.greatest_lift", "Greatest lift of this pump, with its pipe, here", greatest, "NPSHA = NPSHR")
	if lift, err := tank.PracticalLift(max(0, r.system.Altitude.Low)); err == nil {
		f = f.against("the trade's lift by altitude", float64(lift), "it knows neither pump nor pipe")
	}
	s.Figures = append(s.Figures,
		length("suction.lift", "Lift on the suction side, pumping", suction.Lift, "level and drawdown at cut-in"),
		length("suction.friction", "Friction on the suction side", friction, "pipes and fittings with suction = true"),
		length("suction.available", "Suction head available (NPSHA)", jet.Available, "net positive suction head"),
		f)
	verdict := map[tank.SuctionVerdict]string{
		tank.Draws: "the pump draws", tank.Cavitates: "the pump cavitates: noise, wear, and less flow or none", tank.Parts: "the column of water parts: no pump draws it",
	}[jet.Verdict]
	r.check(Check{
		ID: "pump.suction", Holds: jet.Verdict == tank.Draws, Source: "NPSHA against NPSHR",
		Says: fmt.Sprintf("suction: %s; %s m of head available, %s m required", verdict, short(float64(jet.Available)), short(float64(required))),
	})
	s.Notes = append(s.Notes, "A jet pump that was drained draws nothing until it is primed. Injectors down in the well are not reckoned here.")
	return nil
}
