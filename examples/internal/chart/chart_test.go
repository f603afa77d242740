package chart

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
)

func TestNice(t *testing.T) {
	for x, want := range map[float64]float64{1: 1, 1.1: 2, 2: 2, 3: 5, 5: 5, 5.1: 10, 0.03: 0.05, 120: 200, 0: 1e-3, -4: 1e-3} {
		assert.InEpsilon(t, want, Nice(x), 1e-12, x)
	}
}

// Ticks stand at whole steps within the axis, and below zero with a minus sign.
func TestTicks(t *testing.T) {
	ticks := steps{}.Ticks(-0.5, 1)
	require.NotEmpty(t, ticks)
	labels := make([]string, len(ticks))
	for i, k := range ticks {
		labels[i] = k.Label
		assert.True(t, k.Value >= -0.5 && k.Value <= 1)
	}
	assert.Equal(t, []string{"−0.4", "−0.2", "0.0", "0.2", "0.4", "0.6", "0.8", "1.0"}, labels)
	for _, k := range (Unlabelled{}).Ticks(-0.5, 1) {
		assert.Empty(t, k.Label)
	}
}

func TestSVG(t *testing.T) {
	drawn := func() []byte {
		d := Drawing{Panel: Panel("a title", "time, s", "pressure, kPa"), Legend: NewLegend()}
		d.Line(plotter.XYs{{X: 0, Y: 0}, {X: 1, Y: 2}}, "a line", Bold(Black))
		d.Line(nil, "nothing", Thin(Red))
		d.Point(0.5, 1, "a point")
		d.Upright(0.3, "")
		require.NoError(t, d.Err)
		assert.Equal(t, 2, d.Entries)
		svg, err := SVG([]*plot.Plot{d.Panel}, d.Legend, d.Entries, 80*vg.Millimeter)
		require.NoError(t, err)
		return svg
	}
	first := drawn()
	assert.Equal(t, first, drawn(), "same input, same bytes")
	assert.Contains(t, string(first), "a title")
	assert.Contains(t, string(first), "a point")
	assert.NotContains(t, string(first), "nothing")
	for x := xml.NewDecoder(strings.NewReader(string(first))); ; {
		_, err := x.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
	}
}

// What cannot be drawn is a fault, not a gap.
func TestDrawingRefuses(t *testing.T) {
	d := Drawing{Panel: Panel("", "", ""), Legend: NewLegend()}
	d.Line(plotter.XYs{{X: 0, Y: math.NaN()}}, "bad", Thin(Black))
	require.Error(t, d.Err)
	d = Drawing{Panel: Panel("", "", ""), Legend: NewLegend()}
	d.Point(math.Inf(1), 0, "bad")
	require.Error(t, d.Err)
}
