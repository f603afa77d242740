package motor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A TestReading is what the instruments show in a no-load or a blocked-rotor
// test: line voltage (rms, line to line), line current (rms) and the power of
// all phases.
type TestReading struct {
	Voltage unit.Voltage // 0.5 V to 15 kV
	Current unit.Current // 50 mA to 20 kA
	Power   unit.Power   // to 10 MW, not above √m·V·I
}

func (t TestReading) check(name string, phases int) error {
	va := lineFactor(phases) * float64(t.Voltage) * float64(t.Current)
	if within(float64(t.Voltage), leastTerminal, greatestVolts) && goodCurrent(t.Current) && within(float64(t.Power), 0, min(va, 10e6)) {
		return nil
	}
	err := errors.Join(
		pkg.Range(name+" voltage", float64(t.Voltage), leastTerminal, greatestVolts, domain.Volt),
		checkCurrent(name+" current", t.Current),
		pkg.Range(name+" power", float64(t.Power), 0, 10e6, domain.Watt),
	)
	if err != nil {
		return err
	}
	return contradiction("%s power %.4g above the %.4g VA of voltage and current", name, t.Power, va)
}

// impedance is that of one phase in wye, R = P/(m·I²) and X by the reactive
// power (Ω).
func (t TestReading) impedance(phases int) (r, x float64) {
	i := float64(t.Current)
	z := float64(t.Voltage) / (i * lineFactor(phases))
	r = float64(t.Power) / (float64(phases) * i * i)
	return r, math.Sqrt(max(0, z*z-r*r))
}

// SinglePhaseTests are the readings from which a single-phase motor's circuit is
// worked out, its auxiliary winding open: running without load, and with the
// rotor held at a voltage that brings about rated current.
type SinglePhaseTests struct {
	Voltage   unit.Voltage    // rated (10 V to 15 kV)
	Frequency unit.Frequency  // of both tests (10 to 400 Hz)
	Poles     int             // 2 to 24
	R1        unit.Resistance // of the main winding, by direct current, as warm as in the tests
	NoLoad    TestReading     // running free
	Blocked   TestReading     // rotor held
}

// Circuit returns the circuit of the main winding,
//
//	R_br = P_br/I_br²    X_br = √((V_br/I_br)² - R_br²)
//	R_2 = R_br - R_1    X_1 = X_2 = X_br/2
//	X_nl = √((V_nl/I_nl)² - (P_nl/I_nl²)²)    X_m = 2·(X_nl - X_1 - X_2/2)
//	P_rot = P_nl - I_nl²·(R_1 + R_2/4)
//
// with voltages (V), currents (A) and powers (W) of the blocked (br) and the
// no-load (nl) test, and the rest as in [SinglePhaseCircuit], the core loss in
// the rotational one. The magnetizing current is left out with the rotor held,
// so that R_2 comes out low by about 2·X_2/X_m, 6 % of a small motor. Without
// load the field that turns backward brakes, which is counted as friction: P_rot
// comes out high by about I_nl²·R_2/4. X_m is right to 4 % where P_rot is not
// above a tenth of the rating. A printed form X_m = 2·X_nl - 0.75·X_br takes off
// half of the leakage and is 3 % high.
//
// Readings that contradict each other are a [ContradictionError]: more power than
// volt-amperes, a winding of more resistance than the motor with its rotor held,
// a reactance without load that leaves none to magnetize, less power without
// load than the windings alone take. Ranges as in [TestReading], R_1 from 0.1 mΩ
// to 100 kΩ; outside them err wraps [ErrDomain].
//
// Source: Guru & Hiziroglu, Electric Machinery and Transformers, 3rd ed.,
// Example 10.4.
func (t SinglePhaseTests) Circuit() (SinglePhaseCircuit, error) {
	err := errors.Join(
		checkFrame(t.Voltage, t.Frequency, t.Poles, 0), checkOhms("main winding resistance", t.R1, leastOhm),
		t.NoLoad.check("no-load", 1), t.Blocked.check("blocked-rotor", 1),
	)
	if err != nil {
		return SinglePhaseCircuit{}, err
	}
	r1, i := float64(t.R1), float64(t.NoLoad.Current)
	rbr, xbr := t.Blocked.impedance(1)
	_, xnl := t.NoLoad.impedance(1)
	r2, x := rbr-r1, xbr/2
	xm := 2 * (xnl - 1.5*x)
	rotational := float64(t.NoLoad.Power) - i*i*(r1+r2/4)
	if err := contradictions(r1, rbr, xnl, xbr, xm, x, rotational, t.NoLoad.Power); err != nil {
		return SinglePhaseCircuit{}, err
	}
	c := SinglePhaseCircuit{
		Voltage: t.Voltage, Frequency: t.Frequency, Poles: t.Poles,
		R1: t.R1, X1: unit.Resistance(x), R2: unit.Resistance(r2), X2: unit.Resistance(x),
		Xm: unit.Resistance(xm), RotationalLoss: unit.Power(rotational),
	}
	if err := c.Validate(); err != nil {
		return SinglePhaseCircuit{}, err
	}
	return c, nil
}

// contradictions reports readings of which two cannot both be true.
func contradictions(r1, rbr, xnl, xbr, xm, leakage, rotational float64, noLoad unit.Power) error {
	var err error
	if !(r1 < rbr) {
		err = errors.Join(err, contradiction("winding resistance %.4g Ω, but %.4g Ω in all with the rotor held", r1, rbr))
	}
	if !(xm > leakage) {
		err = errors.Join(err, contradiction("reactance %.4g Ω without load and %.4g Ω with the rotor held leave none to magnetize", xnl, xbr))
	}
	if !(rotational >= 0) {
		err = errors.Join(err, contradiction("no-load power %.4g, %.4g less than the windings take", noLoad, unit.Power(-rotational)))
	}
	return err
}

// ThreePhaseTests are the readings from which a three-phase motor's circuit is
// worked out: running without load, and with the rotor held at rated current and
// a reduced frequency, a quarter of the rated one by custom, at which the rotor
// has the resistance that it runs with.
type ThreePhaseTests struct {
	Voltage          unit.Voltage    // rated, line to line (10 V to 15 kV)
	Frequency        unit.Frequency  // rated, and of the no-load test (10 to 400 Hz)
	Poles            int             // 2 to 24
	R1               unit.Resistance // of one phase in wye, half of what is read between two lines
	NoLoad           TestReading     // running free
	Blocked          TestReading     // rotor held
	BlockedFrequency unit.Frequency  // 2 to 400 Hz, not above Frequency
	// ReactanceRatio is X1/X2, by the design of the motor (0.1 to 10): 1 for
	// design A, D and wound rotors, 0.67 for B, 0.43 for C.
	ReactanceRatio float64
}

// Circuit returns the circuit in wye, by
//
//	R = P/(3·I²)    X = √((V/(√3·I))² - R²)    X_bl = X·f/f_bl
//	X_2 = (X_bl - X_1)·(X_nl - X_1)/(X_nl - X_bl)    X_m = X_nl - X_1
//	R_2 = (R_bl - R_1)·((X_2 + X_m)/X_m)²    P_rot = P_nl - 3·I_nl²·R_1
//
// of the blocked (bl) and the no-load (nl) test, f the rated frequency and f_bl
// that of the blocked test (Hz), and X_1 = ReactanceRatio·X_2. The core loss is
// counted in the rotational one. At the low frequency the magnetizing reactance
// is not far above R_2, which is left out: leakages come out 3 to 4 % high and X_m
// 1 to 2.5 % low. Contradictions are refused as by
// [SinglePhaseTests.Circuit].
//
// Source: IEEE Std 112, as in Fitzgerald, Kingsley, Umans, Electric Machinery,
// 6th ed., section 6.6 and Example 6.5, there also the ratios by design class.
func (t ThreePhaseTests) Circuit() (ThreePhaseCircuit, error) {
	err := errors.Join(
		checkFrame(t.Voltage, t.Frequency, t.Poles, 0), checkOhms("stator resistance", t.R1, leastOhm),
		t.NoLoad.check("no-load", 3), t.Blocked.check("blocked-rotor", 3),
		pkg.Range("frequency of the blocked-rotor test", float64(t.BlockedFrequency), 2, float64(t.Frequency), domain.Hertz),
		pkg.Range("stator over rotor reactance", t.ReactanceRatio, 0.1, 10, domain.One),
	)
	if err != nil {
		return ThreePhaseCircuit{}, err
	}
	k, r1, i := t.ReactanceRatio, float64(t.R1), float64(t.NoLoad.Current)
	rbl, xbl := t.Blocked.impedance(3)
	xbl *= float64(t.Frequency / t.BlockedFrequency)
	_, xnl := t.NoLoad.impedance(3)
	// X_2 of the two equations for it: k²·X² - (k·(X_bl + X_nl) + X_nl - X_bl)·X + X_bl·X_nl = 0.
	b := k*(xbl+xnl) + xnl - xbl
	x2 := 2 * xbl * xnl / (b + math.Sqrt(max(0, b*b-4*k*k*xbl*xnl)))
	x1 := k * x2
	xm := xnl - x1
	if !(xnl > xbl) {
		xm = 0
	}
	rotational := float64(t.NoLoad.Power) - 3*i*i*r1
	if err := contradictions(r1, rbl, xnl, xbl, xm, max(x1, x2), rotational, t.NoLoad.Power); err != nil {
		return ThreePhaseCircuit{}, err
	}
	r2 := (rbl - r1) * ((x2 + xm) / xm) * ((x2 + xm) / xm)
	c := ThreePhaseCircuit{
		Voltage: t.Voltage, Frequency: t.Frequency, Poles: t.Poles,
		R1: t.R1, X1: unit.Resistance(x1), R2: unit.Resistance(r2), X2: unit.Resistance(x2),
		Xm: unit.Resistance(xm), RotationalLoss: unit.Power(rotational),
	}
	if err := c.Validate(); err != nil {
		return ThreePhaseCircuit{}, err
	}
	return c, nil
}

// BlockedRotorTorque returns the torque (N·m) that a three-phase motor develops
// with its rotor held, from a test at the frequency (Hz) and voltage at which it
// starts,
//
//	T = (P - 3·I²·R_1)/ω_s
//
// with P the power (W), I the line current (A), R_1 the resistance of one phase
// in wye (Ω) and ω_s the synchronous speed (rad/s). The core loss is left in, so
// that the torque is a little high. Ranges and contradictions as in
// [ThreePhaseTests].
//
// Source: Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., Example
// 6.5b.
func BlockedRotorTorque(t TestReading, r1 unit.Resistance, frequency unit.Frequency, poles int) (unit.Torque, error) {
	err := errors.Join(
		checkFrame(230, frequency, poles, 0), checkOhms("stator resistance", r1, leastOhm), t.check("blocked-rotor", 3),
	)
	if err != nil {
		return 0, err
	}
	copper := 3 * float64(t.Current) * float64(t.Current) * float64(r1)
	if copper > float64(t.Power) {
		return 0, contradiction("blocked-rotor power %.4g below the %.4g that the stator winding takes", t.Power, unit.Power(copper))
	}
	return unit.Torque((float64(t.Power) - copper) / synchronous(frequency, poles)), nil
}
