package plan

import (
	"fmt"

	"ridethrough.example/battery"
)

// showTrip adds the state of charge below which a load's start would trip the
// inverter's cut-off: what an owner with a battery monitor wants to know.
func (m *maker) showTrip(s *Section, l *load, o outcome) {
	t := m.site.Battery.Temperature
	condition := battery.SagCondition{
		Temperature: t.Low, Circuit: m.cable.loop.High + m.cable.contacts.High,
		FlatRise: battery.Range[float64]{Low: flatRiseLow, High: flatRiseHigh},
	}
	weak, _, err1 := m.bank.VoltageModels(condition)
	condition.Temperature, condition.Circuit = t.High, m.cable.loop.Low+m.cable.contacts.Low
	_, strong, err2 := m.bank.VoltageModels(condition)
	if err := first(err1, err2); err != nil {
		s.note("%s: the charge at which its start would trip the cut-off is not known here: %v.", l.Name, err)
		return
	}
	high, err1 := weak.TripAtPower(o.bad.DC.High, o.bad.Limit)
	low, err2 := strong.TripAtPower(o.good.DC.Low, o.good.Limit)
	if err := first(err1, err2); err != nil {
		s.note("%s: the charge at which its start would trip the cut-off is not known here: %v.", l.Name, err)
		return
	}
	text := "at and above it the start holds"
	switch {
	case high.Always && low.Always:
		text = "trips even when full"
	case high.Always:
		text = "at the bad end it trips even when full"
	case high.Never && low.Never:
		text = "never, down to empty"
	}
	s.add(Figure{
		Key: l.key + ".start_trip_percent", Label: l.Name + ": charge below which its start trips", Unit: "%",
		Low: 100 * min(low.Below, high.Below), High: 100 * max(low.Below, high.Below), Also: text,
		Basis:   worst(l.startBasis, m.inv.loss, m.bank.voltBasis, m.cable.basis, m.inv.cut),
		Formula: "Voc(S) = Vc + P·R(S)/Vc, or Voc² = 4PR where that comes first; R(S) = R1·(1 + (f - 1)·(1 - S)³)",
		Numbers: fmt.Sprintf("P = %s W dc, Vc = %s V, f = %d..%d", span(o.good.DC.Low, o.bad.DC.High), span(o.good.Limit, o.bad.Limit), flatRiseLow, flatRiseHigh),
		Source:  "P = V·(Voc - V)/R; rest-voltage charts and the rise of resistance are common practice",
	})
}
