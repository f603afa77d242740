package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// Every published resistance lies in the typical band of its type.
func TestTypicalResistance(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/internal_resistance.csv") {
		c := must[Chemistry](t)(ParseChemistry(row.Text("chemistry")))
		b := Block{
			Chemistry: c, Voltage: unit.Voltage(row.Float("nominal_v")), Exponent: 1.1,
			Rating: Rating{Capacity: unit.Charge(row.Float("capacity_ah")) * AmpereHour, Time: 20 * Hour},
		}
		r, typical, err := b.InternalResistance()
		require.NoError(t, err)
		assert.True(t, typical)
		printed := row.Float("resistance_mohm")
		lo, hi := float64(r.Low/Milliohm), float64(r.High/Milliohm)
		assert.True(t, printed >= lo && printed <= hi, "%s: %v to %v", row.Source(), lo, hi)
	}
	for _, x := range junk {
		_, err := TypicalResistance(AGM, unit.Charge(x))
		refused(t, err)
	}
	_, err := TypicalResistance(0, 100*AmpereHour)
	refused(t, err)
}

func TestColdResistance(t *testing.T) {
	r := must[unit.Resistance](t)(ColdResistance(5*Milliohm, Celsius(25)))
	assert.InDelta(t, 5, float64(r/Milliohm), 1e-12)
	r = must[unit.Resistance](t)(ColdResistance(5*Milliohm, Celsius(-10)))
	assert.InDelta(t, 10, float64(r/Milliohm), 1e-12)
	for _, x := range []float64{-40.1, 60.1, math.NaN(), math.Inf(1)} {
		_, err := ColdResistance(5*Milliohm, Celsius(x))
		refused(t, err)
	}
	for _, x := range []float64{0, -1, 11, math.NaN(), math.Inf(1)} {
		_, err := ColdResistance(unit.Resistance(x), Celsius(20))
		refused(t, err)
	}
}

func TestResistanceFromReadings(t *testing.T) {
	rest, load := Reading{Voltage: 12.7}, Reading{Voltage: 12.2, Current: 75}
	r, open, err := ResistanceFromReadings(rest, load)
	require.NoError(t, err)
	assert.InDelta(t, 6.667, float64(r/Milliohm), 0.001)
	assert.InDelta(t, 12.7, float64(open), 1e-12)
	r2, open2, err := ResistanceFromReadings(load, rest)
	require.NoError(t, err)
	assert.InDelta(t, float64(r), float64(r2), 1e-15, "in either order")
	assert.InDelta(t, float64(open), float64(open2), 1e-12)
	for _, bad := range []Reading{
		{Voltage: 12.8, Current: 75},
		{Voltage: 12.7, Current: 75},
		{Voltage: 12.2, Current: 0.05},
		{Voltage: 12.2, Current: -75},
		{Voltage: 0.4, Current: 75},
		{Voltage: 1501, Current: 75},
		{Voltage: unit.Voltage(math.NaN()), Current: 75},
		{Voltage: 12.2, Current: unit.Current(math.Inf(1))},
		{},
	} {
		_, _, err := ResistanceFromReadings(rest, bad)
		refused(t, err, "%+v", bad)
	}
}

func TestFaultCurrentBounds(t *testing.T) {
	v := Range[unit.Voltage]{Low: 12, High: 13}
	r := Range[unit.Resistance]{Low: 2 * Milliohm, High: 10 * Milliohm}
	i := must[Range[unit.Current]](t)(FaultCurrent(v, r))
	assert.InDelta(t, 1200, float64(i.Low), 1e-9)
	assert.InDelta(t, 6500, float64(i.High), 1e-9)
	for _, x := range junk {
		if x != 1e-3 {
			_, err := FaultCurrent(v, Range[unit.Resistance]{Low: unit.Resistance(x), High: 10})
			refused(t, err)
		}
		_, err := FaultCurrent(Range[unit.Voltage]{Low: unit.Voltage(x), High: 13}, r)
		refused(t, err)
	}
	_, err := FaultCurrent(Range[unit.Voltage]{Low: 13, High: 12}, r)
	refused(t, err)
	_, err = FaultCurrent(v, Range[unit.Resistance]{Low: 2, High: 1})
	refused(t, err)
}
