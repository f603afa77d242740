package motor

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestMain(m *testing.M) { reftest.Main(m) }

// hp reads a row's column of horsepower.
func hp(r reftest.Row, column string) unit.Power {
	return unit.Power(r.Float(column)) * Horsepower
}

// phases reads the row's input m.
func phases(r reftest.Row) int { return int(r.Param("m", "")) }

// volts reads the row's input V.
func volts(r reftest.Row) unit.Voltage { return unit.Voltage(r.Param("V", "V")) }

// ohms reads an input of two numbers, real and imaginary part.
func ohms(t *testing.T, text string) complex128 {
	t.Helper()
	re, im, _ := strings.Cut(text, " ")
	x, err := strconv.ParseFloat(re, 64)
	require.NoError(t, err)
	y, err := strconv.ParseFloat(im, 64)
	require.NoError(t, err)
	return complex(x, y)
}

// bad are the numbers that no quantity may be.
var bad = []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e300}

// finite reports whether x is a number and no infinity.
func finite(x float64) bool { return x-x == 0 }
