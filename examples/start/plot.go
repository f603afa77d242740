package main

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"ridethrough.example/examples/internal/chart"
	"ridethrough.example/motor"
)

// plot writes the plots into a folder, which it makes if need be.
func (a *Answer) plot(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	torque, err := a.torqueSpeed()
	volts, err2 := a.voltageTime()
	if err := errors.Join(err, err2); err != nil {
		return err
	}
	files := []struct {
		name string
		svg  []byte
	}{{"torque-speed.svg", torque}, {"voltage-time.svg", volts}}
	if a.Dynamic != nil {
		amps, err := a.Dynamic.currentTime(a.Input)
		if err != nil {
			return err
		}
		files = append(files, struct {
			name string
			svg  []byte
		}{"current-time.svg", amps})
	}
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(dir, f.name), f.svg, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// torqueSpeed draws what the motor gives and what the load takes.
func (a *Answer) torqueSpeed() ([]byte, error) {
	k := &a.curves
	p := chart.Panel("Torque and speed"+a.caseName(), "speed, rpm", "torque, N·m")
	var path plotter.XYs
	for i := range k.result.Samples {
		s := &k.result.Samples[i]
		path = append(path, plotter.XY{X: float64(s.Speed / motor.RPM), Y: float64(s.Torque)})
		k.greatest = max(k.greatest, float64(s.Torque))
	}
	d := chart.Drawing{Panel: p, Legend: chart.NewLegend()}
	open := fmt.Sprintf("%s V at the motor", figure(a.Input.SourceVolts))
	d.Line(k.stiffStart, "start winding on, "+open, chart.Thin(chart.Grey))
	d.Line(k.stiffRun, "running, "+open, chart.Dashed(chart.Grey))
	if a.sags() {
		d.Line(k.sagStart, "start winding on, what source and wires leave", chart.Thin(chart.Blue))
		d.Line(k.sagRun, "running, what source and wires leave", chart.Dashed(chart.Blue))
	}
	d.Line(k.load, "load", chart.Thin(chart.Red))
	d.Line(path, "this start", chart.Bold(chart.Black))
	// Above synchronous speed, and on the start winding near it, the motor brakes:
	// that is no part of a start.
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, a.Motor.SynchronousRPM, 0, 1.12*k.greatest
	if a.Motor.SwitchRPM != 0 {
		d.Upright(a.Motor.SwitchRPM, fmt.Sprintf("start switch opens, %.0f rpm", a.Motor.SwitchRPM))
	}
	end, name := a.shown().result.Last, "runs at"
	if !comesUp(&k.result) {
		end, name = k.result.Last, "ends at"
	}
	rpm := float64(end.Speed / motor.RPM)
	d.Point(rpm, float64(end.Torque), fmt.Sprintf("%s %.0f rpm, %s N·m", name, rpm, figure(float64(end.Torque))))
	if d.Err != nil {
		return nil, d.Err
	}
	return chart.SVG([]*plot.Plot{p}, d.Legend, d.Entries, 150*vg.Millimeter)
}

// sags reports whether a line leaves the motor another voltage than its own.
func (a *Answer) sags() bool {
	in := a.Input
	return in.Source != "generator" && (in.SourceROhm != 0 || in.SourceXOhm != 0 || in.LimitA != 0 || a.Motor.FeederROhm != 0 || a.Motor.FeederXOhm != 0)
}

func (a *Answer) caseName() string {
	if len(a.Cases) < 2 {
		return ""
	}
	return ", " + a.Shown + " case"
}

// voltageTime draws voltage, current and speed one above the other.
func (a *Answer) voltageTime() ([]byte, error) {
	r := &a.curves.result
	volts := chart.Panel("Voltage, current and speed"+a.caseName(), "", "motor, V rms")
	amps := chart.Panel("", "", "line, A rms")
	speed := chart.Panel("", "time, s", "speed, rpm")
	var v, i, n plotter.XYs
	for k := range r.Samples {
		s := &r.Samples[k]
		t := float64(s.Time)
		v = append(v, plotter.XY{X: t, Y: float64(s.Voltage)})
		i = append(i, plotter.XY{X: t, Y: float64(s.Current)})
		n = append(n, plotter.XY{X: t, Y: float64(s.Speed / motor.RPM)})
	}
	end := float64(r.End)
	volts.Y.Max = 1.15 * a.Input.SourceVolts
	amps.Y.Max = 1.15 * float64(r.GreatestCurrent)
	speed.Y.Max = 1.05 * a.Motor.SynchronousRPM
	legend, entries := chart.NewLegend(), 0
	for k, at := range []struct {
		p    *plot.Plot
		line plotter.XYs
	}{{volts, v}, {amps, i}, {speed, n}} {
		at.p.X.Min, at.p.X.Max, at.p.Y.Min = 0, max(end, 1e-3), 0
		if k < 2 {
			at.p.X.Tick.Marker = chart.Unlabelled{}
		}
		d := chart.Drawing{Panel: at.p, Legend: legend}
		switch k {
		case 0:
			d.Line(plotter.XYs{{X: 0, Y: a.Input.SourceVolts}, {X: end, Y: a.Input.SourceVolts}}, "source without load", chart.Thin(chart.Grey))
		case 2:
			d.Line(plotter.XYs{{X: 0, Y: a.Motor.FullSpeedRPM}, {X: end, Y: a.Motor.FullSpeedRPM}}, fmt.Sprintf("full speed, %.0f rpm", a.Motor.FullSpeedRPM), chart.Thin(chart.Red))
		}
		d.Line(at.line, "", chart.Bold(chart.Black))
		if t := float64(r.SwitchOpen); t != 0 {
			name := ""
			if k == 2 {
				name = fmt.Sprintf("start switch opens after %.2f s", t)
			}
			d.Upright(t, name)
		}
		if d.Err != nil {
			return nil, d.Err
		}
		legend, entries = d.Legend, entries+d.Entries
	}
	return chart.SVG([]*plot.Plot{volts, amps, speed}, legend, entries, 190*vg.Millimeter)
}

// currentTime draws the instantaneous current: of the first cycles, and of those
// around the opening of the start switch or, without one, of the last.
func (d *Dynamic) currentTime(in Input) ([]byte, error) {
	n := min(waveCycles*perCycle, len(d.wave))
	first := d.wave[:n]
	middle := len(d.wave) - n/2
	title := "at the end"
	if d.SwitchOpensS != 0 {
		middle = int(d.SwitchOpensS * perCycle * in.Hertz)
		title = "as the start switch opens"
	}
	from := max(0, min(middle-n/2, len(d.wave)-n))
	second := d.wave[from : from+n]
	legend := chart.NewLegend()
	var panels []*plot.Plot
	entries := 0
	for k, part := range [][]motor.RunUpSample{first, second} {
		p := chart.Panel([]string{fmt.Sprintf("Line current, switched on at %g° from the crest", in.AngleDeg), "Line current " + title}[k], "time, s", "A")
		var line plotter.XYs
		for i := range part {
			line = append(line, plotter.XY{X: float64(part[i].Time), Y: float64(part[i].Current)})
		}
		if len(line) > 0 {
			p.X.Min, p.X.Max = line[0].X, line[len(line)-1].X
		}
		p.Y.Min, p.Y.Max = -1.15*d.PeakA, 1.15*d.PeakA
		g := chart.Drawing{Panel: p, Legend: legend}
		g.Line(line, "", chart.Medium(chart.Black))
		if k == 0 {
			g.Line(plotter.XYs{{X: p.X.Min, Y: 0}, {X: p.X.Max, Y: 0}}, "", chart.Thin(chart.Grey))
			if d.PeakS <= p.X.Max {
				crest(&g, line, d.PeakS, d.PeakA)
			}
		} else if d.SwitchOpensS != 0 {
			g.Upright(d.SwitchOpensS, fmt.Sprintf("start switch opens after %.3f s, capacitor keeps %.0f V", d.SwitchOpensS, d.CapacitorLeft))
		}
		if g.Err != nil {
			return nil, g.Err
		}
		legend, entries = g.Legend, entries+g.Entries
		panels = append(panels, p)
	}
	return chart.SVG(panels, legend, entries, 150*vg.Millimeter)
}

// crest rings the peak of a wave, whose sign its points tell.
func crest(d *chart.Drawing, wave plotter.XYs, at, peak float64) {
	y, near := peak, math.Inf(1)
	for _, p := range wave {
		if distance := math.Abs(p.X - at); distance < near {
			near, y = distance, math.Copysign(peak, p.Y)
		}
	}
	d.Point(at, y, fmt.Sprintf("peak, %.1f A after %.4f s", peak, at))
}
