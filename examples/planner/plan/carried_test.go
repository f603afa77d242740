package plan

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A heater on one battery.
const heater = `
name = "heater"
[[load]]
name = "heater"
no_motor = true
voltage = "120 V"
[load.measured]
power = "%d W"
[battery]
chemistry = "flooded"
unit_voltage = "12 V"
capacity = "100 Ah"
rate = "20 h"
depth_limit = "80 %%"
exponent = 1.2
health = "100 %%"
temperature = "25 °C"
unit_resistance = "5 mohm"
[inverter]
output = "120 V"
power = "4000 W"
idle = "20 W"
efficiency_at = ["91 %% at 800 W", "86 %% at 4000 W"]
cut_off = "10.5 V"
[dc_cable]
contacts = "1 mohm"
`

// Where the cut-off ends the discharge at the good end, that end stands just at
// the cut-off, and no last bit decides between depends and fails.
func TestRunningAtTheCutOff(t *testing.T) {
	met := 0
	for watts := 1500; watts < 4000; watts += 25 {
		s := mustRead(t, fmt.Sprintf(heater, watts))
		if !readMaker(t, s).bank.atCutOff {
			continue
		}
		p, err := Make(s)
		require.NoError(t, err)
		c := checkOf(t, p, "battery.running")
		if figure(t, p, "battery.runtime_h").High > 0 {
			met++
			assert.Equal(t, Depends, c.State, "%v W", watts)
		}
	}
	assert.Greater(t, met, 5)
}

// A metered average keeps its watts: with less power while it runs it runs for
// longer, at less loss, and the ends of the average change places.
func TestAverageInOrder(t *testing.T) {
	p, err := Make(mustRead(t, strings.Replace(fmt.Sprintf(heater, 1000), `power = "1000 W"`, "power = \"500..1400 W\"\nvoltage = \"120 V\"\ncurrent = \"12 A\"\naverage = \"400 W\"", 1)))
	require.NoError(t, err)
	f := figure(t, p, "battery.average_dc_w")
	assert.LessOrEqual(t, f.Low, f.High)
}

// A small bank that cannot carry its load at all is an answer, with a charger as
// well.
func TestChargerOfABankThatIsNotUsed(t *testing.T) {
	text := strings.NewReplacer(`"100 Ah"`, `"40 Ah"`, `"5 mohm"`, `"3..25 mohm"`).Replace(fmt.Sprintf(heater, 3000)) + "[charger]\ncurrent = \"20 A\"\n"
	p, err := Make(mustRead(t, text))
	require.NoError(t, err)
	assert.NotEqual(t, Holds, checkOf(t, p, "battery.outage").State)
	assert.Nil(t, figure(t, p, "battery.recharge_h").Shortcut)
}
