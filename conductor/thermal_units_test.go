package conductor

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestHeatCapacity(t *testing.T) {
	metals := map[string]Metal{"copper": Copper, "aluminium": Aluminium}
	for _, row := range reftest.Rows(t, "conductor/heat_capacity.csv") {
		c := must[HeatCapacityPerLength](t)(metals[row.Text("metal")].HeatCapacity(SquareMillimetre))
		row.Printed("j_per_k_mm3", float64(c)/1000)
	}
	_, err := Metal(0).HeatCapacity(SquareMillimetre)
	refused(t, err, "metal")
	bounds(t, "area", minArea, maxArea, func(a float64) error {
		_, err := Copper.HeatCapacity(unit.Area(a))
		return err
	})
}

// The heat per kilogram that follows is that of the handbooks: 385 to 390
// J/(kg·K) for copper of 8890 kg/m³, 900 to 925 for aluminium of 2703.
func TestHeatCapacityByMass(t *testing.T) {
	c := must[HeatCapacityPerLength](t)(Copper.HeatCapacity(SquareMillimetre))
	assert.InDelta(t, 387, float64(c)*1e6/8890, 3)
	c = must[HeatCapacityPerLength](t)(Aluminium.HeatCapacity(SquareMillimetre))
	assert.InDelta(t, 912, float64(c)*1e6/2703, 14)
}

func TestThermalUnitsPrint(t *testing.T) {
	for want, got := range map[string]string{
		"0.305 K·m/W":    fmt.Sprintf("%.3f", CelsiusFootPerWatt),
		"5.0 K·m/W":      fmt.Sprintf("%.1f", PVCResistivity),
		"4.0 W/m":        fmt.Sprintf("%.1f", 4*WattPerMetre),
		"0.21 W/(K·m)":   fmt.Sprintf("%.2f", 0.206*WattPerKelvinMetre),
		"7.18 J/(K·m)":   fmt.Sprintf("%.2f", 7.1849*JoulePerKelvinMetre),
		"  0.9 K·m/W":    fmt.Sprintf("%11.1f", SoilResistivity),
		"1 K·m/W":        fmt.Sprint(KelvinMetrePerWatt),
		"3.50e+00 K·m/W": fmt.Sprintf("%.2e", PolyethyleneResistivity),
	} {
		assert.Equal(t, want, got)
	}
}

// The law of a wire is the wire's resistance at every temperature.
func TestResistanceLaw(t *testing.T) {
	for _, m := range []Metal{Copper, Aluminium} {
		w := Wire{AWG(2), m, Stranded, false}
		for _, base := range []float64{-60, 20, 75, 300} {
			law := must[ResistanceLaw](t)(w.ResistanceLaw(Celsius(base)))
			for _, at := range []float64{-60, 0, 75, 150, 300} {
				want := must[ResistancePerLength](t)(w.Resistance(Celsius(at)))
				assert.InEpsilon(t, float64(want), float64(law.Resist(Celsius(at))), 1e-12)
			}
		}
	}
	_, err := Wire{}.ResistanceLaw(Celsius(75))
	refused(t, err, "size")
	_, err = solid(AWG(10)).ResistanceLaw(Celsius(301))
	refused(t, err, "temperature")
}

func TestResistanceLawCheck(t *testing.T) {
	good := ResistanceLaw{0.01, Celsius(75), 0.00323}
	require.NoError(t, good.check())
	bounds(t, "resistance", minPerLength, maxPerLength, func(x float64) error {
		l := good
		l.Resistance = ResistancePerLength(x)
		return l.check()
	})
	bounds(t, "temperature of the resistance", minTemperature, maxTemperature, func(x float64) error {
		l := good
		l.At, l.Coefficient = unit.Temperature(x), 0.001
		return l.check()
	})
	l := good
	for _, a := range []float64{-1e-9, 5e-324, 0.99e-6, 0.0065001, 0.39, math.NaN(), math.Inf(1)} {
		l.Coefficient = a
		refused(t, l.check(), "temperature coefficient")
	}
	for _, a := range []float64{0, 1e-6, 0.0064} {
		l.Coefficient = a
		require.NoError(t, l.check())
		require.True(t, l.ok())
	}
	l = ResistanceLaw{0.01, Celsius(300), 0.0028}
	refused(t, l.check(), "temperature coefficient")
	refused(t, ResistanceLaw{}.check(), "resistance")
}
