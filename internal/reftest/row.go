package reftest

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A Row is one line of a [Table]. Its methods fail the test that opened it
// where a column is missing or a cell does not parse.
type Row struct {
	tb    testing.TB
	table *Table
	index int
}

// Source names file and line, to stand in failure messages.
func (r Row) Source() string {
	return fmt.Sprintf("testdata/%s:%d", r.table.Name, r.table.lines[r.index])
}

// With returns the row bound to another test, such as a subtest.
func (r Row) With(tb testing.TB) Row {
	r.tb = tb
	return r
}

// Text returns the cell of a column.
func (r Row) Text(column string) string {
	r.tb.Helper()
	i := slices.Index(r.table.Columns, column)
	if i < 0 {
		r.tb.Fatalf("%s: no column %q", r.Source(), column)
	}
	return strings.TrimSpace(r.table.rows[r.index][i])
}

// Has reports whether the cell of a column holds anything.
func (r Row) Has(column string) bool {
	r.tb.Helper()
	return r.Text(column) != ""
}

// Float returns the number in the cell of a column.
func (r Row) Float(column string) float64 {
	r.tb.Helper()
	x, err := strconv.ParseFloat(r.Text(column), 64)
	if err != nil {
		r.tb.Fatalf("%s: column %s: %v", r.Source(), column, err)
	}
	return x
}

// Param returns the number of one entry of the column "inputs", which holds
// "name=number unit" parts between semicolons. The unit must be the one given,
// so that a test cannot misread psi as bar.
func (r Row) Param(name, unit string) float64 {
	r.tb.Helper()
	text, ok := r.param(name)
	if !ok {
		r.tb.Fatalf("%s: inputs have no %q", r.Source(), name)
	}
	number, rest, _ := strings.Cut(text, " ")
	x, err := strconv.ParseFloat(number, 64)
	if err != nil || strings.TrimSpace(rest) != unit {
		r.tb.Fatalf("%s: input %s is %q, want a number of %q", r.Source(), name, text, unit)
	}
	return x
}

// HasParam reports whether the column "inputs" has an entry of that name.
func (r Row) HasParam(name string) bool {
	r.tb.Helper()
	_, ok := r.param(name)
	return ok
}

// ParamText returns one entry of the column "inputs" as it stands.
func (r Row) ParamText(name string) string {
	r.tb.Helper()
	text, ok := r.param(name)
	if !ok {
		r.tb.Fatalf("%s: inputs have no %q", r.Source(), name)
	}
	return text
}

func (r Row) param(name string) (string, bool) {
	r.tb.Helper()
	for part := range strings.SplitSeq(r.Text("inputs"), ";") {
		if key, value, ok := strings.Cut(part, "="); ok && strings.TrimSpace(key) == name {
			return strings.TrimSpace(value), true
		}
	}
	return "", false
}

// status returns who stands behind the cell of a column.
func (r Row) status(column string) Status {
	if s := r.table.status[column]; s != 0 {
		return s
	}
	if slices.Contains(r.table.Columns, "verified") {
		if s, err := parseVerified(r.Text("verified")); err == nil && s != 0 {
			return s
		}
	}
	return r.table.status[""]
}
