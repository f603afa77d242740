package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestDCTableAgainstFile(t *testing.T) {
	table := reftest.Rows(t, "motor/nec_430_247.csv")
	require.Len(t, table, len(table247.rows), "rows in the code and in the file")
	for _, row := range table {
		for _, c := range []column{
			{"i_90v_a", 90},
			{"i_120v_a", 120},
			{"i_180v_a", 180},
			{"i_240v_a", 240},
			{"i_500v_a", 500},
			{"i_550v_a", 550},
		} {
			got, err := CodeDCFullLoadCurrent(hp(row, "hp_decimal"), c.volts)
			if !row.Has(c.name) {
				require.ErrorIs(t, err, ErrDomain, "%s %s", row.Source(), c.name)
				continue
			}
			require.NoError(t, err, row.Source())
			row.Printed(c.name, float64(got))
		}
	}
}

// Each column rises with the horsepower; half the voltage takes twice the
// current; no motor gives more than it takes.
func TestDCTableLaws(t *testing.T) {
	for i, v := range table247.volts {
		last := 0.0
		for _, r := range table247.rows {
			a := r.amps[i]
			if a == 0 {
				continue
			}
			assert.Greater(t, a, last, "%v V %s hp", v, r.printed)
			last = a
			efficiency := 746 * r.hp / (v * a)
			assert.True(t, efficiency > 0.45 && efficiency < 0.95, "%v V %s hp: %v", v, r.printed, efficiency)
		}
	}
	const v90, v120, v180, v240, v500, v550 = 0, 1, 2, 3, 4, 5
	for _, law := range []struct {
		a, b          int
		lo, hi, round float64
	}{
		{v120, v240, 1.9, 2.1, 0},
		{v90, v180, 1.9, 2.1, 0.05},
		{v500, v550, 1.07, 1.13, 0.5},
		{v240, v500, 2.03, 2.13, 0.5},
	} {
		for _, r := range table247.rows {
			a, b := r.amps[law.a], r.amps[law.b]
			if a != 0 && b != 0 {
				assert.Less(t, (a-law.round)/(b+law.round), law.hi, "%s hp, columns %d and %d", r.printed, law.a, law.b)
				assert.Greater(t, (a+law.round)/(b-law.round), law.lo, "%s hp, columns %d and %d", r.printed, law.a, law.b)
			}
		}
	}
}

func TestDCTableRefuses(t *testing.T) {
	for text, f := range map[string]func() (unit.Current, error){
		"want a column of NEC Table 430.247: 90, 120": func() (unit.Current, error) { return CodeDCFullLoadCurrent(Horsepower, 48) },
		"next are 1/2 and 3/4 hp":                     func() (unit.Current, error) { return CodeDCFullLoadCurrent(0.6*Horsepower, 120) },
		"it begins at 1/4 hp":                         func() (unit.Current, error) { return CodeDCFullLoadCurrent(0.1*Horsepower, 120) },
		"it ends at 200 hp":                           func() (unit.Current, error) { return CodeDCFullLoadCurrent(250*Horsepower, 500) },
		"at 90 V, which lists 1/4 to 1 hp":            func() (unit.Current, error) { return CodeDCFullLoadCurrent(5*Horsepower, 90) },
		"output 0.00134102 hp (1 W)":                  func() (unit.Current, error) { return CodeDCFullLoadCurrent(1, 90) },
		"armature voltage NaN V":                      func() (unit.Current, error) { return CodeDCFullLoadCurrent(Horsepower, unit.Voltage(math.NaN())) },
	} {
		_, err := f()
		require.ErrorIs(t, err, ErrDomain)
		assert.ErrorContains(t, err, text)
	}
	for _, x := range append([]float64{0, 115, 239.9}, bad...) {
		_, err := CodeDCFullLoadCurrent(Horsepower, unit.Voltage(x))
		require.ErrorIs(t, err, ErrDomain)
		_, err = CodeDCFullLoadCurrent(unit.Power(x)*Horsepower*1e6, 240)
		require.ErrorIs(t, err, ErrDomain)
	}
}
