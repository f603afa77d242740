package conductor

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"
)

// A Circuit says how the drop of one conductor counts. The zero value is none,
// and every function refuses it.
type Circuit uint8

// The circuits.
const (
	// TwoWire is direct current or one phase: out on one wire, back on the
	// other, factor 2.
	TwoWire Circuit = iota + 1
	// ThreePhase is a balanced three-phase circuit: the line-to-line drop is
	// √3 times that of one conductor.
	ThreePhase
)

// String returns "two-wire", "three-phase" or, for the zero value, "no
// circuit".
//
// Definition: the words of this package.
func (c Circuit) String() string {
	switch c {
	case TwoWire:
		return "two-wire"
	case ThreePhase:
		return "three-phase"
	default:
		return "no circuit"
	}
}

// Factor returns what the drop of one conductor is multiplied by: 2 for
// [TwoWire], √3 for [ThreePhase], and an error that wraps [ErrDomain] for the
// zero Circuit.
//
// Definition: 2 conductors in series; line voltage over phase voltage.
func (c Circuit) Factor() (float64, error) {
	switch c {
	case TwoWire:
		return 2, nil
	case ThreePhase:
		return math.Sqrt(3), nil
	default:
		return 0, pkg.Invalid("circuit", strconv.Itoa(int(c)), "two-wire or three-phase")
	}
}

// Reactance of one conductor at 60 Hz, three single conductors in a conduit,
// as typical of 14 to 4/0 AWG: the table prints 0.041 to 0.058 Ω/kft in
// conduits of plastic or aluminium and 0.051 to 0.073 in steel. On thin wire the
// choice hardly shows: 10 AWG has 1.2 Ω/kft of resistance beside it.
//
// Source: NEC chapter 9, table 9, row 10 AWG.
const (
	ReactanceInPVC   = 0.050 * OhmPerKilofoot
	ReactanceInSteel = 0.063 * OhmPerKilofoot
)

// A Segment is a stretch of one wire at one temperature.
type Segment struct {
	Wire        Wire             // what it is
	OneWay      unit.Length      // from source to load, not out and back
	Temperature unit.Temperature // of the conductor, not of the air
	// Reactance is that of one conductor; zero for direct current, or where
	// it is not worth counting. See [ReactanceInPVC].
	Reactance ResistancePerLength
}

// A Run is what lies between a source and its load: segments in series, each
// of its own size, metal and temperature.
type Run struct {
	Circuit  Circuit   // two-wire or three-phase
	Segments []Segment // in series, in any order
}

// Impedance returns the impedance of the run,
//
//	Z = m·Σ (r + jx)·L
//
// where r (Ω/m) is [Wire.Resistance] at the segment's temperature, x (Ω/m) its
// reactance, L (m) its one-way length, and m is 2 for [TwoWire] and √3 for
// [ThreePhase]. For a two-wire run this is the impedance of the loop. Drops
// follow by [Impedance.Drop], [Impedance.LoadVoltage] and [Impedance.Divide].
//
// Valid for one segment or more, each 1 cm to 20 km long; otherwise err wraps
// [ErrDomain] and names the segments at fault, counted from 1.
//
// Source: NEC chapter 9, tables 8 and 9, notes; series connection by definition.
func (r Run) Impedance() (Impedance, error) {
	m, err := r.Circuit.Factor()
	if len(r.Segments) == 0 {
		err = errors.Join(err, pkg.Invalid("run", "without segments", "at least one"))
	}
	var total Impedance
	for n := range r.Segments {
		z, e := r.Segments[n].impedance()
		if e != nil {
			err = errors.Join(err, fmt.Errorf("segment %d: %w", n+1, e))
		}
		total.Resistance += z.Resistance
		total.Reactance += z.Reactance
	}
	if err != nil {
		return Impedance{}, err
	}
	total.Resistance *= unit.Resistance(m)
	total.Reactance *= unit.Resistance(m)
	return total, nil
}

// impedance is that of one conductor of the segment.
func (s Segment) impedance() (Impedance, error) {
	r, err := s.Wire.Resistance(s.Temperature)
	l, x := float64(s.OneWay), float64(s.Reactance)
	if err != nil || !(l >= minLength && l <= maxLength && x >= 0 && x <= maxReactance) {
		return Impedance{}, errors.Join(err, checkOneWay(l),
			pkg.Range("reactance", x, 0, maxReactance, perKilometre))
	}
	return Impedance{r.Over(s.OneWay), s.Reactance.Over(s.OneWay)}, nil
}

// LoopResistance returns the resistance of a two-wire cable, out and back,
//
//	R = 2·r·L
//
// with r (Ω/m) as [Wire.Resistance] and L (m) one way.
//
// Valid for 1 cm to 20 km; otherwise err wraps [ErrDomain].
//
// Source: definition of a series loop; NEC chapter 9, table 8.
func (s Segment) LoopResistance() (unit.Resistance, error) {
	z, err := s.impedance()
	return 2 * z.Resistance, err
}

// TwoWireDrop returns the drop of a two-wire circuit of direct current, or of
// one phase at power factor 1,
//
//	Vd = 2·L·r·I
//
// with r in Ω/m, L in metres one way and I in amperes. It is good for all
// inputs and passes NaN on; [Run] checks its arguments.
//
// Source: NEC chapter 9, table 8; UFC 3-520-01, appendix B.
func TwoWireDrop(r ResistancePerLength, oneWay unit.Length, i unit.Current) unit.Voltage {
	return unit.Voltage(2 * float64(oneWay) * float64(r) * float64(i))
}

// ThreePhaseDrop returns the line-to-line drop of a balanced three-phase
// circuit,
//
//	Vd = √3·L·z·I
//
// with z in Ω/m to neutral, which is r at power factor 1 and the effective
// impedance r·cos φ + x·sin φ otherwise, L in metres one way and I in amperes.
// It is good for all inputs and passes NaN on; [Run] checks its arguments.
//
// Source: NEC chapter 9, table 9, note 2; UFC 3-520-01, appendix B.
func ThreePhaseDrop(z ResistancePerLength, oneWay unit.Length, i unit.Current) unit.Voltage {
	return unit.Voltage(math.Sqrt(3) * float64(oneWay) * float64(z) * float64(i))
}

// EffectiveImpedance returns what one conductor loses per ampere and length to
// first order,
//
//	Ze = r·cos φ + x·sin φ
//
// with r and x in Ω/m and cos φ the power factor of a lagging load. It is not
// the modulus of the impedance.
//
// Valid for a power factor of 0.05 to 1, r to 100 Ω/m and x to 2 Ω/km;
// otherwise err wraps [ErrDomain].
//
// Source: NEC chapter 9, table 9, note 2.
func EffectiveImpedance(r, x ResistancePerLength, powerFactor float64) (ResistancePerLength, error) {
	load := Load{PowerFactor: powerFactor}
	if err := errors.Join(load.check(),
		pkg.Range("resistance", float64(r), 0, maxPerLength, perKilometre),
		pkg.Range("reactance", float64(x), 0, maxReactance, perKilometre)); err != nil {
		return 0, err
	}
	sin, cos := load.sincos()
	return ResistancePerLength(float64(r)*cos + float64(x)*sin), nil
}
