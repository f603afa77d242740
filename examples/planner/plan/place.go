package plan

import (
	"bytes"
	"errors"
	"fmt"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// placeAll turns the TOML reader's errors into ours.
func placeAll(err error, data []byte) error {
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) {
		var all []error
		for i := range strict.Errors {
			if i == mostFaults {
				all = append(all, &InputError{Err: fmt.Errorf("and %d more", len(strict.Errors)-i)})
				break
			}
			e := &strict.Errors[i]
			line, column := e.Position()
			all = append(all, &InputError{
				Line: line, Column: column, Key: strings.Join(e.Key(), "."),
				Err: errors.New("unknown key; the flag -sample shows every key there is"),
			})
		}
		return errors.Join(all...)
	}
	var decode *toml.DecodeError
	if errors.As(err, &decode) {
		line, column := decode.Position()
		return &InputError{
			Line: line, Column: column, Key: strings.Join(decode.Key(), "."),
			Err: errors.New(plainTOML(strings.TrimPrefix(decode.Error(), "toml: "))),
		}
	}
	return &InputError{Line: lineOf(err, data), Err: errors.New(plainTOML(strings.TrimPrefix(err.Error(), "toml: ")))}
}

// lineOf finds the line of an error that the TOML reader reports without its
// place, as it does for a bare number where text should stand: the shortest
// beginning of the file that has the same error ends there.
func lineOf(err error, data []byte) int {
	lines := bytes.SplitAfter(data, []byte("\n"))
	ends := make([]int, len(lines))
	end := 0
	for i, line := range lines {
		end += len(line)
		ends[i] = end
	}
	n := sort.Search(len(lines), func(i int) bool {
		var s Site
		e := toml.NewDecoder(bytes.NewReader(data[:ends[i]])).DisallowUnknownFields().Decode(&s)
		return e != nil && e.Error() == err.Error()
	})
	if n == len(lines) {
		return 0
	}
	return n + 1
}

// mostFaults is how many unknown keys are listed.
const mostFaults = 20

// plainTOML rewords the messages that name Go types, which say nothing to
// the person who typed the file.
func plainTOML(message string) string {
	if strings.Contains(message, "plan.") || strings.Contains(message, "Go struct") || strings.Contains(message, "Go ") {
		return `wrong kind of value; quantities stand in quotes with their unit, such as "28 psi", and the flag -sample shows the kind of every key`
	}
	return message
}

// keyLines returns the line of every key of a well-formed file, by dotted path
// with the index of tables in lists: "load[0].output".
func keyLines(data []byte) map[string]int {
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

// at places an error at a key of the file, or at the table that holds it.
func (s *Site) at(key string, err error) error {
	if err == nil {
		return nil
	}
	for k := key; ; {
		if line := s.where[k]; line > 0 {
			return &InputError{Line: line, Key: key, Err: err}
		}
		i := strings.LastIndexByte(k, '.')
		if i < 0 {
			return &InputError{Key: key, Err: err}
		}
		k = k[:i]
	}
}
