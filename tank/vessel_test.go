package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestBoyleExamples(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/boyle_examples.csv") {
		gal := gallons(t, r)
		switch quantity := r.Text("quantity"); quantity {
		case "drawdown":
			r.Expected(gal(vessel(r).Drawdown()))
		case "acceptance_factor":
			f, err := vessel(r).AcceptanceFactor()
			require.NoError(t, err)
			r.Expected(f)
		case "gauge_only":
			r.Expected(gal(vessel(r).GaugeOnlyDrawdown()))
		case "wrong_drawdown":
			r.Rejects("expected", gal(vessel(r).Drawdown()), r.Float("tolerance"))
		case "water_left":
			r.Expected(gal(vessel(r).WaterLeft(unit.Pressure(r.Param("pressure", "psi")) * PSI)))
		case "mean_water_left":
			w, err := vessel(r).WaterWhenPowerFails()
			r.Expected(gal(w.Mid(), err))
		case "plain_air":
			r.Expected(gal(plainTank(r).AirVolume(unit.Pressure(r.Param("pressure", "psi")) * PSI)))
		case "plain_water":
			r.Expected(gal(plainTank(r).WaterLeft(unit.Pressure(r.Param("pressure", "psi")) * PSI)))
		case "wrong_plain_air":
			air := gal(plainTank(r).AirVolume(unit.Pressure(r.Param("pressure", "psi")) * PSI))
			r.Rejects("expected", air, r.Float("tolerance"))
		case "wrong_plain_water":
			water := gal(plainTank(r).WaterLeft(unit.Pressure(r.Param("pressure", "psi")) * PSI))
			r.Rejects("expected", water, r.Float("tolerance"))
		default:
			t.Fatal(r.Source(), "unknown quantity", quantity)
		}
	}
}

func plainTank(r reftest.Row) PlainTank {
	return PlainTank{
		Volume:     unit.Volume(r.Param("tank", "gal")) * USGallon,
		AirCharge:  unit.Pressure(r.Param("charge", "psi")) * PSI,
		CutIn:      unit.Pressure(r.Param("cut_in", "psi")) * PSI,
		CutOut:     unit.Pressure(r.Param("cut_out", "psi")) * PSI,
		Atmosphere: unit.Pressure(r.Param("atm", "psi")) * PSI,
	}
}

// at returns a vessel without volume, with the precharge so far below cut-in.
func at(in, out, below, atm float64) Vessel {
	return Vessel{
		Precharge: unit.Pressure(in-below) * PSI, CutIn: unit.Pressure(in) * PSI, CutOut: unit.Pressure(out) * PSI,
		Atmosphere: unit.Pressure(atm) * PSI,
	}
}

func TestAcceptanceFactors(t *testing.T) {
	factor := func(v Vessel) float64 {
		f, err := v.AcceptanceFactor()
		require.NoError(t, err)
		return f
	}
	last := map[string]float64{}
	for _, r := range reftest.Rows(t, "tank/acceptance_factors.csv") {
		in, out := r.Float("cut_in_psi"), r.Float("cut_out_psi")
		below, equal := factor(at(in, out, 2, 14.7)), factor(at(in, out, 0, 14.7))
		r.Printed("factor_precharge_2_below", below)
		r.Printed("factor_precharge_at_cut_in", equal)
		r.Printed("factor_2_below_std_atm", factor(at(in, out, 2, 0)))

		plain := PlainTank{
			Volume: demo.Volume, CutIn: unit.Pressure(in) * PSI, CutOut: unit.Pressure(out) * PSI, Atmosphere: 14.7 * PSI,
		}
		f, err := plain.AcceptanceFactor()
		require.NoError(t, err)
		r.Printed("factor_plain", f)

		if r.Has("factor_printed") {
			r.Printed("factor_printed", map[string]float64{"minus2": below, "equal": equal}[r.Text("printed_with")])
		}
		// A law of its own: a wider differential at one cut-in gives more.
		assert.Greater(t, below, last[r.Text("cut_in_psi")], r.Source())
		last[r.Text("cut_in_psi")] = below
	}
}

func TestDrawdownVolumes(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/drawdown_volumes.csv") {
		for column, v := range map[string]Vessel{
			"20_40_below": at(20, 40, 2, 14.7), "20_40_at": at(20, 40, 0, 14.7),
			"30_50_below": at(30, 50, 2, 14.7), "30_50_at": at(30, 50, 0, 14.7),
			"40_60_below": at(40, 60, 2, 14.7), "40_60_at": at(40, 60, 0, 14.7),
			"50_70_below": at(50, 70, 2, 14.7), "50_70_at": at(50, 70, 0, 14.7),
		} {
			v.Volume = unit.Volume(r.Float("volume_gal")) * USGallon
			r.Printed(column+"_gal", gallons(t, r)(v.Drawdown()))
		}
	}
}

func TestAltitudeDrawdown(t *testing.T) {
	last := 0.0
	for _, r := range reftest.Rows(t, "tank/altitude_drawdown.csv") {
		pa, err := StandardPressure(unit.Length(r.Float("altitude_m")))
		require.NoError(t, err)
		for column, v := range map[string]Vessel{
			"factor_20_40": at(20, 40, 2, 0), "factor_30_50": at(30, 50, 2, 0), "factor_40_60": at(40, 60, 2, 0),
		} {
			v.Atmosphere = pa
			f, err := v.AcceptanceFactor()
			require.NoError(t, err, r.Source())
			r.Printed(column, f)
			if column == "factor_30_50" {
				assert.Greater(t, f, last, "drawdown rises with altitude")
				last = f
			}
		}
	}
}

// Weather that raises the air pressure by 3 % takes 0.6 % off the drawdown.
func TestWeather(t *testing.T) {
	for _, s := range [][2]float64{{20, 40}, {30, 50}, {40, 60}} {
		calm, high := at(s[0], s[1], 2, 14.7), at(s[0], s[1], 2, 14.7*1.03)
		f, err := calm.AcceptanceFactor()
		require.NoError(t, err)
		g, err := high.AcceptanceFactor()
		require.NoError(t, err)
		assert.InDelta(t, -0.2, (g/f-1)/0.03, 0.05, "%v", s)
	}
}

// Water and air fill the tank; drawdown is the difference of water left at
// the two switch pressures.
func TestWaterBalance(t *testing.T) {
	vd, err := demo.Drawdown()
	require.NoError(t, err)
	w, err := demo.WaterWhenPowerFails()
	require.NoError(t, err)
	assert.InEpsilon(t, float64(vd), float64(w.High-w.Low), 1e-12)
	for p := unit.Pressure(0); p <= 60*PSI; p += 5 * PSI {
		air, err := demo.AirVolume(p)
		require.NoError(t, err)
		water, err := demo.WaterLeft(p)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(demo.Volume), float64(air+water), 1e-12)
		assert.GreaterOrEqual(t, float64(water), 0.0)
		assert.Equal(t, p <= demo.Precharge, water == 0, "%v", p)
	}
}

func TestPrechargeAboveCutIn(t *testing.T) {
	v := demo
	v.Precharge = 35 * PSI
	for name, f := range map[string]func() error{
		"drawdown":   func() error { _, err := v.Drawdown(); return err },
		"factor":     func() error { _, err := v.AcceptanceFactor(); return err },
		"polytropic": func() error { _, err := v.PolytropicDrawdown(1.2); return err },
		"settled":    func() error { _, err := v.SettledPressure(1.2); return err },
		"volume for": func() error { _, err := v.VolumeFor(10 * USGallon); return err },
	} {
		err := f()
		require.ErrorIs(t, err, ErrPrechargeAboveCutIn, name)
		require.NotErrorIs(t, err, ErrDomain, name)
	}
	_, err := v.Drawdown()
	var e *PrechargeError
	require.ErrorAs(t, err, &e)
	assert.InEpsilon(t, 35, float64(e.Precharge/PSI), 1e-12)
	assert.InEpsilon(t, 30, float64(e.CutIn/PSI), 1e-12)
	require.EqualError(t, err, "tank: precharge above cut-in: precharge 35 psi, cut-in 30 psi; "+
		"the tank gives 19.7 gal (74.6 L) and is empty before the pump starts")
	left, err := v.WaterLeft(50 * PSI)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(e.Usable), float64(left), 1e-12)

	w, err := v.WaterWhenPowerFails()
	require.NoError(t, err)
	assert.Zero(t, float64(w.Low))

	v.Precharge = 60 * PSI // above cut-out: the tank never takes water
	_, err = v.Drawdown()
	require.ErrorAs(t, err, &e)
	assert.Zero(t, float64(e.Usable))
	require.EqualError(t, err, "tank: precharge above cut-in: precharge 60 psi, cut-in 30 psi; the tank is empty before the pump starts")

	// A volume that is not known, or is nonsense, gives no figure of gallons.
	for _, x := range append(notNumbers, 0, 85) {
		v.Precharge, v.Volume = 35*PSI, unit.Volume(x)
		_, err = v.AcceptanceFactor()
		require.ErrorAs(t, err, &e)
		assert.Zero(t, float64(e.Usable))
		require.NotContains(t, err.Error(), "gal")
	}

	v = demo
	v.Precharge = v.CutIn // the limit is no error
	_, err = v.Drawdown()
	require.NoError(t, err)
	// Switch pressures that add up unevenly in binary must not trip it.
	v.CutIn, v.Precharge = (28+2)*PSI, 30*PSI
	_, err = v.Drawdown()
	require.NoError(t, err)
}

func TestVesselBounds(t *testing.T) {
	for _, tt := range []struct {
		quantity string
		set      func(v *Vessel, x float64)
		lo, hi   float64
	}{
		{"volume", func(v *Vessel, x float64) { v.Volume = unit.Volume(x) }, 0.5e-3, 1.9},
		{"precharge", func(v *Vessel, x float64) { v.Precharge = unit.Pressure(x) }, float64(PSI), float64(150 * PSI)},
		{"cut-in", func(v *Vessel, x float64) { v.CutIn, v.Precharge = unit.Pressure(x), 2*PSI }, float64(5 * PSI), float64(49 * PSI)},
		{"cut-out", func(v *Vessel, x float64) { v.CutOut = unit.Pressure(x) }, float64(31 * PSI), float64(150 * PSI)},
		{"atmosphere", func(v *Vessel, x float64) { v.Atmosphere = unit.Pressure(x) }, 50e3, 115e3},
	} {
		try := func(x float64) error {
			v := demo
			tt.set(&v, x)
			return v.Validate()
		}
		const hair = 1e-9
		require.NoError(t, try(tt.lo*(1+hair)), tt.quantity)
		require.NoError(t, try(tt.hi*(1-hair)), tt.quantity)
		refused(t, try(tt.lo*(1-hair)), tt.quantity)
		if tt.quantity == "cut-in" {
			refused(t, try(tt.hi*(1+hair)), "cut-out") // the two are too close
		} else {
			refused(t, try(tt.hi*(1+hair)), tt.quantity)
		}
		for _, x := range notNumbers {
			refused(t, try(x), tt.quantity)
		}
		if tt.quantity != "atmosphere" { // where zero is sea level
			refused(t, try(0), tt.quantity)
		}
	}
}

// A number without its unit is SI, and lies outside.
func TestForgottenUnits(t *testing.T) {
	forgot := Vessel{Volume: 85, Precharge: 28, CutIn: 30, CutOut: 50, Atmosphere: 14.7}
	err := forgot.Validate()
	for _, quantity := range []string{"volume", "precharge", "cut-in", "cut-out", "atmosphere"} {
		refused(t, err, quantity)
	}
	require.ErrorContains(t, err, "tank: cut-in 0.00435113 psi (30 Pa), want 5 psi to 149 psi")
	require.ErrorContains(t, err, "tank: volume 22454.6 gal (85 m³), want 0.132086 gal to 501.927 gal")

	kpa := demo
	kpa.CutIn = 30 * Kilopascal
	refused(t, kpa.Validate(), "cut-in")
	swapped := demo
	swapped.CutIn, swapped.CutOut = demo.CutOut, demo.CutIn
	refused(t, swapped.Validate(), "cut-out")
	refused(t, Vessel{}.Validate(), "volume")
}

func TestVesselMethodsRefuse(t *testing.T) {
	for name, f := range map[string]func(v Vessel) error{
		"Drawdown":            func(v Vessel) error { _, err := v.Drawdown(); return err },
		"AcceptanceFactor":    func(v Vessel) error { _, err := v.AcceptanceFactor(); return err },
		"AirVolume":           func(v Vessel) error { _, err := v.AirVolume(40 * PSI); return err },
		"WaterLeft":           func(v Vessel) error { _, err := v.WaterLeft(40 * PSI); return err },
		"WaterWhenPowerFails": func(v Vessel) error { _, err := v.WaterWhenPowerFails(); return err },
		"PolytropicDrawdown":  func(v Vessel) error { _, err := v.PolytropicDrawdown(1.1); return err },
		"SettledPressure":     func(v Vessel) error { _, err := v.SettledPressure(1.1); return err },
		"GaugeOnlyDrawdown":   func(v Vessel) error { _, err := v.GaugeOnlyDrawdown(); return err },
		"ThirdOfVolume":       func(v Vessel) error { _, err := v.ThirdOfVolume(); return err },
		"VolumeFor":           func(v Vessel) error { _, err := v.VolumeFor(10 * USGallon); return err },
	} {
		require.NoError(t, f(demo), name)
		v := demo
		v.CutIn = unit.Pressure(math.NaN())
		require.ErrorIs(t, f(v), ErrDomain, name)
		require.ErrorIs(t, f(Vessel{}), ErrDomain, name)
	}
	for _, x := range append(notNumbers, 40) {
		_, err := demo.WaterLeft(unit.Pressure(x))
		refused(t, err, "pressure")
		_, err = Vessel{}.AirVolume(unit.Pressure(x))
		refused(t, err, "pressure")
	}
	_, err := demo.AirVolume(150.1 * PSI)
	refused(t, err, "pressure")
}
