package main

import (
	"math"
	"strconv"

	"ridethrough.example/motor"
)

// The verdicts.
const (
	starts   = "starts"
	marginal = "marginal"
	depends  = "depends"
	fails    = "does not start"
)

// Answer is all that the program says.
type Answer struct {
	Input     Input     `json:"input"`
	Assumed   []string  `json:"assumed"`
	Verdict   string    `json:"verdict"`
	Why       []string  `json:"why"`
	Motor     Motor     `json:"motor"`
	Cases     []Case    `json:"cases"`
	Samples   []Sample  `json:"samples"`
	Shown     string    `json:"samples_of_case"`
	Shortcuts Shortcuts `json:"shortcuts"`
	Dynamic   *Dynamic  `json:"dynamic,omitempty"`
	Sources   []string  `json:"sources"`
	Cautions  []string  `json:"cautions"`

	curves curves // for the plots
}

// Motor is what the start rests on.
type Motor struct {
	Basis          string  `json:"basis"`
	SynchronousRPM float64 `json:"synchronous_rpm"`
	FullSpeedRPM   float64 `json:"full_speed_rpm"`
	SwitchRPM      float64 `json:"switch_rpm,omitempty"`
	InertiaLow     float64 `json:"inertia_low_kgm2"`
	InertiaHigh    float64 `json:"inertia_high_kgm2"`
	InertiaBasis   string  `json:"inertia_basis"`
	LoadNM         float64 `json:"load_nm"`
	LoadRPM        float64 `json:"load_rpm"`
	FeederROhm     float64 `json:"feeder_r_ohm"`
	FeederXOhm     float64 `json:"feeder_x_ohm"`
}

// A Case is a start of one motor that the plate allows. Figures are those with
// the inertia in the middle of its range, to full speed; the least and the most
// seconds those at its ends.
type Case struct {
	Name          string  `json:"name"`
	Verdict       string  `json:"verdict"`
	Why           string  `json:"why,omitempty"`
	LockedRotorA  float64 `json:"locked_rotor_a"` // at rated voltage
	LockedRotorPF float64 `json:"locked_rotor_power_factor"`
	FullLoadA     float64 `json:"full_load_a,omitempty"` // of the circuit at rated output
	StartingNM    float64 `json:"starting_torque_nm"`    // at rated voltage
	BreakdownNM   float64 `json:"breakdown_torque_nm"`
	Outcome       string  `json:"outcome"`
	SwitchOpensS  float64 `json:"switch_opens_s,omitempty"`
	FullSpeedS    float64 `json:"full_speed_s,omitempty"`
	LeastS        float64 `json:"full_speed_least_s,omitempty"`
	MostS         float64 `json:"full_speed_most_s,omitempty"`
	EndRPM        float64 `json:"end_rpm"`
	LeastV        float64 `json:"least_motor_v"`
	GreatestA     float64 `json:"greatest_current_a"`
	GreatestVA    float64 `json:"greatest_apparent_va"`
	GreatestW     float64 `json:"greatest_real_w"`
	EnergyWh      float64 `json:"energy_wh"`
	SquareTimeA2S float64 `json:"square_time_a2s"`
	StatorHeatJ   float64 `json:"stator_heat_j"`
	RotorHeatJ    float64 `json:"rotor_heat_j"`
	RestMotorV    float64 `json:"at_rest_motor_v"`
	RestCurrentA  float64 `json:"at_rest_current_a"`
	RestTorqueNM  float64 `json:"at_rest_torque_nm"`
	RestLoadNM    float64 `json:"at_rest_load_nm"`
	// What the motor would take at rest if a limited source had no limit, and the
	// voltage at the source's terminals then, under its limit.
	UnlimitedA  float64 `json:"unlimited_current_a,omitempty"`
	RestSourceV float64 `json:"at_rest_source_v"`
	Ohms        Ohms    `json:"circuit"`

	inertia motor.Inertia
	circuit motor.Circuit
	typical bool
	load    motor.Load
	result  motor.RunUpResult
}

// Ohms are those of a case's circuit, referred to the main winding, of the
// auxiliary winding its own.
type Ohms struct {
	R1            float64 `json:"main_r_ohm"`
	X1            float64 `json:"main_x_ohm"`
	R2            float64 `json:"rotor_r_ohm"`
	X2            float64 `json:"rotor_x_ohm"`
	Xm            float64 `json:"magnetizing_ohm"`
	RotationalW   float64 `json:"rotational_w"`
	Turns         float64 `json:"turns,omitempty"`
	Ra            float64 `json:"auxiliary_r_ohm,omitempty"`
	Xa            float64 `json:"auxiliary_x_ohm,omitempty"`
	StartUF       float64 `json:"start_uf,omitempty"`
	StartR        float64 `json:"start_r_ohm,omitempty"`
	RunUF         float64 `json:"run_uf,omitempty"`
	RunR          float64 `json:"run_r_ohm,omitempty"`
	SwitchPercent float64 `json:"switch_percent,omitempty"`
}

// A Sample is one line of the table.
type Sample struct {
	TimeS        float64 `json:"time_s"`
	RPM          float64 `json:"speed_rpm"`
	Percent      float64 `json:"speed_percent"`
	MotorV       float64 `json:"motor_v"`
	CurrentA     float64 `json:"current_a"`
	ApparentVA   float64 `json:"apparent_va"`
	RealW        float64 `json:"real_w"`
	TorqueNM     float64 `json:"torque_nm"`
	LoadNM       float64 `json:"load_torque_nm"`
	SwitchClosed bool    `json:"switch_closed"`
}

// Shortcuts are what the trade reckons with, beside what was computed.
type Shortcuts struct {
	RunningW      float64 `json:"running_w,omitempty"`
	TripledW      float64 `json:"three_times_running_w,omitempty"`
	TripledVA     float64 `json:"three_times_full_load_va,omitempty"`
	LockedRotorVA float64 `json:"locked_rotor_times_volts_va"`
	ComputedW     float64 `json:"computed_greatest_w"`
	ComputedVA    float64 `json:"computed_greatest_va"`
}

// Dynamic is the start of the case shown, instant by instant.
type Dynamic struct {
	Outcome       string  `json:"outcome"`
	AngleDeg      float64 `json:"angle_deg"`
	FullSpeedS    float64 `json:"full_speed_s,omitempty"`
	SwitchOpensS  float64 `json:"switch_opens_s,omitempty"`
	CapacitorLeft float64 `json:"capacitor_left_v,omitempty"`
	PeakA         float64 `json:"peak_a"`
	PeakS         float64 `json:"peak_s"`
	FirstCycleA   float64 `json:"first_cycle_rms_a"`
	EnergyWh      float64 `json:"energy_wh"`
	SquareTimeA2S float64 `json:"square_time_a2s"`
	Angles        []Angle `json:"peaks_by_angle"`
	WorstA        float64 `json:"worst_peak_a"`
	WorstDeg      float64 `json:"worst_angle_deg"`

	wave []motor.RunUpSample
}

// An Angle is the peak of the line current within twelve cycles of switching on
// at an angle of the voltage.
type Angle struct {
	AngleDeg float64 `json:"angle_deg"`
	PeakA    float64 `json:"peak_a"`
}

// rounded keeps five digits, so that the last bits of a machine do not show.
func rounded[T ~float64](x T) float64 {
	if math.Abs(float64(x)) < 1e-9 {
		return 0
	}
	y, err := strconv.ParseFloat(strconv.FormatFloat(float64(x), 'g', 5, 64), 64)
	if err != nil {
		return 0
	}
	return y
}

func newSample(s *motor.RunUpSample, synchronousRPM float64) Sample {
	rpm := float64(s.Speed / motor.RPM)
	return Sample{
		TimeS: rounded(s.Time), RPM: rounded(rpm), Percent: rounded(100 * rpm / synchronousRPM), MotorV: rounded(s.Voltage),
		CurrentA: rounded(s.Current), ApparentVA: rounded(s.Apparent), RealW: rounded(s.Real),
		TorqueNM: rounded(s.Torque), LoadNM: rounded(s.LoadTorque), SwitchClosed: s.Closed,
	}
}

// ohmsOf lists what a circuit is made of.
func ohmsOf(c motor.Circuit) Ohms {
	switch c := c.(type) {
	case motor.SinglePhaseCircuit:
		a := c.Auxiliary
		return Ohms{
			R1: rounded(c.R1), X1: rounded(c.X1), R2: rounded(c.R2), X2: rounded(c.X2), Xm: rounded(c.Xm), RotationalW: rounded(c.RotationalLoss),
			Turns: rounded(a.Turns), Ra: rounded(a.R), Xa: rounded(a.X), SwitchPercent: rounded(100 * a.Switch),
			StartUF: rounded(1e6 * a.Start.Capacitance), StartR: rounded(a.Start.Resistance),
			RunUF: rounded(1e6 * a.Run.Capacitance), RunR: rounded(a.Run.Resistance),
		}
	case motor.ThreePhaseCircuit:
		return Ohms{R1: rounded(c.R1), X1: rounded(c.X1), R2: rounded(c.R2), X2: rounded(c.X2), Xm: rounded(c.Xm), RotationalW: rounded(c.RotationalLoss)}
	}
	return Ohms{}
}
