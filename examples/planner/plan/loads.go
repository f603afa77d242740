package plan

import (
	"errors"
	"fmt"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

// A load is one load of the site with what it draws running and starting.
type load struct {
	*Load

	table string // "load[0]"
	key   string // "well_pump"

	plate     [2]motor.Nameplate // at the low and the high end of what is typed
	run       motor.Running
	runBasis  Basis  // of the real power
	vaBasis   Basis  // of current and apparent power
	runHow    string // in words, for the explanation
	average   motor.Range[unit.Power]
	avgBasis  Basis
	dutyBasis Basis
	duty      motor.Range[float64]
	dutyHow   string // in numbers, for the explanation
	metered   bool   // duty follows from a metered average

	start      motor.StartDemand // at the motor's rated voltage
	startBasis Basis             // of the watts
	startVA    Basis             // of the volt-amperes
	unsure     string            // why the start is no more than a guess; "": it is
	noStart    bool              // heater or electronics
	duration   motor.Range[unit.Time]
	path       [2]complex128 // impedance of the wires to it, out and back, least and greatest
}

// readLoads works out what each load draws.
func (m *maker) readLoads() error {
	var errs []error
	seen := map[string]bool{}
	tanks := 0
	for i := range m.site.Loads {
		l := load{Load: &m.site.Loads[i], table: fmt.Sprintf("load[%d]", i), key: slug(m.site.Loads[i].Name)}
		for n, key := 2, l.key; seen[l.key]; n++ {
			l.key = fmt.Sprintf("%s_%d", key, n)
		}
		seen[l.key] = true
		if l.FillsTank {
			tanks++
		}
		m.plan.Keys = append(m.plan.Keys, l.key)
		errs = append(errs, m.readLoad(&l))
		m.loads = append(m.loads, l)
	}
	if tanks > 1 {
		errs = append(errs, m.site.at("load[0]", errors.New("more than one load fills the tank; the planner knows one")))
	}
	if tanks == 0 && m.site.Outage.WaterUse.Given() {
		m.assume("outage.water_use is not used: no load has fills_tank = true")
	}
	return errors.Join(errs...)
}

func (m *maker) readLoad(l *load) error {
	if l.Phases == 0 {
		l.Phases = 1
		m.assume("%s: one phase", l.Name)
	}
	if !l.Voltage.Given() {
		l.Voltage = l.Measured.Voltage
	}
	var faults [2]error
	for end := range l.plate {
		l.plate[end], faults[end] = l.nameplate(end)
	}
	// Faults of the plate are said once, of the low end first.
	if err := first(faults[:]...); err != nil {
		return m.fault(l.table, err)
	}
	if l.Breaker.High > mostBreaker {
		return m.site.at(l.table+".breaker", fmt.Errorf("breaker %s A, want %d A at most", num(l.Breaker.High), mostBreaker))
	}
	if err := m.readRunning(l); err != nil {
		return err
	}
	l.vaBasis = max(l.vaBasis, basisOf(l.run.CurrentBasis))
	if err := m.readStart(l); err != nil {
		return err
	}
	if err := m.readDuty(l); err != nil {
		return err
	}
	return m.readPath(l)
}

// mostBreaker is more than a household circuit has (A).
const mostBreaker = 1000

// nameplate is the plate at the low (0) or the high (1) end of what is typed.
// Ranges of efficiency and power factor need not fit the rest at both of their
// ends: of the four combinations the first that does is taken.
func (l *load) nameplate(end int) (motor.Nameplate, error) {
	n := l.corner(end, 1-end, end) // a worse motor draws more
	fault := n.Validate()
	for _, c := range [][2]int{{end, end}, {1 - end, 1 - end}, {end, 1 - end}} {
		if !errors.Is(fault, motor.ErrDomain) {
			break
		}
		if other := l.corner(end, c[0], c[1]); other.Validate() == nil {
			return other, nil
		}
	}
	return n, fault
}

// corner is the plate with efficiency and power factor at ends of their own.
func (l *load) corner(end, efficiency, powerFactor int) motor.Nameplate {
	n := motor.Nameplate{Phases: l.Phases, Type: l.Motor, Code: l.CodeLetter}
	n.Output = pick(l.Output, end)
	n.Voltage = l.Voltage.Mid()
	n.FullLoadCurrent = pick(l.FullLoadCurrent, end)
	n.ServiceFactorCurrent = pick(l.ServiceFactorCurrent, end)
	n.LockedRotorCurrent = pick(l.LockedRotorCurrent, end)
	n.ServiceFactor = float64(pick(l.ServiceFactor, end))
	n.Efficiency = float64(pick(l.Efficiency, efficiency))
	n.PowerFactor = float64(pick(l.PowerFactor, powerFactor))
	return n
}

func pick[T ~float64](v Value[T], end int) T {
	if end == 0 {
		return v.Low
	}
	return v.High
}

// readRunning finds the running power from the best that there is: meters at
// the plug, meters on both sides of the inverter, the plate.
func (m *maker) readRunning(l *load) error {
	r := &l.Measured
	switch {
	case r.DCVoltage.Given() && !r.DCCurrent.Given():
		return m.site.at(l.table+".measured.dc_voltage", errors.New("dc_voltage says nothing without dc_current"))
	case r.DCCurrent.Given():
		return m.fromBothSides(l)
	case r.Current.Given() || r.Apparent.Given():
		return m.fromMeter(l)
	case r.Power.Given():
		return m.fromWatts(l)
	case (r.Average.Given() || r.Energy.Given() && r.Over.Given()) &&
		!l.FullLoadCurrent.Given() && !l.ServiceFactorCurrent.Given() && !l.Output.Given():
		return m.fromAverage(l)
	}
	l.runBasis = worst(l.Voltage.Basis, l.FullLoadCurrent.Basis, l.Output.Basis, l.Efficiency.Basis, l.PowerFactor.Basis,
		l.ServiceFactorCurrent.Basis)
	l.vaBasis = worst(l.Voltage.Basis, l.FullLoadCurrent.Basis, l.ServiceFactorCurrent.Basis)
	l.runHow = "nameplate, rated load"
	low, err1 := l.plate[0].Running()
	high, err2 := l.plate[1].Running()
	if err := first(err1, err2); err != nil {
		if errors.Is(err, motor.ErrMissing) {
			return m.site.at(l.table, errors.New("says nothing of what it draws: want a nameplate current, an output, or readings"))
		}
		return m.fault(l.table, err)
	}
	// Pump motors run into their service factor, so its load is the high end.
	if sf, err := l.plate[1].RunningAtServiceFactor(); err == nil {
		high = sf
		l.runHow = "nameplate, rated load to service-factor load"
	}
	l.run = spread(low, high)
	l.runBasis = worst(l.runBasis, basisOf(l.run.Basis))
	return nil
}

// spread joins the figures of two ends.
func spread(a, b motor.Running) motor.Running {
	a.Current = hull(a.Current, b.Current)
	a.Apparent = hull(a.Apparent, b.Apparent)
	a.Real = hull(a.Real, b.Real)
	a.PowerFactor = hull(a.PowerFactor, b.PowerFactor)
	a.Basis, a.CurrentBasis = max(a.Basis, b.Basis), max(a.CurrentBasis, b.CurrentBasis)
	return a
}

func hull[T ~float64](a, b motor.Range[T]) motor.Range[T] {
	return motor.Range[T]{Low: min(a.Low, b.Low), High: max(a.High, b.High)}
}

func (m *maker) fromMeter(l *load) error {
	r := &l.Measured
	v := r.Voltage
	if !v.Given() {
		v = l.Voltage
	}
	var ends [2]motor.Running
	for end := range ends {
		var err error
		ends[end], err = motor.Reading{
			Voltage: pick(v, end), Phases: l.Phases, Current: pick(r.Current, end), Apparent: pick(r.Apparent, end),
			Real: pick(r.Power, end), Type: l.Motor,
		}.Running()
		if err != nil {
			return m.fault(l.table+".measured", err)
		}
	}
	l.run = spread(ends[0], ends[1])
	l.vaBasis = worst(v.Basis, r.Current.Basis, r.Apparent.Basis)
	l.runBasis = worst(l.vaBasis, r.Power.Basis)
	l.runHow = "meter at the load"
	if !r.Power.Given() {
		l.runBasis, l.runHow = worst(l.runBasis, RuleOfThumb), "meter at the load, power factor typical of the type"
	}
	return nil
}

// fromAverage is the case of a meter left running and nothing else: an
// appliance that cycles runs a fifth of the time to all of it.
func (m *maker) fromAverage(l *load) error {
	r := &l.Measured
	average := r.Average
	if !average.Given() {
		average = Value[unit.Power]{
			Low: unit.Power(float64(r.Energy.Low) / float64(r.Over.High)), High: unit.Power(float64(r.Energy.High) / float64(r.Over.Low)),
			Basis: worst(r.Energy.Basis, r.Over.Basis),
		}
	}
	const leastDuty = 0.2
	r.Power = Value[unit.Power]{Low: average.Low, High: average.High / leastDuty, Basis: RuleOfThumb}
	m.assume("%s: %s W while running, as a metered average alone leaves open: on 20 to 100 %% of the time", l.Name, brief(r.Power.Low, r.Power.High))
	err := m.fromWatts(l)
	l.runHow = "a metered average, on 20 to 100 % of the time; volt-amperes by a power factor typical of the type"
	return err
}

// fromWatts is the case of a meter that shows watts alone.
func (m *maker) fromWatts(l *load) error {
	r := &l.Measured
	pf := motor.Range[float64]{Low: float64(l.PowerFactor.Low), High: float64(l.PowerFactor.High)}
	basis := l.PowerFactor.Basis
	if !l.PowerFactor.Given() {
		pf, basis = l.Motor.RatedPowerFactor(), RuleOfThumb
		if l.NoMotor {
			pf = motor.Exactly(1.0)
		}
	}
	var ends [2]motor.Running
	for end := range ends {
		w := pick(r.Power, end)
		var err error
		ends[end], err = motor.Reading{
			Voltage: l.Voltage.Mid(), Phases: l.Phases, Real: w,
			PowerFactor: [2]float64{pf.High, pf.Low}[end], Type: l.Motor,
		}.Running()
		if err != nil {
			return m.fault(l.table+".measured", err)
		}
	}
	l.run = spread(ends[0], ends[1])
	l.runBasis, l.vaBasis = r.Power.Basis, worst(r.Power.Basis, basis)
	l.runHow = "watts of a meter; volt-amperes by a power factor typical of the type"
	return nil
}

// fromBothSides concludes from volt-amperes at the plug and amperes at the
// battery.
func (m *maker) fromBothSides(l *load) error {
	r := &l.Measured
	v := r.Voltage
	if !v.Given() {
		v = l.Voltage
	}
	dcV := r.DCVoltage
	if !dcV.Given() {
		dcV = dcV.or(m.bank.Voltage())
		m.assume("%s: measured.dc_voltage %s V, the bank's nominal voltage", l.Name, num(dcV.Low))
	}
	stated := m.site.Inverter.Efficiency
	var ends [2]motor.Running
	var effs []motor.Range[float64]
	for end := range ends {
		s := pick(r.Apparent, end)
		if !r.Apparent.Given() {
			i := r.Current
			if !i.Given() {
				i = l.FullLoadCurrent
			}
			s = motor.ApparentPower(float64(pick(v, end)) * float64(pick(i, end)))
		}
		// A label's efficiency is taken as it stands, ac over dc watts; points
		// give that of the power at hand.
		eff, err := motor.Range[float64]{Low: float64(stated.Low), High: float64(stated.High)}, error(nil)
		if len(m.site.Inverter.EfficiencyAt) > 0 {
			eff, err = m.inv.efficiencyAt(unit.Power(float64(pick(dcV, end)) * float64(pick(r.DCCurrent, end))))
		}
		if err != nil {
			return m.site.at(l.table+".measured.dc_current", err)
		}
		effs = append(effs, eff)
		ends[end], err = motor.DCSide{
			Apparent: s, PlugVoltage: pick(v, end), BatteryVoltage: pick(dcV, end), BatteryCurrent: pick(r.DCCurrent, end),
			Efficiency: eff,
		}.Running()
		if err != nil {
			return m.fault(l.table+".measured", err)
		}
	}
	l.run = spread(ends[0], ends[1])
	l.runBasis, l.vaBasis = worst(r.DCCurrent.Basis, dcV.Basis, m.inv.loss), worst(v.Basis, r.Apparent.Basis, r.Current.Basis)
	l.runHow = fmt.Sprintf("%s A at %s V from the battery times an inverter efficiency of %s, over the volt-amperes at the plug",
		span(r.DCCurrent.Low, r.DCCurrent.High), span(dcV.Low, dcV.High), span(hull(effs[0], effs[1]).Low, hull(effs[0], effs[1]).High))
	return nil
}

// readDuty finds the share of the time that the load runs, and its average.
func (m *maker) readDuty(l *load) error {
	r := &l.Measured
	switch {
	case r.Energy.Given() != r.Over.Given():
		return m.site.at(l.table+".measured", errors.New("energy and over need each other"))
	case r.Energy.Given():
		l.average = motor.Range[unit.Power]{
			Low:  unit.Power(float64(r.Energy.Low) / float64(r.Over.High)),
			High: unit.Power(float64(r.Energy.High) / float64(r.Over.Low)),
		}
		l.avgBasis = worst(r.Energy.Basis, r.Over.Basis)
	case r.Average.Given():
		l.average = motor.Range[unit.Power]{Low: r.Average.Low, High: r.Average.High}
		l.avgBasis = r.Average.Basis
	}
	if l.average.High > 0 {
		if l.average.Low > l.run.Real.High*1.001 {
			return m.site.at(l.table+".measured", fmt.Errorf(
				"an average of %s W against %s W while running; want an average not above the running power",
				span(l.average.Low, l.average.High), span(l.run.Real.Low, l.run.Real.High)))
		}
		l.duty = motor.Range[float64]{
			Low:  min(1, float64(l.average.Low/l.run.Real.High)),
			High: min(1, float64(l.average.High/l.run.Real.Low)),
		}
		l.metered, l.dutyBasis = true, worst(l.avgBasis, l.runBasis)
		l.dutyHow = fmt.Sprintf("%s W on average by the meter, %s W while running",
			span(l.average.Low, l.average.High), span(l.run.Real.Low, l.run.Real.High))
		return nil
	}
	l.avgBasis, l.dutyBasis = worst(l.runBasis, l.Duty.Basis), l.Duty.Basis
	switch {
	case l.Duty.Given() && l.FillsTank && l.Flow.Given() && m.site.Outage.WaterUse.Given():
		return m.site.at(l.table+".duty", errors.New("duty and water_use over flow say the same thing of the pump that fills the tank; leave duty out"))
	case l.Duty.Given():
		if !(l.Duty.Low >= 0 && l.Duty.High <= 1) {
			return m.site.at(l.table+".duty", fmt.Errorf("duty %s, want 0 to 100 %%", span(l.Duty.Low, l.Duty.High)))
		}
		l.duty = motor.Range[float64]{Low: float64(l.Duty.Low), High: float64(l.Duty.High)}
		l.dutyHow = span(100*l.Duty.Low, 100*l.Duty.High) + " % as stated"
	case l.FillsTank && l.Flow.Given() && m.site.Outage.WaterUse.Given():
		use := m.site.Outage.WaterUse
		// A demand above the pump's flow is an answer: it never stops.
		l.duty = motor.Range[float64]{Low: min(1, float64(use.Low/l.Flow.High)), High: min(1, float64(use.High/l.Flow.Low))}
		l.dutyBasis = worst(use.Basis, l.Flow.Basis)
		l.avgBasis = worst(l.avgBasis, l.dutyBasis)
		l.dutyHow = fmt.Sprintf("%s L/day over %s L/min", span(use.Low/tank.LitrePerDay, use.High/tank.LitrePerDay),
			span(l.Flow.Low/tank.LitrePerMinute, l.Flow.High/tank.LitrePerMinute))
	default:
		l.duty = motor.Exactly(1.0)
		l.avgBasis, l.dutyBasis = Assumed, Assumed
		l.dutyHow = "100 %, assumed"
		m.assume("%s: duty 100 %%, runs all the time; say how much it really runs", l.Name)
	}
	l.average = motor.Range[unit.Power]{
		Low:  unit.Power(l.duty.Low) * l.run.Real.Low,
		High: unit.Power(l.duty.High) * l.run.Real.High,
	}
	return nil
}

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
