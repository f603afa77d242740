package inverter

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestCurrentTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/dc_current.csv") {
		if row.HasParam("pf") {
			k, err := RippleFactor(row.Param("pf", ""))
			require.NoError(t, err, row.Source())
			row.Expected(k)
			continue
		}
		i, err := InputCurrent(unit.Power(row.Param("P", "W")), unit.Voltage(row.Param("V", "V")), row.Param("eff", ""))
		require.NoError(t, err, row.Source())
		if row.Text("quantity") == "dc current" {
			row.Expected(float64(i))
			continue
		}
		least, err := LeastRating(i)
		require.NoError(t, err, row.Source())
		row.Expected(float64(least))
		if row.Has("wrong_on_page") {
			row.Rejects("wrong_on_page", float64(least), 0.1)
		}
	}
}

// Ten amperes a hundred watts at 12 V is 11 % short at the cut-off.
func TestTenAmperesAHundredWatts(t *testing.T) {
	i, err := InputCurrent(100, 10.5, 0.85)
	require.NoError(t, err)
	require.InDelta(t, 0.11, 1-10/float64(i), 0.005)
}

func TestCurrentBounds(t *testing.T) {
	for _, x := range strange {
		_, err := InputCurrent(unit.Power(x), 12, 0.9)
		require.ErrorIs(t, err, ErrDomain)
		_, err = InputCurrent(100, unit.Voltage(x), 0.9)
		require.ErrorIs(t, err, ErrDomain)
		_, err = InputCurrent(100, 12, x)
		require.ErrorIs(t, err, ErrDomain)
		_, err = LeastRating(unit.Current(x))
		require.ErrorIs(t, err, ErrDomain)
		_, err = RippleFactor(x)
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err := InputCurrent(100, 12, 85)
	domainError(t, err, "efficiency 85, want 0.5 to 1")
	_, err = InputCurrent(100, 12, 0.499)
	domainError(t, err, "efficiency")
	_, err = InputCurrent(100, 0, 0.9)
	domainError(t, err, "dc voltage 0 V, want 5 V to 1 kV")
	_, err = LeastRating(100e3)
	require.NoError(t, err)
	_, err = LeastRating(100.1e3)
	domainError(t, err, "dc current")
	_, err = RippleFactor(0.05)
	require.NoError(t, err)
	_, err = RippleFactor(0.049)
	domainError(t, err, "power factor")
	_, err = RippleFactor(62)
	domainError(t, err, "power factor")
}
