package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// Written out beside the sum of the IEC: one conductor without sheath losses is
// plain layers in series, and three of them count the common layers three times.
func TestCableLayers(t *testing.T) {
	one := CableLayers{Insulation: 0.3, Bedding: 0.1, Serving: 0.2, External: 0.9, Conductors: 1}
	assert.InDelta(t, 1.5, float64(must[HeatPath](t)(one.Path()).ToAmbient), 1e-12)
	three := one
	three.Conductors = 3
	assert.InDelta(t, 0.3+3*1.2, float64(must[HeatPath](t)(three.Path()).ToAmbient), 1e-12)
	three.SheathLoss, three.ArmourLoss, three.Dielectric = 0.1, 0.05, 0.5
	p := must[HeatPath](t)(three.Path())
	assert.InDelta(t, 0.3+3*1.1*0.1+3*1.15*1.1, float64(p.ToAmbient), 1e-12)
	assert.InDelta(t, 0.5*(0.15+3*1.2), float64(p.DielectricRise), 1e-12)
}

// The heat balance layer by layer, with the losses of conductor, sheath and
// armour each put where it arises, gives the conductor's temperature too.
func TestCableLayersBalance(t *testing.T) {
	c := CableLayers{0.3, 0.1, 0.2, 0.9, 3, 0.1, 0.05, 0.5}
	p := must[HeatPath](t)(c.Path())
	const w = 12.0 // (W/m) of each conductor
	n := float64(c.Conductors)
	wd := float64(c.Dielectric)
	inner := n * (w*(1+c.SheathLoss) + wd)
	outer := n * (w*(1+c.SheathLoss+c.ArmourLoss) + wd)
	rise := (w+wd/2)*0.3 + inner*0.1 + outer*1.1
	assert.InDelta(t, rise, w*float64(p.ToAmbient)+float64(p.DielectricRise), 1e-12)
}

func TestCableLayersRefused(t *testing.T) {
	good := CableLayers{0.3, 0, 0, 0.9, 1, 0, 0, 0}
	for says, spoil := range map[string]func(*CableLayers){
		"thermal resistance of the insulation":   func(c *CableLayers) { c.Insulation = -1 },
		"thermal resistance of the bedding":      func(c *CableLayers) { c.Bedding = 1001 },
		"thermal resistance of the serving":      func(c *CableLayers) { c.Serving = ThermalResistance(math.NaN()) },
		"thermal resistance of the surroundings": func(c *CableLayers) { c.External = ThermalResistance(math.Inf(1)) },
		"number of conductors 0":                 func(c *CableLayers) { c.Conductors = 0 },
		"number of conductors 101":               func(c *CableLayers) { c.Conductors = 101 },
		"sheath loss factor":                     func(c *CableLayers) { c.SheathLoss = -0.1 },
		"armour loss factor":                     func(c *CableLayers) { c.ArmourLoss = 10.1 },
		"dielectric loss":                        func(c *CableLayers) { c.Dielectric = 101 },
		"thermal resistance 0 K·m/W":             func(c *CableLayers) { c.Insulation, c.External = 0, 0 },
	} {
		c := good
		spoil(&c)
		_, err := c.Path()
		refused(t, err, says)
	}
	_, err := good.Path()
	require.NoError(t, err)
}

// Layers add: two within one another are one of the whole thickness.
func TestLayersAdd(t *testing.T) {
	inner := must[ThermalResistance](t)(Layer(5, 3e-3, 5e-3))
	outer := must[ThermalResistance](t)(Layer(5, 5e-3, 9e-3))
	whole := must[ThermalResistance](t)(Layer(5, 3e-3, 9e-3))
	assert.InEpsilon(t, float64(whole), float64(inner+outer), 1e-12)
	assert.Zero(t, must[ThermalResistance](t)(Layer(5, 3e-3, 3e-3)))
	assert.InEpsilon(t, 5/(2*math.Pi)*math.Log(3), float64(whole), 1e-12)
	_, err := Layer(5, 5e-3, 3e-3)
	refused(t, err, "outer diameter")
	bounds(t, "thermal resistivity", 0.01, 100, func(x float64) error {
		_, err := Layer(ThermalResistivity(x), 1e-3, 2e-3)
		return err
	})
	bounds(t, "inner diameter", minDiameter, maxDiameter, func(x float64) error {
		_, err := Layer(1, unit.Length(x), maxDiameter)
		return err
	})
}

// Deep cables have ln(4L/D), and soil of half the resistivity half the
// resistance.
func TestBuried(t *testing.T) {
	deep := must[ThermalResistance](t)(Buried(SoilResistivity, 30, 0.02))
	assert.InEpsilon(t, 0.9/(2*math.Pi)*math.Log(4*30/0.02), float64(deep), 1e-6)
	half := must[ThermalResistance](t)(Buried(SoilResistivity/2, 30, 0.02))
	assert.InEpsilon(t, float64(deep)/2, float64(half), 1e-12)
	u := 2 * 0.6 / 0.02
	assert.InEpsilon(t, 0.9/(2*math.Pi)*math.Log(u+math.Sqrt(u*u-1)), float64(must[ThermalResistance](t)(Buried(SoilResistivity, 0.6, 0.02))), 1e-12)
	_, err := Buried(SoilResistivity, 0.01, 0.02)
	refused(t, err, "depth")
	_, err = Buried(SoilResistivity, 101, 0.02)
	refused(t, err, "depth")
	_, err = Buried(0, 1, 0.02)
	refused(t, err, "thermal resistivity")
	_, err = Buried(1, 1, 20)
	refused(t, err, "diameter")
}
