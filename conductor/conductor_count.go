package conductor

import "strconv"

// CountFactor returns the factor for n conductors that carry current in one
// raceway, cable or bundle: 1 to 3, 0.80 to 6, 0.70 to 9, 0.50 to 20, 0.45 to
// 30, 0.40 to 40 and 0.35 above. It multiplies the ampacity beside the factor
// for ambient temperature, in any order. Raceways of 24 in and less are exempt.
// A neutral that carries only unbalance is not counted; equipment grounding
// conductors never are.
//
// Valid for 1 to 1000; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) table 310.15(C)(1); table 310.15(B)(3)(a) of 2011 to 2017.
func CountFactor(n int) (float64, error) {
	switch {
	case n < 1 || n > 1000:
		return 0, pkg.Invalid("conductors that carry current", strconv.Itoa(n), "1 to 1000")
	case n <= 3:
		return 1, nil
	case n <= 6:
		return 0.80, nil
	case n <= 9:
		return 0.70, nil
	case n <= 20:
		return 0.50, nil
	case n <= 30:
		return 0.45, nil
	case n <= 40:
		return 0.40, nil
	default:
		return 0.35, nil
	}
}
