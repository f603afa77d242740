package motor

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ErrNoAcceleratingTorque says that a motor gives no more torque than its load
// takes: it hangs or slows down, and no time answers when it will be up.
var ErrNoAcceleratingTorque = errors.New("motor: torque of the motor is not above that of the load")

// AccelerationTime returns how long a constant torque takes to bring a mass
// from one speed to another,
//
//	t = J·(ω₂ − ω₁)/T
//
// with J motor and load together at the motor's shaft (kg·m²,
// [ReflectedInertia]), ω₁ and ω₂ the speeds (rad/s; ω₁ may be 0) and T the
// mean of the motor's torque less the load's (N·m). Where that difference
// varies much, sum the times of narrower steps: the mean over the speed
// flatters a motor that nearly hangs somewhere.
//
// Where T is not above 0, err is [ErrNoAcceleratingTorque]. Valid for 1e-7 to
// 10 000 kg·m², ω₁ from 0, ω₂ of 1 to 30 000 rpm and not below ω₁, and T up to 1
// MN·m either way; outside, err wraps [ErrDomain].
//
// Source: mechanics of rotation; J. B. Gupta, Elements of Electric Drives,
// example 22.
func AccelerationTime(j Inertia, from, to Speed, torque unit.Torque) (unit.Time, error) {
	if err := checkAcceleration(j, from, to, torque); err != nil {
		return 0, err
	}
	return unit.Time(float64(j) * float64(to-from) / float64(torque)), nil
}

// RoundedAccelerationTime is the formula of United States handbooks,
//
//	t = Wk²·Δn/(308·T)
//
// with Wk² in lb·ft², Δn in rpm and T in lb·ft. The exact divisor is 307.24,
// that is 60·g/2π with g in ft/s², so this is 0.25 % quick; it is here to be
// laid beside handbooks, [AccelerationTime] to be used. Arguments and errors
// are those of [AccelerationTime].
//
// Source: NEMA MG 1 and handbooks after it, divisor as printed there.
func RoundedAccelerationTime(j Inertia, from, to Speed, torque unit.Torque) (unit.Time, error) {
	if err := checkAcceleration(j, from, to, torque); err != nil {
		return 0, err
	}
	wk2, dn, t := float64(j/PoundSquareFoot), float64((to-from)/RPM), float64(torque/FootPound)
	return unit.Time(wk2 * dn / (308 * t)), nil
}

// leastTorque is the torque below which nothing is said to accelerate (N·m).
const leastTorque = 1e-9

func checkAcceleration(j Inertia, from, to Speed, torque unit.Torque) error {
	if err := errors.Join(
		checkInertia(j), checkSpeed("final speed", to),
		pkg.Range("first speed", float64(from), 0, float64(to), domain.RPM),
		pkg.Range("accelerating torque", float64(torque), -mostTorque, mostTorque, domain.NewtonMetre),
	); err != nil {
		return err
	}
	if torque < leastTorque {
		return ErrNoAcceleratingTorque
	}
	return nil
}
