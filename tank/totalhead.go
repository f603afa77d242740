package tank

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// The head that a pump works against, as a sum of parts, and how heads and
// pressures turn into each other.

// A TotalHead holds the parts of the total dynamic head of a well pump. A
// pump is chosen at cut-out, its energy is reckoned at the mean of the two
// switch pressures.
type TotalHead struct {
	// PumpingLevel is how far below the well head the water stands while the
	// pump runs: not the depth of the well, nor that of the pump (m).
	PumpingLevel unit.Length
	// Rise is from the well head up to the tank's gauge, negative downhill (m).
	Rise unit.Length
	// Pressure in the tank, gauge.
	Pressure unit.Pressure
	// Friction is the head lost in pipe and fittings at the flow (m).
	Friction unit.Length
	// Density of the water; [CustomaryWater] gives the trade's 2.31 ft/psi.
	Density Density
}

// Head returns the total dynamic head,
//
//	H = z + r + p/(ρ·g) + hf
//
// where z is t.PumpingLevel, r t.Rise and hf t.Friction (m), p t.Pressure (Pa),
// ρ t.Density (kg/m³) and g 9.806 65 m/s². The speed of the water is left out:
// 2 m/s are 0.2 m. A negative sum needs no pump.
//
// Valid for levels of 0 to 600 m, rises of −300 to 300 m, pressures of 0 or 1 to 150
// psi, friction of 0 to 300 m and 800 to 1300 kg/m³; otherwise err wraps
// [ErrDomain].
//
// Source: installation manuals of submersible motors, on total dynamic head.
func (t TotalHead) Head() (unit.Length, error) {
	if !(t.PumpingLevel >= 0 && t.PumpingLevel <= mostDepth && t.Rise >= -mostRise && t.Rise <= mostRise &&
		gaugeOK(t.Pressure) && t.Friction >= 0 && t.Friction <= mostRise && t.Density >= leastDensity && t.Density <= mostDensity) {
		return 0, errors.Join(
			depthRange("pumping level", t.PumpingLevel),
			pkg.Range("rise", float64(t.Rise), -float64(mostRise), float64(mostRise), domain.Metre),
			gaugeRange("tank pressure", t.Pressure),
			pkg.Range("friction", float64(t.Friction), 0, float64(mostRise), domain.Metre),
			Water{Density: t.Density}.densityRange(),
		)
	}
	return t.PumpingLevel + t.Rise + columnHead(t.Pressure, t.Density) + t.Friction, nil
}

// columnHead is p/(ρ·g), unchecked.
func columnHead(p unit.Pressure, rho Density) unit.Length {
	return unit.Length(float64(p) / (float64(rho) * gravity))
}

// HeadOfPressure returns the height of water that makes a pressure,
//
//	h = p/(ρ·g)
//
// where p is the pressure (Pa), ρ the density (kg/m³) and g 9.806 65 m/s². One
// psi is 2.31 ft of [CustomaryWater].
//
// Valid for 0 to 1000 psi and 800 to 1300 kg/m³; otherwise err wraps
// [ErrDomain].
//
// Source: hydrostatics; standard gravity of the 3rd CGPM, 1901.
func HeadOfPressure(p unit.Pressure, rho Density) (unit.Length, error) {
	if !(p >= 0 && p <= 1000*PSI && rho >= leastDensity && rho <= mostDensity) {
		return 0, errors.Join(pkg.Range("pressure", float64(p), 0, float64(1000*PSI), domain.PSI), Water{Density: rho}.densityRange())
	}
	return columnHead(p, rho), nil
}

// PressureAbove returns the pressure at a height above a gauge, with the water
// at rest,
//
//	p = p0 − ρ·g·h
//
// where p0 is the gauge's pressure (Pa), h how far above it the outlet is,
// negative below (m), ρ the density (kg/m³) and g 9.806 65 m/s². It is what a
// shower upstairs has, and below a tank what a drop pipe must bear. A result
// of 0 or less says that no water comes out up there.
//
// Valid for 0 or 1 to 150 psi, −600 to 600 m and 800 to 1300 kg/m³; otherwise err
// wraps [ErrDomain].
//
// Source: hydrostatics; standard gravity of the 3rd CGPM, 1901.
func PressureAbove(gauge unit.Pressure, height unit.Length, rho Density) (unit.Pressure, error) {
	if !(gaugeOK(gauge) && height >= -mostDepth && height <= mostDepth && rho >= leastDensity && rho <= mostDensity) {
		return 0, errors.Join(gaugeRange("gauge pressure", gauge),
			pkg.Range("height", float64(height), -float64(mostDepth), float64(mostDepth), domain.Metre),
			Water{Density: rho}.densityRange())
	}
	return gauge - unit.Pressure(float64(rho)*gravity*float64(height)), nil
}

// Bounds of wells and hills.
const (
	mostDepth = unit.Length(600)
	mostRise  = unit.Length(300)
)

func depthRange(name string, d unit.Length) error {
	return pkg.Range(name, float64(d), 0, float64(mostDepth), domain.Metre)
}

// An AirLine is a thin pipe down into a well, whose end stands in the water at
// a known depth. Air is pumped in until the gauge rises no more: it then shows
// the height of water above the end.
type AirLine struct {
	Length  unit.Length // from the gauge to its lower end (m)
	Density Density     // of the water; [CustomaryWater] for 2.31 ft/psi
}

// Level returns how far below the gauge the water stands,
//
//	z = L − p/(ρ·g)
//
// where L is a.Length (m), p the gauge's pressure (Pa), ρ a.Density (kg/m³) and
// g 9.806 65 m/s². With the pump at rest it is the static level, with the pump
// running the pumping level, and their difference the drawdown of the well.
//
// Valid for lengths to 600 m, 800 to 1300 kg/m³ and pressures up to that of a
// column as long as the line; otherwise err wraps [ErrDomain]. A gauge at 0 says
// that the water is at the end of the line or anywhere below it.
//
// Source: MIL-HDBK-1164, Operation and Maintenance of Water Supply Systems,
// appendix A.
func (a AirLine) Level(gauge unit.Pressure) (unit.Length, error) {
	err := errors.Join(pkg.Range("air line", float64(a.Length), 0.1, float64(mostDepth), domain.Metre), Water{Density: a.Density}.densityRange())
	if err != nil {
		return 0, err
	}
	most := float64(a.Density) * gravity * float64(a.Length)
	if err := pkg.Range("air line pressure", float64(gauge), 0, most, domain.PSI); err != nil {
		return 0, err
	}
	return a.Length - columnHead(gauge, a.Density), nil
}
