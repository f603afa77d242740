package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

type lookUp func(unit.Power, unit.Voltage, int) (unit.Current, error)

// column is a CSV column with its voltage.
type column struct {
	name  string
	volts unit.Voltage
}

func compareTable(t *testing.T, file string, phases int, at lookUp, rows int, columns ...column) {
	t.Helper()
	table := reftest.Rows(t, file)
	require.Len(t, table, rows, "rows in the code and in the file")
	for _, row := range table {
		for _, c := range columns {
			got, err := at(hp(row, "hp_decimal"), c.volts, phases)
			if !row.Has(c.name) {
				assert.ErrorIs(t, err, ErrDomain, "%s %s", row.Source(), c.name)
				continue
			}
			require.NoError(t, err, row.Source())
			row.Printed(c.name, float64(got))
		}
	}
}

func TestCodeTablesAgainstFiles(t *testing.T) {
	compareTable(t, "motor/nec_430_248.csv", 1, CodeFullLoadCurrent, len(table248.rows),
		column{"i_115v_a", 115}, column{"i_200v_a", 200}, column{"i_208v_a", 208}, column{"i_230v_a", 230})
	compareTable(t, "motor/nec_430_250.csv", 3, CodeFullLoadCurrent, len(table250.rows),
		column{"i_115v_a", 115}, column{"i_200v_a", 200}, column{"i_208v_a", 208}, column{"i_230v_a", 230},
		column{"i_460v_a", 460}, column{"i_575v_a", 575}, column{"i_2300v_a", 2300})
	compareTable(t, "motor/nec_430_251a.csv", 1, CodeLockedRotorCurrent, len(table251A.rows),
		column{"lrc_115v_a", 115}, column{"lrc_208v_a", 208}, column{"lrc_230v_a", 230})
	compareTable(t, "motor/nec_430_251b.csv", 3, CodeLockedRotorCurrent, len(table251B.rows),
		column{"lrc_115v_a", 115}, column{"lrc_200v_a", 200}, column{"lrc_208v_a", 208}, column{"lrc_230v_a", 230},
		column{"lrc_460v_a", 460}, column{"lrc_575v_a", 575})
}

func TestCodeTablesAvoidMisprints(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/code_tables_wrong.csv") {
		at := CodeFullLoadCurrent
		if row.Text("table") == "locked" {
			at = CodeLockedRotorCurrent
		}
		i, err := at(hp(row, "hp"), unit.Voltage(row.Float("v")), 3)
		require.NoError(t, err)
		row.Rejects("wrong_a", float64(i), 0.01)
	}
}

func TestCodeTablesInWorkedExamples(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/nec_430_worked.csv") {
		i, err := CodeFullLoadCurrent(unit.Power(row.Param("hp", "hp"))*Horsepower, volts(row), phases(row))
		require.NoError(t, err)
		row.Expected(1.25 * float64(i))
	}
}

// columnOf returns the amperes of a class by row.
func columnOf(t codeTable, v float64) []float64 {
	c, out := t.column(v), make([]float64, len(t.rows))
	for i, r := range t.rows {
		out[i] = r.amps[c]
	}
	return out
}

// Each column of each table rises with the horsepower, and the current of a
// higher voltage is lower.
func TestCodeTablesAreMonotone(t *testing.T) {
	for _, table := range []codeTable{table248, table250, table251A, table251B} {
		for _, v := range table.volts {
			if v == 0 {
				continue
			}
			last := 0.0
			for i, a := range columnOf(table, v) {
				if a == 0 {
					continue
				}
				assert.Greater(t, a, last, "%s %v V row %s", table.name, v, table.rows[i].printed)
				last = a
			}
		}
		lastHP := 0.0
		for _, r := range table.rows {
			assert.Greater(t, r.hp, lastHP)
			lastHP = r.hp
			last := math.Inf(1)
			for i, a := range r.amps {
				if a != 0 {
					assert.Less(t, a, last, "%s %s hp %v V", table.name, r.printed, table.volts[i])
					last = a
				}
			}
		}
	}
}

// ratios checks that a/b stays between lo and hi, each printed value standing
// for what rounds to it, wherever the row has both and is in the span.
func ratios(t *testing.T, table codeTable, va, vb, lo, hi, round float64) {
	t.Helper()
	a, b := columnOf(table, va), columnOf(table, vb)
	for i := range a {
		if a[i] == 0 || b[i] == 0 {
			continue
		}
		assert.GreaterOrEqual(t, a[i]+round, lo*(b[i]-round), "%s: %s hp, %v against %v V", table.name, table.rows[i].printed, va, vb)
		assert.LessOrEqual(t, a[i]-round, hi*(b[i]+round), "%s: %s hp, %v against %v V", table.name, table.rows[i].printed, va, vb)
	}
}

func TestLawsOfCodeTables(t *testing.T) {
	const tiny = 1e-9
	ratios(t, table248, 115, 230, 2, 2, tiny)
	ratios(t, table248, 208, 230, 1.09, 1.11, 0.05)
	ratios(t, table248, 200, 230, 1.136, 1.15, 0.05)
	ratios(t, table250, 230, 460, 2, 2, tiny)
	ratios(t, table250, 200, 230, 1.136, 1.157, tiny)
	ratios(t, table250, 208, 230, 1.083, 1.105, tiny)
	ratios(t, table250, 575, 460, 0.785, 0.82, tiny)
	ratios(t, table251A, 115, 230, 2, 2, tiny)
	ratios(t, table251A, 208, 115, 115.0/208, 115.0/208, 0.3)
	ratios(t, table251B, 460, 230, 0.5, 0.5, 0.5)
	ratios(t, table251B, 575, 230, 0.4, 0.4, 0.5)
	ratios(t, table251B, 200, 230, 1.15, 1.15, 0.5)
	ratios(t, table251B, 208, 230, 1.10, 1.11, 0.05)
	ratios(t, table251B, 115, 230, 2, 2, tiny)
}

// Six times the full-load table is what 430.251(A) is at 115 and 230 V.
func TestSingleLockedRotorIsSixTimesFullLoad(t *testing.T) {
	for _, r := range table251A.rows {
		for _, v := range []unit.Voltage{115, 230} {
			full, err := CodeFullLoadCurrent(unit.Power(r.hp)*Horsepower, v, 1)
			require.NoError(t, err)
			locked, err := CodeLockedRotorCurrent(unit.Power(r.hp)*Horsepower, v, 1)
			require.NoError(t, err)
			assert.InDelta(t, 6*float64(full), float64(locked), 1e-9)
		}
	}
}

// For three phases six is wrong: small motors stand at seven to nine.
func TestThreePhaseLockedRotorIsNotSixTimes(t *testing.T) {
	for p, want := range map[unit.Power]float64{0.5: 9.09, 1: 7.14, 5: 6.05} {
		full, err := CodeFullLoadCurrent(p*Horsepower, 230, 3)
		require.NoError(t, err)
		locked, err := CodeLockedRotorCurrent(p*Horsepower, 230, 3)
		require.NoError(t, err)
		assert.InDelta(t, want, float64(locked/full), 0.01)
	}
}

// The table leaves room for the worst motor: output over volt-amperes is far
// below what motors of the size reach.
func TestFullLoadTableIsPessimistic(t *testing.T) {
	for p, want := range map[unit.Power]float64{0.5: 0.331, 1: 0.405, 2: 0.541} {
		i, err := CodeFullLoadCurrent(p*Horsepower, 230, 1)
		require.NoError(t, err)
		assert.InDelta(t, want, float64(p*Horsepower)/(230*float64(i)), 0.001)
	}
}

func TestSystemVoltages(t *testing.T) {
	for _, tt := range []struct {
		v    unit.Voltage
		want unit.Current
	}{
		{110, 9.8},
		{115, 9.8},
		{120, 9.8},
		{220, 4.9},
		{230, 4.9},
		{240, 4.9},
		{200, 5.6},
		{208, 5.4},
		{109.9, 0},
		{120.1, 0},
		{219, 0},
		{241, 0},
		{201, 0},
		{277, 0},
		{460, 0},
	} {
		got, err := CodeFullLoadCurrent(0.5*Horsepower, tt.v, 1)
		assert.InDelta(t, float64(tt.want), float64(got), 0, tt.v)
		if tt.want == 0 {
			assert.ErrorIs(t, err, ErrDomain, tt.v)
		}
	}
	for v, want := range map[unit.Voltage]unit.Current{440: 1.1, 480: 1.1, 550: 0.9, 600: 0.9} {
		got, err := CodeFullLoadCurrent(0.5*Horsepower, v, 3)
		require.NoError(t, err)
		assert.InDelta(t, float64(want), float64(got), 0)
	}
}

func TestNoInterpolation(t *testing.T) {
	for _, tt := range []struct {
		p      unit.Power
		v      unit.Voltage
		phases int
		at     lookUp
		want   string
	}{
		{0.6 * Horsepower, 115, 1, CodeFullLoadCurrent, "next are 1/2 and 3/4 hp"},
		{0.37 * Kilowatt, 115, 1, CodeFullLoadCurrent, "next are 1/3 and 1/2 hp"},
		{0.1 * Horsepower, 115, 1, CodeFullLoadCurrent, "begins at 1/6 hp"},
		{15 * Horsepower, 230, 1, CodeFullLoadCurrent, "ends at 10 hp"},
		{1.0 / 3 * Horsepower, 115, 1, CodeLockedRotorCurrent, "begins at 1/2 hp"},
		{5 * Horsepower, 115, 3, CodeFullLoadCurrent, "lists 1/2 to 2 hp"},
		{250 * Horsepower, 230, 3, CodeFullLoadCurrent, "lists 1/2 to 200 hp"},
		{0.5 * Horsepower, 277, 1, CodeFullLoadCurrent, "115, 200, 208, 230 V"},
		{0.5 * Horsepower, 200, 1, CodeLockedRotorCurrent, "115, 208, 230 V"},
		{1, 115, 1, CodeFullLoadCurrent, "(1 W)"},
		{0.5 * Horsepower, 115, 2, CodeFullLoadCurrent, "phases 2, want 1 or 3"},
	} {
		_, err := tt.at(tt.p, tt.v, tt.phases)
		require.ErrorIs(t, err, ErrDomain)
		assert.ErrorContains(t, err, tt.want)
	}
	// Both faults at once.
	_, err := CodeFullLoadCurrent(0.6*Horsepower, 277, 1)
	assert.ErrorContains(t, err, "277")
	assert.ErrorContains(t, err, "3/4 hp")
}

func TestRoundedHorsepowerIsAccepted(t *testing.T) {
	for _, p := range []unit.Power{746, 745.7, Horsepower, 0.9995 * Horsepower} {
		i, err := CodeFullLoadCurrent(p, 230, 1)
		require.NoError(t, err)
		assert.InDelta(t, 8, float64(i), 0)
	}
	_, err := CodeFullLoadCurrent(0.33*Horsepower, 115, 1)
	assert.ErrorIs(t, err, ErrDomain, "0.33 hp is not the 1/3 hp of the table to 0.1 %%")
}

func TestCodeTablesRefuseNonsense(t *testing.T) {
	for _, at := range []lookUp{CodeFullLoadCurrent, CodeLockedRotorCurrent} {
		for _, m := range []int{1, 3} {
			for _, x := range append([]float64{0}, bad...) {
				_, err := at(unit.Power(x), 230, m)
				assert.ErrorIs(t, err, ErrDomain)
				_, err = at(Horsepower, unit.Voltage(x), m)
				assert.ErrorIs(t, err, ErrDomain)
			}
		}
	}
}

func TestServiceFactorAgainstTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/service_factor.csv") {
		last := 2.0
		for poles, name := range map[int]string{2: "sf_2pole", 4: "sf_4pole", 6: "sf_6pole", 8: "sf_8pole"} {
			got, err := GeneralPurposeServiceFactor(hp(row, "hp"), poles)
			require.NoError(t, err)
			row.Printed(name, got)
		}
		for poles := 2; poles <= 8; poles += 2 { // never larger for a slower motor
			got, err := GeneralPurposeServiceFactor(hp(row, "hp"), poles)
			require.NoError(t, err)
			assert.LessOrEqual(t, got, last)
			last = got
		}
	}
	for poles := 2; poles <= 8; poles += 2 { // never larger for a larger motor
		last := 2.0
		for p := 0.05; p <= 200; p *= 1.1 {
			got, err := GeneralPurposeServiceFactor(unit.Power(p)*Horsepower, poles)
			require.NoError(t, err)
			assert.LessOrEqual(t, got, last)
			last = got
		}
	}
	for _, poles := range []int{0, -2, 3, 10} {
		_, err := GeneralPurposeServiceFactor(Horsepower, poles)
		assert.ErrorIs(t, err, ErrDomain)
	}
	_, err := GeneralPurposeServiceFactor(1, 4)
	assert.ErrorIs(t, err, ErrDomain)
	for p, want := range map[unit.Power]bool{0.05: true, 0.0499: false, 200: true, 200.1: false} {
		_, err := GeneralPurposeServiceFactor(p*Horsepower, 2)
		assert.Equal(t, want, err == nil, p)
	}
}
