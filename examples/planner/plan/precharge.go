package plan

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// Peak that a precharge resistor is chosen for where none is given.
//
// Common practice: a few amperes, as of a filament lamp of 20 to 40 W.
const prechargePeak = 5 * unit.Ampere

// showPrecharge adds what happens as the battery is first connected, and how its
// resistor tames that.
func (m *maker) showPrecharge(s *Section) error {
	in := &m.site.Inverter
	if !in.InputCapacitance.Given() {
		return nil
	}
	v := m.bank.start.volts.High
	if !in.PrechargeResistor.Given() {
		r, err := inverter.ResistorFor(v, prechargePeak)
		if err != nil {
			return m.fault("inverter", err)
		}
		in.PrechargeResistor = in.PrechargeResistor.or(r)
		m.assume("inverter.precharge_resistor: %s ohm, for %s A at first", num(r), num(prechargePeak))
	}
	basis := worst(in.InputCapacitance.Basis, m.bank.voltBasis)
	var bare [2]unit.Current
	var plan [2]inverter.PrechargePlan
	for i, good := range []bool{false, true} {
		source := m.source(m.bank.start, good)
		end := 1 - i // the most capacitance at the bad end
		p := inverter.Precharge{Voltage: v, Capacitance: pick(in.InputCapacitance, end), Resistor: pick(in.PrechargeResistor, end)}
		var err1, err2 error
		// The softest source has the least inrush.
		bare[i], err1 = p.Inrush(0, source.Resistance())
		plan[i], err2 = p.Plan()
		if err := first(err1, err2); err != nil {
			return m.fault("inverter", err)
		}
	}
	current := hull(motor.Exactly(bare[0]), motor.Exactly(bare[1]))
	s.add(Figure{
		Key: "inverter.inrush_a", Label: "Inrush as the battery is connected, without precharge", Unit: "A", Low: float64(current.Low), High: float64(current.High),
		Basis: worst(basis, m.cable.basis), Also: "for an instant; it welds contacts and makes a battery's management open",
		Formula: "I = V/R of battery, cable and contacts, the capacitors empty", Numbers: fmt.Sprintf("V = %s V, R = %s mΩ", num(v), m.loopText(m.bank.start)),
		Source: "Ohm's law at the first instant; the inductance of the cable makes it less",
	})
	numbers := fmt.Sprintf("C = %s µF, R = %s Ω, V = %s V", span(1e6*in.InputCapacitance.Low, 1e6*in.InputCapacitance.High),
		span(in.PrechargeResistor.Low, in.PrechargeResistor.High), num(v))
	s.add(Figure{
		Key: "inverter.precharge_s", Label: "Time to hold the precharge resistor in", Unit: "s", Low: float64(plan[1].Time), High: float64(plan[0].Time),
		Basis: worst(basis, in.PrechargeResistor.Basis), Also: fmt.Sprintf("at first %s A; never the main switch first", brief(plan[0].Peak, plan[1].Peak)),
		Formula: "t = 5·R·C", Numbers: numbers, Source: "charging of a capacitor through a resistor; five time constants are common practice",
	})
	s.add(Figure{
		Key: "inverter.precharge_wh", Label: "Heat in the precharge resistor, each time", Unit: "Wh", Low: float64(plan[1].Resistor) / 3600, High: float64(plan[0].Resistor) / 3600,
		Basis: basis, Also: brief(plan[1].Resistor, plan[0].Resistor) + " J, whatever its ohms",
		Formula: "E = C·V²/2", Numbers: numbers, Source: "charging of a capacitor through a resistor",
	})
	return nil
}
