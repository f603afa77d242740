package tank

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// Half a minute between clicks is the trade's sign of short-cycling.
func TestWaterloggedShortCycles(t *testing.T) {
	w := Waterlogged{Air: 1 * USGallon, CutIn: 30 * PSI, CutOut: 50 * PSI}
	c, err := w.ShortCycle(10 * USGallonPerMinute)
	require.NoError(t, err)
	assert.Less(t, float64(c.Period()), 30.0)
	assert.InEpsilon(t, float64(c.On), float64(c.Off), 1e-12)
}

// A tank with all its air is the captive-air tank whose air fills it at cut-in.
func TestWaterloggedLimit(t *testing.T) {
	w := Waterlogged{Air: demo.Volume, CutIn: 30 * PSI, CutOut: 50 * PSI}
	v := Vessel{Volume: demo.Volume, Precharge: 30 * PSI, CutIn: 30 * PSI, CutOut: 50 * PSI}
	a, err := w.Drawdown()
	require.NoError(t, err)
	b, err := v.Drawdown()
	require.NoError(t, err)
	assert.InEpsilon(t, float64(b), float64(a), 1e-12)
}

func TestWaterloggedBounds(t *testing.T) {
	good := Waterlogged{Air: 1 * USGallon, CutIn: 30 * PSI, CutOut: 50 * PSI}
	for _, x := range append(notNumbers, 0, 2, 0.9e-6) {
		bad := good
		bad.Air = unit.Volume(x)
		_, err := bad.Drawdown()
		refused(t, err, "air left")
		_, err = bad.ShortCycle(10)
		refused(t, err, "air left")
		refused(t, err, "pump flow")
	}
	for _, x := range append(notNumbers, 0, 50) {
		bad := good
		bad.CutOut = unit.Pressure(x)
		_, err := bad.Drawdown()
		refused(t, err, "cut-out")
	}
	_, err := good.ShortCycle(10)
	refused(t, err, "pump flow")
}
