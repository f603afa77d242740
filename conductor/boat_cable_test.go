package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestBoatCableAmpacity(t *testing.T) {
	rows := reftest.Rows(t, "conductor/marine_ampacity.csv")
	require.Len(t, rows, len(boatCable))
	columns := []struct {
		outside, inside string
		bundled         []int
	}{
		{"outside_a", "inside_a", []int{1, 2}},
		{"outside_3_conductors_a", "inside_3_a", []int{3}},
		{"outside_4_6_a", "inside_4_6_a", []int{4, 5, 6}},
		{"outside_7_24_a", "inside_7_24_a", []int{7, 24}},
	}
	for _, row := range rows {
		b := BoatCable{Size: sizeOf(t, row, "size")}
		for _, c := range columns {
			for _, n := range c.bundled {
				b.Bundled, b.EngineSpace = n, false
				row.Printed(c.outside, float64(must[unit.Current](t)(b.Ampacity())))
				b.EngineSpace = true
				row.Printed(c.inside, float64(must[unit.Current](t)(b.Ampacity())))
			}
		}
		row.Printed("awg_area_cmil", boatRowOf(t, b.Size).awg)
		if !row.Has("sae_area_cmil") {
			_, err := SAEArea(b.Size)
			refused(t, err, "size 3 AWG, want a size with an area in SAE J1127 or J1128")
			continue
		}
		sae := float64(must[unit.Area](t)(SAEArea(b.Size)) / CircularMil)
		row.Printed("sae_area_cmil", sae)
		if row.Has("wrong_sae_cmil") {
			row.Rejects("wrong_sae_cmil", sae, 0.05)
		}
	}
}

// Laws on the table: current and areas grow with the size, vehicle cable has 3
// to 11 % less metal, and the factor of the engine space is the square-root law
// from 30 to 50 °C within 1 %.
func TestBoatCableLaws(t *testing.T) {
	previous := boatRow{}
	for _, r := range boatCable {
		assert.Greater(t, r.outside, previous.outside)
		assert.Greater(t, r.awg, previous.awg)
		assert.Positive(t, r.size.Compare(previous.size))
		assert.InEpsilon(t, r.size.area()/float64(CircularMil), r.awg, 0.003)
		if r.sae > 0 {
			assert.True(t, r.sae/r.awg > 0.89 && r.sae/r.awg < 0.972, "%v: %v", r.size, r.sae/r.awg)
		}
		previous = r
	}
	assert.InDelta(t, engineSpace, math.Sqrt((105.0-50)/(105-30)), 0.01)
}

// An independent law on the currents: the heat balance of single cables in air,
// at 105 °C in 30 °C, lies 0 to 12 % above the table, most in large sizes.
func TestBoatCableBesideHeatBalance(t *testing.T) {
	for _, f := range FlexibleCables()[:8] {
		law := must[ResistanceLaw](t)(Wire{f.Size, Copper, Flexible, true}.ResistanceLaw(Celsius(105)))
		d := math.Sqrt(float64(f.MetalArea())*4/math.Pi) * 1.2
		c := AirCable{unit.Length(d), f.Outside, PVCResistivity, 0.9, Celsius(30), ChurchillChu}
		i := must[unit.Current](t)(c.Ampacity(law.Resistance, Celsius(105)))
		table := must[unit.Current](t)(BoatCable{Size: f.Size, Bundled: 1}.Ampacity())
		assert.True(t, i/table > 1 && i/table < 1.12, "%v: %.3f", f.Size, float64(i/table))
	}
}

func TestBoatCableRefused(t *testing.T) {
	for _, n := range []int{math.MinInt, 0, 1001, math.MaxInt} {
		_, err := BoatCable{AWG(10), false, n}.Ampacity()
		refused(t, err, "number of bundled conductors")
	}
	i := must[unit.Current](t)(BoatCable{AWG(10), false, 25}.Ampacity())
	assert.InDelta(t, 24, float64(i), 1e-12)
	i = must[unit.Current](t)(BoatCable{AWG(10), false, 1000}.Ampacity())
	assert.InDelta(t, 24, float64(i), 1e-12)
	for _, s := range []Size{{}, AWG(5), AWG(20), KCMilSize(250), MetricSize(35 * SquareMillimetre)} {
		_, err := BoatCable{s, false, 1}.Ampacity()
		refused(t, err, "a size of boat cable")
		_, err = SAEArea(s)
		refused(t, err, "a size of boat cable")
	}
	_, err := BoatCable{}.Ampacity()
	refused(t, err, "number of bundled conductors")
}

func boatRowOf(t *testing.T, s Size) boatRow {
	t.Helper()
	r, err := boatSize(s)
	require.NoError(t, err)
	return *r
}

// nominalTable8 is the area that the code prints for a size.
func nominalTable8(t *testing.T, s Size) (unit.Area, error) {
	t.Helper()
	r, err := Table8(s, Stranded)
	return r.Area, err
}
