package motor

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A SinglePhasePreset is a typical single-phase motor, where of the real one no
// more is known than its output and how it starts.
type SinglePhasePreset struct {
	Circuit SinglePhaseCircuit // the typical motor
	// LockedRotorCurrent is the spread of such motors, at rated voltage; that of
	// Circuit lies between. Low and High are the circuits at its ends.
	LockedRotorCurrent Range[unit.Current]
	Basis              Basis  // [BasisTypical]
	Source             string // the published machines it rests on
}

// A ThreePhasePreset is a typical three-phase motor, as [SinglePhasePreset].
type ThreePhasePreset struct {
	Circuit            ThreePhaseCircuit   // the typical motor
	LockedRotorCurrent Range[unit.Current] // spread of such motors, at rated voltage
	Basis              Basis               // [BasisTypical]
	Source             string              // the published machines it rests on
}

// Low returns the circuit with the least locked-rotor current of the spread, and
// the least torque: the one that is slow to start.
//
// Definition: [SinglePhaseCircuit.WithLockedRotorCurrent] of the low end.
func (p SinglePhasePreset) Low() (SinglePhaseCircuit, error) {
	return p.Circuit.WithLockedRotorCurrent(p.LockedRotorCurrent.Low)
}

// High returns the circuit with the greatest locked-rotor current of the spread:
// the one that asks most of its source.
//
// Definition: [SinglePhaseCircuit.WithLockedRotorCurrent] of the high end.
func (p SinglePhasePreset) High() (SinglePhaseCircuit, error) {
	return p.Circuit.WithLockedRotorCurrent(p.LockedRotorCurrent.High)
}

// Low returns the circuit with the least locked-rotor current, as
// [SinglePhasePreset.Low].
//
// Definition: [ThreePhaseCircuit.WithLockedRotorCurrent] of the low end.
func (p ThreePhasePreset) Low() (ThreePhaseCircuit, error) {
	return p.Circuit.WithLockedRotorCurrent(p.LockedRotorCurrent.Low)
}

// High returns the circuit with the greatest locked-rotor current, as
// [SinglePhasePreset.High].
//
// Definition: [ThreePhaseCircuit.WithLockedRotorCurrent] of the high end.
func (p ThreePhasePreset) High() (ThreePhaseCircuit, error) {
	return p.Circuit.WithLockedRotorCurrent(p.LockedRotorCurrent.High)
}

func (r *recipe) check(p unit.Power, v unit.Voltage, f unit.Frequency, poles int) error {
	hp, lo, hi := float64(p/Horsepower), r.least*(1-1e-9), r.most*(1+1e-9)
	if within(hp, lo, hi) && within(float64(v), 90, 600) && checkFrame(230, f, poles, 0) == nil {
		return nil
	}
	return errors.Join(
		pkg.Range("output of a typical "+r.kind.String()+" motor", float64(p), lo*float64(Horsepower), hi*float64(Horsepower), domain.Horsepower),
		pkg.Range("voltage of a typical motor", float64(v), 90, 600, domain.Volt),
		checkFrame(230, f, poles, 0),
	)
}

func (r *recipe) single(p unit.Power, v unit.Voltage, f unit.Frequency, poles int) (SinglePhasePreset, error) {
	if err := r.check(p, v, f, poles); err != nil {
		return SinglePhasePreset{}, err
	}
	u, kva := r.make(p)
	return SinglePhasePreset{
		Circuit: u.single(r.kind, p, v, f, poles), LockedRotorCurrent: spreadCurrent(kva, v, 1, p),
		Basis: BasisTypical, Source: r.source,
	}, nil
}

// spreadCurrent is the spread in amperes.
func spreadCurrent(kva float64, v unit.Voltage, phases int, p unit.Power) Range[unit.Current] {
	k, per := spread(kva), ampsPerKVAPerHP(v, phases, p)
	return Range[unit.Current]{Low: unit.Current(k.Low * per), High: unit.Current(k.High * per)}
}

// TypicalSinglePhase returns a typical single-phase motor of a type and rating:
// split-phase 1/6 to 1/2 hp, capacitor-start 1/6 to 5 hp, capacitor-start
// capacitor-run 1/2 to 5 hp, permanent-split capacitor 1/6 to 1 hp, 90 to 600
// V, 10 to 400 Hz, 2 to 24 poles. Others are an error that wraps [ErrDomain].
//
// The impedances of published machines, over V²/P, are taken at the output by
// straight lines in logarithms between a small and a large one. The wire of a
// capacitor-start motor's auxiliary winding is chosen for the starting torque of
// such motors, 3 times the rated one to 2 hp and 2.1 times at 5 hp, and its
// capacitor sets the currents as far apart as in the published machine (68°);
// then all impedances are scaled to a locked-rotor kVA per horsepower that is
// usual for the size. What comes out, to be had from the circuit:
//
//	                 slip at full load   breakdown torque   starting torque
//	split-phase         4.5 to 5.5 %         2.4 to 3.1         1.4 to 1.9
//	capacitor-start     3.0 to 4.5 %         1.7 to 3.5         2.0 to 3.0
//	cap.-start/run      2.5 to 3.5 %         1.8 to 4.1         2.0 to 3.0
//	permanent-split     5.0 to 5.5 %         1.6 to 1.8         0.3 to 0.4
//
// torques over the rated one. Efficiency and power factors lie in the spans of
// [Type.RatedEfficiency], [Type.RatedPowerFactor] and
// [Type.LockedRotorPowerFactor].
//
// The spread of LockedRotorCurrent reaches from the code letter below to the one
// above. A measured or printed locked-rotor current is better:
// [SinglePhaseCircuit.WithLockedRotorCurrent]. Permanent-split motors are those
// of fans; compressors of that type draw more and start against less.
//
// Common practice: scaling by V²/P, and the letters usual by horsepower; the
// machines as in the comment of each.
func TypicalSinglePhase(t Type, output unit.Power, voltage unit.Voltage, frequency unit.Frequency, poles int) (SinglePhasePreset, error) {
	switch t {
	case SplitPhase, CapacitorStart, CapacitorStartRun, PermanentSplit:
	default:
		return SinglePhasePreset{}, pkg.Invalid("motor type", t.String(), "split-phase, capacitor-start, capacitor-start capacitor-run or permanent-split capacitor")
	}
	r := t.recipe()
	return r.single(output, voltage, frequency, poles)
}

// TypicalSubmersible returns a typical single-phase submersible motor of two
// poles: with two wires, started by a split-phase winding in the motor, of 1/2
// to 1.5 hp; with three wires, started by a capacitor in a box above ground, of
// 1/2 to 5 hp. They are made as in [TypicalSinglePhase], at the locked-rotor kVA
// per horsepower of such motors, which is above that of others: 14.8 at 1/2 hp
// with two wires, 10.6 with three. Valid for 90 to 600 V and 10 to 400 Hz;
// otherwise err wraps [ErrDomain].
//
// Common practice: as [TypicalSinglePhase]; locked-rotor currents of
// testdata/motor/submersible.csv, above 1.5 hp as of other motors.
func TypicalSubmersible(wires int, output unit.Power, voltage unit.Voltage, frequency unit.Frequency) (SinglePhasePreset, error) {
	var r recipe
	switch wires {
	case 2:
		r = SplitPhase.recipe()
		r.kva, r.least, r.most = twoWireKVA, 1./2, 1.5
	case 3:
		r = CapacitorStart.recipe()
		r.kva, r.least, r.torque = threeWireKVA, 1./2, threeWireTorque
	default:
		return SinglePhasePreset{}, pkg.Invalid("wires of a submersible motor", strconv.Itoa(wires), "2 or 3")
	}
	return r.single(output, voltage, frequency, 2)
}

// TypicalThreePhase returns a typical three-phase motor of 1/2 to 10 hp, made as
// in [TypicalSinglePhase]: slip 2.5 to 3.5 %, breakdown torque 2.9 to 5.1 and
// starting torque 1.3 to 3.6 times the rated one, both falling with size. Valid for 90 to 600 V, 10 to 400 Hz, 2 to 24 poles;
// otherwise err wraps [ErrDomain].
//
// Common practice: as [TypicalSinglePhase].
func TypicalThreePhase(output unit.Power, voltage unit.Voltage, frequency unit.Frequency, poles int) (ThreePhasePreset, error) {
	r := ThreePhase.recipe()
	if err := r.check(output, voltage, frequency, poles); err != nil {
		return ThreePhasePreset{}, err
	}
	u, kva := r.make(output)
	return ThreePhasePreset{
		Circuit: u.three(output, voltage, frequency, poles), LockedRotorCurrent: spreadCurrent(kva, voltage, 3, output),
		Basis: BasisTypical, Source: r.source,
	}, nil
}
