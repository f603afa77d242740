package tank

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Waterlogged tank has lost most of its air: a torn bladder, or water that
// dissolved the air of a plain tank. Its size no longer matters, only the air
// left does. The pump then starts every few seconds, which costs a start surge
// each time and overheats the motor.
//
// All pressures but Atmosphere are gauge pressures, with the ranges of
// [Vessel].
type Waterlogged struct {
	// Air is the volume of the air left, measured at CutIn, 1 mL to 1.9 m³.
	Air unit.Volume
	// CutIn and CutOut are where the switch starts and stops the pump.
	CutIn, CutOut unit.Pressure
	// Atmosphere is the absolute air pressure. Zero: standard, at sea level.
	Atmosphere unit.Pressure
}

const leastAir = 1e-3 * Litre

// Drawdown returns the water that comes out between cut-out and cut-in,
//
//	Vd = Va·[1 − (Pon + Pa)/(Poff + Pa)]
//
// where Va is w.Air (m³), Pon and Poff are the gauge pressures w.CutIn and
// w.CutOut (Pa) and Pa is the atmosphere (Pa, absolute).
//
// Valid for the ranges of [Waterlogged]; otherwise err wraps [ErrDomain].
//
// Source: Boyle's law.
func (w Waterlogged) Drawdown() (unit.Volume, error) {
	if !(w.Air >= leastAir && w.Air <= mostVolume && switchOK(w.CutIn, w.CutOut, w.Atmosphere)) {
		return 0, errors.Join(
			pkg.Range("air left", float64(w.Air), float64(leastAir), float64(mostVolume), domain.USGallon),
			switchFaults(w.CutIn, w.CutOut, w.Atmosphere),
		)
	}
	pa := ambient(w.Atmosphere)
	return w.Air * unit.Volume(1-(w.CutIn+pa)/(w.CutOut+pa)), nil
}

// ShortCycle returns how a pump of constant flow then runs at worst: see
// [System.WorstDemand]. Half a minute between the clicks of a switch is the
// trade's sign of short-cycling.
//
// Outside the ranges of [Waterlogged] and [System] err wraps [ErrDomain].
//
// Source: Boyle's law; the extreme of the cycle period as in [System.At].
func (w Waterlogged) ShortCycle(pump FlowRate) (Cycle, error) {
	vd, err := w.Drawdown()
	if err != nil {
		return Cycle{}, errors.Join(err, pumpRange(pump))
	}
	return System{Drawdown: vd, Pump: pump}.WorstDemand()
}
