package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

var rated10 = RatedCurrent{50, Celsius(75), Celsius(30)} // 10 AWG in free air

// At the rated current stands the rated temperature, in the estimate and in the
// model made from it.
func TestRatedCurrent(t *testing.T) {
	for _, w := range []Wire{{AWG(10), Copper, Stranded, false}, {AWG(10), Aluminium, Solid, false}, {AWG(-3), Copper, Flexible, true}} {
		m := must[ThermalModel](t)(rated10.Model(w))
		assert.InDelta(t, 75, InCelsius(must[unit.Temperature](t)(m.Steady(50))), 1e-9)
		assert.InDelta(t, 75, InCelsius(must[unit.Temperature](t)(rated10.Temperature(50, Celsius(30)))), 1e-12)
	}
}

// A resistance held at its hot value makes the estimate high below the rated
// current and low above it.
func TestRatedEstimateBesideModel(t *testing.T) {
	m := must[ThermalModel](t)(rated10.Model(Wire{AWG(10), Copper, Stranded, false}))
	for _, i := range []unit.Current{10, 25, 49} {
		assert.Greater(t, must[unit.Temperature](t)(rated10.Temperature(i, Celsius(30))), must[unit.Temperature](t)(m.Steady(i)))
	}
	for _, i := range []unit.Current{51, 75, 100} {
		assert.Less(t, must[unit.Temperature](t)(rated10.Temperature(i, Celsius(30))), must[unit.Temperature](t)(m.Steady(i)))
	}
}

func TestRatedCurrentRefused(t *testing.T) {
	bounds(t, "current", 0, 150, func(x float64) error {
		_, err := rated10.Temperature(unit.Current(x), Celsius(30))
		return err
	})
	bounds(t, "ambient temperature", minTemperature, maxTemperature, func(x float64) error {
		_, err := rated10.Temperature(10, unit.Temperature(x))
		return err
	})
	bounds(t, "rated current", 1e-3, maxCurrent, func(x float64) error {
		_, err := RatedCurrent{unit.Current(x), Celsius(75), Celsius(30)}.Loss(0.01)
		return err
	})
	bounds(t, "resistance", minPerLength, maxPerLength, func(x float64) error {
		_, err := rated10.Loss(ResistancePerLength(x))
		return err
	})
	_, err := RatedCurrent{50, Celsius(30), Celsius(30)}.Loss(0.01)
	refused(t, err, "above that of the surroundings")
	_, err = RatedCurrent{50, 75, 30}.Loss(0.01) // kelvin forgotten
	refused(t, err, "conductor temperature")
	_, err = RatedCurrent{}.Model(Wire{})
	refused(t, err, "rated current")
	require.ErrorContains(t, err, "size")
	_, err = rated10.Model(Wire{KCMilSize(2500), Copper, Stranded, false})
	require.NoError(t, err)
	_, err = RatedCurrent{unit.Current(math.NaN()), Celsius(75), Celsius(30)}.Temperature(1, Celsius(30))
	refused(t, err, "rated current")
}
