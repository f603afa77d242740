package plan

import (
	"errors"
	"fmt"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
	"ridethrough.example/inverter"
	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

// showDay adds starts and energy of a day that was followed from switching to
// switching.
func (m *maker) showDay(s *Section, basis Basis) {
	w, pump := &m.water, m.water.pump
	day := w.day
	if !day.known {
		return
	}
	basis = worst(basis, m.site.Outage.WaterUse.Basis)
	s.add(Figure{
		Key: pump.key + ".starts_per_day", Label: "Starts of the pump a day", Unit: "a day", Low: day.starts.Low, High: day.starts.High, Basis: basis,
		Formula: "from switching to switching, dV/dt = Q(V) - q; a month's starts over its days", Source: "water balance, Boyle's law",
		Numbers: fmt.Sprintf("use %s L/day by a %s profile, Vd = %s L", span(w.perDay.Low/tank.LitrePerDay, w.perDay.High/tank.LitrePerDay), m.site.Outage.Profile, span(w.drawdown.Low/tank.Litre, w.drawdown.High/tank.Litre)),
		Shortcut: shortcut(float64(w.perDay.High)*float64(tank.Day)/float64(w.drawdown.Low), "use over drawdown",
			"Water drawn while the pump runs needs no start of its own."),
	})
	energy := motor.Range[unit.Energy]{
		Low:  unit.Energy(float64(day.minutes.Low) * float64(pump.run.Real.Low)),
		High: unit.Energy(float64(day.minutes.High) * float64(pump.run.Real.High)),
	}
	s.add(Figure{
		Key: pump.key + ".energy_per_day_wh", Label: "Energy of the pump a day, at its plug", Unit: "Wh",
		Low: float64(energy.Low / battery.WattHour), High: float64(energy.High / battery.WattHour), Basis: worst(pump.avgBasis, basis),
		Formula: "pump minutes times running watts", Source: "definition of energy",
		Numbers: fmt.Sprintf("%s min at %s W", span(day.minutes.Low/tank.Minute, day.minutes.High/tank.Minute), span(pump.run.Real.Low, pump.run.Real.High)),
	})
	m.check(Check{
		ID: pump.key + ".delivered", Title: pump.Name + ": water that comes when it is drawn", Unit: "%", AtLeast: true,
		Low: 100 * day.delivered.Low, High: 100 * day.delivered.High, Limit: 99.9, Setting: true, Basis: basis,
		Message: "In the hours of most use the pump brings less than is drawn, and the tank runs empty. Spread the use, or store water ahead of it.",
		Source:  "water balance, hour by hour",
	})
}

// showStored adds the energy of a litre, and says when storing water beats
// storing energy.
func (m *maker) showStored(s *Section, flow motor.Range[tank.FlowRate]) error {
	w, pump := &m.water, m.water.pump
	var dc [2]unit.Power
	for i, good := range []bool{true, false} {
		f, err := m.pumpAlone(good)
		if errors.Is(err, inverter.ErrCollapse) {
			return nil // said above
		}
		if err != nil {
			return err
		}
		dc[i] = f.dc
	}
	if flow.Low <= 0 {
		return nil
	}
	litre := motor.Range[float64]{ // Wh/L
		Low:  float64(dc[0]) / float64(flow.High) / float64(battery.WattHour) * float64(tank.Litre),
		High: float64(dc[1]) / float64(flow.Low) / float64(battery.WattHour) * float64(tank.Litre),
	}
	gallon := float64(tank.USGallon / tank.Litre)
	basis := worst(pump.runBasis, w.flowBasis(pump), m.inv.loss)
	s.add(Figure{
		Key: "water.energy_per_litre_wh", Label: "Energy of a litre, at the battery", Unit: "Wh", Low: litre.Low, High: litre.High, Basis: basis,
		Also:    brief(gallon*litre.Low, gallon*litre.High) + " Wh a gallon",
		Formula: "e = P_dc/Q while the pump runs", Source: "quadratic inverter loss model; water balance",
		Numbers: fmt.Sprintf("%s W dc, %s L/min", span(dc[0], dc[1]), brief(flow.Low/tank.LitrePerMinute, flow.High/tank.LitrePerMinute)),
	})
	outage := m.site.Outage.Length
	if w.perDay.High == 0 {
		return nil
	}
	need := motor.Range[float64]{ // L
		Low:  float64(w.perDay.Low) * float64(outage.Low) / float64(tank.Litre),
		High: float64(w.perDay.High) * float64(outage.High) / float64(tank.Litre),
	}
	s.add(Figure{
		Key: "water.for_outage_l", Label: "Water that the whole outage asks for", Unit: "L", Low: need.Low, High: need.High,
		Also:  brief(need.Low/gallon, need.High/gallon) + " gal; it weighs a kilogram a litre",
		Basis: worst(m.site.Outage.WaterUse.Basis, outage.Basis), Formula: "use times outage", Source: "definition",
		Numbers: fmt.Sprintf("%s L/day for %s h", span(w.perDay.Low/tank.LitrePerDay, w.perDay.High/tank.LitrePerDay), span(outage.Low/battery.Hour, outage.High/battery.Hour)),
	})
	saved := motor.Range[float64]{Low: litre.Low * need.Low, High: litre.High * need.High}
	alone := len(m.loads) == 1 && m.inv.standing
	how := "e times the water"
	if alone {
		saved.Low += float64(m.inv.idle.Low) * float64(outage.Low) / float64(battery.WattHour)
		saved.High += float64(m.inv.idle.High) * float64(outage.High) / float64(battery.WattHour)
		how += ", and the idle draw of an inverter that then can stay off"
	}
	s.add(Figure{
		Key: "water.stored_saves_wh", Label: "What storing that water beforehand saves the battery", Unit: "Wh", Low: saved.Low, High: saved.High,
		Also:  fmt.Sprintf("%s %% of its rated %s Wh", brief(100*saved.Low/float64(m.bank.Energy()/battery.WattHour), 100*saved.High/float64(m.bank.Energy()/battery.WattHour)), num(m.bank.Energy()/battery.WattHour)),
		Basis: worst(basis, m.site.Outage.WaterUse.Basis, outage.Basis), Formula: how, Source: "water balance",
		Numbers: fmt.Sprintf("%s Wh/L, %s L", brief(litre.Low, litre.High), brief(need.Low, need.High)),
	})
	m.adviseStoring(s, litre.High, need.High, saved, alone)
	return nil
}

// adviseStoring says which of the two to store.
func (m *maker) adviseStoring(s *Section, litre, need float64, saved motor.Range[float64], alone bool) {
	pump := m.water.pump
	// Wh that the bank lacks at the bad end.
	short := float64(m.hours.average) * float64(m.site.Outage.Length.High-m.hours.duty.Low) / float64(battery.WattHour)
	starts := Holds
	for _, c := range m.plan.Checks {
		if isStart(c.ID) && strings.HasPrefix(c.ID, pump.key+".") {
			starts = min(starts, c.State)
		}
	}
	switch {
	case starts != Holds:
		s.note("Store water, not energy: the pump's start is in doubt, and water drawn into clean, covered containers before the outage needs no start. %s L would do for all of it.", num(round3(need)))
	case short > 0 && saved.Low >= short:
		least := need
		if !alone {
			least = min(need, short/litre)
		}
		s.note("Storing water beats storing energy here: the bank falls short by %s Wh, which %s L drawn beforehand would make good.", num(round3(short)), num(round3(least)))
	case short > 0:
		s.note("Storing water helps, and is not enough: all of the outage's water drawn beforehand saves %s Wh of the %s Wh that the bank falls short.", brief(saved.Low, saved.High), num(round3(short)))
	case alone:
		s.note("With no other load, storing the outage's water lets the inverter stay off: most of what that saves is its idle draw, not the pump's energy.")
	default:
		s.note("Storing energy beats storing water here: a kilowatt-hour from the battery lifts %s L or more, and all of the outage's water costs %s Wh. A day's drinking water in clean, covered containers is wise all the same.", num(round3(1000/litre)), brief(saved.Low, saved.High))
	}
}
