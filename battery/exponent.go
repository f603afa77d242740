package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"
)

// ReserveCurrent is the current at which North American nameplates state
// reserve minutes.
const ReserveCurrent = 25 * unit.Ampere

// PeukertExponent returns the exponent that takes one rating into the other,
//
//	k = ln(t2/t1)/ln(I1/I2)
//
// where t1 and t2 are the times of the two ratings (h) and I1 and I2 their
// currents (A). The order does not matter. k holds between the two rates and
// near them; it is not constant over the whole range of a battery, and comes
// out some 25 % too optimistic at the 1 h rate if taken from the 20 h and 10 h
// rates. Take the two rates that bracket the load, or use [Rates.Peukert].
//
// Ratings with the same time or the same current, and ratings that give an
// exponent below 1 or above 1.6, as they do where the two figures come from
// different tests, are an [ErrDomain].
//
// Source: Peukert's law solved for k.
func PeukertExponent(a, b Rating) (float64, error) {
	if err := errors.Join(a.validate(), b.validate()); err != nil {
		return 0, err
	}
	if a.Time == b.Time {
		return 0, pkg.Invalid("ratings", "two with one time", "two different hour rates")
	}
	k := math.Log(float64(b.Time)/float64(a.Time)) / math.Log(float64(a.current())/float64(b.current()))
	if err := checkExponent(k); err != nil {
		return 0, err
	}
	return k, nil
}

// ExponentFromReserve returns the exponent from a rating, usually that of
// 20 h, and the reserve minutes at 25 A,
//
//	k = ln(H/t)/ln(25 A/(C/H))
//
// where C and H are capacity (Ah) and time (h) of the rating and t is the
// reserve time (h). Bounds as for [PeukertExponent].
//
// Source: Peukert's law solved for k; the reserve at 25 A is defined in the
// nameplate practice of BCI.
func ExponentFromReserve(r Rating, reserve unit.Time) (float64, error) {
	return PeukertExponent(r, Rating{
		Capacity: unit.Charge(float64(ReserveCurrent) * float64(reserve)),
		Time:     reserve,
	})
}

// typicalExponents are low and high by Chemistry.
var typicalExponents = [...]Range[float64]{
	Flooded:              {Low: 1.14, High: 1.28},
	AGM:                  {Low: 1.08, High: 1.16},
	Gel:                  {Low: 1.10, High: 1.14},
	LithiumIronPhosphate: {Low: 1.01, High: 1.05},
}

// TypicalExponent returns the exponents found in print for a type of battery,
// for a nameplate that gives one rating only: flooded 1.14 to 1.28, AGM 1.08
// to 1.16, gel 1.10 to 1.14, lithium iron phosphate 1.01 to 1.05. The high end
// gives the shorter time at currents above the rated one. A chemistry that is
// none is an [ErrDomain].
//
// Common practice: flooded and gel from makers' ratings of 18 batteries, AGM
// and lithium iron phosphate from what makers of monitors recommend.
func TypicalExponent(c Chemistry) (Range[float64], error) {
	if err := c.validate(); err != nil {
		return Range[float64]{}, err
	}
	return typicalExponents[c], nil
}

// Rates is a maker's table of discharge rates, in any order: 100 h, 20 h,
// 10 h, 5 h, 1 h.
type Rates []Rating

// Peukert returns the law through the two rates of the table that bracket a
// current, so that it is exact at both of them. Its rating is the slower of
// the two, and its Most is the largest capacity of the table at that rate or
// a slower one, at most twice that of the rate.
//
// A current below the slowest rate or above the fastest takes the two nearest
// rates, and bracketed is false: on the slow side the capacity is held at the
// slowest rate's, on the fast side the law runs on past the table and gets
// more optimistic the further it goes (25 % from the 10 h to the 1 h rate in
// one published table).
//
// Fewer than two rates, or two that give an exponent outside 1 to 1.6 (rows
// from different tests often do), are an [ErrDomain].
//
// Source: Peukert's law between neighbouring rates; the choice is this
// package's.
func (r Rates) Peukert(i unit.Current) (p Peukert, bracketed bool, err error) {
	if len(r) < 2 {
		return Peukert{}, false, pkg.Invalid("rate table", "with fewer than two rates", "two or more")
	}
	if err := checkCurrent("current", i); err != nil {
		return Peukert{}, false, err
	}
	// below and above are the nearest rates on either side, and beyond them
	// the next ones, as indices; -1 where there is none.
	below, below2, above, above2 := -1, -1, -1, -1
	for n, rate := range r {
		if err := rate.validate(); err != nil {
			return Peukert{}, false, err
		}
		switch c := rate.current(); {
		case c <= i && (below < 0 || c > r[below].current()):
			below2, below = below, n
		case c <= i && (below2 < 0 || c > r[below2].current()):
			below2 = n
		case c > i && (above < 0 || c < r[above].current()):
			above2, above = above, n
		case c > i && (above2 < 0 || c < r[above2].current()):
			above2 = n
		}
	}
	slow, fast, bracketed := below, above, true
	switch {
	case below < 0:
		slow, fast, bracketed = above, above2, false
	case above < 0:
		slow, fast = below2, below
		bracketed = r[below].current() == i
	}
	k, err := PeukertExponent(r[slow], r[fast])
	if err != nil {
		return Peukert{}, false, err
	}
	most := r[slow].Capacity
	for _, rate := range r {
		if rate.Time >= r[slow].Time {
			most = max(most, rate.Capacity)
		}
	}
	// A table whose slow rates reach beyond twice this rate is cut there.
	return Peukert{Rating: r[slow], Exponent: k, Most: min(most, 2*r[slow].Capacity)}, bracketed, nil
}
