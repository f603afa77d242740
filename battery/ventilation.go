package battery

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ErrNoHydrogen is the answer for lithium iron phosphate: it gives off no
// hydrogen in charging, and no ventilation rule of lead-acid applies. What a
// cell gives off when it fails is another matter, and burns.
var ErrNoHydrogen = errors.New("battery: lithium iron phosphate gives off no hydrogen in charging")

// A ChargeMode is how hard a battery is charged while it gasses. The zero
// value is none, and is refused.
type ChargeMode byte

// The modes of charging.
const (
	FloatCharge ChargeMode = iota + 1 // standing at the float voltage
	BoostCharge                       // at the absorption voltage
)

// String returns "float" or "boost", or "ChargeMode(9)" for a value that is
// none.
//
// Definition: the terms of IEC 62485-2.
func (m ChargeMode) String() string {
	switch m {
	case FloatCharge:
		return "float"
	case BoostCharge:
		return "boost"
	}
	return "ChargeMode(" + strconv.Itoa(int(m)) + ")"
}

// GasFactors are what makes a battery's gas-producing current.
type GasFactors struct {
	Voltage  unit.Voltage // of a cell, at which Current holds
	Current  float64      // float or boost current (A/Ah): 0.001 is 1 mA/Ah
	Emission float64      // fg: the share that leaves the cell as gas
	Safety   float64      // fs: for faulty and aged cells
}

// gasFactors are by type, sealed or not, and ChargeMode.
// Source: IEC 62485-2:2010, Table 1 (recalled).
var gasFactors = [...][2]GasFactors{
	{{2.23, 1e-3, 1, 5}, {2.40, 4e-3, 1, 5}},     // vented, antimony below 3 %
	{{2.27, 1e-3, 0.2, 5}, {2.40, 8e-3, 0.2, 5}}, // valve-regulated
}

// GasFactors returns the defaults for a type and mode. Lithium iron phosphate
// is [ErrNoHydrogen]; a chemistry or mode that is none is an [ErrDomain].
//
// Source: IEC 62485-2:2010, Table 1 (as EN 50272-2:2001), recalled. Vented
// cells are those with less than 3 % antimony; near 40 °C and above see
// [GasTemperatureFactor].
func (c Chemistry) GasFactors(m ChargeMode) (GasFactors, error) {
	err := c.validate()
	if m != FloatCharge && m != BoostCharge {
		err = errors.Join(err, pkg.Invalid("charge mode", strconv.Itoa(int(m)), "float or boost"))
	}
	switch {
	case err != nil:
		return GasFactors{}, err
	case !c.LeadAcid():
		return GasFactors{}, ErrNoHydrogen
	case c == Flooded:
		return gasFactors[0][m-FloatCharge], nil
	}
	return gasFactors[1][m-FloatCharge], nil
}

// GasCurrent returns the current that makes gas,
//
//	I = i·fg·fs·C
//
// where i, fg and fs are the fields of g (A/Ah) and C is the 10 h capacity of
// lead-acid (Ah); the 20 h capacity is some more and on the safe side. The
// standard writes Igas = i·fg·fs in mA/Ah: 5 and 20 for vented, 1 and 8 for
// valve-regulated cells. A page that prints these "per 100 Ah" is off by a
// hundred.
//
// Valid for i of 0.01 to 100 mA/Ah, fg of 0.01 to 1, fs of 1 to 20 and 0.5 Ah
// to 100 kAh; otherwise err wraps [ErrDomain].
//
// Source: IEC 62485-2:2010, 7.2.
func (g GasFactors) GasCurrent(c unit.Charge) (unit.Current, error) {
	err := errors.Join(
		pkg.Range("charging current an Ah", g.Current, 1e-5, 0.1, domain.Ampere),
		pkg.Range("gas emission factor", g.Emission, 0.01, 1, domain.One),
		pkg.Range("gas safety factor", g.Safety, 1, 20, domain.One),
		checkCapacity("capacity", c),
	)
	if err != nil {
		return 0, err
	}
	return unit.Current(g.Current * g.Emission * g.Safety * float64(c/AmpereHour)), nil
}

// VentilationAirflow returns the least airflow of a battery room,
//
//	Q = 0.05·n·I
//
// where Q is in m³/h, n is the number of cells of a string and I the
// gas-producing current of all strings together (A, [GasFactors.GasCurrent]).
// The 0.05 is 24 (air to hydrogen at 4 %) times 0.42e-3 m³/Ah times 5 for
// safety, rounded. The standard's form is Q = 0.05·n·Igas·Crt·1e-3 with Igas in
// mA/Ah and Crt in Ah.
//
// Valid for 1 to 1000 cells and 1 µA to 10 kA; otherwise err wraps
// [ErrDomain].
//
// Source: IEC 62485-2:2010, 7.2.
func VentilationAirflow(cells int, gas unit.Current) (FlowRate, error) {
	if !(cells >= 1 && cells <= 1000 && gas >= leastNet && gas <= 10e3) {
		return 0, errors.Join(checkCount("cells", cells, 1000),
			pkg.Range("gas-producing current", float64(gas), float64(leastNet), 10e3, domain.Ampere))
	}
	return FlowRate(0.05*float64(cells)*float64(gas)) * CubicMetrePerHour, nil
}

// VentilationOpening returns the free area of the inlet, and again of the
// outlet, for natural ventilation,
//
//	A = 28·Q
//
// where A is in cm² and Q the airflow (m³/h). It is the area through which Q
// passes at 0.1 m/s. The two openings belong in opposite walls, or one high
// and one low, 2 m apart where they share a wall.
//
// Valid for 0 to 100 000 m³/h; otherwise err wraps [ErrDomain].
//
// Source: IEC 62485-2:2010, 7.3.
func VentilationOpening(q FlowRate) (unit.Area, error) {
	if err := checkAirflow("airflow", q); err != nil {
		return 0, err
	}
	return unit.Area(28e-4 * float64(q/CubicMetrePerHour)), nil
}

func checkAirflow(name string, q FlowRate) error {
	return pkg.Range(name, float64(q), 0, float64(1e5*CubicMetrePerHour), airflowUnit)
}

// GasTemperatureFactor returns how many times more gas a battery makes than at
// 25 °C,
//
//	f = 2^((T - 25)/8)
//
// where T is the temperature (°C).
//
// Valid for 25 to 60 °C; otherwise err wraps [ErrDomain].
//
// Common practice: one battery maker's manual.
func GasTemperatureFactor(t unit.Temperature) (float64, error) {
	err := pkg.Range("battery temperature", float64(t), float64(Celsius(25)), float64(Celsius(60)), domain.Celsius)
	if err != nil {
		return 0, err
	}
	return math.Exp2((InCelsius(t) - 25) / 8), nil
}

// A Ventilation is what a battery room needs, by both rules.
type Ventilation struct {
	GasCurrent unit.Current // of all strings together
	Airflow    FlowRate     // IEC 62485-2, with its factor of 5
	Opening    unit.Area    // of the inlet, and of the outlet, without a fan

	// Hydrogen is what the charger's whole current makes when all of it splits
	// water: the ampere rule, without a factor. Dilution is the fresh air that
	// keeps it at the limit.
	Hydrogen, Dilution FlowRate
}

// Ventilation returns airflow and openings for the bank charged in a mode by a
// charger of a current, with hydrogen kept to a limit: 0.01 or 0.02, against
// 0.04 where it starts to burn. The two rules answer different questions: the
// first is for charging as set, and the second for a charger that forces its
// full current into a full battery. Design for what the installation can
// reach.
//
// Lithium iron phosphate is [ErrNoHydrogen]. A bank, mode, current or limit
// outside its bounds is an [ErrDomain].
//
// Source: [VentilationAirflow], [VentilationOpening], [HydrogenRate] and
// [DilutionAirflow].
func (b Bank) Ventilation(m ChargeMode, charger unit.Current, limit float64) (Ventilation, error) {
	n, err := b.cells()
	if err != nil {
		return Ventilation{}, err
	}
	g, err := b.Block.Chemistry.GasFactors(m)
	if err != nil {
		return Ventilation{}, err
	}
	var v Ventilation
	var errs [5]error
	v.GasCurrent, errs[0] = g.GasCurrent(b.Rating().Capacity)
	v.Airflow, errs[1] = VentilationAirflow(n, v.GasCurrent)
	v.Opening, errs[2] = VentilationOpening(v.Airflow)
	v.Hydrogen, errs[3] = HydrogenRate(n, charger)
	if errs[3] == nil {
		v.Dilution, errs[4] = DilutionAirflow(v.Hydrogen, limit)
	}
	for _, err := range errs {
		if err != nil {
			return Ventilation{}, errors.Join(errs[:]...)
		}
	}
	return v, nil
}
