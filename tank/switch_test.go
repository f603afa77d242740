package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestPressureSwitch(t *testing.T) {
	psi := func(p unit.Pressure) float64 { return float64(p / PSI) }
	sold := FactorySwitches()
	off, err := sold[0].ShutOff()
	require.NoError(t, err)
	pre, err := PrechargeFor(30 * PSI)
	require.NoError(t, err)
	shower, err := PressureAbove(20*PSI, 30*Foot, CustomaryWater)
	require.NoError(t, err)
	up, err := StandardPressure(1000 * Foot)
	require.NoError(t, err)
	lost, err := HeadOfPressure(SeaLevel-up, CustomaryWater)
	require.NoError(t, err)
	got := map[string]float64{
		"usual differential": psi(UsualDifferential),
		"factory cut-in 1":   psi(sold[0].CutIn), "factory cut-out 1": psi(sold[0].CutOut),
		"factory cut-in 2": psi(sold[1].CutIn), "factory cut-out 2": psi(sold[1].CutOut),
		"factory cut-in 3": psi(sold[2].CutIn), "factory cut-out 3": psi(sold[2].CutOut),
		"precharge below cut-in":                       30 - psi(pre),
		"pump shut-off margin above cut-out":           psi(off.Low - sold[0].CutOut),
		"pump shut-off margin above cut-out, generous": psi(off.High - sold[0].CutOut),
		"shut-off of a 20/40 switch":                   psi(off.Low), "shut-off of a 20/40 switch, generous": psi(off.High),
		"largest common captive tank": float64(LargestTank / USGallon),
		"least working pressure":      psi(WorkingPressures().Low), "most working pressure": psi(WorkingPressures().High),
		"most factory precharge": psi(MostFactoryPrecharge), "short cycle at or below": float64(ShortClick),
		"two-storey shower 30 ft above tank at 20 psi": psi(shower),
		"loss of suction lift per 1000 ft of altitude": float64(lost / Foot),
	}
	for _, r := range reftest.Rows(t, "tank/pressure_switch.csv") {
		x, ok := got[r.Text("item")]
		require.True(t, ok, r.Source())
		r.Printed("value", x)
	}
	for _, s := range sold {
		assert.InEpsilon(t, float64(UsualDifferential), float64(s.Differential()), 1e-12)
		pre, err := PrechargeFor(s.CutIn)
		require.NoError(t, err)
		require.NoError(t, Vessel{Volume: 44 * USGallon, Precharge: pre, CutIn: s.CutIn, CutOut: s.CutOut}.Validate())
		assert.LessOrEqual(t, float64(pre), float64(MostFactoryPrecharge))
	}
}

func TestSwitchBounds(t *testing.T) {
	for _, x := range append(notNumbers, 0, 30, float64(150*PSI)) {
		_, err := PressureSwitch{unit.Pressure(x), 50 * PSI}.ShutOff()
		refused(t, err, "cut-in")
	}
	for _, x := range append(notNumbers, 0, 50, float64(30.5*PSI), float64(151*PSI)) {
		_, err := PressureSwitch{30 * PSI, unit.Pressure(x)}.ShutOff()
		refused(t, err, "cut-out")
	}
	for _, x := range append(notNumbers, 0, 101) {
		_, err := TanksFor(unit.Volume(x))
		refused(t, err, "volume")
	}
	for gal, want := range map[float64]int{1: 1, 119: 1, 119.1: 2, 238: 2, 300: 3} {
		n, err := TanksFor(unit.Volume(gal) * USGallon)
		require.NoError(t, err)
		assert.Equal(t, want, n, "%v gal", gal)
	}
}

// A pump short-cycles by its runs or by its rests.
func TestShort(t *testing.T) {
	assert.True(t, Cycle{On: 30, Off: 300}.Short())
	assert.True(t, Cycle{On: 300, Off: 30}.Short())
	assert.False(t, Cycle{On: 31, Off: 31}.Short())
	assert.False(t, Cycle{On: unit.Time(math.NaN()), Off: 31}.Short())
	c, err := Waterlogged{Air: USGallon, CutIn: 30 * PSI, CutOut: 50 * PSI}.ShortCycle(10 * USGallonPerMinute)
	require.NoError(t, err)
	assert.True(t, c.Short())
}
