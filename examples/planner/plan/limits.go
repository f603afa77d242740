package plan

import (
	"fmt"

	"ridethrough.example/inverter"
)

// soon is how long after switching on still is the first instant (s): below a
// millisecond no rms value means anything.
const soon = 1e-3

// deeds are what the limits of an inverter do to a start.
var deeds = map[inverter.Link]string{
	inverter.SurgeRating:      "the surge rating holds the current",
	inverter.ContinuousRating: "the continuous rating holds the current",
	inverter.CurrentLimit:     "the current limit holds the current",
	inverter.DCPowerLimit:     "the dc power limit holds the voltage down",
	inverter.RunningCutOff:    "the low-voltage cut-off trips",
	inverter.StartCutOff:      "the dip meets the start cut-off",
	inverter.CutOffDelay:      "the low-voltage cut-off has waited long enough and trips",
	inverter.Collapse:         "the battery's voltage collapses",
}

// acts says which limit acts first, and when.
func (c corner) acts() string {
	switch {
	case c.limit == 0:
		return "no limit of the inverter acts"
	case c.after < soon:
		return deeds[c.limit] + " from the first instant"
	}
	return fmt.Sprintf("%s after %s s", deeds[c.limit], num(round3(float64(c.after))))
}
