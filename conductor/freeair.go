package conductor

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// An AirCable is a single insulated conductor, horizontal, alone in still air
// of one atmosphere, out of the sun. It cools by natural convection and by
// radiation to surroundings of the air's temperature.
type AirCable struct {
	Conductor  unit.Length        // d, diameter over the metal
	Outside    unit.Length        // D, diameter over the insulation; the same for bare wire
	Insulation ThermalResistivity // of the insulation; not read where D = d
	Emissivity float64            // ε of the surface: 0.9 for insulation, 0.3 for dull metal
	Ambient    unit.Temperature   // of air and surroundings
	Convection Convection         // usually [ChurchillChu]
}

// layer is the thermal resistance of the insulation (K·m/W).
func (c AirCable) layer() float64 {
	if c.Outside == c.Conductor {
		return 0
	}
	return float64(c.Insulation) / (2 * math.Pi) * math.Log(float64(c.Outside)/float64(c.Conductor))
}

// SurfaceLoss returns the heat that leaves a surface of the temperature Ts,
//
//	q = π·D·(h·(Ts − Ta) + ε·σ·(Ts⁴ − Ta⁴))
//
// with D in metres, temperatures in kelvin, σ = 5.670e−8 W/(m²·K⁴) and, for
// [ChurchillChu], h = Nu·k/D with
//
//	Nu = (0.60 + 0.387·Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))²
//	Ra = g·(Ts − Ta)·D³·Pr/(Tf·ν²)
//
// the properties of air taken at the film temperature Tf = (Ts + Ta)/2. For
// [QuarterPower] h = 1.25·((Ts − Ta)/D)^¼. For [IECSurface] the whole is
// q = π·D·(0.21/D^0.6 + 3.94)·(Ts − Ta)^1.25. At or below Ta the loss is 0.
//
// Valid for diameters of 0.05 mm to 0.5 m, an emissivity of 0 to 1, −60 to
// 300 °C ambient and a surface up to 1083 °C; otherwise err wraps [ErrDomain].
//
// Source: S. W. Churchill and H.H.S. Chu, International Journal of Heat and
// Mass Transfer 18, 1975, p. 1049; F. P. Incropera and D. P. DeWitt,
// Fundamentals of Heat and Mass Transfer, 7th ed., problem 3.53; IEC 60287-2-1
// (recalled).
func (c AirCable) SurfaceLoss(surface unit.Temperature) (HeatPerLength, error) {
	if err := errors.Join(c.check(), checkHot("surface temperature", surface)); err != nil {
		return 0, err
	}
	return HeatPerLength(c.lost(float64(surface))), nil
}

// Heat returns the heat that a conductor of a given temperature loses, and the
// temperature of its surface: the solution of
//
//	Tc = Ts + q(Ts)·ρ/(2π)·ln(D/d)
//
// with q as [AirCable.SurfaceLoss].
//
// Valid as that, with the conductor from the ambient temperature to 1083 °C;
// otherwise err wraps [ErrDomain].
//
// Source: as [AirCable.SurfaceLoss]; IEC 60287-2-1 for the insulation.
func (c AirCable) Heat(conductor unit.Temperature) (HeatPerLength, unit.Temperature, error) {
	if err := errors.Join(c.check(), checkHot("conductor temperature", conductor)); err != nil {
		return 0, 0, err
	}
	if conductor < c.Ambient {
		return 0, 0, checkAbove(conductor, c.Ambient)
	}
	layer, tc := c.layer(), float64(conductor)
	ts, err := numeric.Root(func(t float64) float64 { return t + c.lost(t)*layer - tc }, float64(c.Ambient), tc, rootTolerance)
	if err != nil {
		return 0, 0, err
	}
	return HeatPerLength(c.lost(ts)), unit.Temperature(ts), nil
}

// Temperatures returns the temperature of the surface and of the conductor of a
// cable that has to get rid of a given heat q (W/m): [AirCable.SurfaceLoss]
// solved for Ts, and Tc = Ts + q·ρ/(2π)·ln(D/d).
//
// Valid as [AirCable.SurfaceLoss] and for 0 to 100 kW/m; otherwise err wraps
// [ErrDomain]. Above 1083 °C err is a [TooHotError].
//
// Source: as [AirCable.SurfaceLoss].
func (c AirCable) Temperatures(q HeatPerLength) (surface, conductor unit.Temperature, err error) {
	if err := errors.Join(c.check(), pkg.Range("heat", float64(q), 0, 100e3, wattPerMetre)); err != nil {
		return 0, 0, err
	}
	heat := float64(q)
	ts, err := numeric.Root(func(t float64) float64 { return c.lost(t) - heat }, float64(c.Ambient), hottest, rootTolerance)
	tc := ts + heat*c.layer()
	if err != nil || !(tc <= hottest) {
		return 0, 0, &TooHotError{}
	}
	return unit.Temperature(ts), unit.Temperature(tc), nil
}

// Ampacity returns the current that brings the conductor to a temperature,
//
//	I = √(q/R)
//
// with the heat q (W/m) of [AirCable.Heat] and the resistance R (Ω/m) of one
// conductor at that temperature. With [ChurchillChu], an emissivity of 0.9 and
// insulation of 5 K·m/W it gives 0.92 to 1.12 of NEC table 310.17 for 14 AWG to
// 4/0 AWG, more in large sizes: a check of that table, and never a reason to
// exceed it.
//
// Valid as [AirCable.Heat] and for 1 nΩ/m to 100 Ω/m; otherwise err wraps
// [ErrDomain].
//
// Source: as [AirCable.SurfaceLoss].
func (c AirCable) Ampacity(hot ResistancePerLength, conductor unit.Temperature) (unit.Current, error) {
	q, _, err := c.Heat(conductor)
	if err := errors.Join(err, checkPerLength(hot)); err != nil {
		return 0, err
	}
	return unit.Current(math.Sqrt(float64(q) / float64(hot))), nil
}

// Temperature returns the temperatures of surface and conductor at a current,
// the solution of
//
//	I²·R(Tc) = q(Ts),   Tc = Ts + q(Ts)·ρ/(2π)·ln(D/d)
//
// with R as [ResistanceLaw.Resist] and q as [AirCable.SurfaceLoss]. The loss
// grows faster than the resistance, so that bare wire always finds a balance;
// one above 1083 °C gives a [TooHotError].
//
// Valid as [AirCable.SurfaceLoss] and for 0 to 100 kA; otherwise err wraps
// [ErrDomain].
//
// Source: as [AirCable.SurfaceLoss].
func (c AirCable) Temperature(i unit.Current, law ResistanceLaw) (surface, conductor unit.Temperature, err error) {
	if err := errors.Join(c.check(), law.check(), checkAnyCurrent(i)); err != nil {
		return 0, 0, err
	}
	layer, i2 := c.layer(), float64(i)*float64(i)
	ts, err := numeric.Root(func(t float64) float64 {
		q := c.lost(t)
		return i2*float64(law.Resist(unit.Temperature(t+q*layer))) - q
	}, float64(c.Ambient), hottest, rootTolerance)
	tc := ts + c.lost(ts)*layer
	if err != nil || !(tc <= hottest) {
		return 0, 0, &TooHotError{Current: i}
	}
	return unit.Temperature(ts), unit.Temperature(tc), nil
}

const rootTolerance = 1e-9 // (K)

func (c AirCable) check() error {
	err := errors.Join(checkDiameter("conductor diameter", c.Conductor),
		pkg.Range("outside diameter", float64(c.Outside), max(float64(c.Conductor), minDiameter), maxDiameter, inMillimetres),
		pkg.Range("emissivity", c.Emissivity, 0, 1, domain.One), checkAmbient(c.Ambient))
	if c.Outside > c.Conductor {
		err = errors.Join(err, checkResistivity(c.Insulation))
	}
	if c.Convection < ChurchillChu || c.Convection > IECSurface {
		err = errors.Join(err, pkg.Invalid("convection", strconv.Itoa(int(c.Convection)), "Churchill-Chu, quarter power or IEC surface"))
	}
	return err
}

func checkHot(name string, t unit.Temperature) error {
	return pkg.Range(name, float64(t), minTemperature, hottest, domain.Celsius)
}
