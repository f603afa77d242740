package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// A ValveRate is k of the kinetic battery model, the conductance of the valve
// between the two wells (1/s). It is not the k′ of the closed form: taking one
// for the other shortens a published 91 min life to 81 min, so the two are
// types of their own. Make one with [ValvePer].
type ValveRate float64

// An EqualizationRate is k′ = k/(c·(1-c)) of the kinetic battery model (1/s):
// the difference in height of the two wells dies away as e^(-k′t) at rest.
// Make one with [EqualizationPer].
type EqualizationRate float64

// ValvePer returns a k printed per hour, minute or second:
//
//	ValvePer(0.01689, battery.Minute)
//
// Definition: number over time.
func ValvePer(k float64, per unit.Time) ValveRate { return ValveRate(k / float64(per)) }

// EqualizationPer returns a k′ printed per hour, minute or second:
//
//	EqualizationPer(0.2628, battery.Hour)
//
// Definition: number over time.
func EqualizationPer(k float64, per unit.Time) EqualizationRate {
	return EqualizationRate(k / float64(per))
}

// A Kinetic is the kinetic battery model: the charge stands in two wells, of
// which one feeds the load and is refilled from the other through a valve. It
// credits the rests between pump cycles, which Peukert's law cannot, and gives
// less the higher the current. It knows no voltage, no temperature and no
// loss of charge; recovery much faster than 1/k′ is averaged out. The zero
// value is invalid.
//
// Capacity and currents must speak of the same thing, the whole bank or one
// string; [Kinetic.Scale] goes from one to the other.
//
// Source: J. F. Manwell and J. G. McGowan, Lead acid battery storage model for
// hybrid energy systems, Solar Energy 50 (1993).
type Kinetic struct {
	// Capacity is qmax, delivered in an endless discharge, 0.5 Ah to 100 kAh:
	// some 5 to 15 % above the 20 h rating of lead-acid.
	Capacity unit.Charge
	// Available is c, the share of the well that feeds the load, 0.02 to
	// 0.98: c·qmax is delivered in a discharge of no time.
	Available float64
	// Rate is k′, 1e-7 to 0.02 a second (0.00036 to 72 an hour).
	Rate EqualizationRate
}

const (
	leastWell         = 0.02 // c of the smallest well that feeds
	mostWell          = 0.98
	leastEqualization = 1e-7
	mostEqualization  = 0.02
	mostStepTime      = 10000 * Hour

	// wellSlack lets the last bits of a well that a step filled pass.
	wellSlack = 1 + 1e-9
)

func (m Kinetic) validate() error {
	return errors.Join(
		checkCapacity("kinetic capacity", m.Capacity),
		pkg.Range("available fraction", m.Available, leastWell, mostWell, domain.One),
		pkg.Range("equalization rate per second", float64(m.Rate), leastEqualization, mostEqualization, domain.One),
	)
}

// checkFlow refuses currents of either sign beyond ten times the capacity an
// hour. It and its neighbours take pointers to stay out of the way of a step.
func checkFlow(m *Kinetic, i unit.Current) error {
	most := fastest / float64(Hour) * float64(m.Capacity)
	return pkg.Range("current", float64(i), -most, most, domain.Ampere)
}

func checkDraw(m *Kinetic, i unit.Current) error {
	most := fastest / float64(Hour) * float64(m.Capacity)
	return pkg.Range("current", float64(i), float64(leastCurrent), most, domain.Ampere)
}

// Valve returns k from k′,
//
//	k = c·(1-c)·k′
//
// Definition: Manwell and McGowan, 1993.
func (m Kinetic) Valve() ValveRate {
	return ValveRate(m.Available * (1 - m.Available) * float64(m.Rate))
}

// KineticFromValve returns the model from qmax, c and the k of the valve,
//
//	k′ = k/(c·(1-c))
//
// A model outside the bounds of [Kinetic] is an [ErrDomain].
//
// Definition: Manwell and McGowan, 1993.
func KineticFromValve(qmax unit.Charge, c float64, k ValveRate) (Kinetic, error) {
	m := Kinetic{Capacity: qmax, Available: c, Rate: EqualizationRate(float64(k) / (c * (1 - c)))}
	if err := m.validate(); err != nil {
		return Kinetic{}, err
	}
	return m, nil
}

// Scale returns the model with its capacity multiplied: by the number of
// parallel strings, or by the factors of cold and age. Times at currents that
// are multiplied as well stay what they are.
//
// Definition: wells of n times the area.
func (m Kinetic) Scale(n float64) Kinetic {
	m.Capacity *= unit.Charge(n)
	return m
}

// Wells is the state of a kinetic battery: the charge of the well that feeds
// the load, y1, and of the bound one behind it, y2.
type Wells struct {
	Available unit.Charge // y1, 0 to c·qmax
	Bound     unit.Charge // y2, 0 to (1-c)·qmax
}

// Charge returns the charge in both wells.
//
// Definition: q = y1 + y2.
func (w Wells) Charge() unit.Charge { return w.Available + w.Bound }

// Rested returns the wells at a state of charge of 0 to 1 after a long rest,
//
//	y1 = s·c·qmax,  y2 = s·(1-c)·qmax
//
// where s = 1 is full. Arguments outside their bounds are an [ErrDomain].
//
// Definition: equal heights.
func (m Kinetic) Rested(stateOfCharge float64) (Wells, error) {
	if err := errors.Join(m.validate(), checkFraction("state of charge", stateOfCharge, 0)); err != nil {
		return Wells{}, err
	}
	q := unit.Charge(stateOfCharge) * m.Capacity
	y1 := unit.Charge(m.Available) * q
	return Wells{Available: y1, Bound: q - y1}, nil
}

// StateOfCharge returns the charge of both wells over qmax. A model outside
// its bounds and wells that do not fit it are an [ErrDomain].
//
// Definition: s = (y1 + y2)/qmax.
func (m Kinetic) StateOfCharge(w Wells) (float64, error) {
	if err := checkWells(&m, &w); err != nil {
		return 0, err
	}
	return min(1, float64(w.Charge()/m.Capacity)), nil
}

// checkWells refuses a bad model and wells that do not fit into it.
func checkWells(m *Kinetic, w *Wells) error {
	if wellsFit(m, w) {
		return nil
	}
	if err := m.validate(); err != nil {
		return err
	}
	c := m.Available
	return errors.Join(
		pkg.Range("available charge", float64(w.Available), 0, wellSlack*c*float64(m.Capacity), domain.AmpereHour),
		pkg.Range("bound charge", float64(w.Bound), 0, wellSlack*(1-c)*float64(m.Capacity), domain.AmpereHour),
	)
}

// wellsFit is the fast look at what checkWells says in words.
func wellsFit(m *Kinetic, w *Wells) bool {
	c, q := m.Available, float64(m.Capacity)
	return q >= float64(leastCapacity) && q <= float64(mostCapacity) && c >= leastWell && c <= mostWell &&
		m.Rate >= leastEqualization && m.Rate <= mostEqualization &&
		w.Available >= 0 && float64(w.Available) <= wellSlack*c*q && w.Bound >= 0 && float64(w.Bound) <= wellSlack*(1-c)*q
}

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
	return unit.Charge(float64(i) * float64(t)), err
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

// A kineticKernel is a checked model in plain numbers, in coulombs and
// seconds.
type kineticKernel struct{ c, k, qmax float64 }

func (m Kinetic) kernel() kineticKernel {
	return kineticKernel{m.Available, float64(m.Rate), float64(m.Capacity)}
}

// A kineticState is the charge q of both wells and their height difference d.
type kineticState struct{ q, d float64 }

func (k kineticKernel) state(w Wells) kineticState {
	y1, y2 := float64(w.Available), float64(w.Bound)
	return kineticState{y1 + y2, (k.c*y2 - (1-k.c)*y1) / (k.c * (1 - k.c))}
}

// height is y1/c: 0 where the available well is empty, qmax where it is full.
func (k kineticKernel) height(s kineticState) float64 { return s.q - (1-k.c)*s.d }

// wells splits the charge; what rounding leaves outside the wells is cut, so
// that the charge of both is kept.
func (k kineticKernel) wells(s kineticState) Wells {
	y1 := min(max(k.c*k.height(s), 0), s.q)
	return Wells{Available: unit.Charge(y1), Bound: unit.Charge(s.q - y1)}
}

// A kineticPhase is a current held for a time, with what follows from them.
type kineticPhase struct{ i, t, it, e, rise float64 }

func (k kineticKernel) phase(i, t float64) kineticPhase {
	r := math.Expm1(-k.k * t)
	return kineticPhase{i: i, t: t, it: i * t, e: 1 + r, rise: -i / (k.c * k.k) * r}
}

// after returns the state after a phase.
func (s kineticState) after(p *kineticPhase) kineticState {
	return kineticState{s.q - p.it, s.d*p.e + p.rise}
}

// slope is the rate at which the height of the available well changes.
func (k kineticKernel) slope(s kineticState, i float64) float64 {
	return -i - (1-k.c)*(i/k.c-k.k*s.d)
}

// event returns when, in a phase that ends with the available well below 0 or
// above qmax, or the charge below the floor, the first of these happens.
// Under one current the height turns at most once, from away from the bound
// towards it, so that the bound is crossed once.
func (k kineticKernel) event(s kineticState, p *kineticPhase, floor float64) (float64, KineticEnd) {
	bound, end := 0.0, KineticEmptied
	if p.i < 0 {
		bound, end = k.qmax, KineticFilled
	}
	over := func(t float64) float64 {
		part := k.phase(p.i, t)
		h := k.height(s.after(&part)) - bound
		if p.i < 0 {
			return h
		}
		return -h
	}
	t := p.t
	if over(p.t) > 0 {
		// Up to the turn the height moves away from the bound, on which it
		// may stand. Where it does not turn it may be there to the last bit.
		t = min(k.turn(s, p.i), p.t)
		if x, err := numeric.Root(over, t, p.t, 0); err == nil {
			t = x
		}
	} else {
		end = KineticLasted
	}
	if p.i > 0 && s.q-p.i*t < floor {
		t, end = max(0, (s.q-floor)/p.i), KineticAtFloor
	}
	return t, end
}

// turn returns when the height of the available well turns under a current, 0
// where it does not.
func (k kineticKernel) turn(s kineticState, i float64) float64 {
	still := i / (k.c * k.k) // the difference that d tends to
	flat := i / ((1 - k.c) * k.k)
	// slope = 0 where k·d = i/(c(1-c)), and d - still falls as e^(-kt).
	if ratio := (s.d - still) / flat; ratio > 1 {
		return math.Log(ratio) / k.k
	}
	return 0
}

// timeToEmpty solves q - I·t = (1-c)·d(t).
func (k kineticKernel) timeToEmpty(s kineticState, i float64) float64 {
	if k.height(s) <= 0 && k.slope(s, i) <= 0 {
		return 0
	}
	b := i * (1 - k.c) / (k.c * k.k)
	a, g := s.q-b, b-(1-k.c)*s.d
	// With g < 0 the well is filling at first. The product is at least -1/e
	// but for rounding.
	z := max(k.k*g/i*math.Exp(-k.k*a/i), -1/math.E)
	t := a/i + numeric.LambertW(z)/k.k
	// One step of Newton's method takes back what a/i and the second term
	// lose against each other.
	p := k.phase(i, max(t, 0))
	now := s.after(&p)
	if v := k.slope(now, i); v < 0 {
		t -= k.height(now) / v
	}
	return max(t, 0)
}
