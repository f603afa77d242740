package conductor

import (
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A StandardRatings is a list of standard ampere ratings. The zero value is
// that of breakers.
type StandardRatings uint8

const (
	// StandardBreakers are the ratings of inverse-time breakers, 15 A to 6 kA,
	// which fuses have too.
	StandardBreakers StandardRatings = iota
	// StandardFuses adds the ratings that only fuses have: 1, 3, 6, 10 and 601 A.
	StandardFuses
)

// String returns "breakers" or "fuses".
//
// Definition: the two lists of NEC 240.6(A).
func (l StandardRatings) String() string {
	switch l {
	case StandardBreakers:
		return "breakers"
	case StandardFuses:
		return "fuses"
	default:
		return "no list of ratings"
	}
}

// Source: NEC (2023) 240.6(A) and table 240.6(A).
var (
	breakerRatings = [...]float64{
		15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500,
		600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000,
	}
	fuseRatings = [...]float64{
		1, 3, 6, 10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400,
		450, 500, 600, 601, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000,
	}
)

const (
	largestRating = 6000 // (A)
	// ratingSlack lets 40 A times 1.75 be 70 A whatever its last bits are.
	ratingSlack = 1e-9
)

func (l StandardRatings) ratings() []float64 {
	if l == StandardFuses {
		return fuseRatings[:]
	}
	return breakerRatings[:]
}

// All returns the list, smallest first; nothing for what is no list.
//
// Source: NEC (2023) 240.6(A).
func (l StandardRatings) All() []unit.Current {
	if l > StandardFuses {
		return nil
	}
	ratings := l.ratings()
	all := make([]unit.Current, len(ratings))
	for i, a := range ratings {
		all[i] = unit.Current(a)
	}
	return all
}

// Up returns the smallest standard rating that is not below i. What is below
// the list gets its first rating: 12.25 A make a breaker of 15 A. A billionth
// is left for the last bits of a product.
//
// Valid for 1 mA to 6 kA; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 240.6(A); the step up by 240.4(B) or 430.52(C)(1).
func (l StandardRatings) Up(i unit.Current) (unit.Current, error) {
	if err := l.check(i, 1e-3); err != nil {
		return 0, err
	}
	return unit.Current(l.up(float64(i))), nil
}

// up is Up for arguments known to be good.
func (l StandardRatings) up(i float64) float64 {
	r := l.ratings()
	at := i * (1 - ratingSlack)
	lo, hi := 0, len(r)-1
	for lo < hi {
		if mid := (lo + hi) / 2; r[mid] < at {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return r[lo]
}

// Down returns the largest standard rating that is not above i, as ceilings
// want it. A billionth is left for the last bits of a product.
//
// Valid from the first rating of the list, 15 A or 1 A, to 6 kA; otherwise err
// wraps [ErrDomain].
//
// Source: NEC (2023) 240.6(A); the step down by 240.4(C).
func (l StandardRatings) Down(i unit.Current) (unit.Current, error) {
	if err := l.check(i, l.ratings()[0]); err != nil {
		return 0, err
	}
	return unit.Current(l.down(float64(i))), nil
}

// down is Down for arguments known to be good; below the list it is 0.
func (l StandardRatings) down(i float64) float64 {
	r := l.ratings()
	at := i * (1 + ratingSlack)
	lo, hi := 0, len(r) // r[lo-1] ≤ at < r[hi]
	for lo < hi {
		if mid := (lo + hi) / 2; r[mid] <= at {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo == 0 {
		return 0
	}
	return r[lo-1]
}

func (l StandardRatings) check(i unit.Current, lo float64) error {
	if l > StandardFuses {
		return pkg.Invalid("list of ratings", strconv.Itoa(int(l)), "StandardBreakers or StandardFuses")
	}
	return pkg.Range("current", float64(i), lo*(1-ratingSlack), largestRating*(1+ratingSlack), domain.Ampere)
}

// ForAmpacity returns the largest standard device that protects a conductor of
// the given ampacity: the next standard rating up as long as it is not above
// 800 A, otherwise the next one down. Circuits of more than one receptacle for
// cord and plug may not use the step up, small conductors have a limit of their
// own ([SmallConductorLimit]), and motor circuits follow [MotorCircuit].
//
// Valid for 1 mA to 6 kA; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 240.4(B) and 240.4(C).
func (l StandardRatings) ForAmpacity(ampacity unit.Current) (unit.Current, error) {
	up, err := l.Up(ampacity)
	if err != nil || up <= 800 {
		return up, err
	}
	return unit.Current(l.down(float64(ampacity))), nil
}
