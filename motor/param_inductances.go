package motor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Inductances are a three-phase motor as simulation programs describe it: the
// inductances of its windings, leakage included, in wye and referred to the
// stator.
type Inductances struct {
	Stator, Rotor unit.Resistance // resistance of one phase (0.1 mΩ to 100 kΩ)
	Ls, Lr        unit.Inductance // of stator and rotor, leakage included (1 µH to 1000 H)
	Lm            unit.Inductance // of both together, less than either
}

// Circuit returns the circuit at a rated line voltage (V), frequency (Hz) and
// number of poles,
//
//	X_1 = 2πf·(L_s - L_m)    X_2 = 2πf·(L_r - L_m)    X_m = 2πf·L_m
//
// with inductances in H, without losses at the shaft. A mutual inductance above
// that of a winding is a [ContradictionError]; other values outside the ranges
// are errors that wrap [ErrDomain].
//
// Definition: leakage is what a winding has beyond what it shares.
func (l Inductances) Circuit(voltage unit.Voltage, frequency unit.Frequency, poles int) (ThreePhaseCircuit, error) {
	const least, greatest = 1e-6, 1e3
	henry := domain.Unit{Symbol: "H", Size: 1, SI: true}
	err := errors.Join(
		checkFrame(voltage, frequency, poles, 0),
		checkOhms("stator resistance", l.Stator, leastOhm), checkOhms("rotor resistance", l.Rotor, leastOhm),
		pkg.Range("stator inductance", float64(l.Ls), least, greatest, henry),
		pkg.Range("rotor inductance", float64(l.Lr), least, greatest, henry),
		pkg.Range("mutual inductance", float64(l.Lm), least, greatest, henry),
	)
	if err != nil {
		return ThreePhaseCircuit{}, err
	}
	if l.Lm > min(l.Ls, l.Lr) {
		return ThreePhaseCircuit{}, contradiction("mutual inductance %.4g above the %.4g of a winding", l.Lm, min(l.Ls, l.Lr))
	}
	w := 2 * math.Pi * float64(frequency)
	x := func(l unit.Inductance) unit.Resistance { return unit.Resistance(w * float64(l)) }
	c := ThreePhaseCircuit{
		Voltage: voltage, Frequency: frequency, Poles: poles,
		R1: l.Stator, X1: x(l.Ls - l.Lm), R2: l.Rotor, X2: x(l.Lr - l.Lm), Xm: x(l.Lm),
	}
	if err := c.Validate(); err != nil {
		return ThreePhaseCircuit{}, err
	}
	return c, nil
}
