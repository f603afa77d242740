package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

// showCycling adds pump minutes and starts.
func (m *maker) showCycling(s *Section) error {
	w, pump := &m.water, m.water.pump
	if err := m.showWell(s); err != nil {
		return err
	}
	flow, ok := w.flow(pump)
	if !ok {
		s.note("%s: no flow is given, so litres and starts cannot be computed.", pump.Name)
		return nil
	}
	flowBasis := w.flowBasis(pump)
	day := motor.Range[unit.Time]{Low: unit.Time(pump.duty.Low) * tank.Day, High: unit.Time(pump.duty.High) * tank.Day}
	s.add(Figure{
		Key: pump.key + ".per_day_min", Label: "Pump minutes a day", Unit: "min", Low: float64(day.Low / tank.Minute), High: float64(day.High / tank.Minute),
		Basis: pump.dutyBasis, Formula: "t = duty times a day; where use and flow are known, from the day followed", Source: "water balance of a day, Boyle's law",
		Numbers: pump.dutyHow,
	})
	if w.perDay.High > 0 {
		m.check(Check{
			ID: pump.key + ".demand", Title: pump.Name + ": delivers more than the use asks for", Unit: "L/min",
			Low: float64(w.perDay.Low / tank.LitrePerMinute), High: float64(w.perDay.High / tank.LitrePerMinute),
			Limit: float64(flow.Low / tank.LitrePerMinute), GoodLimit: float64(flow.High / tank.LitrePerMinute),
			Basis: worst(flowBasis, m.site.Outage.WaterUse.Basis), Message: "A pump that delivers no more than is drawn never stops, and water runs short.",
			Source: "water balance",
		})
	}
	if w.drawdown.High == 0 {
		return nil
	}
	// The longest run has the largest drawdown and the slowest pump.
	basis := worst(w.basis, flowBasis)
	m.showDay(s, basis)
	run, worstCycle, bestCycle, err := w.cycles(flow)
	if errors.Is(err, tank.ErrNeverStops) || errors.Is(err, tank.ErrBeyondCurve) {
		s.note("%s: no cycle, as %v.", pump.Name, err)
		return nil
	}
	if err != nil {
		return m.fault(pump.table, err)
	}
	s.add(Figure{
		Key: pump.key + ".shortest_run_min", Label: "Shortest run of the pump", Unit: "min", Low: float64(run.Low / tank.Minute), High: float64(run.High / tank.Minute),
		Basis: basis, Formula: "Ton = ∫ dV/Q(V), which is Vd/Q at a constant flow", Source: "water balance, nothing drawn while the pump runs",
		Numbers: fmt.Sprintf("Vd = %s L, Q = %s L/min", span(w.drawdown.Low/tank.Litre, w.drawdown.High/tank.Litre), brief(flow.Low/tank.LitrePerMinute, flow.High/tank.LitrePerMinute)),
	})
	s.add(Figure{
		Key: pump.key + ".worst_starts_per_hour", Label: "Starts an hour at the worst demand", Unit: "an hour",
		Low: float64(bestCycle.Starts / tank.PerHour), High: float64(worstCycle.Starts / tank.PerHour), Basis: basis,
		Also:    fmt.Sprintf("at about half the pump's flow, %s L/min", brief(worstCycle.Demand/tank.LitrePerMinute, worstCycle.Demand/tank.LitrePerMinute)),
		Formula: "N = 1/(Ton + Toff) at the demand q where it is greatest, Ton = ∫ dV/(Q(V) - q), Toff = Vd/q; at a constant flow Q/(4·Vd)", Source: "dT/dq = 0, near q = Q/2",
		Numbers: fmt.Sprintf("Vd = %s L, Q = %s L/min", span(w.drawdown.Low/tank.Litre, w.drawdown.High/tank.Litre), brief(flow.High/tank.LitrePerMinute, flow.High/tank.LitrePerMinute)),
	})
	if pump.Output.Given() {
		practice, err := tank.PracticeFor(pump.Output.Mid(), pump.Phases)
		if err != nil {
			s.note("%s: no custom for the starts of a motor of this size: %v.", pump.Name, err)
			return nil
		}
		m.check(Check{
			ID: pump.key + ".run", Title: pump.Name + ": shortest run", Unit: "min", AtLeast: true, Advice: true,
			Low: float64(run.Low / tank.Minute), High: float64(run.High / tank.Minute), Limit: float64(practice.Run / tank.Minute), Basis: basis,
			Message: "A start heats the motor; it needs this run to carry the heat off. A larger tank or a wider differential lengthens it, and spares the inverter starts.",
			Source:  "common practice: motor makers' application manuals",
		})
		m.check(Check{
			ID: pump.key + ".starts", Title: pump.Name + ": starts an hour at the worst demand", Unit: "an hour", Advice: true,
			Low: float64(bestCycle.Starts / tank.PerHour), High: float64(worstCycle.Starts / tank.PerHour), Limit: float64(practice.HourlyStarts / tank.PerHour), Basis: basis,
			Message: "Only at a steady draw of half the pump's flow; a garden hose does that.",
			Source:  "common practice: residential pressure tank standard",
		})
	}
	return nil
}

// cycles is the shortest run, and the cycle at the worst demand of the fastest
// and of the slowest pump.
func (w *water) cycles(flow motor.Range[tank.FlowRate]) (run motor.Range[unit.Time], worst, best tank.Cycle, err error) {
	take := func(i int, t unit.Time, c tank.Cycle) {
		if i == 0 {
			run, worst, best = motor.Exactly(t), c, c
		}
		run = hull(run, motor.Exactly(t))
		if c.Starts > worst.Starts {
			worst = c
		}
		if c.Starts < best.Starts {
			best = c
		}
	}
	for i, s := range w.supplies {
		f, err1 := s.Fill(0, tank.Isothermal)
		c, err2 := s.WorstDemand()
		if err := first(err1, err2); err != nil {
			return run, worst, best, err
		}
		take(i, f.Time, c)
	}
	if len(w.supplies) > 0 {
		return run, worst, best, nil
	}
	for i, s := range []tank.System{{Drawdown: w.drawdown.High, Pump: flow.Low}, {Drawdown: w.drawdown.Low, Pump: flow.High}} {
		t, err1 := s.ShortestRun()
		c, err2 := s.WorstDemand()
		if err := first(err1, err2); err != nil {
			return run, worst, best, err
		}
		take(i, t, c)
	}
	return run, worst, best, nil
}

// showVolume adds how much water the battery is good for.
func (m *maker) showVolume(s *Section) error {
	w, pump := &m.water, m.water.pump
	flow, ok := w.flow(pump)
	if !ok {
		return nil
	}
	if m.hours.duty.High > 0 && w.perDay.High > 0 {
		v := motor.Range[unit.Volume]{
			Low:  unit.Volume(float64(w.perDay.Low) * float64(m.hours.duty.Low)),
			High: unit.Volume(float64(w.perDay.High) * float64(m.hours.duty.High)),
		}
		low, high, gal := litres(v)
		s.add(Figure{
			Key: "water.at_use_l", Label: "Water over the run time, at the stated use", Unit: "L", Low: low, High: high, Also: gal,
			Basis: worst(pump.avgBasis, m.bank.basis), Formula: "use times run time", Source: "water balance",
			Numbers: fmt.Sprintf("%s L/day for %s h", span(w.perDay.Low/tank.LitrePerDay, w.perDay.High/tank.LitrePerDay), span(m.hours.duty.Low/battery.Hour, m.hours.duty.High/battery.Hour)),
		})
		s.add(Figure{
			Key: "water.at_use_days", Label: "Days at the stated use", Unit: "days",
			Low: float64(m.hours.duty.Low / tank.Day), High: float64(m.hours.duty.High / tank.Day), Basis: worst(pump.avgBasis, m.bank.basis),
			Formula: "run time over 24 h", Numbers: span(m.hours.duty.Low/battery.Hour, m.hours.duty.High/battery.Hour) + " h", Source: "the run time at the stated duty",
		})
	}
	return first(m.showPumpOnly(s, flow), m.showStored(s, flow))
}

// pumpAlone is the pump running and nothing else, at one end of what is known.
func (m *maker) pumpAlone(good bool) (phase, error) {
	r := m.water.pump.run
	f := phase{share: 1, real: r.Real.High, apparent: r.Apparent.High}
	if good {
		f.real, f.apparent = r.Real.Low, r.Apparent.Low
	}
	err := m.feed(&f, good)
	return f, err
}

// showPumpOnly adds the water if the battery did nothing but pump.
func (m *maker) showPumpOnly(s *Section, flow motor.Range[tank.FlowRate]) error {
	pump := m.water.pump
	var ends [2]unit.Time
	var amps [2]unit.Current
	for i, good := range []bool{false, true} {
		c := m.bank.bad
		if good {
			c = m.bank.good
		}
		f, err := m.pumpAlone(good)
		if err != nil {
			s.note("Pumping alone: %v.", err)
			return nil
		}
		u, err := usable(c, f.current)
		if err != nil {
			return m.beyond(s, "Pumping alone", err)
		}
		ends[i], amps[i] = u.Runtime, f.current
	}
	m.hours.pumping = motor.Range[unit.Time]{Low: ends[0], High: max(ends[0], ends[1])}
	low, high, gal := litres(motor.Range[unit.Volume]{
		Low:  unit.Volume(float64(flow.Low) * float64(ends[0])),
		High: unit.Volume(float64(flow.High) * float64(m.hours.pumping.High)),
	})
	s.add(Figure{
		Key: "water.pump_only_l", Label: "Water per charge, if the battery did nothing but pump", Unit: "L", Low: low, High: high, Also: gal,
		Basis: worst(pump.runBasis, m.water.flowBasis(pump), m.bank.basis, m.inv.loss), Formula: "flow times run time of the pump alone", Source: peukertSource,
		Numbers: fmt.Sprintf("%s A dc, %s h, %s L/min", span(amps[1], amps[0]), span(ends[0]/battery.Hour, m.hours.pumping.High/battery.Hour),
			brief(flow.Low/tank.LitrePerMinute, flow.High/tank.LitrePerMinute)),
	})
	return nil
}
