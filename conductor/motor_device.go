package conductor

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"
)

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
	p.Standard = unit.Current(list.up(float64(p.Computed)))
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

func (d MotorDevice) check() error {
	if d < NonTimeDelayFuse || d > InverseTimeBreaker {
		return pkg.Invalid("motor device", strconv.Itoa(int(d)), "NonTimeDelayFuse to InverseTimeBreaker")
	}
	return nil
}
