package plan

import (
	"errors"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
)

// The endless capacity of the kinetic model over the rated one, where no table
// of the maker tells.
const (
	endlessLow  = 1.05
	endlessHigh = 1.15

	// fastRate is the second rating where the site file has only one.
	fastRate = 5 * battery.Hour
	// period is the time in which the loads are taken to come round once.
	period = battery.Hour
)

// kinetics returns the kinetic models that fit what is known of the bank:
// through two ratings, for a smaller and a larger endless capacity. Where the
// site file has one rating the second follows from Peukert's exponent.
func (m *maker) kinetics(c battery.Condition) []battery.Kinetic {
	s := &m.site.Battery
	first, parallel := c.Peukert.Rating, unit.Charge(m.bank.Parallel)
	second := battery.Rating{Capacity: s.SecondCapacity.Mid() * parallel, Time: s.SecondRate.Mid()}
	if s.SecondCapacity.Given() {
		// The rating at hand is that of one end of what is known.
		second.Capacity *= first.Capacity / (s.Capacity.Mid() * parallel)
	} else {
		fast := fastRate
		if first.Time <= fast {
			fast = first.Time / 4
		}
		var err error
		if second, err = c.Peukert.At(fast); err != nil {
			return nil
		}
	}
	var models []battery.Kinetic
	for _, endless := range []unit.Charge{endlessLow, endlessHigh} {
		if k, err := battery.KineticFromRatings(endless*max(first.Capacity, second.Capacity), first, second); err == nil {
			models = append(models, k)
		}
	}
	return models
}

// showKinetic adds the run time that credits the rests, between the two ends
// of Peukert's law.
func (m *maker) showKinetic(s *Section, bad, good []phase, basis Basis) error {
	var times []unit.Time
	for i, phases := range [][]phase{bad, good} {
		c := m.bank.bad
		if i == 1 {
			c = m.bank.good
		}
		var cycle []battery.Step
		for _, f := range slices.Backward(phases) { // the heaviest first
			cycle = append(cycle, battery.Step{Current: f.current, For: unit.Time(f.share) * period})
		}
		for _, k := range m.kinetics(c) {
			run, err := c.Kinetic(k, cycle)
			switch {
			case errors.Is(err, battery.ErrBelowLimit):
				times = append(times, 0)
			case err != nil:
				return m.beyond(s, "No run time by the kinetic model", err)
			default:
				times = append(times, run.Elapsed)
			}
		}
	}
	if len(times) == 0 {
		s.note("No kinetic model fits the ratings of this bank, so that the two ends of Peukert's law stand alone.")
		return nil
	}
	low, high := slices.Min(times), slices.Max(times)
	if low < m.hours.duty.Low || high > m.hours.duty.High {
		s.note("The kinetic model lies outside the bracket here: it counts the depth limit in ampere-hours of the label, Peukert's law in those that the rate leaves. The plan counts on the lower of the two.")
	}
	m.hours.duty.Low = min(m.hours.duty.Low, low)
	s.add(Figure{
		Key: "battery.runtime_kinetic_h", Label: "Run time by the kinetic model, which credits the rests", Unit: "h",
		Low: float64(low / battery.Hour), High: float64(high / battery.Hour), Basis: worst(basis, RuleOfThumb),
		Formula: "two wells: dy1/dt = -I + k(h2 - h1), dy2/dt = -k(h2 - h1), to the empty available well or the depth limit",
		Numbers: fmt.Sprintf("c and k' through two ratings, endless capacity %s..%s times the rated one; loads coming round once an hour: %s; %s",
			num(endlessLow), num(endlessHigh), phasesText(bad), m.bankText()),
		Source: "Manwell and McGowan 1993; the endless capacity and the hour are common practice",
	})
	return nil
}
