package plan

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// A CurrentLimit is a current and how long a battery's management lets it
// through, typed as "300 A for 5 s", or "150 A" for without end.
type CurrentLimit struct {
	Current Value[unit.Current] `toml:"-"`
	For     Value[unit.Time]    `toml:"-"`
	Text    string              `toml:"-"`
}

// UnmarshalText reads "300 A for 5 s" or "150 A".
func (p *CurrentLimit) UnmarshalText(text []byte) error {
	p.Text = strings.TrimSpace(string(text))
	if !strings.Contains(p.Text, " for ") {
		return p.Current.UnmarshalText([]byte(p.Text))
	}
	return readPair(p.Text, " for ", `"300 A for 5 s"`, &p.Current, &p.For)
}

// MarshalText returns the limit as it was typed.
func (p CurrentLimit) MarshalText() ([]byte, error) { return []byte(p.Text), nil }

// readManagement turns battery.management into a limit of the bank; strings side
// by side share the current.
func (m *maker) readManagement() error {
	limits := slices.Clone(m.site.Battery.Management)
	if len(limits) == 0 {
		return nil
	}
	slices.SortStableFunc(limits, func(a, b CurrentLimit) int { return cmp.Compare(a.For.Low, b.For.Low) })
	b, n := &m.bank, unit.Current(m.site.Battery.Parallel)
	for _, l := range limits {
		b.managed = worst(b.managed, l.Current.Basis, l.For.Basis)
		switch {
		case l.For.Given():
			b.management.Points = append(b.management.Points, inverter.CurrentPoint{Current: n * l.Current.Low, For: l.For.Low})
		case b.management.Continuous != 0:
			return m.site.at("battery.management", errors.New(`more than one current without a time; the others want one, as "300 A for 5 s"`))
		default:
			b.management.Continuous = n * l.Current.Low
		}
	}
	if b.management.Continuous == 0 {
		return m.site.at("battery.management", errors.New(`want a current without a time as well, as "150 A"`))
	}
	return m.fault("battery.management", b.management.Validate())
}

const managementSource = "the battery's data sheet, read in steps: what is allowed for a time is allowed for any shorter one"

// checkManaged lays the current with everything running before the management.
func (m *maker) checkManaged() {
	i, ok := m.asked(m.all.running)
	if m.bank.management.Continuous == 0 || !ok {
		return
	}
	m.check(Check{
		ID: "battery.management", Title: "all loads running, within the battery's management", Unit: "A",
		Low: float64(i.Low), High: float64(i.High), Limit: float64(m.bank.management.Continuous),
		Basis:   worst(m.bank.managed, m.inv.loss, m.bank.voltBasis),
		Message: "The management opens, and everything is dark until it is reset. Strings in parallel share the current, if they are alike.",
		Source:  managementSource,
	})
}

// asked is the battery's current of an outcome; where the bad end collapses, the
// greatest that its source delivers on the way down, at half of its rest voltage.
// It is not known where both ends collapse.
func (m *maker) asked(o outcome) (i motor.Range[unit.Current], ok bool) {
	if o.good.Collapse.Verdict != inverter.Passes {
		return i, false
	}
	i = o.current()
	if o.collapses() {
		s := m.source(m.bank.end, false)
		i.High = max(i.Low, unit.Current(float64(s.OpenCircuit)/2/float64(s.Resistance())))
	}
	return i, true
}

// checkManagedStart lays the current of a start before the management.
func (m *maker) checkManagedStart(l *load, o outcome, basis Basis) error {
	i, ok := m.asked(o)
	if m.bank.management.Continuous == 0 || !ok {
		return nil
	}
	bad, err1 := m.bank.management.Allowed(l.duration.High)
	good, err2 := m.bank.management.Allowed(l.duration.Low)
	if err := first(err1, err2); err != nil {
		return m.fault("battery", err)
	}
	m.check(Check{
		ID: l.key + ".start_management", Title: l.Name + ": start within the battery's management", Unit: "A",
		Low: float64(i.Low), High: float64(i.High), Limit: float64(bad), GoodLimit: float64(good), Basis: worst(basis, m.bank.managed),
		Message: fmt.Sprintf("Asked for %s s, it lets %s A through; above that it opens, and everything is dark until it is reset.",
			span(l.duration.Low, l.duration.High), num(bad)),
		Source: managementSource,
	})
	m.doubt(l)
	return nil
}
