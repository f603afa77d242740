package motor

import (
	"errors"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A SplitResistor is the resistance that a split-phase start asks for.
type SplitResistor struct {
	// Missing says why no resistor is asked for; [PartNeeded] where one is.
	Missing NoPart
	// Total is the resistance of the whole auxiliary circuit (Ω), winding
	// included; 0 where it is out of reach.
	Total unit.Resistance
	// External is what is to be added outside the winding (Ω), 0 where none.
	// It carries the auxiliary current for as long as the switch is closed.
	External unit.Resistance
}

// MostTorqueResistor returns the resistance in series with the auxiliary
// winding that gives a split-phase motor its greatest starting torque,
//
//	R = (X_a/X_m)·(R_m + |Z_m|)    R_ext = R − R_a
//
// with Z_m = R_m + jX_m the main and R_a + jX_a the auxiliary winding (Ω,
// rotor held). R is the total of the circuit: to add R itself outside, as is
// seen in print, counts the winding twice.
//
// Where the winding has that much by itself, Missing is [EnoughResistive].
// Valid within the bounds of [LockedWindings] and for X_a from 10 mΩ; outside,
// err wraps [ErrDomain].
//
// Source: P. C. Sen, Principles of Electric Machines and Power Electronics,
// chapter 7 and example 7.4; confirmed by a numeric search.
func (w LockedWindings) MostTorqueResistor() (SplitResistor, error) {
	if err := w.inductive(); err != nil {
		return SplitResistor{}, err
	}
	rm, xm := real(w.Main), imag(w.Main)
	return w.split(imag(w.Auxiliary) / xm * (rm + cmplx.Abs(w.Main))), nil
}

// AngleResistor returns the resistance in series with the auxiliary winding
// that makes its current lead that of the main winding by the angle α,
//
//	R = X_a/tan(φ_m − α)    R_ext = R − R_a
//
// with φ_m the angle of the main winding's impedance and X_a, R_a as
// [LockedWindings.MostTorqueResistor] has them. A resistor turns the current
// no further than to the voltage: from φ_m on Missing is [OutOfReach]. Where
// the winding leads by more without a resistor it is [EnoughResistive].
//
// Valid for α above 0 and up to π/2 (rad) and for X_a from 10 mΩ; outside, err
// wraps [ErrDomain].
//
// Source: C. I. Hubert, Electric Machines, 2nd edition, example 6.1.
func (w LockedWindings) AngleResistor(angle unit.Angle) (SplitResistor, error) {
	const least = 1e-3
	alpha := float64(angle)
	if err := errors.Join(w.inductive(), pkg.Range("angle between the currents", alpha, least, twoPi/4, domain.Radian)); err != nil {
		return SplitResistor{}, err
	}
	rest := cmplx.Phase(w.Main) - alpha
	if !(rest > 0) {
		return SplitResistor{Missing: OutOfReach}, nil
	}
	total := imag(w.Auxiliary) / math.Tan(rest)
	if !(total <= mostSplitOhms) {
		return SplitResistor{Missing: OutOfReach}, nil
	}
	return w.split(total), nil
}

// mostSplitOhms ends what is called a resistor: beyond it the circuit is as
// good as open.
const mostSplitOhms = 1e6

// inductive is Validate for rules that need X_a above 0.
func (w LockedWindings) inductive() error {
	if w.good() && imag(w.Auxiliary) >= leastWindingOhms {
		return nil
	}
	return errors.Join(w.Validate(), pkg.Range("reactance of the auxiliary winding", imag(w.Auxiliary), leastWindingOhms, mostWindingOhms, domain.Ohm))
}

// split takes the winding's own resistance from the total.
func (w LockedWindings) split(total float64) SplitResistor {
	r := SplitResistor{Total: unit.Resistance(total), External: unit.Resistance(total - real(w.Auxiliary))}
	if !(r.External > 0) {
		r.Missing, r.External = EnoughResistive, 0
	}
	return r
}
