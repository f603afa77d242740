package motor

import (
	"errors"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"
)

// A ThreePhaseCircuit is one phase of a three-phase induction motor, rotor
// referred to the stator. Reactances are ohms at rated frequency.
type ThreePhaseCircuit struct {
	Voltage   unit.Voltage    // rated, line to line (10 V to 15 kV)
	Frequency unit.Frequency  // rated (10 to 400 Hz)
	Poles     int             // 2 to 24
	Delta     bool            // the ohms are those of a phase in delta; otherwise in wye
	R1, X1    unit.Resistance // resistance and leakage reactance of the stator
	R2, X2    unit.Resistance // of the rotor
	Xm        unit.Resistance // magnetizing reactance
	// Rc is the resistance that stands for the core loss, parallel to Xm. Zero:
	// none, or counted in RotationalLoss.
	Rc unit.Resistance
	// RotationalLoss is taken off at the shaft: friction and windage, and core
	// and stray loss where the source counts them there. Zero: none.
	RotationalLoss unit.Power
}

// Validate reports everything that is wrong with the circuit, with the ranges
// of [SinglePhaseCircuit.Validate]; a core-loss resistance is at least the
// leakage reactances.
//
// Definition: the ranges are those of motors.
func (c ThreePhaseCircuit) Validate() error {
	if c.ok() {
		return nil
	}
	var rc error
	if c.Rc != 0 {
		rc = checkOhms("core-loss resistance", c.Rc, max(leastOhm, float64(c.X1), float64(c.X2)))
	}
	return errors.Join(
		checkFrame(c.Voltage, c.Frequency, c.Poles, c.RotationalLoss),
		checkOhms("stator resistance", c.R1, 0), checkOhms("stator reactance", c.X1, 0),
		checkOhms("rotor resistance", c.R2, leastOhm), checkOhms("rotor reactance", c.X2, 0),
		checkOhms("magnetizing reactance", c.Xm, max(leastOhm, float64(c.X1), float64(c.X2))), rc,
	)
}

// ok is Validate without the words.
func (c ThreePhaseCircuit) ok() bool {
	least := max(leastOhm, float64(c.X1), float64(c.X2))
	return goodVoltage(c.Voltage) && within(float64(c.Frequency), leastHertz, greatestHertz) &&
		c.Poles >= 2 && c.Poles <= greatestPoles && c.Poles%2 == 0 &&
		within(float64(c.R1), 0, greatestOhm) && within(float64(c.X1), 0, greatestOhm) &&
		within(float64(c.R2), leastOhm, greatestOhm) && within(float64(c.X2), 0, greatestOhm) &&
		within(float64(c.Xm), least, greatestOhm) && (c.Rc == 0 || within(float64(c.Rc), least, greatestOhm)) &&
		within(float64(c.RotationalLoss), 0, greatestLoss)
}

// Running returns what the motor does at a slip and a line voltage (V, rms),
//
//	Z_p = Z_m || (R_2/s + jX_2)    Z_m = jX_m, or R_c || jX_m
//	I_1 = V_ph / (R_1 + jX_1 + Z_p)    I_2 = I_1·Z_p/(R_2/s + jX_2)
//	P_gap = 3·I_2²·R_2/s    T = P_gap/ω_s
//	P_conv = (1-s)·P_gap    P_rotor = s·P_gap    P_out = P_conv - P_rot
//
// with V_ph the voltage of a phase: the line voltage in delta, over √3 in wye.
// Main and Rotor are the currents of a phase, Line is √3 times Main in delta. A
// negative slip generates. Balanced, steady state, sinusoidal, linear. Valid for
// slips of -1 to 3 and 0.5 V to 15 kV; otherwise err wraps [ErrDomain].
//
// Source: Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., section 6.4,
// Example 6.2.
func (c ThreePhaseCircuit) Running(slip float64, voltage unit.Voltage) (Point, error) {
	if !c.ok() {
		return Point{}, c.Validate()
	}
	if err := checkPoint(slip, voltage); err != nil {
		return Point{}, err
	}
	return c.point(slip, voltage), nil
}

// Starting is [ThreePhaseCircuit.Running]: a three-phase motor has no start
// winding.
//
// Definition: as Running.
func (c ThreePhaseCircuit) Starting(slip float64, voltage unit.Voltage) (Point, error) {
	return c.Running(slip, voltage)
}

// phase is one phase at a slip, per volt across it. Multiplied out by s, the
// rotor branch holds at s = 0.
type phase struct {
	impedance     complex128 // of the phase (Ω)
	stator, rotor complex128 // currents (S)
	core          float64    // watts per square volt in Rc
}

func (c ThreePhaseCircuit) phase(slip, frequency float64) phase {
	zm := c.magnetizing(frequency)
	s := complex(slip, 0)
	branch := complex(float64(c.R2), slip*frequency*float64(c.X2)) // s times the rotor branch
	zp := zm * branch / (branch + s*zm)
	z := complex(float64(c.R1), frequency*float64(c.X1)) + zp
	p := phase{impedance: z, stator: 1 / z}
	p.rotor = p.stator * s * zm / (branch + s*zm)
	if c.Rc != 0 {
		p.core = square(zp/z) / float64(c.Rc)
	}
	return p
}

// magnetizing is jX_m, or that parallel to R_c.
func (c ThreePhaseCircuit) magnetizing(frequency float64) complex128 {
	jx := complex(0, frequency*float64(c.Xm))
	if c.Rc == 0 {
		return jx
	}
	rc := complex(float64(c.Rc), 0)
	return rc * jx / (rc + jx)
}

// perPhase is the voltage of a phase over the line voltage.
func (c ThreePhaseCircuit) perPhase() float64 {
	if c.Delta {
		return 1
	}
	return 1 / sqrt3
}

// gapOver is the air-gap power of three phases (W) of a phase that carries the
// rotor current (A): 3·I_2²·R_2/s, taken from the impedance where s is 0.
func (c ThreePhaseCircuit) gapOver(slip, rotorSquared float64) float64 {
	if slip == 0 {
		return 0
	}
	return 3 * rotorSquared * float64(c.R2) / slip
}

func (c ThreePhaseCircuit) point(slip float64, voltage unit.Voltage) Point {
	u := float64(voltage) * c.perPhase()
	k := complex(u, 0)
	f := c.phase(slip, 1)
	main, rotor := k*f.stator, k*f.rotor
	line := main
	if c.Delta {
		line *= sqrt3
	}
	gap := c.gapOver(slip, square(rotor))
	p := Point{
		Slip: slip, Voltage: voltage, Line: line, Main: main, Rotor: rotor,
		StatorCopper:  unit.Power(3 * square(main) * float64(c.R1)),
		RotorCopper:   unit.Power(slip * gap),
		Core:          unit.Power(3 * u * u * f.core),
		Rotational:    c.RotationalLoss,
		AirGapForward: unit.Power(gap),
		Input:         unit.Power(3 * real(k*cmplx.Conj(main))),
	}
	p.complete(3, synchronous(c.Frequency, c.Poles))
	return p
}

func (c ThreePhaseCircuit) frame() frame {
	return frame{
		voltage: float64(c.Voltage), frequency: float64(c.Frequency), phases: 3,
		synchron: synchronous(c.Frequency, c.Poles), rotational: float64(c.RotationalLoss),
	}
}

func (c ThreePhaseCircuit) respond(speed, frequency float64, _ connection) response {
	ws := synchronous(c.Frequency, c.Poles) * frequency
	slip := 1 - speed/ws
	f := c.phase(slip, frequency)
	k := c.perPhase() * c.perPhase()
	gap := k * c.gapOver(slip, square(f.rotor))
	z := f.impedance // of a phase in wye is line to neutral
	if c.Delta {
		z /= 3
	}
	return response{
		impedance: z, torque: gap / ws,
		winding: 3 * k * square(f.stator) * float64(c.R1),
		rotor:   slip * gap,
	}
}
