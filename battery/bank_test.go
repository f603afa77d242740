package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// golf is a flooded 6 V block.
var golf = Block{
	Chemistry: Flooded, Voltage: 6, Rating: Rating{Capacity: 225 * AmpereHour, Time: 20 * Hour}, Exponent: 1.24,
	Resistance: Range[unit.Resistance]{Low: 2 * Milliohm, High: 3 * Milliohm},
}

var pair = Bank{Block: golf, Series: 2, Parallel: 2}

func TestBank(t *testing.T) {
	require.NoError(t, pair.Validate())
	assert.InDelta(t, 12, float64(pair.Voltage()), 1e-12)
	assert.InDelta(t, 450, ampereHours(pair.Rating().Capacity), 1e-9)
	assert.Equal(t, 20*Hour, pair.Rating().Time)
	assert.InDelta(t, 5400, float64(pair.Energy()/WattHour), 1e-9)
	r, typical, err := pair.InternalResistance(0)
	require.NoError(t, err)
	assert.False(t, typical)
	assert.InDelta(t, 2, float64(r.Low/Milliohm), 1e-12)
	assert.InDelta(t, 3, float64(r.High/Milliohm), 1e-12)
	r, _, err = pair.InternalResistance(0.5 * Milliohm)
	require.NoError(t, err)
	assert.InDelta(t, 2.25, float64(r.Low/Milliohm), 1e-12, "one link in each of two strings")
}

// The bank's law at the bank's current is the block's law at the string's.
func TestBankPeukert(t *testing.T) {
	for _, i := range []unit.Current{1, 22.5, 75, 300} {
		bank := must[unit.Time](t)(pair.Peukert().Runtime(i))
		each := must[unit.Current](t)(pair.StringCurrent(i))
		block := must[unit.Time](t)(golf.Peukert().Runtime(each))
		assert.InEpsilon(t, float64(block), float64(bank), 1e-12)
		assert.InDelta(t, float64(i)/2, float64(each), 1e-12)
		if i > 22.5 {
			// The bank's current on one block's capacity is the mistake.
			wrong := must[unit.Time](t)(golf.Peukert().Runtime(i))
			assert.Less(t, float64(2*wrong), float64(bank), "a second string more than doubles the time")
		}
	}
	b := pair
	b.Block.Most = 250 * AmpereHour
	assert.InDelta(t, 500, ampereHours(b.Peukert().Most), 1e-9)
}

func TestBankTypicalResistance(t *testing.T) {
	b := pair
	b.Block.Resistance = Range[unit.Resistance]{}
	r, typical, err := b.InternalResistance(0)
	require.NoError(t, err)
	assert.True(t, typical)
	assert.InDelta(t, 3*120.0/225, float64(r.Low/Milliohm), 1e-9)
	assert.InDelta(t, 3*250.0/225, float64(r.High/Milliohm), 1e-9)
}

func TestBankOpenCircuit(t *testing.T) {
	b := Bank{
		Block:  Block{Chemistry: AGM, Voltage: 12, Rating: Rating{Capacity: 100 * AmpereHour, Time: 20 * Hour}, Exponent: 1.1},
		Series: 4, Parallel: 1,
	}
	v, err := b.OpenCircuit(0.5, Fahrenheit(80))
	require.NoError(t, err)
	assert.InDelta(t, 4*12.25, float64(v.Low), 1e-9)
	assert.InDelta(t, 4*12.35, float64(v.High), 1e-9)
	s, err := b.StateOfCharge(4*12.25, Fahrenheit(80))
	require.NoError(t, err)
	assert.InDelta(t, 0.40, s.Low, 1e-9)
	assert.InDelta(t, 0.50, s.High, 1e-9)
	v, err = b.Block.OpenCircuit(0.5, Fahrenheit(80))
	require.NoError(t, err)
	assert.InDelta(t, 12.25, float64(v.Low), 1e-9)
	s, err = b.Block.StateOfCharge(12.25, Fahrenheit(80))
	require.NoError(t, err)
	assert.InDelta(t, 0.50, s.High, 1e-9)
	_, err = b.StateOfCharge(12.25, Fahrenheit(80))
	refused(t, err, "a block's voltage for a bank's")
	_, err = b.OpenCircuit(1.1, Fahrenheit(80))
	refused(t, err)
	_, err = Bank{}.OpenCircuit(1, Fahrenheit(80))
	refused(t, err)
	_, err = Bank{}.StateOfCharge(12, Fahrenheit(80))
	refused(t, err)
}

func TestBankFaultCurrent(t *testing.T) {
	i, err := pair.FaultCurrent(0)
	require.NoError(t, err)
	assert.InDelta(t, 12.70/0.002, float64(i.High), 20)
	assert.InDelta(t, 11.58/0.009, float64(i.Low), 30)
	far, err := pair.FaultCurrent(5 * Milliohm)
	require.NoError(t, err)
	assert.Less(t, float64(far.High), float64(i.High)/3)
	_, err = pair.FaultCurrent(-1)
	refused(t, err)
	_, err = pair.FaultCurrent(unit.Resistance(math.NaN()))
	refused(t, err)
	_, err = Bank{}.FaultCurrent(0)
	refused(t, err)
}

func TestBankBounds(t *testing.T) {
	refused(t, Bank{}.Validate())
	for _, n := range []int{0, -1, 501, math.MaxInt, math.MinInt} {
		b := pair
		b.Series = n
		refused(t, b.Validate())
		b = pair
		b.Parallel = n
		refused(t, b.Validate())
	}
	b := pair
	b.Series = 300
	refused(t, b.Validate(), "1800 V")
	b.Series = 250
	require.NoError(t, b.Validate())
	b = pair
	b.Block.Rating.Capacity = 90e3 * AmpereHour
	refused(t, b.Validate(), "180 kAh")
	for _, r := range []Range[unit.Resistance]{{Low: 2, High: 1}, {Low: 2}, {High: 2}, {Low: -1, High: 1}, {Low: 1, High: 11}, {Low: unit.Resistance(math.NaN()), High: 1}} {
		b := pair
		b.Block.Resistance = r
		refused(t, b.Validate(), "%v", r)
	}
	for _, x := range junk {
		if x != 1e-3 {
			_, err := pair.StringCurrent(unit.Current(x))
			refused(t, err)
		}
		if x != 0 && x != 1e-3 && x != math.SmallestNonzeroFloat64 {
			_, _, err := pair.InternalResistance(unit.Resistance(x))
			refused(t, err)
		}
		b := pair
		b.Block.Voltage = unit.Voltage(x)
		refused(t, b.Validate())
	}
	_, _, err := Block{}.InternalResistance()
	refused(t, err)
	// The bare accessors of a zero bank do not panic.
	assert.Zero(t, Bank{}.Voltage())
	assert.Zero(t, Bank{}.Rating())
	assert.Zero(t, Bank{}.Energy())
	assert.Zero(t, Bank{}.Peukert())
}

func TestFaultCurrentTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/fault_current.csv") {
		t.Run(row.Text("id"), func(t *testing.T) {
			row := row.With(t)
			scale := 1.0
			if row.Text("unit") == "kA" {
				scale = 1000
			}
			exactly := func(v, ohm float64) float64 {
				i := must[Range[unit.Current]](t)(FaultCurrent(
					Range[unit.Voltage]{Low: unit.Voltage(v), High: unit.Voltage(v)},
					Range[unit.Resistance]{Low: unit.Resistance(ohm), High: unit.Resistance(ohm)}))
				assert.InDelta(t, float64(i.Low), float64(i.High), 0)
				return float64(i.High) / scale
			}
			switch row.Text("kind") {
			case "fault":
				row.Printed("expected", exactly(row.Param("V", "V"), row.Param("R", "mOhm")/1000))
			case "wrong fault":
				row.Rejects("expected", exactly(row.Param("V", "V"), row.Param("R", "mOhm")/1000), 0.001)
			case "links":
				row.Printed("expected", exactly(row.Param("V", "V"), (row.Param("Rb", "mOhm")+row.Param("Rl", "mOhm"))/1000))
			case "bank":
				r := unit.Resistance(row.Param("R", "mOhm")) * Milliohm
				b := Bank{Block: golf, Series: int(row.Param("s", "")), Parallel: int(row.Param("p", ""))}
				b.Block.Resistance = Range[unit.Resistance]{Low: r, High: r}
				all, _, err := b.InternalResistance(0)
				require.NoError(t, err)
				row.Printed("expected", exactly(float64(b.Series)*row.Param("V", "V"), float64(all.High)))
			case "readings":
				r, open, err := ResistanceFromReadings(
					Reading{Voltage: unit.Voltage(row.Param("V1", "V")), Current: unit.Current(row.Param("I1", "A"))},
					Reading{Voltage: unit.Voltage(row.Param("V2", "V")), Current: unit.Current(row.Param("I2", "A"))})
				require.NoError(t, err)
				row.Printed("expected", float64(r/Milliohm))
				assert.InDelta(t, 2.0, float64(open), 1e-9)
			default:
				t.Fatalf("kind %q", row.Text("kind"))
			}
		})
	}
}
