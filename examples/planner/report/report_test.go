package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"ridethrough.example/examples/planner/plan"
)

func TestNumber(t *testing.T) {
	for x, want := range map[float64]string{
		0: "0", 1: "1", 1.5: "1.5", 12.345: "12.3", 999.6: "1000", 1234: "1230", 17381: "17400", 0.01234: "0.0123", -0.5: "-0.5", 100: "100",
	} {
		assert.Equal(t, want, number(x))
	}
}

func TestSpan(t *testing.T) {
	assert.Equal(t, "1..2 V", span(1, 2, "V"))
	assert.Equal(t, "1 V", span(1, 1.0001, "V"))
	assert.Equal(t, "0.5", span(0.5, 0.5, ""))
}

func TestTimes(t *testing.T) {
	f := plan.Figure{Low: 2, High: 4}
	for value, want := range map[float64]string{
		8: "too high by a factor of 2..4", 1: "too low: the computed figure is 2..4 times as much", 3: "inside the range computed",
	} {
		f.Shortcut = &plan.Shortcut{Value: value}
		assert.Equal(t, want, times(f))
	}
	f = plan.Figure{Low: 3, High: 3, Shortcut: &plan.Shortcut{Value: 3}}
	assert.Equal(t, "right here", times(f))
	// Of a figure that may be 0 every shortcut may be too high.
	f = plan.Figure{Low: 0, High: 2, Shortcut: &plan.Shortcut{Value: 3}}
	assert.Equal(t, "too high by a factor of 1.5 or more", times(f))
	f.Shortcut.Value = 1
	assert.Equal(t, "inside the range computed", times(f))
}

// Words are kept, lines end in time, and a word longer than a line stands
// alone.
func TestWrap(t *testing.T) {
	text := strings.Repeat("many short words ", 20) + strings.Repeat("x", 90)
	out := wrap(text, "  ", 40)
	assert.Equal(t, strings.Fields(text), strings.Fields(out))
	for _, line := range strings.Split(strings.TrimSuffix(out, "\n"), "\n") {
		assert.True(t, strings.HasPrefix(line, "  "))
		assert.True(t, len(line) <= 40 || !strings.Contains(strings.TrimSpace(line), " "), line)
	}
}

func FuzzNumber(f *testing.F) {
	for _, x := range []float64{0, 1, -3.5, 1e9, 1e-9, 123456} {
		f.Add(x)
	}
	f.Fuzz(func(t *testing.T, x float64) {
		if x != x || x > 1e12 || x < -1e12 {
			return
		}
		if s := number(x); s == "" || strings.ContainsAny(s, "eE") {
			t.Errorf("%g is written %q", x, s)
		}
	})
}
