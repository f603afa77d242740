package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestMaterialConstants(t *testing.T) {
	k := func(m Metal, at float64) float64 {
		return float64(must[Resistivity](t)(m.Resistivity(Celsius(at))) / OhmCircularMilPerFoot)
	}
	table8K := func(s Stranding, m Metal) float64 {
		row := must[Table8Row](t)(Table8(AWG(12), s))
		r := must[ResistancePerLength](t)(row.Resistance(m, false, Celsius(75)))
		return float64(r/OhmPerFoot) * float64(row.Area/CircularMil)
	}
	for _, row := range reftest.Rows(t, "conductor/material_constants.csv") {
		at := 0.0
		if row.Has("at_c") {
			at = row.Float("at_c")
		}
		switch row.Text("constant") {
		case "copper_k":
			row.Printed("expected", k(Copper, at))
		case "aluminium_k":
			row.Printed("expected", k(Aluminium, at))
		case "copper_rho":
			row.Printed("expected", float64(must[Resistivity](t)(Copper.Resistivity(Celsius(at)))/OhmSquareMillimetrePerMetre))
		case "aluminium_rho":
			row.Digits("expected", float64(must[Resistivity](t)(Aluminium.Resistivity(Celsius(at)))/OhmSquareMillimetrePerMetre),
				1.1, "IEC 60889 rounds 0.028265 down, whose last figure is 5")
		case "copper_alpha":
			row.Printed("expected", must[float64](t)(Copper.TemperatureCoefficient(Celsius(at))))
		case "aluminium_alpha":
			row.Printed("expected", must[float64](t)(Aluminium.TemperatureCoefficient(Celsius(at))))
		case "copper_zero", "copper_zero_rounded":
			row.Printed("expected", InCelsius(must[unit.Temperature](t)(Copper.ZeroResistance())))
		case "aluminium_zero":
			row.Printed("expected", InCelsius(must[unit.Temperature](t)(Aluminium.ZeroResistance())))
		case "aluminium_zero_faa":
			row.Rejects("expected", InCelsius(must[unit.Temperature](t)(Aluminium.ZeroResistance())), 0.03)
		case "copper_kt":
			row.Digits("expected", must[float64](t)(Copper.ResistanceRatio(Celsius(at), Celsius(20))), 1.5,
				"the standard computes the factors of all metals with 0.004/K")
		case "table8_k_copper_stranded_12":
			row.Printed("expected", table8K(Stranded, Copper))
		case "table8_k_copper_solid_12":
			row.Printed("expected", table8K(Solid, Copper))
		case "table8_k_aluminium_stranded_12":
			row.Printed("expected", table8K(Stranded, Aluminium))
		case "copper_heat_capacity", "aluminium_heat_capacity":
			m := Copper
			if row.Text("constant") == "aluminium_heat_capacity" {
				m = Aluminium
			}
			// J/K of a metre of 1 mm² is J/K of a cm³.
			row.Printed("expected", float64(must[HeatCapacityPerLength](t)(m.HeatCapacity(SquareMillimetre))))
		case "steel_root_c":
			row.Printed("expected", math.Sqrt(SteelHeating().Constant)/1e6)
		case "copper_root_c":
			row.Printed("expected", math.Sqrt(must[HeatingLaw](t)(Copper.HeatingIEC()).Constant)/1e6)
		case "aluminium_root_c":
			row.Printed("expected", math.Sqrt(must[HeatingLaw](t)(Aluminium.HeatingIEC()).Constant)/1e6)
		case "copper_melting":
			row.Printed("expected", InCelsius(meltingCopper))
		default:
			t.Errorf("%s: unknown constant", row.Source())
		}
	}
}

// The coefficient at any base makes the same line.
func TestTemperatureCoefficientAndRatioAgree(t *testing.T) {
	for _, m := range []Metal{Copper, Aluminium} {
		zero := must[unit.Temperature](t)(m.ZeroResistance())
		for from := -60.0; from <= 300; from += 30 {
			alpha := must[float64](t)(m.TemperatureCoefficient(Celsius(from)))
			for to := -60.0; to <= 300; to += 45 {
				ratio := must[float64](t)(m.ResistanceRatio(Celsius(from), Celsius(to)))
				assert.InEpsilon(t, 1+alpha*(to-from), ratio, 1e-12)
				assert.InEpsilon(t, float64(Celsius(to)-zero)/float64(Celsius(from)-zero), ratio, 1e-12)
				back := must[float64](t)(m.ResistanceRatio(Celsius(to), Celsius(from)))
				assert.InEpsilon(t, 1, ratio*back, 1e-12)
				rho := must[Resistivity](t)(m.Resistivity(Celsius(to))) / must[Resistivity](t)(m.Resistivity(Celsius(from)))
				assert.InEpsilon(t, float64(rho), ratio, 1e-12)
			}
		}
	}
}

// From 20 to 75 °C with the coefficient of 75 °C is the common error.
func TestRatioIsNotTheCommonError(t *testing.T) {
	ratio := must[float64](t)(Copper.ResistanceRatio(Celsius(20), Celsius(75)))
	assert.InDelta(t, 1.216, ratio, 0.0005)
	assert.Greater(t, ratio, 1.178*1.03)
}

func TestMetalRefuses(t *testing.T) {
	for _, m := range []Metal{0, 3, 255} {
		_, err := m.Resistivity(Celsius(20))
		refused(t, err, "want copper or aluminium")
		_, err = m.TemperatureCoefficient(Celsius(20))
		refused(t, err, "metal")
		_, err = m.ResistanceRatio(Celsius(20), Celsius(75))
		refused(t, err, "metal")
		_, err = m.ZeroResistance()
		refused(t, err, "metal")
		assert.Equal(t, "no metal", m.String())
	}
	assert.Equal(t, "copper", Copper.String())
	assert.Equal(t, "aluminium", Aluminium.String())
	for _, call := range []func(float64) error{
		func(x float64) error { _, err := Copper.Resistivity(unit.Temperature(x)); return err },
		func(x float64) error { _, err := Copper.TemperatureCoefficient(unit.Temperature(x)); return err },
		func(x float64) error { _, err := Copper.ResistanceRatio(unit.Temperature(x), Celsius(20)); return err },
		func(x float64) error { _, err := Copper.ResistanceRatio(Celsius(20), unit.Temperature(x)); return err },
	} {
		bounds(t, "temperature", minTemperature, maxTemperature, call)
	}
	// A bare 75 is 75 K, which no conductor of a house ever has.
	_, err := Copper.Resistivity(75)
	require.ErrorContains(t, err, "temperature -198.15 °C (75 K), want -60 °C to 300 °C")
}
