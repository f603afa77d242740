package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

// water is the tank of the site and the pump that fills it.
type water struct {
	given  bool
	vessel []tank.Vessel // one at each corner of what is known, the middle first
	basis  Basis
	pump   *load // nil: no load fills the tank

	drawdown motor.Range[unit.Volume] // zero: the tank gives nothing that can be cycled
	perDay   motor.Range[tank.FlowRate]
}

// readWater turns the [tank] table into a vessel.
func (m *maker) readWater() error {
	s, w := &m.site.Tank, &m.water
	for i := range m.loads {
		if m.loads[i].FillsTank {
			w.pump = &m.loads[i]
		}
	}
	if use := m.site.Outage.WaterUse; use.Given() {
		w.perDay = motor.Range[tank.FlowRate]{Low: use.Low, High: use.High}
	}
	if t := m.site.Outage.Length; t.Given() && !(t.Low >= 60 && t.High <= 400*24*3600) {
		return m.site.at("outage.length", fmt.Errorf("length %s h, want 1 min to 400 days", span(t.Low/3600, t.High/3600)))
	}
	given := 0
	for _, g := range []bool{s.Volume.Given(), s.Precharge.Given(), s.CutIn.Given(), s.CutOut.Given()} {
		if g {
			given++
		}
	}
	if given == 0 {
		return nil
	}
	if given < 4 {
		return m.site.at("tank", errors.New("want all of volume, precharge, cut_in and cut_out, or none of them"))
	}
	w.given = true
	w.basis = worst(s.Volume.Basis, s.Precharge.Basis, s.CutIn.Basis, s.CutOut.Basis)
	var air [2]unit.Pressure // zero: the standard atmosphere
	if m.site.Altitude.Given() {
		var err1, err2 error
		air[0], err1 = tank.StandardPressure(m.site.Altitude.Low)
		air[1], err2 = tank.StandardPressure(m.site.Altitude.High)
		if err := first(err1, err2); err != nil {
			return m.site.at("altitude", err)
		}
	} else {
		m.assume("altitude: sea level")
	}
	w.vessel = []tank.Vessel{{
		Volume: s.Volume.Mid(), Precharge: s.Precharge.Mid(), CutIn: s.CutIn.Mid(), CutOut: s.CutOut.Mid(), Atmosphere: air[0],
	}}
	for corner := range 1 << 5 {
		end := func(bit int) int { return corner >> bit & 1 }
		w.vessel = append(w.vessel, tank.Vessel{
			Volume: pick(s.Volume, end(0)), Precharge: pick(s.Precharge, end(1)), CutIn: pick(s.CutIn, end(2)),
			CutOut: pick(s.CutOut, end(3)), Atmosphere: air[end(4)],
		})
	}
	for _, v := range w.vessel {
		if err := v.Validate(); err != nil {
			return m.fault("tank", err)
		}
	}
	return nil
}

// over returns the range of a figure over the corners of what is known of the
// tank. Corners whose precharge is above cut-in have no drawdown and are
// passed over; some is false if all are.
func (w *water) over(f func(tank.Vessel) (float64, error)) (r motor.Range[float64], some bool, err error) {
	for _, v := range w.vessel {
		x, err := f(v)
		if errors.Is(err, tank.ErrPrechargeAboveCutIn) {
			continue
		}
		if err != nil {
			return r, false, err
		}
		if !some {
			r, some = motor.Exactly(x), true
		}
		r = hull(r, motor.Exactly(x))
	}
	return r, some, nil
}

const boyle = "Vd = V·(Ppre + Pa)·[1/(Pon + Pa) - 1/(Poff + Pa)]"

// showWater adds tank, cycling and litres.
func (m *maker) showWater() error {
	s := Section{Title: "Water"}
	if m.water.given {
		if err := m.showTank(&s); err != nil {
			return err
		}
	}
	if m.water.pump != nil {
		if err := m.showCycling(&s); err != nil {
			return err
		}
		if err := m.showVolume(&s); err != nil {
			return err
		}
	}
	m.show(s)
	return nil
}

func (m *maker) tankText() string {
	s, v := m.site.Tank, m.water.vessel[0]
	atm := "sea level"
	if v.Atmosphere != 0 {
		atm = num(v.Atmosphere/tank.PSI) + " psi of air at this altitude"
	}
	return fmt.Sprintf("V = %s gal, Ppre = %s, Pon = %s, Poff = %s psi gauge, %s", span(s.Volume.Low/tank.USGallon, s.Volume.High/tank.USGallon),
		span(s.Precharge.Low/tank.PSI, s.Precharge.High/tank.PSI), span(s.CutIn.Low/tank.PSI, s.CutIn.High/tank.PSI),
		span(s.CutOut.Low/tank.PSI, s.CutOut.High/tank.PSI), atm)
}

func litres(v motor.Range[unit.Volume]) (low, high float64, gallons string) {
	return float64(v.Low / tank.Litre), float64(v.High / tank.Litre), in(v.Low, v.High, tank.USGallon, "gal")
}

func (m *maker) showTank(s *Section) error {
	w, t := &m.water, &m.site.Tank
	least, _, err1 := w.over(func(v tank.Vessel) (float64, error) {
		r, err := v.WaterWhenPowerFails()
		return float64(r.Low), err
	})
	most, _, err2 := w.over(func(v tank.Vessel) (float64, error) {
		r, err := v.WaterWhenPowerFails()
		return float64(r.High), err
	})
	drawdown, cycles, err3 := w.over(func(v tank.Vessel) (float64, error) {
		d, err := v.Drawdown()
		return float64(d), err
	})
	if err := first(err1, err2, err3); err != nil {
		return m.fault("tank", err)
	}
	left := motor.Range[unit.Volume]{Low: unit.Volume(least.Low), High: unit.Volume(most.High)}
	_, err := w.vessel[0].Drawdown()
	var above *tank.PrechargeError
	m.check(Check{
		ID: "tank.precharge", Title: "tank precharge not above cut-in", Unit: "psi", Setting: true,
		Low: float64(t.Precharge.Low / tank.PSI), High: float64(t.Precharge.High / tank.PSI),
		Limit: float64(t.CutIn.Low / tank.PSI), GoodLimit: float64(t.CutIn.High / tank.PSI), Basis: w.basis,
		Message: "With the precharge above cut-in the tank is empty before the pump starts. Set it 2 psi below cut-in, with the water side drained.",
		Source:  "common practice: cut-in less 2 psi",
	})
	switch {
	case errors.As(err, &above):
		low, high, gal := litres(motor.Exactly(above.Usable))
		s.add(Figure{
			Key: "tank.usable_l", Label: "What the tank gives before it runs dry", Unit: "L", Low: low, High: high, Also: gal, Basis: w.basis,
			Formula: "V·[1 - (Ppre + Pa)/(Poff + Pa)]", Numbers: m.tankText(), Source: "Boyle's law",
		})
		s.note("The precharge is above the cut-in: the taps run dry between the tank's emptying and the pump's start, in every cycle.")
	case err != nil:
		return m.fault("tank", err)
	case cycles:
		if err := m.showDrawdown(s, motor.Range[unit.Volume]{Low: unit.Volume(drawdown.Low), High: unit.Volume(drawdown.High)}); err != nil {
			return err
		}
	}
	low, high, gal := litres(left)
	s.add(Figure{
		Key: "tank.left_l", Label: "Water in the tank when the power fails", Unit: "L", Low: low, High: high, Also: gal, Basis: w.basis,
		Formula: "V·[1 - (Ppre + Pa)/(P + Pa)], P from cut-in to cut-out", Numbers: m.tankText(), Source: "Boyle's law",
	})
	return nil
}

func (m *maker) showDrawdown(s *Section, drawdown motor.Range[unit.Volume]) error {
	w := &m.water
	w.drawdown = drawdown
	naive, err1 := w.vessel[0].GaugeOnlyDrawdown()
	factor, _, err2 := w.over(tank.Vessel.AcceptanceFactor)
	third, err3 := w.vessel[0].ThirdOfVolume()
	if err := first(err1, err2, err3); err != nil {
		return m.fault("tank", err)
	}
	low, high, gal := litres(drawdown)
	s.add(Figure{
		Key: "tank.drawdown_l", Label: "Drawdown, cut-out to cut-in", Unit: "L", Low: low, High: high, Also: gal, Basis: w.basis,
		Formula: boyle, Numbers: m.tankText(), Source: "Boyle's law; US Standard Atmosphere 1976 for the altitude",
		Shortcut: &Shortcut{
			Rule: "gauge pressures without the atmosphere", Value: float64(naive / tank.Litre),
			Why: "Air follows absolute pressure.",
		},
	})
	s.add(Figure{
		Key: "tank.acceptance_ratio", Label: "Acceptance factor, drawdown over volume", Low: factor.Low, High: factor.High, Basis: w.basis,
		Formula: "f = Vd/V", Numbers: m.tankText(), Source: "Boyle's law",
		Shortcut: &Shortcut{
			Rule: "a third of the tank", Value: float64(third / w.vessel[0].Volume),
			Why: "It depends on the switch: a third fits 20/40 psi, a quarter 40/60 psi.",
		},
	})
	return nil
}

// showCycling adds pump minutes and starts.
func (m *maker) showCycling(s *Section) error {
	w, pump := &m.water, m.water.pump
	if !pump.Flow.Given() {
		s.note("%s: no flow is given, so litres and starts cannot be computed.", pump.Name)
		return nil
	}
	day := motor.Range[unit.Time]{Low: unit.Time(pump.duty.Low) * tank.Day, High: unit.Time(pump.duty.High) * tank.Day}
	s.add(Figure{
		Key: pump.key + ".per_day_min", Label: "Pump minutes a day", Unit: "min", Low: float64(day.Low / tank.Minute), High: float64(day.High / tank.Minute),
		Basis: pump.dutyBasis, Formula: "t = duty times a day; the duty is use over flow where both are known", Source: "water balance of a day",
		Numbers: pump.dutyHow,
	})
	if w.perDay.High > 0 {
		m.check(Check{
			ID: pump.key + ".demand", Title: pump.Name + ": delivers more than the use asks for", Unit: "L/min",
			Low: float64(w.perDay.Low / tank.LitrePerMinute), High: float64(w.perDay.High / tank.LitrePerMinute),
			Limit: float64(pump.Flow.Low / tank.LitrePerMinute), GoodLimit: float64(pump.Flow.High / tank.LitrePerMinute),
			Basis: worst(pump.Flow.Basis, m.site.Outage.WaterUse.Basis), Message: "A pump that delivers no more than is drawn never stops, and water runs short.",
			Source: "water balance",
		})
	}
	if w.drawdown.High == 0 {
		return nil
	}
	// The longest run has the largest drawdown and the slowest pump.
	slow, fast := tank.System{Drawdown: w.drawdown.High, Pump: pump.Flow.Low}, tank.System{Drawdown: w.drawdown.Low, Pump: pump.Flow.High}
	run := motor.Range[unit.Time]{}
	var err1, err2 error
	run.High, err1 = slow.ShortestRun()
	run.Low, err2 = fast.ShortestRun()
	worstCycle, err3 := fast.WorstDemand()
	bestCycle, err4 := slow.WorstDemand()
	if err := first(err1, err2, err3, err4); err != nil {
		return m.fault(pump.table, err)
	}
	basis := worst(w.basis, pump.Flow.Basis)
	s.add(Figure{
		Key: pump.key + ".shortest_run_min", Label: "Shortest run of the pump", Unit: "min", Low: float64(run.Low / tank.Minute), High: float64(run.High / tank.Minute),
		Basis: basis, Formula: "Ton = Vd/Q", Source: "water balance, nothing drawn while the pump runs",
		Numbers: fmt.Sprintf("Vd = %s L, Q = %s L/min", span(w.drawdown.Low/tank.Litre, w.drawdown.High/tank.Litre), span(pump.Flow.Low/tank.LitrePerMinute, pump.Flow.High/tank.LitrePerMinute)),
	})
	if w.perDay.High > 0 {
		starts := motor.Range[float64]{
			Low:  float64(w.perDay.Low) * float64(tank.Day) / float64(w.drawdown.High),
			High: float64(w.perDay.High) * float64(tank.Day) / float64(w.drawdown.Low),
		}
		s.add(Figure{
			Key: pump.key + ".starts_per_day", Label: "Starts of the pump a day, at most", Unit: "a day", Low: starts.Low, High: starts.High, Basis: worst(basis, m.site.Outage.WaterUse.Basis),
			Formula: "N = use/Vd", Source: "water balance, each drawdown drawn while the pump rests",
			Numbers: fmt.Sprintf("use %s L/day, Vd = %s L", span(w.perDay.Low/tank.LitrePerDay, w.perDay.High/tank.LitrePerDay), span(w.drawdown.Low/tank.Litre, w.drawdown.High/tank.Litre)),
		})
	}
	s.add(Figure{
		Key: pump.key + ".worst_starts_per_hour", Label: "Starts an hour at the worst demand", Unit: "an hour",
		Low: float64(bestCycle.Starts / tank.PerHour), High: float64(worstCycle.Starts / tank.PerHour), Basis: basis,
		Also:    fmt.Sprintf("at half the pump's flow, %s L/min", num(worstCycle.Demand/tank.LitrePerMinute)),
		Formula: "N = Q/(4·Vd)", Source: "dT/dq = 0 at q = Q/2",
		Numbers: fmt.Sprintf("Vd = %s L, Q = %s L/min", span(w.drawdown.Low/tank.Litre, w.drawdown.High/tank.Litre), num(pump.Flow.High/tank.LitrePerMinute)),
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

// showVolume adds how much water the battery is good for.
func (m *maker) showVolume(s *Section) error {
	w, pump := &m.water, m.water.pump
	if !pump.Flow.Given() {
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
	return m.showPumpOnly(s)
}

// showPumpOnly adds the water if the battery did nothing but pump.
func (m *maker) showPumpOnly(s *Section) error {
	pump := m.water.pump
	var ends [2]unit.Time
	var amps [2]unit.Current
	for i, good := range []bool{false, true} {
		f := phase{share: 1, real: pump.run.Real.High, apparent: pump.run.Apparent.High}
		c := m.bank.bad
		if good {
			f.real, f.apparent, c = pump.run.Real.Low, pump.run.Apparent.Low, m.bank.good
		}
		if err := m.feed(&f, good); err != nil {
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
		Low:  unit.Volume(float64(pump.Flow.Low) * float64(ends[0])),
		High: unit.Volume(float64(pump.Flow.High) * float64(m.hours.pumping.High)),
	})
	s.add(Figure{
		Key: "water.pump_only_l", Label: "Water if the battery did nothing but pump", Unit: "L", Low: low, High: high, Also: gal,
		Basis: worst(pump.runBasis, pump.Flow.Basis, m.bank.basis, m.inv.loss), Formula: "flow times run time of the pump alone", Source: peukertSource,
		Numbers: fmt.Sprintf("%s A dc, %s h, %s L/min", span(amps[1], amps[0]), span(ends[0]/battery.Hour, m.hours.pumping.High/battery.Hour),
			span(pump.Flow.Low/tank.LitrePerMinute, pump.Flow.High/tank.LitrePerMinute)),
	})
	return nil
}
