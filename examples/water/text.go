package main

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// text writes the answer as a page.
func (a *Answer) text() []byte {
	var b bytes.Buffer
	verdict := "All checks hold"
	if n := a.failing(); n > 0 {
		verdict = fmt.Sprintf("%d of %d checks do not hold", n, len(a.Checks))
	}
	name := a.Name
	if name != "" {
		name += ": "
	}
	fmt.Fprintf(&b, "%s%s\n", name, verdict)
	for _, c := range a.Checks {
		state := "holds"
		switch {
		case !c.Holds && c.Advice:
			state = "advice"
		case !c.Holds:
			state = "FAILS"
		}
		fmt.Fprintf(&b, "  %-7s %s [%s]\n", state, c.Says, c.Source)
	}
	for _, s := range a.Sections {
		fmt.Fprintf(&b, "\n%s   (rests on: %s)\n", s.Title, s.Basis)
		for _, f := range s.Figures {
			f.text(&b)
		}
		for _, t := range s.Tables {
			t.text(&b)
		}
		for _, n := range s.Notes {
			fmt.Fprintf(&b, "  Note: %s\n", n)
		}
	}
	list(&b, "Assumed", a.Assumed)
	list(&b, "Cautions", a.Cautions)
	return b.Bytes()
}

func (a *Answer) failing() int {
	n := 0
	for _, c := range a.Checks {
		if !c.Holds && !c.Advice {
			n++
		}
	}
	return n
}

const width = 54 // of the column of labels

func (f Figure) text(b *bytes.Buffer) {
	also := ""
	if f.Also != "" {
		also = " (" + f.Also + ")"
	}
	fmt.Fprintf(b, "  %s %s%s [%s]\n", pad(f.Label, width), with(f.Value, f.Unit), also, f.Source)
	for _, s := range f.Shortcuts {
		why := ""
		if s.Why != "" {
			why = ": " + s.Why
		}
		fmt.Fprintf(b, "      shortcut: %s = %s, %s%s\n", s.Rule, with(s.Value, f.Unit), f.off(s), why)
	}
}

func with(x float64, of string) string { return strings.TrimSpace(short(x) + " " + of) }

// off says by how much a shortcut errs.
func (f Figure) off(s Shortcut) string {
	percent := s.Percent
	switch {
	case f.Value == 0 && s.Value != 0:
		return "where there is nothing"
	case math.Abs(percent) < 0.05:
		return "the same"
	case percent < 0:
		return fmt.Sprintf("%.1f %% too little", -percent)
	}
	return fmt.Sprintf("%.1f %% too much", percent)
}

// text writes columns as wide as their widest cell.
func (t Table) text(b *bytes.Buffer) {
	fmt.Fprintf(b, "  %s [%s]\n", t.Title, t.Source)
	names := 0
	for _, r := range t.Rows {
		names = max(names, utf8.RuneCountInString(r.Name))
	}
	cell := func(k int, r Row) string {
		if math.IsNaN(r.Values[k]) {
			return "-"
		}
		return strconv.FormatFloat(r.Values[k], 'f', t.Columns[k].Decimals, 64)
	}
	widths := make([]int, len(t.Columns))
	for k, c := range t.Columns {
		widths[k] = utf8.RuneCountInString(c.Head)
		for _, r := range t.Rows {
			if r.Values != nil {
				widths[k] = max(widths[k], len(cell(k, r)))
			}
		}
	}
	b.WriteString("    " + pad("", names))
	for k, c := range t.Columns {
		fmt.Fprintf(b, "  %*s", widths[k], c.Head)
	}
	b.WriteByte('\n')
	for _, r := range t.Rows {
		b.WriteString("    " + pad(r.Name, names))
		if r.Why != "" {
			b.WriteString("  " + r.Why)
		}
		for k := range r.Values {
			fmt.Fprintf(b, "  %*s", widths[k], cell(k, r))
		}
		b.WriteByte('\n')
	}
}

// reason is why there is no figure, in the words of the library but without its
// name.
func reason(err error) string { return strings.TrimPrefix(err.Error(), "tank: ") }

func list(b *bytes.Buffer, title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(b, "\n%s\n", title)
	for _, l := range lines {
		fmt.Fprintf(b, "  - %s\n", l)
	}
}

func pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s))) }

// cautions are part of every answer.
func cautions() []string {
	return []string{
		"Pressure: a tank stores energy. Switch the pump off and drain the tank before the air charge is measured or changed; never exceed the pressure on the tank's label, and keep a relief valve on every system whose pump could.",
		"Freezing: water in a tank, a jet pump's case, the switch and its nipple bursts them below 0 °C. Drain what stands still, and know that a drained jet pump must be primed.",
		"Shock: water and mains meet here. Disconnect and prove dead before opening a switch or a control box, whose capacitor holds its charge.",
		"Backfeed: never feed a house through an outlet. A circuit that can see both sources needs transfer equipment or an interlock.",
		"Drinking: stored water goes stale, and a well that was flooded or opened is to be tested before anyone drinks from it.",
		"What was computed is no permission. Local code decides, and work on fixed wiring belongs to a licensed electrician.",
	}
}
