package main

import (
	"strings"

	"ridethrough.example/conductor"
	"ridethrough.example/examples/internal/console"
	"ridethrough.example/motor"
)

// A column is a flag of the command line, with _ for -.
type column struct {
	name, help string
	set        func(in *Input, text string) error
}

var motorTypes = []string{"split-phase", "capacitor-start", "capacitor-start-run", "permanent-split", "three-phase"}

// columns in the order in which faults are reported.
var columns = []column{
	{"type", strings.Join(motorTypes, ", ") + " (by the ohms, else `capacitor-start`)", console.Words(func(in *Input) *string { return &in.Type }, motorTypes...)},
	{"output_hp", "rated shaft power `hp`", console.Number(func(in *Input) *float64 { return &in.OutputHP }, 0.05, 500)},
	{"volts", "rated voltage `V`, line to line for three phases", console.Number(func(in *Input) *float64 { return &in.Volts }, 10, 15000)},
	{"hertz", "rated frequency `Hz` (60)", console.Number(func(in *Input) *float64 { return &in.Hertz }, 10, 400)},
	{"poles", "`number` of poles (by full_load_rpm, else 4, or 2 for a submersible)", console.Number(func(in *Input) *float64 { return &in.Poles }, 2, 24)},
	{"code", "code `letter` of the plate: locked-rotor kVA per hp", setCode},
	{"locked_rotor_a", "locked-rotor current of the plate `A`", console.Number(func(in *Input) *float64 { return &in.LockedRotorA }, 0.05, 20000)},
	{"full_load_a", "full-load current of the plate `A`", console.Number(func(in *Input) *float64 { return &in.FullLoadA }, 0.05, 20000)},
	{"full_load_rpm", "full-load speed of the plate `rpm`", console.Number(func(in *Input) *float64 { return &in.FullLoadRPM }, 100, 24000)},
	{"power_factor", "of the plate, at full load", console.Number(func(in *Input) *float64 { return &in.PowerFactor }, 0.1, 1)},
	{"efficiency", "of the plate, at full load, as a share of 1", console.Number(func(in *Input) *float64 { return &in.Efficiency }, 0.05, 0.99)},

	{"main_r_ohm", "circuit: resistance of the main winding `Ω`, or of one phase of three", ohms(func(in *Input) *float64 { return &in.MainROhm })},
	{"main_x_ohm", "circuit: its leakage reactance `Ω`", ohms(func(in *Input) *float64 { return &in.MainXOhm })},
	{"rotor_r_ohm", "circuit: resistance of the rotor `Ω`, in full and referred to the main winding", ohms(func(in *Input) *float64 { return &in.RotorROhm })},
	{"rotor_x_ohm", "circuit: its leakage reactance `Ω`", ohms(func(in *Input) *float64 { return &in.RotorXOhm })},
	{"magnetizing_ohm", "circuit: magnetizing reactance `Ω`", ohms(func(in *Input) *float64 { return &in.MagnetizingOhm })},
	{"rotational_w", "circuit: rotational loss `W` (0)", console.Number(func(in *Input) *float64 { return &in.RotationalW }, 0, 200e3)},
	{"delta", "circuit: `yes` if the ohms of three phases are those of a delta (no)", console.Yes(func(in *Input) *bool { return &in.Delta })},
	{"turns", "circuit: turns of the auxiliary winding over those of the main one", console.Number(func(in *Input) *float64 { return &in.Turns }, 0.1, 10)},
	{"auxiliary_r_ohm", "circuit: resistance of the auxiliary winding `Ω`, not referred", ohms(func(in *Input) *float64 { return &in.AuxiliaryROhm })},
	{"auxiliary_x_ohm", "circuit: its leakage reactance `Ω`", ohms(func(in *Input) *float64 { return &in.AuxiliaryXOhm })},
	{"start_uf", "start capacitor `µF`", console.Number(func(in *Input) *float64 { return &in.StartUF }, 0.1, 100e3)},
	{"start_x_ohm", "reactance of the start capacitor `Ω`, instead", ohms(func(in *Input) *float64 { return &in.StartXOhm })},
	{"start_r_ohm", "resistance in series while starting `Ω` (0)", ohms(func(in *Input) *float64 { return &in.StartROhm })},
	{"run_uf", "run capacitor `µF`", console.Number(func(in *Input) *float64 { return &in.RunUF }, 0.1, 100e3)},
	{"run_x_ohm", "reactance of the run capacitor `Ω`, instead", ohms(func(in *Input) *float64 { return &in.RunXOhm })},
	{"run_r_ohm", "resistance in series with it `Ω` (0)", ohms(func(in *Input) *float64 { return &in.RunROhm })},
	{"switch_percent", "speed of the start switch `%` of synchronous speed (75; none without a start winding of its own)", console.Number(func(in *Input) *float64 { return &in.SwitchPercent }, 30, 95)},

	{"inertia_kgm2", "of all that turns, at the motor's shaft `kg·m²` (typical of rotors)", console.Number(func(in *Input) *float64 { return &in.InertiaKGM2 }, 1e-6, 1000)},
	{"inertia_lbft2", "the same `lb·ft²`, instead", console.Number(func(in *Input) *float64 { return &in.inertiaLBFT2 }, 1e-4, 20000)},
	{"drives", "pump, submersible, piston, fan or none (`pump`)", console.Words(func(in *Input) *string { return &in.Drives }, "pump", "submersible", "piston", "fan", "none")},
	{"load_nm", "torque of the load at its rated speed `N·m` (that of the rated output)", console.Number(func(in *Input) *float64 { return &in.LoadNM }, 1e-3, 10e3)},
	{"load_rpm", "rated speed of the load `rpm` (the motor's at rated output)", console.Number(func(in *Input) *float64 { return &in.LoadRPM }, 10, 30000)},
	{"breakaway_percent", "torque at rest, `%` of load_nm (pumps 20, fan 5, piston 150)", console.Number(func(in *Input) *float64 { return &in.BreakawayPercent }, 0.1, 500)},
	{"shutoff_percent", "torque of a centrifugal pump against a closed valve, `%` of load_nm (100: open)", console.Number(func(in *Input) *float64 { return &in.ShutoffPercent }, 1, 100)},

	{"source", "line, limited (an inverter that holds its current) or generator (`line`)", console.Words(func(in *Input) *string { return &in.Source }, "line", "limited", "generator")},
	{"source_volts", "open circuit `V` (the motor's)", console.Number(func(in *Input) *float64 { return &in.SourceVolts }, 10, 15000)},
	{"source_r_ohm", "resistance of a line `Ω`, of one phase; of one phase both conductors (0)", console.Number(func(in *Input) *float64 { return &in.SourceROhm }, 0, 1000)},
	{"source_x_ohm", "reactance of a line `Ω`, likewise (0)", console.Number(func(in *Input) *float64 { return &in.SourceXOhm }, 0, 1000)},
	{"limit_a", "greatest current of a limited source `A`, rms", console.Number(func(in *Input) *float64 { return &in.LimitA }, 0.05, 20000)},
	{"rating_va", "of a generator, or what a limited source gives as long as a start lasts `VA`", console.Number(func(in *Input) *float64 { return &in.RatingVA }, 100, 10e6)},
	{"engine_w", "power of the generator's engine at its terminals `W` (0.8 times rating_va)", console.Number(func(in *Input) *float64 { return &in.EngineW }, 50, 10e6)},
	{"droop_percent", "frequency lost at full power `%` (5)", console.Number(func(in *Input) *float64 { return &in.DroopPercent }, 0, 10)},
	{"subtransient_pu", "X″d of the generator, per unit (0.15)", console.Number(func(in *Input) *float64 { return &in.SubtransientPU }, 0.02, 1)},
	{"transient_pu", "X′d of the generator, per unit (0.25)", console.Number(func(in *Input) *float64 { return &in.TransientPU }, 0.02, 2)},
	{"decay_s", "T″d, from the one to the other `s` (0.02)", console.Number(func(in *Input) *float64 { return &in.DecayS }, 1e-3, 1)},
	{"recovery_s", "time constant of the voltage regulator `s` (0.5)", console.Number(func(in *Input) *float64 { return &in.RecoveryS }, 0.05, 20)},

	{"feeder_ft", "one-way length of the wires to the motor `ft`", console.Number(func(in *Input) *float64 { return &in.feederFt }, 0.2, 15000)},
	{"feeder_m", "the same `m`, instead", console.Number(func(in *Input) *float64 { return &in.FeederM }, 0.05, 5000)},
	{"feeder_size", "`size` of the wires, such as \"12 AWG\" or \"4 mm2\"", setSize},
	{"feeder_metal", "copper or aluminium (`copper`)", console.Words(func(in *Input) *string { return &in.FeederMetal }, "copper", "aluminium")},
	{"feeder_c", "temperature of the conductors `°C` (50)", console.Number(func(in *Input) *float64 { return &in.FeederC }, -40, 105)},
	{"feeder_r_ohm", "resistance of the wires `Ω`, both conductors, or one of three, instead of size and length", console.Number(func(in *Input) *float64 { return &in.FeederROhm }, 0, 1000)},
	{"feeder_x_ohm", "reactance of the wires `Ω`, likewise (0)", console.Number(func(in *Input) *float64 { return &in.FeederXOhm }, 0, 1000)},

	{"full_speed_rpm", "what counts as full speed `rpm` (90 % of synchronous speed)", console.Number(func(in *Input) *float64 { return &in.FullSpeedRPM }, 50, 24000)},
	{"until_s", "end of a start that does not come up `s` (10)", console.Number(func(in *Input) *float64 { return &in.UntilS }, 0.1, 600)},
	{"every_s", "distance of the table's lines `s` (about twenty lines)", console.Number(func(in *Input) *float64 { return &in.EveryS }, 1e-3, 10)},
	{"spread", "low, typical or high end of what the plate leaves open, or `all` of it (all)", console.Words(func(in *Input) *string { return &in.Spread }, "low", "typical", "high", "all")},
	{"dynamic", "`yes` follows a single-phase start instant by instant as well (no)", console.Yes(func(in *Input) *bool { return &in.Dynamic })},
	{"angle_deg", "angle of the voltage at the instant of switching on, 0 at its crest, for -dynamic `°` (0)", console.Number(func(in *Input) *float64 { return &in.AngleDeg }, 0, 360)},
}

func ohms(at func(*Input) *float64) func(*Input, string) error { return console.Number(at, 0, 1e5) }

func setCode(in *Input, text string) error {
	c, err := motor.ParseCodeLetter(text)
	if err != nil {
		return err
	}
	in.Code = c.String()
	return nil
}

func setSize(in *Input, text string) error {
	s, err := conductor.ParseSize(text)
	if err != nil {
		return err
	}
	in.FeederSize = s.String()
	return nil
}
