package main

import (
	"bytes"
	"encoding"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"

	"ridethrough.example/examples/internal/tomlfile"
)

const mostBytes = 256 << 10 // a real file has a few kilobytes

// read reads a system file. Faults are told with the line on which they stand.
func read(r io.Reader) (*System, error) {
	data, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err != nil {
		return nil, err
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	switch {
	case len(data) > mostBytes:
		return nil, fmt.Errorf("more than %d KiB, which is no system file", mostBytes>>10)
	case len(bytes.TrimSpace(data)) == 0:
		return nil, errors.New("the file is empty; the flag -sample writes one to start from")
	case !utf8.Valid(data):
		return nil, errors.New("bytes that are no UTF-8 text")
	}
	s := &System{where: tomlfile.KeyLines(data)}
	var raw map[string]any
	if err := toml.Unmarshal(data, &raw); err != nil {
		return nil, placed(err)
	}
	if err := s.kinds(reflect.TypeFor[System](), raw, ""); err != nil {
		return nil, err
	}
	if err := toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields().Decode(s); err != nil {
		return nil, placed(err)
	}
	if err := s.faults(); err != nil {
		return nil, err
	}
	return s, nil
}

// placed turns the reader's errors into ours.
func placed(err error) error {
	_, err = tomlfile.Placed(err, func(text string) string { return text })
	return err
}

// kinds refuses values of another kind than the key asks for, which the reader
// would pass over or report in the terms of Go.
func (s *System) kinds(t reflect.Type, v any, path string) error {
	bad := func(want string) error { return s.at(path, errors.New("want "+want)) }
	list, isList := v.([]any)
	switch {
	case reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()):
		text, ok := v.(string)
		if !ok {
			return bad(`text in quotes, a figure with its unit such as "28 psi"`)
		}
		// Tried here, as the reader does not tell the place of its errors.
		if u, ok := reflect.New(t).Interface().(encoding.TextUnmarshaler); ok {
			if err := u.UnmarshalText([]byte(text)); err != nil {
				return s.at(path, err)
			}
		}
	case t.Kind() == reflect.Slice:
		if !isList {
			return bad("a list in square brackets")
		}
		var errs []error
		for i, e := range list {
			errs = append(errs, s.kinds(t.Elem(), e, fmt.Sprintf("%s[%d]", path, i)))
		}
		return errors.Join(errs...)
	case t.Kind() == reflect.Struct:
		table, ok := v.(map[string]any)
		if !ok {
			return bad("a table")
		}
		var errs []error
		for i := range t.NumField() {
			key := t.Field(i).Tag.Get("toml")
			if e, ok := table[key]; ok && key != "" {
				errs = append(errs, s.kinds(t.Field(i).Type, e, strings.TrimPrefix(path+"."+key, ".")))
			}
		}
		return errors.Join(errs...)
	case t.Kind() == reflect.String:
		if text, ok := v.(string); !ok || strings.ContainsFunc(text, tomlfile.Unprintable) {
			return bad("text in quotes that can be printed")
		}
	case t.Kind() == reflect.Bool:
		if _, ok := v.(bool); !ok {
			return bad("true or false")
		}
	case t.Kind() == reflect.Int:
		if n, ok := v.(int64); !ok || n == 0 {
			return bad("a whole number above zero")
		}
	default:
		_, isInt := v.(int64)
		if _, ok := v.(float64); !ok && !isInt {
			return bad("a number")
		}
	}
	return nil
}

// at places an error at a key of the file, or at the table that holds it.
func (s *System) at(key string, err error) error {
	for k := key; k != ""; k = k[:max(0, strings.LastIndexAny(k, ".["))] {
		if line := s.where[k]; line > 0 {
			return &tomlfile.Error{Line: line, Key: key, Err: err}
		}
	}
	return &tomlfile.Error{Key: key, Err: err}
}
