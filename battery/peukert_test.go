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

func TestPeukertWorked(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/peukert_worked.csv") {
		t.Run(row.Text("id"), func(t *testing.T) {
			row := row.With(t)
			uncapped := func() Peukert {
				p := rowPeukert(row)
				p.Most = 2 * p.Rating.Capacity
				return p
			}
			switch row.Text("kind") {
			case "fraction":
				p := rowPeukert(row)
				c := must[unit.Charge](t)(p.Capacity(rowCurrent(row)))
				row.Printed("expected", float64(c/p.Rating.Capacity))
			case "wrong pct":
				p := rowPeukert(row)
				c := must[unit.Charge](t)(p.Capacity(rowCurrent(row)))
				row.Rejects("expected", 100*float64(c/p.Rating.Capacity), 0.04)
			case "capacity":
				row.Printed("expected", ampereHours(must[unit.Charge](t)(rowPeukert(row).Capacity(rowCurrent(row)))))
			case "runtime":
				row.Printed("expected", hours(must[unit.Time](t)(rowPeukert(row).Runtime(rowCurrent(row)))))
			case "uncapped time":
				row.Printed("expected", hours(must[unit.Time](t)(uncapped().Runtime(rowCurrent(row)))))
			case "uncapped":
				row.Printed("expected", ampereHours(must[unit.Charge](t)(uncapped().Capacity(rowCurrent(row)))))
			case "naive ratio":
				// What C/I^k with the nameplate figure gives, over what the law gives.
				p, i := rowPeukert(row), rowCurrent(row)
				naive := ampereHours(p.Rating.Capacity) / math.Pow(float64(i), p.Exponent)
				row.Printed("expected", naive/hours(must[unit.Time](t)(p.Runtime(i))))
			case "rate":
				r := must[Rating](t)(rowPeukert(row).At(unit.Time(row.Param("H2", "h")) * Hour))
				row.Printed("expected", ampereHours(r.Capacity))
			case "exponent":
				row.Printed("expected", must[float64](t)(PeukertExponent(rowRating(row, "C", "H"), rowRating(row, "C2", "H2"))))
			case "extrapolated":
				a, b := rowRating(row, "C", "H"), rowRating(row, "C2", "H2")
				p := Peukert{Rating: a, Exponent: must[float64](t)(PeukertExponent(a, b))}
				row.Printed("expected", hours(must[unit.Time](t)(p.Runtime(rowCurrent(row)))))
			case "damage", "plain":
				var steps []Step
				for part := range strings.SplitSeq(row.ParamText("segments"), ",") {
					i, h, _ := strings.Cut(part, "*")
					steps = append(steps, Step{
						Current: unit.Current(number(t, i, "A")), For: unit.Time(number(t, h, "h")) * Hour,
					})
				}
				used := must[Range[float64]](t)(rowPeukert(row).FractionUsed(steps))
				if row.Text("kind") == "damage" {
					// No step is below the rated current, so the cap is not felt.
					row.Printed("expected", used.High)
				} else {
					row.Printed("expected", used.Low)
				}
			default:
				t.Fatalf("kind %q", row.Text("kind"))
			}
		})
	}
}

// number reads "60 A" with the unit given.
func number(t *testing.T, s, symbol string) float64 {
	t.Helper()
	text, ok := strings.CutSuffix(strings.TrimSpace(s), " "+symbol)
	require.True(t, ok, s)
	x, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return x
}

func TestPeukertCapacityTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/peukert_capacity.csv") {
		p := hundred
		p.Exponent = row.Float("exponent")
		c, err := p.Capacity(unit.Current(row.Float("current_a")))
		require.NoError(t, err, row.Source())
		row.Digits("capacity_pct", ampereHours(c), 2, "the source cuts or misrounds 11 of its cells")
	}
}

func TestPeukertCap(t *testing.T) {
	p := hundred
	for _, i := range []unit.Current{0.001, 0.1, 1, 4.99, 5} {
		c, err := p.Capacity(i)
		require.NoError(t, err)
		assert.InDelta(t, 100, ampereHours(c), 1e-9, "no credit below the rated current")
	}
	p.Most = 110 * AmpereHour
	c := must[unit.Charge](t)(p.Capacity(1))
	assert.InDelta(t, 110, ampereHours(c), 1e-9)
	c = must[unit.Charge](t)(p.Capacity(4.5))
	assert.InDelta(t, 100*math.Pow(5/4.5, 0.2), ampereHours(c), 1e-9, "the law rules up to the cap")
	for _, m := range []unit.Charge{-1, 99.9 * AmpereHour, 201 * AmpereHour, unit.Charge(math.NaN()), unit.Charge(math.Inf(1))} {
		p.Most = m
		_, err := p.Runtime(10)
		refused(t, err, "%v", m)
	}
	p.Most = 100 * AmpereHour
	_, err := p.Runtime(10)
	require.NoError(t, err)
}

func TestPeukertBounds(t *testing.T) {
	for _, k := range []float64{0, 0.99, 1.601, math.NaN(), math.Inf(1), -1.2} {
		p := hundred
		p.Exponent = k
		_, err := p.Runtime(10)
		refused(t, err, "%v", k)
	}
	for _, k := range []float64{1, 1.6} {
		p := hundred
		p.Exponent = k
		_, err := p.Runtime(10)
		require.NoError(t, err)
	}
	for _, i := range []unit.Current{0, -5, 0.0009, 1001, unit.Current(math.NaN()), unit.Current(math.Inf(1))} {
		_, err := hundred.Runtime(i)
		refused(t, err, "%v", i)
		_, err = hundred.Capacity(i)
		refused(t, err, "%v", i)
	}
	_, err := hundred.Runtime(1000)
	require.NoError(t, err)
	for _, x := range []unit.Time{0, -1, 20, 59, 10001 * Hour, unit.Time(math.NaN()), unit.Time(math.Inf(1))} {
		_, err := hundred.Current(x)
		refused(t, err, "%v", x)
	}
	_, err = hundred.Current(1 * Minute)
	refused(t, err)
	assert.ErrorContains(t, err, "battery: current", "faster than ten times the capacity an hour")
	_, err = hundred.At(501 * Hour)
	refused(t, err)
	_, err = Peukert{}.Runtime(5)
	refused(t, err)
	_, err = Peukert{}.Current(5 * Hour)
	refused(t, err)
}

func FuzzPeukert(f *testing.F) {
	f.Add(100.0, 20.0, 1.2, 110.0, 30.0)
	f.Add(330.0, 20.0, 1.0, 0.0, 0.01)
	f.Fuzz(func(t *testing.T, c, h, k, most, i float64) {
		p := Peukert{
			Rating:   Rating{Capacity: unit.Charge(c) * AmpereHour, Time: unit.Time(h) * Hour},
			Exponent: k, Most: unit.Charge(most) * AmpereHour,
		}
		x, err := p.Runtime(unit.Current(i))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.Positive(t, float64(x))
		require.False(t, math.IsInf(float64(x), 0))
		// More current, less time and no more charge.
		if y, err := p.Runtime(unit.Current(i * 1.01)); err == nil {
			require.Less(t, float64(y), float64(x))
			require.LessOrEqual(t, float64(y)*1.01, float64(x)*(1+1e-9))
		}
		// There and back.
		if back, err := p.Current(x); err == nil {
			require.InEpsilon(t, i, float64(back), 1e-9)
		}
		// Twice the battery at twice the current runs as long.
		p.Rating.Capacity *= 2
		p.Most *= 2
		if y, err := p.Runtime(unit.Current(2 * i)); err == nil {
			require.InEpsilon(t, float64(x), float64(y), 1e-9)
		}
	})
}
