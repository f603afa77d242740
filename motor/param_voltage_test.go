package motor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// The handbook's table of what the voltage does to a loaded motor, from the
// circuits of published machines.
func TestVoltageVariationUnderLoad(t *testing.T) {
	machines := map[string]ThreePhaseCircuit{}
	outputs := map[string]unit.Power{}
	ids, circuits, watts := published(t, "motor/circuit_three.csv", true)
	for i, id := range ids {
		c, ok := circuits[i].(ThreePhaseCircuit)
		require.True(t, ok)
		machines[id], outputs[id] = c, watts[i]
	}
	for _, row := range reftest.Rows(t, "motor/voltage_variation_load.csv") {
		c := machines[row.Text("machine")]
		output := unit.Power(row.Float("load")) * outputs[row.Text("machine")]
		at, err := c.AtOutput(output, c.Voltage)
		require.NoError(t, err)
		ratio := row.Float("voltage")
		off, err := c.AtOutput(output, c.Voltage*unit.Voltage(ratio))
		require.NoError(t, err)
		// Held, and at breakdown, the linear circuit goes with V and V².
		rated, err := c.Thevenin(c.Voltage)
		require.NoError(t, err)
		th, err := c.Thevenin(c.Voltage * unit.Voltage(ratio))
		require.NoError(t, err)
		assert.InEpsilon(t, ratio, float64(th.LockedRotor/rated.LockedRotor), 1e-12)
		assert.InEpsilon(t, ratio*ratio, float64(th.Standstill/rated.Standstill), 1e-12)
		assert.InEpsilon(t, ratio*ratio, float64(th.Torque/rated.Torque), 1e-12)
		got := map[string]float64{
			"full-load current": float64(off.Current / at.Current),
			"slip":              off.Slip / at.Slip,
			"full-load speed":   float64(off.Speed / at.Speed),
			"efficiency":        1 + off.Efficiency - at.Efficiency,
			"power factor":      1 + off.PowerFactor - at.PowerFactor,
		}[row.Text("quantity")]
		require.NotZero(t, got, row.Source())
		row.Expected(got)
		if want := row.Float("expected"); want != 1 {
			assert.Equal(t, want > 1, got > 1, "%s: wrong direction", row.Source())
		}
	}
}

// What the motor draws held over what it draws at rated load.
func TestStartRatios(t *testing.T) {
	type machine struct {
		c    SinglePhaseCircuit
		slip float64
	}
	machines := map[string]machine{}
	for _, row := range reftest.Rows(t, "motor/circuit_single.csv") {
		if id := row.Text("id"); machines[id].slip == 0 {
			machines[id] = machine{singleOf(row), row.Param("s", "1")}
		}
	}
	for _, row := range reftest.Rows(t, "motor/circuit_two_winding.csv") {
		if id := row.Text("id"); id == "PSC1" || id == "PSC2" {
			c, slip := twoWinding(t, row)
			machines[id] = machine{c, slip}
		}
	}
	for _, row := range reftest.Rows(t, "motor/start_ratios.csv") {
		m := machines[row.Text("id")]
		rated, err := m.c.Running(m.slip, m.c.Voltage)
		require.NoError(t, err, row.Source())
		held, err := m.c.Running(1, m.c.Voltage)
		require.NoError(t, err)
		row.Printed("locked_rotor_current_ratio", float64(held.Current/rated.Current))
		row.Printed("locked_rotor_watts_ratio", float64(held.Input/rated.Input))
		assert.InEpsilon(t, row.Float("p_out_w"), float64(rated.Output), 5e-4, row.Source())
	}
}
