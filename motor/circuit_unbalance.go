package motor

import (
	"errors"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// An Unbalanced is a motor on voltages that are not balanced, as the sum of two
// balanced ones: one whose field turns with the rotor and one against it.
// Phasors are rms, those of three phases line to neutral.
type Unbalanced struct {
	Slip             float64       // 1 at standstill
	ForwardVoltage   complex128    // positive sequence (V)
	BackwardVoltage  complex128    // negative sequence (V)
	ForwardCurrent   complex128    // (A)
	BackwardCurrent  complex128    // (A)
	Currents         [3]complex128 // of the lines, or of main and auxiliary winding (A)
	AirGapForward    unit.Power    // across the air gap by the forward field
	AirGapBackward   unit.Power    // by the backward field, which brakes
	Converted        unit.Power    // to mechanical power, rotational loss not yet off
	Torque           unit.Torque   // developed
	CopperLoss       unit.Power    // in stator and rotor
	VoltageUnbalance float64       // |backward voltage| over |forward voltage|
	CurrentUnbalance float64       // |backward current| over |forward current|
}

// TwoPhase returns what the motor does with its windings on two sources of their
// own (V, rms phasors), by symmetrical components,
//
//	V_f = ½·(V_m - j·V_a/a)    V_b = ½·(V_m + j·V_a/a)
//	I_f = ½·(I_m - ja·I_a)     I_b = ½·(I_m + ja·I_a)
//	P_f = 4·I_f²·Re Z_f    P_b = 4·I_b²·Re Z_b    P_conv = (1-s)·(P_f - P_b)
//
// with V_m, V_a the voltages of main and auxiliary winding, a their turns ratio
// and Z_f, Z_b as in [SinglePhaseCircuit.Running]. Positive where the auxiliary
// winding's voltage leads. What stands in series with the auxiliary winding is
// left out. Valid for slips of -1 to 3 and 0.5 V to 15 kV across each winding;
// otherwise, and without an auxiliary winding, err wraps [ErrDomain].
//
// Source: Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., section 9.4,
// Example 9.3.
func (c SinglePhaseCircuit) TwoPhase(slip float64, main, auxiliary complex128) (Unbalanced, error) {
	err := errors.Join(
		c.Validate(), checkPoint(slip, unit.Voltage(cmplx.Abs(main))), checkPoint(slip, unit.Voltage(cmplx.Abs(auxiliary))),
		pkg.Range("turns of the auxiliary over those of the main winding", c.Auxiliary.Turns, leastTurns, greatestTurns, domain.One),
	)
	if err != nil {
		return Unbalanced{}, err
	}
	zf, zb := c.fields(slip, 1)
	a := c.Auxiliary.Turns
	ja := complex(0, a)
	z1 := complex(float64(c.R1), float64(c.X1)) + zf + zb
	z2 := complex(float64(c.Auxiliary.R), float64(c.Auxiliary.X)) + complex(a*a, 0)*(zf+zb)
	z12 := -ja * (zf - zb)
	det := z1*z2 + z12*z12
	im, ia := (z2*main-z12*auxiliary)/det, (z1*auxiliary+z12*main)/det
	u := Unbalanced{
		Slip:           slip,
		ForwardVoltage: (main - 1i*auxiliary/complex(a, 0)) / 2, BackwardVoltage: (main + 1i*auxiliary/complex(a, 0)) / 2,
		ForwardCurrent: (im - ja*ia) / 2, BackwardCurrent: (im + ja*ia) / 2,
		Currents:   [3]complex128{im, ia},
		CopperLoss: unit.Power(square(im)*float64(c.R1) + square(ia)*float64(c.Auxiliary.R)),
	}
	u.AirGapForward = unit.Power(4 * square(u.ForwardCurrent) * real(zf))
	u.AirGapBackward = unit.Power(4 * square(u.BackwardCurrent) * real(zb))
	u.complete(synchronous(c.Frequency, c.Poles))
	return u, nil
}

// Unbalanced returns what the motor does on three line voltages (V, rms) that
// are not equal, by symmetrical components: the forward voltage sees the circuit
// at slip s, the backward one at 2 - s, where it is little more than the
// leakage, so that a small unbalance of the voltages is a large one of the
// currents. The windings' neutral is not connected.
//
// The voltages must close a triangle, and their sides go round in the order of
// the phases. Valid for slips of -1 to 3 and 0.5 V to 15 kV; otherwise err wraps
// [ErrDomain].
//
// Source: symmetrical components, Fitzgerald, Kingsley, Umans, Electric
// Machinery, 6th ed., section 9.4; NEMA MG 1 14.36 for what it does to a motor.
func (c ThreePhaseCircuit) Unbalanced(slip float64, ab, bc, ca unit.Voltage) (Unbalanced, error) {
	err := errors.Join(c.Validate(), checkPoint(slip, ab), checkPoint(slip, bc), checkPoint(slip, ca))
	if err != nil {
		return Unbalanced{}, err
	}
	a, b, d := float64(ab), float64(bc), float64(ca)
	// V_ab lies at angle 0 and the three add to nothing.
	cosine := (d*d - a*a - b*b) / (2 * a * b)
	if !(cosine >= -1 && cosine <= 1) {
		return Unbalanced{}, contradiction("line voltages %.4g, %.4g and %.4g close no triangle", ab, bc, ca)
	}
	vab, vbc := complex(a, 0), cmplx.Rect(b, -math.Acos(cosine))
	vca := -vab - vbc
	turn := cmplx.Rect(1, 2*math.Pi/3)
	// Sequence voltages line to line, then line to neutral.
	forward := (vab + turn*vbc + turn*turn*vca) / 3 * cmplx.Rect(1/sqrt3, -math.Pi/6)
	backward := (vab + turn*turn*vbc + turn*vca) / 3 * cmplx.Rect(1/sqrt3, math.Pi/6)
	f, r := c.phase(slip, 1), c.phase(2-slip, 1)
	neutral := complex(1, 0) // from phase to line to neutral
	if c.Delta {
		neutral = 3
	}
	u := Unbalanced{
		Slip: slip, ForwardVoltage: forward, BackwardVoltage: backward,
		ForwardCurrent: forward * f.stator * neutral, BackwardCurrent: backward * r.stator * neutral,
	}
	for k := range u.Currents {
		t := cmplx.Rect(1, -2*math.Pi/3*float64(k))
		u.Currents[k] = u.ForwardCurrent*t + u.BackwardCurrent*cmplx.Conj(t)
	}
	n := real(neutral)
	gap := func(slip float64, v complex128, p phase) float64 { return c.gapOver(slip, n*square(v*p.rotor)) }
	u.AirGapForward = unit.Power(gap(slip, forward, f))
	u.AirGapBackward = unit.Power(gap(2-slip, backward, r))
	u.CopperLoss = unit.Power(3 * n * float64(c.R1) * (square(forward*f.stator) + square(backward*r.stator)))
	u.complete(synchronous(c.Frequency, c.Poles))
	return u, nil
}

// complete fills in what follows from voltages, currents and air-gap powers.
func (u *Unbalanced) complete(synchron float64) {
	gap := u.AirGapForward - u.AirGapBackward
	u.Converted = unit.Power(1-u.Slip) * gap
	u.Torque = unit.Torque(float64(gap) / synchron)
	u.CopperLoss += unit.Power(u.Slip)*u.AirGapForward + unit.Power(2-u.Slip)*u.AirGapBackward
	u.VoltageUnbalance = over(u.BackwardVoltage, u.ForwardVoltage)
	u.CurrentUnbalance = over(u.BackwardCurrent, u.ForwardCurrent)
}

// over is |a|/|b|, 0 where b vanishes.
func over(a, b complex128) float64 {
	if b == 0 {
		return 0
	}
	return cmplx.Abs(a) / cmplx.Abs(b)
}
