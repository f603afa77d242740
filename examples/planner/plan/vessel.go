package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

// water is the tank of the site and the pump that fills it.
type water struct {
	given  bool
	vessel []tank.Vessel // one at each corner of what is known, the middle first
	basis  Basis
	pump   *load // nil: no load fills the tank

	drawdown motor.Range[unit.Volume] // zero: the tank gives nothing that can be cycled
	perDay   motor.Range[tank.FlowRate]

	supplies  []tank.Supply // at the ends of what is known of the well; none: no [well]
	wellBasis Basis
	day       waterDay
}

// readWater turns the [tank] table into a vessel.
func (m *maker) readWater() error {
	s, w := &m.site.Tank, &m.water
	if use := m.site.Outage.WaterUse; use.Given() {
		w.perDay = motor.Range[tank.FlowRate]{Low: use.Low, High: use.High}
	}
	if t := m.site.Outage.Length; t.Given() && !(t.Low >= 60 && t.High <= 400*24*3600) {
		return m.site.at("outage.length", fmt.Errorf("length %s h, want 1 min to 400 days", span(t.Low/3600, t.High/3600)))
	}
	if !m.site.Outage.Length.Given() {
		m.site.Outage.Length = m.site.Outage.Length.or(assumedOutage)
		m.assume("outage.length: 24 h")
	}
	given := 0
	for _, g := range []bool{s.Volume.Given(), s.Precharge.Given(), s.CutIn.Given(), s.CutOut.Given()} {
		if g {
			given++
		}
	}
	if given == 0 {
		return nil
	}
	if given < 4 {
		return m.site.at("tank", errors.New("want all of volume, precharge, cut_in and cut_out, or none of them"))
	}
	w.given = true
	w.basis = worst(s.Volume.Basis, s.Precharge.Basis, s.CutIn.Basis, s.CutOut.Basis)
	var air [2]unit.Pressure // zero: the standard atmosphere
	if m.site.Altitude.Given() {
		var err1, err2 error
		air[0], err1 = tank.StandardPressure(m.site.Altitude.Low)
		air[1], err2 = tank.StandardPressure(m.site.Altitude.High)
		if err := first(err1, err2); err != nil {
			return m.site.at("altitude", err)
		}
	} else {
		m.assume("altitude: sea level")
	}
	w.vessel = []tank.Vessel{{
		Volume: s.Volume.Mid(), Precharge: s.Precharge.Mid(), CutIn: s.CutIn.Mid(), CutOut: s.CutOut.Mid(), Atmosphere: air[0],
	}}
	for corner := range 1 << 5 {
		end := func(bit int) int { return corner >> bit & 1 }
		w.vessel = append(w.vessel, tank.Vessel{
			Volume: pick(s.Volume, end(0)), Precharge: pick(s.Precharge, end(1)), CutIn: pick(s.CutIn, end(2)),
			CutOut: pick(s.CutOut, end(3)), Atmosphere: air[end(4)],
		})
	}
	for _, v := range w.vessel {
		if err := v.Validate(); err != nil {
			return m.fault("tank", err)
		}
	}
	return nil
}

// over returns the range of a figure over the corners of what is known of the
// tank. Corners whose precharge is above cut-in have no drawdown and are
// passed over; some is false if all are.
func (w *water) over(f func(tank.Vessel) (float64, error)) (r motor.Range[float64], some bool, err error) {
	for _, v := range w.vessel {
		x, err := f(v)
		if errors.Is(err, tank.ErrPrechargeAboveCutIn) {
			continue
		}
		if err != nil {
			return r, false, err
		}
		if !some {
			r, some = motor.Exactly(x), true
		}
		r = hull(r, motor.Exactly(x))
	}
	return r, some, nil
}

func (m *maker) tankText() string {
	s, v := m.site.Tank, m.water.vessel[0]
	atm := "sea level"
	if v.Atmosphere != 0 {
		atm = num(v.Atmosphere/tank.PSI) + " psi of air at this altitude"
	}
	return fmt.Sprintf("V = %s gal, Ppre = %s, Pon = %s, Poff = %s psi gauge, %s", span(s.Volume.Low/tank.USGallon, s.Volume.High/tank.USGallon),
		span(s.Precharge.Low/tank.PSI, s.Precharge.High/tank.PSI), span(s.CutIn.Low/tank.PSI, s.CutIn.High/tank.PSI),
		span(s.CutOut.Low/tank.PSI, s.CutOut.High/tank.PSI), atm)
}

func litres(v motor.Range[unit.Volume]) (low, high float64, gallons string) {
	return float64(v.Low / tank.Litre), float64(v.High / tank.Litre), in(v.Low, v.High, tank.USGallon, "gal")
}
