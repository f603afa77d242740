package main

import "math"

// What stands in for a figure of a generator that nobody stated.
//
// Common practice: reactances and time constants of small four-pole and two-pole
// alternators with an automatic voltage regulator; an engine of 0.8 times the
// volt-amperes; 3 to 5 % droop of a mechanical governor.
const (
	usualSubtransient = 0.15
	usualTransient    = 0.25
	usualDecay        = 0.02
	usualRecovery     = 0.5
	usualDroop        = 5
	usualEngine       = 0.8
)

// usualBreakaway is the torque at rest (%).
//
// Common practice: 15 to 20 % for pumps with soft seals, little for a fan, up to
// half more than the running torque for packed pistons.
var usualBreakaway = map[string]float64{"pump": 20, "submersible": 20, "fan": 5, "piston": 150}

// defaults fills in what was not stated, and tells it where it weighs.
func (in *Input) defaults() {
	set := func(name string, at *float64, x float64, note string) {
		if in.given[name] {
			return
		}
		*at = x
		if note != "" {
			in.assume("%s: %g, %s", name, x, note)
		}
	}
	text := func(at *string, x string) bool {
		if *at != "" {
			return false
		}
		*at = x
		return true
	}
	if text(&in.Drives, "pump") {
		in.assume("drives: a centrifugal pump, whose torque goes with the square of the speed")
	}
	in.defaultType(text)
	in.phases = 1
	if in.Type == "three-phase" {
		in.phases = 3
	}
	set("hertz", &in.Hertz, 60, "")
	switch {
	case in.FullLoadRPM != 0:
		set("poles", &in.Poles, math.Min(24, math.Max(2, 2*math.Floor(60*in.Hertz/in.FullLoadRPM))), "by full_load_rpm")
	case in.Drives == "submersible":
		set("poles", &in.Poles, 2, "usual of submersible motors")
	default:
		set("poles", &in.Poles, 4, "the even number next below 120 times the hertz over the speed of the plate")
	}
	if in.circuitGiven() && in.Turns != 0 && in.Type != "permanent-split" {
		set("switch_percent", &in.SwitchPercent, 75, "start switches open at 70 to 80 % of the synchronous speed")
	}
	if in.Drives != "none" {
		set("breakaway_percent", &in.BreakawayPercent, usualBreakaway[in.Drives], "share of the load's torque at rest, common practice")
	}
	text(&in.Source, "line")
	set("source_volts", &in.SourceVolts, in.Volts, "the motor's rated voltage")
	in.defaultSource(set)
	if in.FeederSize != "" {
		text(&in.FeederMetal, "copper")
		set("feeder_c", &in.FeederC, 50, "°C of the conductors, warm from running")
	}
	set("full_speed_rpm", &in.FullSpeedRPM, 0.9*in.synchronousRPM(), "")
	set("until_s", &in.UntilS, 10, "")
	text(&in.Spread, "all")
}

// defaultType reads the type off the ohms, where there are any.
func (in *Input) defaultType(text func(at *string, x string) bool) {
	start, run := in.StartUF != 0 || in.StartXOhm != 0, in.RunUF != 0 || in.RunXOhm != 0
	switch {
	case !in.circuitGiven():
		if text(&in.Type, "capacitor-start") {
			in.assume("type: capacitor-start")
		}
	case start && run:
		text(&in.Type, "capacitor-start-run")
	case run:
		text(&in.Type, "permanent-split")
	case start:
		text(&in.Type, "capacitor-start")
	case in.Turns != 0:
		text(&in.Type, "split-phase")
	default:
		if text(&in.Type, "main-winding") {
			in.assume("type: a main winding alone, which has no torque at rest; give turns for an auxiliary winding, or type three-phase")
		}
	}
}

func (in *Input) defaultSource(set func(string, *float64, float64, string)) {
	switch in.Source {
	case "limited":
		if in.LimitA == 0 && in.RatingVA != 0 {
			in.LimitA = in.RatingVA / (math.Sqrt(float64(in.phases)) * in.SourceVolts)
			in.assume("limit_a: %.4g, what rating_va is at the source's voltage; many inverters give more for an instant and others trip", in.LimitA)
		}
	case "generator":
		const note = "common practice for small generators; the maker's data sheet is better"
		set("engine_w", &in.EngineW, usualEngine*in.RatingVA, note)
		set("droop_percent", &in.DroopPercent, usualDroop, note)
		set("subtransient_pu", &in.SubtransientPU, usualSubtransient, note)
		set("transient_pu", &in.TransientPU, max(usualTransient, in.SubtransientPU), note)
		set("decay_s", &in.DecayS, usualDecay, note)
		set("recovery_s", &in.RecoveryS, usualRecovery, note)
	}
}
