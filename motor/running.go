package motor

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Running is what a motor draws while it turns. Volt-amperes and watts are
// kept apart: inverter and conductor answer to Apparent and Current, battery
// and energy to Real.
type Running struct {
	// Voltage is the line voltage of these figures. Zero: not known.
	Voltage unit.Voltage
	// Phases is 1 or 3.
	Phases int
	// Current is the line current (A, rms). Zero: not known.
	Current Range[unit.Current]
	// Apparent is √m·V·I (VA).
	Apparent Range[ApparentPower]
	// Real is the input power (W): apparent power times power factor.
	Real Range[unit.Power]
	// PowerFactor is real over apparent power.
	PowerFactor Range[float64]
	// CurrentBasis says where Current and Apparent come from.
	CurrentBasis Basis
	// Basis says where Real and PowerFactor come from; it is the worst of all
	// that went into the result.
	Basis Basis
}

// Running returns what the motor draws at rated load,
//
//	S = √m·V·I    P = S·cos φ    or    P = P_out/η
//
// with V the rated voltage (V), I the full-load current (A), P_out the output
// (W), the second never above S. If the plate has both power factor and
// efficiency, the real power is the range that the two ways give. If it has
// neither, the real power is the range
//
//	max(S·cos φ_lo, P_out/η_hi) ≤ P ≤ S·cos φ_hi
//
// with the spans of [Type.RatedPowerFactor] and [Type.RatedEfficiency], and
// the basis is [BasisTypical]; where the output alone already exceeds the
// span, P_out ≤ P ≤ S. If the plate has no full-load current, the current
// follows from the output as in [RunningFromShaft].
//
// err is [ErrMissing] if the plate has neither current nor output, and what
// [Nameplate.Validate] says if it is faulty.
//
// Source: definition of apparent power and power factor, IEC 60050-131-11-41
// and 131-11-46; the spans as their methods say.
func (n Nameplate) Running() (r Running, err error) {
	if err = validate(&n); err != nil {
		return r, err
	}
	if n.FullLoadCurrent == 0 {
		return fromOutput(&n, n.Output)
	}
	r.fromCurrent(&n, Exactly(n.FullLoadCurrent), BasisNameplate, n.Output, n.Efficiency)
	return r, nil
}

// RunningAtServiceFactor returns what the motor draws at rated load times its
// service factor, as pump motors normally run, in the manner of
// [Nameplate.Running]; efficiency and power factor of rated load are used for
// want of better, the efficiency only where the plate prints the service
// factor. If the plate has no service-factor current, the current is the
// range from full-load current to full-load current times service factor, and
// its basis is [BasisRuleOfThumb]: the magnetizing part of the current does
// not grow with the load. The low end is raised to what the least real power
// needs at power factor 1.
//
// err is [ErrMissing] if the plate has neither service-factor current nor
// service factor, or too little besides.
//
// Source: definition of service factor, NEMA MG 1 1.42; common practice for
// the current range.
func (n Nameplate) RunningAtServiceFactor() (r Running, err error) {
	if err = validate(&n); err != nil {
		return r, err
	}
	output := n.Output * unit.Power(max(n.ServiceFactor, 1))
	switch {
	case n.ServiceFactorCurrent != 0 && n.ServiceFactor == 0: // the output is at least the rated one
		r.fromCurrent(&n, Exactly(n.ServiceFactorCurrent), BasisNameplate, output, 0)
	case n.ServiceFactorCurrent != 0:
		r.fromCurrent(&n, Exactly(n.ServiceFactorCurrent), BasisNameplate, output, n.Efficiency)
	case n.ServiceFactor == 0:
		return r, missing("service-factor current or service factor")
	case n.FullLoadCurrent == 0:
		return fromOutput(&n, output)
	case n.ServiceFactor == 1:
		r.fromCurrent(&n, Exactly(n.FullLoadCurrent), BasisNameplate, output, n.Efficiency)
	default:
		i := Range[unit.Current]{Low: n.FullLoadCurrent, High: n.FullLoadCurrent * unit.Current(n.ServiceFactor)}
		r.fromCurrent(&n, i, BasisRuleOfThumb, output, n.Efficiency)
	}
	return r, nil
}

// fromOutput is the case of a valid plate without a current.
func fromOutput(n *Nameplate, output unit.Power) (Running, error) {
	if output == 0 {
		return Running{}, missing("full-load current or rated output")
	}
	efficiency, pf, basis := Exactly(n.Efficiency), Exactly(n.PowerFactor), BasisNameplate
	if n.Efficiency == 0 {
		efficiency, basis = n.Type.with(n.Phases).RatedEfficiency(), BasisTypical
	}
	if n.PowerFactor == 0 {
		pf, basis = n.Type.with(n.Phases).RatedPowerFactor(), BasisTypical
	}
	return fromShaft(output, n.Voltage, n.Phases, efficiency, pf, basis), nil
}

// fromCurrent fills r, the zero value, in the case of a valid plate with a
// current. Without an efficiency the output is only what is delivered at
// least. To fill in place saves copying all of r.
func (r *Running) fromCurrent(n *Nameplate, i Range[unit.Current], basis Basis, output unit.Power, efficiency float64) {
	s := apparent(n.Voltage, n.Phases, i)
	r.Voltage, r.Phases, r.CurrentBasis, r.Basis = n.Voltage, n.Phases, basis, basis
	lo, hi := float64(s.Low)*n.PowerFactor, float64(s.High)*n.PowerFactor
	shaft := 0.0
	if efficiency != 0 {
		shaft = min(float64(output)/efficiency, float64(s.High))
	}
	switch {
	case shaft != 0 && hi != 0:
		lo, hi = min(lo, shaft), max(hi, shaft)
	case shaft != 0:
		lo, hi = shaft, shaft
	case hi == 0:
		t := n.Type.with(n.Phases)
		lo, hi = typicalReal(float64(s.Low), float64(s.High), float64(output), t.RatedPowerFactor(), t.RatedEfficiency())
		r.Basis = BasisTypical
	}
	if lo > float64(s.Low) {
		s.Low = ApparentPower(lo)
		i.Low = min(i.High, unit.Current(lo/(lineFactor(n.Phases)*float64(n.Voltage))))
	}
	r.Current, r.Apparent = i, s
	r.Real = Range[unit.Power]{Low: unit.Power(lo), High: unit.Power(hi)}
	r.PowerFactor = powerFactor(r.Real, s)
}

// typicalReal bounds the real power that goes with the apparent power lo to
// hi and the shaft power out (0: not known).
func typicalReal(lo, hi, out float64, pf, efficiency Range[float64]) (low, high float64) {
	low, high = max(lo*pf.Low, out/efficiency.High), hi*pf.High
	if low > high {
		return min(out, hi), hi
	}
	return low, high
}

// apparent returns √m·V·I.
func apparent(v unit.Voltage, phases int, i Range[unit.Current]) Range[ApparentPower] {
	perAmpere := lineFactor(phases) * float64(v)
	return Range[ApparentPower]{
		Low:  ApparentPower(perAmpere * float64(i.Low)),
		High: ApparentPower(perAmpere * float64(i.High)),
	}
}

// powerFactor returns the power factors with which p and s go together, one
// end with its own: a larger real power belongs to a larger apparent one.
func powerFactor(p Range[unit.Power], s Range[ApparentPower]) Range[float64] {
	a, b := float64(p.Low)/float64(s.Low), float64(p.High)/float64(s.High)
	if a > b {
		a, b = b, a
	}
	return Range[float64]{Low: min(a, 1), High: min(b, 1)}
}

// RunningFromShaft returns what a motor draws that delivers the given shaft
// power,
//
//	P = P_out/η    S = P/cos φ    I = S/(√m·V)
//
// with P_out the shaft power (W), η the efficiency, cos φ the power factor, V
// the line voltage (V, rms) and √m 1 for one phase and √3 for three.
// Efficiency and power factor may be ranges; basis says where they come from.
// The horsepower of a plate is what comes out: taking 746 W for what goes in
// leaves out η.
//
// Valid for 1/20 to 500 hp, 10 V to 15 kV, η 0.05 to 0.99, cos φ 0.1 to 1;
// outside, err wraps [ErrDomain].
//
// Source: definitions of efficiency and power factor, IEC 60050-131-11-46.
func RunningFromShaft(output unit.Power, voltage unit.Voltage, phases int, efficiency, powerFactor Range[float64], basis Basis) (Running, error) {
	err := errors.Join(
		checkOutput(output), checkVoltage(voltage), checkPhases(phases),
		checkRange("efficiency", efficiency, leastEfficiency, greatestEfficiency, domain.One),
		checkRange("power factor", powerFactor, leastPowerFactor, 1, domain.One),
	)
	if err != nil {
		return Running{}, err
	}
	return fromShaft(output, voltage, phases, efficiency, powerFactor, basis), nil
}

// fromShaft is RunningFromShaft on checked arguments.
func fromShaft(output unit.Power, voltage unit.Voltage, phases int, efficiency, pf Range[float64], basis Basis) Running {
	out, perVA := float64(output), 1/(lineFactor(phases)*float64(voltage))
	p := Range[float64]{Low: out / efficiency.High, High: out / efficiency.Low}
	s := Range[float64]{Low: p.Low / pf.High, High: p.High / pf.Low}
	return Running{
		Voltage: voltage, Phases: phases,
		Current:     Range[unit.Current]{Low: unit.Current(s.Low * perVA), High: unit.Current(s.High * perVA)},
		Apparent:    Range[ApparentPower]{Low: ApparentPower(s.Low), High: ApparentPower(s.High)},
		Real:        Range[unit.Power]{Low: unit.Power(p.Low), High: unit.Power(p.High)},
		PowerFactor: pf, CurrentBasis: basis, Basis: basis,
	}
}

// VoltAmperesAsWatts is the trade's shortcut for running power: volts times
// amperes, called watts. It is the apparent power under a wrong name and
// overstates the real power of motors of 1/4 to 1/3 hp without run capacitor
// by 45 to 70 %. It is here to be shown beside [Nameplate.Running], not to be
// used. NaN passes through.
//
// Common practice.
func VoltAmperesAsWatts(v unit.Voltage, i unit.Current) unit.Power {
	return unit.Power(float64(v) * float64(i))
}
