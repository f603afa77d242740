package battery

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// A preset repeats what the functions say, and nothing else.
func TestPreset(t *testing.T) {
	for c := Flooded; c.Valid(); c++ {
		p := must[Preset](t)(c.Preset())
		assert.Equal(t, c, p.Chemistry)
		assert.InDelta(t, float64(c.CellVoltage()), float64(p.CellVoltage), 0)
		assert.Equal(t, must[Range[float64]](t)(TypicalExponent(c)), p.Exponent)
		assert.Equal(t, must[SetPoints](t)(c.SetPoints()), p.SetPoints)
		assert.Equal(t, must[Range[float64]](t)(ChargeRateLimit(c, Celsius(25))), p.ChargeRate)
		assert.Equal(t, must[Range[unit.Voltage]](t)(OpenCircuit(c, 0.5, Celsius(25))), p.Half)
		assert.Equal(t, must[Range[unit.Voltage]](t)(OpenCircuit(c, 1, Celsius(25))), p.Full)
		r := must[Range[unit.Resistance]](t)(TypicalResistance(c, 100*AmpereHour))
		assert.InEpsilon(t, 100*float64(r.High), p.Resistance.High, 1e-12)
		x := must[RechargeTime](t)(Recharge{Chemistry: c, Capacity: 100 * AmpereHour, Charger: 10}.Time())
		assert.InDelta(t, p.BulkEnds, x.BulkEnds, 0)
		assert.InEpsilon(t, p.Efficiency.Low, float64(x.Removed/x.Returned.High), 1e-12)
		assert.Greater(t, float64(p.Full.High), float64(p.Half.High))
		if !c.LeadAcid() {
			assert.Zero(t, p.GasBoost)
			assert.Zero(t, p.SelfDischarge)
			assert.Zero(t, p.FreezingCapacity)
			assert.InDelta(t, 0, InCelsius(p.LeastTemp), 0)
			continue
		}
		low, high, err := TypicalSelfDischarge(c)
		require.NoError(t, err)
		assert.Equal(t, Range[float64]{Low: low.Share, High: high.Share}, p.SelfDischarge)
		assert.InDelta(t, must[float64](t)(CapacityFactor(c, Celsius(0), 20*Hour)), p.FreezingCapacity, 0)
		boost := must[GasFactors](t)(c.GasFactors(BoostCharge))
		assert.InDelta(t, float64(must[unit.Current](t)(boost.GasCurrent(100*AmpereHour))), 100*p.GasBoost, 1e-12)
		assert.Greater(t, p.GasBoost, p.GasFloat)
		assert.Zero(t, p.LeastTemp)
	}
	for _, c := range []Chemistry{0, 5, 255} {
		_, err := c.Preset()
		refused(t, err)
	}
}

// Every figure has an origin, and every origin a figure.
func TestPresetOrigins(t *testing.T) {
	for c := Flooded; c.Valid(); c++ {
		seen := map[string]bool{}
		for _, o := range must[Preset](t)(c.Preset()).Origins() {
			assert.False(t, seen[o.Figure], o.Figure)
			seen[o.Figure] = true
			assert.NotEmpty(t, o.Source)
			assert.Contains(t, []string{published, commonPractice, recalled}, o.Status)
		}
		typ := reflect.TypeFor[Preset]()
		for i := range typ.NumField() {
			if name := typ.Field(i).Name; name != "Chemistry" {
				assert.True(t, seen[name], name)
			}
		}
		assert.Len(t, seen, typ.NumField()-1)
	}
	assert.NotPanics(t, func() { Preset{}.Origins() })
}
