package main

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// Input is what was read, with the defaults filled in. Zero fields were not read.
type Input struct {
	Name     string  `json:"name,omitempty"`
	V        float64 `json:"v,omitempty"`
	A        float64 `json:"a,omitempty"`
	W        float64 `json:"w,omitempty"`
	PF       float64 `json:"pf,omitempty"`
	Hz       float64 `json:"hz"`
	StartA   float64 `json:"start_a,omitempty"`
	StartW   float64 `json:"start_w,omitempty"`
	DCV      float64 `json:"dc_v,omitempty"`
	DCA      float64 `json:"dc_a,omitempty"`
	LightDCV float64 `json:"light_dc_v,omitempty"`
	LightDCA float64 `json:"light_dc_a,omitempty"`
	KWh      float64 `json:"kwh,omitempty"`
	Hours    float64 `json:"hours,omitempty"`
	LabelV   float64 `json:"label_v,omitempty"`
	LabelA   float64 `json:"label_a,omitempty"`
	UsableWh float64 `json:"usable_wh,omitempty"`
	Wave     string  `json:"wave"`
	PeakV    float64 `json:"peak_v,omitempty"`
	Meter    string  `json:"meter"`
	TargetPF float64 `json:"target_pf"`

	AccuracyPercent float64 `json:"accuracy_percent"`
	DCVoltsPercent  float64 `json:"dc_volts_percent"`
	ClampPercent    float64 `json:"clamp_percent"`
	Digits          float64 `json:"digits"`

	step    map[string]float64 // of the last digit typed
	given   map[string]bool
	assumed []string
}

// newInput makes readings of the flags.
func newInput(flags map[string]string) (Input, error) {
	in := Input{given: map[string]bool{}, step: map[string]float64{}}
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
	in.defaults()
	if err := in.check(); err != nil {
		return Input{}, err
	}
	return in, nil
}

func (in *Input) assume(format string, args ...any) {
	in.assumed = append(in.assumed, fmt.Sprintf(format, args...))
}

func (in *Input) defaults() {
	set := func(at *string, text string) {
		if *at == "" {
			*at = text
		}
	}
	setTo := func(name string, at *float64, x float64) {
		if !in.given[name] {
			*at = x
		}
	}
	set(&in.Wave, "sine")
	set(&in.Meter, "true-rms")
	setTo("hz", &in.Hz, 60)
	setTo("target_pf", &in.TargetPF, 0.95)
	setTo("accuracy_percent", &in.AccuracyPercent, 2)
	setTo("dc_volts_percent", &in.DCVoltsPercent, 0.5)
	setTo("clamp_percent", &in.ClampPercent, 3)
	setTo("digits", &in.Digits, 2)
	if (in.V != 0 || in.A != 0 || in.W != 0) && !in.given["accuracy_percent"] {
		in.assume("ac readings within %g %%", in.AccuracyPercent)
	}
	if in.DCV != 0 && !in.given["dc_volts_percent"] {
		in.assume("dc volts within %g %%", in.DCVoltsPercent)
	}
	if in.DCA != 0 && !in.given["clamp_percent"] {
		in.assume("dc amperes within %g %%", in.ClampPercent)
	}
	if !in.given["digits"] && (in.V != 0 || in.W != 0 || in.DCV != 0) {
		in.assume("besides, %g steps of the last digit typed", in.Digits)
	}
	if in.V != 0 && !in.given["wave"] {
		in.assume("the source is a sine")
	}
	if (in.V != 0 || in.A != 0) && !in.given["meter"] {
		in.assume("the ac meter is a true-rms meter")
	}
}

// mostStart is start over run beyond which one of them is mistyped.
const mostStart = 100

// blind reports whether the ac volts and amperes say nothing by themselves: a
// mean that is scaled for sine, of a wave that is none.
func (in *Input) blind() bool { return in.Meter == "averaging" && in.Wave == "stepped" }

// supposes reports whether the power factor is a guess.
func (in *Input) supposes() bool { return in.A != 0 && in.W == 0 && in.PF == 0 && !in.blind() }

// check refuses what does not go together.
func (in *Input) check() error {
	var err error
	complain := func(bad bool, text string) {
		if bad {
			err = errors.Join(err, errors.New(text))
		}
	}
	needs := func(name string, others ...string) {
		for _, o := range others {
			complain(in.given[name] && !in.given[o], name+" needs "+o)
		}
	}
	needs("a", "v")
	needs("pf", "a")
	needs("start_a", "a")
	needs("start_w", "w")
	needs("dc_a", "dc_v")
	needs("light_dc_v", "light_dc_a", "dc_a")
	needs("light_dc_a", "light_dc_v")
	needs("kwh", "hours")
	needs("hours", "kwh")
	needs("label_a", "label_v")
	needs("peak_v", "v")
	complain(in.given["w"] && in.given["pf"], "w and pf are both given")
	complain(in.given["peak_v"] && in.Wave != "stepped", "peak_v is for wave stepped")
	complain(in.given["v"] && in.Wave == "stepped" && in.Meter == "averaging" && !in.given["peak_v"], "peak_v is missing: an averaging meter says nothing of a stepped wave without it")
	complain(in.StartA != 0 && in.StartA < in.A, "start_a is below a")
	complain(in.StartW != 0 && in.StartW < in.W, "start_w is below w")
	complain(in.StartA > mostStart*in.A && in.A != 0, "start_a is more than 100 times a")
	complain(in.StartW > mostStart*in.W && in.W != 0, "start_w is more than 100 times w")
	complain(in.LightDCA > in.DCA, "light_dc_a is above dc_a: the light load takes less")
	complain(in.Digits != math.Trunc(in.Digits), "digits is a whole number")
	something := false
	for _, name := range []string{"v", "w", "dc_v", "kwh", "label_a"} {
		something = something || in.given[name]
	}
	complain(!something, "nothing was read: v, w, dc_v, kwh or label_a is missing")
	return err
}
