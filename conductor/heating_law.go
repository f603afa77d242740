package conductor

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// A HeatingLaw is how a metal warms when all the heat stays in it,
//
//	(I/S)²·t = c·ln((T2 + β)/(T1 + β))
//
// with c in A²·s/m⁴, β in kelvin and the temperatures T1 before and T2 after in
// °C. Take one from [Metal.HeatingIEC], [Metal.HeatingICEA] or
// [SteelHeating].
type HeatingLaw struct {
	Constant float64 // c (A²·s/m⁴), that is Qc·(β + 20)/ρ20
	Beta     float64 // β (K), 234.5 for copper: below 0 °C by this the resistance would vanish
}

// HeatingIEC returns the law of copper or aluminium with the constants of the
// IEC,
//
//	c = Qc·(β + 20)/ρ20
//
// where Qc is 3.45 and 2.5 mJ/(K·mm³), β is 234.5 and 228 K and ρ20 is 17.241
// and 28.264 nΩ·m. The tables round √c to 226 and 148 A·√s/mm².
//
// The zero Metal gives an error that wraps [ErrDomain].
//
// Source: IEC 60364-5-54, annex A; IEC 60949.
func (m Metal) HeatingIEC() (HeatingLaw, error) {
	if err := m.check(); err != nil {
		return HeatingLaw{}, err
	}
	if m == Aluminium {
		return heatingLaw(aluminiumHeat, 228, 28.264e-9), nil
	}
	return heatingLaw(copperHeat, 234.5, 17.241e-9), nil
}

// SteelHeating returns the law of steel, of which earthing conductors, armour
// and conduit are made: Qc is 3.8 mJ/(K·mm³), β is 202 K and ρ20 is 138 nΩ·m.
//
// Source: IEC 60364-5-54, annex A.
func SteelHeating() HeatingLaw { return heatingLaw(3.8e6, 202, 138e-9) }

func heatingLaw(heat, beta, rho20 float64) HeatingLaw {
	return HeatingLaw{Constant: heat * (beta + 20) / rho20, Beta: beta}
}

// HeatingICEA returns the law of copper or aluminium as American cable makers
// print it,
//
//	(I/A)²·t = 0.0297·log10((T2 + 234)/(T1 + 234))   copper
//	(I/A)²·t = 0.0125·log10((T2 + 228)/(T1 + 228))   aluminium
//
// with A in circular mils. It allows 0.6 % less current than the IEC in copper
// and 1.8 % less in aluminium.
//
// The zero Metal gives an error that wraps [ErrDomain].
//
// Source: ICEA P-32-382-2007.
func (m Metal) HeatingICEA() (HeatingLaw, error) {
	if err := m.check(); err != nil {
		return HeatingLaw{}, err
	}
	const perCmil = 1 / (float64(CircularMil) * float64(CircularMil) * math.Ln10)
	if m == Aluminium {
		return HeatingLaw{0.0125 * perCmil, 228}, nil
	}
	return HeatingLaw{0.0297 * perCmil, 234}, nil
}

// Usual limits of conductor temperature, in operation and after a fault. A
// factor of 115 A·√s/mm² is that of a PVC core which starts at 70 °C, and 143
// that of a separate PVC earth which starts at 30 °C, or of an XLPE core which
// starts at 90 °C: the two are often taken for each other.
//
// Source: IEC 60364-5-54, tables of k (PVC to 300 mm², XLPE); ICEA P-32-382
// (thermoplastic, thermoset).
const (
	PVCOperating             = unit.Temperature(celsius0 + 70)
	PVCFault                 = unit.Temperature(celsius0 + 160) // 140 °C above 300 mm²
	XLPEOperating            = unit.Temperature(celsius0 + 90)  // thermoset of both standards
	XLPEFault                = unit.Temperature(celsius0 + 250)
	ThermoplasticOperating   = unit.Temperature(celsius0 + 75) // of the ICEA
	ThermoplasticFault       = unit.Temperature(celsius0 + 150)
	SeparateEarthTemperature = unit.Temperature(celsius0 + 30) // of a separate earth conductor before the fault
)

// Factor returns k between two temperatures,
//
//	k = √(c·ln((T2 + β)/(T1 + β)))
//
// for [AdiabaticFactor.LargestCurrent] and the rest.
//
// Valid for T1 of −60 °C and T2 up to 500 °C, T2 at least 1 K above T1;
// otherwise, and for the zero law, err wraps [ErrDomain].
//
// Source: IEC 60364-5-54, annex A; ICEA P-32-382.
func (h HeatingLaw) Factor(initial, final unit.Temperature) (AdiabaticFactor, error) {
	if !(h.ok() && initial >= coldestAdiabatic && final <= hottestAdiabatic && final-initial >= leastHeating) {
		return 0, errors.Join(h.check(), checkRise(initial, final))
	}
	zero := celsius0 - h.Beta
	return AdiabaticFactor(math.Sqrt(h.Constant * math.Log((float64(final)-zero)/(float64(initial)-zero)))), nil
}

// FinalTemperature returns the temperature after a surge,
//
//	T2 = (T1 + β)·exp((I/S)²·t/c) − β
//
// with I in amperes, S in mm², t in seconds and the temperatures in °C. Above
// 500 °C err is an [OverheatError], which is [ErrOverheat]. For surges of
// minutes, with heat that leaves, see [ThermalModel.After].
//
// Valid for 0 to 5 s, 0 to 1 MA, 0.005 to 2000 mm² and T1 of −60 to 500 °C;
// otherwise, and for the zero law, err wraps [ErrDomain].
//
// Source: ICEA P-32-382 and IEC 60949, solved for T2.
func (h HeatingLaw) FinalTemperature(area unit.Area, i unit.Current, t unit.Time, initial unit.Temperature) (unit.Temperature, error) {
	if !(h.ok() && areaOK(area) && i >= 0 && i <= maxFaultCurrent && t >= 0 && t <= maxShort &&
		initial >= coldestAdiabatic && initial <= hottestAdiabatic) {
		return 0, errors.Join(h.check(), checkArea(area),
			pkg.Range("fault current", float64(i), 0, maxFaultCurrent, domain.Ampere),
			pkg.Range("time", float64(t), 0, maxShort, domain.Second), checkAdiabatic("initial temperature", initial))
	}
	density, zero := float64(i)/float64(area), celsius0-h.Beta
	final := zero + (float64(initial)-zero)*math.Exp(density*density*float64(t)/h.Constant)
	if !(final <= hottestAdiabatic) {
		return 0, &OverheatError{Current: i, Time: t}
	}
	return unit.Temperature(final), nil
}

// Error gives the figures in words.
//
// Definition: the fields of the error.
func (e *AdiabaticTimeError) Error() string {
	return fmt.Sprintf("%v: at %.4g the formula gives %.3g, it holds for %.3g to %.3g",
		ErrOutsideAdiabatic, e.Current, e.Formula, e.Least, e.Most)
}

// Is reports whether target is [ErrOutsideAdiabatic].
//
// Definition: every AdiabaticTimeError is this answer.
func (e *AdiabaticTimeError) Is(target error) bool { return target == ErrOutsideAdiabatic }

// Error gives the figures in words.
//
// Definition: the fields of the error.
func (e *OverheatError) Error() string {
	return fmt.Sprintf("%v: %.4g for %.3g", ErrOverheat, e.Current, e.Time)
}

// Is reports whether target is [ErrOverheat].
//
// Definition: every OverheatError is this answer.
func (e *OverheatError) Is(target error) bool { return target == ErrOverheat }

// Format prints the value in A·√s/mm², the unit of the tables.
//
// Definition: IEC 60364-5-54, unit of k.
func (k AdiabaticFactor) Format(fs fmt.State, c rune) {
	quantity.Format(fs, c, float64(k/AmpereRootSecondPerSquareMillimetre), "A·√s/mm²")
}

// Format prints the value in A²·s, as gonum's unit types print theirs.
//
// Definition: SI.
func (e JouleIntegral) Format(fs fmt.State, c rune) { quantity.Format(fs, c, float64(e), "A²·s") }

const celsius0 = 273.15

const (
	minHeating, maxHeating = 1e15, 1e17 // (A²·s/m⁴), steel has 6e15 and copper 5e16
	minBeta, maxBeta       = 190, 260   // (K)

	leastHeating = 1 - 1e-9 // (K), with room for rounding
)

func (h HeatingLaw) ok() bool {
	return h.Constant >= minHeating && h.Constant <= maxHeating && h.Beta >= minBeta && h.Beta <= maxBeta
}

func (h HeatingLaw) check() error {
	return errors.Join(
		pkg.Range("heating constant", h.Constant, minHeating, maxHeating, domain.Unit{Symbol: "A²·s/m⁴", Size: 1}),
		pkg.Range("heating beta", h.Beta, minBeta, maxBeta, domain.Unit{Symbol: "K", Size: 1}))
}

func checkAdiabatic(name string, t unit.Temperature) error {
	return pkg.Range(name, float64(t), coldestAdiabatic, hottestAdiabatic, domain.Celsius)
}

// checkRise refuses temperatures out of range or out of order.
func checkRise(initial, final unit.Temperature) error {
	err := errors.Join(checkAdiabatic("initial temperature", initial), checkAdiabatic("final temperature", final))
	if err == nil && !(final-initial >= leastHeating) {
		err = pkg.Invalid("final temperature", fmt.Sprintf("%.4g °C", InCelsius(final)),
			fmt.Sprintf("at least 1 K above the initial %.4g °C", InCelsius(initial)))
	}
	return err
}
