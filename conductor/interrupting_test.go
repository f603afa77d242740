package conductor

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

var fuseNames = map[string]BatteryFuse{
	"class T": ClassT, "strip": StripFuseLink, "terminal": TerminalFuse, "bolt-in 51 mm": LargeBoltInFuse,
	"bolt-in 30 mm": SmallBoltInFuse, "blade": BladeFuse,
}

func TestBatteryInterrupting(t *testing.T) {
	places := map[string]DevicePlace{
		"uncovered": Uncovered, "sheathed at battery": SheathedAtBattery, "sheathed elsewhere": SheathedElsewhere,
	}
	capacity := func(row reftest.Row) float64 {
		marks := must[[]InterruptingMark](t)(TypicalInterrupting(fuseNames[row.ParamText("fuse")]))
		c := must[InterruptingCheck](t)(CheckInterrupting(marks, unit.Voltage(row.Param("V", "V")), 1000))
		assert.True(t, c.Marked, row.Source())
		// One volt more is outside the mark or has another.
		above := must[InterruptingCheck](t)(CheckInterrupting(marks, unit.Voltage(row.Param("V", "V"))+1, 1000))
		assert.Less(t, above.Capacity, c.Capacity, row.Source())
		return float64(c.Capacity)
	}
	rows := reftest.Rows(t, "conductor/battery_interrupting.csv")
	require.Len(t, rows, 22)
	for _, row := range rows {
		switch row.Text("kind") {
		case "main":
			main, _, err := BoatInterrupting(unit.Current(row.Param("CCA", "A")))
			require.NoError(t, err)
			row.Expected(float64(main))
		case "branch":
			_, branch, err := BoatInterrupting(unit.Current(row.Param("CCA", "A")))
			require.NoError(t, err)
			row.Expected(float64(branch))
		case "large":
			row.Expected(float64(must[unit.Current](t)(LargeBankInterrupting(unit.Current(row.Param("Isc", "A"))))))
		case "bank":
			i := must[unit.Current](t)(BankShortCircuit(unit.Current(row.Param("I", "A")),
				int(row.Param("s", "")), int(row.Param("p", ""))))
			row.Expected(float64(i))
		case "mark":
			row.Expected(capacity(row))
		case "ac mark":
			row.Rejects("expected", capacity(row), 0.5)
		case "distance":
			row.Expected(float64(must[unit.Length](t)(FarthestDevice(places[row.ParamText("place")])) / Inch))
		case "limit":
			iz := unit.Current(row.Param("Iz", "A"))
			d := must[DeviceChoice](t)(Protection{Running: 10, Ampacity: iz, Limit: BoatLimit}.Device())
			row.Expected(float64(100 * d.Most / iz))
		default:
			t.Fatal(row.Source())
		}
	}
}

func TestMarksAgainstShortCircuits(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/battery_short_circuit.csv") {
		check := func(names string, holds bool) {
			for name := range strings.SplitSeq(names, ";") {
				if name == "" {
					continue
				}
				marks := must[[]InterruptingMark](t)(TypicalInterrupting(fuseNames[name]))
				c := must[InterruptingCheck](t)(CheckInterrupting(marks, unit.Voltage(row.Float("volts")), unit.Current(row.Float("current_a"))))
				assert.Equal(t, holds, c.Holds, "%s: %s", row.Source(), name)
				assert.Equal(t, holds, c.Margin >= 0, "%s: %s", row.Source(), name)
			}
		}
		check(row.Text("holds"), true)
		check(row.Text("fails"), false)
		hold := 0
		for _, k := range fuseNames {
			marks := must[[]InterruptingMark](t)(TypicalInterrupting(k))
			c := must[InterruptingCheck](t)(CheckInterrupting(marks, unit.Voltage(row.Float("volts")), unit.Current(row.Float("current_a"))))
			if c.Holds {
				hold++
			}
		}
		row.Printed("kinds_that_hold", float64(hold))
	}
}

// A mark for alternating current, however large, makes no device fit for direct
// current; of several marks the nearest one above the voltage counts, in any
// order.
func TestCheckInterrupting(t *testing.T) {
	ac := []InterruptingMark{{Voltage: 600, Capacity: 200e3, AC: true}}
	c := must[InterruptingCheck](t)(CheckInterrupting(ac, 12, 100))
	assert.Equal(t, InterruptingCheck{Margin: -1}, c)
	marks := []InterruptingMark{{Voltage: 58, Capacity: 2000}, {Voltage: 14, Capacity: 10e3}, {Voltage: 32, Capacity: 5000}}
	for v, want := range map[unit.Voltage]unit.Current{12: 10e3, 14: 10e3, 14.1: 5000, 32: 5000, 33: 2000, 58: 2000, 58.1: 0} {
		c := must[InterruptingCheck](t)(CheckInterrupting(marks, v, 2000))
		assert.Equal(t, want, c.Capacity, v)
		assert.Equal(t, want > 0, c.Marked, v)
	}
	c = must[InterruptingCheck](t)(CheckInterrupting(marks, 58, 2000))
	assert.True(t, c.Holds, "equal is enough")
	c = must[InterruptingCheck](t)(CheckInterrupting(marks, 58, 2000.001))
	assert.False(t, c.Holds)
	assert.InDelta(t, 0, c.Margin, 1e-6)

	_, err := CheckInterrupting(nil, 12, 100)
	refused(t, err, "interrupting marks none")
	_, err = CheckInterrupting([]InterruptingMark{{Voltage: 32, Capacity: 5000}, {}}, 12, 100)
	refused(t, err, "mark 2")
	bounds(t, "system voltage", 1, 1500, func(x float64) error {
		_, err := CheckInterrupting(marks, unit.Voltage(x), 100)
		return err
	})
	bounds(t, "fault current", 1, 1e6, func(x float64) error {
		_, err := CheckInterrupting(marks, 12, unit.Current(x))
		return err
	})
}

func TestTypicalInterrupting(t *testing.T) {
	for k := ClassT; k <= BladeFuse; k++ {
		marks := must[[]InterruptingMark](t)(TypicalInterrupting(k))
		require.NotEmpty(t, marks)
		marks[0] = InterruptingMark{}
		again := must[[]InterruptingMark](t)(TypicalInterrupting(k))
		assert.NotEqual(t, marks[0], again[0], "the table is the package's own")
		for _, m := range again {
			assert.True(t, m.ok())
		}
	}
	for _, k := range []BatteryFuse{0, BladeFuse + 1, 255} {
		_, err := TypicalInterrupting(k)
		refused(t, err, "kind of fuse")
	}
}

func TestBoatInterruptingSteps(t *testing.T) {
	last := unit.Current(0)
	for cca := unit.Current(10); cca <= 3000; cca += 0.5 {
		main, branch, err := BoatInterrupting(cca)
		require.NoError(t, err)
		assert.Equal(t, main, 2*branch)
		assert.GreaterOrEqual(t, main, last)
		last = main
	}
	bounds(t, "cold cranking current", 10, 1e5, func(x float64) error {
		_, _, err := BoatInterrupting(unit.Current(x))
		return err
	})
}

func TestLargeBank(t *testing.T) {
	assert.False(t, IsLargeBank(2200, 500*AmpereHour))
	assert.True(t, IsLargeBank(2200.5, 0))
	assert.True(t, IsLargeBank(0, 500.5*AmpereHour))
	assert.False(t, NeedsDevicePerBattery(500*AmpereHour))
	assert.True(t, NeedsDevicePerBattery(500.5*AmpereHour))
	assert.False(t, NeedsDevicePerBattery(unit.Charge(math.NaN())))
	assert.False(t, IsLargeBank(unit.Current(math.NaN()), unit.Charge(math.NaN())))
	for i := unit.Current(1); i <= 1e6; i *= 1.1 {
		assert.GreaterOrEqual(t, must[unit.Current](t)(LargeBankInterrupting(i)), i, "never below the current that can flow")
	}
	bounds(t, "fault current", 1, 1e6, func(x float64) error {
		_, err := LargeBankInterrupting(unit.Current(x))
		return err
	})
}
