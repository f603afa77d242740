package console

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFail(t *testing.T) {
	var b strings.Builder
	assert.Equal(t, Input, Fail(&b, "planner", errors.New("line 1: a\x1b[31m\nline 2: b")))
	assert.Equal(t, "planner: line 1: a\uFFFD[31m\nline 2: b\n", b.String())
}

func TestPrintable(t *testing.T) {
	assert.Equal(t, "12 °C, Ω\uFFFD\uFFFD", Printable("12 °C, Ω\u202e\n", ' '))
}

func TestJSON(t *testing.T) {
	out, err := JSON(map[string]string{"a": "1 < 2"})
	require.NoError(t, err)
	want := []string{"{", `  "a": "1 < 2"`, "}", ""} // spaces and sign as they are
	assert.Equal(t, want, strings.Split(string(out), "\n"))
	_, err = JSON(math.NaN())
	assert.Error(t, err, "no NaN in JSON")
}

// brokenPipe is a reader that has gone.
type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errors.New("broken pipe") }

func TestCommand(t *testing.T) {
	type answer struct{ A float64 }
	call := func(args ...string) (code int, out, errs string) {
		var o, e strings.Builder
		c := NewCommand("try", "try [-x X] [file]", "0 done", &o, &e)
		given := map[string]string{}
		c.Keep(given, "long_name", "what it is")
		if code, ok := c.Read(args, 1); !ok {
			return code, o.String(), e.String()
		}
		a := answer{1}
		if given["long_name"] == "NaN" {
			a.A = math.NaN()
		}
		code = c.Answer(func() []byte { return []byte("text " + given["long_name"]) }, a, given["long_name"] != "bad")
		return code, o.String(), e.String()
	}
	code, out, _ := call("-long-name", "as typed ")
	assert.Equal(t, Done, code)
	assert.Equal(t, "text as typed ", out)
	code, out, _ = call("-format", "json", "-long-name", "bad")
	assert.Equal(t, Fails, code)
	assert.Contains(t, out, `"A": 1`)
	code, _, errs := call("-format", "json", "-long-name", "NaN")
	assert.Equal(t, Input, code)
	assert.Contains(t, errs, "try: ")
	code, _, errs = call("-help")
	assert.Equal(t, Done, code)
	assert.Contains(t, errs, "usage: try [-x X] [file]")
	assert.Contains(t, errs, "exit codes: 0 done")
	for _, args := range [][]string{{"-format", "xml"}, {"a", "b"}, {"-unknown"}} {
		code, out, errs = call(args...)
		assert.Equal(t, Usage, code)
		assert.Empty(t, out)
		assert.Contains(t, errs, "usage: try")
	}
	assert.Equal(t, Input, NewCommand("try", "", "", brokenPipe{}, &strings.Builder{}).Write(nil))
}
