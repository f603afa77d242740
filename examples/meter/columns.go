package main

import (
	"math"
	"strings"

	"ridethrough.example/examples/internal/console"
)

// A column is a flag of the command line.
type column struct {
	name, help string
	set        func(in *Input, text string) error
}

// columns in the order in which faults are reported.
var columns = []column{
	{"name", "`text` that names the load", func(in *Input, s string) error { in.Name = s; return nil }},
	reading("v", "ac voltage `V`, rms", func(in *Input) *float64 { return &in.V }, 60, 600),
	reading("a", "ac current `A`, rms, of a plug-in meter or a clamp on one wire", func(in *Input) *float64 { return &in.A }, 0.01, 1000),
	reading("w", "real power `W`, the key W of a plug-in meter", func(in *Input) *float64 { return &in.W }, 0.1, 100e3),
	reading("pf", "power factor, the key PF, instead of w (0.6 to 0.85 supposed where neither was read)", func(in *Input) *float64 { return &in.PF }, 0.1, 1),
	{"hz", "frequency `Hz` (60)", console.Number(func(in *Input) *float64 { return &in.Hz }, 45, 66)},
	reading("start_a", "greatest current `A` seen at the start", func(in *Input) *float64 { return &in.StartA }, 0.01, 10e3),
	reading("start_w", "greatest power `W` seen at the start", func(in *Input) *float64 { return &in.StartW }, 0.1, 1e6),
	reading("dc_v", "voltage `V` at the inverter's input, load on", func(in *Input) *float64 { return &in.DCV }, 8, 600),
	reading("dc_a", "dc current `A` there, of a shunt or a clamp that reads dc", func(in *Input) *float64 { return &in.DCA }, 0.01, 5000),
	reading("light_dc_v", "the same voltage `V` at a light load, for the resistance of the source", func(in *Input) *float64 { return &in.LightDCV }, 8, 600),
	reading("light_dc_a", "the current `A` that went with it", func(in *Input) *float64 { return &in.LightDCA }, 0, 5000),
	reading("kwh", "energy `kWh` counted by a plug-in meter", func(in *Input) *float64 { return &in.KWh }, 0.001, 100e3),
	reading("hours", "over how many hours `h`", func(in *Input) *float64 { return &in.Hours }, 0.1, 9000),
	{"label_v", "voltage `V` on the label of the load", console.Number(func(in *Input) *float64 { return &in.LabelV }, 60, 600)},
	{"label_a", "current `A` on the label", console.Number(func(in *Input) *float64 { return &in.LabelA }, 0.01, 1000)},
	{"usable_wh", "usable energy `Wh` of the battery, for the run time", console.Number(func(in *Input) *float64 { return &in.UsableWh }, 1, 1e6)},
	{"wave", "of the source: sine or stepped (sine)", console.Words(func(in *Input) *string { return &in.Wave }, "sine", "stepped")},
	{"peak_v", "peak `V` of a stepped wave", console.Number(func(in *Input) *float64 { return &in.PeakV }, 60, 900)},
	{"meter", "true-rms, or averaging: takes the mean and is scaled for sine (true-rms)", console.Words(func(in *Input) *string { return &in.Meter }, "true-rms", "averaging")},
	{"target_pf", "power factor that a capacitor should bring (0.95)", console.Number(func(in *Input) *float64 { return &in.TargetPF }, 0.5, 1)},
	{"accuracy_percent", "of the ac readings, `%` (2)", console.Number(func(in *Input) *float64 { return &in.AccuracyPercent }, 0, 20)},
	{"dc_volts_percent", "of the dc voltage, `%` (0.5)", console.Number(func(in *Input) *float64 { return &in.DCVoltsPercent }, 0, 20)},
	{"clamp_percent", "of the dc current, `%` (3)", console.Number(func(in *Input) *float64 { return &in.ClampPercent }, 0, 20)},
	{"digits", "steps of the last digit typed, besides (2)", console.Number(func(in *Input) *float64 { return &in.Digits }, 0, 50)},
}

// reading is a column whose last digit counts.
func reading(name, help string, at func(*Input) *float64, lo, hi float64) column {
	number := console.Number(at, lo, hi)
	return column{name, help, func(in *Input, text string) error {
		if err := number(in, text); err != nil {
			return err
		}
		in.step[name] = lastDigit(text)
		if name == "pf" {
			in.step[name] = min(in.step[name], 0.1) // a 1 is a 1.0: no meter shows whole power factors
		}
		return nil
	}}
}

// lastDigit is what one step of the last digit typed is: 0.01 for 6.60.
func lastDigit(text string) float64 {
	mantissa, _, scientific := strings.Cut(strings.ToLower(text), "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	if scientific || strings.ContainsAny(text, "xX_pP") {
		return 0 // nobody read that from a display
	}
	return math.Pow10(-len(decimals))
}
