package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestMain(m *testing.M) { reftest.Main(m) }

// unit3kW is the inverter of assumed coefficients that most tests use.
var unit3kW = Loss{Rated: 3 * Kilowatt, Idle: 30 * unit.Watt, Linear: 0.02, Quadratic: 0.05}

// flooded12V is two worn batteries in series on short cables.
var flooded12V = Source{OpenCircuit: 12.6 * unit.Volt, Battery: 7 * Milliohm, Cable: 2 * Milliohm, Contacts: 1 * Milliohm}

// domainError requires that err refuses an argument, and in which words.
func domainError(t *testing.T, err error, words string) {
	t.Helper()
	require.ErrorIs(t, err, ErrDomain)
	require.ErrorContains(t, err, words)
}

// closeTo requires that two numbers agree to a relative tolerance.
func closeTo(t *testing.T, want, got, relative float64) {
	t.Helper()
	require.InDelta(t, want, got, relative*math.Abs(want)+1e-300)
}

// strange are numbers that no argument should be.
var strange = []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, -math.SmallestNonzeroFloat64}
