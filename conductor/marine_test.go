package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// The charts beside the formula: 97 of the 108 marine cells that were taken down
// and 72 of the 77 engineering ones are the next size up, and the others are not.
func TestMarineDropCharts(t *testing.T) {
	fits, misfits := map[string]int{}, map[string]int{}
	counted := map[float64][3]string{}
	for _, row := range reftest.Rows(t, "conductor/marine_drop_chart.csv") {
		run := MarineRun{unit.Length(row.Float("out_and_back_ft")) * Foot, unit.Current(row.Float("current_a")), 0.36, MarineK}
		// Area and sizes follow from the product of current and length: where it
		// comes again they are the same figures, which count once.
		product := row.Float("out_and_back_ft") * row.Float("current_a")
		figures := [3]string{row.Text("required_cmil"), row.Text("next_awg_n"), row.Text("next_sae_n")}
		first, again := counted[product]
		counted[product] = figures
		once := row.Printed
		if again {
			assert.Equal(t, first, figures, row.Source())
			once = func(string, float64) {}
		}
		once("required_cmil", float64(must[unit.Area](t)(run.Area())/CircularMil))

		awg := must[Size](t)(run.SmallestAWG())
		once("next_awg_n", float64(awg.number))
		sae, err := run.SmallestSAE()
		if row.Has("next_sae_n") {
			require.NoError(t, err, row.Source())
			once("next_sae_n", float64(sae.number))
		} else {
			require.ErrorIs(t, err, ErrNoSize, row.Source())
			sae = KCMilSize(250)
		}

		chart := row.Text("chart")
		next := awg
		if chart == "marine" {
			next = sae
		}
		printed := "fits_n"
		if row.Has("fits_n") {
			fits[chart]++
			row.Printed("fits_n", float64(next.number))
		} else {
			misfits[chart]++
			printed = "misfit_n"
			row.Rejects("misfit_n", float64(next.number), 0)
			assert.NotEmpty(t, row.Text("flag"), row.Source())
		}

		size := AWG(int(row.Float(printed)))
		area := must[unit.Area](t)(nominalTable8(t, size))
		if chart == "marine" {
			area = must[unit.Area](t)(SAEArea(size))
		}
		row.Printed("drop_percent", 100*float64(must[unit.Voltage](t)(run.Drop(area)))/12)
	}
	assert.Equal(t, map[string]int{"marine": 97, "engineering": 72}, fits)
	assert.Equal(t, map[string]int{"marine": 11, "engineering": 5}, misfits)
}

// A chart is off by one size of its list at most.
func TestChartsAreWithinOneSize(t *testing.T) {
	place := func(n int32) int {
		for i, r := range boatCable {
			if r.size.number == n {
				return i
			}
		}
		return len(boatCable)
	}
	for _, row := range reftest.Rows(t, "conductor/marine_drop_chart.csv") {
		if !row.Has("misfit_n") {
			continue
		}
		next := len(boatCable)
		column := "next_awg_n"
		if row.Text("chart") == "marine" {
			column = "next_sae_n"
		}
		if row.Has(column) {
			next = place(int32(row.Float(column)))
		}
		got := place(int32(row.Float("misfit_n")))
		// 3 AWG stands between 4 and 2 and is in neither chart.
		assert.LessOrEqual(t, math.Abs(float64(next-got)), 2.0, row.Source())
	}
}

// Boat practice and the one-way formula of the code are one.
func TestMarineRunIsTheOneWayFormula(t *testing.T) {
	run := MarineRun{21 * Foot, 10, 0.36, MarineK}
	one := DropLimit{TwoWire, 10.5 * Foot, 10, 0.36}
	assert.InEpsilon(t, float64(must[unit.Area](t)(one.Area(MarineK))), float64(must[unit.Area](t)(run.Area())), 1e-12)
	a := must[unit.Area](t)(run.Area())
	assert.InEpsilon(t, 0.36, float64(must[unit.Voltage](t)(run.Drop(a))), 1e-12)
}

// K = 10.75 is copper at 29 °C; at 75 and 105 °C a cable drops 17 and 29 % more.
func TestKTemperature(t *testing.T) {
	assert.InDelta(t, 29.29, InCelsius(must[unit.Temperature](t)(KTemperature(Copper, MarineK))), 0.005)
	for celsius, more := range map[float64]float64{75: 1.173, 105: 1.287} {
		k := must[Resistivity](t)(Copper.Resistivity(Celsius(celsius)))
		assert.InDelta(t, more, float64(k/MarineK), 5e-4)
		assert.InDelta(t, celsius, InCelsius(must[unit.Temperature](t)(KTemperature(Copper, k))), 1e-9)
	}
	assert.InDelta(t, 20, InCelsius(must[unit.Temperature](t)(KTemperature(Aluminium, 17.0020*OhmCircularMilPerFoot))), 0.01)
	_, err := KTemperature(0, MarineK)
	refused(t, err, "metal")
	_, err = KTemperature(Copper, 10.75)
	refused(t, err, "resistivity")
	_, err = KTemperature(Copper, Resistivity(math.NaN()))
	refused(t, err, "resistivity")
}

func TestMarineRunRefused(t *testing.T) {
	good := MarineRun{20 * Foot, 10, 0.36, MarineK}
	set := func(f func(*MarineRun, float64)) func(float64) error {
		return func(x float64) error {
			r := good
			f(&r, x)
			_, err := r.Area()
			return err
		}
	}
	bounds(t, "length out and back", 0.02, 40e3, set(func(r *MarineRun, x float64) { r.OutAndBack = unit.Length(x) }))
	bounds(t, "current", 1e-3, maxCurrent, set(func(r *MarineRun, x float64) { r.Current = unit.Current(x) }))
	bounds(t, "allowed drop", minDrop, maxDrop, set(func(r *MarineRun, x float64) { r.Allowed = unit.Voltage(x) }))
	bounds(t, "resistivity", 1e-9, 1e-6, set(func(r *MarineRun, x float64) { r.K = Resistivity(x) }))
	good.Allowed = 0
	_, err := good.Drop(10 * SquareMillimetre)
	require.NoError(t, err, "the drop does not read what is allowed")
	_, err = good.Drop(10) // mm² forgotten
	refused(t, err, "area")
	_, err = good.SmallestSAE()
	refused(t, err, "allowed drop")
	_, err = MarineRun{1000 * Foot, 100, 0.36, MarineK}.SmallestAWG()
	var e *AreaError
	require.ErrorAs(t, err, &e)
	require.ErrorIs(t, err, ErrNoSize)
	assert.InEpsilon(t, 10.75*100*1000/0.36, float64(e.Area/CircularMil), 1e-12)
	assert.ErrorContains(t, err, "1513.1 mm² asked for")
}
