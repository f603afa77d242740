package motor

import (
	"errors"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// This file brings a circuit to the locked-rotor current and power factor of a
// motor of which no more is known.

// The power-factor adjustment moves stator resistances by these factors.
const (
	leastResistanceFactor    = 0.05
	greatestResistanceFactor = 20
)

// scaled multiplies all impedances by k.
func (c SinglePhaseCircuit) scaled(k float64) SinglePhaseCircuit {
	z := unit.Resistance(k)
	c.R1, c.X1, c.R2, c.X2, c.Xm = z*c.R1, z*c.X1, z*c.R2, z*c.X2, z*c.Xm
	a := &c.Auxiliary
	a.R, a.X = z*a.R, z*a.X
	for _, b := range [...]*Branch{&a.Start, &a.Run} {
		b.Resistance *= z
		b.Capacitance /= unit.Capacitance(k)
	}
	return c
}

func (c ThreePhaseCircuit) scaled(k float64) ThreePhaseCircuit {
	z := unit.Resistance(k)
	c.R1, c.X1, c.R2, c.X2, c.Xm, c.Rc = z*c.R1, z*c.X1, z*c.R2, z*c.X2, z*c.Xm, z*c.Rc
	return c
}

// WithLockedRotorCurrent returns the circuit with all its impedances, those of
// the capacitors among them, scaled by one factor, so that it draws a line
// current (A) with the rotor held at rated voltage while it starts,
//
//	k = I_own/I    Z' = k·Z    C' = C/k
//
// Torque and current go with 1/k at every speed. It is then a motor of the same
// make 1/k times as large, at the old load: less loaded, with less slip and a
// lower power factor, where k is below 1. Losses at the shaft and in the core
// stay. Valid for 50 mA to 20 kA and a tenth to ten times the own current;
// otherwise err wraps [ErrDomain].
//
// Common practice: impedances of motors of one make go with V²/P.
func (c SinglePhaseCircuit) WithLockedRotorCurrent(current unit.Current) (SinglePhaseCircuit, error) {
	held, err := c.Starting(1, c.Voltage)
	if err = errors.Join(err, checkWanted(current, held)); err != nil {
		return SinglePhaseCircuit{}, err
	}
	c = c.scaled(float64(held.Current / current))
	if err := c.Validate(); err != nil {
		return SinglePhaseCircuit{}, err
	}
	return c, nil
}

// WithLockedRotorCurrent returns the circuit scaled to a line current with the
// rotor held, as [SinglePhaseCircuit.WithLockedRotorCurrent].
//
// Common practice: as there.
func (c ThreePhaseCircuit) WithLockedRotorCurrent(current unit.Current) (ThreePhaseCircuit, error) {
	held, err := c.Starting(1, c.Voltage)
	if err = errors.Join(err, checkWanted(current, held)); err != nil {
		return ThreePhaseCircuit{}, err
	}
	c = c.scaled(float64(held.Current / current))
	if err := c.Validate(); err != nil {
		return ThreePhaseCircuit{}, err
	}
	return c, nil
}

func checkWanted(i unit.Current, held Point) error {
	if held.Current == 0 {
		return nil // the circuit is at fault
	}
	return errors.Join(
		checkCurrent("locked-rotor current", i),
		pkg.Range("locked-rotor current over that of the circuit", float64(i/held.Current), 0.1, 10, domain.One),
	)
}

// stator multiplies the resistances of the stator windings.
func (c SinglePhaseCircuit) stator(k float64) SinglePhaseCircuit {
	c.R1 *= unit.Resistance(k)
	c.Auxiliary.R *= unit.Resistance(k)
	return c
}

func (c ThreePhaseCircuit) stator(k float64) ThreePhaseCircuit {
	c.R1 *= unit.Resistance(k)
	return c
}

// WithLockedRotorPowerFactor returns the circuit with the resistances of its
// main and auxiliary winding multiplied by one factor, so that its power factor
// with the rotor held and both windings on the line is the one given, and then
// scaled so that the locked-rotor current stays. The factor lies between 1/20
// and 20; a power factor (0.1 to 1) that it does not reach is a
// [ContradictionError], as is one of a circuit without stator resistance.
// Efficiency and torque change with it.
//
// Definition: cos φ = Re Z/|Z| of [SinglePhaseCircuit.Starting] at slip 1.
func (c SinglePhaseCircuit) WithLockedRotorPowerFactor(pf float64) (SinglePhaseCircuit, error) {
	held, err := c.Starting(1, c.Voltage)
	if err = errors.Join(err, pkg.Range("locked-rotor power factor", pf, leastPowerFactor, 1, domain.One)); err != nil {
		return SinglePhaseCircuit{}, err
	}
	k, err := resistanceFactor(pf, func(k float64) complex128 { return c.stator(k).respond(0, 1, starting).impedance })
	if err != nil {
		return SinglePhaseCircuit{}, err
	}
	return c.stator(k).WithLockedRotorCurrent(held.Current)
}

// WithLockedRotorPowerFactor returns the circuit with another stator resistance,
// as [SinglePhaseCircuit.WithLockedRotorPowerFactor].
//
// Definition: as there.
func (c ThreePhaseCircuit) WithLockedRotorPowerFactor(pf float64) (ThreePhaseCircuit, error) {
	held, err := c.Starting(1, c.Voltage)
	if err = errors.Join(err, pkg.Range("locked-rotor power factor", pf, leastPowerFactor, 1, domain.One)); err != nil {
		return ThreePhaseCircuit{}, err
	}
	k, err := resistanceFactor(pf, func(k float64) complex128 { return c.stator(k).respond(0, 1, starting).impedance })
	if err != nil {
		return ThreePhaseCircuit{}, err
	}
	return c.stator(k).WithLockedRotorCurrent(held.Current)
}

// resistanceFactor finds the factor at which an impedance has a power factor,
// from 1 in the direction that leads there.
func resistanceFactor(pf float64, z func(k float64) complex128) (float64, error) {
	short := func(k float64) float64 {
		at := z(k)
		return real(at)/cmplx.Abs(at) - pf
	}
	end := greatestResistanceFactor * 1.0
	if short(1) > 0 {
		end = leastResistanceFactor
	}
	k, err := numeric.Root(short, 1, end, 0)
	if err != nil {
		return 0, contradiction("locked-rotor power factor %.3g, but with other stator resistances the circuit has from %.3g to %.3g",
			pf, min(short(1), short(end))+pf, max(short(1), short(end))+pf)
	}
	return k, nil
}
