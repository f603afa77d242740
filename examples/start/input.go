package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"ridethrough.example/conductor"
	"ridethrough.example/motor"
)

// Input is a start as it was asked for, with the defaults filled in. Zero fields
// were not stated.
type Input struct {
	Type         string  `json:"type"`
	OutputHP     float64 `json:"output_hp,omitempty"`
	Volts        float64 `json:"volts"`
	Hertz        float64 `json:"hertz"`
	Poles        float64 `json:"poles"`
	Code         string  `json:"code,omitempty"`
	LockedRotorA float64 `json:"locked_rotor_a,omitempty"`
	FullLoadA    float64 `json:"full_load_a,omitempty"`
	FullLoadRPM  float64 `json:"full_load_rpm,omitempty"`
	PowerFactor  float64 `json:"power_factor,omitempty"`
	Efficiency   float64 `json:"efficiency,omitempty"`

	MainROhm       float64 `json:"main_r_ohm,omitempty"`
	MainXOhm       float64 `json:"main_x_ohm,omitempty"`
	RotorROhm      float64 `json:"rotor_r_ohm,omitempty"`
	RotorXOhm      float64 `json:"rotor_x_ohm,omitempty"`
	MagnetizingOhm float64 `json:"magnetizing_ohm,omitempty"`
	RotationalW    float64 `json:"rotational_w,omitempty"`
	Delta          bool    `json:"delta,omitempty"`
	Turns          float64 `json:"turns,omitempty"`
	AuxiliaryROhm  float64 `json:"auxiliary_r_ohm,omitempty"`
	AuxiliaryXOhm  float64 `json:"auxiliary_x_ohm,omitempty"`
	StartUF        float64 `json:"start_uf,omitempty"`
	StartXOhm      float64 `json:"start_x_ohm,omitempty"`
	StartROhm      float64 `json:"start_r_ohm,omitempty"`
	RunUF          float64 `json:"run_uf,omitempty"`
	RunXOhm        float64 `json:"run_x_ohm,omitempty"`
	RunROhm        float64 `json:"run_r_ohm,omitempty"`
	SwitchPercent  float64 `json:"switch_percent,omitempty"`

	InertiaKGM2      float64 `json:"inertia_kgm2,omitempty"`
	Drives           string  `json:"drives"`
	LoadNM           float64 `json:"load_nm,omitempty"`
	LoadRPM          float64 `json:"load_rpm,omitempty"`
	BreakawayPercent float64 `json:"breakaway_percent,omitempty"`
	ShutoffPercent   float64 `json:"shutoff_percent,omitempty"`

	Source         string  `json:"source"`
	SourceVolts    float64 `json:"source_volts"`
	SourceROhm     float64 `json:"source_r_ohm,omitempty"`
	SourceXOhm     float64 `json:"source_x_ohm,omitempty"`
	LimitA         float64 `json:"limit_a,omitempty"`
	RatingVA       float64 `json:"rating_va,omitempty"`
	EngineW        float64 `json:"engine_w,omitempty"`
	DroopPercent   float64 `json:"droop_percent,omitempty"`
	SubtransientPU float64 `json:"subtransient_pu,omitempty"`
	TransientPU    float64 `json:"transient_pu,omitempty"`
	DecayS         float64 `json:"decay_s,omitempty"`
	RecoveryS      float64 `json:"recovery_s,omitempty"`

	FeederM     float64 `json:"feeder_m,omitempty"`
	FeederSize  string  `json:"feeder_size,omitempty"`
	FeederMetal string  `json:"feeder_metal,omitempty"`
	FeederC     float64 `json:"feeder_c,omitempty"`
	FeederROhm  float64 `json:"feeder_r_ohm,omitempty"`
	FeederXOhm  float64 `json:"feeder_x_ohm,omitempty"`

	FullSpeedRPM float64 `json:"full_speed_rpm"`
	UntilS       float64 `json:"until_s"`
	EveryS       float64 `json:"every_s,omitempty"`
	Spread       string  `json:"spread"`
	Dynamic      bool    `json:"dynamic"`
	AngleDeg     float64 `json:"angle_deg,omitempty"`

	inertiaLBFT2, feederFt float64
	phases                 int
	given                  map[string]bool
	assumed                []string
}

// newInput makes a start of the flags.
func newInput(flags map[string]string) (Input, error) {
	in := Input{given: map[string]bool{}}
	var err error
	for _, c := range columns {
		text, ok := flags[c.name]
		if !ok {
			continue
		}
		in.given[c.name] = true
		if e := c.set(&in, strings.TrimSpace(text)); e != nil {
			err = errors.Join(err, fmt.Errorf("%s: %w", c.name, e))
		}
	}
	if err != nil {
		return Input{}, err
	}
	in.convert()
	in.defaults()
	if err := in.check(); err != nil {
		return Input{}, err
	}
	return in, nil
}

// convert brings the flags that stand for another into its unit.
func (in *Input) convert() {
	if in.FeederM == 0 {
		in.FeederM = in.feederFt * float64(conductor.Foot)
	}
	if in.InertiaKGM2 == 0 {
		in.InertiaKGM2 = in.inertiaLBFT2 * float64(motor.PoundSquareFoot)
	}
}

// circuitGiven reports whether the ohms stand for the plate.
func (in *Input) circuitGiven() bool {
	for _, name := range []string{"main_r_ohm", "main_x_ohm", "rotor_r_ohm", "rotor_x_ohm", "magnetizing_ohm", "turns", "auxiliary_r_ohm", "auxiliary_x_ohm"} {
		if in.given[name] {
			return true
		}
	}
	return false
}

func (in *Input) synchronousRPM() float64 { return 120 * in.Hertz / in.Poles }

func (in *Input) assume(format string, args ...any) {
	in.assumed = append(in.assumed, fmt.Sprintf(format, args...))
}

// mostVolts is a source's voltage over the motor's that is no mistake.
const mostVolts = 1.25

// check refuses what does not go together.
func (in *Input) check() error {
	var err error
	complain := func(bad bool, text string) {
		if bad {
			err = errors.Join(err, errors.New(text))
		}
	}
	missing := func(bad bool, names ...string) {
		for _, n := range names {
			complain(bad && !in.given[n], n+" is missing")
		}
	}
	both := func(a, b string) { complain(in.given[a] && in.given[b], a+" and "+b+" are both given") }
	only := func(bad bool, what string, names ...string) {
		for _, n := range names {
			complain(bad && in.given[n], n+" is for "+what)
		}
	}
	missing(true, "volts")
	complain(math.Mod(in.Poles, 2) != 0, "poles is an even number")
	missing(in.circuitGiven(), "main_r_ohm", "main_x_ohm", "rotor_r_ohm", "rotor_x_ohm", "magnetizing_ohm")
	missing(!in.circuitGiven(), "output_hp")
	complain(in.SourceVolts > mostVolts*in.Volts && in.Volts != 0, fmt.Sprintf("source_volts %g on a motor wired for volts %g: too much; a dual-voltage motor is wired for the other first", in.SourceVolts, in.Volts))
	both("start_uf", "start_x_ohm")
	both("run_uf", "run_x_ohm")
	both("inertia_kgm2", "inertia_lbft2")
	both("feeder_ft", "feeder_m")
	both("feeder_size", "feeder_r_ohm")
	both("limit_a", "rating_va")
	three := in.Type == "three-phase"
	only(three, "one phase", "turns", "auxiliary_r_ohm", "auxiliary_x_ohm", "start_uf", "start_x_ohm", "start_r_ohm", "run_uf", "run_x_ohm", "run_r_ohm", "switch_percent", "dynamic")
	only(!three || !in.circuitGiven(), "the ohms of three phases", "delta")
	only(!in.circuitGiven(), "a circuit given in ohms", "rotational_w", "start_uf", "start_x_ohm", "start_r_ohm", "run_uf", "run_x_ohm", "run_r_ohm")
	only(in.Source != "limited", "source limited", "limit_a")
	only(in.Source == "line", "source limited or generator", "rating_va")
	only(in.Source == "generator", "source line or limited", "source_r_ohm", "source_x_ohm")
	only(in.Source != "generator", "source generator", "engine_w", "droop_percent", "subtransient_pu", "transient_pu", "decay_s", "recovery_s")
	missing(in.Source == "generator", "rating_va")
	complain(in.Source == "limited" && in.LimitA == 0, "limit_a or rating_va is missing")
	complain(in.Source == "limited" && in.Dynamic && in.SourceXOhm != 0, "dynamic: a limit is followed on a source without reactance; leave out source_x_ohm")
	complain(in.Source == "limited" && in.Dynamic && in.FeederXOhm != 0, "dynamic: a limit is followed on wires without reactance; leave out feeder_x_ohm")
	length := in.given["feeder_ft"] || in.given["feeder_m"]
	complain(length && in.FeederSize == "", "feeder_size is missing")
	complain(!length && in.FeederSize != "", "feeder_ft or feeder_m is missing")
	only(in.FeederSize == "", "feeder_size", "feeder_metal", "feeder_c")
	only(in.Drives == "none", "a load", "load_nm", "load_rpm", "breakaway_percent")
	only(in.Drives != "pump" && in.Drives != "submersible", "a centrifugal pump", "shutoff_percent")
	complain((in.Drives == "pump" || in.Drives == "submersible" || in.Drives == "fan") && in.BreakawayPercent > 100, "breakaway_percent of a centrifugal load is 100 at most")
	complain(in.Drives == "piston" && in.BreakawayPercent < 100, "breakaway_percent of a piston pump is 100 at least")
	complain(in.Drives != "none" && in.LoadNM == 0 && in.OutputHP == 0, "load_nm or output_hp is missing, or drives none")
	complain(in.Drives == "fan" && in.InertiaKGM2 == 0, "inertia_kgm2 is missing: the mass of a fan decides how long its start lasts")
	ns := in.synchronousRPM()
	complain(!(in.FullSpeedRPM >= 0.3*ns && in.FullSpeedRPM <= 0.999*ns), fmt.Sprintf("full_speed_rpm %g, want %.4g to %.4g", in.FullSpeedRPM, 0.3*ns, 0.999*ns))
	complain(in.FullLoadRPM != 0 && !(in.FullLoadRPM > 0.6*ns && in.FullLoadRPM < ns), fmt.Sprintf("full_load_rpm %g, want %.4g to below %.4g with %g poles", in.FullLoadRPM, 0.6*ns, ns, in.Poles))
	only(!in.Dynamic, "dynamic yes", "angle_deg")
	return err
}
