package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestRatingCurrent(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/discharge_rates.csv") {
		r := Rating{Capacity: unit.Charge(row.Float("capacity_ah")) * AmpereHour, Time: unit.Time(row.Float("time_h")) * Hour}
		i, err := r.Current()
		require.NoError(t, err)
		row.Printed("current_a", float64(i))
	}
}

func TestRatingBounds(t *testing.T) {
	good := Rating{Capacity: 100 * AmpereHour, Time: 20 * Hour}
	for _, c := range []unit.Charge{leastCapacity, mostCapacity} {
		r := good
		r.Capacity = c
		assert.NoError(t, r.validate())
	}
	for _, x := range []unit.Time{leastRatingTime, mostRatingTime} {
		r := good
		r.Time = x
		assert.NoError(t, r.validate())
	}
	for _, c := range []unit.Charge{0, -1, 100, 1000, 0.49 * AmpereHour, 100001 * AmpereHour, unit.Charge(math.NaN()), unit.Charge(math.Inf(1))} {
		r := good
		r.Capacity = c
		_, err := r.Current()
		refused(t, err, "%v", c)
	}
	for _, x := range []unit.Time{0, -1, 20, 100, 4.9 * Minute, 501 * Hour, unit.Time(math.NaN()), unit.Time(math.Inf(1))} {
		r := good
		r.Time = x
		_, err := r.Current()
		refused(t, err, "%v", x)
	}
	_, err := Rating{}.Current()
	refused(t, err)
	assert.ErrorContains(t, err, "rated capacity")
	assert.ErrorContains(t, err, "rated time", "all faults at once")
}

// The shortcut is long by what its comment says.
func TestShortcutIsLong(t *testing.T) {
	for c, says := range map[Chemistry]Range[float64]{AGM: {Low: 1.15, High: 1.36}, Flooded: {Low: 1.30, High: 1.71}} {
		k := must[Range[float64]](t)(TypicalExponent(c))
		for _, exponent := range []float64{k.Low, k.High} {
			p := Peukert{Rating: Rating{Capacity: 90 * AmpereHour, Time: 20 * Hour}, Exponent: exponent}
			long := must[unit.Time](t)(ShortcutRuntime(p.Rating.Capacity, 30)) / must[unit.Time](t)(p.Runtime(30))
			assert.True(t, float64(long) >= says.Low && float64(long) <= says.High, "%v %v: %v", c, exponent, float64(long))
		}
	}
}

// TestField runs the worked rows of articles, threads and homework.
func TestField(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/field_worked.csv") {
		t.Run(row.Text("id"), func(t *testing.T) {
			row := row.With(t)
			switch row.Text("kind") {
			case "runtime":
				row.Printed("expected", hours(must[unit.Time](t)(rowPeukert(row).Runtime(rowCurrent(row)))))
			case "wrong runtime":
				row.Rejects("expected", hours(must[unit.Time](t)(rowPeukert(row).Runtime(rowCurrent(row)))), 0.2)
			case "measured":
				row.Within("expected", hours(must[unit.Time](t)(rowPeukert(row).Runtime(rowCurrent(row)))), 0.08,
					"a measured time against an assumed exponent and inverter efficiency")
			case "shortcut":
				x := must[unit.Time](t)(ShortcutRuntime(unit.Charge(row.Param("C", "Ah"))*AmpereHour, rowCurrent(row)))
				scale := Hour
				if row.Text("unit") == "min" {
					scale = Minute
				}
				row.Printed("expected", float64(x/scale))
			case "exponent":
				row.Printed("expected", must[float64](t)(PeukertExponent(rowRating(row, "C", "H"), rowRating(row, "C2", "H2"))))
			case "usable", "usable energy":
				// At the rated current and k = 1 only temperature and depth act.
				r := Rating{Capacity: unit.Charge(row.Param("C", "Ah")) * AmpereHour, Time: 20 * Hour}
				c := Condition{
					Peukert:   Peukert{Rating: r, Exponent: 1},
					Chemistry: Flooded, Temperature: Fahrenheit(row.Param("T", "F")),
					StateOfHealth: 1, StateOfCharge: 1, DepthLimit: row.Param("D", ""),
				}
				u := must[Usable](t)(c.Usable(r.current()))
				if row.Text("kind") == "usable" {
					row.Printed("expected", ampereHours(u.Charge))
				} else {
					row.Printed("expected", float64(u.Energy(unit.Voltage(row.Param("V", "V")))/WattHour))
				}
			default:
				t.Fatalf("kind %q", row.Text("kind"))
			}
		})
	}
}

func TestShortcutRuntimeBounds(t *testing.T) {
	for _, x := range junk {
		_, err := ShortcutRuntime(unit.Charge(x), 10)
		refused(t, err, "%v", x)
		if x != 1e-3 {
			_, err = ShortcutRuntime(100*AmpereHour, unit.Current(x))
			refused(t, err, "%v", x)
		}
	}
}
