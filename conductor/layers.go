package conductor

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// CableLayers are the thermal resistances of a cable from the inside out, in
// the form of the IEC. A layer that is not there has the resistance 0.
type CableLayers struct {
	Insulation ThermalResistance // T1, between one conductor and its sheath
	Bedding    ThermalResistance // T2, between sheath and armour
	Serving    ThermalResistance // T3, outer covering
	External   ThermalResistance // T4, between surface and ambient; see [Buried]
	Conductors int               // n, that carry load in this cable
	SheathLoss float64           // λ1, losses of sheath over losses of conductors
	ArmourLoss float64           // λ2, losses of armour over losses of conductors
	Dielectric HeatPerLength     // Wd, of one conductor; zero at low voltage
}

// Path returns the effective resistance and the dielectric rise of a cable,
//
//	Rca = T1 + n·(1+λ1)·T2 + n·(1+λ1+λ2)·(T3+T4)
//	ΔTd = Wd·(T1/2 + n·(T2+T3+T4))
//
// with T1 to T4 in K·m/W and Wd in W/m. The current follows by
// [HeatPath.Ampacity].
//
// Valid for 0 to 1000 K·m/W a layer, not all zero, 1 to 100 conductors, loss
// factors of 0 to 10 and 0 to 100 W/m; otherwise err wraps [ErrDomain].
//
// Source: IEC 60287-1-1, 1.4.1.1 (recalled).
func (c CableLayers) Path() (HeatPath, error) {
	if !c.ok() {
		return HeatPath{}, c.check()
	}
	n, l1, l2 := ThermalResistance(c.Conductors), ThermalResistance(c.SheathLoss), ThermalResistance(c.ArmourLoss)
	t1, t2, t34 := c.Insulation, c.Bedding, c.Serving+c.External
	p := HeatPath{
		ToAmbient:      t1 + n*(1+l1)*t2 + n*(1+l1+l2)*t34,
		DielectricRise: unit.Temperature(float64(c.Dielectric) * float64(t1/2+n*(t2+t34))),
	}
	if err := p.check(); err != nil {
		return HeatPath{}, err
	}
	return p, nil
}

func (c CableLayers) ok() bool {
	layer := func(t ThermalResistance) bool { return t >= 0 && t <= maxLayer }
	factor := func(x float64) bool { return x >= 0 && x <= maxFactor }
	return layer(c.Insulation) && layer(c.Bedding) && layer(c.Serving) && layer(c.External) &&
		c.Conductors >= 1 && c.Conductors <= maxConductors && factor(c.SheathLoss) && factor(c.ArmourLoss) &&
		c.Dielectric >= 0 && c.Dielectric <= maxDielectric
}

// check names what ok refuses.
func (c CableLayers) check() error {
	layer := func(name string, t ThermalResistance) error {
		return pkg.Range("thermal resistance of the "+name, float64(t), 0, maxLayer, kelvinMetrePerWatt)
	}
	var count error
	if c.Conductors < 1 || c.Conductors > maxConductors {
		count = pkg.Invalid("number of conductors", strconv.Itoa(c.Conductors), "1 to 100")
	}
	return errors.Join(layer("insulation", c.Insulation), layer("bedding", c.Bedding), layer("serving", c.Serving),
		layer("surroundings", c.External), count,
		pkg.Range("sheath loss factor", c.SheathLoss, 0, maxFactor, domain.One),
		pkg.Range("armour loss factor", c.ArmourLoss, 0, maxFactor, domain.One),
		pkg.Range("dielectric loss", float64(c.Dielectric), 0, maxDielectric, wattPerMetre))
}

// Layer returns the thermal resistance of a round layer,
//
//	T = ρ/(2π) · ln(D/d)
//
// with the resistivity ρ in K·m/W, the inner diameter d and the outer D.
//
// Valid for 0.01 to 100 K·m/W and 0.05 mm ≤ d ≤ D ≤ 0.5 m; otherwise err wraps
// [ErrDomain].
//
// Source: IEC 60287-2-1, T1 of a single-core cable.
func Layer(rho ThermalResistivity, inner, outer unit.Length) (ThermalResistance, error) {
	err := errors.Join(checkResistivity(rho), checkDiameter("inner diameter", inner),
		pkg.Range("outer diameter", float64(outer), max(float64(inner), minDiameter), maxDiameter, inMillimetres))
	if err != nil {
		return 0, err
	}
	return ThermalResistance(float64(rho) / (2 * math.Pi) * math.Log(float64(outer)/float64(inner))), nil
}

// Buried returns the thermal resistance of the soil above one cable,
//
//	T4 = ρ/(2π) · ln(u + √(u² − 1)),   u = 2·L/De
//
// with the resistivity ρ of the soil in K·m/W, the depth L of the cable's axis
// and its outer diameter De.
//
// Valid for 0.01 to 100 K·m/W, diameters of 0.05 mm to 0.5 m and depths of the
// diameter to 100 m; otherwise err wraps [ErrDomain].
//
// Source: IEC 60287-2-1, single isolated buried cable (recalled).
func Buried(soil ThermalResistivity, depth, diameter unit.Length) (ThermalResistance, error) {
	err := errors.Join(checkResistivity(soil), checkDiameter("diameter", diameter),
		pkg.Range("depth", float64(depth), max(float64(diameter), minDiameter), 100, domain.Metre))
	if err != nil {
		return 0, err
	}
	return ThermalResistance(float64(soil) / (2 * math.Pi) * math.Acosh(2*float64(depth)/float64(diameter))), nil
}

const (
	minDiameter, maxDiameter = 0.05e-3, 0.5 // (m)
	maxLayer                 = 1000         // (K·m/W)
	maxConductors            = 100
	maxFactor                = 10
	maxDielectric            = 100 // (W/m)
)

func checkResistivity(rho ThermalResistivity) error {
	return pkg.Range("thermal resistivity", float64(rho), 0.01, 100, kelvinMetrePerWatt)
}

func checkDiameter(name string, d unit.Length) error {
	return pkg.Range(name, float64(d), minDiameter, maxDiameter, inMillimetres)
}
