package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/examples/internal/console"
)

// call runs the program.
func call(stdin string, args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	code = run(args, strings.NewReader(stdin), &out, &errs)
	return code, out.String(), errs.String()
}

// answer runs the program for JSON and reads it.
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

var bank = []string{
	"-volts", "12", "-current-a", "150", "-length-m", "2", "-start-a", "400", "-start-s", "1",
	"-source-low-mohm", "2", "-stud", "M10", "-terminal", "3/8", "-device", "strip-fuse", "-name", "bank to inverter",
}

// 1 AWG of class K has 1.05·ρ/A at 105 °C: 0.5700 mΩ/m, so that 4 m carry 150 A with
// 0.342 V. 2 AWG drops 26 % more, 0.431 V, and 0.36 V are allowed.
func TestBatteryCable(t *testing.T) {
	code, a := answer(t, "", bank...)
	assert.Equal(t, console.Done, code)
	require.Len(t, a.Runs, 1)
	r := a.Runs[0]
	assert.True(t, r.Passes)
	assert.Equal(t, "1 AWG", r.Result.Size)
	assert.Equal(t, "running drop", r.Result.GovernedBy)
	assert.Equal(t, "2 AWG", r.Result.NextDown)
	d := 5e-3 * math.Pow(92, 35./39) * 25.4e-3 // (m)
	ohm := 1.05 / 58e6 / (math.Pi / 4 * d * d) * (1 + 0.00393*85)
	assert.InEpsilon(t, 4*ohm*150, r.Result.DropV, 1e-3)
	assert.InEpsilon(t, 4*ohm*400, r.Result.StartDropV, 1e-3)
	assert.InEpsilon(t, 4*ohm*150*150, r.Result.LossW, 1e-3)
	assert.InEpsilon(t, 245, r.Result.AmpacityA, 1e-9)
	assert.InEpsilon(t, 1.25*150, r.Result.LeastAmpacityA, 1e-3)
	assert.InEpsilon(t, 30+75*(150./245)*(150./245), r.Result.ConductorC, 1e-3)
	assert.Equal(t, []float64{200, 200, 225}, []float64{r.Result.FuseA, r.Result.FuseLeastA, r.Result.FuseMostA})
	assert.Equal(t, "stays closed", r.Result.Surge)
	assert.InEpsilon(t, 14.4/0.002, r.Result.FaultHighA, 1e-3)
	assert.InEpsilon(t, 12/(0.006+4*ohm), r.Result.FaultLowA, 1e-3)
	assert.InDelta(t, 178, r.Result.FarthestDeviceMM, 0)
	assert.Equal(t, "tight", r.Result.StudFit)
	assert.InDelta(t, 77, r.Result.LeastBendRadiusMM, 0)
	for _, d := range r.Decisions {
		assert.NotEmpty(t, d.About)
		assert.NotEmpty(t, d.Answer)
		assert.NotEmpty(t, d.Source)
	}
	assert.Equal(t, cautions(), a.Cautions)
}

func TestWellWire(t *testing.T) {
	code, a := answer(t, "", "-system", "single-phase", "-volts", "240", "-current-a", "10", "-length-ft", "200",
		"-start-a", "50", "-start-s", "0.5", "-ambient-c", "40")
	assert.Equal(t, console.Done, code)
	r := a.Runs[0]
	assert.Equal(t, "code", r.Input.Practice)
	assert.InDelta(t, 60.96, r.Input.LengthM, 1e-9)
	assert.Equal(t, "12 AWG", r.Result.Size)
	assert.InDelta(t, 20, r.Result.FuseMostA, 0, "12 AWG: 20 A by 240.4(D)")
	assert.Contains(t, r.Decisions[1].Source, "IEEE Std 141")
	// Three phases on aluminium.
	code, a = answer(t, "", "-system", "three-phase", "-volts", "480", "-current-a", "60", "-length-m", "100", "-metal", "aluminium", "-terminals-c", "75")
	assert.Equal(t, console.Done, code)
	assert.Equal(t, 3, a.Runs[0].Input.Conductors)
	assert.Contains(t, a.Runs[0].Result.Wire, "aluminium")
}

// A size whose start is too hot gives way to the next one, which says so.
func TestHeatGoverns(t *testing.T) {
	_, a := answer(t, "", "-volts", "12", "-current-a", "30", "-length-m", "0.3", "-start-a", "900", "-start-s", "8", "-start-allowed-percent", "30")
	r := a.Runs[0]
	assert.True(t, r.Passes)
	assert.Equal(t, "heat after a start", r.Result.GovernedBy)
	assert.Equal(t, "6 AWG", r.Result.NextDown)
	assert.LessOrEqual(t, r.Result.AfterStartC, 150.0)
}

func TestExitCodes(t *testing.T) {
	for name, tt := range map[string]struct {
		stdin string
		args  []string
		code  int
		says  string
	}{
		"no size":       {"", []string{"-volts", "12", "-current-a", "1000", "-length-m", "30"}, console.Fails, ""},
		"too hot":       {"", []string{"-volts", "240", "-current-a", "10", "-length-m", "3", "-ambient-c", "80"}, console.Fails, ""},
		"melts":         {"", []string{"-volts", "12", "-current-a", "10", "-length-m", "0.05", "-start-a", "10000", "-start-s", "600", "-start-allowed-percent", "90"}, console.Fails, ""},
		"nothing":       {"", nil, console.Usage, "usage"},
		"unknown flag":  {"", []string{"-amps", "3"}, console.Usage, "amps"},
		"unknown form":  {"", []string{"-format", "xml", "-volts", "12"}, console.Usage, "usage"},
		"two files":     {"", []string{"a", "b"}, console.Usage, "usage"},
		"help":          {"", []string{"-h"}, console.Done, "usage"},
		"no such file":  {"", []string{filepath.Join(t.TempDir(), "none.csv")}, console.Input, "none.csv"},
		"bad number":    {"", []string{"-volts", "twelve", "-current-a", "10", "-length-m", "1"}, console.Input, `volts: "twelve"`},
		"NaN":           {"", []string{"-volts", "NaN", "-current-a", "10", "-length-m", "1"}, console.Input, "want a number from 1 to 1000"},
		"missing":       {"", []string{"-volts", "12"}, console.Input, "current_a is missing"},
		"two lengths":   {"", []string{"-volts", "12", "-current-a", "10", "-length-m", "1", "-length-ft", "1"}, console.Input, "both given"},
		"half a start":  {"", []string{"-volts", "12", "-current-a", "10", "-length-m", "1", "-start-a", "90"}, console.Input, "go together"},
		"low start":     {"", []string{"-volts", "12", "-current-a", "10", "-length-m", "1", "-start-a", "9", "-start-s", "1"}, console.Input, "below current_a"},
		"dc pf":         {"", []string{"-volts", "12", "-current-a", "10", "-length-m", "1", "-power-factor", "0.8"}, console.Input, "no power factor"},
		"ac boat":       {"", []string{"-system", "single-phase", "-practice", "boat", "-volts", "24", "-current-a", "10", "-length-m", "1"}, console.Input, "practice boat"},
		"insulation":    {"", []string{"-practice", "code", "-volts", "24", "-current-a", "10", "-length-m", "1", "-insulation-c", "80"}, console.Input, "60, 75 or 90"},
		"terminals":     {"", []string{"-volts", "24", "-current-a", "10", "-length-m", "1", "-terminals-c", "75"}, console.Input, "terminals_c"},
		"engine space":  {"", []string{"-practice", "code", "-volts", "24", "-current-a", "10", "-length-m", "1", "-engine-space", "yes"}, console.Input, "engine_space"},
		"yes or no":     {"", []string{"-volts", "24", "-current-a", "10", "-length-m", "1", "-intermittent", "1"}, console.Input, "want yes or no"},
		"stud":          {"", []string{"-volts", "24", "-current-a", "10", "-length-m", "1", "-stud", "M7"}, console.Input, "M10"},
		"source":        {"", []string{"-volts", "24", "-current-a", "10", "-length-m", "1", "-source-high-mohm", "3"}, console.Input, "needs source_low_mohm"},
		"source order":  {"", []string{"-volts", "24", "-current-a", "10", "-length-m", "1", "-source-low-mohm", "3", "-source-high-mohm", "2"}, console.Input, "is below"},
		"conductors":    {"", []string{"-volts", "24", "-current-a", "10", "-length-m", "1", "-conductors", "2.5"}, console.Input, "whole number"},
		"empty CSV":     {"", []string{"-"}, console.Input, "line 1"},
		"no rows":       {"volts,current_a,length_m\n", []string{"-"}, console.Input, "no run"},
		"column":        {"volts,amps\n12,3\n", []string{"-"}, console.Input, `line 1: column "amps"`},
		"column twice":  {"volts,volts\n12,3\n", []string{"-"}, console.Input, "stands twice"},
		"line of fault": {"volts,current_a,length_m\n12,3,1\n12,x,1\n12,3,-1\n", []string{"-"}, console.Input, "line 3: current_a: \"x\""},
		"second fault":  {"volts,current_a,length_m\n12,3,1\n12,x,1\n12,3,-1\n", []string{"-"}, console.Input, "line 4: length_m"},
		"fields":        {"volts,current_a,length_m\n12,3,1\n12,3\n", []string{"-"}, console.Input, "line 3"},
		"quote":         {"volts,current_a,length_m\n12,3,\"1\n", []string{"-"}, console.Input, "line"},
		"control":       {"volts,current_a,length_m\n12,\x1b[31m,1\n", []string{"-"}, console.Input, `\x1b`},
	} {
		code, out, errs := call(tt.stdin, tt.args...)
		assert.Equal(t, tt.code, code, "%s: %s%s", name, out, errs)
		assert.Contains(t, errs, tt.says, name)
		assert.NotContains(t, errs, "\x1b", name)
		if code == console.Input || code == console.Usage {
			assert.Empty(t, out, name)
		} else if name != "help" {
			assert.Contains(t, out, "licensed electrician", name)
		}
	}
}

// Blank cells take the flag; a cell goes before it; a length in the row replaces
// one of the flags in the other unit.
func TestFlagsFillBlanks(t *testing.T) {
	stdin := "# two runs\nname,current_a,length_ft,volts\nfirst,20,10,\n\"second, longer\",20,,24\n"
	code, a := answer(t, stdin, "-volts", "12", "-length-m", "6", "-device", "breaker", "-")
	assert.Equal(t, console.Done, code)
	require.Len(t, a.Runs, 2)
	first, second := a.Runs[0].Input, a.Runs[1].Input
	assert.InDelta(t, 3.048, first.LengthM, 1e-12)
	assert.InDelta(t, 12, first.Volts, 0)
	assert.InDelta(t, 6, second.LengthM, 0)
	assert.InDelta(t, 24, second.Volts, 0)
	assert.Equal(t, "second, longer", second.Name)
	assert.Equal(t, "breaker", second.Device)
}

func TestFileIsReadAsStdin(t *testing.T) {
	const rows = "volts,current_a,length_m\r\n12,20,3\r\n48,60,5\r\n"
	name := filepath.Join(t.TempDir(), "runs.csv")
	require.NoError(t, os.WriteFile(name, []byte("\ufeff"+rows), 0o600))
	_, fromFile, errs := call("", name)
	assert.Empty(t, errs)
	_, fromStdin, _ := call(rows, "-")
	assert.Equal(t, fromStdin, fromFile)
	assert.Contains(t, fromFile, "run 2: passes")
}

// The sample beside the program has a conductor for each of its runs.
func TestSample(t *testing.T) {
	code, a := answer(t, "", "runs.csv")
	assert.Equal(t, console.Done, code)
	require.Len(t, a.Runs, 3)
	assert.Equal(t, "stays closed", a.Runs[0].Result.Surge)
	assert.Equal(t, "fits", a.Runs[0].Result.StudFit)
	assert.Equal(t, "inverter to well pump", a.Runs[1].Input.Name)
	assert.Zero(t, a.Runs[1].Result.FaultHighA)
	assert.InDelta(t, 40, a.Runs[2].Input.AmbientC, 0)
	assert.Equal(t, "14 AWG", a.Runs[2].Result.NextDown, "boat cable has no 13 AWG")
}

// One bad run of many: the others are answered all the same.
func TestOneOfManyFails(t *testing.T) {
	code, a := answer(t, "volts,current_a,length_m\n12,1000,30\n12,10,1\n", "-")
	assert.Equal(t, console.Fails, code)
	assert.False(t, a.Runs[0].Passes)
	assert.Empty(t, a.Runs[0].Result.Size)
	assert.True(t, a.Runs[1].Passes)
}

func TestShapeOfJSON(t *testing.T) {
	_, out, _ := call("", append([]string{"-format", "json"}, bank...)...)
	var raw map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &raw))
	assert.ElementsMatch(t, []string{"runs", "cautions"}, keys(raw))
	runs, ok := raw["runs"].([]any)
	require.True(t, ok)
	one, ok := runs[0].(map[string]any)
	require.True(t, ok)
	assert.ElementsMatch(t, []string{"input", "passes", "result", "decisions"}, keys(one))
	result, ok := one["result"].(map[string]any)
	require.True(t, ok)
	// Every number carries its unit in its name.
	for _, part := range []any{one["input"], result} {
		fields, ok := part.(map[string]any)
		require.True(t, ok)
		for name, value := range fields {
			_, isNumber := value.(float64)
			bare := name == "volts" || name == "conductors" || strings.HasSuffix(name, "power_factor") || strings.HasSuffix(name, "_use")
			if isNumber && !bare {
				assert.Regexp(t, `_(a|v|w|c|s|m|mm|mohm|percent)$`, name)
			}
		}
	}
	assert.NotContains(t, out, `\u003c`)
}

func keys(m map[string]any) (all []string) {
	for k := range m {
		all = append(all, k)
	}
	return all
}

func TestSameInputSameBytes(t *testing.T) {
	for _, format := range []string{"text", "json"} {
		_, first, _ := call("", append([]string{"-format", format}, bank...)...)
		for range 5 {
			_, again, _ := call("", append([]string{"-format", format}, bank...)...)
			assert.Equal(t, first, again)
		}
	}
}

func TestTextNamesSources(t *testing.T) {
	_, out, _ := call("", bank...)
	for _, want := range []string{
		"bank to inverter: passes", "1 AWG flexible copper, governed by running drop; 2 AWG drops 0.431 V of 0.36 V allowed",
		"[ABYC E-11, 11.10.1.1; ratings of NEC 240.6(A)]", "class T", "7 in", "stud M10 in a terminal for 3/8 in: tight", "Cautions", "Fire:", "bolted short circuit",
		"Local code", "NEC 430",
	} {
		assert.Contains(t, out, want)
	}
	assert.NotContains(t, out, "e+0")
	_, out, _ = call("volts,current_a,length_m,name\n12,10,1,a\x07b\n", "-")
	assert.NotContains(t, out, "\x07")
}

type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errors.New("pipe is broken") }

func TestWriteFails(t *testing.T) {
	var errs bytes.Buffer
	assert.Equal(t, console.Input, run(bank, strings.NewReader(""), brokenPipe{}, &errs))
	assert.Contains(t, errs.String(), "pipe is broken")
}

// Whatever the CSV holds, the program answers or says which line is at fault, and
// never panics; what it prints is valid JSON with the cautions.
func FuzzCSV(f *testing.F) {
	for _, s := range []string{
		"volts,current_a,length_m\n12,150,2\n", "volts\n", "", "\"", "volts,current_a,length_ft,metal,start_a,start_s\n480,60,300,aluminium,300,9\n",
		"name,volts,current_a,length_m,system,stud\n\x00,240,1e1,0x1p4,three-phase,#10\n", "volts,current_a,length_m,practice,engine_space,ambient_c\n12,40,3,boat,yes,104.9\n",
		"volts,current_a,length_m,source_low_mohm,insulation_c,terminals_c,practice\n48,200,4,0.01,90,75,code\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var out, errs bytes.Buffer
		code := run([]string{"-format", "json", "-"}, strings.NewReader(text), &out, &errs)
		switch code {
		case console.Input:
			if out.Len() > 0 || errs.Len() == 0 {
				t.Fatal(out.String(), errs.String())
			}
			if !strings.Contains(errs.String(), "line") {
				t.Fatalf("no line in %q", errs.String())
			}
		case console.Done, console.Fails:
			var a Answer
			if err := json.Unmarshal(out.Bytes(), &a); err != nil || len(a.Cautions) == 0 || len(a.Runs) == 0 || errs.Len() > 0 {
				t.Fatal(err, out.String(), errs.String())
			}
			for _, r := range a.Runs {
				if r.Passes && (r.Result.Size == "" || r.Result.FuseA < r.Input.CurrentA || r.Result.DropPercent > r.Input.AllowedPercent*1.001) {
					t.Fatalf("%+v", r)
				}
			}
			if run([]string{"-"}, strings.NewReader(text), io.Discard, &errs) != code {
				t.Fatal("text and JSON differ")
			}
		default:
			t.Fatal(code)
		}
	})
}

// Any numbers within the columns' ranges get an answer, and one that passes holds
// what was asked for.
func FuzzRun(f *testing.F) {
	f.Add(12.0, 150.0, 2.0, 400.0, 1.0, 2.0, uint8(0))
	f.Add(480.0, 60.0, 300.0, 300.0, 9.0, 0.0, uint8(0x55))
	f.Fuzz(func(t *testing.T, volts, amperes, metres, start, seconds, mohm float64, flags uint8) {
		in := Input{where: "test", Volts: volts, CurrentA: amperes, LengthM: metres, AmbientC: float64(flags%12) * 10, EngineSpace: false}
		in.System = []string{"dc", "single-phase", "three-phase"}[flags%3]
		if flags&8 != 0 {
			in.StartA, in.StartS = start, seconds
		}
		if flags&16 != 0 && in.System == "dc" {
			in.SourceLowMohm = mohm
		}
		in.Device = []string{"any", "time-delay-fuse", "strip-fuse", "breaker"}[flags>>6]
		if flags&32 != 0 {
			in.Metal, in.Practice = "aluminium", "code"
		}
		ranges := map[string]float64{"volts": volts, "current_a": amperes, "length_m": metres}
		if in.StartA != 0 || in.StartS != 0 {
			ranges["start_a"], ranges["start_s"] = start, seconds
		}
		if in.SourceLowMohm != 0 {
			ranges["source_low_mohm"] = mohm
		}
		var scratch Input
		for _, c := range columns {
			if x, ok := ranges[c.name]; ok && c.set(&scratch, strconv.FormatFloat(x, 'g', -1, 64)) != nil {
				return
			}
		}
		in.defaults()
		if in.check() != nil {
			return
		}
		r, err := decide(in)
		if err != nil {
			t.Fatalf("%+v: %v", in, err)
		}
		if !r.Passes {
			return
		}
		g := r.Result
		if g.DropPercent > in.AllowedPercent*1.001 || g.StartDropPercent > in.StartAllowedPercent*1.001 ||
			g.AmpacityA < g.LeastAmpacityA*0.999 || g.FuseA < in.CurrentA*0.999 || g.AfterStartC > 150.1 || g.ConductorC > in.InsulationC*1.001 {
			t.Fatalf("%+v", r)
		}
	})
}

// A lug that is loose or does not pass, and a fault that no usual fuse
// interrupts, are no pass, whatever the conductor.
func TestWhatNoSizeMends(t *testing.T) {
	for _, args := range [][]string{
		{"-stud", "M10", "-terminal", "M8"},
		{"-stud", "M8", "-terminal", "M10"},
		{"-source-low-mohm", "1", "-volts", "48"},
	} {
		var out, errs strings.Builder
		code := run(append([]string{"-volts", "24", "-current-a", "55", "-length-m", "1"}, args...), strings.NewReader(""), &out, &errs)
		assert.Equal(t, console.Fails, code, "%v: %s%s", args, out.String(), errs.String())
	}
}
