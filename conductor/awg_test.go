package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestGaugeTable(t *testing.T) {
	rows := reftest.Rows(t, "conductor/awg_geometry.csv")
	require.Len(t, rows, 44)
	for i, row := range rows {
		s := sizeOf(t, row, "size")
		require.Equal(t, AWG(i-3), s, row.Source())
		d := must[unit.Length](t)(s.Diameter())
		nominal := must[unit.Length](t)(s.NominalDiameter())
		area := must[unit.Area](t)(s.Area())
		nominalArea := must[unit.Area](t)(s.NominalArea())
		row.Printed("d_mil_nominal", float64(nominal/Mil))
		row.Digits("d_in_page", float64(d/Inch), 2.3, "the textbook cuts some figures off and rounds others")
		row.Printed("area_cmil_nominal", float64(nominalArea/CircularMil))
		row.Within("area_cmil_page", float64(area/CircularMil), 2.2e-4,
			"the textbook squares diameters of four or five figures")
		if row.Has("wrong_d_in") {
			row.Rejects("wrong_d_in", float64(d/Inch), 0.002)
		}
		row.Printed("area_mm2_law", float64(area/SquareMillimetre))

		n := must[float64](t)(GaugeNumber(d))
		assert.InDelta(t, i-3, n, 1e-9, "law and its inverse")
		assert.InDelta(t, float64(d), float64(nominal), 0.05*float64(Mil)*(1+1e-12))
	}
}

func TestGaugeProportions(t *testing.T) {
	area := func(n int) float64 { return float64(must[unit.Area](t)(AWG(n).Area())) }
	for n := -3; n <= 37; n++ {
		assert.InDelta(t, 2.0050, area(n)/area(n+3), 0.00005, "three steps from %d", n)
		if n <= 30 {
			assert.InDelta(t, 10.164, area(n)/area(n+10), 0.0005, "ten steps from %d", n)
		}
	}
	within := func(n int) float64 {
		nominal := must[unit.Area](t)(AWG(n).NominalArea())
		return math.Abs(float64(nominal)/area(n) - 1)
	}
	for n := -3; n <= 40; n++ {
		switch {
		case n <= 10:
			assert.Less(t, within(n), 0.0005, n)
		case n <= 25:
			assert.Less(t, within(n), 0.004, n)
		default:
			assert.Less(t, within(n), 0.0282, n)
		}
	}
}

func TestKCMilGeometry(t *testing.T) {
	s := KCMilSize(250)
	assert.InDelta(t, 500, float64(must[unit.Length](t)(s.Diameter())/Mil), 1e-9)
	assert.InDelta(t, 250000, float64(must[unit.Area](t)(s.Area())/CircularMil), 1e-6)
	assert.Equal(t, must[unit.Area](t)(s.Area()), must[unit.Area](t)(s.NominalArea()))
}

func TestGeometryRefuses(t *testing.T) {
	m := MetricSize(35 * SquareMillimetre)
	require.True(t, m.IsMetric())
	for _, s := range []Size{m, {}} {
		_, err := s.Diameter()
		refused(t, err, s.String())
		_, err = s.NominalArea()
		refused(t, err, "AWG or kcmil")
		_, err = s.NominalDiameter()
		refused(t, err, "AWG")
	}
	_, err := Size{}.Area()
	refused(t, err, "size no size, want a size such as 10 AWG")
	_, err = KCMilSize(250).NominalDiameter()
	refused(t, err, "250 kcmil")
	bounds(t, "diameter", float64(Mil), float64(Inch), func(d float64) error {
		_, err := GaugeNumber(unit.Length(d))
		return err
	})
	_, err = GaugeNumber(101.9)
	refused(t, err, "101.9 m")
}
