package conductor

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A HeatPath is what the heat of a conductor passes on its way to the
// surroundings, as one resistance.
type HeatPath struct {
	// ToAmbient is Rca, from conductor to ambient, effective: the layers that
	// carry the heat of several conductors or of a sheath count as often.
	ToAmbient ThermalResistance
	// DielectricRise is ΔTd, what the insulation's own loss adds (K, a
	// difference); zero below 2 kV.
	DielectricRise unit.Temperature
}

// Ampacity returns the current that brings a conductor to a temperature,
//
//	I = √( (Tc − (Ta + ΔTd)) / (R·Rca) )
//
// with the conductor temperature Tc and the ambient temperature Ta in °C, ΔTd
// in kelvin, Rca in K·m/W, and the resistance R (Ω/m) of one conductor at Tc,
// skin and proximity effect inside: the Rdc·(1 + Yc) of the code.
//
// Valid for −60 to 300 °C with the conductor above Ta + ΔTd, 1 nΩ/m to 100 Ω/m
// and 1 mK·m/W to 1 MK·m/W; otherwise err wraps [ErrDomain].
//
// Source: NEC 310.14(B) (2020; 310.15(C) of earlier editions), after J. H.
// Neher and M. H. McGrath, AIEE Transactions 76 III, 1957.
func (p HeatPath) Ampacity(r ResistancePerLength, conductor, ambient unit.Temperature) (unit.Current, error) {
	rise := float64(conductor) - float64(ambient) - float64(p.DielectricRise)
	if !(p.ok() && perLengthOK(r) && temperatureOK(conductor) && temperatureOK(ambient) && rise > 0) {
		return 0, errors.Join(p.check(), checkPerLength(r), checkConductor(conductor), checkAmbient(ambient),
			checkAbove(conductor, ambient+p.DielectricRise))
	}
	return unit.Current(math.Sqrt(rise / (float64(r) * float64(p.ToAmbient)))), nil
}

// Temperature returns the temperature that a conductor settles at,
//
//	Tc = Ta + ΔTd + I²·R(Tc)·Rca,   R(T) = R·(1 + α·(T − T0))
//
// which is solved for Tc in closed form; symbols as [HeatPath.Ampacity].
// Resistance grows with temperature, so that above the current of
// [HeatPath.RunawayCurrent] there is no such temperature, and err is a
// [RunawayError]. A temperature above 1083 °C gives a [TooHotError].
//
// Valid for −60 to 300 °C ambient and 0 to 100 kA; otherwise err wraps
// [ErrDomain].
//
// Source: as [HeatPath.Ampacity]; IEC 60287-1-1, 1.4.
func (p HeatPath) Temperature(i unit.Current, law ResistanceLaw, ambient unit.Temperature) (unit.Temperature, error) {
	if !(p.ok() && law.ok() && temperatureOK(ambient) && currentOK(i)) {
		return 0, errors.Join(p.check(), law.check(), checkAmbient(ambient), checkAnyCurrent(i))
	}
	g := 1 / float64(p.ToAmbient)
	around := float64(ambient) + float64(p.DielectricRise)
	heat := float64(i) * float64(i) * float64(law.Resistance)
	k := g - heat*law.Coefficient
	if !(k > 0) {
		return 0, &RunawayError{Current: i, Limit: law.runaway(g)}
	}
	t := around + heat*(1+law.Coefficient*(around-float64(law.At)))/k
	if !(t <= hottest) {
		return 0, &TooHotError{Current: i}
	}
	return unit.Temperature(t), nil
}

// RunawayCurrent returns the current above which a conductor has no steady
// temperature, because each kelvin adds more heat than it takes away,
//
//	I = 1/√(R·α·Rca)
//
// with R (Ω/m) and α (1/K) of one law and Rca in K·m/W.
//
// A coefficient of zero has no such current and gives an error that wraps
// [ErrDomain], as do arguments outside the ranges of [HeatPath.Ampacity].
//
// Source: derived from the balance of [HeatPath.Temperature].
func (p HeatPath) RunawayCurrent(law ResistanceLaw) (unit.Current, error) {
	if !(p.ok() && law.ok() && law.Coefficient > 0) {
		return 0, errors.Join(p.check(), law.check(), law.checkGrows())
	}
	return law.runaway(1 / float64(p.ToAmbient)), nil
}

// runaway is √(G/(R·α)), with G in W/(K·m).
func (l ResistanceLaw) runaway(g float64) unit.Current {
	return unit.Current(math.Sqrt(g / (float64(l.Resistance) * l.Coefficient)))
}

// checkGrows refuses a resistance that does not grow with temperature.
func (l ResistanceLaw) checkGrows() error {
	if l.Coefficient == 0 {
		return pkg.Invalid("temperature coefficient", "0 1/K", "above 0, as nothing runs away without")
	}
	return nil
}

const minPath, maxPath = 1e-3, 1e6 // (K·m/W)

func (p HeatPath) ok() bool {
	r, t := float64(p.ToAmbient), float64(p.DielectricRise)
	return r >= minPath && r <= maxPath && t >= 0 && t <= 300
}

func (p HeatPath) check() error {
	return errors.Join(pkg.Range("thermal resistance", float64(p.ToAmbient), minPath, maxPath, kelvinMetrePerWatt),
		pkg.Range("dielectric rise", float64(p.DielectricRise), 0, 300, kelvin))
}

func checkConductor(t unit.Temperature) error {
	return pkg.Range("conductor temperature", float64(t), minTemperature, maxTemperature, domain.Celsius)
}

func checkAmbient(t unit.Temperature) error {
	return pkg.Range("ambient temperature", float64(t), minTemperature, maxTemperature, domain.Celsius)
}

// checkAbove refuses a conductor that is not hotter than what is around it.
func checkAbove(conductor, around unit.Temperature) error {
	if temperatureOK(conductor) && !(conductor > around) {
		return pkg.Invalid("conductor temperature", strconv.FormatFloat(InCelsius(conductor), 'g', 6, 64)+" °C",
			"above that of the surroundings, "+strconv.FormatFloat(InCelsius(around), 'g', 6, 64)+" °C")
	}
	return nil
}

// checkAnyCurrent lets a current of zero pass.
func checkAnyCurrent(i unit.Current) error {
	return pkg.Range("current", float64(i), 0, maxCurrent, domain.Ampere)
}

func temperatureOK(t unit.Temperature) bool { return t >= minTemperature && t <= maxTemperature }

func currentOK(i unit.Current) bool { return i >= 0 && i <= maxCurrent }

func perLengthOK(r ResistancePerLength) bool { return r >= minPerLength && r <= maxPerLength }

var (
	kelvinMetrePerWatt = domain.Unit{Symbol: "K·m/W", Size: 1}
	wattPerMetre       = domain.Unit{Symbol: "W/m", Size: 1}
	kelvin             = domain.Unit{Symbol: "K", Size: 1}
	inMillimetres      = domain.Unit{Symbol: "mm", Size: 1e-3, Base: "m"}
)
