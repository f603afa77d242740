package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestSmallConductorLimit(t *testing.T) {
	metals := map[string]Metal{"copper": Copper, "aluminium": Aluminium}
	rows := reftest.Rows(t, "conductor/nec_240_4d.csv")
	require.Len(t, rows, 7)
	for _, row := range rows {
		s, m := sizeOf(t, row, "size"), metals[row.Text("metal")]
		device, limited, err := SmallConductorLimit(s, m)
		require.NoError(t, err)
		assert.True(t, limited)
		row.Printed("max_ocpd_a", float64(device))
		if row.Has("table_75c_a") {
			row.Rejects("table_75c_a", float64(device), 0.1)
			assert.LessOrEqual(t, device, must[unit.Current](t)(RacewayAmpacity(s, m, Rated60C, Since2011)))
		}
		r := Rated90C
		assert.Less(t, device, must[unit.Current](t)(RacewayAmpacity(s, map[bool]Metal{true: Copper, false: m}[s.codeRow() < smallestRow], r, Since2011)))
	}
	for _, m := range []Metal{Copper, Aluminium} {
		for _, s := range codeList[5:] {
			device, limited, err := SmallConductorLimit(s, m)
			require.NoError(t, err)
			assert.False(t, limited, "%v", s)
			assert.Zero(t, device)
		}
	}
	for _, s := range []Size{{}, AWG(7), AWG(20), MetricSize(4 * SquareMillimetre)} {
		_, _, err := SmallConductorLimit(s, Copper)
		refused(t, err, s.String())
	}
	for _, s := range []Size{AWG(18), AWG(16), AWG(14)} {
		_, _, err := SmallConductorLimit(s, Aluminium)
		refused(t, err, "in aluminium")
	}
	_, _, err := SmallConductorLimit(AWG(10), 0)
	refused(t, err, "metal")
}

func TestTerminationColumn(t *testing.T) {
	for _, c := range []struct {
		size    Size
		circuit unit.Current
		marked  TemperatureRating
		want    TemperatureRating
	}{
		{AWG(18), 0, 0, Rated60C},
		{AWG(14), 0, 0, Rated60C},
		{AWG(1), 0, 0, Rated60C},
		{AWG(0), 0, 0, Rated75C},
		{KCMilSize(500), 0, 0, Rated75C},
		{AWG(0), 100, 0, Rated60C},
		{AWG(0), 100.1, 0, Rated75C},
		{AWG(1), 110, 0, Rated75C},
		{AWG(14), 15, Rated75C, Rated75C},
		{AWG(14), 15, Rated90C, Rated90C},
		{KCMilSize(500), 400, Rated60C, Rated60C},
		{AWG(12), 1, 0, Rated60C},
		{AWG(12), 6000, 0, Rated75C},
	} {
		assert.Equal(t, c.want, must[TemperatureRating](t)(TerminationColumn(c.size, c.circuit, c.marked)), "%v", c)
	}
	bounds(t, "circuit rating", 1, 6000, func(x float64) error {
		return second(TerminationColumn(AWG(10), unit.Current(x), 0))
	})
	refused(t, second(TerminationColumn(AWG(7), 0, 0)), "7 AWG")
	refused(t, second(TerminationColumn(AWG(10), 0, Rated150C)), "temperature rating 4")
	assert.NotContains(t, second(TerminationColumn(AWG(18), -1, Rated90C)).Error(), "\n", "one fault")
	err := second(TerminationColumn(Size{}, -1, 9))
	for _, says := range []string{"no size", "circuit rating", "temperature rating 9"} {
		refused(t, err, says)
	}
}
