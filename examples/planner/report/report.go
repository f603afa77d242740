// Package report turns a plan into text for a reader. It computes nothing.
//
//   - report.go: how numbers and ranges are written
//   - text.go: the plan as a page of text, with or without explanations
package report

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"ridethrough.example/examples/planner/plan"
)

// number writes x with three significant digits and no exponent.
func number(x float64) string {
	if x == 0 {
		return "0"
	}
	decimals := 2 - int(math.Floor(math.Log10(math.Abs(x))+1e-9))
	if decimals < 0 {
		x = math.Round(x*math.Pow10(decimals)) * math.Pow10(-decimals)
	}
	s := strconv.FormatFloat(x, 'f', min(max(decimals, 0), 8), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// span writes a range with its unit; a range narrower than what is printed is
// written as one number.
func span(low, high float64, unit string) string {
	s := number(low)
	if h := number(high); h != s {
		s += ".." + h
	}
	if unit == "" {
		return s
	}
	return s + " " + unit
}

// value writes a figure.
func value(f plan.Figure) string { return span(f.Low, f.High, f.Unit) }

// times says how a shortcut compares with the range it stands beside.
func times(f plan.Figure) string {
	low, high := f.Times()
	switch {
	case high < 0.995:
		return "too low: the computed figure is " + span(1/high, 1/low, "") + " times as much"
	case low > 1.005 && math.IsInf(high, 1):
		return "too high by a factor of " + number(low) + " or more"
	case low > 1.005:
		return "too high by a factor of " + span(low, high, "")
	case low < 0.995 || high > 1.005:
		return "inside the range computed"
	}
	return "right here"
}

// wrap breaks text into lines of at most width characters, each behind indent.
func wrap(text, indent string, width int) string {
	var b strings.Builder
	column := 0
	for _, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		switch {
		case column == 0:
			b.WriteString(indent)
			column = utf8.RuneCountInString(indent)
		case column+1+n > width:
			b.WriteString("\n" + indent)
			column = utf8.RuneCountInString(indent)
		default:
			b.WriteByte(' ')
			column++
		}
		b.WriteString(word)
		column += n
	}
	b.WriteByte('\n')
	return b.String()
}

// hang writes text behind a lead, with further lines indented to the lead's
// width.
func hang(lead, text string) string {
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	return lead + wrap(text, indent, width)[len(indent):]
}

// pad fills s with spaces to n characters.
func pad(s string, n int) string {
	return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s)))
}
