package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestIEC60228(t *testing.T) {
	columns := map[string]Wire{
		"class1_cu_plain":    {Metal: Copper, Stranding: Solid},
		"class1_cu_tinned":   {Metal: Copper, Stranding: Solid, Tinned: true},
		"class2_cu_plain":    {Metal: Copper, Stranding: Stranded},
		"class2_cu_tinned":   {Metal: Copper, Stranding: Stranded, Tinned: true},
		"class5_cu_plain":    {Metal: Copper, Stranding: Flexible},
		"class5_cu_tinned":   {Metal: Copper, Stranding: Flexible, Tinned: true},
		"class1_2_aluminium": {Metal: Aluminium, Stranding: Stranded},
	}
	rows := reftest.Rows(t, "conductor/iec60228_resistance.csv")
	require.Len(t, rows, len(MetricSizes()))
	for i, row := range rows {
		s := MetricSize(unit.Area(row.Float("area_mm2")) * SquareMillimetre)
		require.Equal(t, MetricSizes()[i], s, row.Source())
		for column, w := range columns {
			w.Size = s
			r, err := MaximumResistance(w)
			if !row.Has(column) {
				refused(t, err, "a combination that IEC 60228 has")
				continue
			}
			require.NoError(t, err, row.Source())
			row.Printed(column, float64(r/OhmPerKilometre))
			// The same at 20 °C by the common entry, and hotter by the ratio.
			assert.InEpsilon(t, float64(r), float64(must[ResistancePerLength](t)(w.Resistance(Celsius(20)))), 1e-12)
			hot := must[ResistancePerLength](t)(w.Resistance(Celsius(70)))
			assert.InEpsilon(t, must[float64](t)(w.Metal.ResistanceRatio(Celsius(20), Celsius(70))), float64(hot/r), 1e-12)
		}
		for column, stranding := range map[string]Stranding{
			"effective_area_class2_mm2": Stranded, "effective_area_class5_mm2": Flexible,
		} {
			a := must[unit.Area](t)(EffectiveArea(Wire{s, Copper, stranding, false}))
			row.Printed(column, float64(a/SquareMillimetre))
		}
	}
}

// What must hold of the standard's figures whoever types them in: resistance
// falls with size, tin adds to it, flexible conductors have more (but for 50
// mm²), the label overstates the copper by 4 to 16 % and aluminium has 1.6
// times the resistance of copper.
func TestIEC60228Laws(t *testing.T) {
	r := func(s Size, m Metal, st Stranding, tinned bool) (float64, bool) {
		x, err := MaximumResistance(Wire{s, m, st, tinned})
		return float64(x), err == nil
	}
	for _, st := range []Stranding{Solid, Stranded, Flexible} {
		last := 1e9
		for _, s := range MetricSizes() {
			plain, ok := r(s, Copper, st, false)
			require.True(t, ok)
			assert.Less(t, plain, last)
			last = plain
			if tinned, ok := r(s, Copper, st, true); ok {
				assert.Greater(t, tinned, plain)
				assert.Less(t, tinned, plain*1.04)
			}
			if st == Flexible {
				_, ok := r(s, Aluminium, st, false)
				assert.False(t, ok)
			} else if al, ok := r(s, Aluminium, st, false); ok {
				assert.InDelta(t, 1.65, al/plain, 0.04, s)
			}
			effective := must[unit.Area](t)(EffectiveArea(Wire{s, Copper, st, false}))
			label := float64(s.area()) / float64(effective)
			assert.Greater(t, label, 1.025, "%v %v", s, st)
			assert.Less(t, label, 1.16)
		}
	}
	stranded, _ := r(MetricSize(50*SquareMillimetre), Copper, Stranded, false)
	flexible, _ := r(MetricSize(50*SquareMillimetre), Copper, Flexible, false)
	assert.Less(t, flexible, stranded, "the one size where class 5 has the lower maximum")
}

func TestIEC60228Refuses(t *testing.T) {
	_, err := MaximumResistance(solid(AWG(10)))
	refused(t, err, "10 AWG, want a metric size")
	_, err = MaximumResistance(Wire{})
	refused(t, err, "no size")
	m := MetricSize(35 * SquareMillimetre)
	_, err = MaximumResistance(Wire{Size: m, Stranding: Solid})
	refused(t, err, "metal")
	_, err = MaximumResistance(Wire{Size: m, Metal: Copper})
	refused(t, err, "stranding")
	_, err = EffectiveArea(Wire{m, Aluminium, Flexible, false})
	refused(t, err, "35 mm² flexible aluminium")
	_, err = Wire{m, Aluminium, Flexible, false}.Resistance(Celsius(20))
	refused(t, err, "35 mm² flexible aluminium")
}
