package motor

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// LockedWindings are the main and the auxiliary winding of a single-phase
// motor as its terminals show them while the rotor is held. At standstill two
// windings in quadrature do not couple, so that each is one impedance.
//
// Measure both at the voltage of the start, or scale with care: saturation
// lowers the reactances of a locked motor at full voltage.
type LockedWindings struct {
	// Main is the impedance R_m + jX_m of the main winding (Ω), 10 mΩ to
	// 10 kΩ in each part.
	Main complex128
	// Auxiliary is the impedance R_a + jX_a of the auxiliary winding (Ω) by
	// itself: what stands in series with it is a [StartCircuit]. R_a is 10 mΩ
	// to 10 kΩ, X_a up to 10 kΩ; it is negative where a capacitor that stays
	// is counted in.
	Auxiliary complex128
	// Frequency is that of the supply, at which the impedances hold (Hz), 10
	// to 400 Hz.
	Frequency unit.Frequency
}

const (
	leastWindingOhms = 0.01
	mostWindingOhms  = 10e3
	twoPi            = 2 * 3.14159265358979323846264338327950288419716939937510582097494459
)

func (w LockedWindings) good() bool {
	return within(real(w.Main), leastWindingOhms, mostWindingOhms) && within(imag(w.Main), leastWindingOhms, mostWindingOhms) &&
		within(real(w.Auxiliary), leastWindingOhms, mostWindingOhms) && within(imag(w.Auxiliary), -mostWindingOhms, mostWindingOhms) &&
		within(float64(w.Frequency), leastHertz, greatestHertz)
}

func (w LockedWindings) faults() error {
	return errors.Join(
		pkg.Range("resistance of the main winding", real(w.Main), leastWindingOhms, mostWindingOhms, domain.Ohm),
		pkg.Range("reactance of the main winding", imag(w.Main), leastWindingOhms, mostWindingOhms, domain.Ohm),
		pkg.Range("resistance of the auxiliary winding", real(w.Auxiliary), leastWindingOhms, mostWindingOhms, domain.Ohm),
		pkg.Range("reactance of the auxiliary winding", imag(w.Auxiliary), -mostWindingOhms, mostWindingOhms, domain.Ohm),
		pkg.Range("frequency", float64(w.Frequency), leastHertz, greatestHertz, domain.Hertz),
	)
}

// Validate returns what is wrong with the windings, all of it, or nil. Errors
// wrap [ErrDomain].
//
// Definition: the bounds stand at the fields.
func (w LockedWindings) Validate() error {
	if w.good() {
		return nil
	}
	return w.faults()
}

// A NoPart says why a rule asks for no part. The zero value: it asks for one.
type NoPart byte

// The reasons.
const (
	PartNeeded       NoPart = iota
	EnoughCapacitive        // the auxiliary circuit is as capacitive as the rule wants, or more
	EnoughResistive         // the auxiliary circuit has as much resistance as the rule wants, or more
	OutOfReach              // no resistor turns the current that far
	EnoughImpedance         // the motor alone draws no more than the limit
)

var noPartNames = [...]string{
	"part needed", "capacitive enough", "resistive enough", "out of a resistor's reach", "current low enough",
}

// String returns the reason in words.
//
// Definition: part needed, capacitive enough, resistive enough, out of a
// resistor's reach, current low enough.
func (n NoPart) String() string {
	if int(n) < len(noPartNames) {
		return noPartNames[n]
	}
	return "unknown"
}
