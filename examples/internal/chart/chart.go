// Package chart holds what the example programs share as plots: panels, lines
// that a printer without colours keeps apart, and SVG.
package chart

import (
	"bytes"
	"errors"
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Colours that a printer without colours keeps apart by their darkness; the
// strokes do the rest.
var (
	white = color.Gray{Y: 255}
	Black = color.Gray{Y: 0}
	Grey  = color.Gray{Y: 150}
	pale  = color.Gray{Y: 225}
	Blue  = color.RGBA{R: 30, G: 100, B: 190, A: 255}
	Red   = color.RGBA{R: 190, G: 40, B: 30, A: 255}
)

// Bold is for what a plot is about.
func Bold(c color.Color) draw.LineStyle { return draw.LineStyle{Color: c, Width: 2} }

// Medium is for a wave.
func Medium(c color.Color) draw.LineStyle { return draw.LineStyle{Color: c, Width: 1.1} }

// Thin is for what stands beside it.
func Thin(c color.Color) draw.LineStyle { return draw.LineStyle{Color: c, Width: 1.2} }

// Dashed is for a second of a kind.
func Dashed(c color.Color) draw.LineStyle {
	return draw.LineStyle{Color: c, Width: 1.2, Dashes: []vg.Length{5, 3}}
}

// Dotted is for marks.
func Dotted(c color.Color) draw.LineStyle {
	return draw.LineStyle{Color: c, Width: 1, Dashes: []vg.Length{1.5, 2.5}}
}

// Panel is an empty plot in the program's type.
func Panel(title, x, y string) *plot.Plot {
	p := plot.New()
	p.Title.Text, p.X.Label.Text, p.Y.Label.Text = title, x, y
	for _, s := range []struct {
		style *text.Style
		size  vg.Length
	}{
		{&p.Title.TextStyle, 12},
		{&p.X.Label.TextStyle, 10},
		{&p.Y.Label.TextStyle, 10},
		{&p.X.Tick.Label, 9},
		{&p.Y.Tick.Label, 9},
	} {
		s.style.Font.Variant, s.style.Font.Size = "Sans", s.size
	}
	p.Title.Padding = 8
	p.X.Label.Padding, p.Y.Label.Padding = 3, 3
	p.X.Padding, p.Y.Padding = 0, 0
	p.X.Tick.Marker, p.Y.Tick.Marker = steps{}, steps{}
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = pale, pale
	p.Add(grid)
	return p
}

// NewLegend is an empty legend, to be drawn at the foot.
func NewLegend() plot.Legend {
	l := plot.NewLegend()
	l.Top, l.Left = true, true
	l.ThumbnailWidth, l.Padding = 30, 2
	l.TextStyle.Font.Variant, l.TextStyle.Font.Size = "Sans", 9
	l.XOffs = 4
	return l
}

// A Drawing gathers the lines of a panel and its first fault.
type Drawing struct {
	Panel   *plot.Plot
	Legend  plot.Legend
	Entries int
	Err     error
}

func (d *Drawing) name(name string, what ...plot.Thumbnailer) {
	if name != "" {
		d.Legend.Add(name, what...)
		d.Entries++
	}
}

// Line adds a curve; one without points is left out.
func (d *Drawing) Line(xy plotter.XYs, name string, style draw.LineStyle) {
	if len(xy) == 0 {
		return
	}
	l, err := plotter.NewLine(xy)
	if err != nil {
		d.Err = errors.Join(d.Err, err)
		return
	}
	l.LineStyle = style
	d.Panel.Add(l)
	d.name(name, l)
}

// Upright adds a vertical line over the whole height.
func (d *Drawing) Upright(x float64, name string) {
	d.Line(plotter.XYs{{X: x, Y: d.Panel.Y.Min}, {X: x, Y: d.Panel.Y.Max}}, name, Dotted(Black))
}

// Point adds a ring.
func (d *Drawing) Point(x, y float64, name string) {
	s, err := plotter.NewScatter(plotter.XYs{{X: x, Y: y}})
	if err != nil {
		d.Err = errors.Join(d.Err, err)
		return
	}
	s.GlyphStyle = draw.GlyphStyle{Color: Black, Radius: 4, Shape: draw.RingGlyph{}}
	d.Panel.Add(s)
	d.name(name, s)
}

// steps marks an axis at 1, 2 or 5 times a power of ten, five to ten of them.
type steps struct{}

// Ticks implements plot.Ticker.
func (steps) Ticks(lo, hi float64) []plot.Tick {
	step := Nice((hi - lo) / 8)
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	var all []plot.Tick
	for k := math.Ceil(lo/step - 1e-9); k*step <= hi+1e-9*step; k++ {
		label := fmt.Sprintf("%.*f", decimals, math.Abs(k*step))
		if k < 0 {
			label = "−" + label
		}
		all = append(all, plot.Tick{Value: k * step, Label: label})
	}
	return all
}

// Unlabelled is steps without their numbers, for panels above another.
type Unlabelled struct{}

// Ticks implements plot.Ticker.
func (Unlabelled) Ticks(lo, hi float64) []plot.Tick {
	all := steps{}.Ticks(lo, hi)
	for i := range all {
		all[i].Label = ""
	}
	return all
}

// Nice is the step of 1, 2 or 5 times a power of ten nearest above x.
func Nice(x float64) float64 {
	x = math.Max(x, 1e-3)
	p := math.Pow(10, math.Floor(math.Log10(x)))
	for _, k := range []float64{1, 2, 5} {
		if k*p >= x*(1-1e-9) {
			return k * p
		}
	}
	return 10 * p
}

// SVG draws panels below each other, each with the same x axis, and a legend at
// the foot.
func SVG(panels []*plot.Plot, legend plot.Legend, entries int, height vg.Length) ([]byte, error) {
	c := vgsvg.New(170*vg.Millimeter, height)
	page := draw.New(c)
	page.SetColor(white)
	page.Fill(page.Path())
	foot := vg.Length(entries)*11 + 8
	page = draw.Crop(page, 8, -14, 8, -10)
	body := draw.Crop(page, 0, 0, foot, 0)
	rows := make([][]*plot.Plot, len(panels))
	for i, p := range panels {
		rows[i] = []*plot.Plot{p}
	}
	tiles := draw.Tiles{Rows: len(panels), Cols: 1, PadY: 10}
	for i, row := range plot.Align(rows, tiles, body) {
		panels[i].Draw(row[0])
	}
	strip := draw.Crop(page, 40, 0, 0, foot-(page.Max.Y-page.Min.Y))
	legend.Draw(strip)
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return nil, err
	}
	// Any sans-serif will do where the face is not installed.
	return bytes.ReplaceAll(b.Bytes(), []byte("font-family:Liberation Sans;"), []byte("font-family:Liberation Sans,Arial,Helvetica,sans-serif;")), nil
}
