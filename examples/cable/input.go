package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"ridethrough.example/conductor"
	"ridethrough.example/examples/internal/console"
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
			return nil, fmt.Errorf("line %d: column %s is not known; the columns are %s", line, console.Quote(name), names())
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
