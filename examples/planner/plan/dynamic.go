package plan

import (
	"fmt"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// dynamicAccuracy is good for four digits of a start.
const dynamicAccuracy = 1e-6

// showDynamic follows the bad end at the depth limit instant by instant, beside
// the rms values: from a zero of the voltage, where the current peaks most.
func (m *maker) showDynamic(s *Section, l *load, u *runUp) {
	if !m.options.Dynamic {
		return
	}
	var seconds, peak motor.Range[float64]
	never := 0
	for k, c := range u.weak {
		r := c.run
		r.Source = c.inverter
		// A limit behind an inductance is refused: all of the wires' impedance
		// counts as resistance, which takes no less voltage.
		r.Feeder = complex(cmplx.Abs(r.Feeder), 0)
		went, err := r.Dynamic(unit.Angle(math.Pi/2), dynamicAccuracy)
		if err != nil {
			s.note("%s: its start is not followed instant by instant: %v.", l.Name, err)
			return
		}
		if k == 0 {
			seconds, peak = motor.Exactly(float64(went.FullSpeed)), motor.Exactly(float64(went.Peak))
		}
		peak = hull(peak, motor.Exactly(float64(went.Peak)))
		if went.Outcome != motor.Starts {
			never++
			continue
		}
		if seconds.Low == 0 {
			seconds = motor.Exactly(float64(went.FullSpeed))
		}
		seconds = hull(seconds, motor.Exactly(float64(went.FullSpeed)))
	}
	basis := worst(l.startBasis, RuleOfThumb, m.inv.rating)
	numbers := fmt.Sprintf("V_0 = %s V, greatest current of the surge rating less what else runs %s A; wires %s Ω", num(m.fundamental()),
		num(limitOf(u.weak[0])), num(cmplx.Abs(l.path[1])))
	const formula = "flux linkages of the two windings and the rotor, v = √2·V·cos(ωt + φ), J·dω/dt = T - T_load; no battery, no cut-off, no rating that falls with time"
	const source = "the unsymmetrical two-phase induction machine (Krause, Wasynczuk, Sudhoff), on the circuits of published motors"
	if never < len(u.weak) {
		also := "at the bad end; of the inverter it knows voltage and greatest current alone"
		if never > 0 {
			also += fmt.Sprintf("; %d of %d motors such as it may be never come up", never, len(u.weak))
		}
		s.add(Figure{
			Key: l.key + ".runup_dynamic_s", Label: l.Name + ": time to come up, instant by instant", Unit: "s",
			Low: seconds.Low, High: seconds.High, Basis: basis, Also: also, Formula: formula, Numbers: numbers, Source: source,
		})
	} else {
		s.note("%s: instant by instant it does not come up at the bad end, on the inverter's voltage and greatest current alone.", l.Name)
	}
	s.add(Figure{
		Key: l.key + ".runup_peak_a", Label: l.Name + ": greatest instantaneous current", Unit: "A",
		Low: peak.Low, High: peak.High, Basis: basis, Also: "ac, at the bad end, switched on at a zero of the voltage",
		Formula: formula, Numbers: numbers, Source: source,
		Shortcut: &Shortcut{
			Rule: "√2 times the locked-rotor current", Value: math.Sqrt2 * float64(l.start.Current.High),
			Why: "The first peak is higher by an offset that dies away, or lower where the inverter holds it.",
		},
	})
}

// limitOf is the greatest current that a case's inverter lets through.
func limitOf(c startCase) unit.Current {
	_, _, limit := c.inverter.Linear()
	return limit
}
