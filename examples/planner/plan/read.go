package plan

import (
	"bytes"
	"encoding"
	"errors"
	"fmt"
	"io"
	"reflect"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
)

// MaxSize is the largest site file that is read. A real one has a few
// kilobytes.
const MaxSize = 256 << 10

// An InputError is a fault in a site file, with the place where it stands.
// Line and Column count from 1; they are 0 for a fault of the whole file.
type InputError struct {
	Line, Column int
	Key          string // "tank.precharge", "load[2].output"
	Err          error
}

// Error returns "line 12: tank.precharge: what is wrong".
func (e *InputError) Error() string {
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
func (e *InputError) Unwrap() error { return e.Err }

// Read reads a site file. Every fault is an [InputError]; several come joined.
// Read checks form and presence; whether the figures make sense together is
// for [Make] to say.
func Read(r io.Reader) (Site, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxSize+1))
	if err != nil {
		return Site{}, err
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // a byte-order mark says nothing
	if err := checkText(data); err != nil {
		return Site{}, err
	}
	var s Site
	d := toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields()
	if err := d.Decode(&s); err != nil {
		return Site{}, placeAll(err, data)
	}
	s.where = keyLines(data)
	if err := s.kinds(data); err != nil {
		return Site{}, err
	}
	return s, errors.Join(s.signs(), s.missing())
}

// kinds refuses what the TOML reader takes for a quantity and is none: a table,
// a list, a number where only a word makes sense, a count of nothing. Taken
// as they are they would be lost further on.
func (s *Site) kinds(data []byte) error {
	var raw map[string]any
	if err := toml.Unmarshal(data, &raw); err != nil {
		return placeAll(err, data)
	}
	var errs []error
	var walk func(t reflect.Type, v any, path string)
	walk = func(t reflect.Type, v any, path string) {
		say := func(text string) { errs = append(errs, s.at(path, errors.New(text))) }
		list, isList := v.([]any)
		switch {
		case reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()):
			_, isText := v.(string)
			_, isInt := v.(int64)
			_, isFloat := v.(float64)
			if !isText && !(t == reflect.TypeFor[Value[Ratio]]() && (isInt || isFloat)) {
				say(`want text in quotes, a quantity with its unit such as "28 psi"`)
			}
		case t.Kind() == reflect.Slice && isList:
			for i, e := range list {
				walk(t.Elem(), e, fmt.Sprintf("%s[%d]", path, i))
			}
		case t.Kind() == reflect.Struct:
			table, ok := v.(map[string]any)
			if !ok {
				say("want a table")
				return
			}
			for i := range t.NumField() {
				field := t.Field(i)
				if field.Anonymous {
					walk(field.Type, table, path)
				} else if e, ok := table[field.Tag.Get("toml")]; ok {
					walk(field.Type, e, strings.TrimPrefix(path+"."+field.Tag.Get("toml"), "."))
				}
			}
		case t.Kind() == reflect.Int && v == int64(0):
			say("not above zero; leave the key out if the figure is not known")
		case t.Kind() == reflect.String && strings.ContainsFunc(fmt.Sprint(v), unprintable):
			say("characters that cannot be printed")
		}
	}
	walk(reflect.TypeOf(*s), raw, "")
	if len(s.Loads) > mostLoads {
		errs = append(errs, s.at("load", fmt.Errorf("%d loads, want %d at most", len(s.Loads), mostLoads)))
	}
	return errors.Join(errs...)
}

// mostLoads is more than a house has.
const mostLoads = 100

// unprintable reports control and direction characters, which could make a
// terminal show another plan than was computed.
func unprintable(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) }

// A shaped quantity knows whether it is given, the sign of its low end and
// whether it is a range.
type shaped interface {
	shape() (given bool, sign int, isRange bool)
}

// signs refuses what is zero or negative and must not be, and ranges where one
// figure is wanted. Zero would be taken for "not given" further on, and so
// would be lost.
func (s *Site) signs() error {
	var errs []error
	var walk func(v reflect.Value, path string, tag reflect.StructTag)
	walk = func(v reflect.Value, path string, tag reflect.StructTag) {
		if q, ok := v.Interface().(shaped); ok {
			given, sign, isRange := q.shape()
			switch least := tag.Get("least"); {
			case given && isRange && tag.Get("single") != "":
				errs = append(errs, s.at(path, errors.New("want one nominal figure, not a range")))
			case !given || least == "any" || sign > 0 || sign == 0 && least == "zero":
			case least == "zero":
				errs = append(errs, s.at(path, errors.New("below zero, want zero or more")))
			default:
				errs = append(errs, s.at(path, errors.New("not above zero; leave the key out if the figure is not known")))
			}
			return
		}
		switch v.Kind() {
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i), fmt.Sprintf("%s[%d]", path, i), tag)
			}
		case reflect.Struct:
			for i := range v.NumField() {
				field := v.Type().Field(i)
				key := field.Tag.Get("toml")
				switch {
				case !field.IsExported():
				case key == "": // a part of the same table
					walk(v.Field(i), path, field.Tag)
				case path == "":
					walk(v.Field(i), key, field.Tag)
				default:
					walk(v.Field(i), path+"."+key, field.Tag)
				}
			}
		}
	}
	walk(reflect.ValueOf(*s), "", "")
	return errors.Join(errs...)
}

// checkText refuses what is no text before the TOML reader sees it.
func checkText(data []byte) error {
	if len(data) > MaxSize {
		return &InputError{Err: fmt.Errorf("more than %d KiB, which is no site file", MaxSize>>10)}
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return &InputError{Err: errors.New("the site file is empty; the flag -sample writes one to start from")}
	}
	if !utf8.Valid(data) {
		line := 1
		for rest := data; len(rest) > 0; {
			c, size := utf8.DecodeRune(rest)
			if c == utf8.RuneError && size == 1 {
				break
			}
			if c == '\n' {
				line++
			}
			rest = rest[size:]
		}
		return &InputError{Line: line, Err: errors.New("bytes that are no UTF-8 text")}
	}
	return nil
}

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

var errMissing = errors.New("missing; the flag -sample explains the key")

// missing reports the keys without which there is nothing to plan.
func (s *Site) missing() error {
	var errs []error
	need := func(given bool, key string) {
		if !given {
			errs = append(errs, s.at(key, errMissing))
		}
	}
	need(len(s.Loads) > 0, "load")
	for i := range s.Loads {
		need(s.Loads[i].Name != "", fmt.Sprintf("load[%d].name", i))
		need(s.Loads[i].Voltage.Given() || s.Loads[i].Measured.Voltage.Given(), fmt.Sprintf("load[%d].voltage", i))
	}
	need(s.Battery.Chemistry != 0, "battery.chemistry")
	need(s.Battery.Capacity.Given(), "battery.capacity")
	need(s.Battery.Rate.Given(), "battery.rate")
	need(s.Battery.UnitVoltage.Given(), "battery.unit_voltage")
	need(s.Inverter.Power.Given() || s.Inverter.Apparent.Given(), "inverter.power")
	return errors.Join(errs...)
}
