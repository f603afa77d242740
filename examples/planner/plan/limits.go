package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

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

// acts says which limit acts first, and when, and by which the start ends if that
// is another.
func (c corner) acts() string {
	if c.limit == 0 {
		return "no limit of the inverter acts"
	}
	text := deed(c.limit, c.after)
	var trip *inverter.TripError
	if errors.As(c.result.Cause, &trip) && trip.Limit != c.limit {
		text += ", and " + deed(trip.Limit, trip.After)
	}
	return text
}

// deed says what a limit does, and when.
func deed(limit inverter.Link, after unit.Time) string {
	if after < soon {
		return deeds[limit] + " from the first instant"
	}
	return fmt.Sprintf("%s after %s s", deeds[limit], num(round3(float64(after))))
}

// ends says what stops a start, in a few words: the limit that acts first, or
// what the motor does though none acts.
func (c corner) ends() string {
	if c.limit == 0 {
		return "it " + c.text()
	}
	if c.comesUp() {
		return c.acts() + ", which an inverter that lowers its voltage stands and one that switches off does not"
	}
	return c.acts()
}
