package tank

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// A Supply is a whole water system: tank and switch, pump, and what lies
// between. Unlike in [System] the pump's flow follows from the pressure.
type Supply struct {
	// Tank is a [Vessel], a [PlainTank] or a [Waterlogged] one.
	Tank Cushion
	// Pump is its head against flow.
	Pump Curve
	// Main is what it works against.
	Main RisingMain
	// Input is the electrical power that it draws. Zero: not known, and
	// energies drawn are 0.
	Input Input
}

// A Cushion is the air of a tank, which gives way as water comes in, and the
// switch settings. [Vessel], [PlainTank] and [Waterlogged] are cushions.
type Cushion interface {
	// cushion returns the air at cut-in; its errors are those of Drawdown.
	cushion() (cushion, error)
}

// cushion is air at cut-in (m³), absolute pressures at cut-in, at cut-out and
// where the tank is empty (Pa), and the atmosphere (Pa).
type cushion struct {
	air, on, off, floor, atmosphere float64
}

func (v Vessel) cushion() (cushion, error) {
	if _, err := v.Drawdown(); err != nil {
		return cushion{}, err
	}
	pre, on, off := absolute(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere)
	return cushion{air: float64(v.Volume) * pre / on, on: on, off: off, floor: pre, atmosphere: float64(ambient(v.Atmosphere))}, nil
}

func (t PlainTank) cushion() (cushion, error) {
	if err := t.Validate(); err != nil {
		return cushion{}, err
	}
	charge, on, off := absolute(t.AirCharge, t.CutIn, t.CutOut, t.Atmosphere)
	return cushion{air: float64(t.Volume) * charge / on, on: on, off: off, floor: charge, atmosphere: float64(ambient(t.Atmosphere))}, nil
}

func (w Waterlogged) cushion() (cushion, error) {
	if _, err := w.Drawdown(); err != nil {
		return cushion{}, err
	}
	_, on, off := absolute(0, w.CutIn, w.CutOut, w.Atmosphere)
	pa := float64(ambient(w.Atmosphere))
	return cushion{air: float64(w.Air), on: on, off: off, floor: pa, atmosphere: pa}, nil
}

// drawdown is the water between cut-in and cut-out with exponent n.
func (c cushion) drawdown(n float64) float64 { return c.stored(c.off, n) }

// stored is the water above that at cut-in, at an absolute pressure.
func (c cushion) stored(abs, n float64) float64 {
	if n == 1 {
		return c.air * (1 - c.on/abs)
	}
	return c.air * (1 - math.Pow(c.on/abs, 1/n))
}

// absolute is the absolute pressure with so much stored above cut-in.
func (c cushion) absolute(stored, n float64) float64 {
	x := c.air / (c.air - stored)
	if n == 1 {
		return c.on * x
	}
	return c.on * math.Pow(x, n)
}

// An OperatingPoint is where pump and system meet.
type OperatingPoint struct {
	Pressure unit.Pressure // gauge, in the tank
	Flow     FlowRate      // of the pump
	Head     unit.Length   // total dynamic head
	Water    unit.Power    // ρ·g·Q·H
	Input    unit.Power    // 0 if not known
}

// Efficiency returns power in the water over power drawn, from wire to water;
// 0 where the input is not known.
//
// Definition: output over input.
func (p OperatingPoint) Efficiency() float64 {
	if p.Input <= 0 {
		return 0
	}
	return float64(p.Water / p.Input)
}

// Validate reports what is wrong with a supply, joined: each error wraps
// [ErrDomain], but for the [PrechargeError] of its tank.
//
// Common practice: the bounds are those of household systems.
func (s Supply) Validate() error {
	_, err := s.pumping()
	return err
}

// At returns where the pump works at a gauge pressure in the tank: the one flow
// at which its head is that of the system,
//
//	H(Q) = z + p/(ρ·g) + friction(Q)
//
// in the symbols of [RisingMain.Head]. One curve falls and the other rises, so
// that there is one such point, found between no flow and the curve's end.
//
// A pump that delivers nothing at that pressure gives a [ShutOffError]; one
// that would deliver more than its curve tells of [ErrBeyondCurve]; what is
// outside the ranges, and pressures outside 0 to 150 psi, an error that wraps
// [ErrDomain].
//
// Source: hydraulics; R. P. Brent's root finder.
func (s Supply) At(gauge unit.Pressure) (OperatingPoint, error) {
	p, err := s.pumping()
	if err = errors.Join(err, pkg.Range("pressure", float64(gauge), 0, float64(mostPressure), domain.PSI)); err != nil {
		return OperatingPoint{}, err
	}
	return p.at(float64(gauge))
}

// ShutOffPressure returns the gauge pressure that the pump holds in the tank
// with the taps shut,
//
//	p = ρ·g·(H0 − z)
//
// in the symbols of [RisingMain.Head], with H0 the shut-off head (m). At or below
// cut-out the pump never stops; below 0 it does not lift the water to the tank.
// Errors are those of [Supply.Validate].
//
// Source: hydrostatics.
func (s Supply) ShutOffPressure() (unit.Pressure, error) {
	p, err := s.pumping()
	if err != nil {
		return 0, err
	}
	return unit.Pressure(p.restPressure(0)), nil
}

// pumping is a supply made ready: gauge pressures in Pa, flows in m³/s.
type pumping struct {
	cushion

	fixed  float64 // flow of the pump at any pressure, in place of all below
	n      float64 // exponent of the air
	weight float64 // ρ·g
	pump   Curve
	main   RisingMain
	input  Input
}

func (s Supply) pumping() (p pumping, err error) {
	if s.Tank == nil {
		err = pkg.Invalid("tank", "none", "a Vessel, a PlainTank or a Waterlogged one")
	} else {
		p.cushion, err = s.Tank.cushion()
	}
	if err = errors.Join(err, s.Pump.check(), s.Main.Validate()); err != nil {
		return pumping{}, err
	}
	p.n, p.weight = 1, float64(s.Main.Water.Density)*gravity
	p.pump, p.main, p.input = s.Pump, s.Main, s.Input
	return p, nil
}

// at is the operating point at a gauge pressure.
func (p *pumping) at(gauge float64) (OperatingPoint, error) {
	static := p.main.static(gauge)
	if off := float64(p.pump.ShutOff()); static >= off {
		return OperatingPoint{}, &ShutOffError{Head: unit.Length(static), ShutOff: p.pump.ShutOff()}
	}
	if p.beyond(static) {
		return OperatingPoint{}, ErrBeyondCurve
	}
	q := p.against(static)
	if err := pkg.Range("pump flow", q, 0, float64(mostFlow), flowUnit); err != nil {
		return OperatingPoint{}, err
	}
	l := p.perSecond(q)
	return OperatingPoint{
		Pressure: unit.Pressure(gauge), Flow: FlowRate(q), Head: unit.Length(p.pump.head(q)),
		Water: unit.Power(l.work), Input: unit.Power(l.energy),
	}, nil
}

// beyond reports whether the pump would run past the end of its curve.
func (p *pumping) beyond(static float64) bool {
	most := float64(p.pump.RunOut())
	return p.pump.head(most) > static+p.main.friction(most)
}

// against is the flow against a static head; 0 at and above the shut-off head,
// the end of the curve where it would be more.
func (p *pumping) against(static float64) float64 {
	if static >= float64(p.pump.ShutOff()) {
		return 0
	}
	if p.main.smooth() {
		return p.pump.flow(max(static, p.pump.least*p.pump.speed*p.pump.speed))
	}
	most := float64(p.pump.RunOut())
	q, err := numeric.Root(func(q float64) float64 { return p.pump.head(q) - static - p.main.friction(q) }, 0, most, 0)
	if err != nil {
		return most
	}
	return q
}
