package tank

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// How high a pump that stands above the water can draw it: the air pushes the
// water up, and water boils where too little of the push is left.

// A Suction is the way from the water's surface to a pump's eye.
type Suction struct {
	// Atmosphere is the absolute pressure on the water's surface, 30 to 125
	// kPa: see [StandardPressure]. Zero is refused, as altitude decides here.
	Atmosphere unit.Pressure
	// Lift is how far the pump stands above the water while it draws,
	// negative where the water stands above the pump (m).
	Lift unit.Length
	// Friction is the head lost in suction pipe, fittings and foot valve (m).
	Friction unit.Length
	// Water is what is drawn; only density and vapour pressure count.
	Water Water
}

// Available returns the net positive suction head that the pump finds,
//
//	NPSHA = (pa − pv)/(ρ·g) − z − hf
//
// where pa is s.Atmosphere (Pa), pv and ρ the water's vapour pressure (Pa) and
// density (kg/m³), z s.Lift (m), hf s.Friction (m) and g 9.806 65 m/s². A pump
// runs without cavitation where it exceeds the head that its curve requires
// at that flow, NPSHR. A negative result is a column of water that has parted:
// no pump draws it.
//
// Valid for the ranges at the fields, lifts of −30 to 15 m and friction to 30
// m; otherwise err wraps [ErrDomain].
//
// Source: L. Bachus, A. Custodio, Know and Understand Centrifugal Pumps, on
// net positive suction head.
func (s Suction) Available() (unit.Length, error) {
	if !(s.airOK() && s.Lift >= leastLift && s.Lift <= mostLift && s.Friction >= 0 && s.Friction <= mostSuctionLoss) {
		return 0, errors.Join(s.airFaults(),
			pkg.Range("lift", float64(s.Lift), float64(leastLift), float64(mostLift), domain.Metre),
			suctionLossRange(s.Friction))
	}
	return s.ceiling() - s.Lift - s.Friction, nil
}

// ceiling is how high the air can push the water before it boils, unchecked.
func (s Suction) ceiling() unit.Length {
	return unit.Length(float64(s.Atmosphere-s.Water.Vapour) / (float64(s.Water.Density) * gravity))
}

// GreatestLift returns the highest that the pump may stand above the water, at
// which the head available is the one required, NPSHR (m),
//
//	z = (pa − pv)/(ρ·g) − NPSHR − hf
//
// with the symbols of [Suction.Available]; s.Lift is not read. A negative z is
// how far the water must stand above the pump. With both NPSHR and hf 0 it is
// the ceiling of all suction: 10.2 m with water of 10 °C at sea level. A margin
// of 0.5 to 1 m is customary and the caller's to add.
//
// Valid as [Suction.Available] is, for NPSHR of 0 to 15 m; otherwise err wraps
// [ErrDomain].
//
// Source: L. Bachus, A. Custodio, Know and Understand Centrifugal Pumps, on
// net positive suction head.
func (s Suction) GreatestLift(required unit.Length) (unit.Length, error) {
	if !(s.airOK() && required >= 0 && required <= mostRequired && s.Friction >= 0 && s.Friction <= mostSuctionLoss) {
		return 0, errors.Join(s.airFaults(), requiredRange(required), suctionLossRange(s.Friction))
	}
	return s.ceiling() - required - s.Friction, nil
}

// A SuctionVerdict says whether a pump draws its water. The zero value is none.
type SuctionVerdict byte

// The verdicts, best first.
const (
	// Draws: the head available is at least the head required.
	Draws SuctionVerdict = iota + 1
	// Cavitates: less than required, but more than nothing. Part of the water
	// boils in the pump: noise, less flow, and wear; a jet pump loses its flow.
	Cavitates
	// Parts: the water boils before it reaches the pump, which runs dry.
	Parts
)

// String returns "draws", "cavitates" or "parts".
func (v SuctionVerdict) String() string {
	switch v {
	case Draws:
		return "draws"
	case Cavitates:
		return "cavitates"
	case Parts:
		return "parts"
	}
	return fmt.Sprintf("SuctionVerdict(%d)", byte(v))
}

// A JetResult is what a shallow-well jet pump makes of its suction.
type JetResult struct {
	Verdict   SuctionVerdict // of the two heads
	Available unit.Length    // NPSHA (m)
	// Margin is NPSHA less NPSHR: how much further the water may fall (m).
	Margin unit.Length
}

// Jet judges a shallow-well jet pump, or any pump that draws its water up, by
// the head it requires, NPSHR (m): it draws where NPSHA ≥ NPSHR, cavitates
// where 0 < NPSHA < NPSHR, and the column parts where NPSHA ≤ 0. The customary
// 25 ft of such pumps at sea level corresponds to an NPSHR of 8.5 ft, losses
// among it. A well's level falls while it is pumped: s.Lift is to the level
// with the pump running. A pump that was drained draws nothing until it is
// primed, whatever the verdict.
//
// Valid as [Suction.Available] is, for NPSHR of 0 to 15 m; otherwise err wraps
// [ErrDomain].
//
// Source: L. Bachus, A. Custodio, Know and Understand Centrifugal Pumps, on
// net positive suction head.
func (s Suction) Jet(required unit.Length) (JetResult, error) {
	have, err := s.Available()
	if err = errors.Join(err, requiredRange(required)); err != nil {
		return JetResult{}, err
	}
	r := JetResult{Verdict: Draws, Available: have, Margin: have - required}
	switch {
	case have <= 0:
		r.Verdict = Parts
	case r.Margin < 0:
		r.Verdict = Cavitates
	}
	return r, nil
}

// practicalLift is the trade's table, in feet.
var practicalLift = numeric.NewTable(
	[]float64{0, 1320, 2640, 3960, 5280, 6600, 7920, 10560},
	[]float64{22, 21, 20, 18, 17, 16, 15, 14})

// PracticalLift returns the lift that the trade plans for cold water by
// altitude above sea level: 22 ft there, 17 ft at a mile, straight lines
// between the printed points. It leaves 8.8 to 12 ft of the air's push for
// pump and pipe; [Suction.GreatestLift] knows pump, pipe and temperature.
//
// Valid for 0 to 10 560 ft (3219 m); otherwise err wraps [ErrDomain].
//
// Common practice: a handbook site's table of suction lift by altitude.
func PracticalLift(altitude unit.Length) (unit.Length, error) {
	ft, ok := practicalLift.At(float64(altitude / Foot))
	if !ok {
		lo, hi := practicalLift.Bounds()
		return 0, pkg.Range("altitude", float64(altitude), lo*float64(Foot), hi*float64(Foot), domain.Metre)
	}
	return unit.Length(ft) * Foot, nil
}

// Bounds of suction: a pressure in psi or bar lies below the air's, and a lift
// in feet above the most where suction could work at all.
const (
	leastOutside, mostOutside = 30 * Kilopascal, 125 * Kilopascal
	leastLift, mostLift       = unit.Length(-30), unit.Length(15)
	mostSuctionLoss           = unit.Length(30)
	mostRequired              = unit.Length(15)
)

func (s Suction) airOK() bool {
	return s.Atmosphere >= leastOutside && s.Atmosphere <= mostOutside &&
		s.Water.Density >= leastDensity && s.Water.Density <= mostDensity &&
		s.Water.Vapour >= leastVapour && s.Water.Vapour <= mostVapour
}

func (s Suction) airFaults() error {
	return errors.Join(
		pkg.Range("atmosphere", float64(s.Atmosphere), float64(leastOutside), float64(mostOutside), domain.Pascal),
		s.Water.densityRange(),
		pkg.Range("vapour pressure", float64(s.Water.Vapour), float64(leastVapour), float64(mostVapour), domain.Pascal))
}

func suctionLossRange(h unit.Length) error {
	return pkg.Range("suction friction", float64(h), 0, float64(mostSuctionLoss), domain.Metre)
}

func requiredRange(h unit.Length) error {
	return pkg.Range("suction head required", float64(h), 0, float64(mostRequired), domain.Metre)
}
