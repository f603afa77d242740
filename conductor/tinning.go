package conductor

import "math"

// tinning returns by what factor a tinned strand of diameter d (in) has more
// resistance than a bare one. Tin replaces copper near the surface, so that
// thin strands lose most. The figures are the ratio of the largest resistivity
// allowed for a tinned wire to that of bare annealed copper, 875.20 Ω·lb/mile².
//
// Source: ASTM B33, resistivity by diameter (recalled; the coated rows of NEC
// chapter 9, table 8, come out within 0.7 %).
func tinning(d float64) float64 {
	switch {
	case d > 0.290:
		return 896.15 / 875.20
	case d > 0.103:
		return 900.77 / 875.20
	case d > 0.0201:
		return 910.15 / 875.20
	case d > 0.0111:
		return 929.52 / 875.20
	default:
		return 939.51 / 875.20
	}
}

// strandDiameter returns the diameter (in) of one strand of a conductor of the
// given area. Class B has the numbers of strands that follow; class K is made
// of 30 AWG.
//
// Source: ASTM B8, class B, as NEC chapter 9, table 8, has it; ASTM B172, class
// K (recalled).
func strandDiameter(s Stranding, cmil float64) float64 {
	switch s {
	case Stranded:
		return math.Sqrt(cmil/float64(strandCount(cmil))) / 1000
	case Flexible:
		return 0.0100
	default:
		return math.Sqrt(cmil) / 1000
	}
}

// strandCount is the number of strands of class B.
func strandCount(cmil float64) int {
	switch {
	case cmil < 70e3: // to 2 AWG
		return 7
	case cmil < 220e3: // to 4/0 AWG
		return 19
	case cmil <= 500e3:
		return 37
	case cmil <= 1000e3:
		return 61
	case cmil <= 1500e3:
		return 91
	default:
		return 127
	}
}
