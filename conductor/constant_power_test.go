package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

func TestConstantPowerLimit(t *testing.T) {
	limit := must[unit.Power](t)(LargestPower(12, 0.01))
	v, i, err := ConstantPower(12, limit, 0.01)
	require.NoError(t, err)
	assert.InDelta(t, 6, float64(v), 1e-6, "half of the voltage is left")
	assert.InDelta(t, 600, float64(i), 1e-4)
	v, i, err = ConstantPower(12, limit*1.000001, 0.01)
	require.ErrorIs(t, err, ErrCollapse)
	assert.NotErrorIs(t, err, ErrDomain)
	assert.Zero(t, v)
	assert.Zero(t, i)
	var e *PowerLimitError
	require.ErrorAs(t, err, &e)
	assert.InEpsilon(t, 3600, float64(e.Limit), 1e-12)
	assert.ErrorContains(t, err, "3600 W from 12 V")
}

func TestConstantPowerSpecialCases(t *testing.T) {
	v, i, err := ConstantPower(12, 0, 0.01)
	require.NoError(t, err)
	assert.Equal(t, unit.Voltage(12), v)
	assert.Zero(t, i)
	v, i, err = ConstantPower(12, 1200, 0)
	require.NoError(t, err)
	assert.Equal(t, unit.Voltage(12), v, "no cable, no drop")
	assert.InDelta(t, 100, float64(i), 1e-12)
}

func TestConstantPowerBounds(t *testing.T) {
	bounds(t, "source voltage", 1, 35e3, func(x float64) error {
		_, _, err := ConstantPower(unit.Voltage(x), 0.1, 1e-6)
		return err
	})
	bounds(t, "power", 0, 10e6, func(x float64) error {
		_, _, err := ConstantPower(35e3, unit.Power(x), 0)
		return err
	})
	bounds(t, "loop resistance", 0, 1e6, func(x float64) error {
		_, _, err := ConstantPower(12, 0, unit.Resistance(x))
		return err
	})
	bounds(t, "loop resistance", 1e-9, 1e6, func(x float64) error {
		_, err := LargestPower(12, unit.Resistance(x))
		return err
	})
	_, err := LargestPower(0, 1)
	refused(t, err, "source voltage")
}
