package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
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
	for i := range m.loads {
		if m.loads[i].FillsTank {
			m.water.pump = &m.loads[i]
		}
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

func hull[T ~float64](a, b motor.Range[T]) motor.Range[T] {
	return motor.Range[T]{Low: min(a.Low, b.Low), High: max(a.High, b.High)}
}
