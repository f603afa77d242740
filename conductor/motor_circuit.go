package conductor

import (
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A MotorKind is a kind of motor in the code's table of short-circuit devices.
// The zero value is none, and every function refuses it.
type MotorKind uint8

const (
	// SinglePhase is any single-phase motor.
	SinglePhase MotorKind = iota + 1
	// Polyphase is an ac polyphase motor, squirrel cage without high efficiency
	// by design B, that is not wound-rotor.
	Polyphase
	// DesignB is a squirrel-cage motor of design B, energy efficient.
	DesignB
	// Synchronous is a synchronous motor.
	Synchronous
	// WoundRotor is a wound-rotor motor.
	WoundRotor
	// DirectCurrent is a dc motor at constant voltage.
	DirectCurrent
)

// String returns the kind in words.
//
// Definition: the rows of NEC table 430.52.
func (k MotorKind) String() string {
	switch k {
	case SinglePhase:
		return "single-phase"
	case Polyphase:
		return "polyphase"
	case DesignB:
		return "polyphase, design B energy efficient"
	case Synchronous:
		return "synchronous"
	case WoundRotor:
		return "wound-rotor"
	case DirectCurrent:
		return "direct current"
	default:
		return "no kind of motor"
	}
}

// A MotorCircuit is one motor as the code sees it. The two currents differ and
// are not exchanged: the table's is the higher one, and conductors and
// short-circuit devices follow it; the nameplate's sets the overload device.
type MotorCircuit struct {
	Kind      MotorKind    // kind of motor
	Table     unit.Current // full-load current of the code's table for the motor's hp and volts, 430.247 to 430.250
	Nameplate unit.Current // full-load current stamped on the motor
	// ServiceFactor is 1 to 2; zero: not on the plate, which counts as 1.
	ServiceFactor float64
	// Rise is the marked temperature rise, a difference in kelvin; zero: not on
	// the plate.
	Rise unit.Temperature
}

const maxMotorCurrent = 2000 // (A)

func (m MotorCircuit) checkTable() error {
	return pkg.Range("table full-load current", float64(m.Table), 0.1, maxMotorCurrent, domain.Ampere)
}

// ConductorAmpacity returns the least ampacity of the conductors of a single
// motor in continuous duty,
//
//	I ≥ 1.25·FLC
//
// with the table's full-load current FLC (A). A device for short circuits may
// be rated far above it; the overload device protects the conductor.
//
// Valid for 0.1 A to 2 kA; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 430.22, 430.6(A).
func (m MotorCircuit) ConductorAmpacity() (unit.Current, error) {
	if err := m.checkTable(); err != nil {
		return 0, err
	}
	return 1.25 * m.Table, nil
}

func (m MotorCircuit) checkKind() error {
	if m.Kind < SinglePhase || m.Kind > DirectCurrent {
		return pkg.Invalid("kind of motor", strconv.Itoa(int(m.Kind)), "SinglePhase to DirectCurrent")
	}
	return nil
}

// Disconnect returns the least ampere rating of the motor's disconnecting means,
//
//	I ≥ 1.15·FLC
//
// with the table's full-load current FLC (A). A switch rated in horsepower has
// to bear the motor's horsepower besides.
//
// Valid for 0.1 A to 2 kA; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 430.110(A).
func (m MotorCircuit) Disconnect() (unit.Current, error) {
	if err := m.checkTable(); err != nil {
		return 0, err
	}
	return 1.15 * m.Table, nil
}

// MotorFeeder returns the least ampacity of conductors that supply several
// motors,
//
//	I ≥ 1.25·max(FLC) + the sum of the others
//
// with the full-load currents FLC of the code's table (A). Other loads are added
// by the caller at [BranchLoad.Demand].
//
// Valid for at least one current, each of 0.1 A to 2 kA; otherwise err wraps
// [ErrDomain].
//
// Source: NEC (2023) 430.24.
func MotorFeeder(table []unit.Current) (unit.Current, error) {
	if len(table) == 0 {
		return 0, pkg.Invalid("list of motors", "empty", "at least one current")
	}
	var largest, sum unit.Current
	for _, i := range table {
		if err := (MotorCircuit{Table: i}).checkTable(); err != nil {
			return 0, err
		}
		largest = max(largest, i)
		sum += i
	}
	return sum + 0.25*largest, nil
}
