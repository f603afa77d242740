package conductor

import (
	"cmp"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"
)

// A Size is a conductor size as the trade names it: a gauge number, a number
// of kcmil or a number of mm². Sizes are small values that compare with ==.
// The zero Size is no size, and every function refuses it.
type Size struct {
	system system
	number int32 // AWG: n of the law; kcmil: thousands; mm²: hundredths
}

// A system is one of the three ways to name sizes.
type system uint8

const (
	gauge system = iota + 1
	kcmil
	metric
)

const (
	finestGauge  = 40
	largestGauge = -3 // 4/0
	minKCMil     = 50
	maxKCMil     = 2500
)

const wantSize = "a size such as 10 AWG, 4/0 AWG, 250 kcmil or 35 mm²"

// AWG returns the American Wire Gauge size n, where 0, −1, −2 and −3 stand for
// 1/0, 2/0, 3/0 and 4/0.
//
// Valid for −3 to 40; any other n gives the zero Size, which every function
// refuses.
//
// Source: ASTM B258, numbering of the gauge.
func AWG(n int) Size {
	if n < largestGauge || n > finestGauge {
		return Size{}
	}
	return Size{gauge, int32(n)}
}

// KCMilSize returns the size of n thousand circular mils.
//
// Valid for 50 to 2500; any other n gives the zero Size, which every function
// refuses.
//
// Definition: 1 kcmil = 1000 circular mils.
func KCMilSize(n int) Size {
	if n < minKCMil || n > maxKCMil {
		return Size{}
	}
	return Size{kcmil, int32(n)}
}

// MetricSize returns the metric size of the nominal area a, which must be one
// of IEC 60228 from 0.5 to 300 mm². Any other area gives the zero Size, which
// every function refuses.
//
// Source: IEC 60228:2004, tables 1 to 3, nominal cross-sections.
func MetricSize(a unit.Area) Size {
	hundredths := math.Round(float64(a/SquareMillimetre)*1e4) / 100
	for i := range iec {
		if hundredths == float64(iec[i].hundredths) {
			return Size{metric, iec[i].hundredths}
		}
	}
	return Size{}
}

// IsValid reports whether s is a size at all.
//
// Definition: every Size but the zero value is valid.
func (s Size) IsValid() bool { return s.system != 0 }

// IsMetric reports whether s is a size in mm², whose area is a label and whose
// resistance is a table's.
//
// Definition: sizes of IEC 60228.
func (s Size) IsMetric() bool { return s.system == metric }

// Area returns the cross-section of metal.
//
//	AWG    A = (π/4)·d²,  d = 5 mil · 92^((36−n)/39)
//	kcmil  the named number of circular mils
//	mm²    the named number, which is a label (see [MaximumResistance])
//
// This is the area of the law. Codes print areas that come from diameters
// rounded to 0.1 mil: see [Size.NominalArea] and [Table8].
//
// The zero Size gives an error that wraps [ErrDomain].
//
// Source: ASTM B258 (AWG); IEC 60228:2004 (mm²); kcmil by definition.
func (s Size) Area() (unit.Area, error) {
	if !s.IsValid() {
		return 0, s.refuse(wantSize)
	}
	return unit.Area(s.area()), nil
}

// area is Area for sizes known to be valid, and 0 for no size (m²).
func (s Size) area() float64 {
	switch s.system {
	case gauge:
		d := gaugeDiameter(s.number)
		return d * d * float64(CircularMil)
	case kcmil:
		return float64(s.number) * float64(KCMil)
	case metric:
		return float64(s.number) / 100 * float64(SquareMillimetre)
	default:
		return 0
	}
}

// Compare orders sizes by area: −1 if s is the smaller, 1 if it is the larger,
// 0 if the two are the same size. Metric sizes stand where their nominal area
// puts them, although by resistance they are worth 4 to 16 % less. The zero
// Size comes before all others.
//
// Definition: order by [Size.Area].
func (s Size) Compare(o Size) int {
	return cmp.Or(cmp.Compare(s.area(), o.area()), cmp.Compare(s.system, o.system))
}

// String returns the size as the trade writes it, "1/0 AWG", "250 kcmil" or
// "2.5 mm²", and "no size" for the zero value. [ParseSize] reads it back.
//
// Definition: the forms that [ParseSize] lists.
func (s Size) String() string {
	switch s.system {
	case gauge:
		if s.number <= 0 {
			return strconv.Itoa(1-int(s.number)) + "/0 AWG"
		}
		return strconv.Itoa(int(s.number)) + " AWG"
	case kcmil:
		return strconv.Itoa(int(s.number)) + " kcmil"
	case metric:
		return strconv.FormatFloat(float64(s.number)/100, 'f', -1, 64) + " mm²"
	default:
		return "no size"
	}
}

// refuse is the error for a size that does not serve.
func (s Size) refuse(want string) error { return pkg.Invalid("size", s.String(), want) }
