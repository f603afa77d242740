package plan

import (
	"bytes"
	"errors"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"ridethrough.example/examples/internal/tomlfile"
)

// placeAll turns the TOML reader's errors into ours.
func placeAll(err error, data []byte) error {
	if ok, placed := tomlfile.Placed(err, plainTOML); ok {
		return placed
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

// plainTOML rewords the messages that name Go types, which say nothing to
// the person who typed the file.
func plainTOML(message string) string {
	if strings.Contains(message, "plan.") || strings.Contains(message, "Go struct") || strings.Contains(message, "Go ") {
		return `wrong kind of value; quantities stand in quotes with their unit, such as "28 psi", and the flag -sample shows the kind of every key`
	}
	return message
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
