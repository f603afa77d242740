package main

import (
	"errors"
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Colours that a printer without colours keeps apart by their darkness; the
// strokes do the rest.
var (
	white = color.Gray{Y: 255}
	black = color.Gray{Y: 0}
	grey  = color.Gray{Y: 150}
	pale  = color.Gray{Y: 225}
	blue  = color.RGBA{R: 30, G: 100, B: 190, A: 255}
	red   = color.RGBA{R: 190, G: 40, B: 30, A: 255}
)

func bold(c color.Color) draw.LineStyle   { return draw.LineStyle{Color: c, Width: 2} }
func medium(c color.Color) draw.LineStyle { return draw.LineStyle{Color: c, Width: 1.1} }
func thin(c color.Color) draw.LineStyle   { return draw.LineStyle{Color: c, Width: 1.2} }
func dashed(c color.Color) draw.LineStyle {
	return draw.LineStyle{Color: c, Width: 1.2, Dashes: []vg.Length{5, 3}}
}

func dotted(c color.Color) draw.LineStyle {
	return draw.LineStyle{Color: c, Width: 1, Dashes: []vg.Length{1.5, 2.5}}
}

// panel is an empty plot in the program's type.
func panel(title, x, y string) *plot.Plot {
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

func newLegend() plot.Legend {
	l := plot.NewLegend()
	l.Top, l.Left = true, true
	l.ThumbnailWidth, l.Padding = 30, 2
	l.TextStyle.Font.Variant, l.TextStyle.Font.Size = "Sans", 9
	l.XOffs = 4
	return l
}

// A drawing gathers the lines of a panel and its first fault.
type drawing struct {
	panel   *plot.Plot
	legend  plot.Legend
	entries int
	err     error
}

func (d *drawing) name(name string, what ...plot.Thumbnailer) {
	if name != "" {
		d.legend.Add(name, what...)
		d.entries++
	}
}

// line adds a curve; one without points is left out.
func (d *drawing) line(xy plotter.XYs, name string, style draw.LineStyle) {
	if len(xy) == 0 {
		return
	}
	l, err := plotter.NewLine(xy)
	if err != nil {
		d.err = errors.Join(d.err, err)
		return
	}
	l.LineStyle = style
	d.panel.Add(l)
	d.name(name, l)
}

// upright adds a vertical line over the whole height.
func (d *drawing) upright(x float64, name string) {
	d.line(plotter.XYs{{X: x, Y: d.panel.Y.Min}, {X: x, Y: d.panel.Y.Max}}, name, dotted(black))
}

// point adds a ring.
func (d *drawing) point(x, y float64, name string) {
	s, err := plotter.NewScatter(plotter.XYs{{X: x, Y: y}})
	if err != nil {
		d.err = errors.Join(d.err, err)
		return
	}
	s.GlyphStyle = draw.GlyphStyle{Color: black, Radius: 4, Shape: draw.RingGlyph{}}
	d.panel.Add(s)
	d.name(name, s)
}

// crest rings the peak of a wave, whose sign its points tell.
func (d *drawing) crest(wave plotter.XYs, at, peak float64) {
	y, near := peak, math.Inf(1)
	for _, p := range wave {
		if distance := math.Abs(p.X - at); distance < near {
			near, y = distance, math.Copysign(peak, p.Y)
		}
	}
	d.point(at, y, fmt.Sprintf("peak, %.1f A after %.4f s", peak, at))
}

// steps marks an axis at 1, 2 or 5 times a power of ten, five to ten of them.
type steps struct{}

// Ticks implements plot.Ticker.
func (steps) Ticks(lo, hi float64) []plot.Tick {
	step := nice((hi - lo) / 8)
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

// unlabelled is steps without their numbers, for panels above another.
type unlabelled struct{}

// Ticks implements plot.Ticker.
func (unlabelled) Ticks(lo, hi float64) []plot.Tick {
	all := steps{}.Ticks(lo, hi)
	for i := range all {
		all[i].Label = ""
	}
	return all
}
