package motor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A StartHeat is what one start leaves in the windings.
type StartHeat struct {
	// Rotor is what the rotor takes (J).
	Rotor unit.Energy
	// Stator is what the stator's copper takes (J).
	Stator unit.Energy
}

// NoLoadStartHeat returns the heat of one start of an unloaded three-phase
// motor at full voltage,
//
//	W_2 = ½·J·ω_s²    W_1 = W_2·R_1/R_2
//
// with J all that turns (kg·m²), ω_s the synchronous speed (rad/s), R_1 the
// stator's and R_2 the rotor's resistance referred to it (Ω, as a ratio). The
// rotor's share is the stored energy whatever the torque curve and however
// long the start lasts; a load adds to it. Magnetizing current is neglected.
//
// Valid for 1e-7 to 10 000 kg·m², 1 to 30 000 rpm and R_1/R_2 from 0 to 20;
// outside, err wraps [ErrDomain].
//
// Source: S. K. Pillai, A First Course on Electrical Drives, example 5.4.
func NoLoadStartHeat(j Inertia, synchronous Speed, statorOverRotor float64) (StartHeat, error) {
	rotor, err := StoredEnergy(j, synchronous)
	if err = errors.Join(err, pkg.Range("stator over rotor resistance", statorOverRotor, 0, 20, domain.One)); err != nil {
		return StartHeat{}, err
	}
	return StartHeat{Rotor: rotor, Stator: rotor * unit.Energy(statorOverRotor)}, nil
}

// StartsWithinLoss returns the starts an hour whose heat equals the loss that
// the motor carries off at full load,
//
//	n = 3600·P_loss/W
//
// with P_loss input less output at full load (W) and W the heat of one start
// (J, rotor and stator together). It leaves nothing for running between the
// starts and takes the cooling of full speed, so that it is an upper end; a
// table as in [AllowableStarts] goes before it.
//
// Valid for 0.1 W to 100 kW and 1 mJ to 1 GJ; outside, err wraps [ErrDomain].
//
// Source: S. K. Pillai, A First Course on Electrical Drives, example 5.4.
func StartsWithinLoss(fullLoadLoss unit.Power, heat unit.Energy) (float64, error) {
	if err := errors.Join(
		pkg.Range("loss at full load", float64(fullLoadLoss), 0.1, 100e3, domain.Watt),
		pkg.Range("heat of a start", float64(heat), 1e-3, mostEnergy, domain.Joule),
	); err != nil {
		return 0, err
	}
	return 3600 * float64(fullLoadLoss) / float64(heat), nil
}

// NoLoadStartTime returns how long an unloaded three-phase motor without
// stator resistance takes from standstill to the slip s,
//
//	t = J·ω_s/(2·T_max) · ((1 − s²)/(2·s_m) + s_m·ln(1/s))
//
// with J all that turns (kg·m²), ω_s the synchronous speed (rad/s), T_max the
// greatest torque (N·m) and s_m the slip at which the motor gives it, from the
// torque curve T = 2·T_max/(s/s_m + s_m/s). It never arrives at s = 0.
//
// Valid for 1e-7 to 10 000 kg·m², 1 to 30 000 rpm, T_max from 1 mN·m to 1
// MN·m, s_m from 0.01 to 10 (above 1 it lies beyond standstill) and s from
// 0.0001 to 0.5; outside, err wraps [ErrDomain].
//
// Source: S. K. Pillai, A First Course on Electrical Drives, section 5, from
// the formula of Kloss.
func NoLoadStartTime(j Inertia, synchronous Speed, greatest unit.Torque, peakSlip, finalSlip float64) (unit.Time, error) {
	if err := errors.Join(
		checkInertia(j), checkSpeed("synchronous speed", synchronous),
		pkg.Range("greatest torque", float64(greatest), 1e-3, mostTorque, domain.NewtonMetre),
		pkg.Range("slip of the greatest torque", peakSlip, 0.01, 10, domain.One), checkFinalSlip(finalSlip),
	); err != nil {
		return 0, err
	}
	s, sm := finalSlip, peakSlip
	scale := float64(j) * float64(synchronous) / (2 * float64(greatest))
	return unit.Time(scale * ((1-s*s)/(2*sm) - sm*math.Log(s))), nil
}

// QuickestPeakSlip returns the slip of the greatest torque with which
// [NoLoadStartTime] is shortest,
//
//	s_m = √((1 − s²)/(2·ln(1/s)))
//
// with s the final slip: 0.41 for 0.05. A normal motor's lies at 0.1 to 0.3,
// which trades a quick start for efficiency.
//
// Valid for s from 0.0001 to 0.5; outside, err wraps [ErrDomain].
//
// Source: S. K. Pillai, A First Course on Electrical Drives, example 5.3.
// Common practice: the slips of normal motors.
func QuickestPeakSlip(finalSlip float64) (float64, error) {
	if err := checkFinalSlip(finalSlip); err != nil {
		return 0, err
	}
	return math.Sqrt((1 - finalSlip*finalSlip) / (-2 * math.Log(finalSlip))), nil
}

func checkFinalSlip(s float64) error { return pkg.Range("final slip", s, 1e-4, 0.5, domain.One) }
