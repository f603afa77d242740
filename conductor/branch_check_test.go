package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The conditions of 210.19: 16 A for hours need a 20 A circuit and 12 AWG, and
// fail on 14 AWG.
func TestBranchCheck(t *testing.T) {
	b := branch
	b.Size = AWG(12)
	c := must[BranchCheck](t)(b.Check(BranchLoad{Continuous: 16}))
	assert.True(t, c.Passes())
	assert.EqualValues(t, 20, c.Demand)
	assert.EqualValues(t, 20, c.Device)
	assert.Equal(t, AWG(12), c.Grounding)

	b.Size = AWG(14)
	c = must[BranchCheck](t)(b.Check(BranchLoad{Continuous: 16}))
	assert.False(t, c.Passes())
	assert.True(t, c.Conditions[0].Holds(), "20 A at 75 °C bears 20 A")
	assert.True(t, c.Conditions[1].Holds())
	assert.False(t, c.Conditions[2].Holds(), "15 A device")
	assert.Equal(t, AWG(14), c.Grounding, "not larger than the conductor")
	assert.Contains(t, c.Conditions[2].String(), "fails")
	assert.Contains(t, c.Conditions[0].String(), "holds")

	// Correction and the 125 % are not stacked: 8 AWG at 60 °C has 39.05 A and
	// bears 32 A for hours, although 1.25·32 is 40 A.
	b.Size, b.Ambient = AWG(8), Celsius(60)
	c = must[BranchCheck](t)(b.Check(BranchLoad{Continuous: 32}))
	assert.True(t, c.Passes())
	assert.InDelta(t, 39.05, float64(c.Worksheet.Ampacity), 1e-9)
	assert.EqualValues(t, 40, c.Device)
	c = must[BranchCheck](t)(b.Check(BranchLoad{0, 40}))
	assert.False(t, c.Conditions[1].Holds())
	c = must[BranchCheck](t)(b.Check(BranchLoad{Continuous: 40.1}))
	assert.False(t, c.Conditions[0].Holds(), "50.1 A at terminals that bear 50 A")

	// Terminals without marking follow the device: 100 A is the last at 60 °C.
	b = branch
	b.Size, b.Terminals = AWG(0), 0
	c = must[BranchCheck](t)(b.Check(BranchLoad{Other: 100}))
	assert.EqualValues(t, 125, c.Worksheet.Ampacity)
	c = must[BranchCheck](t)(b.Check(BranchLoad{Other: 101}))
	assert.EqualValues(t, 150, c.Worksheet.Ampacity)

	refused(t, second(b.Check(BranchLoad{})), "load")
	refused(t, second(b.Check(BranchLoad{4800, 4800})), "current")
	err := second(Branch{}.Check(BranchLoad{-1, 0}))
	refused(t, err, "continuous load")
	assert.ErrorContains(t, err, "temperature rating")
}

// The 2 hp single-phase pump of 12 A by the table: 15 A of conductor, a breaker
// of 30 A on 14 AWG.
func TestBranchCheckMotor(t *testing.T) {
	b := branch
	b.Size = AWG(14)
	m := MotorCircuit{Kind: SinglePhase, Table: 12, Nameplate: 10, ServiceFactor: 1.15}
	c := must[MotorCheck](t)(b.CheckMotor(m, InverseTimeBreaker))
	assert.True(t, c.Passes())
	assert.EqualValues(t, 15, c.Conditions[0].Need)
	assert.EqualValues(t, 20, c.Conditions[0].Has)
	assert.EqualValues(t, 30, c.Protection.Standard)
	assert.EqualValues(t, 12.5, c.Overload.Largest)
	assert.Equal(t, AWG(14), c.Grounding, "10 AWG by the breaker, but not above the conductor")

	b.Size = AWG(8)
	c = must[MotorCheck](t)(b.CheckMotor(m, InverseTimeBreaker))
	assert.Equal(t, AWG(10), c.Grounding)
	c = must[MotorCheck](t)(b.CheckMotor(m, InstantaneousTrip))
	assert.Equal(t, AWG(10), c.Grounding, "as for the dual-element fuse of 25 A")

	b.Size, b.Ambient, b.Conductors = AWG(14), Celsius(50), 9
	c = must[MotorCheck](t)(b.CheckMotor(m, DualElementFuse))
	assert.False(t, c.Passes(), "14.35 A are less than 15 A")

	err := second(Branch{}.CheckMotor(MotorCircuit{}, 0))
	for _, says := range []string{"temperature rating", "table full-load", "nameplate", "motor device"} {
		refused(t, err, says)
	}
	require.Error(t, err)
}
