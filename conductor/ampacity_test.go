package conductor

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestCopperAmpacity(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_310_16_copper.csv")
	require.Len(t, rows, len(copperAmpacity))
	for _, row := range rows {
		s := sizeOf(t, row, "size")
		for column, rating := range map[string]TemperatureRating{"60c_a": Rated60C, "75c_a": Rated75C, "90c_a": Rated90C} {
			i := must[unit.Current](t)(CopperAmpacity(s, rating))
			row.Printed("cu_"+column, float64(i))
			if row.Has("old_" + column) {
				row.Rejects("old_"+column, float64(i), 0.005)
			}
		}
	}
}

func TestSmallConductorLimit(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/nec_240_4d.csv") {
		s := sizeOf(t, row, "size")
		device, limited, err := SmallConductorLimit(s)
		require.NoError(t, err)
		assert.True(t, limited)
		row.Printed("max_ocpd_a", float64(device))
		assert.LessOrEqual(t, device, must[unit.Current](t)(CopperAmpacity(s, Rated60C)))
	}
	device, limited, err := SmallConductorLimit(AWG(8))
	require.NoError(t, err)
	assert.False(t, limited)
	assert.Zero(t, device)
}

// Ampacity grows with size and rating, more slowly than the area, and the
// columns are as the square roots of the temperature rise they allow, within
// the rounding to 5 A of a table whose entries were settled one by one.
func TestCopperAmpacityLaws(t *testing.T) {
	var last [3]float64
	lastArea := 0.0
	for _, row := range copperAmpacity {
		for c, i := range row.rated {
			assert.Greater(t, i, last[c])
			if last[c] > 0 {
				assert.Less(t, i/last[c], row.size.area()/lastArea*1.07, "%v", row.size)
			}
		}
		assert.Less(t, row.rated[0], row.rated[1])
		assert.Less(t, row.rated[1], row.rated[2])
		assert.InDelta(t, 1.155, row.rated[2]/row.rated[1], 0.1, "√(60/45) for %v", row.size)
		last, lastArea = row.rated, row.size.area()
	}
}

func TestAmpacityRefuses(t *testing.T) {
	for _, s := range []Size{{}, AWG(7), AWG(16), KCMilSize(250), MetricSize(35 * SquareMillimetre)} {
		_, err := CopperAmpacity(s, Rated75C)
		refused(t, err, s.String())
		_, _, err = SmallConductorLimit(s)
		refused(t, err, s.String())
	}
	for _, r := range []TemperatureRating{0, 4, 75} {
		_, err := CopperAmpacity(AWG(10), r)
		refused(t, err, "want 60, 75 or 90 °C")
	}
	assert.Equal(t, "60 °C 75 °C 90 °C no rating", fmt.Sprint(Rated60C, " ", Rated75C, " ", Rated90C, " ", TemperatureRating(0)))
}
