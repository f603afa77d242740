package conductor

import (
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Metal is what a conductor is made of. The zero value is no metal, and
// every function refuses it.
type Metal uint8

// The metals.
const (
	// Copper is annealed copper of 100 % IACS.
	Copper Metal = iota + 1
	// Aluminium is hard-drawn aluminium of 61 % IACS, the grade of wire.
	Aluminium
)

// Source: International Annealed Copper Standard, IEC 60028 (1925), 1/58
// Ω·mm²/m (recalled) and 0.00393/K at 20 °C; aluminium of 61 % of that
// conductivity, IEC 60889, 0.00403/K (both recalled).
const (
	copperResistivity    = 1e-6 / 58 // (Ω·m)
	aluminiumResistivity = copperResistivity / 0.61

	copperAlpha    = 0.00393 // (1/K)
	aluminiumAlpha = 0.00403

	celsius20 = 20 + 273.15 // (K)
)

// String returns "copper", "aluminium" or, for the zero value, "no metal".
//
// Definition: the English names.
func (m Metal) String() string {
	switch m {
	case Copper:
		return "copper"
	case Aluminium:
		return "aluminium"
	default:
		return "no metal"
	}
}

func (m Metal) check() error {
	if m == Copper || m == Aluminium {
		return nil
	}
	return pkg.Invalid("metal", strconv.Itoa(int(m)), "copper or aluminium")
}

// at20 returns resistivity (Ω·m) and coefficient (1/K) at 20 °C.
func (m Metal) at20() (rho, alpha float64) {
	if m == Aluminium {
		return aluminiumResistivity, aluminiumAlpha
	}
	return copperResistivity, copperAlpha
}

// Resistivity returns the resistivity at a temperature,
//
//	ρ(T) = ρ20·(1 + α20·(T − 20))
//
// with ρ20 = 1/58 Ω·mm²/m (10.371 Ω·cmil/ft) for copper, that divided by 0.61
// for aluminium, T in °C, and α20 = 0.00393/K and 0.00403/K. The result in
// Ω·cmil/ft is the trade's K; tables' K of 12.9 for stranded copper at 75 °C
// holds 2 % of lay beside it.
//
// Valid for −60 to 300 °C; otherwise err wraps [ErrDomain].
//
// Source: IEC 60028 (copper, IACS); IEC 60889 (aluminium, recalled).
func (m Metal) Resistivity(at unit.Temperature) (Resistivity, error) {
	if err := m.checkAt(at); err != nil {
		return 0, err
	}
	rho, alpha := m.at20()
	return Resistivity(rho * (1 + alpha*(float64(at)-celsius20))), nil
}

// TemperatureCoefficient returns the coefficient (1/K) that belongs to a
// resistance known at the base temperature T,
//
//	αT = α20 / (1 + α20·(T − 20))
//
// 0.00427 at 0 °C, 0.00385 at 25 °C and 0.00323 at 75 °C for copper. Putting
// the coefficient of one base on a resistance of another is a common error,
// worth 3 % between 20 and 75 °C; [Metal.ResistanceRatio] cannot make it.
//
// Valid for −60 to 300 °C; otherwise err wraps [ErrDomain].
//
// Source: IEC 60028; NEC chapter 9, table 8, note 2, for 75 °C.
func (m Metal) TemperatureCoefficient(base unit.Temperature) (perKelvin float64, err error) {
	if err := m.checkAt(base); err != nil {
		return 0, err
	}
	_, alpha := m.at20()
	return alpha / (1 + alpha*(float64(base)-celsius20)), nil
}

// ResistanceRatio returns R(to)/R(from), by which a resistance known at one
// temperature is brought to another,
//
//	R2/R1 = (1 + α20·(T2 − 20)) / (1 + α20·(T1 − 20))
//
// the same as (T2 − T0)/(T1 − T0), where T0 is [Metal.ZeroResistance]. From 20
// to 75 °C it is 1.216 for copper.
//
// Valid for −60 to 300 °C on both sides; otherwise err wraps [ErrDomain].
//
// Source: IEC 60028; NEC chapter 9, table 8, note 2.
func (m Metal) ResistanceRatio(from, to unit.Temperature) (float64, error) {
	if err := m.checkAt(from); err != nil {
		return 0, err
	}
	if err := checkTemperature(float64(to)); err != nil {
		return 0, err
	}
	_, alpha := m.at20()
	return (1 + alpha*(float64(to)-celsius20)) / (1 + alpha*(float64(from)-celsius20)), nil
}

// ZeroResistance returns the temperature at which the straight line of
// resistance against temperature would reach zero,
//
//	T0 = 20 − 1/α20
//
// in °C: −234.5 for copper, −228.1 for aluminium. (An aircraft circular uses
// −238.1 for aluminium, which makes 0.7 % between 20 and 75 °C.)
//
// The zero Metal gives an error that wraps [ErrDomain].
//
// Source: IEC 60028; IEC 60889.
func (m Metal) ZeroResistance() (unit.Temperature, error) {
	if err := m.check(); err != nil {
		return 0, err
	}
	_, alpha := m.at20()
	return unit.Temperature(celsius20 - 1/alpha), nil
}

func (m Metal) checkAt(t unit.Temperature) error {
	if m != Copper && m != Aluminium {
		return m.check()
	}
	return pkg.Range("temperature", float64(t), minTemperature, maxTemperature, domain.Celsius)
}
