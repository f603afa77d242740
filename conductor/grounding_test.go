package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// codeSizeOf reads a size as the code's tables print it, without its system.
func codeSizeOf(t *testing.T, row reftest.Row, column string) Size {
	t.Helper()
	text := row.Text(column)
	if s, err := ParseSize(text + " AWG"); err == nil && s.codeRow() >= 0 {
		return s
	}
	return must[Size](t)(ParseSize(text + " kcmil"))
}

// printed is the number by which the ledger counts a size: gauge or kcmil.
func printed(s Size) float64 { return float64(s.number) }

func TestGroundingConductor(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_250_122.csv")
	require.Len(t, rows, len(grounding))
	below := unit.Current(1)
	for _, row := range rows {
		device := unit.Current(row.Float("ocpd_a_not_exceeding"))
		for column, m := range map[string]Metal{"cu": Copper, "al": Aluminium} {
			want := codeSizeOf(t, row, column+"_awg_or_kcmil")
			for _, d := range []unit.Current{below, (below + device) / 2, device, device * (1 + 1e-12)} {
				assert.Equal(t, want, must[Size](t)(GroundingConductor(d, m)), "%s at %v", row.Source(), d)
			}
			got := must[Size](t)(GroundingConductor(device, m))
			if got.number > 0 {
				row.Printed(column+"_awg_or_kcmil", printed(got))
			}
			if m == Aluminium && row.Has("al_old_awg_or_kcmil") {
				row.Rejects("al_old_awg_or_kcmil", printed(got), 0.01)
			}
		}
		below = device * 1.0001
	}
}

// The grounding conductor grows with the device, aluminium is two steps larger
// or so: its area is 1.49 to 2.0 times that of copper, 1.64 by resistance.
func TestGroundingLaws(t *testing.T) {
	for i, row := range grounding {
		cu, al := codeArea(row.copper.codeRow()), codeArea(row.aluminium.codeRow())
		assert.Greater(t, al/cu, 1.45, "%v A", row.device)
		assert.Less(t, al/cu, 2.0, "%v A", row.device)
		if i > 0 {
			last := grounding[i-1]
			assert.Greater(t, row.device, last.device)
			assert.Positive(t, row.copper.Compare(last.copper))
			assert.GreaterOrEqual(t, row.aluminium.Compare(last.aluminium), 0)
		}
		up, err := StandardBreakers.Up(unit.Current(row.device))
		require.NoError(t, err)
		assert.EqualValues(t, row.device, up, "a standard rating")
	}
}

func TestGroundingUpsized(t *testing.T) {
	for _, c := range []struct {
		device         unit.Current
		metal          Metal
		required, used Size
		want           Size
	}{
		// 40 A: 10 AWG of 10 380 cmil; 8 to 6 AWG is 26 240/16 510, so 16 497
		// cmil, for which 8 AWG of 16 510 suffices.
		{40, Copper, AWG(8), AWG(6), AWG(8)},
		// 20 A: 12 AWG; 12 to 8 AWG asks for 8 AWG just so.
		{20, Copper, AWG(12), AWG(8), AWG(8)},
		{20, Copper, AWG(12), AWG(12), AWG(12)},
		{15, Copper, AWG(14), AWG(14), AWG(14)},
		{20, Copper, AWG(10), AWG(12), AWG(12)},
		// 100 A: 8 AWG of 16 510; 3 to 1/0 AWG is 105 600/52 620: 33 133 cmil, 4 AWG.
		{100, Copper, AWG(3), AWG(0), AWG(4)},
		// 200 A: 6 AWG; 3/0 AWG to 250 kcmil is 1.4899: 39 094 cmil, 4 AWG.
		{200, Copper, AWG(-2), KCMilSize(250), AWG(4)},
		// Never larger than the conductors themselves.
		{60, Copper, AWG(14), AWG(12), AWG(10)},
		{60, Copper, AWG(14), AWG(8), AWG(8)},
		{200, Aluminium, KCMilSize(250), KCMilSize(500), AWG(1)},
	} {
		assert.Equal(t, c.want, must[Size](t)(GroundingUpsized(c.device, c.metal, c.required, c.used)), "%v", c)
	}
	refused(t, second(GroundingUpsized(20, Copper, AWG(16), AWG(12))), "16 AWG")
	refused(t, second(GroundingUpsized(20, Copper, AWG(12), MetricSize(16*SquareMillimetre))), "16 mm²")
	err := second(GroundingUpsized(0, 0, Size{}, AWG(7)))
	for _, says := range []string{"overcurrent device", "metal", "no size", "7 AWG"} {
		refused(t, err, says)
	}
	for _, m := range []Metal{Copper, Aluminium} {
		bounds(t, "overcurrent device", 1-ratingSlack, largestRating*(1+ratingSlack), func(x float64) error { return second(GroundingConductor(unit.Current(x), m)) })
	}
	refused(t, second(GroundingConductor(20, 3)), "metal")
}
