package tank

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestWaterProperties(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/water_properties.csv") {
		temp := Celsius(r.Float("temp_c"))
		if r.Float("temp_c") == 0 {
			temp = 273.16 // the table's own row, at the triple point
		}
		w, err := WaterAt(temp)
		require.NoError(t, err)
		mu, pv := 1e3*float64(w.Viscosity), 1e-3*float64(w.Vapour)
		nu := 1e6 * float64(w.Viscosity) / float64(w.Density)
		r.Within("density_kg_m3", float64(w.Density), 1e-5, "Kell's formula of 1975 against IAPWS-95")
		r.Within("viscosity_mpa_s", mu, 1e-5, "the density in it is Kell's")
		r.Within("kinematic_viscosity_mm2_s", nu, 2e-5, "the density in it is Kell's")
		r.Within("vapour_pressure_kpa_iapws95", pv, 8e-5, "IAPWS-IF97 against IAPWS-95")
		r.Within("vapour_pressure_kpa_if97", pv, 1e-7, "the table's digits")
		if r.Has("handbook_density_kg_m3") {
			r.Within("handbook_density_kg_m3", float64(w.Density), 1e-4, "the handbook rounds to 0.1 and 1 kg/m³")
			if r.Float("temp_c") == 0 {
				r.Rejects("handbook_viscosity_mpa_s", mu, 0.004)
				r.Rejects("handbook_kinematic_mm2_s", nu, 0.003)
			} else {
				r.Within("handbook_viscosity_mpa_s", mu, 0.002, "older measurements")
				r.Within("handbook_kinematic_mm2_s", nu, 0.002, "older measurements")
			}
			r.Within("handbook_vapour_pressure_kpa", pv, 0.004, "the handbook prints two decimals")
		}
		if r.Has("lsbu_viscosity_mpa_s") {
			r.Within("lsbu_viscosity_mpa_s", mu, 0.001, "older measurements")
			r.Within("lsbu_vapour_pressure_kpa", pv, 0.0012, "three decimals; its 0.611 is the triple point's")
		}
	}
}

func TestWaterChecks(t *testing.T) {
	at := func(r reftest.Row, name string) Water {
		w, err := WaterAt(Celsius(r.Param(name, "C")))
		require.NoError(t, err)
		return w
	}
	for _, r := range reftest.Rows(t, "tank/water_property_checks.csv") {
		switch r.Text("quantity") {
		case "vapour_pressure_if97":
			r.Expected(1e-3 * saturation(r.Param("t", "K")))
		case "viscosity":
			r.Expected(1e6 * waterViscosity(r.Param("t", "K"), r.Param("rho", "kg/m3")))
		case "ice_density_ratio":
			r.Within("expected", float64(at(r, "t").Density/IceDensity), 1e-5, "the densities have five digits")
		case "viscosity_correlation":
			mu := 1e3 * float64(at(r, "t").Viscosity)
			if r.Text("id") == "WP4" {
				r.Within("expected", mu, 5e-4, "the Vogel form is good to 0.04 % at 20 °C only")
			} else {
				r.Rejects("expected", mu, 4e-3)
			}
		case "head_loss_temperature_ratio":
			cold, warm := at(r, "cold"), at(r, "warm")
			ratio := float64(cold.Viscosity/warm.Viscosity) * float64(warm.Density/cold.Density)
			r.Within("expected", math.Pow(ratio, 0.25), 2e-4, "the source rounds the viscosities to four digits")
		default:
			t.Fatal(r.Source(), "not checked")
		}
	}
}

func TestVapourPressureUS(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/vapour_pressure_us.csv") {
		temp := Fahrenheit(r.Float("temp_f"))
		if r.Text("temp_f") == "32" {
			temp = 273.16 // the column if97 takes the triple point for it
		}
		w, err := WaterAt(temp)
		require.NoError(t, err)
		psi, rho := float64(w.Vapour/PSI), float64(w.Density/PoundPerCubicFoot)
		r.Within("pv_psi_if97", psi, 1e-6, "the column's digits")
		r.Within("pv_psi", psi, 3e-3, "older steam tables")
		r.Within("density_lb_ft3", rho, 6e-4, "older steam tables; its column is uneven from 110 °F")
		r.Within("pv_ft_abs", psi*144/rho, 4e-3, "older steam tables")
		if r.Has("misprint_psi") {
			r.Rejects("misprint_psi", psi, 0.4)
		}
	}
}

func TestWaterBounds(t *testing.T) {
	for _, x := range append([]float64{0, 20, 68, 273.1, 373.2}, notNumbers...) {
		_, err := WaterAt(unit.Temperature(x))
		refused(t, err, "water temperature")
	}
	w, err := WaterAt(Celsius(100))
	require.NoError(t, err)
	assert.InDelta(t, 101.418, 1e-3*float64(w.Vapour), 5e-4) // steam tables
	assert.InDelta(t, 958.35, float64(w.Density), 0.05)      // steam tables
	_, err = WaterAt(Celsius(0))
	require.NoError(t, err)
	assert.Equal(t, "998.2 kg/m^3", fmt.Sprintf("%.1f", Density(998.2)))
	assert.Equal(t, "0.0010 Pa s", fmt.Sprintf("%.4f", Centipoise))
	assert.InDelta(t, 62.43, float64(1000*KilogramPerCubicMetre/PoundPerCubicFoot), 0.005)
	assert.InDelta(t, 1000, float64(PascalSecond/Centipoise), 1e-9)
}

// Warmer water is thinner and boils more easily, and above 4 °C is lighter.
func FuzzWater(f *testing.F) {
	f.Add(0.0, 100.0)
	f.Add(20.0, 20.5)
	f.Add(math.NaN(), 4.0)
	f.Fuzz(func(t *testing.T, a, b float64) {
		if !(b-a > 1e-3) {
			a, b = b, a
		}
		cold, err := WaterAt(Celsius(a))
		finite(t, err, float64(cold.Density), float64(cold.Viscosity), float64(cold.Vapour))
		warm, err2 := WaterAt(Celsius(b))
		if err != nil || err2 != nil || !(b-a > 1e-3) {
			return
		}
		assert.Less(t, float64(warm.Viscosity), float64(cold.Viscosity))
		assert.Greater(t, float64(warm.Vapour), float64(cold.Vapour))
		if a > 4 {
			assert.Less(t, float64(warm.Density), float64(cold.Density))
		}
		assert.True(t, warm.flows())
	})
}
