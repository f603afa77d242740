package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

var fittings = map[string]Fitting{
	"GlobeValve":         GlobeValve,
	"AngleValve":         AngleValve,
	"GateValve":          GateValve,
	"GateQuarterClosed":  GateQuarterClosed,
	"GateHalfClosed":     GateHalfClosed,
	"GateThreeQuarters":  GateThreeQuarters,
	"SwingCheck":         SwingCheck,
	"BallValve":          BallValve,
	"BallThirdClosed":    BallThirdClosed,
	"BallTwoThirds":      BallTwoThirds,
	"WaterMeter":         WaterMeter,
	"Elbow90":            Elbow90,
	"Elbow90Flanged":     Elbow90Flanged,
	"Elbow90Long":        Elbow90Long,
	"Elbow90LongFlanged": Elbow90LongFlanged,
	"Elbow45":            Elbow45,
	"Elbow45LongFlanged": Elbow45LongFlanged,
	"ReturnBend":         ReturnBend,
	"ReturnBendFlanged":  ReturnBendFlanged,
	"TeeRun":             TeeRun,
	"TeeRunFlanged":      TeeRunFlanged,
	"TeeBranch":          TeeBranch,
	"TeeBranchFlanged":   TeeBranchFlanged,
	"Union":              Union,
	"SharpEntrance":      SharpEntrance,
	"RoundedEntrance":    RoundedEntrance,
	"BellmouthEntrance":  BellmouthEntrance,
	"ProjectingEntrance": ProjectingEntrance,
	"Exit":               Exit,
	"FootValve":          FootValve,
	"InsertCoupling":     InsertCoupling,
	"ThreadedAdapter":    ThreadedAdapter,
}

// hull gathers what the tables print, to compare with the ends of a range.
type hull map[string]Range[float64]

func (h hull) add(name string, x float64) {
	r, ok := h[name]
	if !ok {
		r = Range[float64]{Low: math.Inf(1), High: math.Inf(-1)}
	}
	h[name] = Range[float64]{Low: min(r.Low, x), High: max(r.High, x)}
}

// inside is the figure of the range that is nearest to x: x itself within it.
func inside(r Range[float64], x float64) float64 { return min(max(x, r.Low), r.High) }

func TestFittingCoefficients(t *testing.T) {
	printed := hull{}
	for _, r := range reftest.Rows(t, "tank/minor_loss_k.csv") {
		name := r.Text("constant")
		k, err := fittings[name].Coefficient()
		require.NoError(t, err, name)
		columns := []string{"k_low"}
		if r.Text("k_low") != r.Text("k_high") { // a single figure counts once
			columns = append(columns, "k_high")
		}
		for _, c := range columns {
			r.Within(c, inside(k, r.Float(c)), 1e-9, "within the range of all tables")
			printed.add(name, r.Float(c))
		}
	}
	require.Len(t, printed, len(fittingK)-1)
	for name, want := range printed {
		k, err := fittings[name].Coefficient()
		require.NoError(t, err)
		assert.Equal(t, want, k, name)
	}
}

func TestEquivalentLengths(t *testing.T) {
	printed := hull{}
	columns := map[string]unit.Length{"3_4": 0.75 * Inch, "1": Inch, "1_1_4": 1.25 * Inch, "1_1_2": 1.5 * Inch, "2": 2 * Inch}
	feet := func(name string, nominal unit.Length) Range[float64] {
		l, err := fittings[name].EquivalentLength(nominal)
		require.NoError(t, err, name)
		return Range[float64]{Low: float64(l.Low / Foot), High: float64(l.High / Foot)}
	}
	for _, r := range reftest.Rows(t, "tank/equivalent_lengths.csv") {
		name := r.Text("constant")
		for size, nominal := range columns {
			c := "len_" + size + "in_ft"
			if r.Has(c) {
				r.Within(c, inside(feet(name, nominal), r.Float(c)), 1e-9, "within the range of all tables")
				printed.add(name+" "+size, r.Float(c))
			}
		}
	}
	for name, f := range fittings {
		if _, err := f.EquivalentLength(Inch); err != nil {
			continue
		}
		for size, nominal := range columns {
			got, want := feet(name, nominal), printed[name+" "+size]
			assert.InDelta(t, want.Low, got.Low, 1e-9, name)
			assert.InDelta(t, want.High, got.High, 1e-9, name)
		}
	}
}

func TestFittingBounds(t *testing.T) {
	for _, f := range []Fitting{0, InsertCoupling, ThreadedAdapter, 200} {
		_, err := f.Coefficient()
		refused(t, err, "fitting")
	}
	for _, f := range []Fitting{0, GlobeValve, FootValve, 200} {
		_, err := f.EquivalentLength(Inch)
		refused(t, err, "fitting")
	}
	for _, x := range append([]float64{0, 1, 0.5 * float64(Inch), 3 * float64(Inch)}, notNumbers...) {
		_, err := Elbow90.EquivalentLength(unit.Length(x))
		refused(t, err, "nominal size")
	}
}
