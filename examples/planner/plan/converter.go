package plan

import (
	"cmp"
	"errors"
	"slices"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// A converter is the inverter of the site. Its losses are known as one or
// several models, between which the truth lies.
type converter struct {
	rated    unit.Power
	losses   []inverter.Loss
	loss     Basis
	idle     Value[unit.Power]
	standing bool // stays on while nothing runs
	surge    inverter.Surge
	rating   Basis
	cutOff   inverter.CutOff
	cut      Basis
}

// readInverter turns the [inverter] table into a converter.
func (m *maker) readInverter() error {
	s, c := &m.site.Inverter, &m.inv
	if !s.Output.Given() {
		v := unit.Voltage(120)
		if l := &m.site.Loads[0]; max(l.Voltage.Mid(), l.Measured.Voltage.Mid()) > 180 {
			v = 240
		}
		s.Output = s.Output.or(v)
		m.assume("inverter.output: %.0f V, to suit the first load", float64(v))
	}
	m.supply = s.Output.Mid()
	if !(m.supply >= 80 && m.supply <= 500) {
		return m.site.at("inverter.output", errors.New("output "+num(m.supply)+" V, want 80 V to 500 V ac"))
	}
	if s.Wave != "" && s.Wave != "sine" && s.Wave != "stepped" {
		return m.site.at("inverter.wave", errors.New(`want "sine" or "stepped"`))
	}
	c.rated = s.Power.Low
	if !s.Power.Given() {
		c.rated = unit.Power(s.Apparent.Low)
	}
	c.rating = worst(s.Power.Basis, s.Apparent.Basis)
	if err := m.readSurge(); err != nil {
		return err
	}
	if err := m.readLosses(); err != nil {
		return err
	}
	return m.readCutOff()
}

func (m *maker) readSurge() error {
	s, c := &m.site.Inverter, &m.inv
	c.surge.Continuous = motor.ApparentPower(c.rated)
	if s.Apparent.Given() {
		c.surge.Continuous = s.Apparent.Low
	} else {
		m.assume("inverter.apparent: %s VA, the label's watts taken for volt-amperes", num(c.rated))
	}
	for _, p := range s.Surge {
		c.surge.Points = append(c.surge.Points, inverter.SurgePoint{Apparent: p.Apparent.Low, For: p.For.Low})
		c.rating = worst(c.rating, p.Apparent.Basis)
	}
	slices.SortStableFunc(c.surge.Points, func(a, b inverter.SurgePoint) int {
		switch {
		case a.For < b.For:
			return -1
		case a.For > b.For:
			return 1
		}
		return 0
	})
	if len(s.Surge) == 0 {
		m.assume("inverter.surge: none; only the continuous rating counts at a start")
	}
	return m.fault("inverter", c.surge.Validate())
}

// readLosses fits the loss models from what is given.
func (m *maker) readLosses() error {
	s, c := &m.site.Inverter, &m.inv
	c.standing = s.IdleWhileWaiting == nil || *s.IdleWhileWaiting
	if !s.Idle.Given() {
		s.Idle = s.Idle.orRange(assumedIdleLow*c.rated, assumedIdleHigh*c.rated)
		m.assume("inverter.idle: %s W, 0.5 to 2.5 %% of the rated power", span(s.Idle.Low, s.Idle.High))
	}
	c.idle = s.Idle
	idles := []unit.Power{s.Idle.Low}
	if s.Idle.High > s.Idle.Low {
		idles = append(idles, s.Idle.High)
	}
	if len(s.EfficiencyAt) > 0 {
		if s.Efficiency.Given() {
			return m.site.at("inverter.efficiency", errors.New("efficiency and efficiency_at say the same thing; keep one of them"))
		}
		return m.fitLosses(idles)
	}
	if !s.Efficiency.Given() {
		s.Efficiency = s.Efficiency.orRange(assumedEffLow, assumedEffHigh)
		m.assume("inverter.efficiency: %.0f..%.0f %% beside the idle draw", 100*assumedEffLow, 100*assumedEffHigh)
	}
	c.loss = worst(s.Efficiency.Basis, s.Idle.Basis)
	best, bad, err := inverter.FlatRange(c.rated, inverter.Range[unit.Power]{Low: s.Idle.Low, High: s.Idle.High},
		inverter.Range[float64]{Low: float64(s.Efficiency.Low), High: float64(s.Efficiency.High)})
	c.losses = []inverter.Loss{best, bad}
	return m.fault("inverter", err)
}

// fitLosses fits one model to each corner of idle draw and efficiencies.
func (m *maker) fitLosses(idles []unit.Power) error {
	s, c := &m.site.Inverter, &m.inv
	points := slices.Clone(s.EfficiencyAt)
	slices.SortStableFunc(points, func(a, b EfficiencyPoint) int { return cmp.Compare(a.Power.Mid(), b.Power.Mid()) })
	c.loss = s.Idle.Basis
	for _, p := range points {
		c.loss = worst(c.loss, p.Efficiency.Basis, p.Power.Basis)
	}
	point := func(p EfficiencyPoint, high bool) inverter.EfficiencyPoint {
		e := p.Efficiency.Low
		if high {
			e = p.Efficiency.High
		}
		return inverter.EfficiencyPoint{Output: p.Power.Mid(), Efficiency: float64(e)}
	}
	for _, idle := range idles {
		for _, high := range []bool{false, true} {
			if err := m.fitThrough(idle, points, func(p EfficiencyPoint) inverter.EfficiencyPoint { return point(p, high) }); err != nil {
				return err
			}
		}
	}
	return nil
}

// fitThrough adds a model through each neighbouring pair of points, so that
// every point typed lies on one of them. One point alone, and a point between
// others that no smooth loss curve joins, has a model of its own.
func (m *maker) fitThrough(idle unit.Power, points []EfficiencyPoint, point func(EfficiencyPoint) inverter.EfficiencyPoint) error {
	c := &m.inv
	add := func(l inverter.Loss) {
		if !slices.Contains(c.losses, l) {
			c.losses = append(c.losses, l)
		}
	}
	joined := make([]bool, len(points))
	var fault error
	for i := 1; i < len(points); i++ {
		l, err := inverter.FitIdleTwo(c.rated, idle, point(points[i-1]), point(points[i]))
		if err != nil {
			fault = first(fault, err)
			continue
		}
		add(l)
		joined[i-1], joined[i] = true, true
	}
	for i, p := range points {
		if joined[i] {
			continue
		}
		l, err := inverter.FitIdleOne(c.rated, idle, point(p))
		if err != nil || len(points) == 2 {
			return m.fitFault(first(fault, err))
		}
		add(l)
	}
	return nil
}

// efficiencyAt returns the range of ac over dc power at a dc power.
func (c *converter) efficiencyAt(dc unit.Power) (motor.Range[float64], error) {
	var e motor.Range[float64]
	for i, l := range c.losses {
		ac, err := l.ACPower(dc)
		if err != nil {
			return e, err
		}
		this := motor.Exactly(float64(ac / dc))
		if i == 0 {
			e = this
		}
		e = hull(e, this)
	}
	return e, nil
}

// fitFault places a fault of the efficiency points, or of the idle draw.
func (m *maker) fitFault(err error) error {
	var domain *motor.DomainError
	if errors.As(err, &domain) && domain.Quantity == "idle draw" {
		return m.fault("inverter", err)
	}
	return m.fault("inverter.efficiency_at", err)
}

func (m *maker) readCutOff() error {
	s, c := &m.site.Inverter, &m.inv
	if !s.CutOff.Given() {
		// 1.75 V a cell of lead-acid, seen from 9.5 to 11 V at 12 V.
		n := m.bank.Voltage()
		s.CutOff = s.CutOff.orRange(n*9.5/12, n*11/12)
		m.assume("inverter.cut_off: %s V, as found on inverters for this bank", span(s.CutOff.Low, s.CutOff.High))
	}
	c.cut = worst(s.CutOff.Basis, s.StartCutOff.Basis, s.StartDelay.Basis)
	if s.StartCutOff.Given() != s.StartDelay.Given() {
		return m.site.at("inverter.start_cut_off", errors.New("start_cut_off and start_delay need each other"))
	}
	c.cutOff = inverter.CutOff{Running: s.CutOff.High, Start: s.StartCutOff.High, Allowed: s.StartDelay.Low}
	if err := m.fault("inverter", c.cutOff.Validate()); err != nil {
		return err
	}
	if n := m.bank.Voltage(); s.CutOff.Low < 0.7*n {
		return m.site.at("inverter.cut_off", errors.New("cut-off "+num(s.CutOff.Low)+
			" V is below 70 % of the bank's nominal "+num(n)+" V; are both for the same bank voltage?"))
	}
	if s.CutOff.High >= m.bank.start.volts.High {
		return m.site.at("inverter.cut_off", errors.New("cut-off "+num(s.CutOff.High)+
			" V is not below the rested bank's "+num(m.bank.start.volts.High)+" V; are both for the same bank voltage?"))
	}
	return nil
}

// bestAndWorst returns the model that takes least from the battery at a load,
// and the one that takes most.
func (c *converter) bestAndWorst(p unit.Power, s motor.ApparentPower) (best, bad inverter.Loss) {
	best, bad = c.losses[0], c.losses[0]
	least, most := unit.Power(0), unit.Power(0)
	for i, l := range c.losses {
		dc, err := l.DCPowerAt(p, max(s, motor.ApparentPower(p)))
		if err != nil {
			continue
		}
		if i == 0 || dc < least {
			least, best = dc, l
		}
		if i == 0 || dc > most {
			most, bad = dc, l
		}
	}
	return best, bad
}
