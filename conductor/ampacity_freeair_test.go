package conductor

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestFreeAirAmpacity(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_310_17_copper.csv")
	require.Len(t, rows, len(freeAirCopper))
	for i, row := range rows {
		s := sizeOf(t, row, "size")
		assert.Equal(t, codeList[i], s)
		for _, r := range codeRatings {
			column := "cu_" + strings.TrimSuffix(r.String(), " °C") + "c_a"
			amps, err := FreeAirAmpacity(s, r)
			if !row.Has(column) {
				refused(t, err, s.String())
				continue
			}
			require.NoError(t, err)
			row.Printed(column, float64(amps))
		}
		if row.Has("ratio_75c_to_310_16") {
			free := must[unit.Current](t)(FreeAirAmpacity(s, Rated75C))
			row.Printed("ratio_75c_to_310_16", float64(free/must[unit.Current](t)(RacewayAmpacity(s, Copper, Rated75C, Since2011))))
		}
	}
}

// Free air carries more than a raceway, by a factor that grows with size, and
// each column grows with size and rating.
func TestFreeAirLaws(t *testing.T) {
	for i, row := range freeAirCopper {
		s := codeList[i]
		for c, amps := range row {
			if amps == 0 {
				assert.Less(t, i, smallestRow)
				assert.Less(t, c, 2)
				continue
			}
			if i < smallestRow {
				assert.GreaterOrEqual(t, amps, raceway2011[i][c])
				continue
			}
			assert.Greater(t, amps, raceway2011[i][c], "%v", s)
			assert.Less(t, amps, 1.75*raceway2011[i][c], "%v", s)
			if i > 0 {
				assert.Greater(t, amps, freeAirCopper[i-1][c], "%v", s)
			}
			if c > 0 {
				assert.Greater(t, amps, row[c-1], "%v", s)
				from, to := ratedAt[c+1-1], ratedAt[c+1]
				law(t, amps, row[c-1]*sqrtRise(from, to), s, 0.04)
			}
		}
	}
}

func TestFreeAirRefuses(t *testing.T) {
	for _, s := range []Size{{}, AWG(18), AWG(7), AWG(20), KCMilSize(600), MetricSize(35 * SquareMillimetre)} {
		_, err := FreeAirAmpacity(s, Rated75C)
		refused(t, err, s.String())
	}
	for _, r := range []TemperatureRating{0, Rated150C, 255} {
		_, err := FreeAirAmpacity(AWG(10), r)
		refused(t, err, fmt.Sprint("rating ", uint8(r)))
	}
}
