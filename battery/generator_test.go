package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/quantity"
	"ridethrough.example/internal/reftest"
)

// smallSet is a 7 kW set.
var smallSet = Generator{
	Rated: 7000, NoLoad: 0.25 * USGallonPerHour, Load: 3500, AtLoad: 0.625 * USGallonPerHour,
}

func TestChargingGenerator(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/charging_generator.csv") {
		t.Run(row.Text("id"), func(t *testing.T) {
			row := row.With(t)
			fuel := func() (Generator, unit.Power, FlowRate) {
				g := Generator{
					Rated:  7000,
					NoLoad: FlowRate(row.Param("F0", "gal/h")) * USGallonPerHour, AtLoad: FlowRate(row.Param("F1", "gal/h")) * USGallonPerHour,
					Load: unit.Power(row.Param("P1", "W")),
				}
				p := unit.Power(row.Param("P", "W"))
				return g, p, must[FlowRate](t)(g.Fuel(p))
			}
			bulk := func() unit.Time {
				return must[unit.Time](t)(BulkTime(unit.Charge(row.Param("Q", "Ah"))*AmpereHour, rowCurrent(row), row.Param("eta", "")))
			}
			switch row.Text("kind") {
			case "input":
				p := must[unit.Power](t)(ChargerInput(unit.Voltage(row.Param("V", "V")), rowCurrent(row), row.Param("eta", "")))
				row.Expected(float64(p))
			case "bulk":
				row.Expected(hours(bulk()))
			case "day share":
				row.Expected(float64(bulk() / Day))
			case "fuel":
				_, _, f := fuel()
				row.Expected(float64(f / USGallonPerHour))
			case "output per gallon":
				_, p, f := fuel()
				row.Expected(float64(p) / 1000 / float64(f/USGallonPerHour))
			case "fuel of a day":
				g, p, _ := fuel()
				run := must[GeneratorRun](t)(g.Run(Range[unit.Time]{Low: 0, High: Day}, p-500, 500))
				assert.Zero(t, run.Fuel.Low)
				row.Expected(float64(run.Fuel.High / unit.Volume(quantity.USGallon)))
			default:
				t.Fatalf("kind %q", row.Text("kind"))
			}
		})
	}
}

func TestGeneratorBounds(t *testing.T) {
	for name, change := range map[string]func(g *Generator, x float64){
		"rated": func(g *Generator, x float64) { g.Rated = unit.Power(x) },
		"none":  func(g *Generator, x float64) { g.NoLoad = FlowRate(x) },
		"load":  func(g *Generator, x float64) { g.Load = unit.Power(x) },
		"fuel":  func(g *Generator, x float64) { g.AtLoad = FlowRate(x) },
	} {
		for _, x := range junk {
			if name == "none" && x == 1e-3 {
				continue
			}
			g := smallSet
			change(&g, x)
			_, err := g.Fuel(100)
			if name == "fuel" && x == 1e-3 {
				require.NoError(t, err) // 951 gal/h, if one had such a set
				continue
			}
			refused(t, err, "%s %v", name, x)
		}
	}
	for _, p := range []float64{-1, 7001, math.NaN(), math.Inf(1)} {
		_, err := smallSet.Fuel(unit.Power(p))
		refused(t, err, p)
	}
	full := must[FlowRate](t)(smallSet.Fuel(7000))
	assert.InDelta(t, 1, float64(full/USGallonPerHour), 1e-12)
	none := must[FlowRate](t)(smallSet.Fuel(0))
	assert.InDelta(t, 0.25, float64(none/USGallonPerHour), 1e-12)
	day := Range[unit.Time]{Low: Hour, High: 2 * Hour}
	_, err := smallSet.Run(day, 5000, 2001)
	refused(t, err)
	for _, x := range []float64{-1, math.NaN(), math.Inf(1)} {
		_, err = smallSet.Run(day, unit.Power(x), 0)
		refused(t, err, x)
		_, err = smallSet.Run(day, 0, unit.Power(x))
		refused(t, err, x)
		_, err = smallSet.Run(Range[unit.Time]{Low: 0, High: unit.Time(x)}, 0, 0)
		refused(t, err, x)
	}
	_, err = smallSet.Run(Range[unit.Time]{Low: 2, High: 1}, 0, 0)
	refused(t, err)
	_, err = Generator{}.Fuel(0)
	refused(t, err)
}

func TestChargeInputBounds(t *testing.T) {
	for _, x := range junk {
		_, err := ChargerInput(unit.Voltage(x), 10, 0.9)
		refused(t, err, x)
		if x != 1e-3 {
			_, err = ChargerInput(12, unit.Current(x), 0.9)
			refused(t, err, x)
		}
		_, err = ChargerInput(12, 10, x)
		refused(t, err, x)
		_, err = RechargeEnergy(unit.Charge(x), 12, 0.9, 0.9)
		refused(t, err, x)
		_, err = RechargeEnergy(100*AmpereHour, unit.Voltage(x), 0.9, 0.9)
		refused(t, err, x)
		_, err = RechargeEnergy(100*AmpereHour, 12, x, 0.9)
		refused(t, err, x)
		_, err = RechargeEnergy(100*AmpereHour, 12, 0.9, x)
		refused(t, err, x)
		_, err = CycleEfficiency(x, 13.8, 12.2)
		refused(t, err, x)
		_, err = CycleEfficiency(0.9, unit.Voltage(x), 12.2)
		refused(t, err, x)
		_, err = CycleEfficiency(0.9, 13.8, unit.Voltage(x))
		refused(t, err, x)
	}
	_, err := CycleEfficiency(0.9, 12, 12.001)
	refused(t, err)
	for _, eta := range []float64{0.2999, 1.0001} {
		_, err = ChargerInput(12, 10, eta)
		refused(t, err)
	}
	for _, v := range []unit.Voltage{0.4999, 1500.1} {
		_, err = ChargerInput(v, 10, 0.9)
		refused(t, err)
	}
}

// Fuel is a straight line through both of its points.
func FuzzGeneratorFuel(f *testing.F) {
	f.Add(7000.0, 0.25, 3500.0, 0.625, 1000.0)
	f.Fuzz(func(t *testing.T, rated, none, load, at, p float64) {
		g := Generator{
			Rated: unit.Power(rated), NoLoad: FlowRate(none) * USGallonPerHour,
			Load: unit.Power(load), AtLoad: FlowRate(at) * USGallonPerHour,
		}
		x, err := g.Fuel(unit.Power(p))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		y := must[FlowRate](t)(g.Fuel(g.Load))
		require.InEpsilon(t, float64(g.AtLoad), float64(y), 1e-9)
		require.InEpsilon(t, float64(g.NoLoad), float64(must[FlowRate](t)(g.Fuel(0))), 1e-12)
		half := must[FlowRate](t)(g.Fuel(unit.Power(p / 2)))
		require.InEpsilon(t, float64(g.NoLoad+x)/2, float64(half), 1e-9)
	})
}
