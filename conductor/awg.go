package conductor

import (
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// The American Wire Gauge is a geometric series of 39 steps from 0.005 in at
// gauge 36 to 0.46 in at 4/0. Source: ASTM B258.
const (
	gaugeBase  = 5  // (mil), diameter of gauge 36
	gaugeRatio = 92 // 460 mil over 5 mil
	gaugeSteps = 39
)

// gaugeDiameter is the law of the gauge (mil).
func gaugeDiameter(n int32) float64 {
	return gaugeBase * math.Pow(gaugeRatio, (36-float64(n))/gaugeSteps)
}

// Diameter returns the diameter of the solid round wire of this size,
//
//	AWG    d = 5 mil · 92^((36−n)/39)
//	kcmil  d = √A, with d in mils and A in circular mils
//
// where n is the gauge number, 0 to −3 for 1/0 to 4/0. Three numbers down
// double the area and ten multiply it by ten, within 0.3 % and 1.6 %. A
// stranded conductor of the same area is 13 to 15 % thicker: see [Table8].
//
// A metric size gives an error that wraps [ErrDomain], as its area is a label
// and not a measure; so does the zero Size.
//
// Source: ASTM B258.
func (s Size) Diameter() (unit.Length, error) {
	switch s.system {
	case gauge:
		return unit.Length(gaugeDiameter(s.number)) * Mil, nil
	case kcmil:
		return unit.Length(math.Sqrt(1000*float64(s.number))) * Mil, nil
	default:
		return 0, s.refuse("an AWG or kcmil size")
	}
}

// NominalDiameter returns the diameter that the wire standard prints: that of
// the law, rounded to 0.1 mil. It differs from the law by up to 1.4 %, at
// gauge 40.
//
// For AWG sizes only; any other gives an error that wraps [ErrDomain].
//
// Source: ASTM B258, nominal diameters.
func (s Size) NominalDiameter() (unit.Length, error) {
	if s.system != gauge {
		return 0, s.refuse("an AWG size")
	}
	return unit.Length(nominalMils(s.number)) * Mil, nil
}

func nominalMils(n int32) float64 { return math.Round(gaugeDiameter(n)*10) / 10 }

// NominalArea returns the square of the nominal diameter, in circular mils.
// Rounded to tens below 100 000 and to hundreds above, it is the area that the
// code tables print: 4110, 6530 or 105 600 circular mils. It lies within
// 0.05 % of [Size.Area] for 10 AWG and larger, within 0.4 % to 25 AWG, and is
// up to 2.8 % off at 40 AWG. For kcmil sizes the two areas are one.
//
// A metric size or the zero Size gives an error that wraps [ErrDomain].
//
// Source: ASTM B258, nominal areas; NEC chapter 9, table 8.
func (s Size) NominalArea() (unit.Area, error) {
	switch s.system {
	case gauge:
		d := nominalMils(s.number)
		return unit.Area(d*d) * CircularMil, nil
	case kcmil:
		return unit.Area(s.area()), nil
	default:
		return 0, s.refuse("an AWG or kcmil size")
	}
}

// GaugeNumber returns where a wire of diameter d stands in the gauge, the law
// of [Size.Diameter] solved for n,
//
//	n = 36 − 39·ln(d/5 mil)/ln 92
//
// with d in mils. A wire of 101.9 mil has 9.9998: it is 10 AWG.
//
// Valid for 1 mil to 1 in; otherwise err wraps [ErrDomain].
//
// Source: ASTM B258.
func GaugeNumber(d unit.Length) (n float64, err error) {
	if err := pkg.Range("diameter", float64(d), float64(Mil), float64(Inch), mil); err != nil {
		return 0, err
	}
	return 36 - gaugeSteps*math.Log(float64(d/Mil)/gaugeBase)/math.Log(gaugeRatio), nil
}

var mil = domain.Unit{Symbol: "mil", Size: float64(Mil), Base: "m"}
