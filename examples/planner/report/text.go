package report

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"ridethrough.example/examples/planner/plan"
)

const (
	width = 110
	label = 56 // width of the column of titles and labels
)

// Text returns the plan as a page of text: verdict, checks, figures, what was
// assumed, cautions. With explain every figure carries its formula, the
// numbers put in and its source.
func Text(p *plan.Plan, explain bool) string {
	var b strings.Builder
	heading(&b, "PLAN: "+p.Site.Name)
	if p.Site.Note != "" {
		b.WriteString(wrap(p.Site.Note, "  ", width))
	}
	heading(&b, "VERDICT")
	for _, line := range p.Verdict {
		item(&b, line)
	}
	checks(&b, p, explain)
	for _, s := range p.Sections {
		section(&b, s, explain)
	}
	for _, t := range p.Schedules {
		schedule(&b, t, explain)
	}
	if len(p.Assumptions) > 0 {
		heading(&b, "ASSUMED, FOR LACK OF A FIGURE IN THE SITE FILE")
		for _, a := range p.Assumptions {
			item(&b, a)
		}
	}
	heading(&b, "CAUTIONS")
	for _, c := range p.Cautions {
		item(&b, c.Topic+": "+c.Text)
	}
	if !explain {
		b.WriteString("\n  Run with -explain for the formula, the numbers and the source behind every figure.\n")
	}
	return b.String()
}

func heading(b *strings.Builder, text string) {
	if b.Len() > 0 {
		b.WriteByte('\n')
	}
	b.WriteString(text + "\n")
}

func item(b *strings.Builder, text string) {
	s := wrap(text, "    ", width)
	b.WriteString("  - " + s[4:])
}

func checks(b *strings.Builder, p *plan.Plan, explain bool) {
	heading(b, "CHECKS   (margin: capability over demand at the bad end of what is known)")
	for _, c := range p.Checks {
		state := strings.ToUpper(c.State.String())
		if c.Advice && c.State != plan.Holds {
			state = "advice"
		}
		sign := "≤"
		if c.AtLeast {
			sign = "≥"
		}
		bad, good := c.Limits()
		fmt.Fprintf(b, "  %s %s %s margin %s\n", pad(state, 8), pad(c.Title, label),
			pad(span(c.Low, c.High, "")+" "+sign+" "+span(bad, good, c.Unit), 27), number(c.Margin()))
		if c.State != plan.Holds || explain {
			b.WriteString(wrap(c.Message, "           ", width))
		}
		if explain {
			b.WriteString(wrap("rests on: "+c.Basis.String()+"; source: "+c.Source, "           ", width))
		}
	}
}

// schedule writes columns as wide as their widest cell, two spaces apart.
func schedule(b *strings.Builder, t plan.Schedule, explain bool) {
	heading(b, strings.ToUpper(t.Title))
	widths := make([]int, len(t.Columns))
	for _, row := range append([][]string{t.Columns}, t.Rows...) {
		for i, cell := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range append([][]string{t.Columns}, t.Rows...) {
		line := " "
		for i, cell := range row {
			line += " " + pad(cell, widths[i]+1)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	if explain {
		b.WriteString(wrap("source: "+t.Source, "      ", width))
	}
}

func section(b *strings.Builder, s plan.Section, explain bool) {
	heading(b, strings.ToUpper(s.Title))
	for _, f := range s.Figures {
		line := value(f)
		if f.Also != "" {
			line += " (" + f.Also + ")"
		}
		b.WriteString(hang("  "+pad(f.Label, label)+" ", line+" ["+f.Basis.String()+"]"))
		if f.Shortcut != nil {
			short := span(f.Shortcut.Value, f.Shortcut.Value, f.Unit)
			b.WriteString(wrap(fmt.Sprintf("shortcut: %s = %s, %s. %s", f.Shortcut.Rule, short, times(f), f.Shortcut.Why), "      ", width))
		}
		if explain {
			b.WriteString(wrap("formula: "+f.Formula, "      ", width))
			b.WriteString(wrap("numbers: "+f.Numbers, "      ", width))
			b.WriteString(wrap("source: "+f.Source, "      ", width))
		}
	}
	for _, n := range s.Notes {
		b.WriteString(wrap("Note: "+n, "  ", width))
	}
}
