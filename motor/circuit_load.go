package motor

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// A StallError says that a motor cannot carry what its shaft is asked for: the
// load is above its breakdown torque, or above the greatest power that it turns
// out, at this voltage. Loaded so it slows down and stops.
type StallError struct {
	Asked    float64 // N·m or W
	Greatest float64 // what there is, in the same unit
	Unit     string  // "N·m" or "W"
}

// Error returns both figures.
//
// Definition: "motor: stalls: " and what was asked and what there is.
func (e *StallError) Error() string {
	return fmt.Sprintf("motor: stalls: %.4g %s asked of the shaft, %.4g %s at most", e.Asked, e.Unit, e.Greatest, e.Unit)
}

// Breakdown returns the point of the greatest developed torque at a voltage,
// once the start switch has opened, found by golden section between standstill
// and synchronous speed. Valid for 0.5 V to 15 kV; otherwise err wraps
// [ErrDomain].
//
// Definition: breakdown torque, NEMA MG 1 1.51.
func (c SinglePhaseCircuit) Breakdown(voltage unit.Voltage) (Point, error) {
	if err := c.check(voltage); err != nil {
		return Point{}, err
	}
	return c.point(c.breakdownSlip(), voltage, running)
}

// check is Validate with the voltage of a point.
func (c SinglePhaseCircuit) check(voltage unit.Voltage) error {
	if !c.ok() {
		return c.Validate()
	}
	return checkPoint(0, voltage)
}

func (c SinglePhaseCircuit) breakdownSlip() float64 {
	return numeric.Maximum(func(s float64) float64 {
		w := c.windings(s, 1, running)
		f, b := w.gap(c.Auxiliary.Turns, w.main, w.auxiliary)
		return f - b
	}, 0, 1, 0)
}

// AtTorque returns the point at which the shaft gives a torque (N·m) at a
// voltage, on the running side of the breakdown torque: the slip s at which
//
//	(P_conv(s) - P_rot)/((1-s)·ω_s) = T
//
// A torque that is never reached is a [StallError]. Valid for torques of 0 to 10
// kN·m and 0.5 V to 15 kV; otherwise err wraps [ErrDomain].
//
// Source: as [SinglePhaseCircuit.Running].
func (c SinglePhaseCircuit) AtTorque(torque unit.Torque, voltage unit.Voltage) (Point, error) {
	return c.load(float64(torque), false, voltage)
}

// AtOutput returns the point at which the shaft gives a power (W), as
// [SinglePhaseCircuit.AtTorque] does for a torque; from 0 to 10 MW.
//
// Source: as [SinglePhaseCircuit.Running].
func (c SinglePhaseCircuit) AtOutput(output unit.Power, voltage unit.Voltage) (Point, error) {
	return c.load(float64(output), true, voltage)
}

func (c SinglePhaseCircuit) load(want float64, power bool, voltage unit.Voltage) (Point, error) {
	if err := errors.Join(c.check(voltage), checkAsked(want, power)); err != nil {
		return Point{}, err
	}
	ws, v2 := synchronous(c.Frequency, c.Poles), float64(voltage)*float64(voltage)
	s, err := slipAt(want, power, ws, float64(c.RotationalLoss), c.breakdownSlip(), func(s float64) float64 {
		w := c.windings(s, 1, running)
		f, b := w.gap(c.Auxiliary.Turns, w.main, w.auxiliary)
		return v2 * (f - b)
	})
	if err != nil {
		return Point{}, err
	}
	return c.point(s, voltage, running)
}

// Breakdown returns the point of the greatest developed torque at a line
// voltage, by the Thévenin equivalent of stator and magnetizing branch,
//
//	V_th = V_ph·Z_m/(R_1 + jX_1 + Z_m)    Z_th = Z_m || (R_1 + jX_1)
//	s_max = R_2/√(R_th² + (X_th + X_2)²)
//	T_max = 3·V_th²/(2·ω_s·(R_th + √(R_th² + (X_th + X_2)²)))
//
// The torque does not depend on R_2. Valid for 0.5 V to 15 kV; otherwise err
// wraps [ErrDomain].
//
// Source: Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., section 6.5,
// Example 6.3.
func (c ThreePhaseCircuit) Breakdown(voltage unit.Voltage) (Point, error) {
	if err := c.check(voltage); err != nil {
		return Point{}, err
	}
	return c.point(c.breakdownSlip(), voltage), nil
}

func (c ThreePhaseCircuit) check(voltage unit.Voltage) error {
	if !c.ok() {
		return c.Validate()
	}
	return checkPoint(0, voltage)
}

// AtTorque returns the point at which the shaft gives a torque (N·m), on the
// running side of the breakdown torque, as [SinglePhaseCircuit.AtTorque].
//
// Source: as [ThreePhaseCircuit.Running].
func (c ThreePhaseCircuit) AtTorque(torque unit.Torque, voltage unit.Voltage) (Point, error) {
	return c.load(float64(torque), false, voltage)
}

// AtOutput returns the point at which the shaft gives a power (W), as
// [SinglePhaseCircuit.AtOutput].
//
// Source: as [ThreePhaseCircuit.Running].
func (c ThreePhaseCircuit) AtOutput(output unit.Power, voltage unit.Voltage) (Point, error) {
	return c.load(float64(output), true, voltage)
}

func (c ThreePhaseCircuit) load(want float64, power bool, voltage unit.Voltage) (Point, error) {
	if err := errors.Join(c.check(voltage), checkAsked(want, power)); err != nil {
		return Point{}, err
	}
	u := float64(voltage) * c.perPhase()
	s, err := slipAt(want, power, synchronous(c.Frequency, c.Poles), float64(c.RotationalLoss), c.breakdownSlip(), func(s float64) float64 {
		return c.gapOver(s, u*u*square(c.phase(s, 1).rotor))
	})
	if err != nil {
		return Point{}, err
	}
	return c.point(s, voltage), nil
}

func checkAsked(want float64, power bool) error {
	if power {
		return pkg.Range("shaft power", want, 0, 10e6, domain.Watt)
	}
	return pkg.Range("shaft torque", want, 0, 10e3, domain.NewtonMetre)
}

// slipAt returns the slip at which the shaft gives the torque or the power
// wanted, on the side of synchronous speed; gap is the net air-gap power (W) at
// a slip, rotational the loss at the shaft (W).
func slipAt(want float64, power bool, ws, rotational, breakdown float64, gap func(s float64) float64) (float64, error) {
	shaft := func(s float64) float64 {
		out := (1-s)*gap(s) - rotational
		if !power {
			out /= (1 - s) * ws
		}
		return out
	}
	top := breakdown
	if power || rotational > 0 {
		// The greatest power lies at less slip than the greatest torque; so
		// does the greatest shaft torque where a constant loss is taken off.
		top = numeric.Maximum(shaft, 0, min(breakdown, 0.999), 0)
	}
	most := shaft(top)
	if !(most >= want) {
		asked := "N·m"
		if power {
			asked = "W"
		}
		return 0, &StallError{Asked: want, Greatest: max(most, 0), Unit: asked}
	}
	low := 0.0
	for shaft(low) > want {
		// Without loss and load a three-phase motor would be driven.
		if low -= 0.01; low < leastSlip {
			break
		}
	}
	return numeric.Root(func(s float64) float64 { return shaft(s) - want }, low, top, 0)
}
