package main

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/examples/planner/plan"
	"ridethrough.example/tank"
)

// A System is a system file.
type System struct {
	Name        string                     `toml:"name" json:"name"`
	Note        string                     `toml:"note" json:"note,omitempty"`
	Altitude    quantity[unit.Length]      `toml:"altitude" json:"altitude,omitzero"`
	Atmosphere  quantity[unit.Pressure]    `toml:"atmosphere" json:"atmosphere,omitzero"`
	Temperature quantity[unit.Temperature] `toml:"water_temperature" json:"water_temperature,omitzero"`
	Battery     quantity[unit.Energy]      `toml:"battery" json:"battery,omitzero"`
	Inverter    quantity[plan.Ratio]       `toml:"inverter_efficiency" json:"inverter_efficiency,omitzero"`
	Stored      quantity[unit.Volume]      `toml:"stored_water" json:"stored_water,omitzero"`
	Persons     int                        `toml:"persons" json:"persons,omitempty"`
	Demands     []quantity[tank.FlowRate]  `toml:"demands" json:"demands,omitempty"`
	Tank        Tank                       `toml:"tank" json:"tank"`
	Pump        Pump                       `toml:"pump" json:"pump"`
	Well        Well                       `toml:"well" json:"well"`
	Pipes       []Pipe                     `toml:"pipe" json:"pipe,omitempty"`
	Day         Day                        `toml:"day" json:"day"`

	where map[string]int // lines of the keys
}

// Tank is a captive-air tank and its pressure switch.
type Tank struct {
	Volume    quantity[unit.Volume]      `toml:"volume" json:"volume,omitzero"`
	Precharge quantity[unit.Pressure]    `toml:"precharge" json:"precharge,omitzero"`
	CutIn     quantity[unit.Pressure]    `toml:"cut_in" json:"cut_in,omitzero"`
	CutOut    quantity[unit.Pressure]    `toml:"cut_out" json:"cut_out,omitzero"`
	SetAt     quantity[unit.Temperature] `toml:"precharge_at" json:"precharge_at,omitzero"`
	Coldest   quantity[unit.Temperature] `toml:"coldest" json:"coldest,omitzero"`
	AirLeft   quantity[unit.Volume]      `toml:"air_left" json:"air_left,omitzero"`
	Exponent  float64                    `toml:"exponent" json:"exponent,omitempty"`
}

// Pump is a pump and its motor.
type Pump struct {
	Kind       string                `toml:"kind" json:"kind"`
	Curve      []curvePoint          `toml:"curve" json:"curve,omitempty"`
	Through    string                `toml:"through" json:"through,omitempty"`
	Input      []atFlow[unit.Power]  `toml:"input" json:"input,omitempty"`
	Efficiency []atFlow[plan.Ratio]  `toml:"efficiency" json:"efficiency,omitempty"`
	Motor      quantity[unit.Power]  `toml:"motor" json:"motor,omitzero"`
	Phases     int                   `toml:"phases" json:"phases,omitempty"`
	Rated      Hertz                 `toml:"rated_frequency" json:"rated_frequency_hz,omitempty"`
	Frequency  Hertz                 `toml:"frequency" json:"frequency_hz,omitempty"`
	Above      quantity[unit.Length] `toml:"above_well_head" json:"above_well_head,omitzero"`
	Required   quantity[unit.Length] `toml:"suction_head_required" json:"suction_head_required,omitzero"`
}

// Well is the way from the water up to the tank.
type Well struct {
	Level    quantity[unit.Length] `toml:"level" json:"level,omitzero"`
	Rise     quantity[unit.Length] `toml:"rise" json:"rise,omitzero"`
	Drawdown curvePoint            `toml:"drawdown" json:"drawdown,omitzero"`
	Casing   quantity[unit.Length] `toml:"casing" json:"casing,omitzero"`
	Intake   quantity[unit.Length] `toml:"intake" json:"intake,omitzero"`
}

// Pipe is a run of pipe with what is in it.
type Pipe struct {
	Kind      string                `toml:"kind" json:"kind,omitempty"`
	Size      quantity[unit.Length] `toml:"size" json:"size,omitzero"`
	Inside    quantity[unit.Length] `toml:"inside" json:"inside,omitzero"`
	Length    quantity[unit.Length] `toml:"length" json:"length,omitzero"`
	Roughness quantity[unit.Length] `toml:"roughness" json:"roughness,omitzero"`
	C         float64               `toml:"hazen_williams_c" json:"hazen_williams_c,omitempty"`
	Suction   bool                  `toml:"suction" json:"suction,omitempty"`
	Fittings  []Fitting             `toml:"fittings" json:"fittings,omitempty"`
}

// Day is what is drawn in a day, and when.
type Day struct {
	Use     quantity[tank.FlowRate] `toml:"use" json:"use,omitzero"`
	Profile string                  `toml:"profile" json:"profile,omitempty"`
	Hours   []float64               `toml:"hours" json:"hours,omitempty"`
}

// Words of a system file.
var (
	pumpKinds = map[string]tank.Machine{"submersible": tank.SubmersibleSet, "jet": tank.JetSet}
	profiles  = map[string]func() tank.Profile{
		"household": tank.HouseholdProfile, "flat": tank.FlatProfile, "two-hour": tank.TwoHourProfile,
	}
	pipeKinds = map[string]pipeKind{
		"steel":   {tank.SteelSchedule40, tank.NewSteel},
		"PVC":     {tank.PVCSchedule40, tank.Plastic},
		"PVC SDR": {tank.PVCSDR13, tank.Plastic},
		"PE":      {tank.PESIDR15, tank.Plastic},
		"copper":  {tank.CopperTypeL, tank.DrawnTubing},
		"PEX":     {tank.PEXSDR9, tank.Plastic},
	}
)

type pipeKind struct {
	series  tank.PipeKind
	surface tank.Surface
}

// words lists the keys of a map.
func words[V any](m map[string]V) string {
	return strings.Join(slices.Sorted(maps.Keys(m)), ", ")
}

const (
	mostPipes, mostPoints, mostDemands = 20, 100, 20
)

// faults reports what is missing, unknown or contradicts itself.
func (s *System) faults() error {
	var errs []error
	fault := func(bad bool, key, format string, args ...any) {
		if bad {
			errs = append(errs, s.at(key, fmt.Errorf(format, args...)))
		}
	}
	for _, need := range []struct {
		key   string
		given bool
	}{
		{"tank.volume", s.Tank.Volume.Given()},
		{"tank.precharge", s.Tank.Precharge.Given()},
		{"tank.cut_in", s.Tank.CutIn.Given()},
		{"tank.cut_out", s.Tank.CutOut.Given()},
		{"pump.kind", s.Pump.Kind != ""},
		{"pump.curve", len(s.Pump.Curve) > 0},
		{"well.level", s.Well.Level.Given()},
	} {
		fault(!need.given, need.key, "missing; the flag -sample explains the key")
	}
	word := func(text, key, want string, known bool) {
		fault(text != "" && !known, key, "%.40q, want one of %s", text, want)
	}
	p := &s.Pump
	_, known := pumpKinds[p.Kind]
	word(p.Kind, "pump.kind", words(pumpKinds), known)
	word(p.Through, "pump.through", "fit, points", p.Through == "fit" || p.Through == "points")
	_, known = profiles[s.Day.Profile]
	word(s.Day.Profile, "day.profile", words(profiles), known)
	fault(s.Altitude.Given() && s.Atmosphere.Given(), "atmosphere", "altitude and atmosphere are both given")
	fault(len(p.Input) > 0 && len(p.Efficiency) > 0, "pump.efficiency", "input and efficiency are both given")
	fault(len(p.Curve) > mostPoints || len(p.Input) > mostPoints || len(p.Efficiency) > mostPoints, "pump", "want %d points at most", mostPoints)
	fault(p.Through == "fit" && len(p.Curve) != 3, "pump.through", "a fit takes three points, the first at no flow")
	fault(p.Through == "points" && len(p.Curve) < 2, "pump.through", "want two points or more, the first at no flow")
	fault(p.Phases != 0 && p.Phases != 1 && p.Phases != 3, "pump.phases", "%d, want 1 or 3", p.Phases)
	fault(p.Rated != 0 && p.Frequency == 0, "pump.rated_frequency", "says nothing without frequency")
	fault(p.Kind == "submersible" && (p.Above.Given() || p.Required.Given()), "pump", "above_well_head and suction_head_required are for a jet pump")
	fault(s.Day.Profile != "" && s.Day.Hours != nil, "day.hours", "profile and hours are both given")
	fault(s.Day.Hours != nil && len(s.Day.Hours) != 24, "day.hours", "%d numbers, want 24, midnight first", len(s.Day.Hours))
	fault(s.Persons < 0 || s.Persons > 1000, "persons", "%d, want 1 to 1000", s.Persons)
	fault(s.Inverter.Given() && !(s.Inverter.Low >= 0.1 && s.Inverter.Low <= 1), "inverter_efficiency", "want 10 %% to 100 %%")
	fault(s.Inverter.Given() && !s.Battery.Given(), "inverter_efficiency", "says nothing without battery")
	fault(s.Battery.Given() && !(s.Battery.Low > 0), "battery", "not above zero")
	fault(s.Stored.Given() && !(s.Stored.Low > 0), "stored_water", "not above zero")
	fault(s.Tank.SetAt.Given() != s.Tank.Coldest.Given(), "tank", "precharge_at and coldest need each other")
	fault(s.Tank.Exponent != 0 && !(s.Tank.Exponent >= 1 && s.Tank.Exponent <= 1.4), "tank.exponent", "%g, want 1 to 1.4", s.Tank.Exponent)
	fault(s.Well.Casing.Given() != s.Well.Intake.Given() || s.Well.Casing.Given() && !s.Well.Drawdown.Given(), "well", "casing, intake and drawdown need each other")
	fault(len(s.Demands) > mostDemands, "demands", "want %d at most", mostDemands)
	fault(len(s.Pipes) > mostPipes, "pipe", "%d pipes, want %d at most", len(s.Pipes), mostPipes)
	for i := range s.Pipes {
		errs = append(errs, s.pipeFaults(i))
	}
	return errors.Join(errs...)
}

func (s *System) pipeFaults(i int) error {
	p, key := &s.Pipes[i], fmt.Sprintf("pipe[%d]", i)
	_, known := pipeKinds[p.Kind]
	why := ""
	switch {
	case p.Kind != "" && !known:
		return s.at(key+".kind", fmt.Errorf("%.40q, want one of %s", p.Kind, words(pipeKinds)))
	case !p.Length.Given():
		why = "length is missing"
	case p.Inside.Given() == p.Size.Given():
		why = "want size, with kind, or inside: one of them"
	case p.Size.Given() && p.Kind == "":
		why = "size says nothing without kind"
	case p.C != 0 && p.Roughness.Given():
		why = "hazen_williams_c and roughness are both given"
	case p.C == 0 && !p.Roughness.Given() && p.Kind == "":
		why = "want kind, roughness or hazen_williams_c"
	case p.Suction && s.Pump.Kind == "submersible":
		why = "a submersible pump has no suction pipe"
	case len(p.Fittings) > 100:
		why = "want 100 fittings at most"
	}
	if why == "" {
		return nil
	}
	return s.at(key, errors.New(why))
}
