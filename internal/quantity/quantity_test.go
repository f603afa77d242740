package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

func TestMain(m *testing.M) { reftest.Main(m) }

// units are the factors to SI by the names of the CSVs.
var units = map[string]float64{
	"in": float64(Inch), "ft": float64(Foot), "mil": float64(Mil), "kft": float64(1000 * Foot),
	"in2": float64(Inch * Inch), "in3": float64(Inch * Inch * Inch), "ft3": float64(Foot * Foot * Foot),
	"circular mil": float64(CircularMil), "kcmil": float64(KCMil), "mm2": float64(SquareMillimetre),
	"psi": float64(PSI), "bar": float64(Bar), "kPa": float64(Kilopascal), "atm": float64(Atmosphere),
	"hp": float64(Horsepower), "metric hp": float64(MetricHorsepower), "kW": float64(Kilowatt),
	"US gal": float64(USGallon), "imperial gal": float64(ImperialGallon), "L": float64(Litre),
	"min": float64(Minute), "h": float64(Hour), "d": float64(Day),
	"Ah": float64(AmpereHour), "Wh": float64(WattHour), "kWh": float64(KilowattHour),
	"lb ft2": float64(PoundSquareFoot), "rpm": float64(RPM), "lbf ft": float64(FootPound),
	"m": 1, "mm": 1e-3, "m3": 1, "Pa": 1, "W": 1, "C": 1, "J": 1, "MJ": 1e6,
}

func factor(t *testing.T, name string) float64 {
	t.Helper()
	x, ok := units[name]
	require.True(t, ok, name)
	return x
}

func TestUnits(t *testing.T) {
	for _, row := range reftest.Rows(t, "quantity/units.csv") {
		got := factor(t, row.Text("unit"))
		switch {
		case row.Has("negative"):
			row.Rejects("factor", got, 1e-4)
		case row.Has("exact"):
			row.Within("factor", got, 0, "the factor is exact")
		default:
			row.Printed("factor", got)
		}
	}
}

func TestConversions(t *testing.T) {
	for _, row := range reftest.Rows(t, "quantity/conversions.csv") {
		row.Printed("factor", factor(t, row.Text("from"))/factor(t, row.Text("to")))
	}
}

func TestTemperatures(t *testing.T) {
	for _, row := range reftest.Rows(t, "quantity/temperatures.csv") {
		if row.Has("fahrenheit") {
			row.Within("celsius", InCelsius(Fahrenheit(row.Float("fahrenheit"))), 1e-12, "the scales are exact")
			assert.InDelta(t, row.Float("fahrenheit"), InFahrenheit(Celsius(row.Float("celsius"))), 1e-12)
		}
		if row.Has("kelvin") {
			row.Printed("kelvin", float64(Celsius(row.Float("celsius"))))
		}
	}
}

func TestTemperaturesReadBack(t *testing.T) {
	for c := -273.15; c < 300; c += 7.3 {
		assert.InDelta(t, c, InCelsius(Celsius(c)), 1e-12)
		assert.InDelta(t, c, InFahrenheit(Fahrenheit(c)), 1e-12)
	}
	assert.InDelta(t, float64(Celsius(-40)), float64(Fahrenheit(-40)), 1e-12, "where the scales cross")
	assert.True(t, math.IsNaN(InCelsius(Fahrenheit(math.NaN()))))
}

// The definitions hang together: what two of them say of a third agrees.
func TestUnitsAgree(t *testing.T) {
	mil := float64(Mil)
	assert.InEpsilon(t, math.Pi/4*mil*mil, float64(CircularMil), 1e-15)
	assert.InEpsilon(t, 1000*float64(CircularMil), float64(KCMil), 1e-15)
	assert.InEpsilon(t, 550*float64(Foot)*4.4482216152605, float64(Horsepower), 1e-14, "550 ft·lbf/s, the pound-force printed whole")
	assert.InEpsilon(t, float64(Kilowatt)*float64(Hour), float64(KilowattHour), 1e-15)
	assert.InEpsilon(t, math.Pi/30, float64(RPM), 1e-15)
	assert.InEpsilon(t, 550*float64(FootPound), float64(Horsepower), 1e-15)
	assert.InEpsilon(t, 5252.113, float64(Horsepower)/float64(FootPound)/float64(RPM), 1e-7, "lb·ft times rpm of a horsepower")
	weight := float64(PoundSquareFoot/KilogramSquareMetre) * 9.80665
	assert.InEpsilon(t, weight/float64(Foot), float64(FootPound), 1e-14, "a pound's weight at a foot")
	assert.InEpsilon(t, 24*60*float64(Minute), float64(Day), 0)
}
