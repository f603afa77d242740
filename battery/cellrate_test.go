package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// sealedRates are those of sizing_hours.csv: 100 Ah blocks.
var sealedRates = Rates{
	{Capacity: 85 * AmpereHour, Time: 5 * Hour},
	{Capacity: 100 * AmpereHour, Time: 20 * Hour},
	{Capacity: 60 * AmpereHour, Time: 1 * Hour},
	{Capacity: 93 * AmpereHour, Time: 10 * Hour},
	{Capacity: 77 * AmpereHour, Time: 3 * Hour},
}

func sealedTable(t testing.TB) RateTable {
	curve := must[RateCurve](t)(sealedRates.Curve(1.75, 100*AmpereHour))
	return must[RateTable](t)(NewRateTable(curve))
}

func TestRateTableWorked(t *testing.T) {
	table := sealedTable(t)
	for _, row := range reftest.Rows(t, "battery/sizing_hours.csv") {
		k, err := table.KT(unit.Time(row.Float("remaining_h"))*Hour, 1.75)
		require.NoError(t, err, row.Source())
		row.Printed("kt_h", hours(k))
	}
}

// Between two rates the table is the Peukert law of these two.
func TestRateTableIsPeukertBetween(t *testing.T) {
	table := sealedTable(t)
	a := Rating{Capacity: 85 * AmpereHour, Time: 5 * Hour}
	b := Rating{Capacity: 93 * AmpereHour, Time: 10 * Hour}
	p := Peukert{Rating: b, Exponent: must[float64](t)(PeukertExponent(a, b))}
	for _, h := range []unit.Time{5, 6.5, 8, 10} {
		i := must[unit.Current](t)(p.Current(h * Hour))
		k := must[unit.Time](t)(table.KT(h*Hour, 1.75))
		assert.InEpsilon(t, 100/float64(i), hours(k), 1e-12)
	}
}

func TestRateTableEndVoltage(t *testing.T) {
	curve := func(v unit.Voltage, k ...float64) RateCurve {
		c := RateCurve{EndVoltage: v}
		for i, h := range []unit.Time{0.5, 1, 8} {
			c.Points = append(c.Points, KTPoint{Time: h * Hour, KT: unit.Time(k[i]) * Hour})
		}
		return c
	}
	low, high := curve(1.75, 1, 1.6, 8), curve(1.85, 1.4, 2.1, 9)
	table := must[RateTable](t)(NewRateTable(high, low))
	kt := func(h unit.Time, v unit.Voltage) float64 { return hours(must[unit.Time](t)(table.KT(h*Hour, v))) }
	assert.InEpsilon(t, 1.6, kt(1, 1.75), 1e-12)
	assert.InEpsilon(t, 2.1, kt(1, 1.85), 1e-12)
	assert.InEpsilon(t, 1.6, kt(1, 1.7498), 1e-9, "within half a millivolt of a curve")
	assert.InEpsilon(t, 2.1, kt(1, 1.8502), 1e-9)
	assert.InEpsilon(t, math.Sqrt(1.6*2.1), kt(1, 1.80), 1e-12, "the geometric mean halfway")
	last := 0.0
	for v := unit.Voltage(1.75); v <= 1.85; v += 0.005 {
		k := kt(3, v)
		assert.Greater(t, k, last)
		last = k
	}
	for _, v := range []unit.Voltage{1.74, 1.86, 0, unit.Voltage(math.NaN()), unit.Voltage(math.Inf(1)), 175} {
		_, err := table.KT(Hour, v)
		refused(t, err, "%v", v)
	}
	for _, h := range []float64{0.49, 8.01, 0, -1, math.NaN(), math.Inf(1)} {
		_, err := table.KT(unit.Time(h)*Hour, 1.8)
		refused(t, err, "%v", h)
	}
	_, err := RateTable{}.KT(Hour, 1.75)
	refused(t, err)
	_, err = NewRateTable()
	refused(t, err)
	_, err = NewRateTable(low, low)
	refused(t, err)
	_, err = NewRateTable(curve(1.75, 1.4, 2.1, 9), curve(1.85, 1, 1.6, 8))
	refused(t, err, "a higher end voltage that lasts longer")
	short := RateCurve{EndVoltage: 1.85, Points: []KTPoint{{Time: Minute, KT: Hour}, {Time: Hour, KT: 2.1 * Hour}}}
	mixed := must[RateTable](t)(NewRateTable(low, short))
	_, err = mixed.KT(2*Minute, 1.8)
	refused(t, err, "one of the two curves does not reach")
	_, err = mixed.KT(2*Hour, 1.8)
	refused(t, err)
}

func TestPlateCurve(t *testing.T) {
	c, err := PlateCurve(1.75, 50*AmpereHour, []PlateRate{{Minute, 100}, {Hour, 40}, {8 * Hour, 6.25}})
	require.NoError(t, err)
	assert.InDelta(t, 0.5, hours(c.Points[0].KT), 1e-12)
	assert.InDelta(t, 8, hours(c.Points[2].KT), 1e-12)
	for _, bad := range [][]PlateRate{
		nil,
		{{Minute, 100}},
		{{Hour, 40}, {Minute, 100}},
		{{Minute, 40}, {Hour, 40}},
		{{Minute, 0}, {Hour, 40}},
		{{0, 100}, {Hour, 40}},
		{{Minute, unit.Current(math.NaN())}, {Hour, 40}},
	} {
		_, err := PlateCurve(1.75, 50*AmpereHour, bad)
		refused(t, err, "%v", bad)
	}
	good := []PlateRate{{Minute, 100}, {Hour, 40}}
	_, err = PlateCurve(0.49, 50*AmpereHour, good)
	refused(t, err)
	_, err = PlateCurve(1.75, 50, good) // 50 As
	refused(t, err)
}

func TestRatesCurveRefuses(t *testing.T) {
	for _, r := range []Rates{
		nil, sealedRates[:1],
		{sealedRates[0], sealedRates[0]},
		{{}, sealedRates[0]},
		{{Capacity: 20 * AmpereHour, Time: Hour}, {Capacity: 60 * AmpereHour, Time: 2 * Hour}}, // the current rises with the time
	} {
		_, err := r.Curve(1.75, 100*AmpereHour)
		refused(t, err, "%v", r)
	}
	_, err := sealedRates.Curve(1.75, 0)
	refused(t, err)
	_, err = sealedRates.Curve(5, 100*AmpereHour)
	refused(t, err)
}

func TestPeukertKT(t *testing.T) {
	// At its rated time the factor is that time.
	assert.InEpsilon(t, 20, hours(must[unit.Time](t)(hundred.KT(20*Hour, 1.75))), 1e-12)
	for _, h := range []unit.Time{0.5, 1, 5, 10} {
		i := must[unit.Current](t)(hundred.Current(h * Hour))
		assert.InEpsilon(t, 100/float64(i), hours(must[unit.Time](t)(hundred.KT(h*Hour, 1.75))), 1e-12)
	}
	held := must[unit.Time](t)(hundred.KT(30*Minute, 1.75))
	assert.Equal(t, held, must[unit.Time](t)(hundred.KT(Minute, 1.75)))
	assert.Equal(t, held, must[unit.Time](t)(hundred.KT(1, 1.75)))
	assert.Greater(t, must[unit.Time](t)(hundred.KT(31*Minute, 1.75)), held)
	for _, x := range []unit.Time{0, -1, 0.99, 501 * Hour, unit.Time(math.NaN())} {
		_, err := hundred.KT(x, 1.75)
		refused(t, err)
	}
	_, err := hundred.KT(Hour, 0)
	refused(t, err)
	_, err = Peukert{}.KT(Hour, 1.75)
	refused(t, err)
}

// No curve made of junk panics, and one that is taken never falls.
func FuzzRateTable(f *testing.F) {
	f.Add(1.75, 60.0, 3600.0, 600.0, 7200.0, 1000.0)
	f.Add(math.NaN(), 1.0, 2.0, 3.0, 4.0, 5.0)
	f.Fuzz(func(t *testing.T, v, t1, t2, k1, k2, at float64) {
		table, err := NewRateTable(RateCurve{EndVoltage: unit.Voltage(v), Points: []KTPoint{
			{unit.Time(t1), unit.Time(k1)}, {unit.Time(t2), unit.Time(k2)},
		}})
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		k, err := table.KT(unit.Time(at), unit.Voltage(v))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, float64(k) >= k1*(1-1e-9) && float64(k) <= k2*(1+1e-9), "%v", k)
	})
}
