package plan

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

const boyle = "Vd = V·(Ppre + Pa)·[1/(Pon + Pa) - 1/(Poff + Pa)]"

// showWater adds tank, cycling and litres.
func (m *maker) showWater() error {
	s := Section{Title: "Water"}
	if m.water.given {
		if err := m.showTank(&s); err != nil {
			return err
		}
	}
	if m.water.pump != nil {
		if err := m.showCycling(&s); err != nil {
			return err
		}
		if err := m.showVolume(&s); err != nil {
			return err
		}
	}
	m.show(s)
	return nil
}

func (m *maker) showTank(s *Section) error {
	w, t := &m.water, &m.site.Tank
	least, _, err1 := w.over(func(v tank.Vessel) (float64, error) {
		r, err := v.WaterWhenPowerFails()
		return float64(r.Low), err
	})
	most, _, err2 := w.over(func(v tank.Vessel) (float64, error) {
		r, err := v.WaterWhenPowerFails()
		return float64(r.High), err
	})
	drawdown, cycles, err3 := w.over(func(v tank.Vessel) (float64, error) {
		d, err := v.Drawdown()
		return float64(d), err
	})
	if err := first(err1, err2, err3); err != nil {
		return m.fault("tank", err)
	}
	left := motor.Range[unit.Volume]{Low: unit.Volume(least.Low), High: unit.Volume(most.High)}
	_, err := w.vessel[0].Drawdown()
	var above *tank.PrechargeError
	m.check(Check{
		ID: "tank.precharge", Title: "tank precharge not above cut-in", Unit: "psi", Setting: true,
		Low: float64(t.Precharge.Low / tank.PSI), High: float64(t.Precharge.High / tank.PSI),
		Limit: float64(t.CutIn.Low / tank.PSI), GoodLimit: float64(t.CutIn.High / tank.PSI), Basis: w.basis,
		Message: "With the precharge above cut-in the tank is empty before the pump starts. Set it 2 psi below cut-in, with the water side drained.",
		Source:  "common practice: cut-in less 2 psi",
	})
	switch {
	case errors.As(err, &above):
		low, high, gal := litres(motor.Exactly(above.Usable))
		s.add(Figure{
			Key: "tank.usable_l", Label: "What the tank gives before it runs dry", Unit: "L", Low: low, High: high, Also: gal, Basis: w.basis,
			Formula: "V·[1 - (Ppre + Pa)/(Poff + Pa)]", Numbers: m.tankText(), Source: "Boyle's law",
		})
		s.note("The precharge is above the cut-in: the taps run dry between the tank's emptying and the pump's start, in every cycle.")
	case err != nil:
		return m.fault("tank", err)
	case cycles:
		if err := m.showDrawdown(s, motor.Range[unit.Volume]{Low: unit.Volume(drawdown.Low), High: unit.Volume(drawdown.High)}); err != nil {
			return err
		}
	}
	low, high, gal := litres(left)
	s.add(Figure{
		Key: "tank.left_l", Label: "Water in the tank when the power fails", Unit: "L", Low: low, High: high, Also: gal, Basis: w.basis,
		Formula: "V·[1 - (Ppre + Pa)/(P + Pa)], P from cut-in to cut-out", Numbers: m.tankText(), Source: "Boyle's law",
	})
	return nil
}

func (m *maker) showDrawdown(s *Section, drawdown motor.Range[unit.Volume]) error {
	w := &m.water
	w.drawdown = drawdown
	naive, err1 := w.vessel[0].GaugeOnlyDrawdown()
	factor, _, err2 := w.over(tank.Vessel.AcceptanceFactor)
	third, err3 := w.vessel[0].ThirdOfVolume()
	if err := first(err1, err2, err3); err != nil {
		return m.fault("tank", err)
	}
	low, high, gal := litres(drawdown)
	s.add(Figure{
		Key: "tank.drawdown_l", Label: "Drawdown, cut-out to cut-in", Unit: "L", Low: low, High: high, Also: gal, Basis: w.basis,
		Formula: boyle, Numbers: m.tankText(), Source: "Boyle's law; US Standard Atmosphere 1976 for the altitude",
		Shortcut: &Shortcut{
			Rule: "gauge pressures without the atmosphere", Value: float64(naive / tank.Litre),
			Why: "Air follows absolute pressure.",
		},
	})
	s.add(Figure{
		Key: "tank.acceptance_ratio", Label: "Acceptance factor, drawdown over volume", Low: factor.Low, High: factor.High, Basis: w.basis,
		Formula: "f = Vd/V", Numbers: m.tankText(), Source: "Boyle's law",
		Shortcut: &Shortcut{
			Rule: "a third of the tank", Value: float64(third / w.vessel[0].Volume),
			Why: "It depends on the switch: a third fits 20/40 psi, a quarter 40/60 psi.",
		},
	})
	return nil
}
