package conductor

import (
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A BranchLoad is the current of a load in the code's two parts.
type BranchLoad struct {
	Continuous unit.Current // for three hours and more
	Other      unit.Current // the rest
}

// Total returns the load itself, Ic + In. It is good for all inputs and passes
// NaN on.
//
// Definition: the sum of the two parts.
func (l BranchLoad) Total() unit.Current { return l.Continuous + l.Other }

// Demand returns what the conductor, before correction, and its overcurrent
// device must be rated for,
//
//	I = 1.25·Ic + In
//
// with the continuous load Ic and the rest In (A). Motors have a rule of their
// own: [MotorCircuit.ConductorAmpacity].
//
// Valid for 0 to 4800 A each and more than 1 mA together; otherwise err wraps
// [ErrDomain].
//
// Source: NEC (2023) 210.19(A)(1), 210.20(A), 215.2, 215.3.
func (l BranchLoad) Demand() (unit.Current, error) {
	if !(l.Continuous >= 0 && l.Continuous <= 4800 && l.Other >= 0 && l.Other <= 4800 && l.Total() >= 1e-3) {
		return 0, l.refuse()
	}
	return 1.25*l.Continuous + l.Other, nil
}

func (l BranchLoad) refuse() error {
	if err := pkg.Range("continuous load", float64(l.Continuous), 0, 4800, domain.Ampere); err != nil {
		return err
	}
	if err := pkg.Range("other load", float64(l.Other), 0, 4800, domain.Ampere); err != nil {
		return err
	}
	return pkg.Range("load", float64(l.Total()), 1e-3, 9600, domain.Ampere)
}

// ContinuousCapacity returns the largest continuous load of an overcurrent
// device,
//
//	I = Ir / 1.25
//
// that is 80 % of its rating Ir (A): 16 A on a device of 20 A. Devices listed
// for 100 % are exempt.
//
// Valid for 1 A to 6 kA; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 210.20(A), 215.3.
func ContinuousCapacity(device unit.Current) (unit.Current, error) {
	if err := checkDevice(device); err != nil {
		return 0, err
	}
	return device / 1.25, nil
}

func checkDevice(device unit.Current) error {
	return pkg.Range("overcurrent device", float64(device), 1-ratingSlack, largestRating*(1+ratingSlack), domain.Ampere)
}
