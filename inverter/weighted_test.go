package inverter

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

func TestWeights(t *testing.T) {
	found := map[Weighting]int{}
	for _, row := range reftest.Rows(t, "inverter/efficiency_weights.csv") {
		for w, column := range map[Weighting]string{European: "eu_weight", CEC: "cec_weight"} {
			got := 0.0
			for _, p := range w.Points() {
				if math.Abs(100*p.Load-row.Float("load_pct")) < 1e-9 {
					got = p.Weight
					found[w]++
				}
			}
			if row.Has(column) {
				row.Printed(column, got)
			} else {
				assert.Zero(t, got, "%s: %v has a load the source has not", row.Source(), w)
			}
		}
	}
	for _, w := range []Weighting{European, CEC} {
		assert.Len(t, w.Points(), found[w], "%v: loads the source has not", w)
		sum := 0.0
		last := 0.0
		for _, p := range w.Points() {
			sum += p.Weight
			assert.Greater(t, p.Load, last)
			last = p.Load
		}
		assert.InDelta(t, 1, sum, 1e-12)
	}
}

func TestWeightedTable(t *testing.T) {
	weighting := map[string]Weighting{"European efficiency": European, "CEC efficiency": CEC, "European efficiency of the model": European, "CEC efficiency of the model": CEC}
	for _, row := range reftest.Rows(t, "inverter/weighted_efficiency.csv") {
		w := weighting[row.Text("quantity")]
		var got float64
		var err error
		if row.HasParam("p_self") {
			got, err = perUnit(row).Weighted(w)
		} else {
			var curve []LoadEfficiency
			for _, load := range []int{5, 10, 20, 30, 50, 75, 100} {
				if name := fmt.Sprintf("eta%d", load); row.HasParam(name) {
					curve = append(curve, LoadEfficiency{float64(load) / 100, row.Param(name, "")})
				}
			}
			got, err = w.Of(curve)
		}
		require.NoError(t, err, row.Source())
		row.Expected(got)
	}
}

// A flat curve has its own value under any weighting, and extra points do not
// matter.
func TestWeightedFlat(t *testing.T) {
	curve := []LoadEfficiency{{0.05, 0.9}, {0.10, 0.9}, {0.20, 0.9}, {0.30, 0.9}, {0.50, 0.9}, {0.75, 0.9}, {1, 0.9}, {1.5, 0.1}}
	for _, w := range []Weighting{European, CEC} {
		got, err := w.Of(curve)
		require.NoError(t, err)
		assert.InDelta(t, 0.9, got, 1e-12)
	}
	_, err := CEC.Of(curve[:5])
	domainError(t, err, "without a point at 75 %")
	domainError(t, err, "without a point at 100 %")
	curve[4].Efficiency = 94.5
	_, err = European.Of(curve)
	domainError(t, err, "efficiency 94.5, want 0 to 1")
	_, err = European.Of(nil)
	require.ErrorIs(t, err, ErrDomain)
	for _, w := range []Weighting{0, 3, 255} {
		_, err = w.Of(curve)
		domainError(t, err, "want European or CEC")
		_, err = unit3kW.Weighted(w)
		domainError(t, err, "want European or CEC")
		assert.Empty(t, w.Points())
		assert.Equal(t, "no weighting", w.String())
	}
	assert.Equal(t, "European", European.String())
}

// What a caller does to the copy does not reach the table.
func TestPointsAreACopy(t *testing.T) {
	European.Points()[0].Weight = 7
	assert.InDelta(t, 0.03, European.Points()[0].Weight, 0)
}
