package main

import (
	"fmt"
	"strconv"
	"strings"

	"ridethrough.example/conductor"
	"ridethrough.example/examples/internal/console"
)

// A column is a flag of the command line and a column of the CSV.
type column struct {
	name, help string
	set        func(in *Input, text string) error
}

// columns in the order in which faults are reported.
var columns = []column{
	{"name", "`text` that names the run", func(in *Input, s string) error { in.Name = s; return nil }},
	{"system", "dc, single-phase or three-phase (dc)", console.Words(func(in *Input) *string { return &in.System }, "dc", "single-phase", "three-phase")},
	{
		"practice", "boat (105 °C cable below 60 V) or code (building wire); by default boat for dc below 60 `V`",
		console.Words(func(in *Input) *string { return &in.Practice }, "boat", "code"),
	},
	{"volts", "source voltage `V`, line to line for three phases", console.Number(func(in *Input) *float64 { return &in.Volts }, 1, 1000)},
	{"current_a", "running current `A`", console.Number(func(in *Input) *float64 { return &in.CurrentA }, 0.01, 3000)},
	{"intermittent", "`yes` if it runs for less than three hours at a time (no)", console.Yes(func(in *Input) *bool { return &in.Intermittent })},
	{"length_m", "one-way length `m`", console.Number(func(in *Input) *float64 { return &in.LengthM }, 0.05, 5000)},
	{"length_ft", "one-way length `ft`, instead", console.Number(func(in *Input) *float64 { return &in.lengthFt }, 0.2, 15000)},
	{"allowed_percent", "drop allowed while running, `%` (3)", console.Number(func(in *Input) *float64 { return &in.AllowedPercent }, 0.1, 20)},
	{"power_factor", "of the running load (1 for dc, otherwise `0.8`)", console.Number(func(in *Input) *float64 { return &in.PowerFactor }, 0.05, 1)},
	{"start_a", "current at the start `A`", console.Number(func(in *Input) *float64 { return &in.StartA }, 0.01, 10000)},
	{"start_s", "how long it flows `s`", console.Number(func(in *Input) *float64 { return &in.StartS }, 0.01, 600)},
	{
		"start_allowed_percent", "drop allowed at the start, `%` (10 for dc, otherwise 35)",
		console.Number(func(in *Input) *float64 { return &in.StartAllowedPercent }, 0.1, 90),
	},
	{"start_power_factor", "at the start (1 for dc, otherwise `0.5`)", console.Number(func(in *Input) *float64 { return &in.StartPowerFactor }, 0.05, 1)},
	{"metal", "copper or aluminium (copper)", console.Words(func(in *Input) *string { return &in.Metal }, "copper", "aluminium")},
	{
		"stranding", "solid, stranded or flexible (flexible on boats, otherwise stranded)",
		console.Words(func(in *Input) *string { return &in.Stranding }, "solid", "stranded", "flexible"),
	},
	{"insulation_c", "rating of building wire, 60, 75 or 90 `°C` (75)", console.Number(func(in *Input) *float64 { return &in.InsulationC }, 60, 105)},
	{"terminals_c", "marked rating of the terminals, 60, 75 or 90 `°C` (not marked)", console.Number(func(in *Input) *float64 { return &in.TerminalsC }, 60, 90)},
	{"ambient_c", "of the air around the run, `°C` (30; 50 in an engine space)", console.Number(func(in *Input) *float64 { return &in.AmbientC }, -40, 100)},
	{"engine_space", "`yes` if a boat's cable runs through one (no)", console.Yes(func(in *Input) *bool { return &in.EngineSpace })},
	{"conductors", "`number` that carry current in one bundle or raceway (2, or 3 for three phases)", setConductors},
	{
		"device", "any, time-delay-fuse, strip-fuse or breaker (any)",
		console.Words(func(in *Input) *string { return &in.Device }, "any", "time-delay-fuse", "strip-fuse", "breaker"),
	},
	{"sheathed", "`yes` if the cable from the battery is in a sheath or conduit (no)", console.Yes(func(in *Input) *bool { return &in.Sheathed })},
	{"source_low_mohm", "least resistance of the battery bank `mΩ`, for the short-circuit current", console.Number(func(in *Input) *float64 { return &in.SourceLowMohm }, 0.01, 10000)},
	{"source_high_mohm", "highest resistance of it `mΩ` (3 times the least)", console.Number(func(in *Input) *float64 { return &in.SourceHighMohm }, 0.01, 10000)},
	{"stud", "that the terminals go on, `size` such as M10 or 3/8", setStud(func(in *Input) *string { return &in.Stud })},
	{"terminal", "`size` that the terminals are labelled for (the stud's)", setStud(func(in *Input) *string { return &in.Terminal })},
}

func setConductors(in *Input, text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 1000 {
		return fmt.Errorf("%s, want a whole number from 1 to 1000", console.Quote(text))
	}
	in.Conductors = n
	return nil
}

func setStud(at func(*Input) *string) func(*Input, string) error {
	return func(in *Input, text string) error {
		s, err := conductor.ParseStud(text)
		if err != nil {
			return err
		}
		*at(in) = s.String()
		return nil
	}
}

func names() string {
	var all []string
	for _, c := range columns {
		all = append(all, c.name)
	}
	return strings.Join(all, ", ")
}
