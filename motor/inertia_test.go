package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestRotorsOfSmallMotors(t *testing.T) {
	least, greatest := math.Inf(1), 0.0
	for _, row := range reftest.Rows(t, "motor/iec_small_2pole_rotors.csv") {
		p, j := unit.Power(row.Float("p_kw"))*Kilowatt, Inertia(row.Float("inertia_kgm2"))
		row.Within("torque_nm", float64(p)/float64(3000*RPM), 0.03, "printed to one digit behind the point, 3 % by the notes")
		// What the motor gives at its printed speed is more than the print says.
		assert.Greater(t, float64(p)/(row.Float("n_rpm")*float64(RPM)), row.Float("torque_nm")*1.02)

		h, err := InertiaConstant(j, ApparentPower(p), 3000*RPM)
		require.NoError(t, err)
		least, greatest = min(least, float64(h)), max(greatest, float64(h))
		back, err := InertiaOfConstant(h, ApparentPower(p), 3000*RPM)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(j), float64(back), 1e-12, "there and back")

		span, err := TypicalRotorInertia(p, 2)
		require.NoError(t, err)
		assert.True(t, j >= span.Low && j <= span.High, "%s: %v in %v to %v", row.Source(), j, span.Low, span.High)
	}
	// Seconds of stored energy on shaft output: 0.03 to 0.06 s, and the span
	// is no wider than the rows make it.
	assert.InDelta(t, 0.03, least, 0.005)
	assert.InDelta(t, 0.06, greatest, 0.005)
	assert.InDelta(t, leastRotorConstant, least, 0.001)
	assert.InDelta(t, greatestRotorConstant, greatest, 0.001)
}

func TestTypicalRotorInertiaRefuses(t *testing.T) {
	for _, tt := range []struct {
		kw     float64
		poles  int
		reason Uncovered
	}{
		{1, 4, UncoveredPoles},
		{1, 0, UncoveredPoles},
		{0.24, 2, UncoveredSize},
		{5.6, 2, UncoveredSize},
	} {
		_, err := TypicalRotorInertia(unit.Power(tt.kw)*Kilowatt, tt.poles)
		var e *NotCoveredError
		require.ErrorAs(t, err, &e)
		assert.Equal(t, tt.reason, e.Reason)
	}
	for _, kw := range []float64{0.25, 5.5} {
		_, err := TypicalRotorInertia(unit.Power(kw)*Kilowatt, 2)
		require.NoError(t, err)
	}
	for _, p := range append([]float64{0, 1}, bad...) {
		_, err := TypicalRotorInertia(unit.Power(p), 2)
		require.ErrorIs(t, err, ErrDomain)
	}
}

func TestReflectedInertia(t *testing.T) {
	// A load that turns a third as fast is felt a ninth, and the energy is the
	// same seen from either shaft.
	j, err := ReflectedInertia(0.9, 500*RPM, 1500*RPM)
	require.NoError(t, err)
	assert.InDelta(t, 0.1, float64(j), 1e-12)
	load, err := StoredEnergy(0.9, 500*RPM)
	require.NoError(t, err)
	motor, err := StoredEnergy(j, 1500*RPM)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(load), float64(motor), 1e-12)
	back, err := ReflectedInertia(j, 1500*RPM, 500*RPM)
	require.NoError(t, err)
	assert.InEpsilon(t, 0.9, float64(back), 1e-12)
}

func TestShaftBounds(t *testing.T) {
	rpm := float64(RPM)
	for name, tt := range map[string]struct {
		try    func(float64) error
		lo, hi float64
	}{
		"inertia": {func(x float64) error { _, err := StoredEnergy(Inertia(x), 100); return err }, 1e-7, 1e4},
		"speed":   {func(x float64) error { _, err := StoredEnergy(1, Speed(x)); return err }, rpm, 30e3 * rpm},
		"energy":  {func(x float64) error { _, err := InertiaOfEnergy(unit.Energy(x), 100); return err }, 1e-3, 1e9},
		"speed of energy": {
			func(x float64) error { _, err := InertiaOfEnergy(1, Speed(x)); return err }, rpm, 30e3 * rpm,
		},
		"constant": {func(x float64) error { _, err := InertiaOfConstant(unit.Time(x), 1e3, 100); return err }, 1e-3, 60},
		"base":     {func(x float64) error { _, err := InertiaOfConstant(1, ApparentPower(x), 100); return err }, 10, 1e6},
		"base of constant": {
			func(x float64) error { _, err := InertiaConstant(1, ApparentPower(x), 100); return err }, 10, 1e6,
		},
		"inertia of constant": {func(x float64) error { _, err := InertiaConstant(Inertia(x), 1e3, 100); return err }, 1e-7, 1e4},
		"load":                {func(x float64) error { _, err := ReflectedInertia(Inertia(x), 100, 100); return err }, 1e-7, 1e4},
		"load speed":          {func(x float64) error { _, err := ReflectedInertia(1, Speed(x), 100); return err }, rpm, 30e3 * rpm},
		"motor speed":         {func(x float64) error { _, err := ReflectedInertia(1, 100, Speed(x)); return err }, rpm, 30e3 * rpm},
		"accelerated":         {func(x float64) error { _, err := AccelerationTime(Inertia(x), 0, 100, 1); return err }, 1e-7, 1e4},
		"final speed":         {func(x float64) error { _, err := AccelerationTime(1, 0, Speed(x), 1); return err }, rpm, 30e3 * rpm},
		"first speed":         {func(x float64) error { _, err := AccelerationTime(1, Speed(x), 100, 1); return err }, 0, 100},
		"torque":              {func(x float64) error { _, err := AccelerationTime(1, 0, 100, unit.Torque(x)); return err }, 1e-9, 1e6},
		"R1/R2":               {func(x float64) error { _, err := NoLoadStartHeat(1, 100, x); return err }, 0, 20},
		"turning mass":        {func(x float64) error { _, err := NoLoadStartHeat(Inertia(x), 100, 1); return err }, 1e-7, 1e4},
		"loss":                {func(x float64) error { _, err := StartsWithinLoss(unit.Power(x), 1); return err }, 0.1, 100e3},
		"heat":                {func(x float64) error { _, err := StartsWithinLoss(1, unit.Energy(x)); return err }, 1e-3, 1e9},
		"greatest torque":     {func(x float64) error { _, err := NoLoadStartTime(1, 100, unit.Torque(x), 0.2, 0.05); return err }, 1e-3, 1e6},
		"peak slip":           {func(x float64) error { _, err := NoLoadStartTime(1, 100, 1, x, 0.05); return err }, 0.01, 10},
		"final slip":          {func(x float64) error { _, err := NoLoadStartTime(1, 100, 1, 0.2, x); return err }, 1e-4, 0.5},
		"unloaded mass":       {func(x float64) error { _, err := NoLoadStartTime(Inertia(x), 100, 1, 0.2, 0.1); return err }, 1e-7, 1e4},
		"slip":                {func(x float64) error { _, err := QuickestPeakSlip(x); return err }, 1e-4, 0.5},
	} {
		require.NoError(t, tt.try(tt.lo), name)
		require.NoError(t, tt.try(tt.hi), name)
		for _, x := range append([]float64{tt.hi * 1.001, -1e-3}, math.NaN(), math.Inf(1), math.Inf(-1)) {
			if name == "torque" && x < 0 && !math.IsInf(x, -1) {
				require.ErrorIs(t, tt.try(x), ErrNoAcceleratingTorque)
				continue
			}
			require.ErrorIs(t, tt.try(x), ErrDomain, "%s %v", name, x)
		}
		if tt.lo > 0 && name != "torque" {
			require.ErrorIs(t, tt.try(tt.lo*0.999), ErrDomain, name)
		}
	}
}
