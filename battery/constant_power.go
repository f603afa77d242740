package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"
)

// A RunEnd is what ended a discharge. The zero value is none.
type RunEnd byte

// What ends a discharge.
const (
	RunDepthLimit RunEnd = iota + 1 // the charge down to the depth limit, or empty
	RunCutOff                       // the voltage under load down to the cut-off
	RunCollapse                     // no operating point left
)

// String returns "depth limit", "cut-off" or "collapse", "none" otherwise.
//
// Definition: the names of the constants.
func (e RunEnd) String() string {
	switch e {
	case RunDepthLimit:
		return "depth limit"
	case RunCutOff:
		return "cut-off"
	case RunCollapse:
		return "collapse"
	}
	return "none"
}

// RunLimits say where a discharge starts and what ends it. The zero value is
// invalid.
type RunLimits struct {
	StateOfCharge float64      // at the start, 0.01 to 1
	DepthLimit    float64      // the deepest discharge allowed, from full, 0.01 to 1; 1: to empty
	CutOff        unit.Voltage // the voltage under load that ends it, 0.5 to 1500 V
}

func (l RunLimits) validate() error {
	if l.StateOfCharge >= 0.01 && l.StateOfCharge <= 1 && l.DepthLimit >= 0.01 && l.DepthLimit <= 1 &&
		l.CutOff >= leastCurveVoltage && l.CutOff <= mostCurveVoltage {
		return nil
	}
	return errors.Join(
		checkFraction("state of charge", l.StateOfCharge, 0.01),
		checkFraction("depth limit", l.DepthLimit, 0.01),
		checkCurveVoltage("cut-off voltage", l.CutOff),
	)
}

// A LoadRun is a discharge under a constant load, from start to end.
type LoadRun struct {
	Time   unit.Time   // from start to end
	Drawn  unit.Charge // taken from the battery
	Energy unit.Energy // at the load
	Heat   unit.Energy // in the resistance
	// StateOfCharge is what is left. Energy and Heat together are what lies in
	// the open-circuit curve between it and the start.
	StateOfCharge float64
	// Start and End are the operating points, both the zero value where the
	// load finds none even at the start.
	Start, End LoadPoint
	StoppedBy  RunEnd
}

// leastRunPower is the least power that a discharge is worked out for.
const leastRunPower = unit.Power(1e-3)

// ConstantPower returns the discharge into a load of constant dc power, whose
// current rises as the voltage falls,
//
//	dS/dt = -I/Q,  I = 2·P/(Voc + √(Voc² - 4·R·P))
//
// where S is the state of charge, Q the capacity (C), Voc(S) the rest voltage
// (V), R(S) the resistance (Ω) and P the power (W). The time is
//
//	t = Q/(2·P)·∫ (Voc + √(Voc² - 4·R·P)) dS
//
// whose integral over each straight line of the model is done in closed form;
// there is no step size. It ends at the depth limit, at the cut-off, or where
// no operating point is left, whichever comes first.
//
// A load that is at or past its end from the first moment is an answer: a run
// of no time, with what stopped it. A start at or below the depth limit is
// [ErrBelowLimit]. The capacity does not shrink as the current rises; take the
// model's capacity at the rate of the last current to be safe.
//
// Valid for 1 mW to 100 MW; that, l or m outside its bounds is an [ErrDomain].
//
// Source: charge balance and [PointAtPower].
func (m VoltageModel) ConstantPower(l RunLimits, p unit.Power) (LoadRun, error) {
	trip, err := m.TripAtPower(p, l.CutOff)
	if bad := l.validate(); bad != nil {
		return LoadRun{}, errors.Join(m.check(), bad, checkLoadPower(p, leastRunPower))
	}
	if err != nil {
		return LoadRun{}, err
	}
	end, by, err := l.end(trip)
	if err != nil {
		return LoadRun{}, err
	}
	power := float64(p)
	run := LoadRun{StateOfCharge: end, StoppedBy: by}
	run.Start, _ = m.pointAtPower(l.StateOfCharge, power)
	if end == l.StateOfCharge {
		run.End = run.Start
		return run, nil
	}
	run.End = m.endAtPower(end, power, by, l.CutOff)
	opens, roots := m.integrals(end, l.StateOfCharge, 4*power)
	run.Drawn = unit.Charge(m.capacity * (l.StateOfCharge - end))
	run.Time = unit.Time(m.capacity * (opens + roots) / (2 * power))
	run.Energy = unit.Energy(m.capacity * (opens + roots) / 2)
	run.Heat = unit.Energy(m.capacity * max(0, opens-roots) / 2)
	return run, nil
}

// integrals returns those of Voc and √(Voc² - p4·R) over the state of charge
// between two bounds.
func (m *voltageLines) integrals(from, upTo, p4 float64) (opens, roots float64) {
	hi := m.first(from)
	va, ra := m.between(hi, from)
	wa := math.Sqrt(max(0, va*va-p4*ra))
	for ; from < upTo; hi++ {
		to, vb, rb := m.soc[hi], m.open[hi], m.res[hi]
		if to > upTo {
			to = upTo
			vb, rb = m.between(hi, to)
		}
		wb := math.Sqrt(max(0, vb*vb-p4*rb))
		opens += (to - from) * (va + vb) / 2
		roots += (to - from) * meanRoot(wa, wb, vb-va)
		from, va, wa = to, vb, wb
	}
	return opens, roots
}

// end returns where a discharge ends, and by what.
func (l RunLimits) end(trip Trip) (float64, RunEnd, error) {
	limit := max(0, 1-l.DepthLimit)
	if !(l.StateOfCharge-limit > 1e-9) {
		return 0, 0, ErrBelowLimit
	}
	switch {
	case trip.Never || trip.Below < limit:
		return limit, RunDepthLimit, nil
	case trip.Always || trip.Below > l.StateOfCharge:
		return l.StateOfCharge, trip.By, nil
	}
	return trip.Below, trip.By, nil
}

// first returns the point at the upper end of the line that goes up from soc.
func (m *voltageLines) first(soc float64) int {
	lo, hi := 1, len(m.soc)-1
	for lo < hi {
		if mid := (lo + hi) / 2; m.soc[mid] > soc {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return hi
}

func (m *voltageLines) pointAtPower(soc, p float64) (LoadPoint, bool) {
	open, r := m.at(soc)
	return pointAtPower(open, r, p)
}

// endAtPower returns the operating point at the end of a run. At the collapse,
// the last bits must not take it away.
func (m *voltageLines) endAtPower(soc, p float64, by RunEnd, cutOff unit.Voltage) LoadPoint {
	switch by {
	case RunCutOff:
		return LoadPoint{Power: unit.Power(p), Current: unit.Current(p / float64(cutOff)), Voltage: cutOff}
	case RunCollapse:
		open, _ := m.at(soc)
		return LoadPoint{Power: unit.Power(p), Current: unit.Current(2 * p / open), Voltage: unit.Voltage(open / 2)}
	}
	x, _ := m.pointAtPower(soc, p)
	return x
}

// meanRoot returns the mean of √D over an interval on which D is a parabola
// with the roots at its two ends given, and slope² the coefficient of its
// square. With σ the sum of the roots and δ their difference, Euler's
// substitution gives
//
//	mean = σ/2 + (δ² - slope²)/(4·σ)·U(slope/σ)
//	U(z) = (1 - (1 - z²)·artanh(z)/z)/z²
//
// which keeps its digits where the slope goes to zero, as U goes to 2/3. The
// slope is not negative.
func meanRoot(wa, wb, slope float64) float64 {
	sum, diff := wa+wb, wb-wa
	if !(sum > 0) {
		return 0
	}
	inverse := 1 / sum
	z := slope * inverse
	x := z * z
	var u float64
	if x < 4e-3 {
		u = 2./3 + x*(2./15+x*(2./35+x*(2./63+x*(2./99)))) // nearly always
	} else {
		u = meanRootU(z)
	}
	return sum/2 + (diff*diff-slope*slope)*inverse/4*u
}

func meanRootU(z float64) float64 {
	x := z * z
	switch {
	case z >= 1:
		return 1
	case z > 0.25:
		return (1 - (1-x)*math.Atanh(z)/z) / x
	}
	// 2·Σ x^(k-1)/((2k-1)·(2k+1)), k from 1; five terms do below 0.004.
	return 2 * (1./3 + x*(1./15+x*(1./35+x*(1./63+x*(1./99+x*(1./143+x*(1./195+x*(1./255+x*(1./323+x/399)))))))))
}

// ConstantCurrent returns the discharge at a constant current,
//
//	t = Q·(S1 - S2)/I
//
// where Q is the capacity (C), S1 the state of charge at the start and S2 that
// at the depth limit or where Voc - I·R comes down to the cut-off, whichever
// is higher, and I the current (A). Answers and errors as for
// [VoltageModel.ConstantPower], for 1 mA to 100 kA.
//
// Source: charge balance and Kirchhoff's voltage law.
func (m VoltageModel) ConstantCurrent(l RunLimits, i unit.Current) (LoadRun, error) {
	trip, err := m.TripAtCurrent(i, l.CutOff)
	if bad := l.validate(); bad != nil {
		return LoadRun{}, errors.Join(m.check(), bad, checkCurrent("current", i))
	}
	if err != nil {
		return LoadRun{}, err
	}
	end, by, err := l.end(trip)
	if err != nil {
		return LoadRun{}, err
	}
	amps := float64(i)
	run := LoadRun{StateOfCharge: end, StoppedBy: by}
	run.Start, _ = m.pointAtCurrent(l.StateOfCharge, amps)
	run.End, _ = m.pointAtCurrent(end, amps)
	var opens, drops float64
	from := end
	for hi := m.first(end); from < l.StateOfCharge; hi++ {
		to := min(m.soc[hi], l.StateOfCharge)
		va, ra := m.between(hi, from)
		vb, rb := m.between(hi, to)
		opens += (to - from) * (va + vb) / 2
		drops += (to - from) * (ra + rb) / 2 * amps
		from = to
	}
	run.Drawn = unit.Charge(m.capacity * (l.StateOfCharge - end))
	run.Time = unit.Time(float64(run.Drawn) / amps)
	run.Energy = unit.Energy(m.capacity * (opens - drops))
	run.Heat = unit.Energy(m.capacity * drops)
	return run, nil
}
