package battery

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// TestTradeChart reproduces the 130 voltages of the trade chart from ten
// points and one function of temperature.
func TestTradeChart(t *testing.T) {
	rows := reftest.Rows(t, "battery/rest_voltage_temperature.csv")
	require.Len(t, rows, 65)
	for _, row := range rows {
		at, soc := Fahrenheit(row.Float("temp_f")), row.Float("soc_pct")/100
		for _, x := range []struct {
			column string
			chart  *chart
			c      Chemistry
		}{{"flooded_v", &tradeWet, Flooded}, {"gel_v", &tradeGel, Gel}} {
			shift, err := x.c.shift(at)
			require.NoError(t, err)
			row.Printed(x.column, 6*(x.chart.volts(soc)+shift))
			inBands(t, row, x.c, row.Float(x.column)/6, soc, at)
		}
	}
}

// inBands asserts that both bands hold a chart's point.
func inBands(t *testing.T, row reftest.Row, c Chemistry, cell, soc float64, at unit.Temperature) {
	t.Helper()
	const slack = 1e-9
	v, err := OpenCircuit(c, soc, at)
	require.NoError(t, err)
	assert.True(t, cell >= float64(v.Low)-slack && cell <= float64(v.High)+slack, "%s: %v outside %v", row.Source(), cell, v)
	s, err := StateOfCharge(c, unit.Voltage(cell), at)
	if flat := (*FlatError)(nil); errors.As(err, &flat) {
		s, err = flat.Band, nil
	}
	require.NoError(t, err)
	assert.True(t, soc >= s.Low-slack && soc <= s.High+slack, "%s: %v outside %v", row.Source(), soc, s)
}

func TestRestVoltageCharts(t *testing.T) {
	byName := map[string]*chart{}
	for _, group := range charts {
		for _, c := range group {
			byName[c.name] = c
		}
	}
	for _, row := range reftest.Rows(t, "battery/rest_voltage_charts.csv") {
		chart := byName[row.Text("chart")]
		require.NotNil(t, chart, row.Source())
		soc := row.Float("soc_pct") / 100
		if row.Has("note") {
			row.Rejects("block_v", 6*chart.volts(soc), 0.03)
			continue
		}
		row.Printed("block_v", 6*chart.volts(soc))
		c := must[Chemistry](t)(ParseChemistry(row.Text("chemistry")))
		inBands(t, row, c, row.Float("block_v")/6, soc, Fahrenheit(80))
	}
}

func TestRestVoltageLithium(t *testing.T) {
	byName := map[string]*chart{}
	for _, c := range charts[LithiumIronPhosphate] {
		byName[c.name] = c
	}
	for _, row := range reftest.Rows(t, "battery/rest_voltage_lithium.csv") {
		chart := byName[row.Text("chart")]
		require.NotNil(t, chart, row.Source())
		cells, soc := row.Float("cells"), row.Float("soc_pct")/100
		if row.Has("note") {
			v := must[Range[unit.Voltage]](t)(OpenCircuit(LithiumIronPhosphate, soc, Celsius(25)))
			row.Rejects("volts", cells*float64(v.High), 0.005)
			continue
		}
		row.Printed("volts", cells*chart.volts(soc))
		inBands(t, row, LithiumIronPhosphate, row.Float("volts")/cells, soc, Celsius(25))
	}
}

// Laws of every chart: it rises, and reads back what it gives.
func TestChartLaws(t *testing.T) {
	for _, group := range charts {
		for _, c := range group {
			last := 0.0
			for soc := 0.0; soc <= 1; soc += 0.005 {
				v := c.volts(soc)
				require.Greater(t, v, last, "%s at %v", c.name, soc)
				require.InDelta(t, soc, c.soc(v), 1e-9, "%s at %v", c.name, soc)
				last = v
			}
			assert.InDelta(t, 0, c.soc(0.5), 0)
			assert.InDelta(t, 1, c.soc(5), 1e-15)
		}
	}
}

func TestStateOfChargeDisagreement(t *testing.T) {
	s := must[Range[float64]](t)(StateOfCharge(Flooded, 12.06/6, Fahrenheit(80)))
	assert.InDelta(t, 0.10, s.Low, 1e-9) // the magazine's line run on
	assert.InDelta(t, 0.50, s.High, 1e-9)
	s = must[Range[float64]](t)(StateOfCharge(Flooded, 12.8/6, Fahrenheit(80)))
	assert.Equal(t, Range[float64]{Low: 1, High: 1}, s)
	s = must[Range[float64]](t)(StateOfCharge(Flooded, 10.5/6, Fahrenheit(80)))
	assert.Equal(t, Range[float64]{}, s)
}

func TestStateOfChargeFlat(t *testing.T) {
	var flat *FlatError
	for _, v := range []unit.Voltage{3.24, 3.25, 3.30, 3.34} {
		_, err := StateOfCharge(LithiumIronPhosphate, v, Celsius(25))
		require.ErrorAs(t, err, &flat, "%v", v)
		require.NotErrorIs(t, err, ErrDomain)
		assert.Equal(t, Range[float64]{Low: 0.2, High: 0.98}, flat.Band, "%v", v)
		assert.Equal(t, "battery: rest voltage of lithium iron phosphate says only that the charge is between 20 and 98 %", err.Error())
	}
	// The shoulders: still refused, with the charts' own band.
	_, err := StateOfCharge(LithiumIronPhosphate, 3.20, Celsius(25))
	require.ErrorAs(t, err, &flat)
	assert.InDelta(t, 0.10, flat.Band.Low, 0.01)
	assert.InDelta(t, 0.30, flat.Band.High, 0.01)
	_, err = StateOfCharge(LithiumIronPhosphate, 3.36, Celsius(25))
	require.ErrorAs(t, err, &flat)
	assert.Greater(t, flat.Band.Low, 0.9)
	// The ends are answered.
	s := must[Range[float64]](t)(StateOfCharge(LithiumIronPhosphate, 3.0, Celsius(25)))
	assert.LessOrEqual(t, s.High, 0.2)
	s = must[Range[float64]](t)(StateOfCharge(LithiumIronPhosphate, 3.5, Celsius(25)))
	assert.GreaterOrEqual(t, s.Low, 0.98)
}

func TestOCVBounds(t *testing.T) {
	for _, f := range []float64{-0.2, 120.2, math.NaN(), math.Inf(1)} {
		_, err := OpenCircuit(Flooded, 0.5, Fahrenheit(f))
		refused(t, err, "%v", f)
		_, err = StateOfCharge(LithiumIronPhosphate, 3.3, Fahrenheit(f))
		refused(t, err, "%v", f)
	}
	for f := 0.0; f <= 120; f += 10 {
		_, err := OpenCircuit(Flooded, 0.5, Fahrenheit(f))
		require.NoError(t, err, "%v", f)
	}
	// The ends as the chart's °C column prints them.
	for _, x := range []float64{-17.8, 48.9} {
		_, err := OpenCircuit(Flooded, 0.5, Celsius(x))
		require.NoError(t, err, "%v", x)
	}
	for _, s := range []float64{-0.01, 1.01, 50, math.NaN()} {
		_, err := OpenCircuit(Gel, s, Celsius(20))
		refused(t, err)
	}
	for _, v := range []unit.Voltage{12.6, 1.4, 2.6, 0, unit.Voltage(math.NaN()), unit.Voltage(math.Inf(-1))} {
		_, err := StateOfCharge(AGM, v, Celsius(20))
		refused(t, err, "%v", v)
	}
	for _, v := range []unit.Voltage{1.9, 3.8, 13.2} {
		_, err := StateOfCharge(LithiumIronPhosphate, v, Celsius(20))
		refused(t, err, "%v", v)
	}
	_, err := OpenCircuit(0, 0.5, Celsius(20))
	refused(t, err)
	_, err = StateOfCharge(9, 2, Celsius(20))
	refused(t, err)
}

func FuzzStateOfCharge(f *testing.F) {
	f.Add(byte(1), 2.05, 300.0)
	f.Add(byte(4), 3.3, 298.0)
	f.Fuzz(func(t *testing.T, c byte, v, kelvin float64) {
		at := unit.Temperature(kelvin)
		s, err := StateOfCharge(Chemistry(c), unit.Voltage(v), at)
		if flat := (*FlatError)(nil); errors.As(err, &flat) {
			require.True(t, flat.Band.Valid())
			return
		}
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, s.Valid() && s.Low >= 0 && s.High <= 1, "%v", s)
		// A higher voltage never says less charge.
		if up, err := StateOfCharge(Chemistry(c), unit.Voltage(v+0.005), at); err == nil {
			require.True(t, up.Low >= s.Low-1e-12 && up.High >= s.High-1e-12)
		}
	})
}
