package quantity

import (
	"fmt"
	"unicode/utf8"
)

// Format prints x with its unit the way gonum's unit types do, so that a type
// defined here and one of gonum's line up in one table. Verbs v, e, E, f, F,
// g and G are understood; any other prints as fmt prints a bad verb.
func Format(fs fmt.State, c rune, x float64, unit string) {
	switch c {
	case 'v', 'e', 'E', 'f', 'F', 'g', 'G':
	default:
		fmt.Fprintf(fs, "%%!%c(%g %s)", c, x, unit)
		return
	}
	form := "%"
	for _, flag := range "+- 0" {
		if fs.Flag(int(flag)) {
			form += string(flag)
		}
	}
	if w, ok := fs.Width(); ok {
		form += fmt.Sprint(max(0, w-1-utf8.RuneCountInString(unit)))
	}
	if p, ok := fs.Precision(); ok {
		form += "." + fmt.Sprint(p)
	}
	fmt.Fprintf(fs, form+string(c)+" %s", x, unit)
}
