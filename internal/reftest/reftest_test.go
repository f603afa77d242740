package reftest

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const sample = `# title: a sample
# source: no book
# status: published
# status worn: memory
# notes: nothing
id,inputs,expected,tolerance,worn,verified
a,V=12.50 V; n=3,10.00,0.001,7,page
b,V=1 V,3e-3,0,7,derived
`

// recorder is a testing.TB that keeps failures instead of reporting them.
type recorder struct {
	testing.TB
	failures []string
}

func (r *recorder) Helper() {}
func (r *recorder) Errorf(format string, args ...any) {
	r.failures = append(r.failures, fmt.Sprintf(format, args...))
}

func rows(t *testing.T, tb testing.TB) []Row {
	t.Helper()
	table, err := parse("sample.csv", []byte(sample))
	require.NoError(t, err)
	count.add(table)
	return []Row{{tb: tb, table: table, index: 0}, {tb: tb, table: table, index: 1}}
}

func TestHalfDigit(t *testing.T) {
	for text, want := range map[string]float64{
		"12.30": 0.005, "1500": 0.5, "-4.5": 0.05, "1.2e-3": 0.5e-4, "3E2": 50, " 7. ": 0.5,
	} {
		assert.InEpsilon(t, want, halfDigit(text), 1e-12, text)
	}
}

func TestRowReadsCells(t *testing.T) {
	r := rows(t, t)[0]
	assert.Equal(t, "testdata/sample.csv:7", r.Source())
	assert.InDelta(t, 12.5, r.Param("V", "V"), 0)
	assert.InDelta(t, 3, r.Param("n", ""), 0)
	assert.False(t, r.HasParam("w"))
	assert.Equal(t, Published, r.status("expected"))
	assert.Equal(t, Memory, r.status("worn"))
	assert.Equal(t, Independent, rows(t, t)[1].status("expected"))
}

// The comparisons must fail where they should: a test helper that passes
// everything would make the ledger worthless.
func TestChecksFail(t *testing.T) {
	for name, tt := range map[string]struct {
		run  func(Row)
		fail bool
	}{
		"inside half a digit":   {func(r Row) { r.Printed("expected", 10.0049) }, false},
		"outside half a digit":  {func(r Row) { r.Printed("expected", 10.0051) }, true},
		"NaN":                   {func(r Row) { r.Printed("expected", math.NaN()) }, true},
		"inside the tolerance":  {func(r Row) { r.Expected(9.991) }, false},
		"outside the tolerance": {func(r Row) { r.Expected(9.98) }, true},
		"within":                {func(r Row) { r.Within("expected", 10.4, 0.05, "why") }, false},
		"not within":            {func(r Row) { r.Within("expected", 10.6, 0.05, "why") }, true},
		"two halves":            {func(r Row) { r.Digits("expected", 10.009, 2, "why") }, false},
		"wrong figure avoided":  {func(r Row) { r.Rejects("worn", 8, 0.01) }, false},
		"wrong figure met":      {func(r Row) { r.Rejects("worn", 7.01, 0.01) }, true},
		"wrong figure and NaN":  {func(r Row) { r.Rejects("worn", math.NaN(), 0.01) }, true},
	} {
		rec := &recorder{TB: t}
		tt.run(rows(t, rec)[0])
		assert.Equal(t, tt.fail, len(rec.failures) > 0, name)
	}
}

func TestHeaderIsRequired(t *testing.T) {
	for name, text := range map[string]string{
		"no source":      "# title: a\n# status: memory\na\n1\n",
		"unknown status": "# title: a\n# source: b\n# status: sure\na\n1\n",
		"no status":      "# title: a\n# source: b\na\n1\n",
		"unknown column": "# title: a\n# source: b\n# status: memory\n# status z: memory\na\n1\n",
		"no rows":        "# title: a\n# source: b\n# status: memory\na\n",
		"ragged":         "# title: a\n# source: b\n# status: memory\na,b\n1\n",
		"bare quote":     "# title: a\n# source: b\n# status: memory\na\n1\"\n",
		"column twice":   "# title: a\n# source: b\n# status: memory\na,a\n1,2\n",
		"row in comment": "# title: a\n# source: b\n# status: memory\na,b\n#12,2\n1,2\n",
		"bad verified":   "# title: a\n# source: b\n# status: memory\na,verified\n1,surely\n",
		"empty":          "",
	} {
		_, err := parse("x.csv", []byte(text))
		assert.Error(t, err, name)
	}
}

func TestSameFigureCountsOnce(t *testing.T) {
	table, err := parse("once.csv", []byte(sample))
	require.NoError(t, err)
	c := newCounter()
	c.add(table)
	k := Check{Figure: Figure{Path: "once.csv", Line: 7, Column: "expected"}, Status: Published, Deviation: 0.1}
	c.record(k)
	k.Deviation = 0.01
	c.record(k)
	k.Status = Memory
	c.record(k)
	k.Negative = true
	c.record(k)
	got := c.report("here")
	assert.Equal(t, []File{{Path: "once.csv", Title: "a sample", Source: "no book"}}, got.Files)
	require.Len(t, got.Checks, 2)
	assert.Equal(t, Memory, got.Checks[0].Status, "the weaker status")
	assert.InDelta(t, 0.1, got.Checks[0].Deviation, 0, "the worse deviation")
	assert.True(t, got.Checks[1].Negative)
}

// A report with a result that is no number must still reach the ledger.
func TestReportSurvivesNaN(t *testing.T) {
	for _, got := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		assert.InDelta(t, math.MaxFloat64, deviation(got, 12), 0)
	}
	assert.Zero(t, deviation(0.3, 0))
	dir := t.TempDir()
	c := newCounter()
	c.record(Check{Figure: Figure{Path: "a.csv", Line: 2, Column: "x"}, Deviation: deviation(math.NaN(), 1), Failed: true})
	require.NoError(t, c.write(dir))
	require.NoError(t, c.write(dir), "a second package of the same folder name")
	files, err := filepath.Glob(filepath.Join(dir, "reftest-*.json"))
	require.NoError(t, err)
	require.Len(t, files, 2)
	data, err := os.ReadFile(files[0])
	require.NoError(t, err)
	var r Report
	require.NoError(t, json.Unmarshal(data, &r))
	assert.True(t, r.Checks[0].Failed)
}

func TestVerified(t *testing.T) {
	for cell, want := range map[string]Status{
		"":                                       0,
		"page":                                   Published,
		"two-pages":                              Published,
		"page (a public copy of the table)":      Published,
		"derived":                                Independent,
		"page (inputs); derived":                 Independent,
		"page (claim)":                           Independent,
		"page (coefficients)":                    Independent,
		"derived from page inputs":               Independent,
		"common practice":                        CommonPractice,
		"memory":                                 Memory,
		"memory, confirmed by derived":           Memory,
		"page (data); result memory":             Memory,
		"two-pages + memory for the last column": Memory,
	} {
		got, err := parseVerified(cell)
		require.NoError(t, err, cell)
		assert.Equal(t, want, got, cell)
	}
	_, err := parseVerified("seen")
	assert.Error(t, err)
}

func TestRowsOfAFile(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "testdata", "a"), 0o755))
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "deep", "er"), 0o755))
	path := filepath.Join(dir, "testdata", "a", "b.csv")
	require.NoError(t, os.WriteFile(path, []byte(sample), 0o600))
	t.Chdir(filepath.Join(dir, "deep", "er"))
	table, err := load("a/b.csv")
	require.NoError(t, err)
	assert.Equal(t, "a/b.csv", table.Name)
	assert.Equal(t, path, table.path)
	_, err = load("a/c.csv")
	assert.Error(t, err)
}

// A row that names another file is compared all the same, but counts there.
func TestCountedElsewhere(t *testing.T) {
	const text = "# title: a\n# source: b\n# status: memory\nexpected,counted_in\n10.0,\n20.0,reftest/other.csv\n"
	table, err := parse("elsewhere.csv", []byte(text))
	require.NoError(t, err)
	rec := &recorder{TB: t}
	for i, want := range []float64{10, 20} {
		r := Row{tb: rec, table: table, index: i}
		r.Printed("expected", want)
		r.Rejects("expected", 2*want, 0.1)
		_, counted := count.checks[r.figure("expected")]
		assert.Equal(t, i == 0, counted)
		negative := r.figure("expected")
		negative.Negative = true
		_, counted = count.checks[negative]
		assert.Equal(t, i == 0, counted)
	}
	assert.Empty(t, rec.failures)
	Row{tb: rec, table: table, index: 1}.Printed("expected", 21)
	Row{tb: rec, table: table, index: 1}.Rejects("expected", 20, 0.1)
	assert.Len(t, rec.failures, 2)
}

// The file named must exist, and be another one.
func TestCountedElsewhereExists(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	require.NoError(t, os.Mkdir("testdata", 0o755))
	write := func(name, where string) {
		text := "# title: a\n# source: b\n# status: memory\nexpected,counted_in\n1," + where + "\n"
		require.NoError(t, os.WriteFile(filepath.Join("testdata", name), []byte(text), 0o600))
	}
	write("one.csv", "")
	write("two.csv", "one.csv")
	write("lost.csv", "nowhere.csv")
	write("self.csv", "self.csv")
	for name, good := range map[string]bool{"one.csv": true, "two.csv": true, "lost.csv": false, "self.csv": false} {
		_, err := load(name)
		assert.Equal(t, good, err == nil, "%s: %v", name, err)
	}
}
