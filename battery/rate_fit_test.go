package battery

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// parseRates reads "20 h 20 Ah; 10 h 18.6 Ah".
func parseRates(t testing.TB, text string) (r Rates) {
	t.Helper()
	for part := range strings.SplitSeq(text, ";") {
		f := strings.Fields(part)
		require.Len(t, f, 4, part)
		require.Equal(t, []string{"h", "Ah"}, []string{f[1], f[3]})
		h, err := strconv.ParseFloat(f[0], 64)
		require.NoError(t, err)
		c, err := strconv.ParseFloat(f[2], 64)
		require.NoError(t, err)
		r = append(r, Rating{Capacity: unit.Charge(c) * AmpereHour, Time: unit.Time(h) * Hour})
	}
	return r
}

func TestFitQuality(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/fit_quality.csv") {
		r := parseRates(t, row.Text("rates"))
		row.Printed("k_ends", must[float64](t)(PeukertExponent(r[0], r[len(r)-1])))

		p, e, err := r.FitPeukert()
		require.NoError(t, err, row.Source())
		row.Printed("k", p.Exponent)
		// The capacity at 1 A: Cp = H·(C/H)^k.
		h, c := hours(p.Rating.Time), ampereHours(p.Rating.Capacity)
		row.Printed("cp", h*math.Pow(c/h, p.Exponent))
		row.Printed("peukert_worst_pct", 100*e.Worst)
		assert.LessOrEqual(t, e.Mean, e.Worst)

		m, e, err := r.FitKinetic()
		require.NoError(t, err, row.Source())
		row.Printed("qmax_ah", ampereHours(m.Capacity))
		row.Printed("c", m.Available)
		row.Printed("kprime_per_h", float64(m.Rate)*float64(Hour))
		row.Printed("kinetic_worst_pct", 100*e.Worst)

		l, e, err := r.FitRateLaw()
		require.NoError(t, err, row.Source())
		row.Printed("most_ah", ampereHours(l.Most))
		row.Printed("half_a", float64(l.Half))
		row.Printed("n", l.Exponent)
		row.Printed("law_worst_pct", 100*e.Worst)

		// The error is what the law and the model say themselves.
		worst, kinetic := 0.0, 0.0
		for _, rate := range r {
			c := must[unit.Charge](t)(l.Capacity(rate.current()))
			worst = max(worst, math.Abs(float64(c/rate.Capacity)-1))
			c = must[unit.Charge](t)(m.CapacityIn(rate.Time))
			kinetic = max(kinetic, math.Abs(float64(c/rate.Capacity)-1))
			c = must[unit.Charge](t)(p.Capacity(rate.current()))
			assert.InDelta(t, 1, float64(c/rate.Capacity), 0.065)
		}
		assert.InDelta(t, e.Worst, worst, 1e-12)
		assert.LessOrEqual(t, kinetic, 0.035)
	}
}

func TestLocalExponents(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/local_exponents.csv") {
		slow, fast := parseRates(t, row.Text("slow"))[0], parseRates(t, row.Text("fast"))[0]
		k, err := PeukertExponent(slow, fast)
		require.NoError(t, err, row.Source())
		row.Printed("k", k)
	}
}

// TestFitsOfPublishedTables fits every published table and holds the ends of
// it, which no interpolation between neighbours reaches, to the rate law.
func TestFitsOfPublishedTables(t *testing.T) {
	names, rows, tables := rateTables(t)
	for _, n := range names {
		table := tables[n]
		if len(table) < 3 {
			continue
		}
		l, e, err := table.FitRateLaw()
		require.NoError(t, err, n)
		m, ek, err := table.FitKinetic()
		require.NoError(t, err, n)
		assert.Less(t, e.Worst, 0.03, n)
		assert.Less(t, ek.Worst, 0.04, n)
		p, ep, err := table.FitPeukert()
		require.NoError(t, err, n)
		assert.Greater(t, ep.Mean, e.Mean, "one exponent is never as good as three parameters")
		assert.GreaterOrEqual(t, p.Most, p.Rating.Capacity)
		assert.Greater(t, float64(m.Capacity), float64(table[0].Capacity), n)
		for _, j := range []int{0, len(table) - 1} {
			row := rows[n][j]
			c := ampereHours(must[unit.Charge](t)(l.Capacity(table[j].current())))
			if row.Float("capacity_ah") >= 3 {
				row.Within("capacity_ah", c, 0.015, "three parameters through rates printed to 0.1 Ah")
			} else {
				row.Digits("capacity_ah", c, 1.5, "three parameters through rates printed to 0.1 Ah")
			}
		}
	}
}

// Minutes timed at three currents of one block follow one exponent; with the
// 20 h rate of another test beside them they do not.
func TestFitOfTimedMinutes(t *testing.T) {
	timed, rated, rows := map[string]Rates{}, map[string]Rating{}, map[string][]reftest.Row{}
	for _, row := range reftest.Rows(t, "battery/discharge_rates.csv") {
		n := row.Text("battery")
		if !strings.HasPrefix(n, "AGM") {
			continue
		}
		r := Rating{
			Capacity: unit.Charge(row.Float("current_a")*row.Float("time_h")) * AmpereHour,
			Time:     unit.Time(row.Float("time_h")) * Hour,
		}
		if row.Text("basis") == "hour rate" {
			rated[n] = r
			continue
		}
		timed[n] = append(timed[n], r)
		rows[n] = append(rows[n], row)
	}
	require.Len(t, timed, 4)
	for n, r := range timed {
		p, e, err := r.FitPeukert()
		require.NoError(t, err, n)
		assert.Less(t, e.Worst, 0.01, n)
		for j, row := range rows[n] {
			if row.Float("current_a") == 15 {
				continue // predicted from its neighbours already
			}
			c := must[unit.Charge](t)(p.Capacity(r[j].current()))
			row.Within("capacity_ah", ampereHours(c), 0.01, "one exponent through three currents of one test")
		}
		all := append(Rates{rated[n]}, r...)
		_, mixed, err := all.FitPeukert()
		require.NoError(t, err, n)
		if strings.HasPrefix(n, "AGM block C") {
			assert.Less(t, mixed.Worst, 0.005, "made by the law itself")
		} else {
			assert.Greater(t, mixed.Worst, 3*e.Worst, n)
		}
	}
}

// A fit finds the parameters that made a table.
func TestFitsRoundTrip(t *testing.T) {
	times := []unit.Time{100, 20, 10, 5, 3, 1}
	for _, m := range []Kinetic{floodedWells, hundredWells, {Capacity: 20 * AmpereHour, Available: 0.25, Rate: EqualizationPer(0.15, Hour)}} {
		var r Rates
		for _, h := range times {
			r = append(r, Rating{Capacity: must[unit.Charge](t)(m.CapacityIn(h * Hour)), Time: h * Hour})
		}
		got, e, err := r.FitKinetic()
		require.NoError(t, err)
		assert.InEpsilon(t, float64(m.Capacity), float64(got.Capacity), 1e-8)
		assert.InEpsilon(t, m.Available, got.Available, 1e-8)
		assert.InEpsilon(t, float64(m.Rate), float64(got.Rate), 1e-8)
		assert.Less(t, e.Worst, 1e-9)

		got, err = KineticFromRatings(m.Capacity, r[3], r[1])
		require.NoError(t, err)
		assert.InEpsilon(t, m.Available, got.Available, 1e-9)
		assert.InEpsilon(t, float64(m.Rate), float64(got.Rate), 1e-9)
		for _, rate := range []Rating{r[1], r[3]} {
			assert.InEpsilon(t, float64(rate.Capacity), float64(must[unit.Charge](t)(got.CapacityIn(rate.Time))), 1e-12)
		}
	}
	for _, l := range []RateLaw{{390 * AmpereHour, 160, 0.77}, {100 * AmpereHour, 50, 1}, {250 * AmpereHour, 30, 1.5}} {
		var r Rates
		for _, i := range []unit.Current{2, 5, 10, 20, 30} {
			c := must[unit.Charge](t)(l.Capacity(i))
			r = append(r, Rating{Capacity: c, Time: unit.Time(float64(c) / float64(i))})
		}
		got, e, err := r.FitRateLaw()
		require.NoError(t, err)
		assert.InEpsilon(t, float64(l.Most), float64(got.Most), 1e-6)
		assert.InEpsilon(t, float64(l.Half), float64(got.Half), 1e-6)
		assert.InEpsilon(t, l.Exponent, got.Exponent, 1e-6)
		assert.Less(t, e.Worst, 1e-8)
	}
	for _, k := range []float64{1, 1.08, 1.2, 1.59} {
		p := Peukert{Rating: Rating{Capacity: 100 * AmpereHour, Time: 20 * Hour}, Exponent: k, Most: 200 * AmpereHour}
		var r Rates
		for _, h := range []unit.Time{2, 10, 20, 5} {
			r = append(r, must[Rating](t)(p.At(h*Hour)))
		}
		got, e, err := r.FitPeukert()
		require.NoError(t, err)
		assert.InEpsilon(t, k, got.Exponent, 1e-12)
		assert.InEpsilon(t, 100, ampereHours(got.Rating.Capacity), 1e-12)
		assert.Equal(t, 20*Hour, got.Rating.Time)
		assert.Less(t, e.Worst, 1e-12)
	}
}

func TestFitsRefuse(t *testing.T) {
	ok := parseRates(t, "100 h 367 Ah; 20 h 330 Ah; 10 h 304 Ah; 5 h 271 Ah")
	for name, r := range map[string]Rates{
		"none":     nil,
		"one":      ok[:1],
		"one rate": {ok[0], ok[0], ok[0], ok[0]},
		"zero row": {ok[0], ok[1], {}, ok[3]},
		"NaN":      {ok[0], ok[1], {Capacity: unit.Charge(math.NaN()), Time: Hour}, ok[2]},
		"too many": make(Rates, 1001),
	} {
		_, _, err := r.FitPeukert()
		refused(t, err, name)
		_, _, err = r.FitRateLaw()
		refused(t, err, name)
		_, _, err = r.FitKinetic()
		refused(t, err, name)
	}
	_, _, err := ok[:2].FitPeukert()
	require.NoError(t, err)
	_, _, err = ok[:2].FitRateLaw()
	refused(t, err, "three parameters from two rates")
	_, _, err = ok[:2].FitKinetic()
	refused(t, err)
	rising := parseRates(t, "20 h 100 Ah; 10 h 110 Ah; 5 h 130 Ah")
	_, _, err = rising.FitPeukert()
	refused(t, err)
	_, _, err = rising.FitRateLaw()
	require.ErrorIs(t, err, ErrNoFit)
	_, _, err = rising.FitKinetic()
	require.ErrorIs(t, err, ErrNoFit)
	// Two tests of one block: less at 25 A than at 30.4 A.
	twoTests := parseRates(t, "11.85 h 296.25 Ah; 10 h 304 Ah")
	_, err = PeukertExponent(twoTests[0], twoTests[1])
	assert.ErrorContains(t, err, "exponent 0.86795", "it says what came out")
	level := parseRates(t, "20 h 100 Ah; 10 h 100 Ah; 5 h 100 Ah")
	_, _, err = level.FitKinetic()
	require.ErrorIs(t, err, ErrNoFit, "one well")

	q := 370 * AmpereHour
	for name, x := range map[string][2]Rating{
		"same":   {ok[1], ok[1]},
		"rising": {{Capacity: 100 * AmpereHour, Time: 20 * Hour}, {Capacity: 110 * AmpereHour, Time: 5 * Hour}},
		"zero":   {ok[1], {}},
		"above":  {{Capacity: 371 * AmpereHour, Time: 100 * Hour}, ok[2]},
	} {
		_, err := KineticFromRatings(q, x[0], x[1])
		refused(t, err, name)
	}
	_, err = KineticFromRatings(unit.Charge(math.NaN()), ok[1], ok[3])
	refused(t, err)
	_, err = KineticFromRatings(50e3*AmpereHour, ok[1], ok[3])
	require.ErrorIs(t, err, ErrNoFit)
	m, err := KineticFromRatings(q, ok[1], ok[3])
	require.NoError(t, err)
	other, err := KineticFromRatings(q, ok[3], ok[1])
	require.NoError(t, err)
	assert.Equal(t, m, other, "the order does not matter")
}

func TestRateLaw(t *testing.T) {
	l := RateLaw{Most: 100 * AmpereHour, Half: 50, Exponent: 1}
	assert.InDelta(t, 50, ampereHours(must[unit.Charge](t)(l.Capacity(50))), 1e-9)
	assert.InDelta(t, 1, hours(must[unit.Time](t)(l.Runtime(50))), 1e-12)
	assert.InDelta(t, 100, ampereHours(must[unit.Charge](t)(l.Capacity(leastCurrent))), 0.01)
	last := math.Inf(1)
	for i := unit.Current(0.01); i < 900; i *= 1.3 {
		c := ampereHours(must[unit.Charge](t)(l.Capacity(i)))
		assert.Less(t, c, last)
		last = c
	}
	for _, i := range []float64{math.NaN(), 0, -1, 0.9e-3, 1000.1, math.Inf(1)} {
		_, err := l.Capacity(unit.Current(i))
		refused(t, err, i)
		_, err = l.Runtime(unit.Current(i))
		refused(t, err, i)
	}
	_, err := l.Capacity(1000)
	require.NoError(t, err)
	for _, bad := range []RateLaw{
		{},
		{Most: 100, Half: 50, Exponent: 1},
		{Most: 100 * AmpereHour, Half: 0.9e-3, Exponent: 1},
		{Most: 100 * AmpereHour, Half: 50, Exponent: 0.04},
		{Most: 100 * AmpereHour, Half: 50, Exponent: 5.1},
		{Most: 100 * AmpereHour, Half: 50, Exponent: math.NaN()},
	} {
		_, err := bad.Capacity(10)
		refused(t, err, "%+v", bad)
	}
}

func TestPeukertKinetic(t *testing.T) {
	last, lastC := 1.0, 1.0
	for _, k := range []float64{1.01, 1.03, 1.05, 1.1, 1.2, 1.3, 1.6} {
		p := hundred
		p.Exponent = k
		m, e, err := p.Kinetic()
		require.NoError(t, err, k)
		assert.Less(t, e.Worst, 0.1*(k-1)+0.001, "the nearer to 1 the closer")
		// A steeper law stands for less in front and more beyond the rating.
		q := float64(m.Capacity / p.Rating.Capacity)
		assert.Greater(t, q, last, k)
		assert.Less(t, m.Available, lastC, k)
		last, lastC = q, m.Available
		for _, h := range []unit.Time{20, 14, 7, 3, 1.5, 1} {
			want := must[Rating](t)(p.At(h * Hour)).Capacity
			c := must[unit.Charge](t)(m.CapacityIn(h * Hour))
			assert.InEpsilon(t, float64(want), float64(c), 1.01*e.Worst, "between the rates as well: %v in %v h", k, float64(h))
		}
	}
	_, _, err := Peukert{}.Kinetic()
	refused(t, err)
	one := hundred
	one.Exponent = 1
	_, _, err = one.Kinetic()
	require.ErrorIs(t, err, ErrNoFit)
	short := hundred
	short.Rating.Time = 99 * Minute
	_, _, err = short.Kinetic()
	refused(t, err)
	// Any scale gives the same battery.
	large := hundred
	large.Rating.Capacity *= 7
	m, _, err := hundred.Kinetic()
	require.NoError(t, err)
	n, _, err := large.Kinetic()
	require.NoError(t, err)
	assert.InEpsilon(t, m.Available, n.Available, 1e-6)
	assert.InEpsilon(t, float64(m.Rate), float64(n.Rate), 1e-6)
	assert.InEpsilon(t, 7*float64(m.Capacity), float64(n.Capacity), 1e-6)
}

// No table makes a fit panic, and what is returned is valid.
func FuzzFits(f *testing.F) {
	f.Add(100.0, 90.0, 70.0, 20.0, 10.0, 1.0)
	f.Add(100.0, 100.0, 100.0, 20.0, 10.0, 5.0)
	f.Fuzz(func(t *testing.T, a, b, c, ta, tb, tc float64) {
		r := Rates{
			{unit.Charge(a) * AmpereHour, unit.Time(ta) * Hour},
			{unit.Charge(b) * AmpereHour, unit.Time(tb) * Hour},
			{unit.Charge(c) * AmpereHour, unit.Time(tc) * Hour},
		}
		if p, e, err := r.FitPeukert(); err == nil {
			require.NoError(t, p.validate())
			require.False(t, math.IsNaN(e.Worst+e.Mean))
		}
		if l, e, err := r.FitRateLaw(); err == nil {
			require.NoError(t, l.validate())
			require.False(t, math.IsNaN(e.Worst+e.Mean))
		}
		if m, e, err := r.FitKinetic(); err == nil {
			require.NoError(t, m.validate())
			require.False(t, math.IsNaN(e.Worst+e.Mean))
		}
		if m, err := KineticFromRatings(unit.Charge(1.1*a)*AmpereHour, r[1], r[2]); err == nil {
			require.NoError(t, m.validate())
			for _, rate := range r[1:] {
				require.InEpsilon(t, float64(rate.Capacity), float64(must[unit.Charge](t)(m.CapacityIn(rate.Time))), 1e-6)
			}
		}
	})
}

// A table that a model made gives the model back, from six rates or from qmax
// and two.
func FuzzKineticFit(f *testing.F) {
	f.Add(0.4, 0.8)
	f.Add(0.6, 0.2)
	f.Fuzz(func(t *testing.T, c, k float64) {
		// Beyond, the rates from 100 h to 1 h see one well only.
		if !(c >= 0.15 && c <= 0.85) || !(k >= 0.03 && k <= 2) {
			return
		}
		m := Kinetic{Capacity: 100 * AmpereHour, Available: c, Rate: EqualizationPer(k, Hour)}
		var r Rates
		for _, h := range []unit.Time{100, 20, 10, 5, 3, 1} {
			r = append(r, Rating{Capacity: must[unit.Charge](t)(m.CapacityIn(h * Hour)), Time: h * Hour})
		}
		got, e, err := r.FitKinetic()
		require.NoError(t, err)
		require.Less(t, e.Worst, 1e-8)
		require.InEpsilon(t, 100, ampereHours(got.Capacity), 1e-6)
		require.InEpsilon(t, c, got.Available, 1e-5)
		require.InEpsilon(t, k, float64(got.Rate)*float64(Hour), 1e-5)

		got, err = KineticFromRatings(m.Capacity, r[1], r[4])
		require.NoError(t, err)
		require.InEpsilon(t, c, got.Available, 1e-6)
		require.InEpsilon(t, k, float64(got.Rate)*float64(Hour), 1e-6)
	})
}
