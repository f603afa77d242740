package main

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

// at returns a path as a test binary reports it.
func at(path string) string {
	return filepath.Join(string(filepath.Separator), "house", filepath.FromSlash(path))
}

func figure(path string, line int, column string) reftest.Figure {
	return reftest.Figure{Path: at(path), Line: line, Column: column}
}

// reports are those of two packages that share one file.
func reports() []reftest.Report {
	letters := reftest.File{Path: at("testdata/motor/letters.csv"), Title: "code letters", Source: "a code, table 1"}
	units := reftest.File{Path: at("testdata/units.csv"), Title: "units | factors", Source: strings.Repeat("a book, page ", 20) + "https://example.com/a"}
	own := reftest.File{Path: at("examples/planner/testdata/cases.csv"), Title: "cases", Source: "own work"}
	wrong := figure("testdata/motor/letters.csv", 9, "answer")
	wrong.Negative = true
	return []reftest.Report{
		{Package: "motor", Files: []reftest.File{letters, units}, Checks: []reftest.Check{
			{Figure: figure("testdata/motor/letters.csv", 7, "low"), Status: reftest.Published, Deviation: 0.00123},
			{Figure: figure("testdata/motor/letters.csv", 7, "high"), Status: reftest.Memory, Deviation: 1e-12},
			{Figure: wrong, Status: reftest.Published},
			{Figure: figure("testdata/units.csv", 5, "factor"), Status: reftest.Published, Deviation: 1e-13},
		}},
		{Package: "tank", Files: []reftest.File{units, own}, Checks: []reftest.Check{
			{Figure: figure("testdata/units.csv", 5, "factor"), Status: reftest.Published, Deviation: 2e-13},
			{Figure: figure("testdata/units.csv", 6, "factor"), Status: reftest.Independent, Deviation: 0},
			{Figure: figure("examples/planner/testdata/cases.csv", 5, "hours"), Status: reftest.CommonPractice, Deviation: 0.05},
		}},
	}
}

var onDisk = []string{"examples/planner/testdata/cases.csv", "testdata/motor/letters.csv", "testdata/units.csv"}

func TestMergeCountsAFigureOnce(t *testing.T) {
	got, err := merge(at(""), reports(), onDisk)
	require.NoError(t, err)
	require.Len(t, got, 3)
	assert.Equal(t, "examples/planner/testdata/cases.csv", got[0].Path)
	assert.Equal(t, "examples/planner", got[0].group())
	assert.Equal(t, "motor", got[1].group())
	assert.Equal(t, 2, got[1].total())
	assert.Equal(t, 1, got[1].Negative)
	assert.InDelta(t, 0.00123, got[1].Deviation, 0)
	assert.Equal(t, "testdata", got[2].group())
	assert.Equal(t, map[reftest.Status]int{reftest.Published: 1, reftest.Independent: 1}, got[2].Values)
	assert.InDelta(t, 2e-13, got[2].Deviation, 0)
}

func TestMergeRefuses(t *testing.T) {
	_, err := merge(at(""), reports(), append([]string{"testdata/tank/idle.csv"}, onDisk...))
	assert.EqualError(t, err, "testdata/tank/idle.csv: no test reads it")

	failed := reports()
	failed[0].Checks[0].Failed = true
	_, err = merge(at(""), failed, onDisk)
	assert.EqualError(t, err, "testdata/motor/letters.csv:7: low: a comparison failed that failed no test")
}

// A file that was read and not compared with is listed, and is no source.
func TestReadOnly(t *testing.T) {
	opened := reports()
	opened[1].Files = append(opened[1].Files, reftest.File{Path: at("testdata/tank/spans.csv"), Title: "spans", Source: "a page"})
	sources, err := merge(at(""), opened, append([]string{"testdata/tank/spans.csv"}, onDisk...))
	require.NoError(t, err)
	text := render(sources)
	assert.Contains(t, text, "| [spans](tank/spans.csv) | spans | a page |  |  |  |  |  |  |\n")
	assert.Equal(t, "Total: 5 values checked, 3 sources, 0 failed", lastLine(text))
}

func TestRender(t *testing.T) {
	sources, err := merge(at(""), reports(), onDisk)
	require.NoError(t, err)
	text := render(sources)
	for _, want := range []string{
		"\n## examples/planner\n",
		"| [cases](../examples/planner/testdata/cases.csv) | cases | own work |  |  | 1 |  |  | 0.05 |\n",
		"| [letters](motor/letters.csv) | code letters | a code, table 1 | 1 |  |  | 1 | 1 | 0.0012 |\n",
		"| **motor** | **2 values** | | 1 |  |  | 1 | 1 | 0.0012 |\n",
		"| [units](units.csv) | units \\| factors | a book, page a book",
		" page a book … | 1 | 1 |  |  |  | < 1e-9 |\n",
		"- negative checks: 1\n",
	} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "https://")
	assert.True(t, strings.HasSuffix(text, "\n\nTotal: 5 values checked, 3 sources, 0 failed\n"), text)
	assert.Equal(t, "Total: 5 values checked, 3 sources, 0 failed", lastLine(text))
	assert.Equal(t, text, render(sources), "the same page twice")
}

func TestRenderNothing(t *testing.T) {
	assert.Equal(t, "Total: 0 values checked, 0 sources, 0 failed", lastLine(render(nil)))
}

func TestDiff(t *testing.T) {
	assert.Empty(t, diff("a\nb\n", "a\nb\n"))
	assert.Equal(t, "- b\n+ c", diff("a\nb\n", "a\nc\n"))
	assert.Equal(t, "the same lines stand in another order or number", diff("a\nb\n", "b\na\n"))
	long := diff("", strings.Repeat("x\n", 3)+strings.Repeat("y\n", 20))
	assert.Contains(t, long, "(11 more)")
}

func TestReadReports(t *testing.T) {
	data, err := json.Marshal(reports()[0])
	require.NoError(t, err)
	got, err := readReports(fstest.MapFS{"motor-1.json": {Data: data}, "notes.txt": {}})
	require.NoError(t, err)
	assert.Equal(t, reports()[:1], got)
	_, err = readReports(fstest.MapFS{"motor-1.json": {Data: []byte("{")}})
	assert.ErrorContains(t, err, "motor-1.json")
}

func TestCSVFiles(t *testing.T) {
	got, err := csvFiles(fstest.MapFS{
		"testdata/a/b.csv":                  {},
		"testdata/a/b.txt":                  {},
		"examples/planner/testdata/d/e.csv": {},
		"examples/notes.csv":                {},
		".cache/testdata/c.csv":             {},
	})
	require.NoError(t, err)
	assert.Equal(t, []string{"examples/planner/testdata/d/e.csv", "testdata/a/b.csv"}, got)
}
