package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// end returns one end of a range by its name in a CSV.
func end[T ~float64](t *testing.T, r Range[T], name string) float64 {
	t.Helper()
	switch name {
	case "low":
		return float64(r.Low)
	case "high":
		return float64(r.High)
	}
	t.Fatalf("end %q", name)
	return 0
}

func TestSetPointsTable(t *testing.T) {
	rows := reftest.Rows(t, "battery/charging_setpoints.csv")
	for _, row := range rows {
		c := must[Chemistry](t)(ParseChemistry(row.Text("chemistry")))
		s := must[SetPoints](t)(c.SetPoints())
		e := row.Text("end")
		switch row.Text("figure") {
		case "absorption":
			row.Printed("value", end(t, s.Absorption, e))
		case "float":
			row.Printed("value", end(t, s.Float, e))
		case "equalise":
			row.Printed("value", end(t, s.Equalise, e))
		case "coefficient":
			row.Printed("value", 1000*end(t, s.PerDegree, e))
		case "rate":
			row.Printed("value", end(t, must[Range[float64]](t)(ChargeRateLimit(c, Celsius(25))), e))
		default:
			t.Fatal(row.Text("figure"))
		}
	}
	assert.Len(t, rows, 32)
}

func TestChargeVoltagesTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/charging_blocks.csv") {
		b := Bank{Block: golf, Series: 1, Parallel: 1}
		b.Block.Chemistry = must[Chemistry](t)(ParseChemistry(row.Text("chemistry")))
		b.Block.Voltage = unit.Voltage(row.Float("block_v"))
		v := must[ChargeVoltages](t)(b.ChargeVoltages(Celsius(25)))
		assert.False(t, v.Clamped)
		r := v.Absorption
		switch row.Text("figure") {
		case "float":
			r = v.Float
		case "equalise":
			r = v.Equalise
		}
		if row.Text("end") == "inside" {
			x := unit.Voltage(row.Float("value_v"))
			assert.True(t, x >= r.Low && x <= r.High, row.Source())
			continue
		}
		row.Printed("value_v", end(t, r, row.Text("end")))
	}
}

// What holds of the table whatever its figures.
func TestSetPointsOrder(t *testing.T) {
	for c := Flooded; c.Valid(); c++ {
		s := must[SetPoints](t)(c.SetPoints())
		for _, r := range []Range[unit.Voltage]{s.Absorption, s.Float, s.Equalise, s.PerDegree} {
			assert.True(t, r.Valid(), c)
		}
		assert.Less(t, float64(s.Float.High), float64(s.Absorption.Low), c)
		full := must[Range[unit.Voltage]](t)(OpenCircuit(c, 1, Celsius(25)))
		assert.Greater(t, float64(s.Float.High), float64(full.Low), "%v: float is above some rest voltage", c)
		assert.Equal(t, c != LithiumIronPhosphate, s.PerDegree.High < 0, c)
		assert.Equal(t, c == LithiumIronPhosphate, s.FloatOptional, c)
		if c == Flooded {
			assert.Greater(t, float64(s.Equalise.High), float64(s.Absorption.High))
		} else {
			assert.Zero(t, s.Equalise, c)
		}
	}
	_, err := Chemistry(0).SetPoints()
	refused(t, err)
}

func TestCompensatedVoltage(t *testing.T) {
	at := func(celsius float64) (float64, bool) {
		v, clamped, err := CompensatedVoltage(14.4, 6, -0.005, Celsius(celsius))
		require.NoError(t, err)
		return float64(v), clamped
	}
	for celsius, want := range map[float64]float64{25: 14.4, 0: 15.15, 40: 13.95} {
		v, clamped := at(celsius)
		assert.InDelta(t, want, v, 1e-9)
		assert.False(t, clamped, celsius)
	}
	for celsius, same := range map[float64]float64{-0.1: 0, -40: 0, 40.1: 40, 60: 40} {
		v, clamped := at(celsius)
		held, _ := at(same)
		assert.InDelta(t, held, v, 1e-9)
		assert.True(t, clamped, celsius)
	}
	for _, x := range junk {
		_, _, err := CompensatedVoltage(unit.Voltage(x), 6, -0.003, Celsius(25))
		refused(t, err, x)
		_, _, err = CompensatedVoltage(14.4, 6, -0.003, unit.Temperature(x))
		refused(t, err, x)
		if x != 0 {
			_, _, err = CompensatedVoltage(14.4, 6, unit.Voltage(math.Abs(x)), Celsius(25))
			refused(t, err, x)
		}
	}
	for _, x := range []float64{-40.001, 60.001, 25 - 273.15} {
		_, _, err := CompensatedVoltage(14.4, 6, -0.003, Celsius(x))
		refused(t, err, x)
	}
	for _, n := range []int{0, -1, 1001, math.MinInt32} {
		_, _, err := CompensatedVoltage(14.4, n, -0.003, Celsius(25))
		refused(t, err, n)
	}
	for _, m := range []unit.Voltage{-0.0101, 1e-9, -3} {
		_, _, err := CompensatedVoltage(14.4, 6, m, Celsius(25))
		refused(t, err, m)
	}
	for _, v := range []unit.Voltage{0.49, 1501} {
		_, _, err := CompensatedVoltage(v, 6, -0.003, Celsius(25))
		refused(t, err, v)
	}
}

// The bank's voltages are bracketed by those at each coefficient, and fall as
// it warms.
func TestChargeVoltages(t *testing.T) {
	for c := Flooded; c.Valid(); c++ {
		b := Bank{Block: golf, Series: 2, Parallel: 3}
		b.Block.Chemistry, b.Block.Voltage = c, 6*c.CellVoltage()
		s := must[SetPoints](t)(c.SetPoints())
		last := ChargeVoltages{}
		for celsius := -30.0; celsius <= 55; celsius += 5 {
			v := must[ChargeVoltages](t)(b.ChargeVoltages(Celsius(celsius)))
			assert.Equal(t, c.LeadAcid() && (celsius < 0 || celsius > 40), v.Clamped)
			assert.True(t, v.Absorption.Valid() && v.Float.Valid() && v.Equalise.Valid())
			if celsius > -30 {
				assert.LessOrEqual(t, float64(v.Absorption.Low), float64(last.Absorption.Low))
				assert.LessOrEqual(t, float64(v.Float.High), float64(last.Float.High))
			}
			if celsius == 25 || !c.LeadAcid() {
				assert.InDelta(t, 12*float64(s.Absorption.Low), float64(v.Absorption.Low), 1e-9)
				assert.InDelta(t, 12*float64(s.Absorption.High), float64(v.Absorption.High), 1e-9)
				assert.InDelta(t, 12*float64(s.Equalise.High), float64(v.Equalise.High), 1e-9)
			}
			last = v
		}
	}
	b := Bank{Block: golf, Series: 2, Parallel: 3}
	b.Block.Chemistry = AGM
	// Each end goes with the coefficient that widens the range.
	for celsius, want := range map[float64]Range[unit.Voltage]{
		5:  {Low: 6 * (2.40 + 0.003*20), High: 6 * (2.45 + 0.005*20)},
		40: {Low: 6 * (2.40 - 0.005*15), High: 6 * (2.45 - 0.003*15)},
	} {
		v := must[ChargeVoltages](t)(b.ChargeVoltages(Celsius(celsius)))
		assert.InDelta(t, float64(want.Low), float64(v.Absorption.Low), 1e-9)
		assert.InDelta(t, float64(want.High), float64(v.Absorption.High), 1e-9)
		assert.Zero(t, v.Equalise)
	}
	for _, x := range junk {
		_, err := b.ChargeVoltages(unit.Temperature(x))
		refused(t, err, x)
	}
	_, err := Bank{}.ChargeVoltages(Celsius(25))
	refused(t, err)
}
