package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

// readDuty finds the share of the time that the load runs, and its average.
func (m *maker) readDuty(l *load) error {
	r := &l.Measured
	switch {
	case r.Energy.Given() != r.Over.Given():
		return m.site.at(l.table+".measured", errors.New("energy and over need each other"))
	case r.Energy.Given():
		l.average = motor.Range[unit.Power]{
			Low:  unit.Power(float64(r.Energy.Low) / float64(r.Over.High)),
			High: unit.Power(float64(r.Energy.High) / float64(r.Over.Low)),
		}
		l.avgBasis = worst(r.Energy.Basis, r.Over.Basis)
	case r.Average.Given():
		l.average = motor.Range[unit.Power]{Low: r.Average.Low, High: r.Average.High}
		l.avgBasis = r.Average.Basis
	}
	if l.average.High > 0 {
		if l.average.Low > l.run.Real.High*1.001 {
			return m.site.at(l.table+".measured", fmt.Errorf(
				"an average of %s W against %s W while running; want an average not above the running power",
				span(l.average.Low, l.average.High), span(l.run.Real.Low, l.run.Real.High)))
		}
		l.duty = motor.Range[float64]{
			Low:  min(1, float64(l.average.Low/l.run.Real.High)),
			High: min(1, float64(l.average.High/l.run.Real.Low)),
		}
		l.metered, l.dutyBasis = true, worst(l.avgBasis, l.runBasis)
		l.dutyHow = fmt.Sprintf("%s W on average by the meter, %s W while running",
			span(l.average.Low, l.average.High), span(l.run.Real.Low, l.run.Real.High))
		return nil
	}
	l.avgBasis, l.dutyBasis = worst(l.runBasis, l.Duty.Basis), l.Duty.Basis
	if l.FillsTank && !l.Duty.Given() {
		var err error
		if m.water.day, err = m.followWater(l); err != nil {
			return err
		}
	}
	day := m.water.day
	switch {
	case l.Duty.Given() && l.FillsTank && (l.Flow.Given() || len(m.water.supplies) > 0) && m.site.Outage.WaterUse.Given():
		return m.site.at(l.table+".duty", errors.New("duty and water_use over flow say the same thing of the pump that fills the tank; leave duty out"))
	case l.Duty.Given():
		if !(l.Duty.Low >= 0 && l.Duty.High <= 1) {
			return m.site.at(l.table+".duty", fmt.Errorf("duty %s, want 0 to 100 %%", span(l.Duty.Low, l.Duty.High)))
		}
		l.duty = motor.Range[float64]{Low: float64(l.Duty.Low), High: float64(l.Duty.High)}
		l.dutyHow = span(100*l.Duty.Low, 100*l.Duty.High) + " % as stated"
	case l.FillsTank && day.known:
		l.duty = motor.Range[float64]{Low: min(1, float64(day.minutes.Low/tank.Day)), High: min(1, float64(day.minutes.High/tank.Day))}
		l.dutyBasis = worst(m.site.Outage.WaterUse.Basis, m.water.flowBasis(l), m.water.basis)
		l.avgBasis = worst(l.avgBasis, l.dutyBasis)
		l.dutyHow = fmt.Sprintf("%s L/day, a month followed from switching to switching: %s L/min while it runs",
			span(m.water.perDay.Low/tank.LitrePerDay, m.water.perDay.High/tank.LitrePerDay), brief(day.flow.Low/tank.LitrePerMinute, day.flow.High/tank.LitrePerMinute))
	case l.FillsTank && l.Flow.Given() && m.site.Outage.WaterUse.Given():
		use := m.site.Outage.WaterUse
		// A demand above the pump's flow is an answer: it never stops.
		l.duty = motor.Range[float64]{Low: min(1, float64(use.Low/l.Flow.High)), High: min(1, float64(use.High/l.Flow.Low))}
		l.dutyBasis = worst(use.Basis, l.Flow.Basis)
		l.avgBasis = worst(l.avgBasis, l.dutyBasis)
		l.dutyHow = fmt.Sprintf("%s L/day over %s L/min", span(use.Low/tank.LitrePerDay, use.High/tank.LitrePerDay),
			span(l.Flow.Low/tank.LitrePerMinute, l.Flow.High/tank.LitrePerMinute))
	default:
		l.duty = motor.Exactly(1.0)
		l.avgBasis, l.dutyBasis = Assumed, Assumed
		l.dutyHow = "100 %, assumed"
		m.assume("%s: duty 100 %%, runs all the time; say how much it really runs", l.Name)
	}
	l.average = motor.Range[unit.Power]{
		Low:  unit.Power(l.duty.Low) * l.run.Real.Low,
		High: unit.Power(l.duty.High) * l.run.Real.High,
	}
	return nil
}
