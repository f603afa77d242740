package conductor

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

var codeRatings = []TemperatureRating{Rated60C, Rated75C, Rated90C}

func TestTemperatureRating(t *testing.T) {
	for text, r := range map[string]TemperatureRating{
		"60 °C": Rated60C, "75 °C": Rated75C, "90 °C": Rated90C, "150 °C": Rated150C, "200 °C": Rated200C, "250 °C": Rated250C,
	} {
		assert.Equal(t, text, r.String())
		assert.Equal(t, text, fmt.Sprintf("%.0f °C", InCelsius(must[unit.Temperature](t)(r.Temperature()))))
	}
	for _, r := range []TemperatureRating{0, Rated250C + 1, 255} {
		assert.Equal(t, "no rating", r.String())
		_, err := r.Temperature()
		refused(t, err, "want 60, 75, 90, 150, 200 or 250 °C")
	}
	assert.Equal(t, "2011 and later, before 2011, no edition", fmt.Sprintf("%v, %v, %v", Since2011, Before2011, Edition(2)))
}

// The sizes of the tables are the code's, in order of area, and every other
// size has no row.
func TestCodeRows(t *testing.T) {
	listed := map[Size]bool{}
	for i, s := range codeList {
		assert.Equal(t, i, s.codeRow(), "%v", s)
		listed[s] = true
		if i > 0 {
			assert.Positive(t, s.Compare(codeList[i-1]))
			assert.Greater(t, codeArea(i), codeArea(i-1))
		}
	}
	for n := -10; n < 50; n++ {
		assert.Equal(t, listed[AWG(n)], AWG(n).codeRow() >= 0, "%v", AWG(n))
	}
	for n := range 3000 {
		assert.Equal(t, listed[KCMilSize(n)], KCMilSize(n).codeRow() >= 0, "%v", KCMilSize(n))
	}
	for _, s := range append(MetricSizes(), Size{}) {
		assert.Negative(t, s.codeRow())
	}
}

func TestRacewayAmpacity(t *testing.T) {
	for name, e := range map[string]Edition{"conductor/nec_310_16.csv": Since2011, "conductor/nec_310_16_before_2011.csv": Before2011} {
		rows := reftest.Rows(t, name)
		require.Len(t, rows, codeSizes)
		for _, row := range rows {
			s := sizeOf(t, row, "size")
			for metal, m := range map[string]Metal{"cu": Copper, "al": Aluminium} {
				for _, r := range codeRatings {
					column := metal + "_" + strings.TrimSuffix(r.String(), " °C") + "c_a"
					i, err := RacewayAmpacity(s, m, r, e)
					if !row.Has(column) {
						refused(t, err, s.String())
						continue
					}
					require.NoError(t, err)
					row.Printed(column, float64(i))
					if e == Before2011 && strings.Contains(row.Text("changed"), column) {
						row.Rejects(column, float64(must[unit.Current](t)(RacewayAmpacity(s, m, r, Since2011))), 0.005)
					}
				}
			}
		}
	}
}

// Fifteen cells changed in 2011, and no others.
func TestEditionsDiffer(t *testing.T) {
	changed := 0
	for i := range raceway2011 {
		for c := range raceway2011[i] {
			if raceway2011[i][c] != racewayBefore2011[i][c] {
				changed++
			}
		}
	}
	listed := 0
	for _, row := range reftest.Rows(t, "conductor/nec_310_16_before_2011.csv") {
		listed += len(strings.Fields(row.Text("changed")))
	}
	assert.Equal(t, listed, changed)
}

// Ampacity grows with size and rating, more slowly than the area; aluminium
// carries less than copper of the same size, by √0.61 from its resistance; and
// the columns are as the square roots of the rise they allow.
func TestRacewayLaws(t *testing.T) {
	for _, table := range [][codeSizes][6]float64{raceway2011, racewayBefore2011} {
		for i := smallestRow; i < codeSizes; i++ {
			row := table[i]
			for c, amps := range row {
				if last := table[i-1][c]; last > 0 && i > smallestRow {
					assert.Greater(t, amps, last, "%v", codeList[i])
					assert.Less(t, amps/last, codeArea(i)/codeArea(i-1)*1.07, "%v", codeList[i])
				}
			}
			for _, c := range []int{0, 3} {
				if row[c] == 0 {
					assert.Negative(t, codeList[i].Compare(AWG(12)))
					continue
				}
				assert.LessOrEqual(t, row[c], row[c+1], "%v", codeList[i])
				assert.Less(t, row[c+1], row[c+2], "%v", codeList[i], 0.04)
				law(t, row[c+2], math.Sqrt(60./45)*row[c+1], codeList[i], 0.04)
				law(t, row[c+1], math.Sqrt(45./30)*row[c], codeList[i], 0.04)
			}
			for c := range 3 {
				if row[c+3] > 0 {
					// Skin effect takes from thick copper more than from aluminium.
					share := 0.04
					if codeList[i].Compare(KCMilSize(750)) > 0 {
						share = 0.08
					}
					law(t, row[c+3], math.Sqrt(0.61)*row[c], codeList[i], share)
				}
			}
		}
	}
}

// law compares an entry with what another makes of it: both were rounded to
// 5 A, and a share is left, as entries were settled one by one.
func law(t *testing.T, entry, want float64, s Size, share float64) {
	t.Helper()
	assert.InDelta(t, want, entry, 2.5+2.5*want/entry+share*entry, "%v", s)
}

func TestRacewayRefuses(t *testing.T) {
	for _, s := range []Size{{}, AWG(7), AWG(20), AWG(40), KCMilSize(275), KCMilSize(2500), MetricSize(35 * SquareMillimetre)} {
		_, err := RacewayAmpacity(s, Copper, Rated75C, Since2011)
		refused(t, err, s.String())
	}
	_, err := RacewayAmpacity(AWG(14), Aluminium, Rated75C, Since2011)
	refused(t, err, "14 AWG")
	for _, r := range []TemperatureRating{0, Rated150C, 75} {
		_, err := RacewayAmpacity(AWG(10), Copper, r, Since2011)
		refused(t, err, "want 60, 75 or 90 °C")
	}
	for _, m := range []Metal{0, 3, 255} {
		_, err := RacewayAmpacity(AWG(10), m, Rated75C, Since2011)
		refused(t, err, "metal")
	}
	_, err = RacewayAmpacity(AWG(10), Copper, Rated75C, 2)
	refused(t, err, "edition")
}
