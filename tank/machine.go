package tank

import (
	"fmt"

	"gonum.org/v1/gonum/unit"
)

// What small pumps and motors are typically worth, for planning before anything
// is measured.

// A Machine is a kind of pump, motor or set of both. The zero value is none.
type Machine byte

// The machines.
const (
	SubmersiblePump  Machine = iota + 1 // the pump end alone, small, 4 in, at its best
	SubmersibleMotor                    // single phase, small, to 1 hp
	SubmersibleSet                      // pump and motor, wire to water, at its best
	JetSet                              // shallow-well jet pump and motor, wire to water
	JetMotor                            // capacitor start, 1/2 to 1 hp
	IrrigationPump                      // larger centrifugal pump without motor: what is acceptable
)

// machines holds the ranges. Only the last was read on a page, as was a motor
// of 0.65; the others are recalled.
var machines = [...]struct {
	name      string
	low, high float64
}{
	SubmersiblePump: {"submersible pump", 0.45, 0.60}, SubmersibleMotor: {"submersible motor", 0.50, 0.70},
	SubmersibleSet: {"submersible set", 0.25, 0.40}, JetSet: {"jet set", 0.10, 0.25},
	JetMotor: {"jet motor", 0.55, 0.70}, IrrigationPump: {"irrigation pump", 0.65, 0.65},
}

// String returns the machine's name.
func (m Machine) String() string {
	if m == 0 || int(m) >= len(machines) {
		return fmt.Sprintf("Machine(%d)", byte(m))
	}
	return machines[m].name
}

// Efficiency returns the range of efficiencies (1) that is typical of the
// machine. It says what to expect and nothing of the pump at hand: measure
// flow, head and electrical power, and use [ImpliedWireToWater]. A worn pump,
// or one away from its best flow, lies below the range.
//
// Valid for the constants; otherwise err wraps [ErrDomain].
//
// Common practice: recalled, save 0.65 for a 1 hp motor at its service factor
// load (a motor maker's training page) and for irrigation pumps (an
// agricultural extension sheet).
func (m Machine) Efficiency() (Range[float64], error) {
	if m == 0 || int(m) >= len(machines) {
		return Range[float64]{}, pkg.Invalid("machine", m.String(), "one of the constants")
	}
	return Range[float64]{Low: machines[m].low, High: machines[m].high}, nil
}

// What the trade says of jet pumps. All are custom, and none a limit of physics
// save that suction ends near 10 m, see [Suction].
const (
	// JetOverSubmersible is how much more shaft power a jet pump takes for the
	// same water: 1 hp does what a submersible of 1/2 hp does.
	JetOverSubmersible = 2
	// InjectorGain is by which share of the pressure that a centrifugal pump
	// makes an injector raises it.
	InjectorGain = 0.5
	// ShallowJetLift is how high a shallow-well jet pump draws water at sea
	// level; [PracticalLift] plans with less.
	ShallowJetLift = 25 * Foot
	// DeepJetDepth is how deep an injector in the well is effective. Other pages
	// say 150 and 200 ft.
	DeepJetDepth = unit.Length(100) * Foot
)
