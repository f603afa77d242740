package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

var constructions = map[string]Construction{
	"plain power": PlainPower, "unshielded over 2 kV": UnshieldedOver2kV, "shielded or lead": ShieldedOrLead,
	"portable": Portable, "portable over 5 kV": PortableOver5kV, "armoured": Armoured,
	"instrument pair": InstrumentPair, "house cable": HouseCable, "thin flexible": ThinFlexible,
}

func TestBendMultiples(t *testing.T) {
	rows := reftest.Rows(t, "conductor/bend_multiples.csv")
	require.Len(t, rows, 16)
	for _, row := range rows {
		c, ok := constructions[row.Text("construction")]
		require.True(t, ok, row.Source())
		var thick, from unit.Length
		if row.Has("insulation_in") {
			thick, from = unit.Length(row.Float("insulation_in"))*Inch, unit.Length(row.Float("from_insulation_in"))*Inch
		}
		large := unit.Length(row.Float("outside_in")) * Inch
		small := unit.Length(row.Float("from_outside_in")) * Inch
		row.Printed("multiple", must[float64](t)(BendMultiple(c, large, thick)))
		row.Printed("multiple", must[float64](t)(BendMultiple(c, small, from)))
	}
}

// The multiple never falls with diameter or insulation.
func TestBendMultipleGrows(t *testing.T) {
	for od := 10e-3; od <= 150e-3; od += 0.5e-3 {
		last := 0.0
		for thick := 0.1e-3; thick <= od/2; thick += 0.1e-3 {
			m, err := BendMultiple(PlainPower, unit.Length(od), unit.Length(thick))
			if err != nil {
				assert.True(t, od <= 25.4e-3 && thick > 8e-3, "%v %v: %v", od, thick, err)
				break
			}
			assert.GreaterOrEqual(t, m, last)
			last = m
			more, err := BendMultiple(PlainPower, unit.Length(od+1e-3), unit.Length(thick))
			if err == nil {
				assert.GreaterOrEqual(t, more, m)
			}
		}
	}
}

func TestBendBounds(t *testing.T) {
	bounds(t, "diameter", 1e-3, 150e-3, func(x float64) error {
		_, err := BendMultiple(BatteryCable, unit.Length(x), 0)
		return err
	})
	_, err := BendMultiple(ThinFlexible, 8*mm, 0)
	require.NoError(t, err)
	_, err = BendMultiple(ThinFlexible, 8.01*mm, 0)
	refused(t, err, "diameter")
	bounds(t, "insulation", 0.1e-3, 15e-3, func(x float64) error {
		_, err := BendMultiple(PlainPower, 30*mm, unit.Length(x))
		return err
	})
	_, err = BendMultiple(PlainPower, Inch, 0.33*Inch)
	refused(t, err, "insulation")
	for _, c := range []Construction{0, BatteryCable + 1, 255} {
		_, err := BendMultiple(c, 10*mm, 2*mm)
		refused(t, err, "construction")
	}
	bounds(t, "multiple", 1, 20, func(x float64) error {
		_, err := BendRadius(x, 10*mm)
		return err
	})
	bounds(t, "diameter", 1e-3, 150e-3, func(x float64) error {
		_, err := BendRadius(6, unit.Length(x))
		return err
	})
}

func TestFlexibleBendRadius(t *testing.T) {
	rows := reftest.Rows(t, "conductor/bend_flexible.csv")
	require.Len(t, rows, len(FlexibleCables()))
	for _, row := range rows {
		c := must[FlexibleCable](t)(FlexibleCableOf(sizeOf(t, row, "size")))
		m := must[float64](t)(BendMultiple(BatteryCable, c.Outside, 0))
		row.Printed("bend_radius_6x_in", float64(must[unit.Length](t)(BendRadius(m, c.Outside))/Inch))
		row.Printed("bend_radius_4x_in", float64(must[unit.Length](t)(BendRadius(4, c.Outside))/Inch))
	}
}

// At one radius the strain goes with the strand: flexible 4/0 AWG has a tenth of
// that of class B, and a solid wire the most. To first order it is d/(2r).
func TestStrandStrain(t *testing.T) {
	r := 4.32 * Inch
	of := func(s Stranding) float64 { return must[float64](t)(StrandStrain(Wire{AWG(-3), Copper, s, false}, r)) }
	assert.InEpsilon(t, 0.0100/(2*4.32+0.01), of(Flexible), 1e-12)
	assert.InEpsilon(t, 10, of(Stranded)/of(Flexible), 0.06)
	assert.Greater(t, of(Solid), of(Stranded))
	assert.InEpsilon(t, 0.46/(2*4.32+0.46), of(Solid), 1e-12)
	_, err := StrandStrain(Wire{}, r)
	refused(t, err, "size")
	_, err = StrandStrain(Wire{MetricSize(35 * SquareMillimetre), Copper, Flexible, false}, r)
	refused(t, err, "AWG or kcmil")
	bounds(t, "radius", 1e-3, 10, func(x float64) error {
		_, err := StrandStrain(solid(AWG(10)), unit.Length(x))
		return err
	})
}
