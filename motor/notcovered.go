package motor

import "errors"

// ErrNotCovered is what every [NotCoveredError] is, by [errors.Is].
var ErrNotCovered = errors.New("motor: not covered by the rule")

// A NotCoveredError says that a rule or a table has no answer for a motor,
// and why: silence of the rule is no permission. It is an [ErrNotCovered] by
// [errors.Is], and no argument error: the motor exists.
type NotCoveredError struct {
	Rule   string    // the rule with its table or section
	Reason Uncovered // why it is silent
	What   string    // what it was asked for and what it has, in words
}

// Error returns the rule and what it does not cover.
//
// Definition: "motor: " rule " does not cover " what.
func (e *NotCoveredError) Error() string {
	return "motor: " + e.Rule + " does not cover " + e.What
}

// Is reports whether target is [ErrNotCovered].
//
// Definition: the error for motors outside a rule.
func (e *NotCoveredError) Is(target error) bool { return target == ErrNotCovered }

// An Uncovered says why a rule does not cover a motor.
type Uncovered byte

// The reasons.
const (
	UncoveredPhases  Uncovered = iota + 1 // made for another number of phases
	UncoveredType                         // made for other types of motor
	UncoveredDriven                       // made for other driven loads
	UncoveredSize                         // the size is not listed, or lies outside
	UncoveredPoles                        // the number of poles is not listed
	UncoveredInertia                      // the load's inertia is above what the rule presumes
)

var uncoveredNames = [...]string{
	"unknown", "number of phases", "type of motor", "driven load", "size", "number of poles", "inertia of the load",
}

// String returns the reason in words.
//
// Definition: number of phases, type of motor, driven load, size, number of
// poles, inertia of the load.
func (u Uncovered) String() string {
	if int(u) < len(uncoveredNames) {
		return uncoveredNames[u]
	}
	return uncoveredNames[0]
}

func notCovered(rule string, reason Uncovered, what string) error {
	return &NotCoveredError{Rule: rule, Reason: reason, What: what}
}
