package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestFlexibleCables(t *testing.T) {
	rows := reftest.Rows(t, "conductor/flexible_cable_dimensions.csv")
	require.Len(t, FlexibleCables(), len(rows))
	rho := must[Resistivity](t)(Copper.Resistivity(Celsius(20)))
	for n, row := range rows {
		c := must[FlexibleCable](t)(FlexibleCableOf(sizeOf(t, row, "size")))
		assert.Equal(t, FlexibleCables()[n], c)
		row.Printed("strands", float64(c.Strands))
		area := float64(c.MetalArea() / CircularMil)
		row.Printed("strand_area_sum_cmil", area)
		nominal := must[unit.Area](t)(nominalTable8(t, c.Size))
		row.Printed("excess_percent", 100*(area/float64(nominal/CircularMil)-1))
		row.Printed("outside_diameter_in", float64(c.Outside/Inch))
		mm := 1000 * float64(c.Outside)
		row.Printed("outside_diameter_mm", mm)
		row.Printed("weight_lb_per_kft", float64(c.Mass)*304.8/0.45359237)
		row.Printed("suggested_a", float64(c.Suggested))
		row.Printed("r20_strands_ohm_per_kft", 1.02*float64(rho)/float64(c.MetalArea())/float64(OhmPerKilofoot))
		if row.Has("wrong_mm") {
			row.Rejects("wrong_mm", mm, 0.05)
		}
	}
	for _, s := range []Size{{}, AWG(3), AWG(10), KCMilSize(300), MetricSize(35 * SquareMillimetre)} {
		_, err := FlexibleCableOf(s)
		refused(t, err, "a size of the table")
	}
}

// Laws on the table: all grows with the size; the mass is more than that of the
// copper and less than twice it; the current lies up to 12 % below the heat
// balance of a single cable at 105 °C in 40 °C.
func TestFlexibleCableLaws(t *testing.T) {
	previous := FlexibleCable{}
	for _, c := range FlexibleCables() {
		assert.Positive(t, c.Size.Compare(previous.Size))
		assert.Greater(t, c.Strands, previous.Strands)
		assert.Greater(t, c.Outside, previous.Outside)
		assert.Greater(t, c.Mass, previous.Mass)
		assert.Greater(t, c.Suggested, previous.Suggested)
		copper := float64(c.MetalArea()) * 8890
		assert.True(t, float64(c.Mass) > copper && float64(c.Mass) < 2*copper, "%v: %.2f", c.Size, float64(c.Mass)/copper)

		law := must[ResistanceLaw](t)(Wire{c.Size, Copper, Flexible, false}.ResistanceLaw(Celsius(105)))
		bare := math.Sqrt(float64(c.MetalArea())*4/math.Pi) * 1.2 // strands fill about 70 %
		air := AirCable{unit.Length(bare), c.Outside, PVCResistivity, 0.9, Celsius(40), ChurchillChu}
		i := must[unit.Current](t)(air.Ampacity(law.Resistance, Celsius(105)))
		assert.True(t, i/c.Suggested > 1 && i/c.Suggested < 1.12, "%v: %.3f", c.Size, float64(i/c.Suggested))
		previous = c
	}
}
