package motor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A StartDemand is what a motor asks for at the instant it is switched on at
// full voltage: its rotor stands still, so that is locked-rotor current. It
// does not decay smoothly but stays near this until the motor is most of the
// way up to speed. Inverter electronics answer to Apparent, the battery to
// Real.
type StartDemand struct {
	// Voltage is the line voltage (V, rms) at the motor for these figures.
	Voltage unit.Voltage
	// Phases is 1 or 3.
	Phases int
	// Current is the line current (A, rms); peaks are √2 times as much and in
	// the first half cycle more, the more the lower the power factor.
	Current Range[unit.Current]
	// Apparent is √m·V·I (VA).
	Apparent Range[ApparentPower]
	// Real is Apparent times PowerFactor (W).
	Real Range[unit.Power]
	// PowerFactor is that with the rotor held.
	PowerFactor Range[float64]
	// Basis says where Current and Apparent come from.
	Basis Basis
	// PowerFactorBasis says where PowerFactor comes from; Real has the worse
	// of the two.
	PowerFactorBasis Basis
	// Duration is how long the start usually lasts under the driven load.
	Duration Range[unit.Time]
	// Unbounded says that the upper ends of Current, Apparent and Real are
	// +Inf: the code letter V has no upper limit.
	Unbounded bool
	// SuspectInrush says that the measured inrush is less than 2.5 times the
	// running current: the meter was probably too slow to catch it.
	SuspectInrush bool
}

// StartEvidence is what is known of a start besides the nameplate. The zero
// value is no evidence; each field's zero is "not known".
type StartEvidence struct {
	// Inrush is the measured rms current of the first cycles (not a peak).
	Inrush Range[unit.Current]
	// InrushVoltage is the voltage at the motor while Inrush was measured.
	// Zero: the plate's.
	InrushVoltage unit.Voltage
	// Running is the measured running current, for Multiplier and to judge
	// Inrush. Zero: the plate's full-load, else service-factor current.
	Running Range[unit.Current]
	// Multiplier is starting over running current (1 to 15).
	Multiplier Range[float64]
	// PowerFactor is that with the rotor held (0.05 to 1). Zero: the span of
	// [Type.LockedRotorPowerFactor].
	PowerFactor Range[float64]
	// PowerFactorBasis says where PowerFactor comes from. Zero: [BasisTypical].
	PowerFactorBasis Basis
	// Driven is what the motor drives, for the duration of the start.
	Driven DrivenLoad
}

// Start returns the start demand at rated voltage from the best basis at
// hand, in the order measured inrush, locked-rotor amperes of the plate, code
// letter, code table 430.251, multiplier of the running current:
//
//	S = √m·V·I    P = S·cos φ
//
// with V the rated voltage (V), I the current with the rotor held (A), cos φ
// its power factor and √m 1 for one phase and √3 for three. The basis is part
// of the result; [Nameplate.StartFrom] gives any one of them.
//
// The low end of a code letter's range is raised to the running current and
// to P_out/(√m·V), which the rated output (W) takes even without losses: no
// motor draws less at standstill than at its rated load. Letter A, which the
// code lets begin at 0, becomes a demand with a lower end that way.
//
// A basis that the plate cannot serve is passed over, such as the table for
// an unlisted horsepower. If none is left, err holds the reason of each and
// is [ErrMissing] for those that were not given. A faulty plate or faulty
// evidence is an error that wraps [ErrDomain]; a running current more than 5 %
// above the start current found is a [ContradictionError].
//
// Source: NEMA MG 1 10.37.2; NEC 430.7(B), 430.251. Common practice: the
// order, the multiplier and the 5 %.
func (n Nameplate) Start(e StartEvidence) (StartDemand, error) {
	if err := checkStart(&n, e); err != nil {
		return StartDemand{}, err
	}
	var reasons error
	for b := BasisMeasured; b <= BasisRuleOfThumb; b++ {
		i, err := startCurrent(&n, b, e)
		if err == nil {
			return startDemand(&n, i, b, e)
		}
		reasons = errors.Join(reasons, err)
	}
	return StartDemand{}, reasons
}

// StartFrom returns the start demand at rated voltage from one basis, to lay
// several side by side. If plate and evidence do not serve it, err is
// [ErrMissing], or for the code table the table's refusal; [BasisTypical] is
// always missing. Otherwise it is [Nameplate.Start].
//
// Source: as [Nameplate.Start].
func (n Nameplate) StartFrom(b Basis, e StartEvidence) (StartDemand, error) {
	if err := checkStart(&n, e); err != nil {
		return StartDemand{}, err
	}
	i, err := startCurrent(&n, b, e)
	if err != nil {
		return StartDemand{}, err
	}
	return startDemand(&n, i, b, e)
}

// checkStart tests plate and evidence.
func checkStart(n *Nameplate, e StartEvidence) error {
	var inrush, volts, running, multiplier, pf error
	if e.Inrush != (Range[unit.Current]{}) {
		inrush = checkRange("inrush current", e.Inrush, leastAmperes, greatestAmps, domain.Ampere)
	}
	if e.InrushVoltage != 0 {
		volts = pkg.Range("voltage during the inrush", float64(e.InrushVoltage), float64(n.Voltage)/2, float64(n.Voltage)*1.2, domain.Volt)
	}
	if e.Running != (Range[unit.Current]{}) {
		running = checkRange("running current", e.Running, leastAmperes, greatestAmps, domain.Ampere)
	}
	if e.Multiplier != (Range[float64]{}) {
		multiplier = checkRange("starting over running current", e.Multiplier, 1, 15, domain.One)
	}
	if e.PowerFactor != (Range[float64]{}) {
		pf = checkRange("locked-rotor power factor", e.PowerFactor, leastLockedPF, 1, domain.One)
	}
	if err := errors.Join(validate(n), inrush, volts, running, multiplier, pf); err != nil {
		return err
	}
	if inrush, run := inrushAtRated(n, e), runningCurrent(n, e); e.Inrush.High != 0 && inrush.High < run.Low {
		return contradiction("inrush %.4g is below running current %.4g", inrush.High, run.Low)
	}
	return nil
}

// inrushAtRated returns the measured inrush, scaled to the plate's voltage.
func inrushAtRated(n *Nameplate, e StartEvidence) Range[unit.Current] {
	if e.InrushVoltage == 0 {
		return e.Inrush
	}
	return times[unit.Current, float64, unit.Current](e.Inrush, Exactly(float64(n.Voltage/e.InrushVoltage)))
}

// runningCurrent returns the running current: measured, or the plate's.
func runningCurrent(n *Nameplate, e StartEvidence) Range[unit.Current] {
	switch {
	case e.Running.High != 0:
		return e.Running
	case n.FullLoadCurrent != 0:
		return Exactly(n.FullLoadCurrent)
	}
	return Exactly(n.ServiceFactorCurrent)
}

// startCurrent returns the locked-rotor current at rated voltage from one
// basis, on checked arguments.
func startCurrent(n *Nameplate, b Basis, e StartEvidence) (Range[unit.Current], error) {
	none := Range[unit.Current]{}
	switch b {
	case BasisMeasured:
		if e.Inrush.High == 0 {
			return none, missing("measured inrush")
		}
		return inrushAtRated(n, e), nil
	case BasisNameplate:
		if n.LockedRotorCurrent == 0 {
			return none, missing("locked-rotor current")
		}
		return Exactly(n.LockedRotorCurrent), nil
	case BasisCodeLetter:
		if n.Code == 0 || n.Output == 0 {
			return none, noLetter(n.Code)
		}
		i := letterCurrent(n.Code, n.Voltage, n.Phases, n.Output)
		lossless := unit.Current(float64(n.Output) / (lineFactor(n.Phases) * float64(n.Voltage)))
		i.Low = min(max(i.Low, lossless, runningCurrent(n, e).Low), i.High)
		return i, nil
	case BasisCodeTable:
		if n.Output == 0 {
			return none, missing("rated output, which the code table needs,")
		}
		i, err := CodeLockedRotorCurrent(n.Output, n.Voltage, n.Phases)
		return Exactly(i), err
	case BasisRuleOfThumb:
		run := runningCurrent(n, e)
		if e.Multiplier.High == 0 || run.High == 0 {
			return none, missing("multiplier with a running current")
		}
		return times[unit.Current, float64, unit.Current](run, e.Multiplier), nil
	}
	return none, missing("start demand on the basis " + b.String())
}

// startDemand completes the demand from its current, which the running current
// must not exceed by more than two roundings.
func startDemand(n *Nameplate, i Range[unit.Current], b Basis, e StartEvidence) (StartDemand, error) {
	run := runningCurrent(n, e)
	if run.Low > i.High*(1+letterTolerance) {
		return StartDemand{}, contradiction("running current %.4g is above start current %.4g on the basis %v", run.Low, i.High, b)
	}
	pf, pfBasis := e.PowerFactor, e.PowerFactorBasis
	if pf.High == 0 {
		pf, pfBasis = n.Type.with(n.Phases).LockedRotorPowerFactor(), BasisTypical
	}
	if pfBasis == 0 {
		pfBasis = BasisTypical
	}
	s := apparent(n.Voltage, n.Phases, i)
	return StartDemand{
		Voltage: n.Voltage, Phases: n.Phases,
		Current: i, Apparent: s, Real: times[ApparentPower, float64, unit.Power](s, pf), PowerFactor: pf,
		Basis: b, PowerFactorBasis: pfBasis,
		Duration:      e.Driven.StartDuration(),
		Unbounded:     math.IsInf(float64(i.High), 1),
		SuspectInrush: b == BasisMeasured && i.High < leastStartRatio*run.Low,
	}, nil
}

// leastStartRatio is starting over running current below which a measured
// inrush is suspect.
//
// Common practice: the worked machines of textbooks stand at 3.5 to 4.2 (one
// permanent-split motor at 2.2), small three-phase motors at 3.8 to 7
// (testdata/motor/iec_small_2pole.csv).
const leastStartRatio = 2.5

// TriplingRule is the trade's shortcut for surge: three times the running
// power. It is here to be shown beside [Nameplate.Start], not to be used: a
// 1/4 hp capacitor-start motor takes 7.3 times its running watts, a two-wire
// submersible five times its greatest running amperes. NaN passes through.
//
// Common practice.
func TriplingRule(running unit.Power) unit.Power { return 3 * running }
