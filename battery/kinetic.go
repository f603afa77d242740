package battery

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
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
