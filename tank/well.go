package tank

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// What a well holds and what flows into it, and which pump outruns it.

// CasingVolume returns the water in a length of casing, V = π·d²·h/4, where d
// is the inner diameter and h the length (m). A foot of 6 in casing holds
// 1.469 gal, which pages round to 1.5, and 1.4 in a manual; the drop pipe takes
// up some of it.
//
// Valid for diameters of 20 mm to 2 m and lengths of 0 to 600 m; otherwise err
// wraps [ErrDomain].
//
// Source: geometry.
func CasingVolume(diameter, length unit.Length) (unit.Volume, error) {
	if err := errors.Join(casingRange(diameter), depthRange("length of casing", length)); err != nil {
		return 0, err
	}
	return unit.Volume(casingArea(diameter) * float64(length)), nil
}

func casingArea(d unit.Length) float64 { return math.Pi / 4 * float64(d) * float64(d) }

// A Well is what a pump finds below the ground. Levels are depths below the
// well head (m).
type Well struct {
	Casing unit.Length // inner diameter, 20 mm to 2 m
	Static unit.Length // level at rest
	// Intake of the pump, below Static, or the level at which a switch stops
	// it. The pump must never run dry.
	Intake unit.Length
	// Capacity by a test, 1e-7 to 0.1 m²/s.
	Capacity SpecificCapacity
}

// Bounds of wells. A casing in inches lies outside.
const (
	leastCasing, mostCasing = unit.Length(0.02), unit.Length(2)
	leastColumn             = unit.Length(0.1)
)

func casingRange(d unit.Length) error {
	return pkg.Range("casing", float64(d), float64(leastCasing), float64(mostCasing), domain.Metre)
}

// Validate reports every field outside its range, joined; each wraps
// [ErrDomain].
//
// Common practice: the bounds are those of drilled and dug wells of houses.
func (w Well) Validate() error {
	if w.ok() {
		return nil
	}
	err := depthRange("static level", w.Static)
	least := leastColumn
	if err == nil {
		least += w.Static
	}
	return errors.Join(casingRange(w.Casing), err,
		pkg.Range("intake", float64(w.Intake), float64(least), float64(mostDepth+leastColumn), domain.Metre),
		w.Capacity.inRange())
}

func (w Well) ok() bool {
	return w.Casing >= leastCasing && w.Casing <= mostCasing && w.Static >= 0 && w.Static <= mostDepth &&
		w.Intake >= w.Static+leastColumn && w.Intake <= mostDepth+leastColumn &&
		w.Capacity >= leastCapacity && w.Capacity <= mostCapacity
}

// Yield returns the most that flows into the well, with the level at the
// pump's intake,
//
//	Y = c·(zi − zs)
//
// where c is w.Capacity (m²/s), zi w.Intake and zs w.Static (m).
//
// Valid for the ranges of [Well]; otherwise err wraps [ErrDomain].
//
// Definition: specific capacity times drawdown.
func (w Well) Yield() (FlowRate, error) {
	if !w.ok() {
		return 0, w.Validate()
	}
	return FlowRate(float64(w.Capacity) * float64(w.Intake-w.Static)), nil
}

// Stored returns the water that stands in the casing above the intake with the
// well at rest, [CasingVolume] of zi − zs. It is what a strong pump has beside
// the yield, once.
//
// Valid for the ranges of [Well]; otherwise err wraps [ErrDomain].
//
// Source: geometry.
func (w Well) Stored() (unit.Volume, error) {
	if !w.ok() {
		return 0, w.Validate()
	}
	return unit.Volume(casingArea(w.Casing) * float64(w.Intake-w.Static)), nil
}

// A Pumped well is what a pump at a constant flow makes of a well at rest.
type Pumped struct {
	// Outruns says that the pump takes more than flows in, and draws the level
	// down to its intake.
	Outruns bool
	// Until is how long it takes to the intake; 0 where it does not.
	Until unit.Time
	// Drawdown that is reached in the end, and Level, the pumping level (m).
	Drawdown, Level unit.Length
	// Sustained is what can be drawn for good: the pump's flow or, with a pump
	// that outruns the well, the yield. A pump that stops for the well to
	// recover gets less on average.
	Sustained FlowRate
}

// Pump returns what a pump makes of the well, from rest,
//
//	A·ds/dt = Q − c·s, s∞ = Q/c, t = −A/c·ln(1 − c·D/Q)
//
// where s is the drawdown (m), A the area of the casing (m²), Q the pump's
// flow (m³/s), c w.Capacity (m²/s), D = zi − zs the water above the intake (m)
// and t the time to the intake, if s∞ lies below it (s). The flow into the
// well grows with the drawdown, so that t lies between A·D/Q with nothing
// flowing in and A·D/(Q − c·D) with the whole yield from the start. The
// aquifer around settles in minutes to hours, which is not reckoned here.
//
// Valid for the ranges of [Well] and of a pump, 1 L/min to 20 L/s; otherwise
// err wraps [ErrDomain].
//
// Source: water balance of the casing with inflow in proportion to drawdown.
func (w Well) Pump(flow FlowRate) (Pumped, error) {
	if !(w.ok() && pumpOK(flow)) {
		return Pumped{}, errors.Join(w.Validate(), pumpRange(flow))
	}
	a, c, q, d := casingArea(w.Casing), float64(w.Capacity), float64(flow), float64(w.Intake-w.Static)
	x := c * d / q
	if x >= 1 {
		s := min(w.Intake-w.Static, unit.Length(q/c))
		return Pumped{Drawdown: s, Level: w.Static + s, Sustained: flow}, nil
	}
	return Pumped{
		Outruns: true, Until: unit.Time(-a / c * math.Log1p(-x)),
		Drawdown: w.Intake - w.Static, Level: w.Intake, Sustained: FlowRate(c * d),
	}, nil
}

// Delivers returns the water that a pump gets out of the well in a time, from
// rest,
//
//	V = Q·min(t, tu) + Y·max(0, t − tu)
//
// where Q is the pump's flow (m³/s), Y the yield and tu the time to the intake,
// see [Well.Pump]. After tu the pump is throttled to the yield; one that stops
// and starts gets less.
//
// Valid as [Well.Pump] is, for times of 0 to 400 days; otherwise err wraps
// [ErrDomain].
//
// Source: as [Well.Pump].
func (w Well) Delivers(flow FlowRate, t unit.Time) (unit.Volume, error) {
	p, err := w.Pump(flow)
	if err = errors.Join(err, pkg.Range("time", float64(t), 0, 400*float64(Day), domain.Hour)); err != nil {
		return 0, err
	}
	if !p.Outruns || t <= p.Until {
		return flow.Volume(t), nil
	}
	return flow.Volume(p.Until) + p.Sustained.Volume(t-p.Until), nil
}

// Recovery returns how long the level takes to rise, with the pump at rest,
//
//	t = A/c·ln(s0/s1)
//
// where s0 and s1 are the drawdowns before and after (m), in the symbols of
// [Well.Pump]. The last of it takes for ever: ask for a tenth, not for all.
//
// Valid for the ranges of [Well] and 1 mm ≤ s1 ≤ s0 ≤ 600 m; otherwise err
// wraps [ErrDomain].
//
// Source: as [Well.Pump].
func (w Well) Recovery(from, to unit.Length) (unit.Time, error) {
	err := errors.Join(w.Validate(), pkg.Range("drawdown before", float64(from), 1e-3, float64(mostDepth), domain.Metre))
	if err != nil {
		return 0, err
	}
	if err := pkg.Range("drawdown after", float64(to), 1e-3, float64(from), domain.Metre); err != nil {
		return 0, err
	}
	return unit.Time(casingArea(w.Casing) / float64(w.Capacity) * math.Log(float64(from/to))), nil
}

// Least yields that are asked of a house's well.
const (
	// NewWellYield is what a housing lender asks of a new well.
	NewWellYield = 5 * USGallonPerMinute
	// ExistingWellYield is what it asks of a well in use.
	ExistingWellYield = 3 * USGallonPerMinute
	// WellBoardYield is 600 gal in 2 h, as a state's well board asks; stored
	// water counts, see [Well.Delivers].
	WellBoardYield = 5 * USGallonPerMinute
)
