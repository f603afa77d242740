package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestChargeRateLimitTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/charging_limits_lithium.csv") {
		from, to := -40.0, 80.0
		if row.Has("cell_temp_from_c") {
			from = row.Float("cell_temp_from_c")
		}
		if row.Has("cell_temp_to_c") {
			to = row.Float("cell_temp_to_c")
		}
		for _, at := range []float64{0.001, 0.5, 0.999} {
			r := must[Range[float64]](t)(ChargeRateLimit(LithiumIronPhosphate, Celsius(from+at*(to-from))))
			row.Printed("standard_per_h", r.Low)
			// Where no fast current is, the standard one is the most.
			switch {
			case !row.Has("fast_per_h"), row.Float("fast_per_h") == 0:
				assert.InDelta(t, r.Low, r.High, 0, row.Source())
			default:
				row.Printed("fast_per_h", r.High)
			}
		}
	}
}

// On a step the smaller current of its two sides holds; at 0 °C, which is not
// below 0 °C, the step above.
func TestChargeRateLimitSteps(t *testing.T) {
	const tiny = 1e-9
	at := func(celsius float64) Range[float64] {
		return must[Range[float64]](t)(ChargeRateLimit(LithiumIronPhosphate, Celsius(celsius)))
	}
	for _, step := range []float64{5, 10, 25, 50} {
		below, on, above := at(step-tiny), at(step), at(step+tiny)
		assert.InDelta(t, min(below.Low, above.Low), on.Low, 0, step)
		assert.InDelta(t, min(below.High, above.High), on.High, 0, step)
	}
	assert.Equal(t, Range[float64]{Low: 0.1, High: 0.1}, at(0))
	assert.Zero(t, at(-tiny))
	assert.Equal(t, Range[float64]{Low: 0.1, High: 0.1}, at(60))
	assert.Zero(t, at(60+tiny))
	for _, celsius := range []float64{-40, -10, 0, 25, 60, 80} {
		for c := Flooded; c.LeadAcid(); c++ {
			r := must[Range[float64]](t)(ChargeRateLimit(c, Celsius(celsius)))
			assert.True(t, r.Low > 0 && r.Valid())
		}
	}
	for _, x := range append([]float64{25, float64(Celsius(-40.01)), float64(Celsius(80.01))}, junk...) {
		r, err := ChargeRateLimit(LithiumIronPhosphate, unit.Temperature(x))
		refused(t, err, x)
		assert.Zero(t, r)
	}
	_, err := ChargeRateLimit(0, Celsius(25))
	refused(t, err)
}

func TestCheckCharger(t *testing.T) {
	b := Bank{Block: golf, Series: 2, Parallel: 1}
	b.Block.Rating = Rating{Capacity: 200 * AmpereHour, Time: 20 * Hour}
	check := func(c Chemistry, i unit.Current, celsius float64) ChargeCheck {
		b.Block.Chemistry, b.Block.Voltage = c, 4*c.CellVoltage()
		return must[ChargeCheck](t)(b.CheckCharger(i, Celsius(celsius)))
	}
	for _, x := range []struct {
		c       Chemistry
		i       unit.Current
		celsius float64
		want    ChargeVerdict
	}{
		{Flooded, 20, 25, ChargeWithin},
		{Flooded, 20.001, 25, ChargeAskMaker},
		{Flooded, 40, 25, ChargeAskMaker},
		{Flooded, 40.001, 25, ChargeTooHigh},
		{AGM, 40, 5, ChargeWithin},
		{AGM, 60, 5, ChargeAskMaker},
		{AGM, 61, 5, ChargeTooHigh},
		{Gel, 40, 25, ChargeWithin},
		{Gel, 40.1, 25, ChargeTooHigh},
		{LithiumIronPhosphate, 0.001, -1, ChargeNever},
		{LithiumIronPhosphate, 0.001, 61, ChargeNever},
		{LithiumIronPhosphate, 20, 3, ChargeWithin},
		{LithiumIronPhosphate, 30, 3, ChargeTooHigh},
		{LithiumIronPhosphate, 30, 7, ChargeAskMaker},
		{LithiumIronPhosphate, 100, 30, ChargeWithin},
		{LithiumIronPhosphate, 151, 30, ChargeTooHigh},
	} {
		got := check(x.c, x.i, x.celsius)
		assert.Equal(t, x.want, got.Verdict, "%+v", x)
		assert.InDelta(t, float64(x.i)/200, got.Rate, 1e-12)
		assert.Equal(t, x.want == ChargeNever, got.Limit.High == 0)
	}
	// Two strings take twice the current.
	one := check(AGM, 40, 25)
	b.Parallel = 2
	two := check(AGM, 40, 25)
	assert.InDelta(t, 2*float64(one.Limit.High), float64(two.Limit.High), 1e-9)
	for _, x := range junk {
		if x != 1e-3 {
			_, err := b.CheckCharger(unit.Current(x), Celsius(25))
			refused(t, err, x)
		}
		_, err := b.CheckCharger(10, unit.Temperature(x))
		refused(t, err, x)
	}
	_, err := Bank{}.CheckCharger(10, Celsius(25))
	refused(t, err)
	seen := map[string]bool{}
	for v := range ChargeVerdict(6) {
		require.NotEmpty(t, v.String())
		seen[v.String()] = true
	}
	assert.Len(t, seen, 5)
	assert.Equal(t, ChargeVerdict(0).String(), ChargeVerdict(math.MaxUint8).String())
}

// Below 0 °C lithium iron phosphate takes nothing, whatever is asked.
func FuzzLithiumBelowFreezing(f *testing.F) {
	for _, x := range []float64{-0.0001, -10, -40, -41, math.Inf(-1), math.NaN(), 0, 70} {
		f.Add(x, 10.0)
	}
	b := Bank{Block: golf, Series: 1, Parallel: 1}
	b.Block.Chemistry, b.Block.Voltage = LithiumIronPhosphate, 12.8
	f.Fuzz(func(t *testing.T, celsius, amperes float64) {
		at := Celsius(celsius)
		r, err := ChargeRateLimit(LithiumIronPhosphate, at)
		k, err2 := b.CheckCharger(unit.Current(amperes), at)
		if InCelsius(at) < 0 || math.IsNaN(celsius) {
			require.Zero(t, r)
			require.Zero(t, k.Limit)
			if err2 == nil {
				require.Equal(t, ChargeNever, k.Verdict)
			}
		}
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			require.ErrorIs(t, err2, ErrDomain)
			return
		}
		require.True(t, r.Low >= 0 && r.Valid() && r.High <= 1)
	})
}
