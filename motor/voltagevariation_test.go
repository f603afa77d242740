package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestVoltageUnbalance(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/voltage_unbalance.csv") {
		if row.Text("quantity") == "derating" {
			d, err := UnbalanceDerating(row.Param("u", "") / 100)
			require.NoError(t, err)
			row.Printed("value", d)
			continue
		}
		u, err := VoltageUnbalance(unit.Voltage(row.Param("V1", "")), unit.Voltage(row.Param("V2", "")), unit.Voltage(row.Param("V3", "")))
		require.NoError(t, err)
		row.Printed("value", 100*u)
	}
	u, err := VoltageUnbalance(230, 230, 230)
	require.NoError(t, err)
	assert.Zero(t, u)
	for _, v := range append([]float64{0, 9.9, 15.1e3}, bad...) {
		for i := range 3 {
			volts := [3]unit.Voltage{230, 230, 230}
			volts[i] = unit.Voltage(v)
			_, err := VoltageUnbalance(volts[0], volts[1], volts[2])
			require.ErrorIs(t, err, ErrDomain)
		}
	}
}

func TestUnbalanceDeratingBounds(t *testing.T) {
	for u, want := range map[float64]float64{0: 1, 0.005: 1, 0.01: 1, 0.015: 0.975, 0.025: 0.915, 0.045: 0.785, 0.05: 0.75} {
		d, err := UnbalanceDerating(u)
		require.NoError(t, err, u)
		assert.InDelta(t, want, d, 1e-12, u)
	}
	for _, u := range []float64{0.0501, 0.1, 1, 2} {
		_, err := UnbalanceDerating(u)
		require.ErrorIs(t, err, ErrUnbalance)
	}
	for _, u := range append([]float64{-0.001, 2.01, 3}, bad...) {
		_, err := UnbalanceDerating(u)
		require.ErrorIs(t, err, ErrDomain)
	}
}

// Unbalance does not mind the order of the phases nor their scale, and more of
// it never allows more.
func FuzzVoltageUnbalance(f *testing.F) {
	f.Add(460.0, 467.0, 450.0)
	f.Add(230.0, 230.0, 0.0)
	f.Add(math.NaN(), 1.0, math.Inf(1))
	f.Fuzz(func(t *testing.T, a, b, c float64) {
		u, err := VoltageUnbalance(unit.Voltage(a), unit.Voltage(b), unit.Voltage(c))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, u >= 0 && u <= 2)
		v, err := VoltageUnbalance(unit.Voltage(c), unit.Voltage(a), unit.Voltage(b))
		require.NoError(t, err)
		require.InDelta(t, u, v, 1e-12)
		d, err := UnbalanceDerating(u)
		if err != nil {
			require.ErrorIs(t, err, ErrUnbalance)
			return
		}
		less, err := UnbalanceDerating(u / 2)
		require.NoError(t, err)
		require.GreaterOrEqual(t, less, d)
		require.True(t, d >= 0.75 && d <= 1)
	})
}
