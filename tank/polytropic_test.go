package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

func TestPolytropicDrawdown(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/polytropic_drawdown.csv") {
		v := at(r.Float("cut_in_psi"), r.Float("cut_out_psi"), 2, 14.7)
		v.Volume = 100 * Litre
		vd, err := v.PolytropicDrawdown(r.Float("n"))
		require.NoError(t, err)
		r.Printed("factor", float64(vd/v.Volume))
		p, err := v.SettledPressure(r.Float("n"))
		require.NoError(t, err)
		r.Printed("settled_psi", float64(p/PSI))
	}
}

// With n = 1 it is Boyle's law, nothing sags, and a larger n gives less.
func TestPolytropicLimit(t *testing.T) {
	boyle, err := demo.Drawdown()
	require.NoError(t, err)
	vd, err := demo.PolytropicDrawdown(Isothermal)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(boyle), float64(vd), 1e-12)
	p, err := demo.SettledPressure(Isothermal)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(demo.CutOut), float64(p), 1e-12)
	for _, n := range []float64{NormalFill, SurgeFill, RapidFill, Adiabatic} {
		less, err := demo.PolytropicDrawdown(n)
		require.NoError(t, err)
		assert.Less(t, float64(less), float64(vd))
		vd = less
		// What the fill stored is what Boyle's law finds once the air has cooled.
		p, err := demo.SettledPressure(n)
		require.NoError(t, err)
		full, err := demo.WaterLeft(p)
		require.NoError(t, err)
		start, err := demo.WaterLeft(demo.CutIn)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(less), float64(full-start), 1e-12)
	}
}

// A precharge at cut-in itself is no error.
func TestPolytropicPrechargeAtCutIn(t *testing.T) {
	v := demo
	v.Precharge = v.CutIn
	boyle, err := v.Drawdown()
	require.NoError(t, err)
	vd, err := v.PolytropicDrawdown(Isothermal)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(boyle), float64(vd), 1e-12)
	p, err := v.SettledPressure(Adiabatic)
	require.NoError(t, err)
	assert.True(t, p > v.CutIn && p < v.CutOut)
}

func TestPolytropicBounds(t *testing.T) {
	for _, n := range []float64{0, 0.999, 1.401, -1, math.NaN(), math.Inf(1)} {
		_, err := demo.PolytropicDrawdown(n)
		refused(t, err, "polytropic exponent")
		_, err = demo.SettledPressure(n)
		refused(t, err, "polytropic exponent")
	}
	_, err := Vessel{}.PolytropicDrawdown(0)
	refused(t, err, "polytropic exponent")
	refused(t, err, "volume")
}
