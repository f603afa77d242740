package quantity

import (
	"fmt"
	"io"
	"strconv"
	"unicode/utf8"
)

// Format prints x with its unit the way gonum's unit types do, so that a type
// defined here and one of gonum's line up in one table. Verbs v, e, E, f, F,
// g and G are understood; any other prints as fmt prints a bad verb. The width
// holds number and unit; flag - fills behind the unit.
func Format(fs fmt.State, c rune, x float64, unit string) {
	switch c {
	case 'v', 'e', 'E', 'f', 'F', 'g', 'G':
	default:
		fmt.Fprintf(fs, "%%!%c(%g %s)", c, x, unit)
		return
	}
	form := "%"
	for _, flag := range "+ 0" {
		if fs.Flag(int(flag)) {
			form += string(flag)
		}
	}
	width, _ := fs.Width()
	left := fs.Flag('-')
	if w := width - 1 - utf8.RuneCountInString(unit); w > 0 && !left {
		form += strconv.Itoa(w)
	}
	if p, ok := fs.Precision(); ok {
		form += "." + strconv.Itoa(p)
	}
	text := fmt.Sprintf(form+string(c), x) + " " + unit
	if left {
		text = fmt.Sprintf("%-*s", width, text)
	}
	_, _ = io.WriteString(fs, text)
}
