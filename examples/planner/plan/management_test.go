package plan

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const managementKey = `#? management = ["150 A (nameplate)", "300 A for 5 s (nameplate)"]`

// Two strings share the current; starts of a second meet the peak, everything
// running the current without end.
func TestManagement(t *testing.T) {
	p := changedPlan(t, managementKey, `management = ["300 A for 5 s", "150 A"]`)
	c := checkOf(t, p, "well_pump.start_management")
	assert.Equal(t, Holds, c.State)
	assert.InDelta(t, 600, c.Limit, 0)
	assert.InDelta(t, 300, checkOf(t, p, "battery.management").Limit, 0)
	assert.InDelta(t, figure(t, p, "well_pump.start_dc_a").High, c.High, 1e-9)

	// A pump that starts within a second meets the peak for as long, not the one
	// for a tenth of it.
	p = changedPlan(t, managementKey, `management = ["40 A", "150 A for 0.1 s"]`)
	c = checkOf(t, p, "well_pump.start_management")
	assert.Equal(t, Fails, c.State)
	assert.InDelta(t, 80, c.Limit, 0)
	assert.False(t, p.Passes())
	assert.Contains(t, p.Verdict[0], "NO")
	assert.Equal(t, Holds, checkOf(t, p, "battery.management").State, "53 A of 80 A")

	for typed, want := range map[string]string{
		`["300 A for 5 s"]`:           "without a time as well",
		`["150 A", "160 A"]`:          "more than one current without a time",
		`["150 A", "100 A for 5 s"]`:  "peak current",
		`["150 W"]`:                   "unit of current",
		`["150 A", "300 A for ever"]`: "number",
	} {
		text := strings.Replace(sampleText(t), managementKey, "management = "+typed, 1)
		s, err := Read(strings.NewReader(text))
		if err == nil {
			_, err = Make(s)
		}
		require.ErrorContains(t, err, want)
		assert.Contains(t, err.Error(), "line ")
	}
}

// 10 mF through 25 ohm: 5RC is 1.25 s; half of C·V² at 25 to 26 V is 3.1 to 3.4 J
// each in capacitors and resistor.
func TestPrecharge(t *testing.T) {
	p := changedPlan(t, `#? input_capacitance`, `input_capacitance`, `#? precharge_resistor`, `precharge_resistor`)
	assert.InEpsilon(t, 1.25, figure(t, p, "inverter.precharge_s").High, 1e-9)
	e := figure(t, p, "inverter.precharge_wh")
	assert.Greater(t, 3600*e.Low, 0.5*0.01*25*25)
	assert.Less(t, 3600*e.High, 0.5*0.01*26*26)
	// About 25.5 V over four blocks of 1.6 to 2 mΩ in each of two strings, half as
	// much again in the cold, and 0.4 to 1.2 mΩ of contacts and cable.
	bare := figure(t, p, "inverter.inrush_a")
	assert.Greater(t, bare.Low, 25/0.0072)
	assert.Less(t, bare.High, 26/0.0036)

	p = changedPlan(t, `#? input_capacitance`, `input_capacitance`)
	assert.Contains(t, strings.Join(p.Assumptions, "\n"), "inverter.precharge_resistor")
	assert.Contains(t, figure(t, p, "inverter.precharge_s").Also, "at first 5 A")
}

// A bank that collapses at the bad end still has a management, and the current
// on the way down is laid before it.
func TestManagementOfACollapse(t *testing.T) {
	text := strings.NewReplacer(`"flooded"`, `"AGM"`, "unit_resistance = \"5 mohm\"", "unit_resistance = \"3..15 mohm\"\nmanagement = [\"100 A\"]").Replace(fmt.Sprintf(heater, 3000))
	p, err := Make(mustRead(t, text))
	require.NoError(t, err)
	require.Contains(t, checkOf(t, p, "battery.running").Message, "collapses")
	c := checkOf(t, p, "battery.management")
	assert.Equal(t, Fails, c.State)
	assert.GreaterOrEqual(t, c.High, c.Low)
}
