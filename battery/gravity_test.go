package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestOpenCircuitFromGravity(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/rest_voltage_gravity.csv") {
		v, err := OpenCircuitFromGravity(row.Float("sg"))
		require.NoError(t, err)
		row.Printed("rule_084_v", 6*float64(v.Low))
		row.Printed("rule_0845_v", 6*float64(v.High))
		// The chart in the code lies 0 to 0.13 V above the rule.
		above := row.Float("chart_v") - 6*float64(v.Low)
		assert.True(t, above > 0 && above < 0.1305, row.Source())
	}
	for _, x := range []float64{1.049, 1.321, 1265, 0, math.NaN(), math.Inf(1)} {
		_, err := OpenCircuitFromGravity(x)
		refused(t, err, "%v", x)
	}
}

func TestFreezingPoint(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/freezing.csv") {
		f, err := FreezingPoint(row.Float("sg"))
		require.NoError(t, err, row.Source())
		row.Digits("freeze_f", InFahrenheit(f), 10, "published tables differ by up to 5 °F")
	}
	for _, row := range reftest.Rows(t, "battery/freezing_unsafe.csv") {
		f, err := FreezingPoint(row.Float("sg"))
		require.NoError(t, err)
		assert.InDelta(t, row.Float("physical_f"), InFahrenheit(f), 0.5, row.Source())
		if row.Float("sg") < 1.26 {
			row.Rejects("chart_f", InFahrenheit(f), 0.2)
		}
	}
	last := math.Inf(1)
	for sg := 1.0; sg <= 1.28; sg += 0.005 {
		f := InFahrenheit(must[unit.Temperature](t)(FreezingPoint(sg)))
		assert.Less(t, f, last, "%v", sg)
		last = f
	}
	for _, x := range []float64{0.999, 1.281, 0, math.NaN()} {
		_, err := FreezingPoint(x)
		refused(t, err)
	}
}
