package motor

import (
	"errors"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A SinglePhaseCircuit is a single-phase motor by double revolving fields: the
// field of its main winding is split into one that turns with the rotor and one
// that turns against it. Rotor and magnetizing values are full ones, referred to
// the main winding; the half that each field sees is taken here. Reactances are
// ohms at rated frequency.
type SinglePhaseCircuit struct {
	Voltage   unit.Voltage    // rated (10 V to 15 kV)
	Frequency unit.Frequency  // rated (10 to 400 Hz)
	Poles     int             // 2 to 24
	R1, X1    unit.Resistance // resistance and leakage reactance of the main winding
	R2, X2    unit.Resistance // of the rotor
	Xm        unit.Resistance // magnetizing reactance
	// RotationalLoss is taken off at the shaft: friction and windage, and the
	// core loss where its source counts it there. Zero: none.
	RotationalLoss unit.Power
	// CoreLoss is taken from the line at rated voltage, with the square of the
	// voltage; its small current is left out of Line, as the source has it.
	// Zero: none, or counted in RotationalLoss.
	CoreLoss unit.Power
	// Auxiliary is the second winding. Zero: none, or none connected; such a
	// motor does not start by itself.
	Auxiliary Auxiliary
}

// Validate reports everything that is wrong with the circuit: voltage 10 V to
// 15 kV, 10 to 400 Hz, 2 to 24 poles, resistance of the rotor and magnetizing
// reactance 0.1 mΩ to 100 kΩ, the others from 0, losses to 200 kW, the
// magnetizing reactance above the leakages, and what [Auxiliary] states.
//
// Definition: the ranges are those of motors.
func (c SinglePhaseCircuit) Validate() error {
	if c.ok() {
		return nil
	}
	return errors.Join(
		checkFrame(c.Voltage, c.Frequency, c.Poles, c.RotationalLoss),
		checkOhms("main winding resistance", c.R1, 0), checkOhms("main winding reactance", c.X1, 0),
		checkOhms("rotor resistance", c.R2, leastOhm), checkOhms("rotor reactance", c.X2, 0),
		checkOhms("magnetizing reactance", c.Xm, max(leastOhm, float64(c.X1), float64(c.X2))),
		pkg.Range("core loss", float64(c.CoreLoss), 0, greatestLoss, domain.Watt),
		c.Auxiliary.validate(),
	)
}

// ok is Validate without the words.
func (c SinglePhaseCircuit) ok() bool {
	return goodVoltage(c.Voltage) && within(float64(c.Frequency), leastHertz, greatestHertz) &&
		c.Poles >= 2 && c.Poles <= greatestPoles && c.Poles%2 == 0 &&
		within(float64(c.R1), 0, greatestOhm) && within(float64(c.X1), 0, greatestOhm) &&
		within(float64(c.R2), leastOhm, greatestOhm) && within(float64(c.X2), 0, greatestOhm) &&
		within(float64(c.Xm), max(leastOhm, float64(c.X1), float64(c.X2)), greatestOhm) &&
		within(float64(c.RotationalLoss), 0, greatestLoss) && within(float64(c.CoreLoss), 0, greatestLoss) &&
		c.Auxiliary.ok()
}

// Running returns what the motor does at a slip and a voltage (V, rms) once its
// start switch has opened: on the main winding alone,
//
//	Z_f = ½·(jX_m || (R_2/s + jX_2))    Z_b = ½·(jX_m || (R_2/(2-s) + jX_2))
//	I = V / (R_1 + jX_1 + Z_f + Z_b)
//	P_f = I²·Re Z_f    P_b = I²·Re Z_b    T = (P_f - P_b)/ω_s
//	P_conv = (1-s)·(P_f - P_b)    P_rotor = s·P_f + (2-s)·P_b    P_out = P_conv - P_rot
//
// or, where a capacitor stays in series with the auxiliary winding, on both as
// in [SinglePhaseCircuit.Starting]. The rotational loss P_rot counts in full at
// every slip but 1.
//
// The backward field sees twice the line frequency less the slip, where the
// rotor of a real motor has more resistance. Steady state, sinusoidal, linear.
// Valid for slips of -1 to 3 and 0.5 V to 15 kV; otherwise err wraps
// [ErrDomain].
//
// Source: Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., chapter 9,
// Example 9.2.
func (c SinglePhaseCircuit) Running(slip float64, voltage unit.Voltage) (Point, error) {
	return c.point(slip, voltage, running)
}

// Starting returns what the motor does at a slip and a voltage while its start
// switch is closed and both windings stand on the line,
//
//	Z_11 = R_1 + jX_1 + Z_f + Z_b    Z_12 = -Z_21 = -ja·(Z_f - Z_b)
//	Z_22 = a²·(Z_f + Z_b) + R_a + jX_a + Z_c
//	P_f = |I_1 - ja·I_2|²·Re Z_f    P_b = |I_1 + ja·I_2|²·Re Z_b
//
// with a the turns of the auxiliary winding over those of the main one, R_a and
// X_a its resistance and leakage (Ω), Z_c what stands in series with it (Ω), I_1
// and I_2 the currents of main and auxiliary winding (A), the line current their
// sum, and the rest as in [SinglePhaseCircuit.Running]. At standstill the torque
// is that of T = 4a·I_1·I_2·Re Z_f·sin α/ω_s, with α the angle between the
// currents. A motor without auxiliary winding stands on the main one alone, with
// no torque at standstill. Valid and refused as Running.
//
// Source: Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., section 9.4,
// Example 9.5; Guru & Hiziroglu, Electric Machinery and Transformers, 3rd ed.,
// Example 10.3.
func (c SinglePhaseCircuit) Starting(slip float64, voltage unit.Voltage) (Point, error) {
	return c.point(slip, voltage, starting)
}

func (c SinglePhaseCircuit) point(slip float64, voltage unit.Voltage, n connection) (Point, error) {
	if !c.ok() {
		return Point{}, c.Validate()
	}
	if err := checkPoint(slip, voltage); err != nil {
		return Point{}, err
	}
	w := c.windings(slip, 1, n)
	v := complex(float64(voltage), 0)
	return c.carry(slip, voltage, w, v*w.main, v*w.auxiliary, v), nil
}

// windings are the two windings' currents per volt at one slip, with the field
// impedances that they see.
type windings struct {
	forward, backward complex128 // Z_f, Z_b (Ω)
	main, auxiliary   complex128 // current per volt (S)
	series            complex128 // in series with the auxiliary winding (Ω)
}

// fields returns the impedances of the forward and the backward field at a slip
// and a frequency over the rated one. Multiplied out by s, they hold at s = 0.
func (c SinglePhaseCircuit) fields(slip, frequency float64) (forward, backward complex128) {
	r, x, xm := float64(c.R2), frequency*float64(c.X2), frequency*float64(c.Xm)
	half := complex(0, xm/2)
	forward = half * complex(r, slip*x) / complex(r, slip*(x+xm))
	back := 2 - slip
	backward = half * complex(r, back*x) / complex(r, back*(x+xm))
	return forward, backward
}

// windings solves both windings for one volt across them.
func (c SinglePhaseCircuit) windings(slip, frequency float64, n connection) windings {
	var w windings
	w.forward, w.backward = c.fields(slip, frequency)
	sum := w.forward + w.backward
	z11 := complex(float64(c.R1), frequency*float64(c.X1)) + sum
	branch, connected := c.Auxiliary.branch(n)
	if !connected {
		w.main = 1 / z11
		return w
	}
	a := c.Auxiliary.Turns
	w.series = branch.impedance(frequency * float64(c.Frequency))
	z12 := complex(0, -a) * (w.forward - w.backward)
	z22 := complex(a*a, 0)*sum + complex(float64(c.Auxiliary.R), frequency*float64(c.Auxiliary.X)) + w.series
	det := z11*z22 + z12*z12
	w.main = (z22 - z12) / det
	w.auxiliary = (z11 + z12) / det
	return w
}

// square is |z|², which needs no root.
func square(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

// gap returns what each field carries across the air gap (W).
func (w *windings) gap(turns float64, main, auxiliary complex128) (forward, backward float64) {
	ja := complex(0, turns) * auxiliary
	return square(main-ja) * real(w.forward), square(main+ja) * real(w.backward)
}

// carry makes the point from the currents (A); v is the voltage across the main
// winding (V).
func (c SinglePhaseCircuit) carry(slip float64, voltage unit.Voltage, w windings, main, auxiliary, v complex128) Point {
	f, b := w.gap(c.Auxiliary.Turns, main, auxiliary)
	line := main + auxiliary
	per := float64(voltage / c.Voltage)
	p := Point{
		Slip: slip, Voltage: voltage, Line: line, Main: main, Auxiliary: auxiliary,
		StatorCopper:   unit.Power(square(main) * float64(c.R1)),
		AuxiliaryLoss:  unit.Power(square(auxiliary) * (float64(c.Auxiliary.R) + real(w.series))),
		RotorCopper:    unit.Power(slip*f + (2-slip)*b),
		Core:           unit.Power(per*per) * c.CoreLoss,
		Rotational:     c.RotationalLoss,
		AirGapForward:  unit.Power(f),
		AirGapBackward: unit.Power(b),
	}
	p.Input = unit.Power(real(v*cmplx.Conj(line))) + p.Core
	if imag(w.series) != 0 {
		p.CapacitorVoltage = unit.Voltage(cmplx.Abs(auxiliary) * cmplx.Abs(w.series))
	}
	p.complete(1, synchronous(c.Frequency, c.Poles))
	return p
}

func (c SinglePhaseCircuit) frame() frame {
	return frame{
		voltage: float64(c.Voltage), frequency: float64(c.Frequency), phases: 1,
		synchron: synchronous(c.Frequency, c.Poles), switchOver: c.Auxiliary.Switch,
		rotational: float64(c.RotationalLoss),
	}
}

func (c SinglePhaseCircuit) respond(speed, frequency float64, n connection) response {
	ws := synchronous(c.Frequency, c.Poles) * frequency
	slip := 1 - speed/ws
	w := c.windings(slip, frequency, n)
	f, b := w.gap(c.Auxiliary.Turns, w.main, w.auxiliary)
	core := float64(c.CoreLoss) / (float64(c.Voltage) * float64(c.Voltage))
	return response{
		impedance: 1 / (w.main + w.auxiliary + complex(core, 0)),
		torque:    (f - b) / ws,
		winding:   square(w.main)*float64(c.R1) + square(w.auxiliary)*(float64(c.Auxiliary.R)+real(w.series)),
		rotor:     slip*f + (2-slip)*b,
	}
}
