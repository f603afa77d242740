package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestSizingFactorTable(t *testing.T) {
	rows := reftest.Rows(t, "battery/ieee485_temperature.csv")
	require.Len(t, rows, 41)
	last := math.Inf(1)
	for _, row := range rows {
		f, err := SizingFactor(Fahrenheit(row.Float("temp_f")))
		require.NoError(t, err, row.Source())
		row.Printed("size_factor", f)
		assert.Less(t, f, last, "falls with every row")
		last = f
		// The °C column is the same temperature, rounded to 0.1.
		c, err := SizingFactor(Celsius(row.Float("temp_c")))
		require.NoError(t, err, row.Source())
		assert.InDelta(t, f, c, 0.002, row.Source())
	}
}

// Laws beside the table: the factor falls everywhere, bends by no more than
// 0.008 a degree squared (a slip in one row would show as a kink), and lies
// where the straight-line rules of other sources say.
func TestSizingFactorSmooth(t *testing.T) {
	for f := 27.0; f <= 123; f += 0.5 {
		at := func(x float64) float64 { return must[float64](t)(SizingFactor(Fahrenheit(x))) }
		assert.Greater(t, at(f-1), at(f))
		assert.Less(t, math.Abs(at(f-1)+at(f+1)-2*at(f)), 0.008, "%v", f)
	}
	// Between the straight-line rules of 0.6 and 1 % a degree near 25 °C, and
	// above both at 0 °C.
	mid := must[float64](t)(SizingFactor(Celsius(20)))
	assert.True(t, mid > 1/(1-0.006*5) && mid < 1/(1-0.012*5))
	cold := must[float64](t)(SizingFactor(Celsius(0)))
	assert.InDelta(t, 1.40, cold, 0.005)
	assert.Greater(t, cold, 1/(1-0.01*25))
}

func TestSizingFactorWorksheets(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/worksheet_temperature.csv") {
		f, err := SizingFactor(Fahrenheit(row.Float("temp_f")))
		require.NoError(t, err)
		if row.Text("follows_ieee") == "yes" {
			row.Printed("multiplier", f)
		} else {
			row.Rejects("multiplier", f, 0.01)
		}
	}
}

func TestSizingFactorBounds(t *testing.T) {
	for _, f := range []float64{24.8, 125.2, 20, 0, -459.67, math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, err := SizingFactor(Fahrenheit(f))
		refused(t, err, "%v", f)
	}
	for _, f := range []float64{25, 125} {
		_, err := SizingFactor(Fahrenheit(f))
		require.NoError(t, err)
	}
	_, err := SizingFactor(25) // 25 °C forgotten to convert is 25 K
	refused(t, err)
	assert.Equal(t, "battery: electrolyte temperature -248.15 °C (25 K), want -3.88889 °C to 51.6667 °C", err.Error())
}

func TestCapacityFactorSealed(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/sealed_temperature.csv") {
		for _, c := range []Chemistry{AGM, Gel} {
			f, err := CapacityFactor(c, Celsius(row.Float("temp_c")), unit.Time(row.Float("discharge_min"))*Minute)
			require.NoError(t, err, row.Source())
			row.Printed("capacity_pct", 100*f)
		}
	}
	// Laws: warmer gives more; in the cold a shorter discharge gives less.
	for x := 0.0; x < 40; x += 0.5 {
		var f [3]float64
		for i, d := range []unit.Time{29 * Minute, 30 * Minute, 60 * Minute} {
			f[i] = must[float64](t)(CapacityFactor(AGM, Celsius(x), d))
			assert.Less(t, f[i], must[float64](t)(CapacityFactor(AGM, Celsius(x+0.5), d)))
		}
		if x < 25 {
			assert.True(t, f[0] < f[1] && f[1] < f[2], "%v", x)
		}
	}
}

func TestCapacityFactor(t *testing.T) {
	for c := Flooded; c.Valid(); c++ {
		f, err := CapacityFactor(c, Celsius(25), Hour)
		require.NoError(t, err)
		assert.InDelta(t, 1, f, 1e-9, c)
	}
	f := must[float64](t)(CapacityFactor(Flooded, Fahrenheit(40), Hour))
	assert.InDelta(t, 1/1.3, f, 1e-9)
	for _, x := range []float64{-0.1, 40.1, math.NaN()} {
		_, err := CapacityFactor(Gel, Celsius(x), Hour)
		refused(t, err)
	}
	for _, x := range []float64{14.9, 45.1, math.NaN()} {
		f, err := CapacityFactor(LithiumIronPhosphate, Celsius(x), Hour)
		refused(t, err)
		assert.Zero(t, f)
	}
	for _, x := range []unit.Time{0, -1, unit.Time(math.NaN()), unit.Time(math.Inf(1))} {
		_, err := CapacityFactor(AGM, Celsius(20), x)
		refused(t, err)
	}
	_, err := CapacityFactor(0, Celsius(20), Hour)
	refused(t, err)
	_, err = CapacityFactor(Flooded, Celsius(-10), Hour)
	refused(t, err)
}

func TestLinearCapacityFactor(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/linear_temperature.csv") {
		f, err := LinearCapacityFactor(Celsius(row.Float("temp_c")), row.Float("coefficient_per_c"))
		require.NoError(t, err)
		row.Printed("capacity_pct", 100*f)
	}
	for _, x := range []float64{-20.1, 50.1, math.NaN()} {
		_, err := LinearCapacityFactor(Celsius(x), 0.01)
		refused(t, err)
	}
	for _, a := range []float64{-0.001, 0.021, 0.6, math.NaN()} {
		_, err := LinearCapacityFactor(Celsius(20), a)
		refused(t, err)
	}
}

func FuzzSizingFactor(f *testing.F) {
	f.Add(300.0)
	f.Add(math.NaN())
	f.Fuzz(func(t *testing.T, kelvin float64) {
		x, err := SizingFactor(unit.Temperature(kelvin))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, x >= 0.85 && x <= 1.52)
	})
}
