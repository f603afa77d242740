package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/battery"
	"ridethrough.example/examples/internal/console"
)

// call runs the program.
func call(stdin string, args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	code = run(args, strings.NewReader(stdin), &out, &errs)
	return code, out.String(), errs.String()
}

// answer runs the program for JSON and reads it; what it does not know fails.
func answer(t *testing.T, stdin string, args ...string) (int, Answer) {
	t.Helper()
	code, out, errs := call(stdin, append([]string{"-format", "json"}, args...)...)
	require.Empty(t, errs)
	var a Answer
	d := json.NewDecoder(strings.NewReader(out))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(&a))
	return code, a
}

// file writes a file of a test and returns its name.
func file(t *testing.T, name, text string) string {
	t.Helper()
	name = filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	return name
}

const cabin = "name,duration_h,current_a\nheavy,2,24\nlight,2,8\nlast,1,16\n"

// The capacities of a printed table of sealed blocks: 60, 77, 85, 93 and 100 Ah
// at 1, 3, 5, 10 and 20 h. By hand: 141.18 - 62.34 + 13.33 = 92.17 Ah in the
// third section, times 1.30 at 40 °F, 1.10 and 1.25.
const sealed = "end_voltage_v,time_h,current_a\n1.75,1,60\n1.75,3,25.66666667\n1.75,5,17\n1.75,10,9.3\n1.75,20,5\n"

func TestCabin(t *testing.T) {
	rates := file(t, "rates.csv", sealed)
	code, a := answer(t, cabin, "-rates", rates, "-basis-ah", "100", "-temperature-c", "4.44444444", "-")
	assert.Equal(t, console.Done, code)
	require.Len(t, a.Sections, 3)
	assert.InDelta(t, 141.176, a.Sections[2].Lines[0].SizeAh, 0.001)
	assert.InDelta(t, -62.338, a.Sections[2].Lines[1].SizeAh, 0.001)
	assert.InDelta(t, 13.333, a.Sections[2].Lines[2].SizeAh, 0.001)
	assert.True(t, a.Sections[2].Decides)
	assert.False(t, a.Sections[1].Decides)
	assert.InDelta(t, 92.172, a.Result.LargestAh, 0.001)
	assert.InDelta(t, 164.76, a.Result.RequiredAh, 0.005)
	assert.InDelta(t, 80, a.Result.PlainAh, 1e-9)
	assert.InDelta(t, 1.6476, a.Result.Units, 0.0001)
	assert.InDelta(t, 2, a.Result.WholeUnits, 0)
	assert.Nil(t, a.Random)
	assert.Nil(t, a.Result.Choice)
	assert.Equal(t, "heavy", a.Periods[0].Name)
	assert.InDelta(t, 120, a.Periods[1].StartMin, 1e-9)

	kt := file(t, "kt.csv", "end_voltage_v,time_min,kt_h\n1.75,60,1.6666666667\n1.75,180,3.8961038961\n1.75,300,5.8823529412\n")
	_, b := answer(t, cabin, "-rates", kt, "-temperature-factor", "1.3", "-")
	assert.InDelta(t, 92.172, b.Result.LargestAh, 0.01, "the K_T form says the same")
	assert.Zero(t, b.Result.Units)
	assert.True(t, b.Inputs.FactorGiven)
}

// A row cut in two, and amperes given as watts, change nothing.
func TestSplitAndPower(t *testing.T) {
	_, a := answer(t, cabin, "-")
	for name, text := range map[string]string{
		"split":         "duration_min,current_a\n60,24\n60,24\n120,8\n20,16\n40,16\n",
		"watts":         "duration_min,power_w,voltage_low_v\n120,576,24\n120,192,24\n60,384,24\n",
		"range":         "duration_min,power_w,voltage_low_v,voltage_high_v\n120,576,24,30\n120,192,24,24\n60,384,24,27\n",
		"seconds":       "\ufeffkind,duration_s,duration_h,current_a\nperiod,7200,,24\n,,2,8\nperiod,3600,,16\n",
		"spaces":        "# heading\nduration_h , current_a\n 2, 24\n\n# comment\n2 ,8\n1,16\n",
		"amps and watt": "duration_h,current_a,power_w,voltage_low_v\n2,14,240,24\n2,8,,\n1,16,,\n",
	} {
		code, b := answer(t, text, "-")
		assert.Equal(t, console.Done, code, name)
		assert.InDelta(t, a.Result.RequiredAh, b.Result.RequiredAh, 1e-9, name)
	}
	watts := "duration_min,power_w\n120,576\n120,192\n60,384\n"
	code, b := answer(t, watts, "-bus-low-v", "24", "-")
	assert.Equal(t, console.Done, code)
	assert.InDelta(t, a.Result.RequiredAh, b.Result.RequiredAh, 1e-9)
	_, b = answer(t, watts, "-bus-low-v", "20", "-bus-high-v", "28", "-convert", "average", "-")
	assert.InDelta(t, a.Result.RequiredAh, b.Result.RequiredAh, 1e-9)
	assert.Equal(t, "average voltage", b.Inputs.Convert)
	_, b = answer(t, watts, "-bus-low-v", "20", "-")
	assert.InEpsilon(t, 1.2*a.Result.RequiredAh, b.Result.RequiredAh, 1e-5, "fewer volts, more amperes")
}

func TestChoice(t *testing.T) {
	_, a := answer(t, "", "-sizes", "sizes.csv")
	require.NotNil(t, a.Result.Choice)
	assert.True(t, a.Result.Choice.Found)
	assert.GreaterOrEqual(t, a.Result.Choice.CapacityAh, a.Result.RequiredAh)
	small := file(t, "small.csv", "capacity_ah\n100\n50\n")
	code, a := answer(t, "", "-sizes", small)
	assert.Equal(t, console.Fails, code)
	assert.False(t, a.Result.Choice.Found)
	code, text, errs := call("", "-sizes", small)
	assert.Equal(t, console.Fails, code)
	assert.Empty(t, errs)
	assert.Contains(t, text, "NO SIZE of the list is large enough.")
	_, text, _ = call("", "-sizes", "sizes.csv")
	assert.Contains(t, text, "Smallest size of the list that is large enough: ")
}

func TestExitCodes(t *testing.T) {
	for _, tt := range []struct {
		name  string
		stdin string
		args  []string
		code  int
		says  string
	}{
		{"demo", "", nil, console.Done, ""},
		{"file", "", []string{"duty.csv"}, console.Done, ""},
		{"all files", "", []string{"-rates", "rates.csv", "-basis-ah", "100", "-sizes", "sizes.csv", "duty.csv"}, console.Done, ""},
		{"AGM", "", []string{"-chemistry", "agm", "-temperature-c", "0"}, console.Done, ""},
		{"lithium", "", []string{"-chemistry", "lfp", "-temperature-c", "20"}, console.Done, ""},
		{"help", "", []string{"-h"}, console.Done, "usage"},
		{"unknown flag", "", []string{"-volts", "12"}, console.Usage, "usage"},
		{"no number", "", []string{"-end-v", "low"}, console.Usage, "usage"},
		{"two files", "", []string{"duty.csv", "duty.csv"}, console.Usage, "usage"},
		{"format", "", []string{"-format", "xml"}, console.Usage, "usage"},

		{"no file", "", []string{"nowhere.csv"}, console.Input, "nowhere.csv"},
		{"folder", "", []string{"."}, console.Input, ""},
		{"no rates", "", []string{"-rates", "nowhere.csv"}, console.Input, "nowhere.csv"},
		{"no sizes", "", []string{"-sizes", "nowhere.csv"}, console.Input, "nowhere.csv"},
		{"chemistry", "", []string{"-chemistry", "lemon"}, console.Input, "lemon"},
		{"end of life", "", []string{"-end-of-life", "80"}, console.Input, "end of life"},
		{"margin", "", []string{"-design-margin", "10"}, console.Input, "design margin"},
		{"margin NaN", "", []string{"-design-margin", "NaN"}, console.Input, "design margin"},
		{"too cold", "", []string{"-temperature-c", "-20"}, console.Input, "temperature"},
		{"lithium in the cold", "", []string{"-chemistry", "lfp", "-temperature-c", "0"}, console.Input, "temperature"},
		{"convert", "", []string{"-convert", "highest"}, console.Input, "-convert"},
		{"exponent", "", []string{"-exponent", "2"}, console.Input, "Peukert exponent"},
		{"rated hours", "", []string{"-rated-h", "0"}, console.Input, "rated time"},
		{"basis", "", []string{"-basis-ah", "-1"}, console.Input, "capacity of a positive plate"},
		{"no basis", "", []string{"-rates", "rates.csv"}, console.Input, "rates.csv: line 4: current_a needs -basis-ah"},
		{"end voltage not in the table", "", []string{"-rates", "rates.csv", "-basis-ah", "100", "-end-v", "1.7"}, console.Input, "end voltage"},

		{"empty", "", []string{"-"}, console.Input, "standard input: line 1"},
		{"only a head", "# title\ncurrent_a\n", []string{"-"}, console.Input, "line 2: nothing below"},
		{"unknown column", "duration_h,amps\n1,2\n", []string{"-"}, console.Input, `line 1: column "amps" is not known`},
		{"column twice", "duration_h,duration_h\n1,2\n", []string{"-"}, console.Input, "stands twice"},
		{"ragged", "duration_h,current_a\n1\n", []string{"-"}, console.Input, "record on line 2"},
		{"bare quote", "duration_h,current_a\n1,\"2\n", []string{"-"}, console.Input, "line 2"},
		{"no number in a cell", "duration_h,current_a\n1,two\n", []string{"-"}, console.Input, `line 2: current_a "two"`},
		{"NaN in a cell", "duration_h,current_a\n1,NaN\n", []string{"-"}, console.Input, `line 2: current_a "NaN"`},
		{"no duration", "duration_h,current_a\n,1\n", []string{"-"}, console.Input, "line 2: 0 of duration_s"},
		{"two durations", "duration_h,duration_min,current_a\n1,60,1\n", []string{"-"}, console.Input, "line 2: 2 of duration_s"},
		{"negative", "duration_h,current_a\n1,1\n1,-1\n", []string{"-"}, console.Input, "line 3: battery: current of a period"},
		{"power and no voltage", "duration_h,power_w\n1,100\n", []string{"-"}, console.Input, "line 2: battery: voltage of a period"},
		{"upside down", "duration_h,power_w,voltage_low_v,voltage_high_v\n1,100,24,20\n", []string{"-"}, console.Input, "line 2: battery: voltage"},
		{"nothing drawn", "duration_h,current_a\n1,0\n", []string{"-"}, console.Input, "largest load"},
		{"kind", "kind,duration_h,current_a\nrest,1,1\n", []string{"-"}, console.Input, `line 2: kind "rest"`},
		{"two random", "kind,duration_h,current_a\n,1,1\nrandom,1,1\nrandom,1,1\n", []string{"-"}, console.Input, "line 4: a second random load; the first is in line 3"},
		{"only random", "kind,duration_h,current_a\nrandom,1,1\n", []string{"-"}, console.Input, "line 2: no period"},
		{"bad random", "kind,duration_h,current_a\n,1,1\nrandom,1,-1\n", []string{"-"}, console.Input, "line 3: battery: current of a period"},
		{"control characters", "duration_h,\x1b[31m\n1,1\n", []string{"-"}, console.Input, "line 1"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			code, stdout, stderr := call(tt.stdin, tt.args...)
			assert.Equal(t, tt.code, code, stderr)
			assert.Contains(t, stderr, tt.says)
			assert.NotContains(t, stderr, "\x1b")
			if code == console.Input || code == console.Usage {
				assert.Empty(t, stdout, "results and faults must not mix")
				assert.NotEmpty(t, stderr)
			}
		})
	}
}

// All faults are reported at once, each with its line.
func TestAllFaults(t *testing.T) {
	_, _, stderr := call("duration_h,current_a\n1,-1\nx,1\n1,-2\n,3\n", "-")
	for _, line := range []string{"line 3", "line 5"} {
		assert.Contains(t, stderr, line)
	}
	_, _, stderr = call("duration_h,current_a\n1,-1\n1,1\n1,-2\n", "-")
	for _, line := range []string{"line 2", "line 4"} {
		assert.Contains(t, stderr, line)
	}
	rates := file(t, "rates.csv", "end_voltage_v,time_h,kt_h\n1.75,1,2\n1.75,2,1\n1.75,-3,4\n9,1,1\n")
	code, _, stderr := call("", "-rates", rates)
	assert.Equal(t, console.Input, code)
	for _, line := range []string{"line 3", "line 4", "line 5"} {
		assert.Contains(t, stderr, line)
	}
	assert.NotContains(t, stderr, "line 2")
	both := file(t, "rates.csv", "end_voltage_v,time_h,kt_h,current_a\n1.75,1,2,3\n1.75,1,,\n")
	_, _, stderr = call("", "-rates", both)
	assert.Contains(t, stderr, "line 2: want either kt_h or current_a")
	assert.Contains(t, stderr, "line 3: want either kt_h or current_a")
	one := file(t, "rates.csv", "end_voltage_v,time_h,kt_h\n1.75,1,2\n")
	_, _, stderr = call("", "-rates", one)
	assert.Contains(t, stderr, "points of a rate curve 1")
	sizes := file(t, "sizes.csv", "capacity_ah\n100\n0\nlarge\n")
	code, _, stderr = call("", "-sizes", sizes)
	assert.Equal(t, console.Input, code)
	assert.Contains(t, stderr, "sizes.csv: line 3: battery: capacity")
	assert.Contains(t, stderr, `sizes.csv: line 4: capacity_ah "large"`)
}

func TestTooManyLines(t *testing.T) {
	code, _, stderr := call("duration_s,current_a\n"+strings.Repeat("1,1\n", mostLines+1), "-")
	assert.Equal(t, console.Input, code)
	assert.Contains(t, stderr, "more than 1001 lines")
	code, _, _ = call("duration_s,current_a\n"+strings.Repeat("60,1\n", 1000), "-")
	assert.Equal(t, console.Done, code)
}

// Every figure of the JSON stands in the text, and the cautions in both.
func TestTextAndJSON(t *testing.T) {
	args := []string{"-rates", "rates.csv", "-basis-ah", "100", "-sizes", "sizes.csv", "-end-v", "1.8"}
	_, a := answer(t, "", args...)
	_, text, _ := call("", args...)
	assert.Equal(t, cautions(), a.Cautions)
	assert.Equal(t, sources(), a.Sources)
	for _, want := range append(append([]string{
		"Required capacity when new: ", "which decides", "Random load (alarm)", "0:01:30", "x 1.250", "Cautions", "Sources",
	}, a.Cautions...), a.Sources...) {
		assert.Contains(t, text, want)
	}
	for _, s := range a.Sections {
		sum := 0.0
		for _, x := range s.Lines {
			assert.InEpsilon(t, x.ChangeA*x.KTh, x.SizeAh, 2e-5)
			sum += x.SizeAh
		}
		assert.InDelta(t, s.SizeAh, sum, 0.003)
	}
	r := a.Result
	assert.InDelta(t, r.LargestAh+r.RandomAh, r.UncorrectedAh, 0.001)
	assert.InEpsilon(t, r.UncorrectedAh*r.TemperatureFactor*r.DesignMargin*r.AgingFactor, r.RequiredAh, 2e-5)
}

// The keys of the JSON are its interface: each carries its unit.
func TestJSONShape(t *testing.T) {
	_, out, _ := call("", "-format", "json", "-sizes", "sizes.csv", "-rates", "rates.csv", "-basis-ah", "100")
	var doc map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &doc))
	keys := func(x any) []string {
		m, ok := x.(map[string]any)
		require.True(t, ok)
		var k []string
		for name := range m {
			k = append(k, name)
		}
		return k
	}
	assert.ElementsMatch(t, []string{"inputs", "periods", "sections", "random", "result", "sources", "cautions"}, keys(doc))
	assert.ElementsMatch(t, []string{
		"duty", "chemistry", "end_voltage_v", "temperature_c", "temperature_factor_given", "end_of_life", "power_converted_at", "rating_factors",
	}, keys(doc["inputs"]))
	assert.ElementsMatch(t, []string{
		"largest_section_ah", "random_ah", "uncorrected_ah", "temperature_factor", "design_margin", "aging_factor",
		"required_ah", "plain_ah", "basis_ah", "units", "whole_units", "choice",
	}, keys(doc["result"]))
	assert.ElementsMatch(t, []string{"name", "change_a", "remaining_min", "kt_h", "size_ah"}, keys(doc["random"]))
	periods, ok := doc["periods"].([]any)
	require.True(t, ok)
	assert.ElementsMatch(t, []string{"number", "name", "start_min", "duration_min", "load_a", "change_a", "converted_at_v"}, keys(periods[0]))
}

func TestDeterministic(t *testing.T) {
	for _, format := range []string{"text", "json"} {
		_, first, _ := call("", "-format", format, "-sizes", "sizes.csv")
		for range 5 {
			_, again, _ := call("", "-format", format, "-sizes", "sizes.csv")
			require.Equal(t, first, again)
		}
	}
	// The demo is duty.csv.
	_, demo, _ := call("")
	_, same, _ := call("", "duty.csv")
	assert.Equal(t, demo, strings.ReplaceAll(same, "duty cycle      duty.csv", "duty cycle      demo"))
}

func TestNamesArePrintable(t *testing.T) {
	code, text, _ := call("name,duration_h,current_a\n\"a\x1b[31m\nb\",1,1\n", "-")
	assert.Equal(t, console.Done, code)
	assert.NotContains(t, text, "\x1b")
	assert.NotContains(t, text, "\nb")
}

// A brokenPipe takes nothing.
type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errors.New("broken pipe") }

func TestBrokenOutput(t *testing.T) {
	for _, format := range []string{"text", "json"} {
		assert.Equal(t, console.Input, run([]string{"-format", format}, strings.NewReader(""), brokenPipe{}, io.Discard))
	}
}

func TestRounded(t *testing.T) {
	assert.InDelta(t, 1.23457, rounded(1.23456789), 0)
	assert.InDelta(t, 1234570, rounded(1234567.9), 0)
	assert.Zero(t, rounded(0))
	assert.Equal(t, "0:20", clock(20))
	assert.Equal(t, "26:01:01", clock(26*60+1+1.0/60))
}

// Nothing that is read makes the program panic or mix results and faults; what
// is refused is refused with a line, and what is read is a duty cycle.
func FuzzReadDuty(f *testing.F) {
	f.Add(string(sample))
	f.Add(cabin)
	f.Add("duration_h,current_a\n1e300,1\n")
	f.Add("kind,duration_s\nrandom,\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		d, err := readDuty("in", strings.NewReader(text))
		if err != nil {
			require.Contains(t, err.Error(), "in: ")
			require.Contains(t, err.Error(), "line ")
		} else {
			require.Len(t, d.lines, len(d.cycle.Periods))
			require.Len(t, d.names, len(d.cycle.Periods))
			require.NotEmpty(t, d.cycle.Periods)
		}
		code, stdout, stderr := call(text, "-format", "json", "-")
		switch code {
		case console.Done:
			require.True(t, json.Valid([]byte(stdout)))
			require.Empty(t, stderr)
		case console.Input:
			require.Empty(t, stdout)
		default:
			t.Fatal(code)
		}
		if err != nil {
			require.Equal(t, console.Input, code)
		}
	})
}

func FuzzReadRates(f *testing.F) {
	f.Add(sealed, "capacity_ah\n100\n")
	f.Add("end_voltage_v,time_min,kt_h\n1.75,1,1\n1.75,2,1.5\n", "name,capacity_ah\nx,1e3\n")
	f.Fuzz(func(t *testing.T, rates, sizes string) {
		in := files{}
		var err error
		if in.duty, err = readDuty("demo", bytes.NewReader(sample)); err != nil {
			t.Fatal(err)
		}
		in.rates, err = readRates("r", strings.NewReader(rates))
		if err != nil {
			require.Contains(t, err.Error(), "line ")
			return
		}
		if in.sizes, err = readSizes("s", strings.NewReader(sizes)); err != nil {
			require.Contains(t, err.Error(), "line ")
			return
		}
		c := config{chemistry: "flooded", temperatureC: 15, endV: 1.75, convert: "lowest", margin: 1.1, endOfLife: 0.8, basisAh: 100}
		a, err := size(&c, in)
		if err != nil {
			require.Error(t, err)
			return
		}
		require.Greater(t, a.Result.RequiredAh, 0.0)
		_ = a.text()
		_, err = console.JSON(a)
		require.NoError(t, err)
		require.Equal(t, battery.LowestVoltage.String(), a.Inputs.Convert)
	})
}
