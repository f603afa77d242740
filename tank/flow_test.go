package tank

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFlowRatePrints(t *testing.T) {
	q := 10 * USGallonPerMinute
	assert.Equal(t, "0.000631 m^3/s", fmt.Sprintf("%.6f", q))
	assert.Equal(t, "6.309e-04 m^3/s", fmt.Sprintf("%.3e", q))
	assert.Equal(t, "%!d(1 m^3/s)", fmt.Sprintf("%d", CubicMetrePerSecond))
}

func TestFlowUnits(t *testing.T) {
	assert.InEpsilon(t, 20, float64((10*USGallonPerMinute).Volume(2*Minute)/USGallon), 1e-12)
	assert.InEpsilon(t, 3600, float64(CubicMetrePerSecond/CubicMetrePerHour), 1e-12)
	assert.InEpsilon(t, 60, float64(LitrePerSecond/LitrePerMinute), 1e-12)
	assert.InEpsilon(t, 1440, float64(LitrePerMinute/LitrePerDay), 1e-12)
	assert.InEpsilon(t, 1440, float64(USGallonPerMinute/USGallonPerDay), 1e-12)
	assert.InEpsilon(t, 4.54609, float64(ImperialGallonPerMinute/LitrePerMinute), 1e-12)
	assert.InEpsilon(t, 3.785411784, float64(USGallonPerMinute/LitrePerMinute), 1e-12)
}
