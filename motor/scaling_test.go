package motor

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestScalingAgainstWorkedExamples(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/scaling.csv") {
		v, f := row.Param("v", ""), row.Param("f", "")
		current, err := CurrentRatio(v, f)
		require.NoError(t, err)
		torque, err := TorqueRatio(v, f)
		require.NoError(t, err)
		assert.InDelta(t, current*current, torque, 1e-12)
		slip, err := SlipRatio(v, f)
		require.NoError(t, err)
		switch row.Text("quantity") {
		case "torque":
			row.Expected(row.Param("x", "") * torque)
		case "torque drop":
			row.Expected(row.Param("x", "") * (1 - torque))
		case "current":
			row.Expected(row.Param("x", "") * current)
		case "speed":
			s := (row.Param("ns", "") - row.Param("n", "")) / row.Param("ns", "")
			row.Expected(row.Param("ns", "") * f * (1 - s*slip))
		default:
			t.Fatal(row.Source())
		}
	}
}

func TestVoltageVariation(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/voltage_variation.csv") {
		ratio := TorqueRatio
		switch row.Text("characteristic") {
		case "slip":
			ratio = SlipRatio
		case "starting current":
			ratio = CurrentRatio
		}
		for v, column := range map[float64]string{0.9: "at_90pct", 1.1: "at_110pct"} {
			x, err := ratio(v, 1)
			require.NoError(t, err)
			row.Printed(column, 100*(x-1))
		}
	}
}

func TestVoltageBehindASource(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/feeder.csv") {
		z, zs := ohms(t, row.ParamText("Z")), ohms(t, row.ParamText("Zs"))
		ratio, err := VoltageRatio(z, zs)
		require.NoError(t, err)
		switch row.Text("id") {
		case "D1", "D2":
			row.Expected(ratio)
		case "D1t":
			torque, err := TorqueRatio(ratio, 1)
			require.NoError(t, err)
			row.Expected(torque)
		case "D2i":
			row.Expected(row.Param("V", "V") * ratio / cmplx.Abs(z))
		}
		if row.Has("naive_ratio") {
			row.Rejects("naive_ratio", ratio, 0.003)
		}
	}
}

func TestScalingBounds(t *testing.T) {
	for _, ratio := range []func(v, f float64) (float64, error){CurrentRatio, TorqueRatio, SlipRatio} {
		x, err := ratio(1, 1)
		require.NoError(t, err)
		assert.InDelta(t, 1, x, 0, "unchanged")
		for _, tt := range []struct {
			v, f float64
			ok   bool
		}{
			{0.1, 1, true},
			{0.099, 1, false},
			{1.3, 1, true},
			{1.31, 1, false},
			{1, 0.8, true},
			{1, 0.79, false},
			{1, 1.25, true},
			{1, 1.26, false},
			{0, 1, false},
			{1, 0, false},
			{math.NaN(), 1, false},
			{1, math.NaN(), false},
			{1, 60, false},
			{115, 1, false},
		} {
			_, err := ratio(tt.v, tt.f)
			assert.Equal(t, tt.ok, err == nil, tt)
		}
	}
}

func TestStartAtAnotherVoltage(t *testing.T) {
	n := Nameplate{Output: Horsepower, Voltage: 230, Phases: 1, Code: 'K'}
	d, err := n.Start(StartEvidence{})
	require.NoError(t, err)
	low, err := d.At(0.9 * 230)
	require.NoError(t, err)
	assert.InDelta(t, 0.9, float64(low.Current.High/d.Current.High), 1e-12)
	assert.InDelta(t, 0.81, float64(low.Apparent.High/d.Apparent.High), 1e-12)
	assert.InDelta(t, 0.81, float64(low.Real.Low/d.Real.Low), 1e-12)
	assert.InDelta(t, float64(low.Voltage)*float64(low.Current.High), float64(low.Apparent.High), 1e-9)
	back, err := low.At(230)
	require.NoError(t, err)
	assert.InDelta(t, float64(d.Real.High), float64(back.Real.High), 1e-9)
	// The impedance does not change with the voltage.
	za, err := d.Impedances()
	require.NoError(t, err)
	zb, err := low.Impedances()
	require.NoError(t, err)
	assert.InDelta(t, real(za[3]), real(zb[3]), 1e-12)
	for _, v := range append([]float64{0, 22.9, 300}, bad...) {
		_, err := d.At(unit.Voltage(v))
		assert.ErrorIs(t, err, ErrDomain, v)
	}
	_, err = StartDemand{}.At(115)
	assert.ErrorIs(t, err, ErrDomain)
}

func TestVoltageRatioBounds(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct{ z, zs complex128 }{
		{0, 1},
		{-1, 1},
		{1, -1},
		{1 - 1i, 1i - 1},
		{0 + 1i, 0 - 1i}, // resonance
		{complex(nan, 0), 1},
		{complex(0, nan), 1},
		{1, complex(nan, 0)},
		{1, complex(0, nan)},
		{1e7, 1},
		{1, 1e7},
		{complex(math.Inf(1), 0), 1},
	} {
		_, err := VoltageRatio(tt.z, tt.zs)
		assert.ErrorIs(t, err, ErrDomain, tt)
	}
	stiff, err := VoltageRatio(3+4i, 0)
	require.NoError(t, err)
	assert.InDelta(t, 1, stiff, 0)
	reactances, err := VoltageRatio(4i, 1i)
	require.NoError(t, err, "a resistance of 0 is allowed")
	assert.InDelta(t, 0.8, reactances, 1e-15)
	half, err := VoltageRatio(3+4i, 3+4i)
	require.NoError(t, err)
	assert.InDelta(t, 0.5, half, 1e-15)
}
