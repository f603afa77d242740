package quantity

import "fmt"

// An ApparentPower is the product of rms volts and rms amperes (VA). It is a
// type of its own because it is not what a battery delivers: real power is
// apparent power times power factor.
//
// Definition: IEC 60050-131-11-41.
type ApparentPower float64

// VoltAmpere is the unit of apparent power.
const VoltAmpere ApparentPower = 1

// Format prints the value with its unit, as gonum's unit types do: verbs v,
// e, f and g with width and precision.
func (s ApparentPower) Format(fs fmt.State, c rune) { Format(fs, c, float64(s), "VA") }
