package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/examples/internal/console"
	"ridethrough.example/examples/planner/plan"
)

func planner(stdin string, args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	code = run(args, strings.NewReader(stdin), &out, &errs)
	return code, out.String(), errs.String()
}

// siteFiles are the demo and every file of the folder testdata.
func siteFiles(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("testdata/*.toml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 7)
	return append(files, "site.toml")
}

func TestExitCodes(t *testing.T) {
	for _, tt := range []struct {
		name  string
		stdin string
		args  []string
		code  int
	}{
		{"the demo holds", "", nil, console.Done},
		{"a check fails", "", []string{"testdata/c10_one_hp.toml"}, console.Fails},
		{"standard input", string(sample), []string{"-"}, console.Done},
		{"empty standard input", "", []string{"-"}, console.Input},
		{"no such file", "", []string{"nowhere.toml"}, console.Input},
		{"a folder", "", []string{"testdata"}, console.Input},
		{"bad figure", strings.Replace(string(sample), `"28 psi (measured)"`, `"28"`, 1), []string{"-"}, console.Input},
		{"unknown flag", "", []string{"-colour"}, console.Usage},
		{"unknown format", "", []string{"-format", "xml"}, console.Usage},
		{"two files", "", []string{"a.toml", "b.toml"}, console.Usage},
		{"help", "", []string{"-h"}, console.Done},
	} {
		t.Run(tt.name, func(t *testing.T) {
			code, stdout, stderr := planner(tt.stdin, tt.args...)
			assert.Equal(t, tt.code, code, stderr)
			if tt.code == console.Input || tt.code == console.Usage {
				assert.Empty(t, stdout, "results and faults must not mix")
				assert.NotEmpty(t, stderr)
			}
		})
	}
}

// What -sample writes plans without change.
func TestSamplePlans(t *testing.T) {
	code, text, _ := planner("", "-sample")
	require.Equal(t, console.Done, code)
	code, _, stderr := planner(text, "-")
	assert.Equal(t, console.Done, code, stderr)
}

func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	f, err := os.Open("schema.json")
	require.NoError(t, err)
	doc, err := jsonschema.UnmarshalJSON(f)
	require.NoError(t, errors.Join(err, f.Close()))
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("schema.json", doc))
	s, err := c.Compile("schema.json")
	require.NoError(t, err)
	return s
}

func TestJSONFitsItsSchema(t *testing.T) {
	s := schema(t)
	for _, file := range siteFiles(t) {
		t.Run(file, func(t *testing.T) {
			_, text, stderr := planner("", "-format", "json", file)
			require.NotEmpty(t, text, stderr)
			v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
			require.NoError(t, err)
			assert.NoError(t, s.Validate(v))
		})
	}
}

// The schema must refuse what is no plan, or it proves nothing.
func TestSchemaRefuses(t *testing.T) {
	s := schema(t)
	_, text, _ := planner("", "-format", "json")
	for name, change := range map[string][2]string{
		"no verdict":    {`"verdict":`, `"verdicts":`},
		"key unit":      {`"battery.runtime_h":`, `"battery.runtime":`},
		"no version":    {`"version": 1`, `"version": 2`},
		"state":         {`"state": "holds"`, `"state": "maybe"`},
		"truth as text": {`"ok": true`, `"ok": "true"`},
		"basis":         {`"basis": "measured"`, `"basis": "rumour"`},
		"topic":         {`"topic": "Backfeed"`, `"topic": ""`},
	} {
		require.Contains(t, text, change[0])
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(strings.Replace(text, change[0], change[1], 1)))
		require.NoError(t, err)
		assert.Error(t, s.Validate(v), name)
	}
}

// The site file's own words come back in the JSON.
func TestInputsAreEchoed(t *testing.T) {
	_, text, _ := planner("", "-format", "json")
	for _, typed := range []string{
		"28 psi (measured)", "30..40 %", "1/3 hp (nameplate)", "2/0 AWG", "9000 VA for 0.5 s", "91 % at 600 W", "flooded", "pump",
	} {
		assert.Contains(t, text, `"`+typed+`"`)
	}
}

// Same input, same bytes.
func TestOutputIsDeterministic(t *testing.T) {
	for _, args := range [][]string{{}, {"-explain"}, {"-format", "json"}, {"-dynamic"}} {
		_, first, _ := planner("", args...)
		for range 5 {
			_, again, _ := planner("", args...)
			require.Equal(t, first, again)
		}
	}
}

func TestCautionsAreAlwaysThere(t *testing.T) {
	for _, file := range siteFiles(t) {
		for _, args := range [][]string{{file}, {"-explain", file}, {"-format", "json", file}} {
			_, text, _ := planner("", args...)
			for _, word := range []string{"Backfeed", "Hydrogen", "Carbon monoxide", "GFCI", "240 V pumps", "Freezing", "Local code decides", "interrupt"} {
				assert.Contains(t, text, word, "%v", args)
			}
		}
	}
}

// With -explain every figure has formula, numbers and source beneath it.
func TestExplainCoversEveryFigure(t *testing.T) {
	for _, file := range siteFiles(t) {
		f, err := os.Open(file)
		require.NoError(t, err)
		s, err := plan.Read(f)
		require.NoError(t, err)
		require.NoError(t, f.Close())
		p, err := plan.Make(s)
		require.NoError(t, err)
		figures := 0
		for _, section := range p.Sections {
			figures += len(section.Figures)
		}
		_, text, _ := planner("", "-explain", file)
		for _, word := range []string{"\n      formula: ", "\n      numbers: "} {
			assert.Equal(t, figures, strings.Count(text, word), "%s %q", file, word)
		}
		assert.Equal(t, figures+len(p.Schedules), strings.Count(text, "\n      source: "), file)
		assert.Equal(t, len(p.Checks), strings.Count(text, "rests on: "), file)
	}
}

// With -dynamic the starts are followed instant by instant as well, in the same
// form; without it nothing is.
func TestDynamic(t *testing.T) {
	s := schema(t)
	for _, file := range siteFiles(t) {
		_, plain, _ := planner("", "-format", "json", file)
		assert.NotContains(t, plain, "runup_peak_a", file)
		_, text, stderr := planner("", "-dynamic", "-format", "json", file)
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		require.NoError(t, err, stderr)
		assert.NoError(t, s.Validate(v), file)
		assert.Equal(t, strings.Count(plain, `.runup_motor_v":`), strings.Count(text, `.runup_peak_a":`), file)
	}
}

func TestTextHasNoBrokenNumbers(t *testing.T) {
	for _, file := range siteFiles(t) {
		_, text, _ := planner("", "-explain", file)
		for _, bad := range []string{"NaN", "Inf", "%!", "e+", "<nil>"} {
			assert.NotContains(t, text, bad, file)
		}
	}
}
