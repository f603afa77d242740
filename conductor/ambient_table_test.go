package conductor

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

var allRatings = []TemperatureRating{Rated60C, Rated75C, Rated90C, Rated150C, Rated200C, Rated250C}

// All rows are compared with the print, and each factor is what the law makes
// of the upper edge of its band; so is the printed law.
func TestAmbientFactor(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_310_15_b_ambient.csv")
	require.Len(t, rows, 41)
	require.Len(t, rows, len(ambientFrom30)+len(ambientFrom40))
	for _, row := range rows {
		base, reference := Base30C, 30.0
		if row.Text("base_c") == "40" {
			base, reference = Base40C, 40
		}
		high := row.Float("band_high_c")
		for _, r := range allRatings {
			if base == Base30C && r > Rated90C {
				continue
			}
			column := fmt.Sprintf("factor_%.0fc", ratedAt[r])
			if !row.Has(column) {
				require.ErrorIs(t, second(AmbientFactor(r, base, Celsius(high))), ErrNoAmpacity)
				require.GreaterOrEqual(t, high, ratedAt[r])
				continue
			}
			f := must[float64](t)(AmbientFactor(r, base, Celsius(high)))
			row.Printed(column, f)
			if row.Has("band_low_c") {
				low := row.Float("band_low_c")
				assert.InDelta(t, f, must[float64](t)(AmbientFactor(r, base, Celsius(low))), 0, "the low end of the band")
				assert.InDelta(t, f, must[float64](t)(AmbientFactor(r, base, Celsius(low-0.6))), 0, "between two bands")
			} else {
				assert.InDelta(t, f, must[float64](t)(AmbientFactor(r, base, Celsius(-60))), 0)
			}
			law := must[float64](t)(AmbientLaw(must[unit.Temperature](t)(r.Temperature()), Celsius(reference), Celsius(high)))
			row.Printed(fmt.Sprintf("law_%.0fc", ratedAt[r]), law)
			assert.InDelta(t, law, f, 0.005+1e-9, "%s, %v", row.Source(), r)
		}
	}
}

// The table never allows more than the law by more than its rounding, falls with
// temperature, and takes 86 °F for 30 °C.
func TestAmbientFactorLaws(t *testing.T) {
	for _, base := range []AmbientBase{Base30C, Base40C} {
		for _, r := range allRatings[:3] {
			last := 2.0
			for c := -60.0; c < ratedAt[r]; c += 0.25 {
				f, err := AmbientFactor(r, base, Celsius(c))
				if err != nil {
					require.ErrorIs(t, err, ErrNoAmpacity)
					assert.GreaterOrEqual(t, c, ratedAt[r]-10)
					continue
				}
				assert.LessOrEqual(t, f, last)
				law := must[float64](t)(AmbientLaw(Celsius(ratedAt[r]), Celsius(float64(20+10*base)), Celsius(c)))
				assert.LessOrEqual(t, f, law+0.005)
				last = f
			}
		}
	}
	assert.InDelta(t, 1, must[float64](t)(AmbientFactor(Rated75C, Base30C, Fahrenheit(86))), 0)
	assert.InDelta(t, 0.94, must[float64](t)(AmbientFactor(Rated75C, Base30C, Celsius(30.1))), 0)
}

func TestAmbientFactorRefuses(t *testing.T) {
	for _, b := range []AmbientBase{0, 3} {
		refused(t, second(AmbientFactor(Rated75C, b, Celsius(30))), "ambient base")
	}
	for _, r := range []TemperatureRating{0, Rated150C, 7} {
		refused(t, second(AmbientFactor(r, Base30C, Celsius(30))), "temperature rating")
	}
	refused(t, second(AmbientFactor(7, Base40C, Celsius(30))), "temperature rating")
	for _, x := range []unit.Temperature{30, Celsius(-60.1), Celsius(300.1), 0, -1} {
		refused(t, second(AmbientFactor(Rated75C, Base30C, x)), "temperature")
	}
	bounds(t, "temperature", minTemperature, maxTemperature, func(x float64) error {
		return butAmpacity(second(AmbientFactor(Rated250C, Base40C, unit.Temperature(x))))
	})
	assert.ErrorContains(t, second(AmbientFactor(Rated60C, Base30C, Celsius(58))), "insulation of 60 °C at 58 °C")
	assert.Equal(t, "30 °C, 40 °C, no base", fmt.Sprintf("%v, %v, %v", Base30C, Base40C, AmbientBase(0)))
}
