package plan

import (
	"bytes"
	"encoding"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"

	"ridethrough.example/examples/internal/tomlfile"
)

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
		case t.Kind() == reflect.String && strings.ContainsFunc(fmt.Sprint(v), tomlfile.Unprintable):
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
