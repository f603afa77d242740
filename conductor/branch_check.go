package conductor

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"
)

// A Condition is one thing that the code asks of a circuit.
type Condition struct {
	Rule   string       // what was compared
	Need   unit.Current // what it must be at least
	Has    unit.Current // what it is
	Source string       // where the rule stands
}

// Holds reports whether the circuit has what it needs, a billionth apart.
//
// Definition: Has ≥ Need.
func (c Condition) Holds() bool { return c.Has >= c.Need*(1-ratingSlack) }

// String returns the condition as a line of text.
//
// Definition: the fields of the condition.
func (c Condition) String() string {
	verdict := "fails"
	if c.Holds() {
		verdict = "holds"
	}
	return fmt.Sprintf("%-32s needs %8.2f A, has %8.2f A: %s  %s", c.Rule, float64(c.Need), float64(c.Has), verdict, c.Source)
}

// A BranchCheck is a conductor laid beside a load.
type BranchCheck struct {
	Worksheet  Worksheet
	Demand     unit.Current // 1.25 times the continuous load and the rest
	Device     unit.Current // the least standard overcurrent device for it
	Grounding  Size         // the least equipment grounding conductor beside that device, not above the size
	Conditions []Condition  // each has to hold
}

// Passes reports whether all conditions hold.
//
// Definition: the conditions, joined by and.
func (c BranchCheck) Passes() bool { return allHold(c.Conditions) }

func allHold(conditions []Condition) bool {
	for i := range conditions {
		if !conditions[i].Holds() {
			return false
		}
	}
	return true
}

// Check lays the conductor beside a load that is no motor:
//
//   - before correction, the lesser of the table's figure and the terminals'
//     bears 1.25·Ic + In
//   - after correction, the ampacity bears Ic + In
//   - the largest device that may protect the conductor is not below the least
//     one for 1.25·Ic + In
//
// with the continuous load Ic and the rest In (A). Where b.Rating is zero, the
// least device is the rating of the circuit, by which terminals without marking
// are judged. That a condition fails is no error. The grounding conductor is that
// of the least device, of the same metal.
//
// Valid as [Branch.Ampacity] and [BranchLoad.Demand], for a demand to 6 kA.
//
// Source: NEC (2023) 210.19(A)(1), 210.20(A), 215.2, 215.3, 240.4, 250.122.
func (b Branch) Check(load BranchLoad) (BranchCheck, error) {
	demand, err := load.Demand()
	if err != nil {
		return BranchCheck{}, errors.Join(err, b.fault())
	}
	device, err := b.Devices.Up(demand)
	if err != nil {
		return BranchCheck{}, errors.Join(err, b.fault())
	}
	if b.Rating == 0 {
		b.Rating = device
	}
	w, err := b.Ampacity()
	if err != nil {
		return BranchCheck{}, err
	}
	ground, err := b.grounding(device)
	if err != nil {
		return BranchCheck{}, err
	}
	p, err := partsOf(&b)
	return BranchCheck{w, demand, device, ground, []Condition{
		{"conductor before correction", demand, min(p.table, p.terminals), "NEC 210.19(A)(1)"},
		{"conductor under its conditions", load.Total(), w.Ampacity, "NEC 210.19(A)(1)"},
		{"device that protects it", device, w.Device, "NEC 210.20(A), 240.4"},
	}}, err
}

// fault is what the branch itself has, beside the fault of its load.
func (b Branch) fault() error {
	_, err := partsOf(&b)
	return err
}

// grounding is the grounding conductor of the branch's metal for a device, not
// larger than the branch's size.
func (b Branch) grounding(device unit.Current) (Size, error) {
	g, err := GroundingConductor(device, b.Metal)
	if err == nil && g.codeRow() > b.Size.codeRow() {
		g = b.Size
	}
	return g, err
}

// A MotorCheck is a conductor laid beside a motor.
type MotorCheck struct {
	// Worksheet is that of the conductor. Its device does not bind: a motor's
	// device follows Protection.
	Worksheet  Worksheet
	Protection MotorProtection // against short circuits and ground faults
	Overload   MotorOverload   // while running
	Grounding  Size            // the least equipment grounding conductor beside Protection.Standard, not above the size
	Conditions []Condition     // each has to hold
}

// Passes reports whether all conditions hold.
//
// Definition: the conditions, joined by and.
func (c MotorCheck) Passes() bool { return allHold(c.Conditions) }

// CheckMotor lays the conductor beside a motor alone on its branch circuit: the
// ampacity under its conditions bears 1.25 times the table's current. The
// small-conductor rule does not bind, and the device may be rated far above the
// ampacity, as the overload device protects the conductor. Beside an
// instantaneous trip the grounding conductor is that of a dual-element fuse.
//
// Valid as [Branch.Ampacity], [MotorCircuit.ShortCircuit] and
// [MotorCircuit.Overload].
//
// Source: NEC (2023) 430.22, 430.32, 430.52, 240.4(G), 250.122(A) and (D).
func (b Branch) CheckMotor(m MotorCircuit, d MotorDevice) (MotorCheck, error) {
	w, err := b.Ampacity()
	p, errDevice := m.ShortCircuit(d)
	o, errOverload := m.Overload()
	if err := errors.Join(err, errDevice, errOverload); err != nil {
		return MotorCheck{}, err
	}
	sized := p
	if d == InstantaneousTrip {
		if sized, err = m.ShortCircuit(DualElementFuse); err != nil {
			return MotorCheck{}, err
		}
	}
	ground, err := b.grounding(sized.Standard)
	return MotorCheck{w, p, o, ground, []Condition{
		{"conductor under its conditions", 1.25 * m.Table, w.Ampacity, "NEC 430.22"},
	}}, err
}
