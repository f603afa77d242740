package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

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
