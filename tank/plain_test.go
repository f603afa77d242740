package tank

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestPlainTankFactors(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/plain_tank_factors.csv") {
		p := PlainTank{
			Volume:     1 * unit.Volume(Litre) * 100,
			AirCharge:  unit.Pressure(r.Float("air_charge_psi")) * PSI,
			CutIn:      unit.Pressure(r.Float("cut_in_psi")) * PSI,
			CutOut:     unit.Pressure(r.Float("cut_out_psi")) * PSI,
			Atmosphere: 14.7 * PSI,
		}
		on, err := p.AirVolume(p.CutIn)
		require.NoError(t, err)
		off, err := p.AirVolume(p.CutOut)
		require.NoError(t, err)
		f, err := p.AcceptanceFactor()
		require.NoError(t, err)
		r.Printed("air_fraction_at_cut_in", float64(on/p.Volume))
		r.Printed("air_fraction_at_cut_out", float64(off/p.Volume))
		r.Printed("factor", f)
		assert.InDelta(t, f, float64((on-off)/p.Volume), 1e-12, "drawdown is what the air gives up")
	}
}

// Charged to the cut-in pressure, a plain tank is a captive-air tank.
func TestSuperchargedEqualsCaptive(t *testing.T) {
	p := PlainTank{Volume: demo.Volume, AirCharge: 30 * PSI, CutIn: 30 * PSI, CutOut: 50 * PSI}
	v := Vessel{Volume: demo.Volume, Precharge: 30 * PSI, CutIn: 30 * PSI, CutOut: 50 * PSI}
	plain, err := p.Drawdown()
	require.NoError(t, err)
	captive, err := v.Drawdown()
	require.NoError(t, err)
	assert.InEpsilon(t, float64(captive), float64(plain), 1e-14)
}

// Filled from atmospheric air it gives the share that its air is of the
// precharged tank's.
func TestPlainTankShare(t *testing.T) {
	for _, s := range []struct{ in, out, share float64 }{{20, 40, 0.45}, {30, 50, 0.34}, {40, 60, 0.28}} {
		v := at(s.in, s.out, 2, 0)
		captive, err := v.AcceptanceFactor()
		require.NoError(t, err)
		plain, err := PlainTank{Volume: demo.Volume, CutIn: v.CutIn, CutOut: v.CutOut}.AcceptanceFactor()
		require.NoError(t, err)
		assert.InDelta(t, s.share, plain/captive, 0.005)
	}
}

func TestPlainTankBounds(t *testing.T) {
	good := PlainTank{Volume: demo.Volume, CutIn: 30 * PSI, CutOut: 50 * PSI}
	require.NoError(t, good.Validate())
	for _, x := range append(notNumbers, 28, float64(0.9*PSI), float64(30.1*PSI)) {
		bad := good
		bad.AirCharge = unit.Pressure(x)
		_, err := bad.Drawdown()
		refused(t, err, "air charge")
		_, err = bad.AcceptanceFactor()
		refused(t, err, "air charge")
		_, err = bad.AirVolume(40 * PSI)
		refused(t, err, "air charge")
		_, err = bad.WaterLeft(40 * PSI)
		refused(t, err, "air charge")
	}
	for _, x := range append(notNumbers, 0, 85) {
		bad := good
		bad.Volume = unit.Volume(x)
		refused(t, bad.Validate(), "volume")
	}
	for _, x := range append(notNumbers, 0, 30) {
		bad := good
		bad.CutIn = unit.Pressure(x)
		refused(t, bad.Validate(), "cut-in")
	}
	err := PlainTank{}.Validate()
	refused(t, err, "volume")
	refused(t, err, "cut-in")
	refused(t, err, "cut-out")
}
