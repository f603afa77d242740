package plan

import (
	"bytes"
	"errors"
	"io"

	"github.com/pelletier/go-toml/v2"

	"ridethrough.example/examples/internal/tomlfile"
)

// MaxSize is the largest site file that is read. A real one has a few
// kilobytes.
const MaxSize = 256 << 10

// An InputError is a fault in a site file, with the place where it stands.
type InputError = tomlfile.Error

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
	s.where = tomlfile.KeyLines(data)
	if err := s.kinds(data); err != nil {
		return Site{}, err
	}
	return s, errors.Join(s.signs(), s.missing())
}
