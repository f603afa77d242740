package plan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

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
