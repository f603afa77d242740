package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
	"ridethrough.example/motor"
)

// largestDrop is the drop that the code's notes advise for a branch circuit.
const largestDrop = 0.03

// showWires adds the drops of the wires to the loads and the branch circuits.
func (m *maker) showWires() error {
	s := Section{Title: "Wires to the loads"}
	for i := range m.loads {
		l := &m.loads[i]
		if err := m.showPath(&s, l); err != nil {
			return err
		}
		m.showBreaker(&s, l)
		m.checkHeat(&s, l)
	}
	m.show(s)
	return nil
}

func (m *maker) showPath(s *Section, l *load) error {
	if len(l.Run) == 0 {
		return nil
	}
	z := conductor.ImpedanceOf(l.path[1])
	basis := worst(l.vaBasis, l.runBasis, Table)
	for i := range l.Run {
		basis = worst(basis, l.Run[i].Length.Basis)
	}
	numbers := fmt.Sprintf("R = %s Ω, X = %s Ω out and back", num(z.Resistance), num(z.Reactance))
	for i := range l.Run {
		r := &l.Run[i]
		numbers += fmt.Sprintf("; %v %s, %s m one way at %s °C", r.Size, metalName(r.Metal), num(r.Length.High), num(conductor.InCelsius(r.Temperature.High)))
	}
	approx, exact, err := m.drops(l)
	if errors.Is(err, conductor.ErrCollapse) {
		m.check(Check{
			ID: l.key + ".run_drop", Title: l.Name + ": wires carry its running current", Unit: "%", Low: 100, High: 100,
			Limit: 100 * largestDrop, Basis: basis, Message: "The wires cannot carry this current at any voltage: " + err.Error(),
			Source: "IEEE Std 141-1993, 3.11, exact form",
		})
		if l.noStart {
			return nil
		}
		return m.showDip(s, l, basis, numbers)
	}
	if err != nil {
		return m.fault(l.table, err)
	}
	s.add(Figure{
		Key: l.key + ".run_drop_v", Label: l.Name + ": drop in its wires, running", Unit: "V",
		Low: float64(exact.Low), High: float64(exact.High), Basis: basis,
		Also:    fmt.Sprintf("%s %%; by I·(R·cos φ + X·sin φ) %s V", brief(100*exact.Low/m.supply, 100*exact.High/m.supply), num(approx)),
		Formula: "drop = Vs - Vr, Vs² = (Vr·cos φ + I·R)² + (Vr·sin φ + I·X)²",
		Numbers: fmt.Sprintf("Vs = %s V, I = %s A, cos φ = %s, %s", num(m.supply), span(l.run.Current.Low, l.run.Current.High),
			span(l.run.PowerFactor.Low, l.run.PowerFactor.High), numbers),
		Source: "IEEE Std 141-1993 (Red Book), 3.11; resistance from IEC 60028 and ASTM B258, reactance from NEC chapter 9, table 9",
		Shortcut: &Shortcut{
			Rule: "current times resistance", Value: float64(l.run.Current.High) * float64(z.Resistance),
			Why: "At a power factor below 1 part of that drop is out of phase and costs no voltage at the load.",
		},
	})
	m.check(Check{
		ID: l.key + ".run_drop", Title: l.Name + ": drop in its wires, running", Unit: "%",
		Low: 100 * float64(exact.Low/m.supply), High: 100 * float64(exact.High/m.supply), Limit: 100 * largestDrop, Advice: true, Basis: basis,
		Message: "More than 3 % wastes power and warms the motor; a larger size or a shorter way helps.",
		Source:  "NEC 210.19, informational note (advice, not a rule)",
	})
	if l.noStart {
		return nil
	}
	return m.showDip(s, l, basis, numbers)
}

// drops returns the drop by the approximation (greatest) and by the exact
// form (as a range).
func (m *maker) drops(l *load) (approx unit.Voltage, exact motor.Range[unit.Voltage], err error) {
	first := true
	for end, i := range []unit.Current{l.run.Current.Low, l.run.Current.High} {
		z := conductor.ImpedanceOf(l.path[end])
		for _, pf := range []float64{l.run.PowerFactor.Low, l.run.PowerFactor.High} {
			c := conductor.Load{Current: i, PowerFactor: pf}
			a, err1 := z.Drop(c)
			v, err2 := z.LoadVoltage(m.supply, c)
			if err1 != nil || err2 != nil {
				return 0, exact, errors.Join(err1, err2)
			}
			drop := motor.Exactly(m.supply - v)
			if first {
				exact, first = drop, false
			}
			approx, exact = max(approx, a), hull(exact, drop)
		}
	}
	return approx, exact, nil
}

// showDip adds the voltage that is left at the motor with its rotor held.
func (m *maker) showDip(s *Section, l *load, basis Basis, numbers string) error {
	if !m.suited(l) {
		return nil
	}
	_, _, left, err := l.corners(m.fundamental())
	if err != nil {
		return m.fault(l.table, err)
	}
	rated := l.plate[0].Voltage
	z := conductor.ImpedanceOf(l.path[1])
	low, high := unit.Voltage(left.Low)*rated, unit.Voltage(left.High)*rated
	naive := m.supply - unit.Voltage(float64(l.start.Current.High)*float64(z.Modulus()))
	basis = worst(basis, l.startBasis)
	s.add(Figure{
		Key: l.key + ".start_motor_v", Label: l.Name + ": left at the motor as it starts", Unit: "V",
		Low: float64(low), High: float64(high), Basis: basis,
		Also:    brief(100*left.Low, 100*left.High) + " % of its rated " + num(rated) + " V",
		Formula: "V = Vs·|Zm|/|Zm + Z|, Zm = V_rated/I_lr at the locked-rotor power factor",
		Numbers: fmt.Sprintf("Vs = %s V held by the inverter%s, I_lr = %s A, cos φ = %s, %s", num(m.fundamental()), m.waveText(),
			span(l.start.Current.Low, l.start.Current.High), span(l.start.PowerFactor.Low, l.start.PowerFactor.High), numbers),
		Source: "voltage divider, as in IEEE Std 399-1997 (Brown Book), 9.5, impedance method",
		Shortcut: &Shortcut{
			Rule: "Vs - I_lr·|Z|", Value: float64(naive),
			Why: "Subtracting the full locked-rotor drop forgets that the current falls with the voltage.",
		},
	})
	m.check(Check{
		ID: l.key + ".start_voltage", Title: l.Name + ": voltage left at the motor as it starts", Unit: "%",
		Low: 100 * left.Low, High: 100 * left.High, Limit: 65, AtLeast: true, Basis: basis,
		Message: fmt.Sprintf("Torque falls with the square of the voltage: at %s %% it is %s %% of the rated one. Below 65 %% makers do not promise a start.",
			num(100*left.Low), num(100*left.Low*left.Low)),
		Source: "common practice: pump makers' rule for engine sets, 65 % at the motor",
	})
	m.doubt(l)
	return nil
}

// fundamental is the part of the supply's voltage that turns a motor: all of
// a sine; of a stepped wave of 120 V rms and the peak of a sine 108 V.
func (m *maker) fundamental() unit.Voltage {
	if m.stepped() {
		return 0.9 * m.supply
	}
	return m.supply
}

func (m *maker) stepped() bool { return m.site.Inverter.Wave == "stepped" }

func (m *maker) waveText() string {
	if m.stepped() {
		return " (fundamental of its stepped wave, 108 V of 120 V)"
	}
	return ""
}
