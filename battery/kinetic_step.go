package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A KineticEnd says what ended a step or a load.
type KineticEnd byte

// What ends a load.
const (
	KineticLasted  KineticEnd = iota // nothing: the battery carried it to its end
	KineticEmptied                   // the available well is empty
	KineticAtFloor                   // the charge of both wells is down to the floor
	KineticFilled                    // the available well is full: the charger must taper
)

// kineticEndNames are what String prints.
var kineticEndNames = [...]string{
	KineticLasted: "lasted", KineticEmptied: "emptied", KineticAtFloor: "at the floor", KineticFilled: "filled",
}

// String returns "lasted", "emptied", "at the floor" or "filled", and
// "unknown" for a value that is none of them.
func (e KineticEnd) String() string {
	if int(e) >= len(kineticEndNames) {
		return "unknown"
	}
	return kineticEndNames[e]
}

// A KineticStep is the outcome of [Kinetic.Step].
type KineticStep struct {
	Wells Wells      // after Ran
	Ran   unit.Time  // how long the current flowed
	End   KineticEnd // [KineticLasted] where Ran is the whole step
}

// Step returns the wells after a constant current, positive for discharge,
// zero for a rest and negative for charge, has flowed for a time t (s):
//
//	y1(t) = y1·e + (q·k′·c - I)·(1-e)/k′ - I·c·(k′t - 1 + e)/k′
//	y2(t) = y2·e + q·(1-c)·(1-e) - I·(1-c)·(k′t - 1 + e)/k′
//
// where e = exp(-k′t), y1, y2 and q = y1 + y2 are the charges at the start
// (C) and I is the current (A). Where the available well runs empty, or full
// on charge, the step ends there: Ran is the exact time, and End says so.
//
// Valid for up to ten times the capacity an hour either way and 0 to 10000 h;
// otherwise, and for wells that do not fit the model, err wraps [ErrDomain].
//
// Source: Manwell and McGowan, 1993, computed from the height difference
// d = y2/(1-c) - y1/c, which obeys d' = I/c - k′d; the events are bracketed
// roots.
func (m Kinetic) Step(w Wells, i unit.Current, t unit.Time) (KineticStep, error) {
	if err := checkWells(&m, &w); err != nil {
		return KineticStep{}, err
	}
	if err := checkFlow(&m, i); err != nil {
		return KineticStep{}, err
	}
	if err := checkStepTime(t); err != nil {
		return KineticStep{}, err
	}
	k := m.kernel()
	s := k.state(w)
	p := k.phase(float64(i), float64(t))
	next := s.after(&p)
	if h := k.height(next); h < 0 && i > 0 || h > k.qmax && i < 0 {
		x, end := k.event(s, &p, math.Inf(-1))
		p = k.phase(p.i, x)
		return KineticStep{Wells: k.wells(s.after(&p)), Ran: unit.Time(x), End: end}, nil
	}
	return KineticStep{Wells: k.wells(next), Ran: t, End: KineticLasted}, nil
}

func checkStepTime(t unit.Time) error {
	return pkg.Range("time of a step", float64(t), 0, float64(mostStepTime), domain.Hour)
}

// LargestDischarge returns the largest constant current that the available
// well carries for a time t (s),
//
//	Id = (k′·y1·e + q·k′·c·(1-e))/D,  D = 1 - e + c·(k′t - 1 + e)
//
// in the symbols of [Kinetic.Step]. The time must be above 0 (1 µs) and at
// most 10000 h; otherwise, and for wells that do not fit, err wraps
// [ErrDomain].
//
// Source: Manwell and McGowan, 1993.
func (m Kinetic) LargestDischarge(w Wells, t unit.Time) (unit.Current, error) {
	return m.largest(w, t, 0)
}

// LargestCharge returns the strongest constant charge current, as a negative
// number, that the available well takes in for a time t (s) without running
// over,
//
//	Ic = (-k′·c·qmax + k′·y1·e + q·k′·c·(1-e))/D
//
// in the symbols of [Kinetic.LargestDischarge] and with its bounds.
//
// Source: Manwell and McGowan, 1993.
func (m Kinetic) LargestCharge(w Wells, t unit.Time) (unit.Current, error) {
	i, err := m.largest(w, t, m.Capacity)
	return min(i, 0), err
}

// largest returns the current that brings the height of the available well to
// that of a battery at rest with charge h.
func (m Kinetic) largest(w Wells, t unit.Time, h unit.Charge) (unit.Current, error) {
	if err := errors.Join(checkWells(&m, &w), checkSpan(t)); err != nil {
		return 0, err
	}
	k, c, y1, q := float64(m.Rate), m.Available, float64(w.Available), float64(w.Charge())
	x := k * float64(t)
	r := -math.Expm1(-x)
	return unit.Current(k * (y1*(1-r) + q*c*r - c*float64(h)) / (r + c*(x-r))), nil
}

func checkSpan(t unit.Time) error {
	return pkg.Range("time", float64(t), 1e-6, float64(mostStepTime), domain.Hour)
}

// TimeToEmpty returns when a constant discharge current empties the available
// well,
//
//	t = A/I + W(k′·G/I·exp(-k′·A/I))/k′
//	A = q - B,  G = B - (1-c)·d,  B = I·(1-c)/(c·k′)
//
// where W is the principal branch of Lambert's function, d is the height
// difference of [Kinetic.Step] (0 after a rest), and q is the charge of both
// wells (C). It goes beyond the 10000 h of a step where the current is small.
//
// Valid for 1 mA to ten times the capacity an hour; otherwise, and for wells
// that do not fit, err wraps [ErrDomain].
//
// Source: the closed form of Manwell and McGowan, 1993, solved for y1 = 0.
func (m Kinetic) TimeToEmpty(w Wells, i unit.Current) (unit.Time, error) {
	if err := checkWells(&m, &w); err != nil {
		return 0, err
	}
	if err := checkDraw(&m, i); err != nil {
		return 0, err
	}
	k := m.kernel()
	return unit.Time(k.timeToEmpty(k.state(w), float64(i))), nil
}

// CapacityAt returns the charge that a full battery delivers at a constant
// current to the emptying of the available well,
//
//	Q = I·t
//
// with t as [Kinetic.TimeToEmpty] gives it and with its bounds.
//
// Source: as for [Kinetic.TimeToEmpty].
func (m Kinetic) CapacityAt(i unit.Current) (unit.Charge, error) {
	full, err := m.Rested(1)
	if err != nil {
		return 0, err
	}
	t, err := m.TimeToEmpty(full, i)
	if err != nil {
		return 0, err // Inf·0 is no number
	}
	return unit.Charge(float64(i) * float64(t)), nil
}

// CapacityIn returns the charge that a full battery delivers when emptied by a
// constant current in a time T (s): its rating at the T rate,
//
//	Q = qmax·k′·c·T/(1 - e + c·(k′T - 1 + e)),  e = exp(-k′T)
//
// from c·qmax at no time to qmax at endless time. The time must be 1 µs to 1e7
// h; otherwise, and for a model outside its bounds, err wraps [ErrDomain].
//
// Source: Manwell and McGowan, 1993.
func (m Kinetic) CapacityIn(t unit.Time) (unit.Charge, error) {
	err := errors.Join(m.validate(), pkg.Range("discharge time", float64(t), 1e-6, 1e7*float64(Hour), domain.Hour))
	if err != nil {
		return 0, err
	}
	return m.Capacity * unit.Charge(kineticShare(m.Available, float64(m.Rate)*float64(t))), nil
}

// kineticShare is Q/qmax of [Kinetic.CapacityIn] with x = k′T.
func kineticShare(c, x float64) float64 {
	r := -math.Expm1(-x)
	return x * c / (r + c*(x-r))
}
