package main

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/tank"
)

// A reckoner turns a system file into an answer, section by section.
type reckoner struct {
	system *System
	answer *Answer

	vessel  tank.Vessel
	supply  tank.Supply
	parts   parts
	slow    *tank.Supply // at the other frequency
	ratio   float64      // of the frequencies
	persons int
	use     tank.FlowRate
	draws   []tank.Draw // of a day

	drawdown unit.Volume // 0 where the precharge is above cut-in
	fill     *tank.Fill  // without demand; nil where there is none
	day      *tank.Supplied
	perVol   tank.EnergyPerVolume // 0: not known
}

// parts are the heads that are lost, apart.
type parts struct {
	well, pipes, fittings, suction tank.RisingMain
	most                           []tank.HeadLoss // fittings with the greatest K in print
}

// reckon computes all that there is to say.
func reckon(s *System) (*reckoner, error) {
	r := &reckoner{system: s, answer: &Answer{Name: s.Name, Inputs: s, Cautions: cautions(), Assumed: []string{}}}
	for _, step := range []func() error{r.build, r.showTank, r.showWell, r.showHead, r.showPoints, r.showFill, r.showCycles, r.showDay, r.showStores} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	r.answer.Holds = true
	for _, c := range r.answer.Checks {
		r.answer.Holds = r.answer.Holds && (c.Holds || c.Advice)
	}
	return r, nil
}

func (r *reckoner) assume(format string, args ...any) {
	r.answer.Assumed = append(r.answer.Assumed, fmt.Sprintf(format, args...))
}

func (r *reckoner) check(c Check) { r.answer.Checks = append(r.answer.Checks, c) }

func (r *reckoner) add(s Section) { r.answer.Sections = append(r.answer.Sections, s) }

// first returns the first error, so that one fault is not told twice.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func (r *reckoner) build() error {
	for _, step := range []func() error{r.buildTank, r.buildMain, r.buildPump, r.buildInput, r.buildSpeed, r.buildDay} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func (r *reckoner) buildTank() error {
	s := r.system
	air := tank.SeaLevel
	switch {
	case s.Atmosphere.Given():
		air = s.Atmosphere.Low
	case s.Altitude.Given():
		var err error
		if air, err = tank.StandardPressure(s.Altitude.Low); err != nil {
			return s.at("altitude", err)
		}
	default:
		r.assume("altitude: sea level")
	}
	t := &s.Tank
	r.vessel = tank.Vessel{Volume: t.Volume.Low, Precharge: t.Precharge.Low, CutIn: t.CutIn.Low, CutOut: t.CutOut.Low, Atmosphere: air}
	if err := r.vessel.Validate(); err != nil {
		return s.at("tank", err)
	}
	r.supply.Tank = r.vessel
	return nil
}

// buildMain gathers what the pump works against, and keeps its parts.
func (r *reckoner) buildMain() error {
	s := r.system
	// The trade's 2.31 ft a psi is water of this temperature.
	const customary = 18
	t := s.Temperature.or(tank.Celsius(customary))
	water, err := tank.WaterAt(t)
	if err != nil {
		return s.at("water_temperature", err)
	}
	if !s.Temperature.Given() {
		water.Density = tank.CustomaryWater
		r.assume("water_temperature: %d °C, at which a psi is 2.31 ft", customary)
	}
	p := &r.parts
	for _, m := range []*tank.RisingMain{&p.well, &p.pipes, &p.fittings, &p.suction} {
		m.Water = water
	}
	if d := &s.Well.Drawdown; d.Given() {
		p.well.Losses = []tank.HeadLoss{{Head: d.What.Low, At: d.Flow.Low, Exponent: 1}}
	} else {
		r.assume("well.drawdown: none, the level stays while the pump runs")
	}
	if !s.Well.Rise.Given() {
		r.assume("well.rise: none, the tank's gauge is as high as the well head")
	}
	for i := range s.Pipes {
		if err := r.buildPipe(i); err != nil {
			return s.at(fmt.Sprintf("pipe[%d]", i), err)
		}
	}
	all := tank.RisingMain{Lift: s.Well.Level.Low + s.Well.Rise.Low, Water: water}
	all.Pipes = p.pipes.Pipes
	for _, m := range []tank.RisingMain{p.well, p.pipes, p.fittings} {
		all.Losses = append(all.Losses, m.Losses...)
	}
	r.supply.Main = all
	if err := all.Validate(); err != nil {
		return s.at("well", err)
	}
	return nil
}

// at which flow the heads of fittings and of pipes by Hazen and Williams are
// reckoned; both are powers of the flow, so that any does.
const reference = 10 * tank.USGallonPerMinute

func (r *reckoner) buildPipe(i int) error {
	in, p := &r.system.Pipes[i], &r.parts
	pipe := tank.Pipe{Diameter: in.Inside.Low, Length: in.Length.Low, Roughness: in.Roughness.Low}
	kind := pipeKinds[in.Kind]
	if in.Size.Given() {
		size, err := kind.series.Size(in.Size.Low)
		if err != nil {
			return err
		}
		pipe.Diameter = size.Inside
	}
	if in.Kind != "" && !in.Roughness.Given() && in.C == 0 {
		var err error
		if pipe.Roughness, err = kind.surface.Roughness(); err != nil {
			return err
		}
	}
	add := func(loss tank.HeadLoss, to *tank.RisingMain) {
		to.Losses = append(to.Losses, loss)
		if in.Suction {
			p.suction.Losses = append(p.suction.Losses, loss)
		}
	}
	if in.C != 0 {
		h, err := tank.HazenWilliamsLoss(reference, in.C, pipe.Diameter, pipe.Length)
		if err != nil {
			return err
		}
		add(tank.HeadLoss{Head: h, At: reference, Exponent: tank.HazenWilliamsExponent}, &p.pipes)
	} else {
		if _, err := pipe.Loss(reference, p.pipes.Water); err != nil {
			return err
		}
		p.pipes.Pipes = append(p.pipes.Pipes, pipe)
		if in.Suction {
			p.suction.Pipes = append(p.suction.Pipes, pipe)
		}
	}
	v, err := pipe.Loss(reference, p.pipes.Water)
	if err != nil {
		return err
	}
	for _, f := range in.Fittings {
		mid, err1 := tank.MinorLoss(float64(f.Count)*f.K.Mid(), v.Velocity)
		most, err2 := tank.MinorLoss(float64(f.Count)*f.K.High, v.Velocity)
		if err := first(err1, err2); err != nil {
			return err
		}
		add(tank.HeadLoss{Head: mid, At: reference, Exponent: 2}, &p.fittings)
		p.most = append(p.most, tank.HeadLoss{Head: most, At: reference, Exponent: 2})
	}
	return nil
}

// buildDay shares the day's use out.
func (r *reckoner) buildDay() error {
	s := r.system
	if r.persons = s.Persons; r.persons == 0 {
		r.persons = 4
		r.assume("persons: 4")
	}
	r.use = s.Day.Use.Low
	if !s.Day.Use.Given() {
		var err error
		if r.use, err = tank.IndoorUse(r.persons); err != nil {
			return s.at("persons", err)
		}
		r.assume("day.use: %.0f L (%.0f gal), the indoor use of an average house of %d", float64(r.use/tank.LitrePerDay), float64(r.use/tank.USGallonPerDay), r.persons)
	}
	key := "day.profile"
	profile := tank.HouseholdProfile()
	switch {
	case s.Day.Hours != nil:
		key, profile = "day.hours", tank.Profile(s.Day.Hours)
	case s.Day.Profile != "":
		profile = profiles[s.Day.Profile]()
	default:
		r.assume("day.profile: household, more in the morning and in the evening")
	}
	if _, err := profile.PeakFactor(); err != nil {
		return s.at(key, err)
	}
	var err error
	if r.draws, err = profile.Draws(r.use); err != nil {
		return s.at("day.use", err)
	}
	return nil
}
