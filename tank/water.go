package tank

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// What pipes and suction need to know of water: density, viscosity and vapour
// pressure by temperature.

// A Density is mass a volume (kg/m³).
type Density float64

// Units of density.
const (
	// KilogramPerCubicMetre is the SI unit.
	KilogramPerCubicMetre Density = 1
	// PoundPerCubicFoot is 16.02 kg/m³.
	PoundPerCubicFoot = Density(0.45359237 / (0.3048 * 0.3048 * 0.3048))
)

// IceDensity is that of ice at 0 °C: water that freezes takes up 9.07 % more
// room. What is shut in between an ice plug and a closed valve bursts the pipe.
//
// Source: IAPWS-06, equation of state of ice, in a table of densities.
const IceDensity = 916.72 * KilogramPerCubicMetre

// Format prints the density in kg/m^3, as gonum's unit types print.
//
// Definition: the SI unit of mass density (ISO 80000-4).
func (d Density) Format(fs fmt.State, c rune) { quantity.Format(fs, c, float64(d), "kg/m^3") }

// A Viscosity is the dynamic viscosity μ (Pa·s). The kinematic one is μ/ρ.
type Viscosity float64

// Units of dynamic viscosity.
const (
	// PascalSecond is the SI unit.
	PascalSecond Viscosity = 1
	// Centipoise is 1 mPa·s, about that of water at 20 °C.
	Centipoise Viscosity = 1e-3
)

// Format prints the viscosity in Pa s, as gonum's unit types print.
//
// Definition: the SI unit of dynamic viscosity (ISO 80000-4).
func (m Viscosity) Format(fs fmt.State, c rune) { quantity.Format(fs, c, float64(m), "Pa s") }

// Water is what a pipe and a pump's suction meet. [WaterAt] fills it by
// temperature; a caller may fill it for brine or from another table.
type Water struct {
	Density   Density       // ρ (kg/m³)
	Viscosity Viscosity     // μ, dynamic (Pa·s)
	Vapour    unit.Pressure // pv, at which it boils, absolute (Pa)
}

// WaterAt returns the properties of pure liquid water at the pressure of the
// atmosphere, by temperature T (K) or t (°C): the density
//
//	ρ = (999.839 52 + 16.945 176·t − …)/(1 + 0.016 879 85·t)
//
// of Kell, the viscosity μ = μ0(T)·μ1(T, ρ) of IAPWS and the pressure pv of
// saturation of IAPWS, a quadratic in pv^(1/4). Between 0 and 50 °C the
// density is within 0.001 % of IAPWS-95; IAPWS gives its viscosity to 1 %,
// from 0.17 % near 25 °C, and its vapour pressure to 0.03 %. Cold water costs
// friction: its kinematic viscosity at 0 °C is 1.8 times that at 20 °C.
//
// Valid for 0 to 100 °C; otherwise err wraps [ErrDomain].
//
// Source: G. S. Kell, J. Chem. Eng. Data 20 (1975) 97; IAPWS R12-08, equations
// 10 to 12; IAPWS-IF97, equation 30.
func WaterAt(t unit.Temperature) (Water, error) {
	if err := pkg.Range("water temperature", float64(t), float64(Celsius(0)), float64(Celsius(100)), domain.Celsius); err != nil {
		return Water{}, err
	}
	rho := kell(InCelsius(t))
	return Water{
		Density:   Density(rho),
		Viscosity: Viscosity(waterViscosity(float64(t), rho)),
		Vapour:    unit.Pressure(saturation(float64(t))),
	}, nil
}

// kell is the density (kg/m³) at t (°C) and 101 325 Pa.
func kell(t float64) float64 {
	n := 999.83952 + t*(16.945176+t*(-7.9870401e-3+t*(-46.170461e-6+t*(105.56302e-9-t*280.54253e-12))))
	return n / (1 + 16.879850e-3*t)
}

// waterViscosity is μ (Pa·s) at temperature (K) and density (kg/m³), without
// the term for the critical point.
func waterViscosity(temperature, density float64) float64 {
	t, r := temperature/647.096, density/322
	mu0 := 100 * math.Sqrt(t) / (1.67752 + (2.20462+(0.6366564-0.241605/t)/t)/t)
	x, y := 1/t-1, r-1
	// One line for each power of the density, each a polynomial of x.
	sum := 0.520094 + x*(0.0850895+x*(-1.08374-x*0.289555)) +
		y*(0.222531+x*(0.999115+x*(1.88797+x*(1.26613+x*x*0.120573)))+
			y*(-0.281378+x*(-0.906851+x*(-0.772479+x*(-0.489837-x*0.257040)))+
				y*(0.161913+x*0.257399+
					y*(-0.0325372+x*x*x*0.0698452+
						y*(x*x*x*x*0.00872102+
							y*(x*x*x*(-0.00435673-x*x*0.000593264)))))))
	return 1e-6 * mu0 * math.Exp(r*sum)
}

// saturation is the vapour pressure (Pa) at a temperature (K).
func saturation(temperature float64) float64 {
	const (
		n1, n2, n3, n4, n5 = 0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7
		n6, n7, n8, n9     = 0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849
		n10                = 0.65017534844798e3
	)
	v := temperature + n9/(temperature-n10)
	a := v*v + n1*v + n2
	b := n3*v*v + n4*v + n5
	c := n6*v*v + n7*v + n8
	x := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	return 1e6 * x * x * x * x
}

// Bounds of a liquid's properties: water and brine, in SI; 1 for 1 mPa·s and
// 62.4 for lb/ft³ lie outside.
const (
	leastDensity, mostDensity     = Density(800), Density(1300)
	leastViscosity, mostViscosity = Viscosity(0.2e-3), Viscosity(50e-3)
	leastVapour, mostVapour       = unit.Pressure(100), unit.Pressure(105e3)
)

// flows reports whether the properties that friction needs are in range.
func (w Water) flows() bool {
	return w.Density >= leastDensity && w.Density <= mostDensity &&
		w.Viscosity >= leastViscosity && w.Viscosity <= mostViscosity
}

func (w Water) densityRange() error {
	return pkg.Range("density", float64(w.Density), float64(leastDensity), float64(mostDensity), densityUnit)
}

func (w Water) viscosityRange() error {
	return pkg.Range("viscosity", float64(w.Viscosity), float64(leastViscosity), float64(mostViscosity), viscosityUnit)
}

// Units of this file's errors.
var (
	densityUnit   = domain.Unit{Symbol: "kg/m³", Size: 1}
	viscosityUnit = domain.Unit{Symbol: "mPa·s", Size: 1e-3, Base: "Pa·s"}
)
