package motor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Load is the torque that a driven machine takes of the shaft at a speed.
type Load interface {
	// Torque returns the torque (N·m) at a speed; at 0 it is what must be
	// exceeded before the shaft moves.
	Torque(speed Speed) unit.Torque
	// Validate reports what is wrong with the load.
	Validate() error
}

// A CentrifugalLoad is a centrifugal pump or a fan.
type CentrifugalLoad struct {
	Rated unit.Torque // at Speed (1 mN·m to 10 kN·m)
	Speed Speed       // rated (1 to 30 000 rpm)
	// Breakaway is the torque at rest over Rated, which falls to nothing at 15 %
	// of Speed: 0.15 to 0.2 for a pump with packed or soft seals, 0.05 for a fan.
	// Zero: none.
	Breakaway float64
	// Shutoff is the torque at Speed with the valve closed over Rated, 0.3 to 0.5
	// for a pump that starts against a closed valve or an empty riser. Zero: open,
	// the full square law.
	Shutoff float64
}

// breakawayEnds is the share of rated speed at which the breakaway is gone.
const breakawayEnds = 0.15

// Torque returns the torque at a speed,
//
//	T = T_r·[b·(1 - x/0.15) + c·x²]    x = n/n_r
//
// with b the breakaway, left out from x = 0.15 on, and c 1, or Shutoff with the
// valve closed. Positive-displacement pumps do not follow the square law: see
// [ConstantLoad].
//
// Common practice: application notes of motor makers, 15 to 20 % at rest and
// then the square law.
func (l CentrifugalLoad) Torque(speed Speed) unit.Torque {
	x := float64(speed / l.Speed)
	c := 1.0
	if l.Shutoff != 0 {
		c = l.Shutoff
	}
	return l.Rated * unit.Torque(l.Breakaway*max(0, 1-math.Abs(x)/breakawayEnds)+c*x*math.Abs(x))
}

// Validate reports what is wrong with the load, by the ranges of its fields;
// breakaway and shut-off from 0 to 1.
//
// Definition: the ranges are those of pumps and fans.
func (l CentrifugalLoad) Validate() error {
	return errors.Join(
		checkRated(l.Rated), checkSpeed("rated speed of the load", l.Speed),
		pkg.Range("breakaway over rated torque", l.Breakaway, 0, 1, domain.One),
		pkg.Range("shut-off over rated torque", l.Shutoff, 0, 1, domain.One),
	)
}

// A ConstantLoad takes one torque at any speed: a piston pump or compressor, a
// progressing-cavity pump, a belt under load.
type ConstantLoad struct {
	Rated unit.Torque // 1 mN·m to 10 kN·m
	// Breakaway is the torque at rest over Rated, which falls to it within
	// Rounding; 1 or more. Zero: 1. Pumps with packed pistons need up to 1.5.
	Breakaway float64
	// Rounding is the speed within which the torque sets in, as a friction does:
	// T·tanh(ω/Rounding). Zero: at once, and in full at rest.
	Rounding Speed
}

// Torque returns Rated, at rest Rated times Breakaway. With a Rounding ω_0 it is
// T·tanh(ω/ω_0), nothing at rest.
//
// Common practice: constant torque for positive displacement.
func (l ConstantLoad) Torque(speed Speed) unit.Torque {
	switch {
	case l.Rounding != 0:
		return l.Rated * unit.Torque(math.Tanh(float64(speed/l.Rounding)))
	case speed == 0 && l.Breakaway > 1:
		return l.Rated * unit.Torque(l.Breakaway)
	}
	return l.Rated
}

// Validate reports what is wrong with the load, by the ranges of its fields; a
// breakaway up to 5 goes without a rounding.
//
// Definition: the ranges are those of pumps and compressors.
func (l ConstantLoad) Validate() error {
	err := errors.Join(checkRated(l.Rated), pkg.Range("rounding of the load", float64(l.Rounding), 0, 100, domain.RPM))
	switch {
	case l.Breakaway == 0:
		return err
	case l.Rounding != 0:
		return errors.Join(err, pkg.Invalid("breakaway", "with a rounding", "one of them"))
	}
	return errors.Join(err, pkg.Range("breakaway over rated torque", l.Breakaway, 1, 5, domain.One))
}

// A GearedLoad is a load behind a belt or gear.
type GearedLoad struct {
	Load Load
	// Ratio is the speed of the load over that of the motor (0.01 to 100).
	Ratio float64
	// Efficiency of the drive (0.1 to 1). Zero: 1.
	Efficiency float64
}

// Torque returns what the motor's shaft feels, T·r/η, with r the ratio; the
// inertia of the load counts r² there.
//
// Source: conservation of energy.
func (l GearedLoad) Torque(speed Speed) unit.Torque {
	t := l.Load.Torque(speed*Speed(l.Ratio)) * unit.Torque(l.Ratio)
	if l.Efficiency != 0 {
		t /= unit.Torque(l.Efficiency)
	}
	return t
}

// Validate reports what is wrong with drive and load.
//
// Definition: the ranges are those of the fields.
func (l GearedLoad) Validate() error {
	if l.Load == nil {
		return pkg.Invalid("geared load", "without a load", "a load")
	}
	err := errors.Join(l.Load.Validate(), pkg.Range("speed of the load over that of the motor", l.Ratio, 0.01, 100, domain.One))
	if l.Efficiency != 0 {
		err = errors.Join(err, pkg.Range("efficiency of the drive", l.Efficiency, 0.1, 1, domain.One))
	}
	return err
}

func checkRated(t unit.Torque) error {
	return pkg.Range("rated torque of the load", float64(t), 1e-3, 10e3, domain.NewtonMetre)
}
