package main

import (
	"fmt"
	"os"
	"path/filepath"

	"gonum.org/v1/gonum/unit"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"ridethrough.example/examples/internal/chart"
	"ridethrough.example/tank"
)

// plot writes the plots into a folder, which it makes if need be. A day that
// cannot be followed has no plot.
func (r *reckoner) plot(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	curves, err := r.plotCurves()
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, "pump-curve.svg"), curves, 0o644); err != nil {
		return err
	}
	if r.day == nil {
		return nil
	}
	day, err := r.plotDay()
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "pressure-day.svg"), day, 0o644)
}

const curveSteps = 200

// plotCurves draws the pump's head and what the system asks for.
func (r *reckoner) plotCurves() ([]byte, error) {
	p := chart.Panel("Pump and system", "flow, L/min", "head, m")
	d := chart.Drawing{Panel: p, Legend: chart.NewLegend()}
	pump, err := headCurve(r.supply.Pump)
	if err != nil {
		return nil, err
	}
	most := r.supply.Pump.RunOut()
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, lpm(most), 0, 1.1*float64(r.supply.Pump.ShutOff())
	d.Line(pump, "pump", chart.Bold(chart.Black))
	if r.slow != nil {
		slow, err := headCurve(r.slow.Pump)
		if err != nil {
			return nil, err
		}
		d.Line(slow, fmt.Sprintf("pump at %g Hz", float64(r.system.Pump.Frequency)), chart.Dashed(chart.Black))
		p.Y.Max = max(p.Y.Max, 1.1*float64(r.slow.Pump.ShutOff()))
		p.X.Max = max(p.X.Max, lpm(r.slow.Pump.RunOut()))
	}
	ends := r.ends()
	for i, e := range []end{ends[0], ends[2]} {
		line, err := r.systemCurve(e.gauge, most, p.Y.Max)
		if err != nil {
			return nil, err
		}
		style := chart.Thin(chart.Blue)
		if i == 1 {
			style = chart.Thin(chart.Red)
		}
		d.Line(line, fmt.Sprintf("system at %s, %s kPa (%s psi)", e.name, short(kilopascals(e.gauge)), short(psi(e.gauge))), style)
	}
	for _, e := range ends {
		if at, err := r.supply.At(e.gauge); err == nil {
			d.Point(lpm(at.Flow), float64(at.Head), fmt.Sprintf("%s: %s L/min (%s gal/min) at %s m (%s ft)", e.name, short(lpm(at.Flow)), short(gpm(at.Flow)), short(float64(at.Head)), short(feet(at.Head))))
		}
		if r.slow == nil {
			continue
		}
		if at, err := r.slow.At(e.gauge); err == nil {
			d.Point(lpm(at.Flow), float64(at.Head), "")
		}
	}
	if d.Err != nil {
		return nil, d.Err
	}
	return chart.SVG([]*plot.Plot{p}, d.Legend, d.Entries, 150*vg.Millimeter)
}

func headCurve(c tank.Curve) (plotter.XYs, error) {
	var line plotter.XYs
	for i := range curveSteps + 1 {
		q := c.RunOut() * tank.FlowRate(i) / curveSteps
		h, err := c.Head(min(q, c.RunOut()))
		if err != nil {
			return nil, err
		}
		line = append(line, plotter.XY{X: lpm(q), Y: float64(h)})
	}
	return line, nil
}

// systemCurve is what the system asks for, as far as the plot goes.
func (r *reckoner) systemCurve(gauge unit.Pressure, most tank.FlowRate, top float64) (plotter.XYs, error) {
	var line plotter.XYs
	for i := range curveSteps + 1 {
		q := most * tank.FlowRate(i) / curveSteps
		h, err := r.supply.Main.Head(q, gauge)
		if err != nil {
			return nil, err
		}
		if float64(h) > top {
			break
		}
		line = append(line, plotter.XY{X: lpm(q), Y: float64(h)})
	}
	return line, nil
}

// plotDay draws the pressure, and when the pump runs, over a day after one that
// emptied and filled the tank.
func (r *reckoner) plotDay() ([]byte, error) {
	full, err := r.supply.Full()
	if err != nil {
		return nil, err
	}
	before, err := r.supply.Follow(full, r.draws)
	if err != nil {
		return nil, err
	}
	// Between two moments the pressure follows no straight line.
	const pieces = 60
	var draws []tank.Draw
	for _, d := range r.draws {
		for range pieces {
			draws = append(draws, tank.Draw{For: d.For / pieces, Demand: d.Demand})
		}
	}
	moments, _, err := r.supply.Trace(before.End, draws)
	if err != nil {
		return nil, err
	}
	var gauge, running plotter.XYs
	for _, m := range moments {
		h, on := float64(m.At/tank.Hour), 0.0
		if m.Running {
			on = 1
		}
		gauge = append(gauge, plotter.XY{X: h, Y: kilopascals(m.Pressure)})
		if n := len(running); n > 0 && running[n-1].Y != on {
			running = append(running, plotter.XY{X: h, Y: running[n-1].Y})
		}
		running = append(running, plotter.XY{X: h, Y: on})
	}
	var demand plotter.XYs
	for i, d := range r.draws {
		demand = append(demand, plotter.XY{X: float64(i), Y: lpm(d.Demand)}, plotter.XY{X: float64(i + 1), Y: lpm(d.Demand)})
	}
	panels := []*plot.Plot{chart.Panel("A day", "", "tank, kPa"), chart.Panel("", "", "pump on"), chart.Panel("", "hour of the day", "draw, L/min")}
	in, out := kilopascals(r.vessel.CutIn), kilopascals(r.vessel.CutOut)
	low := in
	for _, g := range gauge {
		low = min(low, g.Y)
	}
	panels[0].Y.Min, panels[0].Y.Max = max(0, low-0.25*(out-in)), out+0.15*(out-in)
	panels[1].Y.Min, panels[1].Y.Max = 0, 1.2
	panels[1].Y.Tick.Marker = plot.ConstantTicks{{Value: 0, Label: "off"}, {Value: 1, Label: "on"}}
	panels[2].Y.Min = 0
	legend, entries := chart.NewLegend(), 0
	for i, line := range []plotter.XYs{gauge, running, demand} {
		p := panels[i]
		p.X.Min, p.X.Max = 0, 24
		p.X.Tick.Marker = hours{labelled: i == len(panels)-1}
		d := chart.Drawing{Panel: p, Legend: legend}
		if i == 0 {
			d.Line(plotter.XYs{{X: 0, Y: in}, {X: 24, Y: in}}, fmt.Sprintf("cut-in, %s psi", short(psi(r.vessel.CutIn))), chart.Thin(chart.Blue))
			d.Line(plotter.XYs{{X: 0, Y: out}, {X: 24, Y: out}}, fmt.Sprintf("cut-out, %s psi", short(psi(r.vessel.CutOut))), chart.Thin(chart.Red))
		}
		d.Line(line, "", chart.Medium(chart.Black))
		if d.Err != nil {
			return nil, d.Err
		}
		legend, entries = d.Legend, entries+d.Entries
	}
	return chart.SVG(panels, legend, entries, 190*vg.Millimeter)
}

// hours marks every third hour.
type hours struct{ labelled bool }

// Ticks implements plot.Ticker.
func (h hours) Ticks(_, _ float64) []plot.Tick {
	var all []plot.Tick
	for i := 0; i <= 24; i += 3 {
		t := plot.Tick{Value: float64(i)}
		if h.labelled {
			t.Label = fmt.Sprint(i)
		}
		all = append(all, t)
	}
	return all
}
