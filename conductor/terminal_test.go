package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func studOf(t *testing.T, row reftest.Row, column string) Stud {
	t.Helper()
	s, err := ParseStud(row.Text(column))
	require.NoError(t, err, row.Source())
	return s
}

func inMM(l unit.Length) float64 { return float64(l / mm) }

func TestClearanceHoles(t *testing.T) {
	rows := reftest.Rows(t, "conductor/stud_clearance_holes.csv")
	require.Len(t, rows, len(Studs()))
	for n, row := range rows {
		s := studOf(t, row, "stud")
		assert.Equal(t, Studs()[n], s)
		row.Printed("nominal_diameter_mm", inMM(must[unit.Length](t)(s.Diameter())))
		for column, fit := range map[string]ClearanceFit{
			"drill_chart_close_mm": DrillClose, "drill_chart_free_mm": DrillFree,
			"standard_close_mm": CloseFit, "standard_normal_mm": NormalFit, "standard_loose_mm": LooseFit,
		} {
			hole, err := s.ClearanceHole(fit)
			if !row.Has(column) {
				refused(t, err, "clearance fit")
				continue
			}
			require.NoError(t, err)
			row.Printed(column, inMM(hole))
		}
	}
}

// Laws on the table: number and inch sizes follow their formulas, each series is
// wider than the one before it, and the usual terminal is near the close to
// normal series.
func TestStudLaws(t *testing.T) {
	for text, inches := range map[string]float64{
		"No. 10": 0.060 + 10*0.013, "1/4": 1. / 4, "5/16": 5. / 16, "3/8": 3. / 8, "1/2": 1. / 2,
		"M5": 5 / 25.4, "M6": 6 / 25.4, "M8": 8 / 25.4, "M10": 10 / 25.4, "M12": 12 / 25.4,
	} {
		s := must[Stud](t)(ParseStud(text))
		assert.InDelta(t, inches, float64(must[unit.Length](t)(s.Diameter())/Inch), 1e-12, text)
	}
	for _, s := range Studs() {
		d := must[unit.Length](t)(s.Diameter())
		last := d
		for f := CloseFit; f <= LooseFit; f++ {
			hole := must[unit.Length](t)(s.ClearanceHole(f))
			assert.Greater(t, hole, last)
			last = hole
		}
		if tight, err := s.ClearanceHole(DrillClose); err == nil {
			free := must[unit.Length](t)(s.ClearanceHole(DrillFree))
			assert.True(t, d < tight && tight < free && tight < must[unit.Length](t)(s.ClearanceHole(CloseFit)))
		}
		hole := must[Range[unit.Length]](t)(s.TerminalHole())
		assert.True(t, d < hole.Low && hole.Low < hole.High && hole.High < must[unit.Length](t)(s.ClearanceHole(LooseFit)))
	}
}

func TestStudFitMatrix(t *testing.T) {
	words := map[string]FitVerdict{}
	for v := Fits; v <= DoesNotPass; v++ {
		words[v.String()] = v
	}
	rows := reftest.Rows(t, "conductor/stud_fit_matrix.csv")
	require.Len(t, rows, 33)
	for _, row := range rows {
		label, stud := studOf(t, row, "terminal"), studOf(t, row, "stud")
		if row.Has("hole_min_mm") {
			hole := must[Range[unit.Length]](t)(label.TerminalHole())
			row.Printed("hole_min_mm", inMM(hole.Low))
			row.Printed("hole_max_mm", inMM(hole.High))
		}
		f := must[StudFit](t)(stud.FitTerminal(label))
		row.Printed("clearance_min_mm", inMM(f.Clearance.Low))
		row.Printed("clearance_max_mm", inMM(f.Clearance.High))
		assert.Equal(t, words[row.Text("verdict")], f.Verdict, row.Source())
	}
}

// Both sides of each verdict with a measured hole.
func TestFitEdges(t *testing.T) {
	s := must[Stud](t)(ParseStud("M10"))
	for hole, want := range map[float64]FitVerdict{
		9.999: DoesNotPass, 10: Tight, 10.099: Tight, 10.1: Fits, 11: Fits, 11.001: Loose, 9: DoesNotPass, 12: Loose,
	} {
		d := unit.Length(hole) * mm
		f := must[StudFit](t)(s.Fit(Range[unit.Length]{Low: d, High: d}))
		assert.Equal(t, want, f.Verdict, hole)
		assert.InDelta(t, hole-10, inMM(f.Clearance.Low), 1e-9)
	}
	// A 3/8 in terminal takes M10 only with a hole above 10.1 mm.
	f := must[StudFit](t)(s.FitTerminal(must[Stud](t)(ParseStud("3/8"))))
	assert.Equal(t, Tight, f.Verdict)
	bounds(t, "smallest hole", 2e-3, 30e-3, func(x float64) error {
		_, err := s.Fit(Range[unit.Length]{Low: unit.Length(x), High: 30e-3})
		return err
	})
	bounds(t, "largest hole", 10e-3, 30e-3, func(x float64) error {
		_, err := s.Fit(Range[unit.Length]{Low: 10e-3, High: unit.Length(x)})
		return err
	})
	for _, call := range []func() error{
		func() error { _, err := Stud{}.Fit(Range[unit.Length]{Low: 5e-3, High: 6e-3}); return err },
		func() error { _, err := Stud{}.FitTerminal(s); return err },
		func() error { _, err := s.FitTerminal(Stud{}); return err },
		func() error { _, err := Stud{}.Diameter(); return err },
		func() error { _, err := Stud{}.ClearanceHole(CloseFit); return err },
		func() error { _, err := Stud{}.TerminalHole(); return err },
	} {
		refused(t, call(), "stud no stud")
	}
	_, err := s.ClearanceHole(0)
	refused(t, err, "clearance fit")
	assert.Equal(t, "no verdict", FitVerdict(0).String())
	assert.Equal(t, "no stud", Stud{}.String())
	assert.False(t, Stud{}.IsValid())
}

func TestParseStud(t *testing.T) {
	for text, want := range map[string]string{
		"No. 10": "No. 10", "#10": "No. 10", "no.10": "No. 10", "1/4": "1/4 in", "5/16in": "5/16 in", "3/8 in": "3/8 in",
		"1/2 IN": "1/2 in", "m5": "M5", "M 12": "M12",
	} {
		s := must[Stud](t)(ParseStud(text))
		assert.Equal(t, want, s.String(), text)
	}
	for _, text := range []string{"", "10", "M7", "3/8 mm", "5/8 in", "in", "M10M10M10M10", "\xff", "#", "No."} {
		_, err := ParseStud(text)
		refused(t, err, "stud")
	}
}

func FuzzParseStud(f *testing.F) {
	for _, s := range []string{"No. 10", "#10", "1/4 in", "M10", "", "inin", "M\x00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseStud(text)
		if (err == nil) != s.IsValid() {
			t.Fatal(text, s, err)
		}
		if err != nil {
			return
		}
		again, err := ParseStud(s.String())
		if err != nil || again != s {
			t.Fatal(text, s, again, err)
		}
	})
}

// A larger hole never fits tighter, and the clearance moves with it.
func FuzzFit(f *testing.F) {
	f.Add(uint8(3), 0.3, 0.4)
	rank := map[FitVerdict]int{DoesNotPass: 0, Tight: 1, Fits: 2, Loose: 3}
	f.Fuzz(func(t *testing.T, n uint8, a, b float64) {
		s := Studs()[int(n)%len(studs)]
		lo, wider := unit.Length(fold(a, 2e-3, 15e-3)), unit.Length(fold(b, 0, 15e-3))
		small, err := s.Fit(Range[unit.Length]{Low: lo, High: lo})
		large, err2 := s.Fit(Range[unit.Length]{Low: lo + wider, High: lo + wider})
		if err != nil || err2 != nil || rank[small.Verdict] > rank[large.Verdict] {
			t.Fatal(small, large, err, err2)
		}
		if math.Abs(float64(large.Clearance.Low-small.Clearance.Low-wider)) > 1e-12 {
			t.Fatal(small, large)
		}
	})
}
