package inverter

import "ridethrough.example/internal/domain"

// ErrDomain is wrapped by every error that refuses an argument; test for it
// with [errors.Is].
var ErrDomain = domain.ErrDomain

// A DomainError names the argument refused and the range that is accepted.
// Get at it with [errors.As].
type DomainError = domain.Error

const pkg = domain.Package("inverter")
