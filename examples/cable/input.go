package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"ridethrough.example/conductor"
)

// Input is one run as it was asked for. Zero fields were not stated.
type Input struct {
	Name                string  `json:"name,omitempty"`
	System              string  `json:"system"`
	Practice            string  `json:"practice"`
	Volts               float64 `json:"volts"`
	CurrentA            float64 `json:"current_a"`
	Intermittent        bool    `json:"intermittent"`
	LengthM             float64 `json:"length_m"`
	AllowedPercent      float64 `json:"allowed_percent"`
	PowerFactor         float64 `json:"power_factor"`
	StartA              float64 `json:"start_a,omitempty"`
	StartS              float64 `json:"start_s,omitempty"`
	StartAllowedPercent float64 `json:"start_allowed_percent,omitempty"`
	StartPowerFactor    float64 `json:"start_power_factor,omitempty"`
	Metal               string  `json:"metal"`
	Stranding           string  `json:"stranding"`
	InsulationC         float64 `json:"insulation_c"`
	TerminalsC          float64 `json:"terminals_c,omitempty"`
	AmbientC            float64 `json:"ambient_c"`
	EngineSpace         bool    `json:"engine_space"`
	Conductors          int     `json:"conductors"`
	Device              string  `json:"device"`
	Sheathed            bool    `json:"sheathed"`
	SourceLowMohm       float64 `json:"source_low_mohm,omitempty"`
	SourceHighMohm      float64 `json:"source_high_mohm,omitempty"`
	Stud                string  `json:"stud,omitempty"`
	Terminal            string  `json:"terminal,omitempty"`

	where    string
	lengthFt float64
}

// A column is a flag of the command line and a column of the CSV.
type column struct {
	name, help string
	set        func(in *Input, text string) error
}

// columns in the order in which faults are reported.
var columns = []column{
	{"name", "`text` that names the run", func(in *Input, s string) error { in.Name = s; return nil }},
	{"system", "dc, single-phase or three-phase (dc)", words(func(in *Input) *string { return &in.System }, "dc", "single-phase", "three-phase")},
	{
		"practice", "boat (105 °C cable below 60 V) or code (building wire); by default boat for dc below 60 `V`",
		words(func(in *Input) *string { return &in.Practice }, "boat", "code"),
	},
	{"volts", "source voltage `V`, line to line for three phases", number(func(in *Input) *float64 { return &in.Volts }, 1, 1000)},
	{"current_a", "running current `A`", number(func(in *Input) *float64 { return &in.CurrentA }, 0.01, 3000)},
	{"intermittent", "`yes` if it runs for less than three hours at a time (no)", yes(func(in *Input) *bool { return &in.Intermittent })},
	{"length_m", "one-way length `m`", number(func(in *Input) *float64 { return &in.LengthM }, 0.05, 5000)},
	{"length_ft", "one-way length `ft`, instead", number(func(in *Input) *float64 { return &in.lengthFt }, 0.2, 15000)},
	{"allowed_percent", "drop allowed while running, `%` (3)", number(func(in *Input) *float64 { return &in.AllowedPercent }, 0.1, 20)},
	{"power_factor", "of the running load (1 for dc, otherwise `0.8`)", number(func(in *Input) *float64 { return &in.PowerFactor }, 0.05, 1)},
	{"start_a", "current at the start `A`", number(func(in *Input) *float64 { return &in.StartA }, 0.01, 10000)},
	{"start_s", "how long it flows `s`", number(func(in *Input) *float64 { return &in.StartS }, 0.01, 600)},
	{
		"start_allowed_percent", "drop allowed at the start, `%` (10 for dc, otherwise 35)",
		number(func(in *Input) *float64 { return &in.StartAllowedPercent }, 0.1, 90),
	},
	{"start_power_factor", "at the start (1 for dc, otherwise `0.5`)", number(func(in *Input) *float64 { return &in.StartPowerFactor }, 0.05, 1)},
	{"metal", "copper or aluminium (copper)", words(func(in *Input) *string { return &in.Metal }, "copper", "aluminium")},
	{
		"stranding", "solid, stranded or flexible (flexible on boats, otherwise stranded)",
		words(func(in *Input) *string { return &in.Stranding }, "solid", "stranded", "flexible"),
	},
	{"insulation_c", "rating of building wire, 60, 75 or 90 `°C` (75)", number(func(in *Input) *float64 { return &in.InsulationC }, 60, 105)},
	{"terminals_c", "marked rating of the terminals, 60, 75 or 90 `°C` (not marked)", number(func(in *Input) *float64 { return &in.TerminalsC }, 60, 90)},
	{"ambient_c", "of the air around the run, `°C` (30; 50 in an engine space)", number(func(in *Input) *float64 { return &in.AmbientC }, -40, 100)},
	{"engine_space", "`yes` if a boat's cable runs through one (no)", yes(func(in *Input) *bool { return &in.EngineSpace })},
	{"conductors", "`number` that carry current in one bundle or raceway (2, or 3 for three phases)", setConductors},
	{
		"device", "any, time-delay-fuse, strip-fuse or breaker (any)",
		words(func(in *Input) *string { return &in.Device }, "any", "time-delay-fuse", "strip-fuse", "breaker"),
	},
	{"sheathed", "`yes` if the cable from the battery is in a sheath or conduit (no)", yes(func(in *Input) *bool { return &in.Sheathed })},
	{"source_low_mohm", "least resistance of the battery bank `mΩ`, for the short-circuit current", number(func(in *Input) *float64 { return &in.SourceLowMohm }, 0.01, 10000)},
	{"source_high_mohm", "highest resistance of it `mΩ` (3 times the least)", number(func(in *Input) *float64 { return &in.SourceHighMohm }, 0.01, 10000)},
	{"stud", "that the terminals go on, `size` such as M10 or 3/8", setStud(func(in *Input) *string { return &in.Stud })},
	{"terminal", "`size` that the terminals are labelled for (the stud's)", setStud(func(in *Input) *string { return &in.Terminal })},
}

func number(at func(*Input) *float64, lo, hi float64) func(*Input, string) error {
	return func(in *Input, text string) error {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || !(x >= lo && x <= hi) {
			return fmt.Errorf("%s, want a number from %g to %g", quote(text), lo, hi)
		}
		*at(in) = x
		return nil
	}
}

func words(at func(*Input) *string, want ...string) func(*Input, string) error {
	return func(in *Input, text string) error {
		if !slices.Contains(want, text) {
			return fmt.Errorf("%s, want %s", quote(text), strings.Join(want, ", "))
		}
		*at(in) = text
		return nil
	}
}

func yes(at func(*Input) *bool) func(*Input, string) error {
	return func(in *Input, text string) error {
		if text != "yes" && text != "no" {
			return fmt.Errorf("%s, want yes or no", quote(text))
		}
		*at(in) = text == "yes"
		return nil
	}
}

func setConductors(in *Input, text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 1000 {
		return fmt.Errorf("%s, want a whole number from 1 to 1000", quote(text))
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

func quote(text string) string {
	const longest = 40
	if len(text) > longest {
		text = text[:longest] + "…"
	}
	return strconv.QuoteToASCII(text)
}

// newInput makes a run of the cells of a row, or of the flags where those are
// blank.
func newInput(where string, flags, cells map[string]string) (Input, error) {
	in := Input{where: where, AmbientC: math.NaN()}
	var err error
	for _, c := range columns {
		text := strings.TrimSpace(cells[c.name])
		if text == "" {
			// One length stands for the other.
			if c.name == "length_m" && strings.TrimSpace(cells["length_ft"]) != "" ||
				c.name == "length_ft" && strings.TrimSpace(cells["length_m"]) != "" {
				continue
			}
			text = strings.TrimSpace(flags[c.name])
		}
		if text == "" {
			continue
		}
		if e := c.set(&in, text); e != nil {
			err = errors.Join(err, fmt.Errorf("%s: %s: %w", where, c.name, e))
		}
	}
	if err != nil {
		return Input{}, err
	}
	in.defaults()
	if err := in.check(); err != nil {
		return Input{}, err
	}
	if in.LengthM == 0 {
		in.LengthM = in.lengthFt * float64(conductor.Foot)
	}
	return in, nil
}

func (in *Input) defaults() {
	set := func(at *string, text string) {
		if *at == "" {
			*at = text
		}
	}
	setTo := func(at *float64, x float64) {
		if *at == 0 {
			*at = x
		}
	}
	either := func(dc bool, x, y float64) float64 {
		if dc {
			return x
		}
		return y
	}
	set(&in.System, "dc")
	dc := in.System == "dc"
	if dc && in.Volts < boatVolts {
		set(&in.Practice, "boat")
	}
	set(&in.Practice, "code")
	boat := in.Practice == "boat"
	set(&in.Metal, "copper")
	if boat {
		set(&in.Stranding, "flexible")
	}
	set(&in.Stranding, "stranded")
	set(&in.Device, "any")
	setTo(&in.AllowedPercent, 3)
	setTo(&in.PowerFactor, either(dc, 1, 0.8))
	if in.StartA != 0 {
		setTo(&in.StartAllowedPercent, either(dc, 10, 35))
		setTo(&in.StartPowerFactor, either(dc, 1, 0.5))
	}
	setTo(&in.InsulationC, either(boat, 105, 75))
	if math.IsNaN(in.AmbientC) {
		in.AmbientC = either(in.EngineSpace, 50, 30)
	}
	if in.Conductors == 0 {
		in.Conductors = 2
		if in.System == "three-phase" {
			in.Conductors = 3
		}
	}
	setTo(&in.SourceHighMohm, 3*in.SourceLowMohm)
	if in.Stud == "" {
		in.Stud = in.Terminal
	}
	if in.Terminal == "" {
		in.Terminal = in.Stud
	}
}

const boatVolts = 60

// check refuses what does not go together.
func (in *Input) check() error {
	var err error
	complain := func(bad bool, text string) {
		if bad {
			err = errors.Join(err, fmt.Errorf("%s: %s", in.where, text))
		}
	}
	complain(in.Volts == 0, "volts is missing")
	complain(in.CurrentA == 0, "current_a is missing")
	complain(in.LengthM == 0 && in.lengthFt == 0, "length_m or length_ft is missing")
	complain(in.LengthM != 0 && in.lengthFt != 0, "length_m and length_ft are both given")
	complain((in.StartA == 0) != (in.StartS == 0), "start_a and start_s go together")
	complain(in.StartA != 0 && in.StartA < in.CurrentA, "start_a is below current_a")
	complain(in.System == "dc" && (in.PowerFactor != 1 || in.StartA != 0 && in.StartPowerFactor != 1), "direct current has no power factor")
	boat := in.Practice == "boat"
	complain(boat && (in.System != "dc" || in.Volts >= boatVolts), "practice boat is for dc below 60 V")
	complain(boat && in.Metal != "copper", "practice boat is for copper")
	complain(boat && in.InsulationC != 105, "practice boat is for insulation of 105 °C")
	complain(!boat && in.InsulationC != 60 && in.InsulationC != 75 && in.InsulationC != 90, "insulation_c of building wire is 60, 75 or 90")
	complain(in.TerminalsC != 0 && in.TerminalsC != 60 && in.TerminalsC != 75 && in.TerminalsC != 90, "terminals_c is 60, 75 or 90")
	complain(boat && in.TerminalsC != 0, "terminals_c is for practice code")
	complain(!boat && in.EngineSpace, "engine_space is for practice boat")
	complain(in.SourceLowMohm == 0 && in.SourceHighMohm != 0, "source_high_mohm needs source_low_mohm")
	complain(in.SourceHighMohm < in.SourceLowMohm, "source_high_mohm is below source_low_mohm")
	complain(in.SourceLowMohm != 0 && in.System != "dc", "source_low_mohm is for dc")
	return err
}

// readCSV reads runs, all faults at once.
func readCSV(r io.Reader, flags map[string]string) ([]Input, error) {
	in := csv.NewReader(r)
	in.Comment = '#'
	head, err := in.Read()
	if errors.Is(err, io.EOF) {
		return nil, errors.New("line 1: want a line with the names of the columns")
	}
	if err != nil {
		return nil, fmt.Errorf("CSV: %w", err)
	}
	line, _ := in.FieldPos(0)
	for i, name := range head {
		name = strings.TrimSpace(strings.TrimPrefix(name, "\ufeff"))
		known := slices.ContainsFunc(columns, func(c column) bool { return c.name == name })
		if !known {
			return nil, fmt.Errorf("line %d: column %s is not known; the columns are %s", line, quote(name), names())
		}
		if slices.Contains(head[:i], name) {
			return nil, fmt.Errorf("line %d: column %s stands twice", line, name)
		}
		head[i] = name
	}
	var inputs []Input
	var faults error
	for {
		record, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, errors.Join(faults, fmt.Errorf("CSV: %w", err))
		}
		line, _ := in.FieldPos(0)
		cells := map[string]string{}
		for i, name := range head {
			cells[name] = record[i]
		}
		input, err := newInput(fmt.Sprintf("line %d", line), flags, cells)
		faults = errors.Join(faults, err)
		inputs = append(inputs, input)
	}
	if faults == nil && len(inputs) == 0 {
		faults = fmt.Errorf("line %d: no run below the names of the columns", line)
	}
	if faults != nil {
		return nil, faults
	}
	return inputs, nil
}

func names() string {
	var all []string
	for _, c := range columns {
		all = append(all, c.name)
	}
	return strings.Join(all, ", ")
}
