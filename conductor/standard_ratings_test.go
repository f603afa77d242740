package conductor

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestStandardRatings(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_240_6.csv")
	fuses, breakers := StandardFuses.All(), StandardBreakers.All()
	require.Len(t, rows, len(fuses))
	n := 0
	for i, row := range rows {
		row.Printed("rating_a", float64(fuses[i]))
		if row.Text("kind") == "both" {
			assert.Equal(t, fuses[i], breakers[n])
			n++
		} else {
			assert.NotContains(t, breakers, fuses[i])
		}
	}
	assert.Len(t, breakers, n)
	assert.Nil(t, StandardRatings(2).All())
	assert.Equal(t, []string{"breakers", "fuses", "no list of ratings"}, []string{
		StandardBreakers.String(), StandardFuses.String(), StandardRatings(2).String(),
	})
	fuses[0] = 99
	assert.EqualValues(t, 1, StandardFuses.All()[0], "the list is a copy")
}

// Up and Down are the neighbours in the list, each rating is its own, and a
// product's last bits do not move it to the next.
func TestStandardUpDown(t *testing.T) {
	for _, l := range []StandardRatings{StandardBreakers, StandardFuses} {
		all := l.All()
		assert.True(t, slices.IsSorted(all))
		for i, r := range all {
			for _, x := range []unit.Current{r, r * (1 + 1e-12), r * (1 - 1e-12)} {
				assert.Equal(t, r, must[unit.Current](t)(l.Up(x)))
				assert.Equal(t, r, must[unit.Current](t)(l.Down(x)))
			}
			if i == 0 {
				assert.Equal(t, r, must[unit.Current](t)(l.Up(r/2)))
				refused(t, second(l.Down(r*0.999)), "current")
				continue
			}
			between := (all[i-1] + r) / 2
			assert.Equal(t, r, must[unit.Current](t)(l.Up(between)))
			assert.Equal(t, all[i-1], must[unit.Current](t)(l.Down(between)))
		}
	}
	refused(t, second(StandardRatings(2).Up(20)), "list of ratings")
	refused(t, second(StandardRatings(2).Down(20)), "list of ratings")
	refused(t, second(StandardRatings(255).ForAmpacity(20)), "list of ratings")
	for _, x := range []float64{0, -1, 1e-4, 6000.1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		refused(t, second(StandardBreakers.Up(unit.Current(x))), "current")
		refused(t, second(StandardBreakers.Down(unit.Current(x))), "current")
		refused(t, second(StandardFuses.ForAmpacity(unit.Current(x))), "current")
	}
}

func TestForAmpacity(t *testing.T) {
	for ampacity, want := range map[unit.Current]unit.Current{
		115: 125, 100: 100, 101: 110, 8: 15, 701: 800, 755: 800, 800: 800, 801: 800, 999: 800, 1000: 1000, 1150: 1000, 6000: 6000,
	} {
		assert.Equal(t, want, must[unit.Current](t)(StandardBreakers.ForAmpacity(ampacity)), "%v", ampacity)
	}
	assert.EqualValues(t, 10, must[unit.Current](t)(StandardFuses.ForAmpacity(8)))
}
