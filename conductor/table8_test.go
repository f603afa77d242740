package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestTable8EveryRow(t *testing.T) {
	// Beyond their rounding the two halves of the print stand up to 0.11 %
	// apart, most of it as if 305 m were 1000 ft (0.07 %).
	const halves, apart = "both halves of the print are rounded, each on its own, and stand apart by 0.1 %", 0.0011
	rows := reftest.Rows(t, "conductor/nec_ch9_table8.csv")
	require.Len(t, rows, len(Table8Rows()))
	for i, row := range rows {
		stranding := Stranded
		if row.Text("strands") == "1" {
			stranding = Solid
		}
		got := must[Table8Row](t)(Table8(sizeOf(t, row, "size"), stranding))
		require.Equal(t, Table8Rows()[i], got, row.Source())

		row.Printed("strands", float64(got.Strands))
		row.Printed("area_cmil", float64(got.Area/CircularMil))
		row.Within("area_mm2", float64(got.Area/SquareMillimetre), areaRounding(row),
			"areas in mm² are printed from the gauge, those in circular mils rounded")
		if row.Has("strand_dia_in") {
			row.Printed("strand_dia_in", float64(got.StrandDiameter/Inch))
		}
		row.Printed("overall_dia_in", float64(got.OverallDiameter/Inch))

		for column, r := range map[string]ResistancePerLength{
			"cu_uncoated_ohm_per_": got.Copper, "cu_coated_ohm_per_": got.CoatedCopper, "al_ohm_per_": got.Aluminium,
		} {
			row.Printed(column+"kft", float64(r/OhmPerKilofoot))
			km := column + "km"
			if row.Has("wrong_km") && column == "cu_coated_ohm_per_" {
				row.Rejects(km, float64(r/OhmPerKilometre), 0.02)
				continue
			}
			room := halfLast(row.Text(column+"kft"))/row.Float(column+"kft") + halfLast(row.Text(km))/row.Float(km) + apart
			row.Within(km, float64(r/OhmPerKilometre), room, halves)
		}
	}
}

// halfLast is half of the last printed digit.
func halfLast(text string) float64 {
	for i := range len(text) {
		if text[i] == '.' {
			return 0.5 * math.Pow10(-(len(text) - i - 1))
		}
	}
	return 0.5
}

// areaRounding is the relative room of an area that stands in the table in two
// units: circular mils to tens or hundreds, mm² to the digits printed.
func areaRounding(row reftest.Row) float64 {
	cmil := row.Float("area_cmil")
	step := 5.0
	if cmil > 100e3 {
		step = 50
	}
	return step/cmil + halfLast(row.Text("area_mm2"))/row.Float("area_mm2")
}

// The laws behind the table, which a slip in typing it in would break.
func TestTable8Laws(t *testing.T) {
	reference := reftest.Rows(t, "conductor/nec_ch9_table8.csv")
	for i, row := range Table8Rows() {
		name := row.Size.String() + " " + row.Stranding.String()

		// The area is the wire standard's nominal one, rounded to tens or hundreds.
		nominal := float64(must[unit.Area](t)(row.Size.NominalArea()) / CircularMil)
		step := 10.0
		if nominal > 100e3 {
			step = 100
		}
		assert.InDelta(t, math.Round(nominal/step)*step, float64(row.Area/CircularMil), 1e-6, name)

		// 100 % IACS at 75 °C: solid within 0.5 %, class B 1.6 to 2.6 % above.
		ideal := float64(must[Resistivity](t)(Copper.Resistivity(Celsius(75)))) / float64(row.Area)
		reference[i].Printed("ideal_cu_ohm_per_kft_75c", ideal/float64(OhmPerKilofoot))
		idealAl := float64(must[Resistivity](t)(Aluminium.Resistivity(Celsius(75)))) / float64(row.Area)
		over, overAl := float64(row.Copper)/ideal, float64(row.Aluminium)/idealAl
		if row.Stranding == Solid {
			assert.InDelta(t, 1, over, 0.005, name)
			assert.InDelta(t, 1, overAl, 0.005, name)
		} else {
			assert.InDelta(t, 1.021, over, 0.0045, name)
			assert.InDelta(t, 1.020, overAl, 0.0035, name)
		}

		// Tinning adds 2.3 to 6.3 %, by the diameter of the strand.
		tin := float64(row.CoatedCopper / row.Copper)
		assert.Greater(t, tin, 1.022, name)
		assert.Less(t, tin, 1.064, name)

		// Strands and their diameter make up the area, and seven, 19, 37, 61,
		// 91 or 127 of them a circle of 3, 5, 7, 9, 11 or 13 across.
		strand, across := row.OverallDiameter, 1.0
		if row.Stranding == Stranded {
			strand = row.StrandDiameter
			across = map[int]float64{7: 3, 19: 5, 37: 7, 61: 9, 91: 11, 127: 13}[row.Strands]
			require.NotZero(t, across, name)
			assert.Equal(t, strandCount(float64(row.Area/CircularMil)), row.Strands, name)
		}
		metal := float64(row.Strands) * math.Pow(float64(strand/Mil), 2)
		room := 2 * 0.5 / float64(strand/Mil) // printed to 1 mil
		assert.InEpsilon(t, float64(row.Area/CircularMil), metal, room+0.01, name)
		assert.InEpsilon(t, float64(strand)*across, float64(row.OverallDiameter), room/2+0.01, name)
	}
}

// Within solid and within stranded, everything is monotone in size.
func TestTable8Monotone(t *testing.T) {
	last := map[Stranding]Table8Row{}
	for _, row := range Table8Rows() {
		if before, ok := last[row.Stranding]; ok {
			assert.Equal(t, -1, before.Size.Compare(row.Size))
			assert.Greater(t, row.Area, before.Area)
			assert.Greater(t, row.OverallDiameter, before.OverallDiameter)
			assert.Less(t, row.Copper, before.Copper)
			assert.Less(t, row.CoatedCopper, before.CoatedCopper)
			assert.Less(t, row.Aluminium, before.Aluminium)
		}
		last[row.Stranding] = row
	}
}

func TestTable8Refuses(t *testing.T) {
	for _, c := range []struct {
		s         Size
		stranding Stranding
	}{
		{AWG(20), Solid},
		{AWG(6), Solid},
		{AWG(7), Stranded},
		{AWG(10), Flexible},
		{AWG(10), 0},
		{KCMilSize(260), Stranded},
		{MetricSize(35 * SquareMillimetre), Stranded},
		{Size{}, Solid},
		{Size{}, 0},
	} {
		row, err := Table8(c.s, c.stranding)
		refused(t, err, "a row of NEC chapter 9 table 8")
		assert.Zero(t, row)
	}
	_, err := Table8Row{}.Resistance(Copper, false, Celsius(75))
	refused(t, err, "no size")
	row := must[Table8Row](t)(Table8(AWG(10), Solid))
	_, err = row.Resistance(Aluminium, true, Celsius(75))
	refused(t, err, "tinning on copper only")
	_, err = row.Resistance(0, false, Celsius(75))
	refused(t, err, "metal")
	// A row made by hand must hold a resistance.
	for _, r := range []ResistancePerLength{0, -1, 0.9e-9, 101, ResistancePerLength(math.NaN()), ResistancePerLength(math.Inf(1))} {
		bad := Table8Row{Size: AWG(10), Stranding: Solid, Copper: r, CoatedCopper: r, Aluminium: r}
		for _, c := range []struct {
			m      Metal
			tinned bool
		}{{Copper, false}, {Copper, true}, {Aluminium, false}} {
			got, err := bad.Resistance(c.m, c.tinned, Celsius(75))
			refused(t, err, "resistance")
			assert.Zero(t, got)
		}
	}
	bounds(t, "temperature", minTemperature, maxTemperature, func(x float64) error {
		_, err := row.Resistance(Copper, false, unit.Temperature(x))
		return err
	})
}

func TestTable8Resistance(t *testing.T) {
	row := must[Table8Row](t)(Table8(AWG(10), Solid))
	for _, c := range []struct {
		m      Metal
		tinned bool
		want   ResistancePerLength
	}{{Copper, false, row.Copper}, {Copper, true, row.CoatedCopper}, {Aluminium, false, row.Aluminium}} {
		at75 := must[ResistancePerLength](t)(row.Resistance(c.m, c.tinned, Celsius(75)))
		assert.InEpsilon(t, float64(c.want), float64(at75), 1e-12)
		// The note's rounded coefficient against the law's own.
		for at := -40.0; at <= 200; at += 20 {
			r := must[ResistancePerLength](t)(row.Resistance(c.m, c.tinned, Celsius(at)))
			ratio := must[float64](t)(c.m.ResistanceRatio(Celsius(75), Celsius(at)))
			assert.InEpsilon(t, ratio, float64(r/at75), 0.001)
		}
	}
}
