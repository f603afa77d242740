package conductor

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func sqrt(x float64) float64 { return math.Sqrt(x) }

// sqrtRise is by how much ampacity grows with the rating, at 30 °C.
func sqrtRise(from, to float64) float64 { return math.Sqrt((to - 30) / (from - 30)) }

// butAmpacity is an error that is not the answer of a hot ambient.
func butAmpacity(err error) error {
	if errors.Is(err, ErrNoAmpacity) {
		return nil
	}
	return err
}

// second drops a result.
func second[T any](_ T, err error) error { return err }

func TestIECAmbientFactor(t *testing.T) {
	rows := reftest.Rows(t, "conductor/iec_60364_5_52_ambient.csv")
	require.Len(t, rows, len(ambientPVC)+len(ambientXLPE))
	at := map[IECInsulation]float64{PVC70: 70, XLPE90: 90}
	for _, row := range rows {
		n, ambient := iecInsulations[row.Text("insulation")], Celsius(row.Float("ambient_c"))
		f := must[float64](t)(IECAmbientFactor(n, ambient))
		law := must[float64](t)(AmbientLaw(Celsius(at[n]), Celsius(30), ambient))
		row.Printed("factor", f)
		row.Printed("law", law)
		assert.InDelta(t, law, f, 0.007, row.Source())
	}
}

// Between the points the hotter one holds, and the first holds below.
func TestIECAmbientBetween(t *testing.T) {
	for _, c := range []struct {
		insulation IECInsulation
		at, want   float64
	}{
		{PVC70, -60, 1.22},
		{PVC70, 9.9, 1.22},
		{PVC70, 10, 1.22},
		{PVC70, 10.1, 1.17},
		{PVC70, 30, 1},
		{PVC70, 30.1, 0.94},
		{PVC70, 60, 0.50},
		{XLPE90, 75.1, 0.41},
		{XLPE90, 80, 0.41},
		{XLPE90, 32, 0.96},
	} {
		assert.InDelta(t, c.want, must[float64](t)(IECAmbientFactor(c.insulation, Celsius(c.at))), 0, "%v at %v", c.insulation, c.at)
	}
	for _, n := range []IECInsulation{PVC70, XLPE90} {
		for c := -60.0; c <= 300; c += 0.5 {
			f, err := IECAmbientFactor(n, Celsius(c))
			if err != nil {
				require.ErrorIs(t, err, ErrNoAmpacity)
				assert.Greater(t, c, map[IECInsulation]float64{PVC70: 60, XLPE90: 80}[n])
				continue
			}
			law := must[float64](t)(AmbientLaw(Celsius(map[IECInsulation]float64{PVC70: 70, XLPE90: 90}[n]), Celsius(30), Celsius(c)))
			assert.LessOrEqual(t, f, law+0.007, "%v at %v", n, c)
		}
	}
	bounds(t, "temperature", minTemperature, maxTemperature, func(x float64) error {
		return butAmpacity(second(IECAmbientFactor(PVC70, unit.Temperature(x))))
	})
	refused(t, second(IECAmbientFactor(0, Celsius(30))), "insulation 0")
}

func TestAmbientLaw(t *testing.T) {
	one := func(tc, a1, a2 float64) float64 {
		return must[float64](t)(AmbientLaw(Celsius(tc), Celsius(a1), Celsius(a2)))
	}
	assert.InDelta(t, 1, one(75, 30, 30), 0)
	assert.InDelta(t, 0.909, one(75, 30, 37.8), 0.0005, "figure of the doc comment")
	assert.InDelta(t, 0.5, one(90, 30, 75), 1e-12)
	assert.InDelta(t, one(90, 30, 50)*one(90, 50, 70), one(90, 30, 70), 1e-12, "one base after the other")
	assert.InDelta(t, 1, one(90, 30, 50)*one(90, 50, 30), 1e-12, "there and back")

	// On the bounds themselves.
	hottest, coldest := unit.Temperature(maxTemperature), unit.Temperature(minTemperature)
	assert.InDelta(t, 1, must[float64](t)(AmbientLaw(hottest, coldest, coldest)), 1e-12)
	assert.InDelta(t, 1, must[float64](t)(AmbientLaw(hottest, hottest-5, hottest-5)), 1e-12)
	require.ErrorIs(t, second(AmbientLaw(hottest, coldest, hottest)), ErrNoAmpacity)

	require.ErrorIs(t, second(AmbientLaw(Celsius(75), Celsius(30), Celsius(75))), ErrNoAmpacity)
	require.ErrorIs(t, second(AmbientLaw(Celsius(75), Celsius(30), Celsius(90))), ErrNoAmpacity)
	require.ErrorIs(t, second(AmbientLaw(Celsius(75), Celsius(30), Celsius(74.991))), ErrNoAmpacity)
	require.NoError(t, second(AmbientLaw(Celsius(75), Celsius(30), Celsius(74.989))))
	assert.ErrorContains(t, second(AmbientLaw(Celsius(75), Celsius(30), Celsius(90))), "insulation of 75 °C at 90 °C")
	bounds(t, "temperature", minTemperature, maxTemperature, func(x float64) error {
		return butAmpacity(second(AmbientLaw(Celsius(75), Celsius(30), unit.Temperature(x))))
	})
	bounds(t, "base temperature", minTemperature, float64(Celsius(70)), func(x float64) error {
		return second(AmbientLaw(Celsius(75), unit.Temperature(x), Celsius(30)))
	})
	bounds(t, "temperature", float64(Celsius(35)), maxTemperature, func(x float64) error {
		return second(AmbientLaw(unit.Temperature(x), Celsius(30), Celsius(30)))
	})
}
