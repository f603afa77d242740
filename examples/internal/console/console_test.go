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
