package plan

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// showRunning adds what each load draws while it runs.
func (m *maker) showRunning() error {
	s := Section{Title: "What each load draws while it runs"}
	for i := range m.loads {
		l := &m.loads[i]
		r := l.run
		volts := r.Voltage
		if volts == 0 {
			volts = l.Voltage.Mid()
		}
		formula := "P = S·cos φ, or P_out/η, as far as each is known"
		if l.Measured.DCCurrent.Given() {
			formula = "P = U·I_dc·η, cos φ = P/S"
		}
		s.add(Figure{
			Key: l.key + ".run_real_w", Label: l.Name + ": real power", Unit: "W",
			Low: float64(r.Real.Low), High: float64(r.Real.High), Basis: l.runBasis,
			Formula: formula,
			Numbers: fmt.Sprintf("%s; S = %s VA, cos φ = %s", l.runHow, span(r.Apparent.Low, r.Apparent.High), span(r.PowerFactor.Low, r.PowerFactor.High)),
			Source:  "IEC 60050-131-11-46 (power factor); spans of small motors: NEMA and 10 CFR 431.446 examples where the plate is silent",
			Shortcut: &Shortcut{
				Rule: "volts times amperes, called watts", Value: float64(r.Apparent.High),
				Why: "That product is volt-amperes. The battery has to deliver watts, the inverter and the wires the volt-amperes.",
			},
		})
		s.add(Figure{
			Key: l.key + ".run_apparent_va", Label: l.Name + ": apparent power", Unit: "VA",
			Low: float64(r.Apparent.Low), High: float64(r.Apparent.High), Basis: l.vaBasis,
			Also:    fmt.Sprintf("power factor %s at %s V", brief(r.PowerFactor.Low, r.PowerFactor.High), num(volts)),
			Formula: "S = V·I, times √3 for three phases", Numbers: fmt.Sprintf("V = %s V, I = %s A", num(volts), span(r.Current.Low, r.Current.High)),
			Source: "IEC 60050-131-11-41 (apparent power)",
		})
		s.add(Figure{
			Key: l.key + ".run_ac_a", Label: l.Name + ": current", Unit: "A",
			Low: float64(r.Current.Low), High: float64(r.Current.High), Basis: l.vaBasis, Also: "ac",
			Formula: "I = S/V, or as read", Numbers: fmt.Sprintf("S = %s VA, V = %s V", span(r.Apparent.Low, r.Apparent.High), num(volts)),
			Source: "IEC 60050-131-11-41 (apparent power)",
		})
		if l.Output.Given() {
			m.noteOutput(&s, l)
		}
		s.add(Figure{
			Key: l.key + ".duty_percent", Label: l.Name + ": share of the time it runs", Unit: "%",
			Low: 100 * l.duty.Low, High: 100 * l.duty.High, Basis: l.dutyBasis,
			Also:    fmt.Sprintf("%s W on average", brief(l.average.Low, l.average.High)),
			Formula: "duty = average power over running power, or water use over pump flow",
			Numbers: l.dutyHow, Source: "definition of a duty cycle",
		})
		m.checkSupply(l)
	}
	m.show(s)
	return nil
}

// noteOutput lays the horsepower on the plate beside what goes in.
func (m *maker) noteOutput(s *Section, l *load) {
	out := l.Output.Mid()
	if l.run.Real.High <= 0 {
		return
	}
	text := fmt.Sprintf("%s: its %s hp are %s W at the shaft at rated load; %s W go in as it runs.", l.Name,
		num(out/motor.Horsepower), num(out), span(l.run.Real.Low, l.run.Real.High))
	if l.run.Real.High < out {
		s.note("%s It runs below its rated load.", text)
		return
	}
	s.note("%s Horsepower times 746 is what comes out at most, never what goes in.", text)
}

// checkSupply lays voltage and phases of a load beside the inverter's.
func (m *maker) checkSupply(l *load) {
	rated := l.plate[0].Voltage
	basis := worst(l.Voltage.Basis, m.site.Inverter.Output.Basis)
	percent := 100 * float64(m.supply/rated)
	message := fmt.Sprintf("A %s V load on a %s V supply.", num(rated), num(m.supply))
	switch {
	case percent < 60:
		message += " It needs an inverter of its voltage, or a transformer, which doubles the current on the low side."
	case percent > 140:
		message += " It would burn. It needs an inverter of its voltage, or a transformer."
	}
	if percent <= 110 {
		m.check(Check{
			ID: l.key + ".supply_low", Title: l.Name + ": supply voltage over rated", Unit: "%", Low: percent, High: percent,
			Limit: 90, AtLeast: true, Setting: true, Basis: basis, Message: message, Source: "NEMA MG 1 12.44: motors operate within ±10 % of rated voltage",
		})
	} else {
		m.check(Check{
			ID: l.key + ".supply_high", Title: l.Name + ": supply voltage over rated", Unit: "%", Low: percent, High: percent,
			Limit: 110, Setting: true, Basis: basis, Message: message, Source: "NEMA MG 1 12.44: motors operate within ±10 % of rated voltage",
		})
	}
	if l.Phases == 3 {
		m.check(Check{
			ID: l.key + ".phases", Title: l.Name + ": phases", Unit: "", Low: 3, High: 3, Limit: 1, Setting: true, Basis: basis,
			Message: "A three-phase motor does not start on the one phase that this planner takes the inverter to have.",
			Source:  "common practice",
		})
	}
}

// suited reports whether a load and the supply belong together, so that it
// makes sense to compute a start.
func (m *maker) suited(l *load) bool {
	ratio := float64(m.supply / l.plate[0].Voltage)
	return l.Phases == 1 && ratio > 0.6 && ratio < 1.4
}

// together sums the running demand of all loads but one.
func (m *maker) together(except int) (p motor.Range[unit.Power], s motor.Range[motor.ApparentPower]) {
	for i := range m.loads {
		if i == except {
			continue
		}
		p.Low, p.High = p.Low+m.loads[i].run.Real.Low, p.High+m.loads[i].run.Real.High
		s.Low, s.High = s.Low+m.loads[i].run.Apparent.Low, s.High+m.loads[i].run.Apparent.High
	}
	return p, s
}
