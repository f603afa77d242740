package main

import "strconv"

// figure writes three digits without an exponent.
func figure(x float64) string {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	if err != nil {
		return "?"
	}
	return strconv.FormatFloat(y, 'f', -1, 64)
}

// sources says where the figures come from, besides those of the motor.
func sources(in *Input) []string {
	all := []string{
		"Start: equation of motion, the motor's steady state at each speed; times of a start of few cycles come out up to a cycle short.",
		"Verdict: 5 % less source and 3 s of starting current are where a start is called marginal; both common practice.",
	}
	switch in.Source {
	case "generator":
		all = append(all, "Generator: reactances and decay by IEC 60034-4; one time constant for the regulator, and an engine that stalls at 1.25 times its power after half a second, are common practice.")
	case "limited":
		all = append(all, "Limited source: it holds its rms current and lets the voltage fall. An inverter that trips instead starts only what stays below its limit.")
	default:
		all = append(all, "Line: voltage behind its impedance.")
	}
	if in.FeederSize != "" {
		all = append(all, "Feeder: IEC 60028 and ASTM B258 for the resistance, NEC chapter 9, table 9, row 10 AWG for the reactance.")
	}
	switch in.Drives {
	case "none":
	case "piston":
		all = append(all, "Load: the same torque at any speed, and more at rest; common practice for positive displacement.")
	default:
		all = append(all, "Load: a torque at rest that is gone at 15 % speed, then the square law; common practice for centrifugal machines.")
	}
	all = append(all, "Three times running, locked-rotor amperes times volts: common practice, here to be compared and not to be used.",
		"Left out: saturation, which lets the true locked-rotor current exceed that of a circuit fitted near rated speed by a tenth and more, and warm windings, which weaken the start.")
	if in.Dynamic {
		all = append(all, "Instant by instant: stationary-frame equations of the unsymmetrical two-phase machine, Krause, Wasynczuk, Sudhoff, Analysis of Electric Machinery. Without saturation true peaks are higher.")
		if in.Source == "limited" {
			all = append(all, "Instant by instant the limit clips the crests at √2 times its rms value, which lets more rms current through than a limit on the wave as a whole: the start is quicker by it. The verdict is that of the whole wave.")
		}
		if in.Source == "generator" {
			all = append(all, "Instant by instant a generator is held at its first reactance and full frequency.")
		}
	}
	return all
}

// cautions are part of every answer.
func cautions(in *Input) []string {
	all := []string{
		"A locked rotor burns: a motor that hums and does not turn takes its starting current until something opens. Switch it off within seconds, and give it the overload protection of its plate. Each start heats it; let it cool between attempts.",
		"A start or run capacitor holds its charge after the motor is off and disconnected. Discharge it through a resistor, and prove it dead, before touching the wires.",
	}
	if in.Source != "line" {
		all = append(all, "Backfeed: never feed a house through an outlet. A circuit that can see both sources needs transfer equipment or an interlock, or it puts line workers and neighbours at risk of death.")
	}
	if in.Source == "generator" {
		all = append(all, "Carbon monoxide: run a generator outdoors, far from windows and vents, with a carbon monoxide alarm on every floor. It kills without smell.")
	}
	return append(all, "What was computed is no permission. Local code decides, and work on fixed wiring belongs to a licensed electrician.")
}
