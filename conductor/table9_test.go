package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// conduits are the words of the reference tables' columns.
var conduits = [...]string{PVCConduit: "pvc", AluminiumConduit: "al_conduit", SteelConduit: "steel"}

// entryColumns returns the columns that hold an entry's figures.
func entryColumns(e Table9Entry) (r, x, z string) {
	metal := "cu_"
	if e.Metal == Aluminium {
		metal = "al_"
	}
	x = "xl_pvc_al_conduit"
	if e.Conduit == SteelConduit {
		x = "xl_steel"
	}
	return "rac_" + metal + conduits[e.Conduit], x, "z085_" + metal + conduits[e.Conduit]
}

// eachEntry calls f for every entry of a row of print, and makes sure that the
// table has none where the print is empty.
func eachEntry(t *testing.T, row reftest.Row, f func(Table9Entry)) {
	t.Helper()
	s := sizeOf(t, row, "size")
	for _, m := range []Metal{Copper, Aluminium} {
		for c := PVCConduit; c <= SteelConduit; c++ {
			r, _, _ := entryColumns(Table9Entry{Metal: m, Conduit: c})
			e, err := Table9(s, m, c)
			if !row.Has(r) {
				refused(t, err, "aluminium from 12 AWG")
				continue
			}
			require.NoError(t, err, row.Source())
			f(e)
		}
	}
}

func TestTable9EveryRow(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_ch9_table9.csv")
	require.Len(t, rows, len(table9))
	var all []Table9Entry
	for _, row := range rows {
		eachEntry(t, row, func(e Table9Entry) {
			all = append(all, e)
			r, x, z := entryColumns(e)
			row.Printed(r, float64(e.Resistance/OhmPerKilofoot))
			row.Printed(x, float64(e.Reactance/OhmPerKilofoot))
			if row.Has(z) {
				row.Printed(z, float64(e.Impedance/OhmPerKilofoot))
			}
		})
	}
	assert.Equal(t, all, Table9Entries())
	for _, row := range reftest.Rows(t, "conductor/nec_ch9_table9_recalled.csv") {
		for _, e := range all {
			if _, _, z := entryColumns(e); e.Size == sizeOf(t, row, "size") &&
				(e.Metal == Aluminium || e.Conduit == PVCConduit) {
				row.Printed(z, float64(e.Impedance/OhmPerKilofoot))
			}
		}
	}
}

// roomOf is half of the last printed digit of a column.
func roomOf(row reftest.Row, column string) float64 { return halfLast(row.Text(column)) }

// Every printed impedance is R cos φ + X sin φ at 0.85, within the rounding of
// all three.
func TestTable9Identity(t *testing.T) {
	sin := math.Sqrt(1 - 0.85*0.85)
	rows := reftest.Rows(t, "conductor/nec_ch9_table9.csv")
	recalled := map[Size]reftest.Row{}
	for _, row := range reftest.Rows(t, "conductor/nec_ch9_table9_recalled.csv") {
		recalled[sizeOf(t, row, "size")] = row
	}
	n := 0
	for _, row := range rows {
		eachEntry(t, row, func(e Table9Entry) {
			r, x, z := entryColumns(e)
			ze := must[ResistancePerLength](t)(EffectiveImpedance(e.Resistance, e.Reactance, 0.85))
			printed := row
			if !row.Has(z) {
				printed = recalled[e.Size]
			}
			room := 0.85*roomOf(row, r) + sin*roomOf(row, x) + roomOf(printed, z)
			assert.InDelta(t, printed.Float(z), float64(ze/OhmPerKilofoot), room*(1+1e-9), "%v %v %v", e.Size, e.Metal, e.Conduit)
			n++
		})
	}
	assert.Equal(t, 21*6-3, n)
}

// The metric half, rounded on its own.
func TestTable9Metric(t *testing.T) {
	const halves = "both halves of the print are rounded, each on its own"
	feet := reftest.Rows(t, "conductor/nec_ch9_table9.csv")
	for k, row := range reftest.Rows(t, "conductor/nec_ch9_table9_metric.csv") {
		require.Equal(t, feet[k].Text("size"), row.Text("size"))
		eachEntry(t, row, func(e Table9Entry) {
			r, x, z := entryColumns(e)
			for column, got := range map[string]ResistancePerLength{r: e.Resistance, x: e.Reactance, z: e.Impedance} {
				room := roomOf(feet[k], column)/feet[k].Float(column) + roomOf(row, column)/row.Float(column)
				row.Within(column, float64(got/OhmPerKilometre), room+1e-3, halves)
			}
		})
	}
}

// Laws that a slip in typing the table in would break.
func TestTable9Laws(t *testing.T) {
	last := map[[2]uint8]Table9Entry{}
	for _, e := range Table9Entries() {
		name := e.Size.String() + " " + e.Metal.String() + " " + e.Conduit.String()
		// The ac resistance is the dc one with neighbours and conduit, and two
		// figures of rounding.
		row := must[Table8Row](t)(Table8(e.Size, Stranded))
		dc := row.Copper
		if e.Metal == Aluminium {
			dc = row.Aluminium
		}
		ratio := float64(e.Resistance / dc)
		assert.Greater(t, ratio, 0.96, name)
		assert.Less(t, ratio, 1.5, name)
		if e.Conduit == PVCConduit {
			ac := must[ResistancePerLength](t)(ACResistance(dc, 60))
			assert.InDelta(t, float64(ac/dc), ratio, 0.10, name)
		}
		// Resistance falls with size.
		key := [2]uint8{uint8(e.Metal), uint8(e.Conduit)}
		if before, ok := last[key]; ok {
			assert.Less(t, e.Resistance, before.Resistance, name)
			assert.LessOrEqual(t, e.Impedance, before.Impedance, name)
			assert.Equal(t, -1, before.Size.Compare(e.Size), name)
		}
		last[key] = e
		// Steel has about a quarter more reactance.
		if e.Conduit == SteelConduit {
			pvc := must[Table9Entry](t)(Table9(e.Size, e.Metal, PVCConduit))
			assert.InDelta(t, 1.25, float64(e.Reactance/pvc.Reactance), 0.03, name)
		}
	}
}

func TestTable9Over(t *testing.T) {
	e := must[Table9Entry](t)(Table9(AWG(10), Copper, SteelConduit))
	z := must[Impedance](t)(e.Over(TwoWire, 1000*Foot))
	assert.InDelta(t, 2.4, float64(z.Resistance), 1e-9)
	assert.InDelta(t, 0.126, float64(z.Reactance), 1e-9)
	z = must[Impedance](t)(e.Over(ThreePhase, 1000*Foot))
	assert.InDelta(t, 1.2*math.Sqrt(3), float64(z.Resistance), 1e-9)
	bounds(t, "one-way length", 0.01, 20e3, func(x float64) error {
		_, err := e.Over(TwoWire, unit.Length(x))
		return err
	})
	_, err := e.Over(0, 10)
	refused(t, err, "circuit")
	_, err = Table9Entry{}.Over(TwoWire, 10)
	refused(t, err, "resistance")
	e.Reactance = ResistancePerLength(math.NaN())
	_, err = e.Over(TwoWire, 10)
	refused(t, err, "reactance")
}

func TestTable9Refuses(t *testing.T) {
	for _, s := range []Size{AWG(16), AWG(5), KCMilSize(700), KCMilSize(1250), MetricSize(35 * SquareMillimetre), {}} {
		e, err := Table9(s, Copper, PVCConduit)
		refused(t, err, "a row of NEC chapter 9 table 9")
		assert.Zero(t, e)
	}
	_, err := Table9(AWG(14), Aluminium, SteelConduit)
	refused(t, err, "14 AWG aluminium")
	for _, c := range []Conduit{0, 4, 255} {
		_, err = Table9(AWG(10), 0, c)
		refused(t, err, "conduit")
		require.ErrorContains(t, err, "metal")
		assert.Equal(t, "no conduit", c.String())
	}
	_, err = Table9(AWG(10), 0, PVCConduit)
	refused(t, err, "metal")
	assert.NotContains(t, err.Error(), "conduit")
	_, err = Table9(AWG(10), Copper, 0)
	refused(t, err, "conduit 0, want PVC, aluminium or steel")
	assert.NotContains(t, err.Error(), "metal")
	assert.Equal(t, "PVC conduit", PVCConduit.String())
	assert.Equal(t, "aluminium conduit", AluminiumConduit.String())
	assert.Equal(t, "steel conduit", SteelConduit.String())
}
