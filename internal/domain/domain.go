// Package domain makes the argument errors of the library: one shared
// ErrDomain, which the five packages re-export, and one form,
//
//	motor: voltage 0 V, want 10 V to 15 kV
//
// that names package, quantity, value and accepted range.
//
//   - domain.go: the error and the range check
//   - unit.go: the units in which a value and its range are printed
package domain

import "errors"

// ErrDomain is what every argument error is, by [errors.Is].
var ErrDomain = errors.New("argument outside its accepted range")

// An Error says which argument was refused, and what would be accepted.
type Error struct {
	Package  string // "motor"
	Quantity string // "voltage"
	Value    string // "0 V"
	Want     string // "10 V to 15 kV"
}

// Error returns "package: quantity value, want range".
func (e *Error) Error() string {
	return e.Package + ": " + e.Quantity + " " + e.Value + ", want " + e.Want
}

// Is reports whether target is [ErrDomain].
func (e *Error) Is(target error) bool { return target == ErrDomain }

// A Package makes argument errors that carry its name.
type Package string

// Invalid returns the error for a value that no range describes.
func (p Package) Invalid(quantity, value, want string) error {
	return &Error{Package: string(p), Quantity: quantity, Value: value, Want: want}
}

// Range returns nil if lo ≤ x ≤ hi and an [Error] otherwise, NaN included. x,
// lo and hi are in SI units; u says how they are printed.
func (p Package) Range(quantity string, x, lo, hi float64, u Unit) error {
	if x >= lo && x <= hi {
		return nil
	}
	return p.outside(quantity, x, lo, hi, u)
}

// outside is kept apart so that Range is small enough to be inlined.
func (p Package) outside(quantity string, x, lo, hi float64, u Unit) error {
	return p.Invalid(quantity, u.refused(x, lo, hi), u.show(lo, shown)+" to "+u.show(hi, shown))
}
