package plan

import (
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
	"ridethrough.example/conductor"
	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

// A Site is what a site file says: what stands on nameplates, labels, gauges
// and the tape measure. The planner's -sample flag writes a file that explains
// every key.
//
// Quantities must be above zero, which everywhere in the library stands for
// "not given", unless a tag least allows zero or any number. A tag single
// refuses a range where a nominal figure is wanted.
type Site struct {
	Name     string             `toml:"name" json:"name"`
	Note     string             `toml:"note" json:"note,omitempty"`
	Altitude Value[unit.Length] `toml:"altitude" json:"altitude,omitzero" least:"any"`

	Outage   Outage   `toml:"outage" json:"outage"`
	Loads    []Load   `toml:"load" json:"load"`
	Tank     Tank     `toml:"tank" json:"tank"`
	Well     Well     `toml:"well" json:"well,omitzero"`
	Battery  Battery  `toml:"battery" json:"battery"`
	Inverter Inverter `toml:"inverter" json:"inverter"`
	DCCable  DCCable  `toml:"dc_cable" json:"dc_cable"`
	Charger  Charger  `toml:"charger" json:"charger,omitzero"`

	where map[string]int // line of each key, for errors found after reading
}

// An Outage is what has to be bridged.
type Outage struct {
	Length   Value[unit.Time]     `toml:"length" json:"length,omitzero"`
	WaterUse Value[tank.FlowRate] `toml:"water_use" json:"water_use,omitzero" least:"zero"`
	Profile  string               `toml:"profile" json:"profile,omitempty"`
}

// A Load is one thing that must keep running.
type Load struct {
	Name string `toml:"name" json:"name"`
	Note string `toml:"note" json:"note,omitempty"`

	// What the nameplate says of a motor.
	Motor                motor.Type           `toml:"motor" json:"motor,omitzero"`
	Output               Value[unit.Power]    `toml:"output" json:"output,omitzero"`
	Voltage              Value[unit.Voltage]  `toml:"voltage" json:"voltage,omitzero" single:"yes"`
	Phases               int                  `toml:"phases" json:"phases,omitzero"`
	FullLoadCurrent      Value[unit.Current]  `toml:"full_load_current" json:"full_load_current,omitzero"`
	ServiceFactor        Value[Ratio]         `toml:"service_factor" json:"service_factor,omitzero"`
	ServiceFactorCurrent Value[unit.Current]  `toml:"service_factor_current" json:"service_factor_current,omitzero"`
	LockedRotorCurrent   Value[unit.Current]  `toml:"locked_rotor_current" json:"locked_rotor_current,omitzero"`
	CodeLetter           motor.CodeLetter     `toml:"code_letter" json:"code_letter,omitzero"`
	Efficiency           Value[Ratio]         `toml:"efficiency" json:"efficiency,omitzero"`
	PowerFactor          Value[Ratio]         `toml:"power_factor" json:"power_factor,omitzero"`
	NoMotor              bool                 `toml:"no_motor" json:"no_motor,omitempty"`
	Drives               string               `toml:"drives" json:"drives,omitempty"`
	StartTime            Value[unit.Time]     `toml:"start_time" json:"start_time,omitzero"`
	Measured             Readings             `toml:"measured" json:"measured,omitzero"`
	Duty                 Value[Ratio]         `toml:"duty" json:"duty,omitzero" least:"zero"`
	FillsTank            bool                 `toml:"fills_tank" json:"fills_tank,omitempty"`
	Flow                 Value[tank.FlowRate] `toml:"flow" json:"flow,omitzero"`
	Breaker              Value[unit.Current]  `toml:"breaker" json:"breaker,omitzero"`
	Run                  []Segment            `toml:"run" json:"run,omitempty"`
}

// Readings are what meters showed at a load while it ran or started.
type Readings struct {
	Voltage  Value[unit.Voltage]        `toml:"voltage" json:"voltage,omitzero"`
	Current  Value[unit.Current]        `toml:"current" json:"current,omitzero"`
	Power    Value[unit.Power]          `toml:"power" json:"power,omitzero"`
	Apparent Value[motor.ApparentPower] `toml:"apparent" json:"apparent,omitzero"`
	Inrush   Value[unit.Current]        `toml:"inrush" json:"inrush,omitzero"`

	// A clamp meter at the battery while the load ran on the inverter.
	DCVoltage Value[unit.Voltage] `toml:"dc_voltage" json:"dc_voltage,omitzero"`
	DCCurrent Value[unit.Current] `toml:"dc_current" json:"dc_current,omitzero"`

	// A meter left running: energy over a time, off periods included, or the
	// average power it shows.
	Energy  Value[unit.Energy] `toml:"energy" json:"energy,omitzero"`
	Over    Value[unit.Time]   `toml:"over" json:"over,omitzero"`
	Average Value[unit.Power]  `toml:"average" json:"average,omitzero"`
}

// A Segment is a length of one wire size on the way to a load.
type Segment struct {
	Size        conductor.Size          `toml:"size" json:"size,omitzero"`
	Metal       string                  `toml:"metal" json:"metal,omitempty"`
	Stranding   string                  `toml:"stranding" json:"stranding,omitempty"`
	Length      Value[unit.Length]      `toml:"length" json:"length,omitzero"`
	Temperature Value[unit.Temperature] `toml:"temperature" json:"temperature,omitzero" least:"any"`
}

// A Tank is a pressure tank and its switch.
type Tank struct {
	Volume    Value[unit.Volume]   `toml:"volume" json:"volume,omitzero"`
	Precharge Value[unit.Pressure] `toml:"precharge" json:"precharge,omitzero"`
	CutIn     Value[unit.Pressure] `toml:"cut_in" json:"cut_in,omitzero"`
	CutOut    Value[unit.Pressure] `toml:"cut_out" json:"cut_out,omitzero"`
}

// A Battery is a bank of like units.
type Battery struct {
	Chemistry         battery.Chemistry       `toml:"chemistry" json:"chemistry,omitzero"`
	UnitVoltage       Value[unit.Voltage]     `toml:"unit_voltage" json:"unit_voltage,omitzero" single:"yes"`
	Series            int                     `toml:"series" json:"series,omitzero"`
	Parallel          int                     `toml:"parallel" json:"parallel,omitzero"`
	Capacity          Value[unit.Charge]      `toml:"capacity" json:"capacity,omitzero"`
	Rate              Value[unit.Time]        `toml:"rate" json:"rate,omitzero" single:"yes"`
	SecondCapacity    Value[unit.Charge]      `toml:"second_capacity" json:"second_capacity,omitzero" single:"yes"`
	SecondRate        Value[unit.Time]        `toml:"second_rate" json:"second_rate,omitzero" single:"yes"`
	Reserve           Value[unit.Time]        `toml:"reserve" json:"reserve,omitzero" single:"yes"`
	Exponent          Value[Ratio]            `toml:"exponent" json:"exponent,omitzero"`
	Health            Value[Ratio]            `toml:"health" json:"health,omitzero"`
	DepthLimit        Value[Ratio]            `toml:"depth_limit" json:"depth_limit,omitzero"`
	ChargeAtStart     Value[Ratio]            `toml:"charge_at_start" json:"charge_at_start,omitzero"`
	Temperature       Value[unit.Temperature] `toml:"temperature" json:"temperature,omitzero" least:"any"`
	TemperatureFactor Value[Ratio]            `toml:"temperature_factor" json:"temperature_factor,omitzero"`
	UnitResistance    Value[unit.Resistance]  `toml:"unit_resistance" json:"unit_resistance,omitzero"`
	OpenCircuit       Value[unit.Voltage]     `toml:"open_circuit" json:"open_circuit,omitzero"`
	Management        []CurrentLimit          `toml:"management" json:"management,omitempty"`
}

// An Inverter is what the label and the data sheet say.
type Inverter struct {
	Output           Value[unit.Voltage]        `toml:"output" json:"output,omitzero" single:"yes"`
	Power            Value[unit.Power]          `toml:"power" json:"power,omitzero" single:"yes"`
	Apparent         Value[motor.ApparentPower] `toml:"apparent" json:"apparent,omitzero" single:"yes"`
	Surge            []SurgePoint               `toml:"surge" json:"surge,omitempty"`
	Idle             Value[unit.Power]          `toml:"idle" json:"idle,omitzero" least:"zero"`
	Efficiency       Value[Ratio]               `toml:"efficiency" json:"efficiency,omitzero"`
	EfficiencyAt     []EfficiencyPoint          `toml:"efficiency_at" json:"efficiency_at,omitempty"`
	CutOff           Value[unit.Voltage]        `toml:"cut_off" json:"cut_off,omitzero"`
	StartCutOff      Value[unit.Voltage]        `toml:"start_cut_off" json:"start_cut_off,omitzero"`
	StartDelay       Value[unit.Time]           `toml:"start_delay" json:"start_delay,omitzero" least:"zero"`
	Wave             string                     `toml:"wave" json:"wave,omitempty"`
	IdleWhileWaiting *bool                      `toml:"idle_while_waiting" json:"idle_while_waiting,omitempty"`

	InputCapacitance  Value[unit.Capacitance] `toml:"input_capacitance" json:"input_capacitance,omitzero"`
	PrechargeResistor Value[unit.Resistance]  `toml:"precharge_resistor" json:"precharge_resistor,omitzero"`
}

// A Charger fills the bank again.
type Charger struct {
	Current  Value[unit.Current] `toml:"current" json:"current,omitzero"`
	Standing Value[unit.Current] `toml:"standing" json:"standing,omitzero" least:"zero"`
}

// A DCCable joins battery and inverter.
type DCCable struct {
	Segment

	Contacts     Value[unit.Resistance] `toml:"contacts" json:"contacts,omitzero" least:"zero"`
	Fuse         Value[unit.Current]    `toml:"fuse" json:"fuse,omitzero"`
	Interrupting Value[unit.Current]    `toml:"interrupting" json:"interrupting,omitzero"`
	FuseDistance Value[unit.Length]     `toml:"fuse_distance" json:"fuse_distance,omitzero"`
}
