package main

import (
	"errors"
	"fmt"

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
