package motor

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Circuit is the equivalent circuit of an induction motor, a
// [SinglePhaseCircuit] or a [ThreePhaseCircuit]: resistances and reactances
// that say what the motor draws and turns with at any speed and voltage.
// Circuits are linear and their parameters constant. Saturation lowers the
// leakage reactances of a motor with its rotor held by a tenth to a third, and
// a deep bar raises the resistance of its rotor, so that a circuit fitted near
// rated speed understates the start.
type Circuit interface {
	// Starting returns the point at a slip and line voltage while the start
	// switch is closed.
	Starting(slip float64, voltage unit.Voltage) (Point, error)
	// Running returns the point at a slip and line voltage once it has opened.
	Running(slip float64, voltage unit.Voltage) (Point, error)
	// Breakdown returns the greatest shaft torque of the running connection,
	// and the point at which the motor gives it.
	Breakdown(voltage unit.Voltage) (Point, error)
	// AtTorque returns the point at which the shaft gives a torque, running.
	AtTorque(torque unit.Torque, voltage unit.Voltage) (Point, error)
	// AtOutput returns the point at which the shaft gives a power, running.
	AtOutput(output unit.Power, voltage unit.Voltage) (Point, error)
	// Validate reports everything that is wrong with the circuit.
	Validate() error

	// frame returns what is common to all circuits.
	frame() frame
	// respond returns what one phase shows at a speed (rad/s, mechanical) and
	// a frequency over the rated one.
	respond(speed, frequency float64, c connection) response
}

// A frame is what every circuit has.
type frame struct {
	voltage    float64 // rated, line to line (V)
	frequency  float64 // rated (Hz)
	phases     int
	synchron   float64 // synchronous speed at rated frequency (rad/s)
	switchOver float64 // share of the synchronous speed at which the start switch opens; 0: no switch
	rotational float64 // rotational loss at rated speed (W)
}

// drag is the torque (N·m) that friction and windage take: in a start the
// rotational loss goes with the square of the speed, so that it vanishes where
// nothing turns.
func (f frame) drag(speed float64) float64 {
	return f.rotational * speed / (f.synchron * f.synchron)
}

// A connection says which windings stand on the line.
type connection byte

const (
	starting connection = iota // start switch closed
	running                    // start switch open, or no switch
)

// A response is what a circuit shows at one speed. It is linear in the voltage,
// so that a start solves its source against it.
type response struct {
	impedance complex128 // of one phase, line to neutral (Ω)
	torque    float64    // developed, per square volt of line voltage (N·m/V²)
	winding   float64    // stator copper loss, with what stands in series with a winding (W/V²)
	rotor     float64    // rotor copper loss (W/V²)
}

// A Point is what a motor does at one speed and one voltage. Phasors are rms
// with the line voltage (of three phases the voltage of a phase) at angle 0.
// Input = StatorCopper + AuxiliaryLoss + Core + RotorCopper + Converted, and
// Converted = Output + Rotational.
type Point struct {
	Slip    float64      // (n_s - n)/n_s; 1 at standstill, negative above synchronous speed
	Speed   Speed        // of the shaft
	Voltage unit.Voltage // line voltage

	Line      complex128 // line current (A)
	Main      complex128 // current of the main winding, or of one phase of three (A)
	Auxiliary complex128 // current of the auxiliary winding (A); 0 where none is connected
	Rotor     complex128 // rotor current of one phase of three, referred to the stator (A); 0 for one phase

	Current     unit.Current  // magnitude of Line
	Apparent    ApparentPower // √m·V·I
	Input       unit.Power    // from the line
	PowerFactor float64       // cosine of the angle of Line, negative where the motor generates

	StatorCopper  unit.Power // in the main winding, or in three phases
	AuxiliaryLoss unit.Power // in the auxiliary winding and what stands in series with it
	RotorCopper   unit.Power // in the rotor
	Core          unit.Power // core loss that the circuit takes from the line
	Rotational    unit.Power // taken off at the shaft

	AirGapForward  unit.Power // across the air gap by the forward field
	AirGapBackward unit.Power // across the air gap by the backward field; 0 for three phases
	Converted      unit.Power // to mechanical power
	Output         unit.Power // at the shaft; negative where the shaft must be driven

	Torque      unit.Torque // developed
	ShaftTorque unit.Torque // Output over speed; the developed torque at standstill
	// Efficiency is Output over Input, 0 where no power goes in. What a source
	// counts as rotational loss it takes off at the shaft: the same watts of
	// core loss put in at the line instead give a higher figure.
	Efficiency float64

	// CapacitorVoltage stands across the capacitor of the auxiliary winding, its
	// own resistance included; 0 where there is none.
	CapacitorVoltage unit.Voltage
}

// The bounds of circuits. Reactances are ohms at rated frequency.
const (
	leastOhm       = 1e-4
	greatestOhm    = 1e5
	leastHertz     = 10
	greatestHertz  = 400
	greatestPoles  = 24
	leastSlip      = -1
	greatestSlip   = 3
	leastTerminal  = 0.5   // line voltage of a point (V)
	greatestLoss   = 200e3 // (W)
	leastSwitch    = 0.3   // share of the synchronous speed
	greatestSwitch = 0.95
	leastFarad     = 0.1e-6
	greatestFarad  = 0.1
	leastTurns     = 0.1
	greatestTurns  = 10
)

// checkFrame reports what is wrong with the figures common to all circuits.
func checkFrame(voltage unit.Voltage, frequency unit.Frequency, poles int, rotational unit.Power) error {
	var pairs error
	if poles < 2 || poles > greatestPoles || poles%2 != 0 {
		pairs = pkg.Invalid("number of poles", strconv.Itoa(poles), "an even number from 2 to 24")
	}
	return errors.Join(
		checkVoltage(voltage),
		pkg.Range("frequency", float64(frequency), leastHertz, greatestHertz, domain.Hertz),
		pairs,
		pkg.Range("rotational loss", float64(rotational), 0, greatestLoss, domain.Watt),
	)
}

// checkOhms refuses a resistance or reactance that no motor has.
func checkOhms(name string, r unit.Resistance, least float64) error {
	return pkg.Range(name, float64(r), least, greatestOhm, domain.Ohm)
}

// checkPoint refuses slips and voltages at which a circuit says nothing.
func checkPoint(slip float64, v unit.Voltage) error {
	if within(slip, leastSlip, greatestSlip) && within(float64(v), leastTerminal, greatestVolts) {
		return nil
	}
	return errors.Join(
		pkg.Range("slip", slip, leastSlip, greatestSlip, domain.One),
		pkg.Range("voltage at the motor", float64(v), leastTerminal, greatestVolts, domain.Volt),
	)
}

// synchronous is 4πf/p (rad/s).
func synchronous(f unit.Frequency, poles int) float64 {
	return 4 * math.Pi * float64(f) / float64(poles)
}

// SynchronousSpeed returns the speed of the revolving field,
//
//	ω_s = 4π·f/p    n_s = 120·f/p
//
// in rad/s, with f the frequency (Hz) and p the number of poles; n_s is the
// same in rpm. Valid for 10 to 400 Hz and 2 to 24 poles; otherwise err wraps
// [ErrDomain].
//
// Source: definition, IEC 60034-1; any text on induction machines.
func SynchronousSpeed(f unit.Frequency, poles int) (Speed, error) {
	if err := checkFrame(230, f, poles, 0); err != nil {
		return 0, err
	}
	return Speed(synchronous(f, poles)), nil
}

// complete fills in what follows from currents and powers: p has Slip, Voltage,
// Line, copper losses, core, air-gap powers, rotational loss and, as Input, the
// power of the circuit without the core loss.
func (p *Point) complete(phases int, synchron float64) {
	p.Speed = Speed((1 - p.Slip) * synchron)
	p.Current = unit.Current(math.Sqrt(square(p.Line)))
	p.Apparent = ApparentPower(lineFactor(phases) * float64(p.Voltage) * float64(p.Current))
	if p.Current > 0 {
		p.PowerFactor = real(p.Line) / float64(p.Current)
	}
	gap := p.AirGapForward - p.AirGapBackward
	p.Converted = unit.Power(1-p.Slip) * gap
	p.Torque = unit.Torque(float64(gap) / synchron)
	if p.Slip == 1 {
		p.Rotational = 0 // nothing turns
		p.ShaftTorque = p.Torque
	} else {
		p.ShaftTorque = unit.Torque(float64(p.Converted-p.Rotational) / float64(p.Speed))
	}
	p.Output = p.Converted - p.Rotational
	if p.Input > 0 {
		p.Efficiency = float64(p.Output / p.Input)
	}
}
