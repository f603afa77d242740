package conductor

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// A ThermalResistance is the temperature difference that a heat flow of one
// watt per metre of cable causes (K·m/W), counted per length of cable.
//
// Definition: IEC 60287-1-1, the quantities T1 to T4.
type ThermalResistance float64

// Thermal resistance. The American unit, the thermal ohm-foot (°C·ft/W), is
// 0.3048 K·m/W.
const (
	KelvinMetrePerWatt ThermalResistance = 1
	CelsiusFootPerWatt                   = KelvinMetrePerWatt * ThermalResistance(quantity.Foot)
)

// Format prints the value in K·m/W, as gonum's unit types print theirs.
//
// Definition: SI.
func (r ThermalResistance) Format(fs fmt.State, c rune) {
	quantity.Format(fs, c, float64(r), "K·m/W")
}

// A ThermalResistivity is the reciprocal of a thermal conductivity (K·m/W): a
// property of a material, where [ThermalResistance] is one of a layer.
//
// Definition: IEC 60287-2-1, ρT.
type ThermalResistivity float64

// Thermal resistivity of usual materials. Insulation of polyethylene conducts
// better than the 5 K·m/W that is taken for most rubbers and thin PVC; soil is
// wetter or drier than the 0.9 of the code's tables.
//
// Source: IEC 60287-2-1, table of resistivities (polyethylene, PVC up to 3 kV);
// NEC 310.60 of 2011 and annex B (soil, 90 °C·cm/W).
const (
	PolyethyleneResistivity ThermalResistivity = 3.5
	PVCResistivity          ThermalResistivity = 5
	SoilResistivity         ThermalResistivity = 0.9
)

// Format prints the value in K·m/W, as gonum's unit types print theirs.
//
// Definition: SI.
func (r ThermalResistivity) Format(fs fmt.State, c rune) {
	quantity.Format(fs, c, float64(r), "K·m/W")
}

// A HeatPerLength is the heat that a metre of conductor makes or loses (W/m).
//
// Definition: I²·r, with I in amperes and r in Ω/m.
type HeatPerLength float64

// WattPerMetre is the unit of [HeatPerLength].
const WattPerMetre HeatPerLength = 1

// Format prints the value in W/m, as gonum's unit types print theirs.
//
// Definition: SI.
func (q HeatPerLength) Format(fs fmt.State, c rune) {
	quantity.Format(fs, c, float64(q), "W/m")
}

// A ThermalConductance is the heat that a metre of cable loses for a kelvin
// above its surroundings (W/(K·m)), the reciprocal of a [ThermalResistance].
//
// Definition: SI.
type ThermalConductance float64

// WattPerKelvinMetre is the unit of [ThermalConductance].
const WattPerKelvinMetre ThermalConductance = 1

// Format prints the value in W/(K·m), as gonum's unit types print theirs.
//
// Definition: SI.
func (g ThermalConductance) Format(fs fmt.State, c rune) {
	quantity.Format(fs, c, float64(g), "W/(K·m)")
}

// A HeatCapacityPerLength is the heat that a metre of conductor takes up for a
// kelvin (J/(K·m)).
//
// Definition: SI.
type HeatCapacityPerLength float64

// JoulePerKelvinMetre is the unit of [HeatCapacityPerLength].
const JoulePerKelvinMetre HeatCapacityPerLength = 1

// Format prints the value in J/(K·m), as gonum's unit types print theirs.
//
// Definition: SI.
func (c HeatCapacityPerLength) Format(fs fmt.State, verb rune) {
	quantity.Format(fs, verb, float64(c), "J/(K·m)")
}

// HeatCapacity returns the heat that a metre of conductor of the area a takes
// up for a kelvin,
//
//	C = Qc·A
//
// with Qc = 3.45 MJ/(K·m³) for copper and 2.5 MJ/(K·m³) for aluminium and A in
// m². Insulation, which adds up to as much again on small wire, is not in it.
//
// Valid for 0.005 mm² to 2000 mm²; otherwise, and for the zero Metal, err wraps
// [ErrDomain].
//
// Source: IEC 60364-5-54, annex A, volumetric heat capacity at 20 °C.
func (m Metal) HeatCapacity(a unit.Area) (HeatCapacityPerLength, error) {
	if err := m.check(); err != nil {
		return 0, err
	}
	if err := checkArea(a); err != nil {
		return 0, err
	}
	perVolume := copperHeat
	if m == Aluminium {
		perVolume = aluminiumHeat
	}
	return HeatCapacityPerLength(perVolume * float64(a)), nil
}

// Heat that a volume of metal takes up (J/(K·m³)).
//
// Source: IEC 60364-5-54, annex A, at 20 °C.
const (
	copperHeat    = 3.45e6
	aluminiumHeat = 2.5e6
)

// Limits of an area of metal (m²), 40 AWG and some way above 2500 kcmil.
const minArea, maxArea = 0.0049e-6, 2000e-6

func checkArea(a unit.Area) error {
	return pkg.Range("area", float64(a), minArea, maxArea, domain.SquareMillimetre)
}

// A ResistanceLaw is the resistance of one conductor with its straight line of
// temperature,
//
//	R(T) = R·(1 + α·(T − T0))
//
// The coefficient belongs to the temperature at which the resistance is known:
// see [Metal.TemperatureCoefficient].
type ResistanceLaw struct {
	Resistance  ResistancePerLength // R, of one conductor at the temperature At
	At          unit.Temperature    // T0, of the conductor
	Coefficient float64             // α at the temperature At, 1e-6 to 0.0065 (1/K); zero: a resistance that stays
}

// ResistanceLaw returns the resistance of a wire as a law of temperature, known
// at the temperature at: [Wire.Resistance] with [Metal.TemperatureCoefficient].
//
// Valid as these two; otherwise err wraps [ErrDomain].
//
// Source: IEC 60028 (copper), IEC 60889 (aluminium).
func (w Wire) ResistanceLaw(at unit.Temperature) (ResistanceLaw, error) {
	r, err := w.Resistance(at)
	if err != nil {
		return ResistanceLaw{}, err
	}
	alpha, err := w.Metal.TemperatureCoefficient(at)
	if err != nil {
		return ResistanceLaw{}, err
	}
	return ResistanceLaw{Resistance: r, At: at, Coefficient: alpha}, nil
}

// Resist returns the resistance at a temperature,
//
//	R(T) = R·(1 + α·(T − T0))
//
// with R in Ω/m, α in 1/K and the temperatures in kelvin or °C. It is good for
// all inputs and passes NaN on.
//
// Source: NEC chapter 9, table 8, note 2.
func (l ResistanceLaw) Resist(at unit.Temperature) ResistancePerLength {
	return l.Resistance * ResistancePerLength(1+l.Coefficient*float64(at-l.At))
}

// maxCoefficient is above that of any conductor metal at any temperature of use
// (1/K); copper has 0.0057 at −60 °C.
const maxCoefficient = 0.0065

// minCoefficient is below that of the resistance alloys that are made to have
// none (1/K). A smaller one, other than zero, would put the current of a thermal
// runaway beyond all numbers.
const minCoefficient = 1e-6

func (l ResistanceLaw) ok() bool { return lawOK(&l) }

func lawOK(l *ResistanceLaw) bool {
	r, t, a := float64(l.Resistance), float64(l.At), l.Coefficient
	return r >= minPerLength && r <= maxPerLength &&
		t >= minTemperature && t <= maxTemperature &&
		(a == 0 || a >= minCoefficient && a <= maxCoefficient) && 1+a*(minTemperature-t) > 0
}

// check names what ok refuses. The line must not reach zero where a conductor
// may be.
func (l ResistanceLaw) check() error {
	if l.ok() {
		return nil
	}
	if err := checkPerLength(l.Resistance); err != nil {
		return err
	}
	if err := pkg.Range("temperature of the resistance", float64(l.At), minTemperature, maxTemperature, domain.Celsius); err != nil {
		return err
	}
	if l.Coefficient == 0 {
		return nil
	}
	most := min(maxCoefficient, 1/max(float64(l.At)-minTemperature, 1))
	return pkg.Range("temperature coefficient", l.Coefficient, minCoefficient, most*(1-1e-12), perKelvin)
}

// minPerLength is the least resistance that checkPerLength accepts (Ω/m).
const minPerLength = 1e-9

var perKelvin = domain.Unit{Symbol: "1/K", Size: 1}
