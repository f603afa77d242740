package plan

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
)

// showBreaker adds what the branch circuit carries.
func (m *maker) showBreaker(s *Section, l *load) {
	if !l.Breaker.Given() {
		return
	}
	ceiling := float64(m.supply) * float64(l.Breaker.Low)
	s.add(Figure{
		Key: l.key + ".circuit_va", Label: l.Name + ": ceiling of its branch circuit", Unit: "VA",
		Low: ceiling, High: ceiling, Basis: l.Breaker.Basis,
		Formula: "S = V·I", Numbers: fmt.Sprintf("V = %s V, I = %s A", num(m.supply), num(l.Breaker.Low)),
		Source: "definition of apparent power; the breaker's rating is a current",
	})
	m.check(Check{
		ID: l.key + ".circuit", Title: l.Name + ": running current within its breaker", Unit: "A",
		Low: float64(l.run.Current.Low), High: float64(l.run.Current.High), Limit: float64(l.Breaker.Low),
		Basis:   worst(l.runBasis, l.Breaker.Basis),
		Message: fmt.Sprintf("The circuit ends at %s VA; what else hangs on it counts as well.", num(ceiling)),
		Source:  "common practice: volts times amperes of the breaker",
	})
}

// checkHeat lays the running current, and the breaker where the load is no
// motor, beside what the wires to a load carry.
func (m *maker) checkHeat(s *Section, l *load) {
	for i := range l.Run {
		w, err := l.Run[i].wire(conductor.Solid)
		if err != nil {
			continue // said when the site was read
		}
		id, title := fmt.Sprintf("%s.run_%d_ampacity", l.key, i+1), fmt.Sprintf("%s: %v wire carries its current", l.Name, w.Size)
		a, ok := ampacityOf(w, true)
		if !ok {
			m.check(unknownAmpacity(id, title, l.run.Current, w, l.vaBasis))
			continue
		}
		m.check(Check{
			ID: id, Title: title, Unit: "A", Low: float64(l.run.Current.Low), High: float64(l.run.Current.High), Limit: float64(a.Low),
			Basis: worst(l.vaBasis, Table), Message: "More heats the wire beyond what its insulation and the terminals stand. Ambient heat and other wires beside it lower the limit.",
			Source: a.source,
		})
		m.checkProtection(s, l, i, w, a)
	}
}

// checkProtection lays the breaker beside the wire. A motor circuit may have a
// larger one, as its overload device protects the wire; then it is a note.
func (m *maker) checkProtection(s *Section, l *load, i int, w conductor.Wire, a ampacity) {
	if !l.Breaker.Given() {
		return
	}
	limit := a.Low
	if small, limited, err := conductor.SmallConductorLimit(w.Size, w.Metal); err == nil && limited {
		limit = small
	} else if up, err := conductor.StandardBreakers.ForAmpacity(a.Low); err == nil {
		limit = up
	}
	if !l.NoMotor {
		if l.Breaker.High > limit {
			s.note("%s: a %s A breaker on %v wire; the code allows %s A, save for motor circuits sized by article 430. Ask an electrician.",
				l.Name, num(l.Breaker.High), w.Size, num(limit))
		}
		m.checkMotorBreaker(l, i, limit)
		return
	}
	m.check(Check{
		ID: fmt.Sprintf("%s.run_%d_breaker", l.key, i+1), Title: fmt.Sprintf("%s: breaker protects its %v wire", l.Name, w.Size), Unit: "A",
		Low: float64(l.Breaker.Low), High: float64(l.Breaker.High), Limit: float64(limit), Basis: worst(l.Breaker.Basis, Table),
		Message: "A larger breaker lets the wire burn before it opens.", Source: "NEC 240.4(B) and (D); " + a.source,
	})
}

// checkMotorBreaker lays the breaker of a motor circuit beside what article
// 430 allows at once and, for a motor that will not start, at the most. A wire
// that is protected like any other needs neither.
func (m *maker) checkMotorBreaker(l *load, i int, wire unit.Current) {
	if i > 0 {
		return // one breaker serves the whole run
	}
	device, err := motorCircuit(l).ShortCircuit(conductor.InverseTimeBreaker)
	if err != nil {
		return // a motor beyond the code's range is refused elsewhere
	}
	m.check(Check{
		ID: l.key + ".breaker", Title: l.Name + ": breaker within what a motor circuit allows", Unit: "A",
		Low: float64(l.Breaker.Low), High: float64(l.Breaker.High), Limit: float64(max(device.Standard, wire)), GoodLimit: float64(max(device.Largest, wire)),
		Basis:   worst(l.Breaker.Basis, l.vaBasis, Table),
		Message: "The larger limit is for a motor that will not start on the smaller one. Beyond it nothing protects the wire from a short circuit; against overload the motor needs its own device.",
		Source:  "NEC (2023) 430.52 and table 430.52(C)(1)",
	})
}
