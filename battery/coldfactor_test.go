package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

func TestColdFactors(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/cold_temperature.csv") {
		temp := Fahrenheit(row.Float("temp_f"))
		var share float64
		var err error
		switch row.Text("service") {
		case "motive":
			share, err = MotivePowerCapacity(temp)
		case "cranking":
			share, err = CrankingPower(temp)
		case "sizing":
			share, err = ColdSizingFactor(temp)
			share = 1 / share
		}
		require.NoError(t, err, row.Source())
		row.Printed("capacity_pct", 100*share)
		row.Printed("size_factor", 1/share)
	}
	// At 0 °F the size factor is that of the traction battery's capacity.
	cold := must[float64](t)(ColdSizingFactor(Fahrenheit(0)))
	assert.InDelta(t, 1/must[float64](t)(MotivePowerCapacity(Fahrenheit(0))), cold, 1e-9)
}

func TestTemperatureCompared(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/temperature_compared.csv") {
		ieee := must[float64](t)(SizingFactor(Fahrenheit(row.Float("temp_f"))))
		assert.InDelta(t, row.Float("ieee485_factor"), ieee, 0.0005+1e-9, row.Source())
		var other float64
		if row.Has("other_factor") {
			other = row.Float("other_factor")
		} else {
			other = 100 / row.Float("other_capacity_pct")
		}
		row.Printed("difference_pct", 100*(other/ieee-1))
	}
}

// The factor falls with every degree, meets the IEEE table at its end, and is
// the same from there up.
func TestColdSizingFactorLaws(t *testing.T) {
	last := math.Inf(1)
	for f := 0.0; f <= 125; f += 0.25 {
		x := must[float64](t)(ColdSizingFactor(Fahrenheit(f)))
		assert.Less(t, x, last, "%v", f)
		last = x
		if f > 25 {
			assert.InDelta(t, must[float64](t)(SizingFactor(Fahrenheit(f))), x, 0)
		}
	}
	for _, f := range []float64{-0.2, 125.2, -460, math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, err := ColdSizingFactor(Fahrenheit(f))
		refused(t, err, "%v", f)
	}
	_, err := ColdSizingFactor(Celsius(-17.8))
	require.NoError(t, err, "0 °F, rounded")
}

func TestColdShares(t *testing.T) {
	for f := 1.0; f < 77; f++ {
		m, c := must[float64](t)(MotivePowerCapacity(Fahrenheit(f))), must[float64](t)(CrankingPower(Fahrenheit(f)))
		assert.Greater(t, m, must[float64](t)(MotivePowerCapacity(Fahrenheit(f-1))))
		assert.Greater(t, c, must[float64](t)(CrankingPower(Fahrenheit(f-1))))
		assert.Less(t, c, m, "a short heavy discharge loses more")
	}
	assert.InDelta(t, 1, must[float64](t)(MotivePowerCapacity(Celsius(25))), 1e-9)
	assert.InDelta(t, 1, must[float64](t)(CrankingPower(Celsius(26.7))), 1e-9)
	for _, f := range []float64{-0.2, 81, math.NaN(), math.Inf(-1)} {
		_, err := MotivePowerCapacity(Fahrenheit(f))
		refused(t, err)
		_, err = CrankingPower(Fahrenheit(f))
		refused(t, err)
	}
}

func FuzzColdSizingFactor(f *testing.F) {
	f.Add(260.0)
	f.Add(math.Inf(1))
	f.Fuzz(func(t *testing.T, f float64) {
		x, err := ColdSizingFactor(Fahrenheit(f))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, x >= 0.85 && x <= 2.5)
	})
}
