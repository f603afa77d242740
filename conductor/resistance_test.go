package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// perKilofoot is the resistance of a wire in Ω/kft.
func perKilofoot(t *testing.T, w Wire, celsius float64) float64 {
	t.Helper()
	return float64(must[ResistancePerLength](t)(w.Resistance(Celsius(celsius))) / OhmPerKilofoot)
}

func TestCopperWireTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/awg_resistance_copper.csv") {
		w := solid(sizeOf(t, row, "size"))
		row.Within("ohm_per_kft_20c_published", perKilofoot(t, w, 20), 4e-4,
			"the circular rounds areas before it divides by them")
		row.Printed("ohm_per_kft_0c", perKilofoot(t, w, 0))
		row.Printed("ohm_per_kft_25c", perKilofoot(t, w, 25))
		if row.Has("wrong_25c") {
			row.Rejects("wrong_25c", perKilofoot(t, w, 25), 0.015)
		}
		row.Printed("ohm_per_kft_50c", perKilofoot(t, w, 50))
		row.Printed("ohm_per_kft_75c", perKilofoot(t, w, 75))
		row.Printed("ohm_per_km_20c", float64(must[ResistancePerLength](t)(w.Resistance(Celsius(20)))/OhmPerKilometre))
		nominal := must[unit.Area](t)(w.Size.NominalArea())
		rho := must[Resistivity](t)(Copper.Resistivity(Celsius(20)))
		row.Printed("ohm_per_kft_20c_nominal_diameter", float64(rho)/float64(nominal)/float64(OhmPerKilofoot))
	}
}

func TestFlexibleCable(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/flexible_cable.csv") {
		w := Wire{sizeOf(t, row, "size"), Copper, Flexible, false}
		row.Within("r20_class_k_ohm_per_kft", perKilofoot(t, w, 20), 1.2e-3,
			"computed from the code's rounded areas instead of the law")
	}
}

// The law laid beside the code's table, row by row: bare copper and aluminium
// within 0.6 %, tinned within 1.2 %.
func TestLawAgreesWithTable8(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/nec_ch9_table8.csv") {
		w := Wire{sizeOf(t, row, "size"), Copper, Stranded, false}
		if row.Text("strands") == "1" {
			w.Stranding = Solid
		}
		room := halfLast(row.Text("cu_uncoated_ohm_per_kft")) / row.Float("cu_uncoated_ohm_per_kft")
		assert.InEpsilon(t, row.Float("cu_uncoated_ohm_per_kft"), perKilofoot(t, w, 75), 0.005+room, row.Source())
		w.Tinned = true
		assert.InEpsilon(t, row.Float("cu_coated_ohm_per_kft"), perKilofoot(t, w, 75), 0.007+room, row.Source())
		w.Tinned, w.Metal = false, Aluminium
		assert.InEpsilon(t, row.Float("al_ohm_per_kft"), perKilofoot(t, w, 75), 0.005+room, row.Source())
	}
}

func TestResistanceProperties(t *testing.T) {
	for _, s := range everySize() {
		if s.system == kcmil && s.number%50 != 0 {
			continue
		}
		for _, at := range []float64{-60, 20, 90, 300} {
			single, err := solid(s).Resistance(Celsius(at))
			require.NoError(t, err)
			assert.Positive(t, float64(single))
			if s.IsMetric() {
				continue
			}
			stranded := must[ResistancePerLength](t)(Wire{s, Copper, Stranded, false}.Resistance(Celsius(at)))
			flexible := must[ResistancePerLength](t)(Wire{s, Copper, Flexible, false}.Resistance(Celsius(at)))
			tinned := must[ResistancePerLength](t)(Wire{s, Copper, Flexible, true}.Resistance(Celsius(at)))
			assert.InEpsilon(t, 1.02, float64(stranded/single), 1e-12)
			assert.InEpsilon(t, 1.05, float64(flexible/single), 1e-12)
			assert.InEpsilon(t, 1.073, float64(tinned/flexible), 0.001, "30 AWG strands")
			al := must[ResistancePerLength](t)(Wire{s, Aluminium, Solid, false}.Resistance(Celsius(20)))
			cu := must[ResistancePerLength](t)(solid(s).Resistance(Celsius(20)))
			assert.InEpsilon(t, 1/0.61, float64(al/cu), 1e-12)
		}
	}
}

func TestTinningSteps(t *testing.T) {
	// (in), and the conductivity left of a tinned wire (%).
	for _, c := range []struct{ d, conductivity float64 }{
		{0.460, 97.66},
		{0.2901, 97.66},
		{0.290, 97.16},
		{0.1031, 97.16},
		{0.103, 96.16},
		{0.0202, 96.16},
		{0.0201, 94.16},
		{0.0112, 94.16},
		{0.0111, 93.15},
		{0.003, 93.15},
	} {
		assert.InDelta(t, c.conductivity, 100/tinning(c.d), 0.01, c.d)
	}
	last := 0.0
	for d := 0.5; d > 0.001; d *= 0.97 {
		assert.GreaterOrEqual(t, tinning(d), last)
		last = tinning(d)
	}
}

func TestStrandCount(t *testing.T) {
	for cmil, n := range map[float64]int{
		1620: 7, 66360: 7, 83690: 19, 211600: 19, 250e3: 37, 500e3: 37, 600e3: 61, 1000e3: 61,
		1250e3: 91, 1500e3: 91, 1750e3: 127, 2000e3: 127,
	} {
		assert.Equal(t, n, strandCount(cmil), cmil)
	}
}

func TestResistanceRefuses(t *testing.T) {
	good := Wire{AWG(10), Copper, Stranded, false}
	for says, w := range map[string]Wire{
		"size no size":           {Metal: Copper, Stranding: Solid},
		"metal 0":                {Size: AWG(10), Stranding: Solid},
		"metal 9":                {Size: AWG(10), Metal: 9, Stranding: Solid},
		"stranding 0":            {Size: AWG(10), Metal: Copper},
		"stranding 4":            {Size: AWG(10), Metal: Copper, Stranding: 4},
		"tinning on copper only": {Size: AWG(10), Metal: Aluminium, Stranding: Solid, Tinned: true},
	} {
		_, err := w.Resistance(Celsius(20))
		refused(t, err, says)
	}
	bounds(t, "temperature", minTemperature, maxTemperature, func(x float64) error {
		_, err := good.Resistance(unit.Temperature(x))
		return err
	})
	assert.Equal(t, "10 AWG stranded copper", good.String())
	assert.Equal(t, "35 mm² flexible tinned copper", Wire{MetricSize(35 * SquareMillimetre), Copper, Flexible, true}.String())
	assert.Equal(t, "no size no stranding no metal", Wire{}.String())
}
