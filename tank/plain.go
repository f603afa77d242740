package tank

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A PlainTank is a tank without bladder or diaphragm: air lies on the water.
// Filled from the empty tank at atmospheric pressure it holds little air at
// its working pressure and gives 45 % (20/40 psi), 34 % (30/50) or 28 % (40/60)
// of what a captive-air tank of its size gives; supercharged to the cut-in pressure it equals one
// with that precharge, as long as the air lasts: water dissolves it.
//
// All pressures but Atmosphere are gauge pressures, with the ranges of
// [Vessel].
type PlainTank struct {
	// Volume of the empty tank.
	Volume unit.Volume
	// AirCharge is the pressure of the air with no water in the tank, 1 psi
	// to CutIn. Zero: filled from atmospheric air. Above CutIn the air would
	// leave through the pipe until it is CutIn.
	AirCharge unit.Pressure
	// CutIn and CutOut are where the switch starts and stops the pump.
	CutIn, CutOut unit.Pressure
	// Atmosphere is the absolute air pressure. Zero: standard, at sea level.
	Atmosphere unit.Pressure
}

// Validate reports every field outside its range, joined; each wraps
// [ErrDomain].
//
// Common practice: the bounds are those of household tanks.
func (t PlainTank) Validate() error {
	if t.Volume >= leastVolume && t.Volume <= mostVolume && switchOK(t.CutIn, t.CutOut, t.Atmosphere) &&
		(t.AirCharge == 0 || t.AirCharge >= leastCharge && t.AirCharge <= t.CutIn) {
		return nil
	}
	var charge error
	if t.AirCharge != 0 {
		charge = pkg.Range("air charge", float64(t.AirCharge), float64(leastCharge), float64(t.CutIn), domain.PSI)
	}
	return errors.Join(volumeRange("volume", t.Volume), charge, switchFaults(t.CutIn, t.CutOut, t.Atmosphere))
}

// Drawdown returns the water that comes out between cut-out and cut-in,
//
//	Vd = V·(Pc + Pa)·[1/(Pon + Pa) − 1/(Poff + Pa)]
//
// where V is t.Volume (m³), Pc, Pon and Poff are the gauge pressures
// t.AirCharge, t.CutIn and t.CutOut (Pa) and Pa is the atmosphere (Pa,
// absolute).
//
// Valid for the ranges of [PlainTank]; otherwise err wraps [ErrDomain].
//
// Source: Boyle's law.
func (t PlainTank) Drawdown() (unit.Volume, error) {
	if err := t.Validate(); err != nil {
		return 0, err
	}
	pa := ambient(t.Atmosphere)
	pc, on, off := float64(t.AirCharge+pa), float64(t.CutIn+pa), float64(t.CutOut+pa)
	return unit.Volume(float64(t.Volume) * pc * (1/on - 1/off)), nil
}

// AcceptanceFactor returns drawdown over total volume, Vd/V: see
// [PlainTank.Drawdown] for the equation, range and errors.
//
// Source: Boyle's law.
func (t PlainTank) AcceptanceFactor() (float64, error) {
	vd, err := t.Drawdown()
	if err != nil {
		return 0, err
	}
	return float64(vd / t.Volume), nil
}

// AirVolume returns what the air takes up at a gauge pressure,
//
//	Va = V·(Pc + Pa)/(P + Pa), at most V
//
// in the symbols of [PlainTank.Drawdown], where P is the argument at (Pa), 0
// or 1 to 150 psi. Outside the ranges err wraps [ErrDomain].
//
// Source: Boyle's law.
func (t PlainTank) AirVolume(at unit.Pressure) (unit.Volume, error) {
	if err := errors.Join(t.Validate(), gaugeRange("pressure", at)); err != nil {
		return 0, err
	}
	pa := ambient(t.Atmosphere)
	return t.Volume * min(1, unit.Volume((t.AirCharge+pa)/(at+pa))), nil
}

// WaterLeft returns the water in the tank at a gauge pressure, V − Va of
// [PlainTank.AirVolume], all of which comes out by the time the pressure has
// fallen to t.AirCharge.
//
// Source: Boyle's law.
func (t PlainTank) WaterLeft(at unit.Pressure) (unit.Volume, error) {
	air, err := t.AirVolume(at)
	if err != nil {
		return 0, err
	}
	return t.Volume - air, nil
}
