package motor

import (
	"math"

	"gonum.org/v1/gonum/unit"
)

// This file has motors without their size: impedances as parts of V²/P, rated
// voltage and shaft power, by which those of one make and type come out alike
// from a small motor to a large one. The rotational loss is a part of P.

// The parameters of a motor, as places in a [perUnit].
const (
	unitR1 = iota
	unitX1
	unitR2
	unitX2
	unitXm
	unitRotational
	unitTurns  // of the auxiliary winding over those of the main one; 0: none
	unitRa     // its own resistance
	unitXa     // its own leakage
	unitStartR // of the start capacitor
	unitStartX // reactance of it; 0: none
	unitRunR
	unitRunX
	unitParameters
)

// A perUnit is a motor in parts of V²/P.
type perUnit [unitParameters]float64

// baseOhms is the impedance V²/P (Ω).
func baseOhms(v unit.Voltage, p unit.Power) float64 { return float64(v) * float64(v) / float64(p) }

// startSwitch is where the start switch of a typical motor opens.
const startSwitch = 0.75

// switched reports whether motors of a type have a start switch.
func (t Type) switched() bool {
	return t == SplitPhase || t == CapacitorStart || t == CapacitorStartRun
}

// branchOf is the capacitor of a reactance in parts of base.
func branchOf(r, x, base float64, f unit.Frequency) Branch {
	b := Branch{Resistance: unit.Resistance(r * base)}
	if x != 0 {
		b.Capacitance = unit.Capacitance(1 / (2 * math.Pi * float64(f) * x * base))
	}
	return b
}

// single is the motor u of a rating.
func (u *perUnit) single(t Type, p unit.Power, v unit.Voltage, f unit.Frequency, poles int) SinglePhaseCircuit {
	base := baseOhms(v, p)
	z := func(i int) unit.Resistance { return unit.Resistance(u[i] * base) }
	c := SinglePhaseCircuit{
		Voltage: v, Frequency: f, Poles: poles,
		R1: z(unitR1), X1: z(unitX1), R2: z(unitR2), X2: z(unitX2), Xm: z(unitXm),
		RotationalLoss: unit.Power(u[unitRotational]) * p,
	}
	if u[unitTurns] == 0 {
		return c
	}
	c.Auxiliary = Auxiliary{Turns: u[unitTurns], R: z(unitRa), X: z(unitXa)}
	if t.switched() {
		c.Auxiliary.Switch = startSwitch
		c.Auxiliary.Start = branchOf(u[unitStartR], u[unitStartX], base, f)
	}
	if u[unitRunX] != 0 {
		c.Auxiliary.Run = branchOf(u[unitRunR], u[unitRunX], base, f)
	}
	return c
}

// three is the motor u of a rating, as if its windings stood in wye.
func (u *perUnit) three(p unit.Power, v unit.Voltage, f unit.Frequency, poles int) ThreePhaseCircuit {
	base := baseOhms(v, p)
	z := func(i int) unit.Resistance { return unit.Resistance(u[i] * base) }
	return ThreePhaseCircuit{
		Voltage: v, Frequency: f, Poles: poles,
		R1: z(unitR1), X1: z(unitX1), R2: z(unitR2), X2: z(unitX2), Xm: z(unitXm),
		RotationalLoss: unit.Power(u[unitRotational]) * p,
	}
}
