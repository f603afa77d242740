package conductor

import (
	"errors"
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

// A MotorDevice is a kind of short-circuit and ground-fault protection of a
// motor's branch circuit. The zero value is none, and every function refuses it.
type MotorDevice uint8

const (
	// NonTimeDelayFuse is a fuse without time delay.
	NonTimeDelayFuse MotorDevice = iota + 1
	// DualElementFuse is a fuse with time delay.
	DualElementFuse
	// InstantaneousTrip is a breaker that only trips magnetically, part of a
	// listed combination controller. Its setting is not of the standard list.
	InstantaneousTrip
	// InverseTimeBreaker is the usual thermal-magnetic breaker.
	InverseTimeBreaker
)

// String returns the device in words.
//
// Definition: the columns of NEC table 430.52.
func (d MotorDevice) String() string {
	switch d {
	case NonTimeDelayFuse:
		return "nontime-delay fuse"
	case DualElementFuse:
		return "dual-element fuse"
	case InstantaneousTrip:
		return "instantaneous-trip breaker"
	case InverseTimeBreaker:
		return "inverse-time breaker"
	default:
		return "no device"
	}
}

// Per cent of table current: nontime-delay fuse, dual-element fuse,
// instantaneous trip, inverse-time breaker.
//
// Source: NEC (2023) table 430.52(C)(1).
var motorDevicePercent = [...][4]float64{
	{300, 175, 800, 250},
	{300, 175, 800, 250},
	{300, 175, 1100, 250},
	{300, 175, 800, 250},
	{150, 150, 800, 150},
	{150, 150, 250, 150},
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

// A MotorProtection is the range of the short-circuit device.
type MotorProtection struct {
	// Percent is that of the code's table for the kind of motor and device.
	Percent float64
	// Computed is Percent of the table current.
	Computed unit.Current
	// Standard is Computed or the next standard rating above it, the largest
	// that may be taken at once; for an instantaneous trip, Computed.
	Standard unit.Current
	// Ceiling is the absolute limit for a motor that will not start with
	// Standard.
	Ceiling unit.Current
	// Largest is the largest standard rating that may be taken then: the last
	// one within Ceiling, and not below Standard.
	Largest unit.Current
}

// ShortCircuit returns the rating of a device against short circuits and
// ground faults,
//
//	I = p/100 · FLC, then the next standard rating of 240.6 up
//
// with p from the code's table and the table's full-load current FLC (A). If
// the motor will not start with that, the rating may rise to
//
//   - fuse without time delay, to 600 A: 400 %
//   - dual-element fuse: 225 %
//   - fuse of 601 to 6000 A: 300 %
//   - inverse-time breaker: 400 % to 100 A of FLC, 300 % above
//   - instantaneous trip: 1300 %, design B energy efficient 1700 %
//
// and not to the next size above. Fuses are taken from the list with the small
// ratings.
//
// Valid for a table current of 0.1 A to 2 kA; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 430.52(C)(1) and (C)(3) with exceptions, table
// 430.52(C)(1), 240.6(A).
func (m MotorCircuit) ShortCircuit(d MotorDevice) (MotorProtection, error) {
	if err := errors.Join(m.checkTable(), m.checkKind(), d.check()); err != nil {
		return MotorProtection{}, err
	}
	flc := float64(m.Table)
	percent := motorDevicePercent[m.Kind-SinglePhase][d-NonTimeDelayFuse]
	p := MotorProtection{Percent: percent, Computed: unit.Current(percent / 100 * flc)}
	switch d {
	case InstantaneousTrip:
		p.Ceiling = unit.Current(13 * flc)
		if m.Kind == DesignB {
			p.Ceiling = unit.Current(17 * flc)
		}
		p.Standard, p.Largest = p.Computed, p.Ceiling
		return p, nil
	case InverseTimeBreaker:
		p.Ceiling = unit.Current(4 * flc)
		if flc > 100 {
			p.Ceiling = unit.Current(3 * flc)
		}
	default:
		p.Ceiling = unit.Current(fuseCeiling(d, flc))
	}
	list := StandardFuses
	if d == InverseTimeBreaker {
		list = StandardBreakers
	}
	var err error
	if p.Standard, err = list.Up(p.Computed); err != nil {
		return MotorProtection{}, err
	}
	p.Largest = max(p.Standard, unit.Current(list.down(float64(p.Ceiling))))
	return p, nil
}

// fuseCeiling is the larger of what the two classes of fuse allow (A).
func fuseCeiling(d MotorDevice, flc float64) float64 {
	small := 4 * flc
	if d == DualElementFuse {
		small = 2.25 * flc
	}
	if large := 3 * flc; large >= 601 {
		return large
	}
	return min(small, 600)
}

func (m MotorCircuit) checkKind() error {
	if m.Kind < SinglePhase || m.Kind > DirectCurrent {
		return pkg.Invalid("kind of motor", strconv.Itoa(int(m.Kind)), "SinglePhase to DirectCurrent")
	}
	return nil
}

func (d MotorDevice) check() error {
	if d < NonTimeDelayFuse || d > InverseTimeBreaker {
		return pkg.Invalid("motor device", strconv.Itoa(int(d)), "NonTimeDelayFuse to InverseTimeBreaker")
	}
	return nil
}

// A MotorOverload is the range of the overload device, which protects motor and
// conductors while the motor runs.
type MotorOverload struct {
	Largest unit.Current // the largest trip current or rating
	// IfNoStart is the largest where the motor will not start or carry its load
	// with Largest.
	IfNoStart unit.Current
}

// Overload returns the largest setting of a separate overload device of a
// continuous-duty motor above 1 hp,
//
//	I ≤ 1.25·FLA, if it will not start 1.40·FLA   service factor ≥ 1.15 or rise ≤ 40 K
//	I ≤ 1.15·FLA, if it will not start 1.30·FLA   all others
//
// with the nameplate's full-load current FLA (A). There is no step to the next
// size up: these are limits.
//
// Valid for a nameplate current of 0.1 A to 2 kA, a service factor of 0 or 1 to
// 2 and a rise of 0 or 10 to 200 K; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 430.32(A)(1) and 430.32(C), 430.6(A)(2).
func (m MotorCircuit) Overload() (MotorOverload, error) {
	if err := m.checkNameplate(); err != nil {
		return MotorOverload{}, err
	}
	if m.ServiceFactor >= 1.15 || m.Rise > 0 && m.Rise <= 40 {
		return MotorOverload{1.25 * m.Nameplate, 1.40 * m.Nameplate}, nil
	}
	return MotorOverload{1.15 * m.Nameplate, 1.30 * m.Nameplate}, nil
}

func (m MotorCircuit) checkNameplate() error {
	err := pkg.Range("nameplate full-load current", float64(m.Nameplate), 0.1, maxMotorCurrent, domain.Ampere)
	if m.ServiceFactor != 0 {
		err = errors.Join(err, pkg.Range("service factor", m.ServiceFactor, 1, 2, domain.One))
	}
	if m.Rise != 0 {
		err = errors.Join(err, pkg.Range("temperature rise", float64(m.Rise), 10, 200, riseKelvin))
	}
	return err
}

var riseKelvin = domain.Unit{Symbol: "K", Size: 1}

// ThermalProtector returns the largest current at which a protector built into
// the motor may trip in the end,
//
//	I ≤ 1.70·FLC to 9 A,  1.56·FLC to 20 A,  1.40·FLC above
//
// with the table's full-load current FLC (A).
//
// Valid for 0.1 A to 2 kA; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 430.32(A)(2).
func (m MotorCircuit) ThermalProtector() (unit.Current, error) {
	if err := m.checkTable(); err != nil {
		return 0, err
	}
	switch {
	case m.Table <= 9:
		return 1.70 * m.Table, nil
	case m.Table <= 20:
		return 1.56 * m.Table, nil
	default:
		return 1.40 * m.Table, nil
	}
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
