package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestAircraftWires(t *testing.T) {
	rows := reftest.Rows(t, "conductor/aircraft_wire.csv")
	require.Len(t, AircraftWires(), len(rows))
	rho := must[Resistivity](t)(Copper.Resistivity(Celsius(20)))
	for n, row := range rows {
		w := must[AircraftWire](t)(AircraftWireOf(sizeOf(t, row, "size")))
		assert.Equal(t, AircraftWires()[n], w)
		row.Printed("a_105c", float64(w.Rated105C))
		row.Printed("a_150c", float64(w.Rated150C))
		row.Printed("a_200c", float64(w.Rated200C))
		perKilofoot := float64(w.MaxResistance / OhmPerKilofoot)
		row.Printed("max_ohm_per_kft_20c", perKilofoot)
		row.Printed("nominal_area_cmil", float64(w.Area/CircularMil))
		ideal := float64(rho) / float64(w.Area) / float64(OhmPerKilofoot)
		row.Printed("ideal_ohm_per_kft", ideal)
		row.Digits("excess_percent", 100*(perKilofoot/ideal-1), 2, "made from a resistance rounded to four figures")
	}
}

// Laws on the table: all grows with the size and with the rating, the resistance
// lies 12 to 31 % above ideal copper, the area near the gauge.
func TestAircraftWireLaws(t *testing.T) {
	rho := must[Resistivity](t)(Copper.Resistivity(Celsius(20)))
	previous := AircraftWire{MaxResistance: 1}
	for _, w := range AircraftWires() {
		assert.Positive(t, w.Size.Compare(previous.Size))
		assert.Greater(t, w.Rated105C, previous.Rated105C)
		assert.Greater(t, w.Rated150C, previous.Rated150C)
		assert.Greater(t, w.Rated200C, previous.Rated200C)
		assert.Greater(t, w.Rated150C, w.Rated105C)
		assert.Greater(t, w.Rated200C, w.Rated150C)
		assert.Less(t, w.MaxResistance, previous.MaxResistance)
		assert.InEpsilon(t, w.Size.area(), float64(w.Area), 0.20)
		excess := float64(w.MaxResistance) * float64(w.Area) / float64(rho)
		assert.True(t, excess > 1.12 && excess < 1.31, "%v: %.3f", w.Size, excess)
		previous = w
	}
	for _, s := range []Size{{}, AWG(3), AWG(26), KCMilSize(250)} {
		_, err := AircraftWireOf(s)
		refused(t, err, "a size of the aircraft table")
	}
}

func TestAircraftExamples(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/aircraft_examples.csv") {
		switch row.Text("kind") {
		case "length":
			// Resistance, and so the length for a drop, by the metal's law.
			ratio := must[float64](t)(Copper.ResistanceRatio(Celsius(row.Param("T2", "C")), Celsius(20)))
			row.Expected(row.Param("L", "ft") * ratio)
		default:
			rated := RatedCurrent{unit.Current(row.Param("Imax", "A")), Celsius(row.Param("TR", "C")), Celsius(row.Param("T1", "C"))}
			i := unit.Current(row.Param("I", "A"))
			got, err := rated.AircraftEstimate(i)
			if row.Text("kind") == "balance" {
				got, err = rated.Temperature(i, rated.Ambient)
			}
			require.NoError(t, err, row.Source())
			row.Expected(InCelsius(got))
			row.Rejects("wrong", InCelsius(got), 0.1)
		}
	}
}

// The estimate and the balance meet at no current and at the rated one, and the
// estimate is the higher between.
func TestAircraftEstimate(t *testing.T) {
	for _, i := range []unit.Current{0, 50} {
		assert.InDelta(t, float64(must[unit.Temperature](t)(rated10.Temperature(i, rated10.Ambient))),
			float64(must[unit.Temperature](t)(rated10.AircraftEstimate(i))), 1e-9)
	}
	for i := unit.Current(1); i < 50; i++ {
		assert.Greater(t, must[unit.Temperature](t)(rated10.AircraftEstimate(i)),
			must[unit.Temperature](t)(rated10.Temperature(i, rated10.Ambient)))
	}
	bounds(t, "current", 0, 50, func(x float64) error {
		_, err := rated10.AircraftEstimate(unit.Current(x))
		return err
	})
	_, err := RatedCurrent{}.AircraftEstimate(0)
	refused(t, err, "rated current")
}
