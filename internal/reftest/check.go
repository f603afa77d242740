package reftest

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// slack is the room left for the last bits of binary arithmetic.
const slack = 1e-12

// Printed compares got with the figure printed in a column, to half of its
// last digit: "12.30" stands for 12.295 to 12.305, "1500" for 1499.5 to 1500.5.
func (r Row) Printed(column string, got float64) {
	r.tb.Helper()
	want := r.Float(column)
	r.compare(column, got, want, halfDigit(r.Text(column)))
}

// Digits compares as [Row.Printed] does with a tolerance of n halves of the
// last digit, for a source that truncates or that rounded on its way. The
// reason stands in the failure message and beside the call.
func (r Row) Digits(column string, got, n float64, reason string) {
	r.tb.Helper()
	if reason == "" {
		r.tb.Fatalf("%s: a wider tolerance needs a reason", r.Source())
	}
	r.compare(column, got, r.Float(column), n*halfDigit(r.Text(column)))
}

// Within compares got with the figure of a column to a relative tolerance,
// and says why the printed digits are not the measure.
func (r Row) Within(column string, got, relative float64, reason string) {
	r.tb.Helper()
	if reason == "" {
		r.tb.Fatalf("%s: a wider tolerance needs a reason", r.Source())
	}
	want := r.Float(column)
	r.compare(column, got, want, relative*math.Abs(want))
}

// Expected compares got with the row's columns "expected" and "tolerance",
// the second relative, but never tighter than the printed digits allow.
func (r Row) Expected(got float64) {
	r.tb.Helper()
	want := r.Float("expected")
	r.compare("expected", got, want, max(r.Float("tolerance")*math.Abs(want), halfDigit(r.Text("expected"))))
}

// Rejects is a negative check: the printed figure of a column is wrong, and
// got must be off it by more than the given relative distance.
func (r Row) Rejects(column string, got, relative float64) {
	r.tb.Helper()
	wrong := r.Float(column)
	c := Check{Figure: r.figure(column), Status: r.status(column)}
	c.Negative = true
	if !(math.Abs(got-wrong) > relative*math.Abs(wrong)) {
		c.Failed = true
		r.tb.Errorf("%s: %s: got %v, which reproduces the wrong figure %v", r.Source(), column, got, wrong)
	}
	r.record(c)
}

// compare records and reports one comparison.
func (r Row) compare(column string, got, want, tolerance float64) {
	r.tb.Helper()
	c := Check{Figure: r.figure(column), Status: r.status(column), Deviation: deviation(got, want)}
	if !(math.Abs(got-want) <= tolerance+slack*math.Abs(want)) {
		c.Failed = true
		r.tb.Errorf("%s: %s: got %.8g, want %s ± %.2g", r.Source(), column, got, r.Text(column), tolerance)
	}
	r.record(c)
}

// record counts a check, unless the row's figures count in another file.
func (r Row) record(c Check) {
	if slices.Contains(r.table.Columns, countedIn) && r.Has(countedIn) {
		return
	}
	count.record(c)
}

// figure names the cell of a column.
func (r Row) figure(column string) Figure {
	return Figure{Path: r.table.path, Line: r.table.lines[r.index], Column: column}
}

// deviation is |got − want| relative to want. A printed 0 has no relative
// deviation, and one that is no number stands as the largest, which JSON can
// carry.
func deviation(got, want float64) float64 {
	switch d := math.Abs(got/want - 1); {
	case want == 0:
		return 0
	case d <= math.MaxFloat64:
		return d
	default:
		return math.MaxFloat64
	}
}

// halfDigit is half of the last digit of a printed number. A zero at the end
// of a whole number counts as printed.
func halfDigit(text string) float64 {
	mantissa, exponent := strings.ToLower(strings.TrimSpace(text)), 0
	if m, e, ok := strings.Cut(mantissa, "e"); ok {
		mantissa = m
		exponent, _ = strconv.Atoi(e)
	}
	_, decimals, _ := strings.Cut(mantissa, ".")
	return 0.5 * math.Pow10(exponent-len(decimals))
}
