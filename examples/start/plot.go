package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

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

// svg draws panels below each other, each with the same x axis, and a legend at
// the foot.
func svg(panels []*plot.Plot, legend plot.Legend, entries int, height vg.Length) ([]byte, error) {
	c := vgsvg.New(170*vg.Millimeter, height)
	page := draw.New(c)
	page.SetColor(white)
	page.Fill(page.Path())
	foot := vg.Length(entries)*11 + 8
	page = draw.Crop(page, 8, -14, 8, -10)
	body := draw.Crop(page, 0, 0, foot, 0)
	rows := make([][]*plot.Plot, len(panels))
	for i, p := range panels {
		rows[i] = []*plot.Plot{p}
	}
	tiles := draw.Tiles{Rows: len(panels), Cols: 1, PadY: 10}
	for i, row := range plot.Align(rows, tiles, body) {
		panels[i].Draw(row[0])
	}
	strip := draw.Crop(page, 40, 0, 0, foot-(page.Max.Y-page.Min.Y))
	legend.Draw(strip)
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return nil, err
	}
	// Any sans-serif will do where the face is not installed.
	return bytes.ReplaceAll(b.Bytes(), []byte("font-family:Liberation Sans;"), []byte("font-family:Liberation Sans,Arial,Helvetica,sans-serif;")), nil
}

// torqueSpeed draws what the motor gives and what the load takes.
func (a *Answer) torqueSpeed() ([]byte, error) {
	k := &a.curves
	p := panel("Torque and speed"+a.caseName(), "speed, rpm", "torque, N·m")
	var path plotter.XYs
	for i := range k.result.Samples {
		s := &k.result.Samples[i]
		path = append(path, plotter.XY{X: float64(s.Speed / motor.RPM), Y: float64(s.Torque)})
		k.greatest = max(k.greatest, float64(s.Torque))
	}
	d := drawing{panel: p, legend: newLegend()}
	open := fmt.Sprintf("%s V at the motor", figure(a.Input.SourceVolts))
	d.line(k.stiffStart, "start winding on, "+open, thin(grey))
	d.line(k.stiffRun, "running, "+open, dashed(grey))
	if a.sags() {
		d.line(k.sagStart, "start winding on, what source and wires leave", thin(blue))
		d.line(k.sagRun, "running, what source and wires leave", dashed(blue))
	}
	d.line(k.load, "load", thin(red))
	d.line(path, "this start", bold(black))
	// Above synchronous speed, and on the start winding near it, the motor brakes:
	// that is no part of a start.
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, a.Motor.SynchronousRPM, 0, 1.12*k.greatest
	if a.Motor.SwitchRPM != 0 {
		d.upright(a.Motor.SwitchRPM, fmt.Sprintf("start switch opens, %.0f rpm", a.Motor.SwitchRPM))
	}
	end, name := a.shown().result.Last, "runs at"
	if !comesUp(&k.result) {
		end, name = k.result.Last, "ends at"
	}
	rpm := float64(end.Speed / motor.RPM)
	d.point(rpm, float64(end.Torque), fmt.Sprintf("%s %.0f rpm, %s N·m", name, rpm, figure(float64(end.Torque))))
	if d.err != nil {
		return nil, d.err
	}
	return svg([]*plot.Plot{p}, d.legend, d.entries, 150*vg.Millimeter)
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
	volts := panel("Voltage, current and speed"+a.caseName(), "", "motor, V rms")
	amps := panel("", "", "line, A rms")
	speed := panel("", "time, s", "speed, rpm")
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
	legend, entries := newLegend(), 0
	for k, at := range []struct {
		p    *plot.Plot
		line plotter.XYs
	}{{volts, v}, {amps, i}, {speed, n}} {
		at.p.X.Min, at.p.X.Max, at.p.Y.Min = 0, max(end, 1e-3), 0
		if k < 2 {
			at.p.X.Tick.Marker = unlabelled{}
		}
		d := drawing{panel: at.p, legend: legend}
		switch k {
		case 0:
			d.line(plotter.XYs{{X: 0, Y: a.Input.SourceVolts}, {X: end, Y: a.Input.SourceVolts}}, "source without load", thin(grey))
		case 2:
			d.line(plotter.XYs{{X: 0, Y: a.Motor.FullSpeedRPM}, {X: end, Y: a.Motor.FullSpeedRPM}}, fmt.Sprintf("full speed, %.0f rpm", a.Motor.FullSpeedRPM), thin(red))
		}
		d.line(at.line, "", bold(black))
		if t := float64(r.SwitchOpen); t != 0 {
			name := ""
			if k == 2 {
				name = fmt.Sprintf("start switch opens after %.2f s", t)
			}
			d.upright(t, name)
		}
		if d.err != nil {
			return nil, d.err
		}
		legend, entries = d.legend, entries+d.entries
	}
	return svg([]*plot.Plot{volts, amps, speed}, legend, entries, 190*vg.Millimeter)
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
	legend := newLegend()
	var panels []*plot.Plot
	entries := 0
	for k, part := range [][]motor.RunUpSample{first, second} {
		p := panel([]string{fmt.Sprintf("Line current, switched on at %g° from the crest", in.AngleDeg), "Line current " + title}[k], "time, s", "A")
		var line plotter.XYs
		for i := range part {
			line = append(line, plotter.XY{X: float64(part[i].Time), Y: float64(part[i].Current)})
		}
		if len(line) > 0 {
			p.X.Min, p.X.Max = line[0].X, line[len(line)-1].X
		}
		p.Y.Min, p.Y.Max = -1.15*d.PeakA, 1.15*d.PeakA
		g := drawing{panel: p, legend: legend}
		g.line(line, "", medium(black))
		if k == 0 {
			g.line(plotter.XYs{{X: p.X.Min, Y: 0}, {X: p.X.Max, Y: 0}}, "", thin(grey))
			if d.PeakS <= p.X.Max {
				g.crest(line, d.PeakS, d.PeakA)
			}
		} else if d.SwitchOpensS != 0 {
			g.upright(d.SwitchOpensS, fmt.Sprintf("start switch opens after %.3f s, capacitor keeps %.0f V", d.SwitchOpensS, d.CapacitorLeft))
		}
		if g.err != nil {
			return nil, g.err
		}
		legend, entries = g.legend, entries+g.entries
		panels = append(panels, p)
	}
	return svg(panels, legend, entries, 150*vg.Millimeter)
}
