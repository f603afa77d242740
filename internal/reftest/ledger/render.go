package main

import (
	"cmp"
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"ridethrough.example/internal/reftest"
)

const intro = `<!-- Written by go run ./internal/reftest/ledger; do not edit. -->

# Ledger of checks

Every figure below was laid beside a result of the library by a test. One
value is one printed or independently computed figure, compared once: a figure
that two tests, two packages or two files compare counts once, and the library's
own output never stands as an expected value. A result passes where it agrees to
half of the last printed digit; a wider tolerance has its reason beside it in
the test. A negative check is a figure that was published wrong and that the
library must not reproduce; it is not counted as a value.

The statuses say who stands behind a figure:

- published: seen printed in the source named;
- independent: computed by other means than the code under test, with the
  model and the tolerances in the head of the file;
- common practice: used by the trade, backed by no standard;
- memory: recalled from the source named, whose page nobody has seen yet.

Where a file says several things of a figure, the weakest counts. The worst
deviation is relative to the printed figure and holds the rounding of the
print; a printed zero has none.

A source is one file that holds at least one value or negative check. A file
without either is read by a test that holds a span of the library against it, or
takes its inputs from it, and adds nothing to the total.
`

const head = `| file | what it holds | source | published | independent | common practice | memory | negative | worst deviation |
| --- | --- | --- | ---: | ---: | ---: | ---: | ---: | ---: |
`

// render writes the page. Its last line is the total.
func render(sources []source) string {
	sources = slices.Clone(sources)
	slices.SortStableFunc(sources, func(a, b source) int { return cmp.Compare(a.group(), b.group()) })
	var b strings.Builder
	b.WriteString(intro)
	all, count := newSum(), 0
	for len(sources) > 0 {
		name, n := sources[0].group(), 1
		for n < len(sources) && sources[n].group() == name {
			n++
		}
		fmt.Fprintf(&b, "\n## %s\n\n%s", name, head)
		sum := newSum()
		for _, s := range sources[:n] {
			fmt.Fprintf(&b, "| [%s](%s) | %s | %s | %s |\n",
				cell(s.name()), s.link(), cell(s.Title), cell(shorten(s.Source)), s.figures())
			sum = sum.plus(s)
			if s.total()+s.Negative > 0 {
				count++
			}
		}
		fmt.Fprintf(&b, "| **%s** | **%s** | | %s |\n", name, plural(sum.total(), "value"), sum.figures())
		all = all.plus(sum)
		sources = sources[n:]
	}
	b.WriteString("\n## All\n\n")
	for _, status := range reftest.Statuses {
		fmt.Fprintf(&b, "- %s: %d\n", status, all.Values[status])
	}
	fmt.Fprintf(&b, "- negative checks: %d\n- worst deviation: %s\n\n", all.Negative, all.deviation())
	fmt.Fprintf(&b, "Total: %s checked, %s, 0 failed\n", plural(all.total(), "value"), plural(count, "source"))
	return b.String()
}

func newSum() source { return source{Values: map[reftest.Status]int{}} }

// plus returns the figures of two sources together, under the name of the first.
func (s source) plus(other source) source {
	s.Values = maps.Clone(s.Values)
	for status, n := range other.Values {
		s.Values[status] += n
	}
	s.Negative += other.Negative
	s.Deviation = max(s.Deviation, other.Deviation)
	return s
}

// name is the file's name without its ending.
func (s source) name() string { return strings.TrimSuffix(path.Base(s.Path), ".csv") }

// link is the file's path from the page.
func (s source) link() string {
	if below, ok := strings.CutPrefix(s.Path, "testdata/"); ok {
		return below
	}
	return "../" + s.Path
}

// figures are the numbers of one line of the table.
func (s source) figures() string {
	var cells []string
	for _, status := range reftest.Statuses {
		cells = append(cells, number(s.Values[status]))
	}
	return strings.Join(append(cells, number(s.Negative), s.deviation()), " | ")
}

// deviation prints the worst deviation. What the last bits of binary
// arithmetic decide is not told apart, so that every machine writes one page.
func (s source) deviation() string {
	switch {
	case s.total() == 0:
		return ""
	case s.Deviation < 1e-9:
		return "< 1e-9"
	default:
		return fmt.Sprintf("%.2g", s.Deviation)
	}
}

// number leaves a zero blank.
func number(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// cell makes a text fit for a cell of a table.
func cell(text string) string { return strings.ReplaceAll(text, "|", "\\|") }

var webAddress = regexp.MustCompile(`\(?https?://[^\s;,)]+\)?`)

// shorten leaves out web addresses and what follows some hundred characters;
// the file holds the whole.
func shorten(text string) string {
	const most = 100
	text = strings.Join(strings.Fields(webAddress.ReplaceAllString(text, "")), " ")
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	text = string([]rune(text)[:most])
	if i := strings.LastIndexByte(text, ' '); i > 0 {
		text = text[:i]
	}
	return strings.TrimRight(text, " ,;:(") + " …"
}

// lastLine returns the last line of a page.
func lastLine(text string) string {
	text = strings.TrimSpace(text)
	return text[strings.LastIndexByte(text, '\n')+1:]
}
