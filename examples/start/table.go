package main

import (
	"bytes"
	"fmt"
	"strings"

	"ridethrough.example/examples/internal/console"
)

func (a *Answer) text() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s%s: %s\n", strings.ToUpper(a.Verdict[:1]), a.Verdict[1:], a.headline())
	for _, w := range a.Why {
		fmt.Fprintf(&b, "  - %s\n", console.Printable(w, ' '))
	}
	a.about(&b)
	a.table(&b)
	a.summary(&b)
	if a.Dynamic != nil {
		a.Dynamic.text(&b)
	}
	list(&b, "Assumed", a.Assumed)
	list(&b, "Sources", a.Sources)
	list(&b, "Cautions", a.Cautions)
	return b.Bytes()
}

// headline is the answer in one line.
func (a *Answer) headline() string {
	least, most := 0.0, 0.0
	for _, c := range a.Cases {
		if c.LeastS != 0 && (least == 0 || c.LeastS < least) {
			least = c.LeastS
		}
		most = max(most, c.MostS)
	}
	volts, amps := a.Cases[0].LeastV, 0.0
	for _, c := range a.Cases {
		volts, amps = min(volts, c.LeastV), max(amps, c.GreatestA)
	}
	electric := fmt.Sprintf("%s V left at the motor, %s A at most", figure(volts), figure(amps))
	switch {
	case most == 0:
		return electric
	case figure(least) == figure(most):
		return fmt.Sprintf("%s s to %.0f rpm, %s", figure(most), a.Motor.FullSpeedRPM, electric)
	}
	return fmt.Sprintf("%s to %s s to %.0f rpm, %s", figure(least), figure(most), a.Motor.FullSpeedRPM, electric)
}

func (a *Answer) shown() *Case {
	for i := range a.Cases {
		if a.Cases[i].Name == a.Shown {
			return &a.Cases[i]
		}
	}
	return &a.Cases[0]
}

func (a *Answer) about(b *bytes.Buffer) {
	in, m := a.Input, a.Motor
	b.WriteString("\nGiven\n")
	line := func(name, format string, args ...any) {
		fmt.Fprintf(b, "  %-*s %s\n", width, name, fmt.Sprintf(format, args...))
	}
	size := ""
	if in.OutputHP != 0 {
		size = fmt.Sprintf("%g hp, ", in.OutputHP)
	}
	line("motor", "%s, %s%g V, %g Hz, %g poles, %.0f rpm synchronous [%s]", in.Type, size, in.Volts, in.Hertz, in.Poles, m.SynchronousRPM, m.Basis)
	if m.SwitchRPM != 0 {
		line("start switch", "opens at %.0f rpm", m.SwitchRPM)
	}
	if m.InertiaLow == m.InertiaHigh {
		line("inertia", "%s kg·m² [%s]", figure(m.InertiaLow), m.InertiaBasis)
	} else {
		line("inertia", "%s to %s kg·m² [%s]", figure(m.InertiaLow), figure(m.InertiaHigh), m.InertiaBasis)
	}
	switch {
	case m.LoadRPM != 0:
		line("load", "%s, %s N·m at %.0f rpm", in.Drives, figure(m.LoadNM), m.LoadRPM)
	case m.LoadNM != 0:
		line("load", "%s, %s N·m at any speed", in.Drives, figure(m.LoadNM))
	default:
		line("load", "none")
	}
	switch in.Source {
	case "generator":
		line("source", "generator, %g VA, engine %g W, %g V", in.RatingVA, in.EngineW, in.SourceVolts)
	case "limited":
		line("source", "%g V, %s + j%s Ω, at most %s A", in.SourceVolts, figure(in.SourceROhm), figure(in.SourceXOhm), figure(in.LimitA))
	default:
		line("source", "%g V, %s + j%s Ω", in.SourceVolts, figure(in.SourceROhm), figure(in.SourceXOhm))
	}
	if m.FeederROhm != 0 || m.FeederXOhm != 0 {
		size := ""
		if in.FeederSize != "" {
			size = fmt.Sprintf("%s %s, %s m one way, ", in.FeederSize, in.FeederMetal, figure(in.FeederM))
		}
		line("feeder", "%s%s + j%s Ω", size, figure(m.FeederROhm), figure(m.FeederXOhm))
	}
}

const width = 22

func (a *Answer) table(b *bytes.Buffer) {
	title := "Start"
	if len(a.Cases) > 1 {
		title += ", " + a.Shown + " case"
	}
	if a.Motor.InertiaLow != a.Motor.InertiaHigh {
		title += ", inertia " + figure(float64(a.shown().inertia)) + " kg·m²"
	}
	fmt.Fprintf(b, "\n%s\n  %7s %6s %6s %7s %7s %7s %7s %7s %7s  %s\n", title,
		"s", "rpm", "%", "motor V", "A", "VA", "W", "N·m", "load", "switch")
	for _, s := range a.Samples {
		state := "open"
		switch {
		case a.Motor.SwitchRPM == 0:
			state = "none"
		case s.SwitchClosed:
			state = "closed"
		}
		fmt.Fprintf(b, "  %7s %6.0f %6.1f %7.1f %7.2f %7.0f %7.0f %7.2f %7.2f  %s\n",
			fmt.Sprintf("%.3g", s.TimeS), s.RPM, s.Percent, s.MotorV, s.CurrentA, s.ApparentVA, s.RealW, s.TorqueNM, s.LoadNM, state)
	}
}

// summary lays the cases side by side.
func (a *Answer) summary(b *bytes.Buffer) {
	b.WriteString("\nSummary, to full speed\n")
	row := func(name string, of func(c *Case) string) {
		fmt.Fprintf(b, "  %-32s", name)
		for i := range a.Cases {
			fmt.Fprintf(b, " %16s", of(&a.Cases[i]))
		}
		b.WriteByte('\n')
	}
	orNone := func(x float64, format string) string {
		if x == 0 {
			return "-"
		}
		return fmt.Sprintf(format, x)
	}
	if len(a.Cases) > 1 {
		row("case", func(c *Case) string { return c.Name })
	}
	row("verdict", func(c *Case) string { return c.Verdict })
	if a.Input.OutputHP != 0 {
		row("rated output at rated V, A", func(c *Case) string { return fmt.Sprintf("%.2f", c.FullLoadA) })
	}
	row("locked rotor at rated V, A", func(c *Case) string { return fmt.Sprintf("%.1f", c.LockedRotorA) })
	row("its power factor", func(c *Case) string { return fmt.Sprintf("%.2f", c.LockedRotorPF) })
	row("starting torque at rated V, N·m", func(c *Case) string { return fmt.Sprintf("%.2f", c.StartingNM) })
	row("breakdown torque at rated V, N·m", func(c *Case) string { return fmt.Sprintf("%.2f", c.BreakdownNM) })
	row("motor at rest, V", func(c *Case) string { return fmt.Sprintf("%.1f", c.RestMotorV) })
	row("current at rest, A", func(c *Case) string { return fmt.Sprintf("%.1f", c.RestCurrentA) })
	if a.Motor.SwitchRPM != 0 {
		row("start switch opens, s", func(c *Case) string { return orNone(c.SwitchOpensS, "%.2f") })
	}
	row("full speed, s", func(c *Case) string { return orNone(c.FullSpeedS, "%.2f") })
	if a.Motor.InertiaLow != a.Motor.InertiaHigh {
		row("  by inertia, s", func(c *Case) string {
			if c.LeastS == 0 {
				return "-"
			}
			return fmt.Sprintf("%.2f to %.2f", c.LeastS, c.MostS)
		})
	}
	row("speed at the end, rpm", func(c *Case) string { return fmt.Sprintf("%.0f", c.EndRPM) })
	row("least voltage at the motor, V", func(c *Case) string { return fmt.Sprintf("%.1f", c.LeastV) })
	row("greatest current, A", func(c *Case) string { return fmt.Sprintf("%.1f", c.GreatestA) })
	row("greatest VA", func(c *Case) string { return fmt.Sprintf("%.0f", c.GreatestVA) })
	row("greatest W", func(c *Case) string { return fmt.Sprintf("%.0f", c.GreatestW) })
	row("energy, Wh", func(c *Case) string { return orNone(c.EnergyWh, "%.3f") })
	row("I²t, A²s", func(c *Case) string { return orNone(c.SquareTimeA2S, "%.0f") })

	s := a.Shortcuts
	b.WriteString("\nBeside the shortcuts of the trade\n")
	if s.TripledW != 0 {
		fmt.Fprintf(b, "  three times running      %7.0f W    computed %7.0f W   (running %.0f W)\n", s.TripledW, s.ComputedW, s.RunningW)
	}
	if s.TripledVA != 0 {
		fmt.Fprintf(b, "  three times full-load VA %7.0f VA   computed %7.0f VA\n", s.TripledVA, s.ComputedVA)
	}
	fmt.Fprintf(b, "  locked rotor A times V   %7.0f VA   computed %7.0f VA\n", s.LockedRotorVA, s.ComputedVA)
}

func (d *Dynamic) text(b *bytes.Buffer) {
	fmt.Fprintf(b, "\nInstant by instant, switched on at %g° from the crest\n", d.AngleDeg)
	full := "never reached"
	if d.FullSpeedS != 0 {
		full = fmt.Sprintf("after %.3f s", d.FullSpeedS)
	}
	fmt.Fprintf(b, "  outcome          %s, full speed %s\n", d.Outcome, full)
	if d.SwitchOpensS != 0 {
		fmt.Fprintf(b, "  switch opens     after %.3f s, at a zero of its current; the capacitor keeps %.0f V\n", d.SwitchOpensS, d.CapacitorLeft)
	}
	fmt.Fprintf(b, "  peak             %.1f A at %.4f s; first cycle %.1f A rms\n", d.PeakA, d.PeakS, d.FirstCycleA)
	b.WriteString("  peak by angle   ")
	for _, p := range d.Angles {
		fmt.Fprintf(b, " %3.0f°: %.1f A ", p.AngleDeg, p.PeakA)
	}
	fmt.Fprintf(b, "\n  worst            %.1f A at %.0f°, within %d cycles\n", d.WorstA, d.WorstDeg, peakCycles)
}

func list(b *bytes.Buffer, title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	b.WriteString("\n" + title + "\n")
	for _, x := range lines {
		b.WriteString("  - " + console.Printable(x, ' ') + "\n")
	}
}
