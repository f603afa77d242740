package tank

import "ridethrough.example/internal/domain"

// ErrDomain is what every argument error of this package is, by [errors.Is].
var ErrDomain = domain.ErrDomain

// A DomainError says which argument was refused and what would be accepted.
type DomainError = domain.Error

const pkg = domain.Package("tank")

// Units of errors that domain does not have.
var (
	flowUnit  = domain.Unit{Symbol: "gal/min", Size: float64(USGallonPerMinute), Base: "m³/s"}
	startUnit = domain.Unit{Symbol: "starts/h", Size: float64(PerHour), Base: "Hz"}
)
