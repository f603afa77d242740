package tank

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Vessel is a captive-air tank, where a bladder or diaphragm keeps air and
// water apart, with the pressure switch that governs it. Several tanks on one
// pipe with one precharge count as one of their summed volume.
//
// All pressures but Atmosphere are gauge pressures.
type Vessel struct {
	// Volume of the empty tank, 0.5 L to 1.9 m³ (500 gal). It is the total on
	// the label, not the size of the plain tank it is sold as equivalent to.
	Volume unit.Volume
	// Precharge of the air with the tank drained, 1 to 150 psi. A tank that
	// lost all its charge is a [PlainTank].
	Precharge unit.Pressure
	// CutIn is where the switch starts the pump, 5 to 150 psi.
	CutIn unit.Pressure
	// CutOut is where the switch stops it, at least 1 psi above CutIn and up
	// to 150 psi.
	CutOut unit.Pressure
	// Atmosphere is the air pressure at the site, absolute, 50 to 115 kPa:
	// see [StandardPressure]. Zero: the standard atmosphere at sea level.
	Atmosphere unit.Pressure
}

// Bounds. They lie where a forgotten unit falls outside: 44 for 44 gal is
// 44 m³, 30 for 30 psi is 30 Pa, 30*Kilopascal is 4.4 psi.
const (
	leastVolume       = 0.5 * Litre
	mostVolume        = 1900 * Litre
	leastCharge       = 1 * PSI
	leastCutIn        = 5 * PSI
	leastDifferential = 1 * PSI
	mostPressure      = 150 * PSI
	leastAtmosphere   = 50 * Kilopascal
	mostAtmosphere    = 115 * Kilopascal
)

// ErrPrechargeAboveCutIn is what a [PrechargeError] is, by [errors.Is].
var ErrPrechargeAboveCutIn = errors.New("tank: precharge above cut-in")

// A PrechargeError says that a tank's precharge is above its switch's cut-in
// pressure, and what follows. It is a state of the tank, not a mistake in the
// call: the tank is empty before the switch starts the pump, and the taps run
// dry for that long in every cycle.
type PrechargeError struct {
	// Precharge and CutIn, gauge. The tank is empty at the precharge, and the
	// pressure falls from there to nothing while the switch waits for CutIn.
	Precharge, CutIn unit.Pressure
	// Usable is what comes out from cut-out until the tank is empty,
	// V·[1 − (Ppre + Pa)/(Poff + Pa)]; zero where the precharge is above
	// cut-out as well, so that the tank never takes water, and where the
	// volume is not stated ([Vessel.AcceptanceFactor] and [Vessel.VolumeFor]
	// do without it).
	Usable unit.Volume
}

// Error returns the state in words.
//
// Definition: see [PrechargeError].
func (e *PrechargeError) Error() string {
	gives := ""
	if e.Usable > 0 {
		gives = fmt.Sprintf("gives %.3g gal (%.3g L) and ", float64(e.Usable/USGallon), float64(e.Usable/Litre))
	}
	return fmt.Sprintf("%v: precharge %.4g psi, cut-in %.4g psi; the tank %sis empty before the pump starts",
		ErrPrechargeAboveCutIn, float64(e.Precharge/PSI), float64(e.CutIn/PSI), gives)
}

// Is reports whether target is [ErrPrechargeAboveCutIn].
//
// Definition: see [errors.Is].
func (e *PrechargeError) Is(target error) bool { return target == ErrPrechargeAboveCutIn }

// Validate reports every field outside its range, joined; each wraps
// [ErrDomain]. A precharge above cut-in is in range: see [PrechargeError].
//
// Common practice: the bounds are those of household tanks, whose label allows
// 75 to 150 psi.
func (v Vessel) Validate() error {
	if volumeOK(v.Volume) && chargeOK(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere) {
		return nil
	}
	return v.faults()
}

// volumeOK, chargeOK and switchOK are the short cut of faults, small enough to
// be inlined; a fuzz test holds them together. They take fields, not the
// Vessel, as a struct of five is copied through memory at each call.
func volumeOK(v unit.Volume) bool { return v >= leastVolume && v <= mostVolume }

func chargeOK(pre, in, out, atm unit.Pressure) bool {
	return pre >= leastCharge && pre <= mostPressure && switchOK(in, out, atm)
}

func (v Vessel) faults() error {
	return errors.Join(volumeRange("volume", v.Volume), v.chargeFaults())
}

func (v Vessel) chargeFaults() error {
	return errors.Join(
		pkg.Range("precharge", float64(v.Precharge), float64(leastCharge), float64(mostPressure), domain.PSI),
		switchFaults(v.CutIn, v.CutOut, v.Atmosphere),
	)
}

// switchOK is the short cut of switchFaults.
func switchOK(in, out, atm unit.Pressure) bool {
	atm = ambient(atm)
	return in >= leastCutIn && out >= in+leastDifferential && out <= mostPressure &&
		atm >= leastAtmosphere && atm <= mostAtmosphere
}

// switchFaults reports what is wrong with a switch and its surroundings.
func switchFaults(in, out, atm unit.Pressure) error {
	errIn := pkg.Range("cut-in", float64(in), float64(leastCutIn), float64(mostPressure-leastDifferential), domain.PSI)
	least := leastCutIn + leastDifferential
	if errIn == nil {
		least = in + leastDifferential
	}
	return errors.Join(errIn,
		pkg.Range("cut-out", float64(out), float64(least), float64(mostPressure), domain.PSI),
		atmosphereRange(atm),
	)
}

func atmosphereRange(p unit.Pressure) error {
	if p == 0 {
		return nil
	}
	return pkg.Range("atmosphere", float64(p), float64(leastAtmosphere), float64(mostAtmosphere), domain.PSI)
}

func volumeRange(quantity string, v unit.Volume) error {
	return pkg.Range(quantity, float64(v), float64(leastVolume), float64(mostVolume), domain.USGallon)
}

// gaugeOK is the short cut of gaugeRange.
func gaugeOK(p unit.Pressure) bool { return p == 0 || p >= leastCharge && p <= mostPressure }

// gaugeRange accepts 0 and 1 to 150 psi, for pressures read off a gauge.
func gaugeRange(quantity string, p unit.Pressure) error {
	if p == 0 {
		return nil
	}
	return pkg.Range(quantity, float64(p), float64(leastCharge), float64(mostPressure), domain.PSI)
}

// ambient returns p, or the standard atmosphere for zero.
func ambient(p unit.Pressure) unit.Pressure {
	if p == 0 {
		return SeaLevel
	}
	return p
}

// absolute returns precharge, cut-in and cut-out as absolute pressures (Pa).
func absolute(pre, in, out, atm unit.Pressure) (ppre, pon, poff float64) {
	pa := ambient(atm)
	return float64(pre + pa), float64(in + pa), float64(out + pa)
}

// Drawdown returns the water that comes out between cut-out and cut-in, with
// the pump at rest and the air at one temperature,
//
//	Vd = V·(Ppre + Pa)·[1/(Pon + Pa) − 1/(Poff + Pa)]
//
// where V is v.Volume (m³), Ppre, Pon and Poff are the gauge pressures
// v.Precharge, v.CutIn and v.CutOut (Pa) and Pa is the atmosphere (Pa,
// absolute). It is the most a tank gives: a fast fill gives less, see
// [Vessel.PolytropicDrawdown]. With the precharge at cut-in it becomes
// V·[1 − (Pon + Pa)/(Poff + Pa)], which printed tables mix with the form above.
//
// Valid for the ranges of [Vessel]; otherwise err wraps [ErrDomain]. With the
// precharge above cut-in, err is a [PrechargeError], which holds the usable
// volume.
//
// Source: Boyle's law; worked examples and tables in testdata/tank.
func (v Vessel) Drawdown() (unit.Volume, error) {
	if !(volumeOK(v.Volume) && chargeOK(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere)) {
		return 0, v.faults()
	}
	pre, on, off := absolute(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere)
	if pre > on {
		return 0, v.prechargeError()
	}
	return unit.Volume(float64(v.Volume) * pre * (1/on - 1/off)), nil
}

// prechargeError is the answer of a tank whose precharge is above cut-in.
func (v Vessel) prechargeError() error {
	pre, _, off := absolute(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere)
	e := &PrechargeError{Precharge: v.Precharge, CutIn: v.CutIn}
	if volumeOK(v.Volume) {
		e.Usable = v.Volume * unit.Volume(max(0, 1-pre/off))
	}
	return e
}

// AcceptanceFactor returns drawdown over total volume,
//
//	f = Vd/V = (Ppre + Pa)·[1/(Pon + Pa) − 1/(Poff + Pa)]
//
// in the symbols of [Vessel.Drawdown], with its range and errors. v.Volume is
// not checked and may be zero; a [PrechargeError] reckons with it if it is in
// range.
//
// Source: Boyle's law; tables of drawdown factors in testdata/tank.
func (v Vessel) AcceptanceFactor() (float64, error) {
	if !chargeOK(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere) {
		return 0, v.chargeFaults()
	}
	pre, on, off := absolute(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere)
	if pre > on {
		return 0, v.prechargeError()
	}
	return pre * (1/on - 1/off), nil
}

// AirVolume returns what the air takes up at a gauge pressure,
//
//	Va = V·(Ppre + Pa)/(P + Pa), at most V
//
// in the symbols of [Vessel.Drawdown], where P is the argument at (Pa), 0 or
// 1 to 150 psi. At and below the precharge the air fills the tank.
//
// Outside the ranges err wraps [ErrDomain].
//
// Source: Boyle's law.
func (v Vessel) AirVolume(at unit.Pressure) (unit.Volume, error) {
	if !(volumeOK(v.Volume) && chargeOK(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere) && gaugeOK(at)) {
		return 0, errors.Join(v.faults(), gaugeRange("pressure", at))
	}
	pa := ambient(v.Atmosphere)
	return v.Volume * min(1, unit.Volume((v.Precharge+pa)/(at+pa))), nil
}

// WaterLeft returns the water that still comes out of the tank at a gauge
// pressure, with no pump,
//
//	Vw = V·[1 − (Ppre + Pa)/(P + Pa)], at least 0
//
// in the symbols and with the range of [Vessel.AirVolume]. At and below the
// precharge the tank is empty, whatever pressure a tap needs. Above cut-out it
// is what the tank would hold, had the pump gone on.
//
// Source: Boyle's law.
func (v Vessel) WaterLeft(at unit.Pressure) (unit.Volume, error) {
	air, err := v.AirVolume(at)
	if err != nil {
		return 0, err
	}
	return v.Volume - air, nil
}

// WaterWhenPowerFails returns what the tank holds when the pump can no longer
// start: Low if the power fails just before cut-in, High just after cut-out.
// With steady demand the content falls and rises in proportion to time, so
// Mid() is its mean over the hours. With the precharge at or above cut-in, Low
// is zero.
//
// Valid for the ranges of [Vessel]; otherwise err wraps [ErrDomain].
//
// Source: Boyle's law, see [Vessel.WaterLeft].
func (v Vessel) WaterWhenPowerFails() (Range[unit.Volume], error) {
	low, err := v.WaterLeft(v.CutIn)
	if err != nil {
		return Range[unit.Volume]{}, err
	}
	high, err := v.WaterLeft(v.CutOut)
	return Range[unit.Volume]{Low: low, High: high}, err
}
