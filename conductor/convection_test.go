package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Radiation alone: with the convection of the quarter power taken off, what is
// left is the law of Stefan and Boltzmann.
func TestSurfaceLossRadiates(t *testing.T) {
	black := AirCable{2e-3, 2e-3, 0, 1, 300, QuarterPower}
	white := black
	white.Emissivity = 0
	q := must[HeatPerLength](t)(black.SurfaceLoss(400)) - must[HeatPerLength](t)(white.SurfaceLoss(400))
	assert.InEpsilon(t, math.Pi*2e-3*5.670374419e-8*(math.Pow(400, 4)-math.Pow(300, 4)), float64(q), 1e-12)
	assert.InEpsilon(t, math.Pi*2e-3*1.25*math.Pow(100/2e-3, 0.25)*100, float64(must[HeatPerLength](t)(white.SurfaceLoss(400))), 1e-12)
	assert.Zero(t, must[HeatPerLength](t)(black.SurfaceLoss(300)))
	assert.Zero(t, must[HeatPerLength](t)(black.SurfaceLoss(290)))
}

// Air at 300 K and at 400 K as heat-transfer textbooks print it: k 26.3 and 33.8 mW/(m·K),
// ν 15.89 and 26.41 mm²/s, Pr 0.707 and 0.690.
func TestAir(t *testing.T) {
	k, nu, pr := air(300)
	assert.InEpsilon(t, 0.0263, k, 0.01)
	assert.InEpsilon(t, 15.89e-6, nu, 0.015)
	assert.InEpsilon(t, 0.707, pr, 0.015)
	k, nu, pr = air(400)
	assert.InEpsilon(t, 0.0338, k, 0.02)
	assert.InEpsilon(t, 26.41e-6, nu, 0.02)
	assert.InEpsilon(t, 0.690, pr, 0.02)
}

func TestConvectionNames(t *testing.T) {
	for c, want := range map[Convection]string{0: "no convection", ChurchillChu: "Churchill-Chu", QuarterPower: "quarter power", IECSurface: "IEC surface", 9: "no convection"} {
		assert.Equal(t, want, c.String())
	}
}
