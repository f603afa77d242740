package plan

import (
	"errors"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// driven maps the key drives.
var driven = map[string]motor.DrivenLoad{
	"": motor.UnknownLoad, "other": motor.UnknownLoad, "pump": motor.Pump,
	"submersible pump": motor.SubmersiblePump, "compressor": motor.Compressor,
}

// Starting over running current where nothing at all is known of a start.
const (
	assumedMultiplierLow  = 2
	assumedMultiplierHigh = 10
)

// readStart finds what the load asks for when it is switched on.
func (m *maker) readStart(l *load) error {
	kind, ok := driven[l.Drives]
	if !ok {
		return m.site.at(l.table+".drives", errors.New(`want "pump", "submersible pump", "compressor" or "other"`))
	}
	l.duration = kind.StartDuration()
	durationBasis := RuleOfThumb
	if l.StartTime.Given() {
		if !(l.StartTime.Low >= 0.01 && l.StartTime.High <= 60) {
			return m.site.at(l.table+".start_time", errors.New("start_time "+span(l.StartTime.Low, l.StartTime.High)+" s, want 0.01 s to 60 s"))
		}
		l.duration = motor.Range[unit.Time]{Low: l.StartTime.Low, High: l.StartTime.High}
		durationBasis = l.StartTime.Basis
	}
	if l.NoMotor {
		l.noStart = true
		return nil
	}
	r := &l.Measured
	evidence := motor.StartEvidence{Driven: kind, Running: l.run.Current}
	if r.Inrush.Given() {
		evidence.Inrush = motor.Range[unit.Current]{Low: r.Inrush.Low, High: r.Inrush.High}
		evidence.InrushVoltage = r.Voltage.Mid()
	}
	var ends [2]motor.StartDemand
	for end := range ends {
		var err error
		if ends[end], err = m.startOf(l, end, &evidence); err != nil {
			return m.fault(l.table, err)
		}
	}
	l.start = ends[0]
	l.start.Current = hull(ends[0].Current, ends[1].Current)
	l.start.Apparent = hull(ends[0].Apparent, ends[1].Apparent)
	l.start.Real = hull(ends[0].Real, ends[1].Real)
	l.start.PowerFactor = hull(ends[0].PowerFactor, ends[1].PowerFactor)
	l.start.Unbounded = ends[0].Unbounded || ends[1].Unbounded
	l.startVA = worst(basisOf(l.start.Basis), l.typedBasis())
	if evidence.Multiplier.High > 0 {
		l.startVA = Assumed
		l.unsure = "nothing is said of its start; a locked-rotor current or a code letter would tell"
	}
	if l.start.SuspectInrush {
		l.unsure = "the measured inrush is below 2.5 times the running current, which a slow meter shows"
	}
	l.startBasis = worst(l.startVA, durationBasis, basisOf(l.start.PowerFactorBasis))
	if l.start.Unbounded {
		// The letter V has no upper limit: all figures are then the least.
		l.start.Current.High, l.start.Apparent.High = l.start.Current.Low, l.start.Apparent.Low
		l.start.Real.High = unit.Power(float64(l.start.Apparent.Low) * l.start.PowerFactor.High)
	}
	return nil
}

// typedBasis is the basis that the site file gives for what the start rests on.
func (l *load) typedBasis() Basis {
	switch l.start.Basis {
	case motor.BasisMeasured:
		return l.Measured.Inrush.Basis
	case motor.BasisNameplate:
		return l.LockedRotorCurrent.Basis
	case motor.BasisCodeLetter, motor.BasisCodeTable:
		return l.Output.Basis
	}
	return Exact
}

// startOf returns the start at one end of what is typed. A measured inrush
// that a slow meter must have missed gives way to the plate, a horsepower
// between two of the code table to both of them, and no evidence at all to a
// wide multiple of the running current.
func (m *maker) startOf(l *load, end int, evidence *motor.StartEvidence) (motor.StartDemand, error) {
	d, err := l.plate[end].Start(*evidence)
	if err == nil && d.SuspectInrush {
		without := *evidence
		without.Inrush = motor.Range[unit.Current]{}
		if better, err := l.plate[end].Start(without); err == nil {
			if end == 0 {
				m.assume("%s: the measured inrush of %s A is not used: below 2.5 times the running current a meter was too slow; taken from the %v instead",
					l.Name, span(evidence.Inrush.Low, evidence.Inrush.High), better.Basis)
			}
			return better, nil
		}
	}
	if !errors.Is(err, motor.ErrMissing) {
		return d, err
	}
	if low, high, ok := between(l.plate[end]); ok {
		if end == 0 {
			m.assume("%s: start between those of the code table's neighbouring sizes, %s A and %s A", l.Name, num(low), num(high))
		}
		evidence.Inrush, evidence.InrushVoltage = motor.Range[unit.Current]{Low: low, High: high}, 0
		d, err := l.plate[end].StartFrom(motor.BasisMeasured, *evidence)
		d.Basis, d.SuspectInrush = motor.BasisCodeTable, false
		return d, err
	}
	evidence.Multiplier = motor.Range[float64]{Low: assumedMultiplierLow, High: assumedMultiplierHigh}
	if end == 0 {
		m.assume("%s: start at %d to %d times the running current, as nothing is said of it; a locked-rotor current or code letter would tell",
			l.Name, assumedMultiplierLow, assumedMultiplierHigh)
	}
	return l.plate[end].Start(*evidence)
}

// codeSizes are the horsepowers that the code tables list for single-phase
// motors.
var codeSizes = []float64{0.5, 0.75, 1, 1.5, 2, 3, 5, 7.5, 10}

// between returns the locked-rotor currents of the code table's sizes below
// and above that of the plate.
func between(n motor.Nameplate) (low, high unit.Current, ok bool) {
	hp := float64(n.Output / motor.Horsepower)
	for i := 1; i < len(codeSizes); i++ {
		if hp > codeSizes[i-1] && hp < codeSizes[i] {
			a, err1 := motor.CodeLockedRotorCurrent(unit.Power(codeSizes[i-1])*motor.Horsepower, n.Voltage, n.Phases)
			b, err2 := motor.CodeLockedRotorCurrent(unit.Power(codeSizes[i])*motor.Horsepower, n.Voltage, n.Phases)
			return a, b, err1 == nil && err2 == nil
		}
	}
	return 0, 0, false
}

// corners returns what the start takes from a supply of voltage v through its
// wires: volt-amperes, watts and the voltage left at the motor over its
// rated one, least to greatest. The rotor held still is an impedance, so all
// three follow from the voltage divider.
func (l *load) corners(v unit.Voltage) (s motor.Range[motor.ApparentPower], p motor.Range[unit.Power], left motor.Range[float64], err error) {
	d := l.start
	d.Unbounded = false
	zs, err := d.Impedances()
	if err != nil {
		return s, p, left, err
	}
	for n, zm := range zs {
		for k, z := range l.path {
			total := zm + z
			i := float64(v) / cmplx.Abs(total)
			va, w := motor.ApparentPower(float64(v)*i), unit.Power(i*i*real(total))
			u := i * cmplx.Abs(zm) / float64(l.plate[0].Voltage)
			if n == 0 && k == 0 {
				s, p, left = motor.Exactly(va), motor.Exactly(w), motor.Exactly(u)
				continue
			}
			s, p, left = hull(s, motor.Exactly(va)), hull(p, motor.Exactly(w)), hull(left, motor.Exactly(u))
		}
	}
	return s, p, left, nil
}
