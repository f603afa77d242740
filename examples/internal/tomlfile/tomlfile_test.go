package tomlfile

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestKeyLines(t *testing.T) {
	const text = "name = 1\n\n[tank]\n# volume = 3\nvolume = 2\n[[load]]\nname = 1\n[load.measured]\nwatts = 1\n[[load]]\n[[load.run]]\nsize = 1\n"
	want := map[string]int{
		"name": 1, "tank": 3, "tank.volume": 5, "load[0]": 6, "load[0].name": 7, "load[0].measured": 8, "load[0].measured.watts": 9,
		"load[1]": 10, "load[1].run[0]": 11, "load[1].run[0].size": 12,
	}
	assert.Equal(t, want, KeyLines([]byte(text)))
}

func TestPlaced(t *testing.T) {
	loud := func(s string) string { return strings.ToUpper(s) }
	decode := func(text string) error {
		var v struct {
			A int `toml:"a"`
		}
		return toml.NewDecoder(strings.NewReader(text)).DisallowUnknownFields().Decode(&v)
	}
	ok, err := Placed(decode("a = 1\nb = 2\n"), loud)
	assert.True(t, ok)
	require.EqualError(t, err, "line 2, column 1: b: unknown key; the flag -sample shows every key there is")
	var many strings.Builder
	for i := range 25 {
		fmt.Fprintf(&many, "k%d = 1\n", i)
	}
	_, err = Placed(decode(many.String()), loud)
	assert.Contains(t, err.Error(), "and 5 more")
	ok, err = Placed(decode("a = \n"), loud)
	assert.True(t, ok)
	assert.Contains(t, err.Error(), "line 1")
	var place *Error
	require.ErrorAs(t, err, &place)
	assert.Equal(t, strings.ToUpper(place.Err.Error()), place.Err.Error(), "reworded")
	other := errors.New("other")
	ok, err = Placed(other, loud)
	assert.False(t, ok)
	assert.Equal(t, other, err)

	place = &Error{Line: 3, Key: "tank", Err: other}
	require.ErrorIs(t, place, other)
	require.EqualError(t, place, "line 3: tank: other")
	require.EqualError(t, &Error{Err: other}, "other")
}

func TestUnprintable(t *testing.T) {
	assert.False(t, strings.ContainsFunc("12 °C, Ω", Unprintable))
	assert.True(t, strings.ContainsFunc("a\u202eb", Unprintable))
	assert.True(t, strings.ContainsFunc("a\x1b", Unprintable))
}
