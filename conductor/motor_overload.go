package conductor

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

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
