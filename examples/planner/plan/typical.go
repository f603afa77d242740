package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// A typicalMotor is a motor such as a load's may be, with what it drives and
// turns at the bad and the good end.
type typicalMotor struct {
	circuit     motor.SinglePhaseCircuit
	source      string
	frequency   unit.Frequency
	synchronous motor.Speed
	load        [2]motor.Load
	inertia     [2]motor.Inertia
}

// The least output of a typical motor; a smaller one is taken for a smaller copy
// of it.
const leastTypical = 1. / 6 * motor.Horsepower

// Shaft output over the watts that a motor takes, where the plate has none.
//
// Common practice: efficiencies of published single-phase motors.
var shaftShare = [2]float64{0.7, 0.45} // bad, good end of the load

// typicalMotors returns the motors that a load's may be, or why there is none.
func (l *load) typicalMotors() (motors []typicalMotor, why string) {
	if l.Phases != 1 {
		return nil, "it is no single-phase motor"
	}
	output := [2]unit.Power{l.plate[1].Output, l.plate[0].Output} // bad end first
	if output[0] == 0 {
		output = [2]unit.Power{l.run.Real.High * unit.Power(shaftShare[0]), l.run.Real.Low * unit.Power(shaftShare[1])}
	}
	if output[1] <= 0 {
		return nil, "neither its output nor what it draws is known"
	}
	var far error
	for _, t := range l.kinds() {
		for _, wires := range l.wires() {
			k, err := l.typical(t, wires, output)
			if err != nil {
				continue
			}
			_, err1 := k.circuit.WithLockedRotorCurrent(l.start.Current.Low)
			_, err2 := k.circuit.WithLockedRotorCurrent(l.start.Current.High)
			if far = errors.Join(err1, err2); far == nil {
				motors = append(motors, k)
			}
		}
	}
	if motors == nil && far != nil {
		return nil, fmt.Sprintf("%s A with the rotor held is more than ten times, or less than a tenth, of what published motors of its size draw",
			span(l.start.Current.Low, l.start.Current.High))
	}
	if motors == nil {
		return nil, fmt.Sprintf("no published motor is like it (%v, %s W at the shaft)", l.Motor, num(output[0]))
	}
	return motors, ""
}

// kinds are the types that a motor may be of: its own, or those usual.
func (l *load) kinds() []motor.Type {
	if l.Motor == motor.UnknownType {
		return []motor.Type{motor.SplitPhase, motor.CapacitorStart}
	}
	return []motor.Type{l.Motor}
}

// wires are those of a submersible motor, which of both is not known; 0 for
// another.
func (l *load) wires() []int {
	if l.Drives == "submersible pump" {
		return []int{2, 3}
	}
	return []int{0}
}

// typical returns the typical motor of a type.
func (l *load) typical(t motor.Type, wires int, output [2]unit.Power) (typicalMotor, error) {
	const frequency = 60
	poles := 4
	if l.Drives == "pump" || l.Drives == "submersible pump" || l.Drives == "compressor" {
		poles = 2
	}
	size := max(output[0], leastTypical)
	var p motor.SinglePhasePreset
	var err error
	if wires != 0 {
		p, err = motor.TypicalSubmersible(wires, size, l.plate[0].Voltage, frequency)
	} else {
		p, err = motor.TypicalSinglePhase(t, size, l.plate[0].Voltage, frequency, poles)
	}
	if err != nil {
		return typicalMotor{}, err
	}
	ws, err := motor.SynchronousSpeed(frequency, poles)
	if err != nil {
		return typicalMotor{}, err
	}
	k := typicalMotor{circuit: p.Circuit, source: p.Source, frequency: frequency, synchronous: ws}
	for end := range 2 {
		k.load[end] = l.drivenLoad(t, end, output[end], ws)
		// J = 2·H·P/ω_s²
		k.inertia[end] = motor.Inertia(2 * l.stored()[end] * float64(output[end]) / float64(ws*ws))
	}
	return k, nil
}

// drivenLoad is the torque of what the motor drives, at the bad (0) or the good
// end.
//
// Common practice: pumps 15 to 20 % at rest and then the square law, fans less at
// rest; compressors that stood long enough for their pressures to equalise start
// against a fifth to a half of the rated torque, those without a start winding
// against less.
func (l *load) drivenLoad(t motor.Type, end int, output unit.Power, ws motor.Speed) motor.Load {
	running := 0.95 * ws
	rated := unit.Torque(float64(output) / float64(running))
	switch l.Drives {
	case "compressor":
		share := [2]unit.Torque{0.5, 0.2}
		if t == motor.PermanentSplit {
			share = [2]unit.Torque{0.25, 0.1}
		}
		return motor.ConstantLoad{Rated: max(1e-3, rated*share[end])}
	case "pump", "submersible pump":
		return motor.CentrifugalLoad{Rated: max(1e-3, rated), Speed: running, Breakaway: [2]float64{0.2, 0.15}[end]}
	}
	return motor.CentrifugalLoad{Rated: max(1e-3, rated), Speed: running, Breakaway: [2]float64{0.15, 0.05}[end]}
}

// stored is ½Jω_s² over the shaft output (s) of all that turns, at the bad and
// the good end.
//
// Common practice: rotors of small two-pole motors 0.03 to 0.06 s
// (testdata/motor/iec_small_2pole_rotors.csv), those of surface pumps and
// compressors in larger frames several times that, impeller and coupling among
// it; the wheel of a blower many times.
func (l *load) stored() [2]float64 {
	switch l.Drives {
	case "submersible pump":
		return [2]float64{0.1, 0.03}
	case "pump", "compressor":
		return [2]float64{0.4, 0.03}
	}
	return [2]float64{1.5, 0.1}
}

// turned returns what motors have to turn: inertia, and the load's torque at rest
// and at 95 % of synchronous speed.
func turned(motors []typicalMotor) (inertia motor.Range[motor.Inertia], rest, full motor.Range[unit.Torque]) {
	first := true
	for _, k := range motors {
		for end := range 2 {
			j := motor.Exactly(k.inertia[end])
			a, b := motor.Exactly(k.load[end].Torque(0)), motor.Exactly(k.load[end].Torque(0.95*k.synchronous))
			if first {
				inertia, rest, full, first = j, a, b, false
				continue
			}
			inertia, rest, full = hull(inertia, j), hull(rest, a), hull(full, b)
		}
	}
	return inertia, rest, full
}
