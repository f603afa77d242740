// Package tomlfile tells where in a TOML file a fault stands.
package tomlfile

import (
	"errors"
	"fmt"
	"strings"
	"unicode"

	"github.com/pelletier/go-toml/v2"
)

// An Error is a fault in a file, with the place where it stands.
// Line and Column count from 1; they are 0 for a fault of the whole file.
type Error struct {
	Line, Column int
	Key          string // "tank.precharge", "load[2].output"
	Err          error
}

// Error returns "line 12: tank.precharge: what is wrong".
func (e *Error) Error() string {
	var b strings.Builder
	if e.Line > 0 {
		fmt.Fprintf(&b, "line %d", e.Line)
		if e.Column > 0 {
			fmt.Fprintf(&b, ", column %d", e.Column)
		}
		b.WriteString(": ")
	}
	if e.Key != "" {
		b.WriteString(e.Key + ": ")
	}
	return b.String() + e.Err.Error()
}

// Unwrap returns what is wrong, without the place.
func (e *Error) Unwrap() error { return e.Err }

// mostFaults is how many unknown keys are listed.
const mostFaults = 20

// Placed turns the errors of the TOML reader that know their place into ours,
// their messages reworded; false for others.
func Placed(err error, reword func(string) string) (ok bool, placed error) {
	var strict *toml.StrictMissingError
	var decode *toml.DecodeError
	switch {
	case errors.As(err, &strict):
		var all []error
		for i := range strict.Errors {
			if i == mostFaults {
				all = append(all, &Error{Err: fmt.Errorf("and %d more", len(strict.Errors)-i)})
				break
			}
			e := &strict.Errors[i]
			line, column := e.Position()
			all = append(all, &Error{
				Line: line, Column: column, Key: strings.Join(e.Key(), "."),
				Err: errors.New("unknown key; the flag -sample shows every key there is"),
			})
		}
		return true, errors.Join(all...)
	case errors.As(err, &decode):
		line, column := decode.Position()
		return true, &Error{
			Line: line, Column: column, Key: strings.Join(decode.Key(), "."),
			Err: errors.New(reword(strings.TrimPrefix(decode.Error(), "toml: "))),
		}
	}
	return false, err
}

// KeyLines returns the line of every key of a well-formed file, by dotted path
// with the index of tables in lists: "load[0].output".
func KeyLines(data []byte) map[string]int {
	lines := map[string]int{}
	seen := map[string]int{}
	prefix := ""
	for i, text := range strings.Split(string(data), "\n") {
		text = strings.TrimSpace(text)
		switch {
		case strings.HasPrefix(text, "[["):
			name, _, _ := strings.Cut(strings.TrimPrefix(text, "[["), "]]")
			name = indexed(strings.TrimSpace(name), seen)
			full := fmt.Sprintf("%s[%d]", name, seen[name])
			seen[name]++
			prefix = full + "."
			lines[full] = i + 1
		case strings.HasPrefix(text, "["):
			name, _, _ := strings.Cut(strings.TrimPrefix(text, "["), "]")
			name = indexed(strings.TrimSpace(name), seen)
			prefix = name + "."
			lines[name] = i + 1
		case text == "" || text[0] == '#':
		default:
			if key, _, ok := strings.Cut(text, "="); ok {
				lines[prefix+strings.TrimSpace(key)] = i + 1
			}
		}
	}
	return lines
}

// indexed puts the index of the latest element into the parts of a dotted
// table name that are lists: "load.run" becomes "load[0].run".
func indexed(name string, seen map[string]int) string {
	parts := strings.Split(name, ".")
	path := ""
	for i, part := range parts {
		if path != "" {
			path += "."
		}
		path += strings.TrimSpace(part)
		if n := seen[path]; n > 0 && i < len(parts)-1 {
			path += fmt.Sprintf("[%d]", n-1)
		}
	}
	return path
}

// Unprintable reports control and direction characters, which could make a
// terminal show another answer than was computed.
func Unprintable(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) }
