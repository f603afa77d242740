package battery

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestExponentFromReserve(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/peukert_exponents.csv") {
		r := Rating{Capacity: unit.Charge(row.Float("capacity_20h_ah")) * AmpereHour, Time: 20 * Hour}
		k, err := ExponentFromReserve(r, unit.Time(row.Float("reserve_min"))*Minute)
		if !row.Has("halves") {
			refused(t, err, row.Source())
			row.Rejects("exponent", k, 0.01)
			continue
		}
		require.NoError(t, err, row.Source())
		row.Digits("exponent", k, row.Float("halves"), "ratings are whole minutes and ampere-hours, and one row misprints; see the file")
		c, err := ParseChemistry(row.Text("chemistry"))
		require.NoError(t, err)
		typical, err := TypicalExponent(c)
		require.NoError(t, err)
		printed := row.Float("exponent")
		assert.True(t, printed >= typical.Low && printed <= typical.High, "%s: %v", row.Source(), typical)
	}
}

func TestPeukertExponentBounds(t *testing.T) {
	a := Rating{Capacity: 100 * AmpereHour, Time: 20 * Hour}
	_, err := PeukertExponent(a, a)
	refused(t, err)
	_, err = PeukertExponent(a, Rating{Capacity: 101 * AmpereHour, Time: 5 * Hour})
	refused(t, err)
	assert.ErrorContains(t, err, "Peukert exponent", "more ampere-hours at the faster rate")
	_, err = PeukertExponent(a, Rating{Capacity: 25 * AmpereHour, Time: 5 * Hour})
	refused(t, err, "one current, two times")
	_, err = PeukertExponent(a, Rating{Capacity: 30 * AmpereHour, Time: 5 * Hour})
	refused(t, err, "above 1.6")
	_, err = PeukertExponent(a, Rating{})
	refused(t, err)
	k, err := PeukertExponent(a, Rating{Capacity: 100 * AmpereHour, Time: 5 * Hour})
	require.NoError(t, err)
	assert.InDelta(t, 1, k, 1e-12)
	for _, x := range junk {
		_, err := ExponentFromReserve(a, unit.Time(x))
		refused(t, err)
	}
	_, err = TypicalExponent(0)
	refused(t, err)
	for c := Flooded; c.Valid(); c++ {
		r, err := TypicalExponent(c)
		require.NoError(t, err)
		assert.True(t, r.Valid() && r.Low >= 1)
	}
}

// rateTables gathers the hour-rate rows of the published tables by battery.
func rateTables(t *testing.T) (names []string, rows map[string][]reftest.Row, tables map[string]Rates) {
	t.Helper()
	rows, tables = map[string][]reftest.Row{}, map[string]Rates{}
	for _, row := range reftest.Rows(t, "battery/discharge_rates.csv") {
		if row.Text("basis") != "hour rate" {
			continue
		}
		n := row.Text("battery")
		if len(rows[n]) == 0 {
			names = append(names, n)
		}
		rows[n] = append(rows[n], row)
		tables[n] = append(tables[n], Rating{
			Capacity: unit.Charge(row.Float("capacity_ah")) * AmpereHour, Time: unit.Time(row.Float("time_h")) * Hour,
		})
	}
	return names, rows, tables
}

// TestRatesLeaveOneOut takes each inner rate out of a published table and
// finds its capacity again from the neighbours.
func TestRatesLeaveOneOut(t *testing.T) {
	names, rows, tables := rateTables(t)
	for _, n := range names {
		table := tables[n]
		for j := 1; j < len(table)-1; j++ {
			i := table[j].current()
			var rest Rates
			for m := len(table) - 1; m >= 0; m-- { // any order
				if m != j {
					rest = append(rest, table[m])
				}
			}
			p, bracketed, err := rest.Peukert(i)
			require.NoError(t, err, rows[n][j].Source())
			assert.True(t, bracketed)
			x, err := p.Current(table[j].Time)
			require.NoError(t, err)
			got := float64(x) * float64(table[j].Time/Hour)
			row := rows[n][j]
			if want := row.Float("capacity_ah"); want >= 3 {
				row.Within("capacity_ah", got, 0.035, "interpolated between neighbouring published rates; both are printed to 0.1 Ah")
			} else {
				row.Digits("capacity_ah", got, 2, "interpolated between neighbouring published rates, themselves rounded to 0.1 Ah")
			}
		}
	}
}

// TestRatesMinutes predicts what a maker timed at one current from what was
// timed at others.
func TestRatesMinutes(t *testing.T) {
	_, _, tables := rateTables(t)
	timed := map[string]Rates{}
	rows := reftest.Rows(t, "battery/discharge_rates.csv")
	for _, row := range rows {
		if row.Text("basis") == "hour rate" {
			continue
		}
		// Of an AGM block 8 A and 25 A predict 15 A; the flooded block has no
		// 8 A, and its minutes are predicted from its hour rates below.
		n := row.Text("battery")
		if i := row.Float("current_a"); i == 8 || i == 25 {
			timed[n] = append(timed[n], Rating{
				Capacity: unit.Charge(i*row.Float("time_h")) * AmpereHour, Time: unit.Time(row.Float("time_h")) * Hour,
			})
		}
	}
	for _, row := range rows {
		n, i := row.Text("battery"), row.Float("current_a")
		table, within, reason := timed[n], 0.015, "interpolated between currents of one test"
		switch {
		case row.Text("basis") == "hour rate" || i == 8:
			continue
		case len(tables[n]) > 1:
			table, within, reason = tables[n], 0.06, "hour rates and timed minutes of this block come from different tests"
		case i == 25:
			continue
		}
		p, _, err := table.Peukert(unit.Current(i))
		require.NoError(t, err, row.Source())
		c, err := p.Capacity(unit.Current(i))
		require.NoError(t, err, row.Source())
		row.Within("capacity_ah", ampereHours(c), within, reason)
	}
}

func TestRatesPeukert(t *testing.T) {
	_, _, tables := rateTables(t)
	table := tables["flooded block A (6 V)"]
	require.Len(t, table, 4)
	// Exact at every row.
	for _, r := range table {
		p, bracketed, err := table.Peukert(r.current())
		require.NoError(t, err)
		assert.True(t, bracketed)
		x, err := p.Runtime(r.current())
		require.NoError(t, err)
		assert.InEpsilon(t, float64(r.Time), float64(x), 1e-9)
	}
	// Slower than the table: held at the 100 h capacity.
	p, bracketed, err := table.Peukert(1)
	require.NoError(t, err)
	assert.False(t, bracketed)
	assert.InDelta(t, 367, ampereHours(must[unit.Charge](t)(p.Capacity(1))), 1e-9)
	// Faster: the two fastest rates.
	p, bracketed, err = table.Peukert(75)
	require.NoError(t, err)
	assert.False(t, bracketed)
	assert.Equal(t, 10*Hour, p.Rating.Time)
	assert.InDelta(t, 367, ampereHours(p.Most), 1e-9)
	// Between 20 h and 10 h.
	p, bracketed, err = table.Peukert(20)
	require.NoError(t, err)
	assert.True(t, bracketed)
	assert.Equal(t, 20*Hour, p.Rating.Time)
	assert.InDelta(t, math.Log(2)/math.Log(30.4/16.5), p.Exponent, 1e-12)

	// Rows from different tests give an exponent below 1.
	mixed := Rates{
		{Capacity: 255 * AmpereHour, Time: 20 * Hour},
		{Capacity: 222.7 * AmpereHour, Time: 27.83 * Hour},
	}
	_, _, err = mixed.Peukert(10)
	refused(t, err)
	for _, i := range junk[:7] {
		_, _, err = table.Peukert(unit.Current(i))
		refused(t, err)
	}
	_, _, err = Rates(nil).Peukert(5)
	refused(t, err)
	_, _, err = table[:1].Peukert(5)
	refused(t, err)
	_, _, err = Rates{table[0], {}}.Peukert(5)
	refused(t, err)
	_, _, err = Rates{table[0], table[0]}.Peukert(5)
	refused(t, err)
}

// The order of a rate table does not matter, and outside the table the two
// nearest rates are taken.
func TestRatesOrder(t *testing.T) {
	_, _, tables := rateTables(t)
	table := tables["flooded block A (6 V)"]
	for _, x := range []struct {
		i          unit.Current
		slow, fast int
		bracketed  bool
	}{{1, 0, 1, false}, {3.67, 0, 1, true}, {10, 0, 1, true}, {20, 1, 2, true}, {40, 2, 3, true}, {54.2, 2, 3, true}, {60, 2, 3, false}} {
		k := must[float64](t)(PeukertExponent(table[x.slow], table[x.fast]))
		for a := range 4 {
			for b := range 4 {
				shuffled := slices.Clone(table)
				shuffled[a], shuffled[b] = shuffled[b], shuffled[a]
				slices.Reverse(shuffled[b:])
				p, bracketed, err := shuffled.Peukert(x.i)
				require.NoError(t, err)
				assert.Equal(t, x.bracketed, bracketed, "%v", x)
				assert.Equal(t, table[x.slow], p.Rating, "%v", x)
				assert.InDelta(t, k, p.Exponent, 1e-12, "%v", x)
			}
		}
	}
}
