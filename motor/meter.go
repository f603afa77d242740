package motor

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Reading is what a meter shows at a running motor. Voltage, Phases and at
// least one of Current and Apparent must be given, or Real with PowerFactor;
// a zero figure was not read.
type Reading struct {
	// Voltage is the line voltage (rms, line to line; 10 V to 15 kV).
	Voltage unit.Voltage
	// Phases is 1 or 3.
	Phases int
	// Current is the line current (rms). Zero: not read.
	Current unit.Current
	// Apparent is what the meter calls VA, of all phases. Zero: not read.
	Apparent ApparentPower
	// Real is what the meter calls W, of all phases. Zero: not read.
	Real unit.Power
	// PowerFactor is what the meter calls PF. Zero: not read.
	PowerFactor float64
	// Type narrows the power factor if neither W nor PF was read. Zero: not known.
	Type Type
}

// Two readings of one meter are allowed to differ by this much.
//
// Common practice: rounding and unsteady load; meters of the plug-in kind
// state 0.5 to 2 % each.
const meterTolerance = 0.03

// Running returns what the meter shows,
//
//	S = √m·V·I    cos φ = P/S
//
// with √m 1 for one phase and √3 for three. If only volts and amperes or VA
// were read, the real power is S times the span of [Type.RatedPowerFactor]:
// volt-amperes are never called watts.
//
// Readings that cannot go together are a [ContradictionError]: W above VA,
// VA off √m·V·I, PF off W/VA, each by more than 3 % (W up to 3 % above VA
// counts as power factor 1). Figures outside 0.05 A to 20 kA, 1 W or 1 VA to
// 500 kW or kVA, or cos φ 0.1 to 1, read or computed, give an error that wraps
// [ErrDomain]: 1.2 for 1.2 kW shows in the last.
//
// Source: definitions of apparent power and power factor, IEC 60050-131-11-41
// and 131-11-46. Common practice: the 3 %.
func (r Reading) Running() (Running, error) {
	if err := r.check(); err != nil {
		return Running{}, err
	}
	s, err := r.apparent()
	if err != nil {
		return Running{}, err
	}
	out := Running{
		Voltage: r.Voltage, Phases: r.Phases,
		Apparent: Exactly(ApparentPower(s)), CurrentBasis: BasisMeasured, Basis: BasisMeasured,
	}
	out.Current = Exactly(r.Current)
	if r.Current == 0 {
		out.Current = Exactly(unit.Current(s / (lineFactor(r.Phases) * float64(r.Voltage))))
	}
	switch {
	case r.Real != 0:
		pf := float64(r.Real) / s
		if err := r.checkReal(s, pf); err != nil {
			return Running{}, err
		}
		out.PowerFactor = Exactly(min(pf, 1))
	case r.PowerFactor != 0:
		out.PowerFactor = Exactly(r.PowerFactor)
	default:
		out.PowerFactor, out.Basis = r.Type.with(r.Phases).RatedPowerFactor(), BasisTypical
	}
	out.Real = times[ApparentPower, float64, unit.Power](out.Apparent, out.PowerFactor)
	return out, nil
}

// check tests each figure by itself.
func (r Reading) check() error {
	var current, apparent, watts, pf error
	if r.Current != 0 {
		current = checkCurrent("current", r.Current)
	}
	if r.Apparent != 0 {
		apparent = pkg.Range("apparent power", float64(r.Apparent), 1, 500e3, domain.VoltAmpere)
	}
	if r.Real != 0 {
		watts = pkg.Range("real power", float64(r.Real), 1, 500e3, domain.Watt)
	}
	if r.PowerFactor != 0 {
		pf = checkPowerFactor(r.PowerFactor)
	}
	return errors.Join(checkVoltage(r.Voltage), checkPhases(r.Phases), current, apparent, watts, pf, checkType(r.Type, r.Phases))
}

// apparent returns the volt-amperes that the readings agree on: those of V·I
// before the displayed ones, which are rounded.
func (r Reading) apparent() (float64, error) {
	switch {
	case r.Current != 0:
		s := lineFactor(r.Phases) * float64(r.Voltage) * float64(r.Current)
		if r.Apparent != 0 && !near(float64(r.Apparent), s) {
			return 0, contradiction("%.4g read, but volts times amperes are %.4g", r.Apparent, ApparentPower(s))
		}
		return s, nil
	case r.Apparent != 0:
		return float64(r.Apparent), nil
	case r.Real != 0 && r.PowerFactor != 0:
		return float64(r.Real) / r.PowerFactor, nil
	}
	return 0, missing("current, apparent power, or real power with power factor")
}

func (r Reading) checkReal(s, pf float64) error {
	if pf > 1+meterTolerance {
		return contradiction("%.4g read, more than the %.4g of volts times amperes", r.Real, ApparentPower(s))
	}
	if r.PowerFactor != 0 && !near(r.PowerFactor, pf) {
		return contradiction("power factor %.3g read, but watts over volt-amperes are %.3g", r.PowerFactor, pf)
	}
	return pkg.Range("watts over volt-amperes", min(pf, 1), leastPowerFactor, 1, domain.One)
}

// near reports whether x is within the meter tolerance of y.
func near(x, y float64) bool {
	return x >= y*(1-meterTolerance) && x <= y*(1+meterTolerance)
}
