package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/examples/internal/console"
	"ridethrough.example/internal/reftest"
)

func TestMain(m *testing.M) { reftest.Main(m) }

// call runs the program.
func call(args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	code = run(args, &out, &errs)
	return code, out.String(), errs.String()
}

// answer runs the program for JSON and reads it.
func answer(t *testing.T, args ...string) (int, Answer) {
	t.Helper()
	code, out, errs := call(append([]string{"-format", "json"}, args...)...)
	require.Empty(t, errs, args)
	var a Answer
	d := json.NewDecoder(strings.NewReader(out))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(&a))
	return code, a
}

// exact takes the spread away, so that a figure can be laid beside another.
func exact(more ...string) []string {
	return append([]string{"-accuracy-percent", "0", "-dc-volts-percent", "0", "-clamp-percent", "0", "-digits", "0"}, more...)
}

var pump = []string{
	"-v", "118", "-a", "6.60", "-w", "520", "-dc-v", "24.1", "-dc-a", "26.0", "-light-dc-v", "25.3", "-light-dc-a", "1.0",
	"-label-v", "115", "-label-a", "9.8", "-usable-wh", "2400", "-kwh", "3.1", "-hours", "24", "-start-a", "31", "-name", "pump",
}

// all that can be read, by hand: 118 V times 6.60 A are 778.8 VA, 520 W of them
// are real, and 24.1 V times 26.0 A are 626.6 W.
func TestPump(t *testing.T) {
	code, a := answer(t, exact(pump...)...)
	assert.Equal(t, console.Done, code)
	assert.True(t, a.Holds)
	mid := func(s *Span) float64 {
		require.NotNil(t, s)
		assert.InDelta(t, s.Low, s.High, 0)
		return s.Low
	}
	reactive := math.Sqrt(778.8*778.8 - 520*520)
	assert.InEpsilon(t, 778.8, mid(a.Result.ApparentVA), 5e-4)
	assert.InEpsilon(t, 520, mid(a.Result.RealW), 5e-4)
	assert.InEpsilon(t, 520/778.8, mid(a.Result.PowerFactor), 5e-4)
	assert.InEpsilon(t, reactive, mid(a.Result.ReactiveVar), 5e-4)
	assert.InEpsilon(t, 1e6*(reactive-520*math.Tan(math.Acos(0.95)))/(2*math.Pi*60*118*118), mid(a.Result.CapacitorUF), 5e-4)
	assert.InEpsilon(t, 626.6, mid(a.Result.DCW), 5e-4)
	assert.InEpsilon(t, 520/626.6, mid(a.Result.Efficiency), 5e-4)
	assert.InEpsilon(t, 1000*1.2/25, mid(a.Result.SourceMohm), 5e-4)
	assert.InEpsilon(t, 25.3+0.048, mid(a.Result.OpenCircuitV), 5e-4)
	assert.InEpsilon(t, 2400/626.6, mid(a.Result.RunTimeH), 5e-4)
	assert.InEpsilon(t, 3100./24, a.Result.MeanW, 5e-4)
	assert.InEpsilon(t, 100*3100./24/520, a.Result.DutyPercent, 5e-4)
	assert.InEpsilon(t, 31/6.6, a.Result.StartRatio, 5e-4)
	assert.InEpsilon(t, 1127, a.Result.LabelVA, 5e-4)
	for _, f := range a.Findings {
		assert.NotEmpty(t, f.About)
		assert.NotEmpty(t, f.Answer)
		assert.NotEmpty(t, f.Source)
	}
	assert.Equal(t, cautions(), a.Cautions)
}

// 2 % and two digits of 1 V are 4.36 V of 118; of 0.01 A they are 0.152 A of 6.60.
func TestSpread(t *testing.T) {
	_, a := answer(t, "-v", "118", "-a", "6.60", "-w", "520")
	assert.InEpsilon(t, (118-4.36)*(6.6-0.152), a.Result.ApparentVA.Low, 5e-4)
	assert.InEpsilon(t, (118+4.36)*(6.6+0.152), a.Result.ApparentVA.High, 5e-4)
	assert.InEpsilon(t, 520-12.4, a.Result.RealW.Low, 5e-4)
	assert.NotEmpty(t, a.Assumed)
	// A digit typed is a digit read.
	_, coarse := answer(t, "-v", "118", "-a", "6.6", "-w", "520")
	assert.Less(t, coarse.Result.ApparentVA.Low, a.Result.ApparentVA.Low)
	_, fine := answer(t, "-v", "118.00", "-a", "6.600", "-w", "520.00", "-accuracy-percent", "0.5")
	assert.Greater(t, fine.Result.ApparentVA.Low, a.Result.ApparentVA.Low)
}

// People's readings with the figures that belong to them.
func TestFieldReadings(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/meter_field.csv") {
		text := func(name string) string {
			number, _, _ := strings.Cut(row.ParamText(name), " ")
			return number
		}
		switch row.Text("quantity") {
		case "mean power":
			code, a := answer(t, exact("-kwh", text("E"), "-hours", text("t"))...)
			assert.Equal(t, console.Done, code)
			row.Expected(a.Result.MeanW)
		case "energy a day":
			_, a := answer(t, exact("-kwh", text("E"), "-hours", text("t"))...)
			row.Expected(a.Result.DayKWh)
		case "run time":
			_, a := answer(t, exact("-w", text("P"), "-usable-wh", text("E"))...)
			row.Expected(a.Result.RunTimeH.Low)
		case "start over run":
			code, a := answer(t, "-w", text("run"), "-start-w", text("start"))
			assert.Equal(t, console.Fails, code)
			assert.Contains(t, a.Findings[0].Answer, "too slow")
			row.Expected(a.Result.StartRatio)
		case "ac apparent power":
			_, a := answer(t, exact("-v", text("V"), "-a", text("I"))...)
			row.Expected(a.Result.ApparentVA.Low)
			assert.Less(t, a.Result.RealW.High, a.Result.ApparentVA.Low)
		case "dc power":
			_, a := answer(t, exact("-dc-v", text("V"), "-dc-a", text("I"))...)
			row.Expected(a.Result.DCW.Low)
		case "dc current if the label were all":
			_, a := answer(t, "-label-v", text("V"), "-label-a", text("I"), "-dc-v", text("Vdc"), "-dc-a", text("monitor"))
			gives, err := strconv.ParseFloat(strings.TrimSuffix(a.Mistakes[0].Gives, " A dc"), 64)
			require.NoError(t, err)
			row.Expected(gives)
			assert.Contains(t, a.Mistakes[0].Instead, "5 A dc read")
		}
	}
}

// The small air conditioner: volt-amperes over dc watts are no efficiency.
func TestAirConditioner(t *testing.T) {
	code, a := answer(t, exact("-v", "117", "-a", "4.0", "-dc-v", "12.4", "-dc-a", "40")...)
	assert.Equal(t, console.Done, code)
	assert.Contains(t, strings.Join(a.Assumed, " "), "power factor 0.6 to 0.85")
	gives := map[string]string{}
	for _, m := range a.Mistakes {
		gives[m.Mistake] = m.Gives
	}
	assert.Equal(t, "0.9435", gives["volt-amperes out over dc watts in called efficiency"])
	assert.Equal(t, "468 W", gives["volts times amperes called watts"])
	assert.Equal(t, "4 A", gives["ac amperes counted at the battery"])
	assert.InEpsilon(t, 468*0.6/496, a.Result.Efficiency.Low, 5e-4)
	assert.InEpsilon(t, 468*0.85/496, a.Result.Efficiency.High, 5e-4)
}

// A stepped wave of 50 % duty: 120 V rms, 108 V that turn a motor, and 94 V on
// an averaging meter; 140 V peak and 113 V rms are 107.6 V.
func TestSteppedWave(t *testing.T) {
	code, a := answer(t, "-v", "120", "-wave", "stepped", "-peak-v", "169.7")
	assert.Equal(t, console.Done, code)
	assert.InDelta(t, 108.04, a.Result.FundamentalV, 0.05)
	assert.InDelta(t, 94.2, a.Result.AveragingV, 0.06)
	assert.InDelta(t, 48.34, a.Result.THDPercent, 0.05)
	assert.InDelta(t, 81.06, a.Result.TorquePercent, 0.05)
	code, a = answer(t, "-v", "94.2", "-wave", "stepped", "-peak-v", "169.7", "-meter", "averaging")
	assert.Equal(t, console.Done, code)
	assert.InDelta(t, 120, a.Result.TrueV, 0.06)
	assert.Equal(t, "94.2 V", a.Mistakes[0].Gives)
	_, a = answer(t, "-v", "113", "-wave", "stepped", "-peak-v", "140")
	assert.InDelta(t, 107.6, a.Result.FundamentalV, 0.05)
	code, a = answer(t, "-v", "120", "-a", "5", "-w", "400", "-wave", "stepped", "-peak-v", "150")
	assert.Equal(t, console.Done, code)
	assert.Nil(t, a.Result.CapacitorUF, "no capacitor on a stepped wave")
}

func TestExitCodes(t *testing.T) {
	for name, tt := range map[string]struct {
		args []string
		code int
		says string
	}{
		"holds":            {pump, console.Done, ""},
		"more W than VA":   {[]string{"-v", "120", "-a", "3.50", "-w", "520"}, console.Fails, ""},
		"more out than in": {[]string{"-w", "520", "-dc-v", "12.4", "-dc-a", "30.0"}, console.Fails, ""},
		"too slow":         {[]string{"-v", "120", "-a", "5.0", "-start-a", "9.0"}, console.Fails, ""},
		"currents alike":   {[]string{"-dc-v", "12.0", "-dc-a", "30.0", "-light-dc-v", "12.1", "-light-dc-a", "29.0"}, console.Fails, ""},
		"voltage rises":    {[]string{"-dc-v", "13.0", "-dc-a", "30.0", "-light-dc-v", "12.0", "-light-dc-a", "1.0"}, console.Fails, ""},
		"wrong voltage":    {[]string{"-v", "120", "-label-v", "240"}, console.Fails, ""},
		"duty above 1":     {[]string{"-w", "65", "-kwh", "2.4", "-hours", "24"}, console.Fails, ""},
		"above the label":  {[]string{"-v", "118", "-a", "12.0", "-label-v", "115", "-label-a", "9.8"}, console.Fails, ""},
		"loads swapped":    {[]string{"-dc-v", "25.3", "-dc-a", "1.0", "-light-dc-v", "24.1", "-light-dc-a", "26.0"}, console.Input, "light_dc_a is above dc_a"},
		"start mistyped":   {[]string{"-w", "10", "-start-w", "1500"}, console.Input, "start_w is more than 100 times w"},
		"averaging amps":   {[]string{"-v", "94", "-a", "3", "-wave", "stepped", "-peak-v", "170", "-meter", "averaging"}, console.Fails, ""},
		"above the peak":   {[]string{"-v", "170", "-wave", "stepped", "-peak-v", "150"}, console.Fails, ""},
		"above any mean":   {[]string{"-v", "190", "-wave", "stepped", "-peak-v", "150", "-meter", "averaging"}, console.Fails, ""},
		"nothing":          {nil, console.Usage, "usage"},
		"unknown flag":     {[]string{"-volts", "3"}, console.Usage, "volts"},
		"unknown form":     {[]string{"-format", "xml", "-v", "110"}, console.Usage, "usage"},
		"argument":         {[]string{"-v", "110", "x"}, console.Usage, "usage"},
		"help":             {[]string{"-h"}, console.Done, "usage"},
		"bad number":       {[]string{"-v", "mains"}, console.Input, `v: "mains"`},
		"NaN":              {[]string{"-dc-v", "NaN"}, console.Input, "dc_v"},
		"word":             {[]string{"-v", "120", "-wave", "square"}, console.Input, "want sine, stepped"},
		"control":          {[]string{"-v", "120", "-meter", "\x1b[31m"}, console.Input, `\x1b`},
		"amps alone":       {[]string{"-a", "5"}, console.Input, "a needs v"},
		"kwh alone":        {[]string{"-kwh", "5"}, console.Input, "kwh needs hours"},
		"both":             {[]string{"-v", "120", "-a", "5", "-w", "300", "-pf", "0.5"}, console.Input, "w and pf are both given"},
		"start below run":  {[]string{"-w", "500", "-start-w", "400"}, console.Input, "start_w is below w"},
		"peak on a sine":   {[]string{"-v", "120", "-peak-v", "170"}, console.Input, "peak_v is for wave stepped"},
		"no peak":          {[]string{"-v", "94", "-wave", "stepped", "-meter", "averaging"}, console.Input, "peak_v is missing"},
		"part of a digit":  {[]string{"-v", "120", "-digits", "1.5"}, console.Input, "whole number"},
		"nothing read":     {[]string{"-label-v", "120"}, console.Input, "nothing was read"},
		"no watts":         {[]string{"-v", "120", "-usable-wh", "400"}, console.Input, "usable_wh needs watts"},
	} {
		t.Run(name, func(t *testing.T) {
			code, out, errs := call(tt.args...)
			assert.Equal(t, tt.code, code, out+errs)
			assert.Contains(t, errs, tt.says)
			if tt.code == console.Fails {
				assert.Contains(t, out, "DO NOT HOLD")
			}
			assert.NotContains(t, errs, "\x1b")
		})
	}
}

// Every number of the JSON carries its unit in its name, or is a ratio.
func TestShapeOfJSON(t *testing.T) {
	_, out, _ := call(append([]string{"-format", "json"}, pump...)...)
	var raw map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &raw))
	for _, key := range []string{"input", "holds", "result", "findings", "mistakes", "assumed", "cautions"} {
		assert.Contains(t, raw, key)
	}
	unit := regexp.MustCompile(`^(v|a|w|pf|hz|kwh|hours|digits|efficiency|power_factor)$|_(v|a|w|va|var|wh|kwh|h|uf|mohm|percent|ratio|pf)$`)
	for _, part := range []string{"input", "result"} {
		fields, ok := raw[part].(map[string]any)
		require.True(t, ok)
		for name, value := range fields {
			if _, words := value.(string); !words {
				assert.Regexp(t, unit, name)
			}
		}
	}
	assert.NotContains(t, out, `\u003c`)
}

func TestSameInputSameBytes(t *testing.T) {
	for _, format := range []string{"text", "json"} {
		_, first, _ := call(append([]string{"-format", format}, pump...)...)
		for range 5 {
			_, again, _ := call(append([]string{"-format", format}, pump...)...)
			assert.Equal(t, first, again)
		}
	}
}

func TestText(t *testing.T) {
	_, out, _ := call(pump...)
	for _, want := range []string{
		"pump: hold together", "[S = V·I]", "[measured]", "Usual mistakes", "volts times amperes called watts: 778.8 W; instead 507.6 to 532.4 W",
		"ac amperes counted at the battery: 6.6 A; instead 26 A dc", "amperes of the label taken for running amperes: 9.8 A",
		"Assumed", "ac readings within 2 %", "Cautions", "one wire", "licensed electrician",
	} {
		assert.Contains(t, out, want)
	}
	_, out, _ = call("-v", "120", "-name", "a\x07b")
	assert.NotContains(t, out, "\x07")
	assert.NotContains(t, out, "e+0")
}

func TestLastDigit(t *testing.T) {
	for text, want := range map[string]float64{"118": 1, "6.60": 0.01, "6.6": 0.1, "1e2": 0, "0x1p3": 0, "12.": 1} {
		assert.InDelta(t, want, lastDigit(text), 1e-15, text)
	}
}

type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errors.New("pipe is broken") }

func TestWriteFails(t *testing.T) {
	var errs bytes.Buffer
	assert.Equal(t, console.Input, run(pump, brokenPipe{}, &errs))
	assert.Contains(t, errs.String(), "pipe is broken")
}

// Whatever is typed, the program answers or says which flag is at fault, and
// never panics; what it prints is valid JSON with the cautions, and text and
// JSON agree.
func FuzzReadings(f *testing.F) {
	f.Add("118", "6.60", "520", "24.1", "26.0", "25.3", "1.0", uint8(0))
	f.Add("120", "5", "", "12", "40", "", "", uint8(1))
	f.Add("94.2", "3", "", "", "", "", "", uint8(2))
	f.Add("1e2", "0x1p3", "NaN", "-5", "", "99999", "", uint8(7))
	f.Add("600", "1000", "0.1", "8", "0.01", "600", "0", uint8(12))
	f.Fuzz(func(t *testing.T, v, a, w, dcV, dcA, lightV, lightA string, mode uint8) {
		var args []string
		for name, text := range map[string]string{"-v": v, "-a": a, "-w": w, "-dc-v": dcV, "-dc-a": dcA, "-light-dc-v": lightV, "-light-dc-a": lightA} {
			if text != "" {
				args = append(args, name+"="+text)
			}
		}
		if mode&1 != 0 {
			args = append(args, "-usable-wh=420", "-label-v=115", "-label-a=6")
		}
		if mode&2 != 0 {
			args = append(args, "-wave=stepped", "-peak-v=169.7")
		}
		if mode&4 != 0 {
			args = append(args, "-meter=averaging")
		}
		if mode&8 != 0 {
			args = append(args, "-kwh=3.1", "-hours=24", "-start-w=3000")
		}
		code, out, errs := call(append([]string{"-format=json"}, args...)...)
		switch code {
		case console.Usage:
		case console.Input:
			require.Empty(t, out)
			require.NotEmpty(t, errs)
		default:
			var x Answer
			require.NoError(t, json.Unmarshal([]byte(out), &x))
			require.NotEmpty(t, x.Cautions)
			require.Equal(t, x.Holds, code == console.Done)
			if p, s := x.Result.RealW, x.Result.ApparentVA; p != nil && s != nil {
				require.LessOrEqual(t, p.High, s.High)
			}
			again, _, _ := call(args...)
			require.Equal(t, code, again)
		}
	})
}

// says runs the program and returns its code and the text of its answer without
// the cautions.
func says(t *testing.T, args ...string) (int, string) {
	t.Helper()
	code, out, errs := call(args...)
	require.Empty(t, errs, args)
	text, _, _ := strings.Cut(out, "Cautions")
	return code, text
}

// What the meters can be off is no contradiction: a load that runs all the time.
func TestDutyWithinTheAccuracy(t *testing.T) {
	code, text := says(t, "-w", "100", "-kwh", "2.41", "-hours", "24")
	assert.Equal(t, console.Done, code)
	assert.Contains(t, text, "100 % of the time")
	assert.NotContains(t, text, "taken for all hours", "no mistake here")
}

// A guess is called one, and never makes readings contradict each other.
func TestSupposedPowerFactor(t *testing.T) {
	code, text := says(t, "-v", "120", "-a", "4.00", "-dc-v", "12.4", "-dc-a", "15.0")
	assert.Equal(t, console.Done, code)
	assert.Contains(t, text, "the power factor is below 0.43")
	assert.Contains(t, text, "480 W; instead less than the")
	assert.NotContains(t, text, "by the supposed power factor\n")
	code, text = says(t, "-v", "120", "-a", "4.00", "-dc-v", "12.4", "-dc-a", "35.0")
	assert.Equal(t, console.Done, code)
	assert.Contains(t, text, "a guess]")
	assert.Contains(t, text, "W by the supposed power factor")
	_, text = says(t, "-v", "120", "-a", "4.00", "-usable-wh", "900")
	assert.Contains(t, text, "supposed power factor, a guess: the inverter's losses")
}

// Small readings are answered as far as they go.
func TestSmallReadings(t *testing.T) {
	_, text := says(t, "-w", "2", "-usable-wh", "400")
	assert.Contains(t, text, "99.01 h or more") // 400 Wh over 2 W, 2 % of it and 2 digits
	_, text = says(t, "-v", "120", "-a", "0.02")
	assert.Contains(t, text, "VA: this loads")
	_, a := answer(t, "-v", "120", "-a", "0.50", "-pf", "1")
	assert.Greater(t, a.Result.PowerFactor.Low, 0.7, "a 1 is a 1.0")
}

// What is right for these readings is not listed among the mistakes.
func TestNoMistakeWhereNoneIs(t *testing.T) {
	_, text := says(t, "-v", "120", "-a", "12.50", "-w", "1500")
	assert.NotContains(t, text, "called watts", "a heater's volt-amperes are watts")
	_, text = says(t, "-v", "118", "-a", "12.0", "-label-v", "115", "-label-a", "9.8")
	assert.NotContains(t, text, "taken for running amperes")
}

// An averaging meter's volts on a stepped wave are not laid beside a label, and
// its amperes not used elsewhere.
func TestAveragingMeterIsNotBelieved(t *testing.T) {
	stepped := []string{"-v", "94", "-wave", "stepped", "-meter", "averaging", "-peak-v", "170"}
	code, text := says(t, append(stepped, "-label-v", "115")...)
	assert.Equal(t, console.Done, code)
	assert.NotContains(t, text, "not wired for")
	assert.Contains(t, text, "taken for what turns the motor: 119.9 V; instead 107.9 V")
	_, text = says(t, append(stepped, "-a", "3.0", "-start-a", "9.0", "-dc-v", "12.1", "-dc-a", "30.0")...)
	assert.NotContains(t, text, "times the running")
	assert.NotContains(t, text, "counted at the battery")
}
