package tank

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestSizingExamples(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/sizing_examples.csv") {
		gal := gallons(t, r)
		var pump FlowRate
		if r.HasParam("pump") {
			pump = FlowRate(r.Param("pump", "gpm")) * USGallonPerMinute
		}
		run := func() (unit.Volume, error) {
			return DrawdownForRun(pump, unit.Time(r.Param("run", "min"))*Minute)
		}
		switch quantity := r.Text("quantity"); quantity {
		case "volume_for_run":
			vd, err := run()
			require.NoError(t, err)
			r.Expected(gal(vessel(r).VolumeFor(vd)))
		case "drawdown_for_run":
			r.Expected(gal(run()))
		case "drawdown_for_starts":
			n := PerHour
			if r.ParamText("starts") != "6 per h" {
				n = PerDay * unit.Frequency(r.Param("starts", "per day"))
			} else {
				n *= unit.Frequency(r.Param("starts", "per h"))
			}
			r.Expected(gal(DrawdownForStarts(pump, n)))
		case "design_volume":
			d := DesignTank{
				Pump: pump, Cycles: unit.Frequency(r.Param("cycles", "per h")) * PerHour, Seal: r.Param("seal", ""),
				CutIn:      unit.Pressure(r.Param("cut_in", "psi")) * PSI,
				CutOut:     unit.Pressure(r.Param("cut_out", "psi")) * PSI,
				Atmosphere: unit.Pressure(r.Param("atm", "psi")) * PSI,
			}
			r.Expected(gal(d.Volume()))
		case "gross_volume":
			r.Expected(gal(GrossVolume(pump)))
		case "quick_volume":
			r.Expected(gal(QuickVolume(pump)))
		case "precharge_for":
			p, err := PrechargeFor(unit.Pressure(r.Param("cut_in", "psi")) * PSI)
			require.NoError(t, err)
			r.Expected(float64(p / PSI))
		default:
			t.Fatal(r.Source(), "unknown quantity", quantity)
		}
	}
}

// The design form is the drawdown for its cycles over the factor of a tank
// with its precharge at cut-in; a seal multiplies it.
func TestDesignFormIsBoyle(t *testing.T) {
	for _, s := range [][2]unit.Pressure{{20, 40}, {30, 50}, {40, 60}, {50, 80}} {
		v := Vessel{Precharge: s[0] * PSI, CutIn: s[0] * PSI, CutOut: s[1] * PSI}
		d := DesignTank{Pump: 12 * USGallonPerMinute, Cycles: 6 * PerHour, CutIn: v.CutIn, CutOut: v.CutOut}
		vd, err := DrawdownForStarts(d.Pump, d.Cycles)
		require.NoError(t, err)
		want, err := v.VolumeFor(vd)
		require.NoError(t, err)
		got, err := d.Volume()
		require.NoError(t, err)
		assert.InEpsilon(t, float64(want), float64(got), 1e-12)
		d.Seal = 1.25
		sealed, err := d.Volume()
		require.NoError(t, err)
		assert.InEpsilon(t, 1.25*float64(got), float64(sealed), 1e-12)
	}
}

// A tank of the size that VolumeFor returns gives the drawdown asked for, and
// the system then starts as often as was allowed.
func TestSizingRoundTrip(t *testing.T) {
	pump := 10 * USGallonPerMinute
	vd, err := DrawdownForStarts(pump, 8*PerHour)
	require.NoError(t, err)
	v := demo
	v.Volume, err = v.VolumeFor(vd)
	require.NoError(t, err)
	back, err := v.Drawdown()
	require.NoError(t, err)
	assert.InEpsilon(t, float64(vd), float64(back), 1e-12)
	worst, err := System{Drawdown: back, Pump: pump}.WorstDemand()
	require.NoError(t, err)
	assert.InEpsilon(t, 8, float64(worst.Starts/PerHour), 1e-12)
}

func TestSizingBounds(t *testing.T) {
	pump := 10 * USGallonPerMinute
	for _, x := range append(notNumbers, 0, 10) {
		_, err := DrawdownForRun(FlowRate(x), 2*Minute)
		refused(t, err, "pump flow")
		_, err = DrawdownForStarts(FlowRate(x), 6*PerHour)
		refused(t, err, "pump flow")
		_, err = GrossVolume(FlowRate(x))
		refused(t, err, "pump flow")
		_, err = QuickVolume(FlowRate(x))
		refused(t, err, "pump flow")
	}
	for _, x := range append(notNumbers, 0, 2, 9.9, 3601) {
		_, err := DrawdownForRun(pump, unit.Time(x))
		refused(t, err, "run")
	}
	for _, x := range []unit.Time{10, 3600} {
		_, err := DrawdownForRun(pump, x)
		require.NoError(t, err)
	}
	for _, x := range append(notNumbers, 0, 6, float64(0.99*PerDay), float64(60.1*PerHour)) {
		_, err := DrawdownForStarts(pump, unit.Frequency(x))
		refused(t, err, "starts")
	}
	for _, x := range append(notNumbers, 0, 25, 0.9e-6) {
		_, err := demo.VolumeFor(unit.Volume(x))
		refused(t, err, "drawdown")
	}
	good := DesignTank{Pump: pump, Cycles: 6 * PerHour, CutIn: 40 * PSI, CutOut: 60 * PSI}
	for _, x := range append(notNumbers, 0.9, 3.1) {
		bad := good
		bad.Seal = x
		_, err := bad.Volume()
		refused(t, err, "seal factor")
	}
	_, err := DesignTank{}.Volume()
	for _, quantity := range []string{"pump flow", "starts", "cut-in", "cut-out"} {
		refused(t, err, quantity)
	}
}
