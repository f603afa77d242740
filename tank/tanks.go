package tank

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Several tanks on one pipe, each with a precharge of its own.

// A PipedTank is one of several captive-air tanks on a pipe.
type PipedTank struct {
	Volume    unit.Volume   // of the empty tank, 0.5 L to 1.9 m³
	Precharge unit.Pressure // with the tank drained, gauge, 1 to 150 psi
}

// A Bank is tanks on one pipe under one pressure switch, close enough to it to
// be at one pressure.
type Bank struct {
	Tanks []PipedTank // 1 to 100
	// CutIn, CutOut and Atmosphere are those of [Vessel].
	CutIn, CutOut, Atmosphere unit.Pressure
}

// Validate reports every field outside its range, joined; each wraps
// [ErrDomain].
//
// Common practice: the bounds are those of [Vessel].
func (b Bank) Validate() error {
	if b.ok() {
		return nil
	}
	err := errors.Join(pkg.Range("tanks", float64(len(b.Tanks)), 1, 100, domain.One), switchFaults(b.CutIn, b.CutOut, b.Atmosphere))
	for _, t := range b.Tanks {
		err = errors.Join(err, volumeRange("volume", t.Volume),
			pkg.Range("precharge", float64(t.Precharge), float64(leastCharge), float64(mostPressure), domain.PSI))
	}
	return err
}

func (b Bank) ok() bool {
	if !(len(b.Tanks) >= 1 && len(b.Tanks) <= 100) {
		return false
	}
	for _, t := range b.Tanks {
		if !(volumeOK(t.Volume) && chargeOK(t.Precharge, b.CutIn, b.CutOut, b.Atmosphere)) {
			return false
		}
	}
	return true
}

// water is what all tanks hold at a gauge pressure, unchecked (m³).
func (b Bank) water(at unit.Pressure) unit.Volume {
	pa, sum := ambient(b.Atmosphere), unit.Volume(0)
	for _, t := range b.Tanks {
		sum += t.Volume * max(0, 1-unit.Volume((t.Precharge+pa)/(at+pa)))
	}
	return sum
}

// WaterLeft returns the water that still comes out of all tanks at a gauge
// pressure, with no pump,
//
//	Vw = Σ V_i·[1 − (P_i + Pa)/(P + Pa)], each at least 0
//
// where V_i is the volume (m³) and P_i the precharge (Pa, gauge) of tank i, P
// the argument at (Pa, gauge), 0 or 1 to 150 psi, and Pa the atmosphere (Pa,
// absolute). Tanks whose precharge is at or above P are empty.
//
// Valid for the ranges of [Bank]; otherwise err wraps [ErrDomain].
//
// Source: Boyle's law for each tank.
func (b Bank) WaterLeft(at unit.Pressure) (unit.Volume, error) {
	if !(b.ok() && gaugeOK(at)) {
		return 0, errors.Join(b.Validate(), gaugeRange("tank pressure", at))
	}
	return b.water(at), nil
}

// Drawdown returns the water that comes out between cut-out and cut-in, with
// the pump at rest,
//
//	Vd = Σ V_i·{[1 − (P_i + Pa)/(Poff + Pa)] − [1 − (P_i + Pa)/(Pon + Pa)]}
//
// with each bracket at least 0 and the symbols of [Bank.WaterLeft]. Tanks add
// up one by one: a tank with a lower precharge gives less, and one whose
// precharge lies between cut-in and cut-out gives what it has above it, while
// the others hold the pressure. Volumes may be summed and given to a [Vessel]
// only where all precharges are alike.
//
// Where all precharges are above cut-in, the pressure falls to nothing before
// the pump starts: err is then a [PrechargeError] with the lowest of them.
// Valid for the ranges of [Bank]; otherwise err wraps [ErrDomain].
//
// Source: Boyle's law for each tank, as [Vessel.Drawdown].
func (b Bank) Drawdown() (unit.Volume, error) {
	if !b.ok() {
		return 0, b.Validate()
	}
	lowest := unit.Pressure(math.Inf(1))
	for _, t := range b.Tanks {
		lowest = min(lowest, t.Precharge)
	}
	if lowest > b.CutIn {
		return 0, &PrechargeError{Precharge: lowest, CutIn: b.CutIn, Usable: b.water(b.CutOut)}
	}
	return b.water(b.CutOut) - b.water(b.CutIn), nil
}
