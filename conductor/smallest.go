package conductor

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"
)

// A Search looks for the smallest size whose drop stays within an allowed one.
type Search struct {
	// Circuit is two-wire or three-phase.
	Circuit Circuit
	// Segment is the run without its size: Segment.Wire.Size is not read.
	Segment Segment
	// Load is the current, with its power factor.
	Load Load
	// Allowed is the drop itself, not the voltage that is left.
	Allowed unit.Voltage
}

// Smallest returns the smallest of the sizes offered whose drop by
// [Impedance.Drop] does not exceed s.Allowed, and that drop. The sizes may come
// in any order; [BuildingSizes] and [MetricSizes] are the usual lists. Ampacity
// is not looked at and may ask for more.
//
// Where none suffices, err is a [NoSizeError] with the drop of the best, which
// is [ErrNoSize]. Metric sizes that IEC 60228 does not have in the wire's metal
// and stranding, such as aluminium below 10 mm², are passed over. A list without
// sizes that the wire can have, or an argument outside its range, gives an error
// that wraps [ErrDomain].
//
// Source: NEC 210.19 and 215.2, informational notes (3 % each for branch
// circuit and feeder, 5 % together, as advice), with the formula of
// [Impedance.Drop].
func (s Search) Smallest(sizes []Size) (Size, unit.Voltage, error) {
	err := errors.Join(s.Load.check(), DropLimit{Allowed: s.Allowed}.checkAllowed())
	if len(sizes) == 0 {
		err = errors.Join(err, pkg.Invalid("list of sizes", "empty", "at least one size"))
	}
	if err != nil {
		return Size{}, 0, err
	}
	var found, best Size // the smallest that passes, and the one that drops least
	var drop, least unit.Voltage
	var area float64 // of found
	var missing error
	for _, size := range sizes {
		if found.IsValid() && size.area() >= area {
			continue
		}
		if err := s.missing(size); err != nil {
			missing = err
			continue
		}
		d, err := s.drop(size)
		if err != nil {
			return Size{}, 0, err
		}
		if d <= s.Allowed {
			found, drop, area = size, d, size.area()
		}
		if !best.IsValid() || d < least {
			best, least = size, d
		}
	}
	if !best.IsValid() {
		return Size{}, 0, missing
	}
	if !found.IsValid() {
		return Size{}, 0, &NoSizeError{Allowed: s.Allowed, Best: best, Drop: least}
	}
	return found, drop, nil
}

// missing is the error of a metric size that the wire's metal and stranding
// rule out, and nil for any other size, good or bad.
func (s Search) missing(size Size) error {
	w := s.Segment.Wire
	w.Size = size
	if size.IsMetric() && w.check() == nil {
		_, err := w.maximum()
		return err
	}
	return nil
}

// drop is the drop with one size.
func (s Search) drop(size Size) (unit.Voltage, error) {
	segment := [1]Segment{s.Segment}
	segment[0].Wire.Size = size
	z, err := Run{s.Circuit, segment[:]}.Impedance()
	if err != nil {
		return 0, err
	}
	return z.Drop(s.Load)
}

// BuildingSizes returns the sizes of building wire, 14 AWG to 4/0 AWG and 250
// to 2000 kcmil as the code lists them, smallest first.
//
// Source: NEC chapter 9, table 8.
func BuildingSizes() []Size {
	var sizes []Size
	for i := range table8 {
		s := table8[i].size
		if table8[i].strands > 1 && s.Compare(AWG(14)) >= 0 {
			sizes = append(sizes, s)
		}
	}
	return sizes
}

// A NoSizeError says that no size of a list keeps the drop within the allowed
// one. It is [ErrNoSize].
type NoSizeError struct {
	Allowed unit.Voltage // the drop that was allowed
	Best    Size         // the size with the least drop
	Drop    unit.Voltage // its drop
}

// Error gives the figures in words.
//
// Definition: the fields of the error.
func (e *NoSizeError) Error() string {
	return fmt.Sprintf("%v: %v drops %.3g, allowed %.3g", ErrNoSize, e.Best, e.Drop, e.Allowed)
}

// Is reports whether target is [ErrNoSize].
//
// Definition: every NoSizeError is the answer that no size suffices.
func (e *NoSizeError) Is(target error) bool { return target == ErrNoSize }

// MetricEquivalent returns the smallest metric stranded size that is as good a
// conductor as a wire: whose maximum resistance at 20 °C by IEC 60228 class 2,
// in the wire's metal and untinned, does not exceed the wire's. Pairs made by
// area fall short: 4/0 AWG needs 120 mm², and the 95 mm² often named beside it
// has 18 % more resistance.
//
// Where even 300 mm² has more, err is [ErrNoSize]. A wire that
// [Wire.Resistance] refuses gives an error that wraps [ErrDomain].
//
// Source: IEC 60228:2004, table 2; ASTM B258 and IEC 60028 for the wire.
func MetricEquivalent(w Wire) (Size, error) {
	r, err := w.Resistance(Celsius(20))
	if err != nil {
		return Size{}, err
	}
	for i := range iec {
		m := Wire{Size{metric, iec[i].hundredths}, w.Metal, Stranded, false}
		if limit, err := m.maximum(); err == nil && ResistancePerLength(limit) <= r {
			return m.Size, nil
		}
	}
	return Size{}, fmt.Errorf("%w: %v has less resistance than 300 mm²", ErrNoSize, w)
}
