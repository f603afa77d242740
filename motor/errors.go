package motor

import (
	"errors"

	"ridethrough.example/internal/domain"
)

const pkg = domain.Package("motor")

// ErrDomain is what every error about an argument is, by [errors.Is].
var ErrDomain = domain.ErrDomain

// A DomainError says which argument was refused and what would be accepted.
type DomainError = domain.Error

// ErrMissing says that a figure which the question needs stands neither on
// the nameplate nor in the evidence given with it.
var ErrMissing = errors.New("motor: figure not given")

// ErrUnbounded says that a start has no upper limit: code letter V names only
// the least locked-rotor kVA.
var ErrUnbounded = errors.New("motor: locked-rotor current has no upper limit with code letter V")

// A ContradictionError says that two figures of one motor cannot both be
// true. It is an [ErrDomain] by [errors.Is].
type ContradictionError struct {
	What string // the two figures and what is wrong between them
}

// Error returns the contradiction in words.
//
// Definition: "motor: contradiction: " and the two figures.
func (e *ContradictionError) Error() string { return "motor: contradiction: " + e.What }

// Is reports whether target is [ErrDomain].
//
// Definition: a contradiction is an argument error.
func (e *ContradictionError) Is(target error) bool { return target == ErrDomain }

// missing is an [ErrMissing] that names the figure.
type missing string

func (m missing) Error() string        { return "motor: " + string(m) + " not given" }
func (m missing) Is(target error) bool { return target == ErrMissing }
