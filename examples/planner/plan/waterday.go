package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

// A waterDay is a day of tank, switch and pump at the stated use, on the average
// of a month.
type waterDay struct {
	known     bool
	minutes   motor.Range[unit.Time]     // that the pump runs
	starts    motor.Range[float64]       // of the pump
	flow      motor.Range[tank.FlowRate] // mean, while it runs
	delivered motor.Range[float64]       // share of the use
}

// profiles are the words of outage.profile.
var profiles = map[string]func() tank.Profile{
	"household": tank.HouseholdProfile,
	"flat":      tank.FlatProfile,
	"two-hour":  tank.TwoHourProfile,
}

// mostDayUse is more than a house draws, and as much as can be shared out over a
// day; what is above it is answered by use over flow.
const mostDayUse = 0.8 * tank.LitrePerSecond

// followDays is how many days are followed: the tank begins full, and a month
// makes that a matter of a thousandth.
const followDays = 30

// draws is the use of a month, hour by hour.
func (m *maker) draws(use tank.FlowRate) ([]tank.Draw, error) {
	word := m.site.Outage.Profile
	profile, ok := profiles[word]
	if !ok {
		return nil, m.site.at("outage.profile", fmt.Errorf("%q, want household, flat or two-hour", word))
	}
	day, err := profile().Draws(use)
	if err != nil {
		return nil, m.fault("outage.water_use", err)
	}
	var month []tank.Draw
	for range followDays {
		month = append(month, day...)
	}
	return month, nil
}

// followWater follows tank, switch and pump over a month of the stated use.
func (m *maker) followWater(pump *load) (d waterDay, err error) {
	w, flow := &m.water, pump.Flow
	ends := w.ends()
	if len(ends) == 0 || w.perDay.High == 0 || w.perDay.High > mostDayUse || len(w.supplies) == 0 && !flow.Given() {
		return d, nil
	}
	if m.site.Outage.Profile == "" {
		m.site.Outage.Profile = "household"
		m.assume("outage.profile: household, more in the morning and in the evening")
	}
	// With a use of nothing at the low end the high end alone tells of a day.
	uses := []tank.FlowRate{w.perDay.High}
	if w.perDay.Low > 0 && w.perDay.Low < w.perDay.High {
		uses = append(uses, w.perDay.Low)
	}
	for _, use := range uses {
		month, err := m.draws(use)
		if err != nil {
			return d, err
		}
		if len(w.supplies) > 0 {
			for _, s := range w.supplies {
				full, err := s.Full()
				if err != nil {
					return d, m.fault("well", err)
				}
				got, err := s.Follow(full, month)
				if err != nil {
					return d, m.fault("well", err)
				}
				d.take(got.Followed, got.Pumped)
			}
			continue
		}
		for _, v := range ends {
			vd, err1 := v.Drawdown()
			left, err2 := v.WaterLeft(v.CutIn)
			if err := errors.Join(err1, err2); err != nil {
				return d, m.fault("tank", err)
			}
			for _, q := range []tank.FlowRate{flow.Low, flow.High} {
				got, err := tank.System{Drawdown: vd, Pump: q}.Follow(tank.Level{Stored: vd}, left, month)
				if err != nil {
					return d, m.fault(pump.table, err)
				}
				d.take(got, q.Volume(got.PumpTime))
			}
		}
	}
	if w.perDay.Low == 0 {
		d.minutes.Low, d.starts.Low = 0, 0
	}
	return d, nil
}

// take counts one month in.
func (d *waterDay) take(got tank.Followed, pumped unit.Volume) {
	asked := float64(got.Drawn + got.Unmet)
	minutes, flow := motor.Exactly(got.PumpTime/followDays), motor.Range[tank.FlowRate]{}
	if pumped > 0 { // else it runs for nothing
		// The month ends with another content than it began; a day's time is that
		// of the water drawn in it.
		minutes = motor.Exactly(got.PumpTime * unit.Time(got.Drawn/pumped) / followDays)
		flow = motor.Exactly(tank.FlowRate(float64(pumped) / float64(got.PumpTime)))
	}
	starts := motor.Exactly(float64(got.Starts) / followDays)
	delivered := motor.Exactly(float64(got.Drawn) / asked)
	if !d.known {
		*d = waterDay{true, minutes, starts, flow, delivered}
		return
	}
	d.minutes, d.starts, d.flow = hull(d.minutes, minutes), hull(d.starts, starts), hull(d.flow, flow)
	d.delivered = hull(d.delivered, delivered)
}

// flow is that of the pump while it runs: by its curve where the well is known,
// and otherwise as stated.
func (w *water) flow(pump *load) (motor.Range[tank.FlowRate], bool) {
	if len(w.supplies) > 0 && w.day.known {
		return w.day.flow, true
	}
	return motor.Range[tank.FlowRate]{Low: pump.Flow.Low, High: pump.Flow.High}, pump.Flow.Given()
}

func (w *water) flowBasis(pump *load) Basis {
	if len(w.supplies) > 0 && w.day.known {
		return w.wellBasis
	}
	return pump.Flow.Basis
}
