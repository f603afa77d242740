package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestMain(m *testing.M) { reftest.Main(m) }

// junk are arguments that every function must refuse, or pass through,
// without a panic.
var junk = []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64, 1e-3}

// hundred is a 100 Ah, 20 h battery with k = 1.2.
var hundred = Peukert{Rating: Rating{Capacity: 100 * AmpereHour, Time: 20 * Hour}, Exponent: 1.2}

func hours(t unit.Time) float64 { return float64(t / Hour) }

func ampereHours(c unit.Charge) float64 { return float64(c / AmpereHour) }

// refused fails the test unless err is a domain error.
func refused(t testing.TB, err error, args ...any) {
	t.Helper()
	require.ErrorIs(t, err, ErrDomain, args...)
	require.Contains(t, err.Error(), "battery: ")
}

// rowRating reads C, H of a row's inputs.
func rowRating(row reftest.Row, c, h string) Rating {
	return Rating{Capacity: unit.Charge(row.Param(c, "Ah")) * AmpereHour, Time: unit.Time(row.Param(h, "h")) * Hour}
}

// rowPeukert reads C, H, k of a row's inputs.
func rowPeukert(row reftest.Row) Peukert {
	return Peukert{Rating: rowRating(row, "C", "H"), Exponent: row.Param("k", "")}
}

func rowCurrent(row reftest.Row) unit.Current { return unit.Current(row.Param("I", "A")) }

// must fails the test on an error of a pair (result, error).
func must[T any](t testing.TB) func(x T, err error) T {
	return func(x T, err error) T {
		t.Helper()
		require.NoError(t, err)
		return x
	}
}
