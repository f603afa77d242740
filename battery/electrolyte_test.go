package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestGravityAtCharge(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/gravity_charge.csv") {
		b := must[Range[float64]](t)(GravityAtCharge(row.Float("soc_pct") / 100))
		if row.Text("full_sg") == "1.280" {
			row.Printed("sg", b.High)
		} else if row.Float("soc_pct") > 0 {
			row.Printed("sg", b.Low)
		} else {
			row.Printed("sg", b.High) // where the other is run on below it
		}
	}
	// Both ends rise, the acid of the battery that is full at 1.280 is the
	// denser one until it is nearly flat, and the rest voltage follows.
	last := Range[float64]{}
	for x := 0.0; x <= 1; x += 0.01 {
		b := must[Range[float64]](t)(GravityAtCharge(x))
		assert.True(t, b.Low > last.Low && b.High > last.High && b.Low <= b.High, "%v", x)
		last = b
	}
	v := must[Range[unit.Voltage]](t)(OpenCircuitFromGravity(last.Low))
	assert.InDelta(t, 12.65, 6*float64(v.High), 0.03, "a full 12 V block")
}

func TestFreezingPointAtCharge(t *testing.T) {
	for x, want := range map[float64][2]float64{0: {-10.3, -7.2}, 0.5: {-35, -24.3}, 1: {-67.8, -59.4}} {
		f := must[Range[unit.Temperature]](t)(FreezingPointAtCharge(x))
		assert.InDelta(t, want[0], InCelsius(f.Low), 0.06, "%v", x)
		assert.InDelta(t, want[1], InCelsius(f.High), 0.06, "%v", x)
	}
	// The unsafe chart names a colder point than the warm end of the band at
	// every charge below full.
	for _, row := range reftest.Rows(t, "battery/freezing_unsafe.csv") {
		for x := 0.0; x <= 1; x += 0.25 {
			sg := must[Range[float64]](t)(GravityAtCharge(x))
			if x < 1 && math.Abs(sg.Low-row.Float("sg")) < 1e-9 {
				f := must[Range[unit.Temperature]](t)(FreezingPointAtCharge(x))
				assert.Greater(t, InFahrenheit(f.High), row.Float("chart_f")+15, row.Source())
			}
		}
	}
	for _, x := range []float64{-0.01, 1.01, 50, math.NaN(), math.Inf(1)} {
		_, err := FreezingPointAtCharge(x)
		refused(t, err, "%v", x)
		_, err = GravityAtCharge(x)
		refused(t, err, "%v", x)
	}
}

func TestHydrometer(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/hydrometer.csv") {
		sg, err := GravityAt80F(row.Float("reading"), Fahrenheit(row.Float("electrolyte_f")))
		require.NoError(t, err, row.Source())
		row.Printed("by_rule", sg)
		row.Digits("sg_80f", sg, 4, "the table keeps to the rule within 0.002")
	}
	// The two rules agree at 80 °F but for the 3 °F between their bases, and
	// one corrects by 17 % less.
	sg := must[float64](t)(GravityAt77F(1.250, Fahrenheit(77)))
	assert.InDelta(t, 1.250, sg, 1e-12)
	a := must[float64](t)(GravityAt80F(1.250, Fahrenheit(20)))
	b := must[float64](t)(GravityAt77F(1.250, Fahrenheit(17)))
	assert.InDelta(t, 0.83, (1.250-b)/(1.250-a), 0.01)
	for _, x := range []struct{ r, f float64 }{{1.049, 80}, {1.361, 80}, {1250, 80}, {1.25, -61}, {1.25, 131}, {math.NaN(), 80}, {1.25, math.NaN()}} {
		_, err := GravityAt80F(x.r, Fahrenheit(x.f))
		refused(t, err, "%v", x)
		_, err = GravityAt77F(x.r, Fahrenheit(x.f))
		refused(t, err, "%v", x)
	}
	_, err := GravityAt80F(1.25, 20) // 20 °C as kelvin
	refused(t, err)
}

// Colder acid that reads the same is thinner acid, by either rule.
func FuzzHydrometer(f *testing.F) {
	f.Add(1.25, 280.0)
	f.Fuzz(func(t *testing.T, reading, kelvin float64) {
		for _, rule := range []func(float64, unit.Temperature) (float64, error){GravityAt80F, GravityAt77F} {
			sg, err := rule(reading, unit.Temperature(kelvin))
			if err != nil {
				require.ErrorIs(t, err, ErrDomain)
				continue
			}
			colder, err := rule(reading, unit.Temperature(kelvin-1))
			if err == nil {
				require.Less(t, colder, sg)
			}
		}
	})
}
