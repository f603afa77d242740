package inverter

// A Verdict is the answer of a check whose demand is known as a range.
type Verdict byte

// The verdicts, worst first. The zero value is no verdict.
const (
	Fails   Verdict = iota + 1 // even the low end of the demand is too much
	Depends                    // the low end is carried, the high end is not
	Passes                     // even the high end is carried
)

// String returns "fails", "depends" or "passes".
func (v Verdict) String() string {
	switch v {
	case Fails:
		return "fails"
	case Depends:
		return "depends"
	case Passes:
		return "passes"
	}
	return "no verdict"
}

// A Link is what can give way in a chain of battery, cable and inverter.
type Link byte

// The links. The zero value is none.
const (
	ContinuousRating  Link = iota + 1 // apparent power the inverter carries without end
	SurgeRating                       // apparent power it carries for a short time
	RunningCutOff                     // low-voltage cut-off under steady load
	StartCutOff                       // lowest voltage allowed in the dip of a start
	CutOffDelay                       // the dip lasts longer than the cut-off waits
	Collapse                          // the source has no operating point
	Empty                             // the battery's charge is used up
	CurrentLimit                      // greatest output current
	DCPowerLimit                      // greatest power on the dc side
	BatteryManagement                 // current that the battery's management allows
)

var linkNames = [...]string{
	"nothing", "continuous rating", "surge rating", "running cut-off",
	"start cut-off", "cut-off delay", "collapse of the source", "empty battery",
	"current limit", "dc power limit", "battery management",
}

// String returns the link in words, "surge rating" for one.
func (l Link) String() string {
	if int(l) < len(linkNames) {
		return linkNames[l]
	}
	return "unknown link"
}

// A LinkCheck lays a demand beside what one link can do.
type LinkCheck struct {
	Link    Link           // which one
	Margin  Range[float64] // capability over demand: 1 is just enough; Low belongs to the high demand
	Verdict Verdict        // whether it carries the demand
}

// checkLink makes the check of one link from what it can do and what is asked.
func checkLink(link Link, capability, low, high float64) LinkCheck {
	c := LinkCheck{Link: link, Margin: Range[float64]{Low: capability / high, High: capability / low}}
	switch {
	case high <= capability:
		c.Verdict = Passes
	case low <= capability:
		c.Verdict = Depends
	default:
		c.Verdict = Fails
	}
	return c
}
