package battery

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// SetPoints are the voltages at which a charger holds one cell at 25 °C. Each
// is the range over the sheets seen: a charger's setting belongs inside it, and
// the battery maker's own figure goes before all of it.
type SetPoints struct {
	Absorption Range[unit.Voltage] // the constant voltage that ends bulk
	Float      Range[unit.Voltage] // the standing voltage of a full battery
	Equalise   Range[unit.Voltage] // zero: never
	// PerDegree is what each °C above 25 °C adds (V/°C a cell, negative).
	PerDegree Range[unit.Voltage]
	// FloatOptional says that the battery may as well be left without float.
	FloatOptional bool
}

// setPoints are by Chemistry.
var setPoints = [...]SetPoints{
	Flooded: {
		Absorption: Range[unit.Voltage]{Low: 2.40, High: 2.467},
		Float:      Range[unit.Voltage]{Low: 2.20, High: 2.23},
		Equalise:   Range[unit.Voltage]{Low: 2.33, High: 2.583},
		PerDegree:  Range[unit.Voltage]{Low: -5e-3, High: -3e-3},
	},
	AGM: {
		Absorption: Range[unit.Voltage]{Low: 2.40, High: 2.45},
		Float:      Range[unit.Voltage]{Low: 2.25, High: 2.30},
		PerDegree:  Range[unit.Voltage]{Low: -5e-3, High: -3e-3},
	},
	Gel: {
		Absorption: Range[unit.Voltage]{Low: 2.35, High: 2.40},
		Float:      Range[unit.Voltage]{Low: 2.25, High: 2.30},
		PerDegree:  Range[unit.Voltage]{Low: -5e-3, High: -3e-3},
	},
	LithiumIronPhosphate: {
		Absorption:    Range[unit.Voltage]{Low: 3.55, High: 3.65},
		Float:         Range[unit.Voltage]{Low: 3.35, High: 3.40},
		FloatOptional: true,
	},
}

// SetPoints returns the charging voltages of one cell at 25 °C. Flooded spans
// the deep-cycle and the stationary sheets, which charge differently: 2.467 V
// absorption and 2.20 V float against 2.40 and 2.23 V. AGM is sometimes held
// to 2.40 V. Gel above 2.40 V a cell makes bubbles that stay: AGM and gel are
// not equalised. Lithium iron phosphate is not compensated for temperature. A
// chemistry that is none is an [ErrDomain].
//
// Source: IEC 62485-2 for 2.23 and 2.40 V flooded; makers' sheets for the
// rest. Common practice: the coefficients and the ends of the ranges.
func (c Chemistry) SetPoints() (SetPoints, error) {
	if err := c.validate(); err != nil {
		return SetPoints{}, err
	}
	return setPoints[c], nil
}

// The temperatures between which a charger compensates (°C).
const (
	compensationLow  = 0.0
	compensationHigh = 40.0
)

// CompensatedVoltage returns a charging voltage at a battery temperature,
//
//	V = V25 + n·m·(T' - 25)
//
// where V25 is the setting at 25 °C (V), n the number of cells, m the
// coefficient (V/°C a cell, -0.003 to -0.005 for lead-acid, 0 for lithium iron
// phosphate) and T' the temperature clamped to 0 to 40 °C: outside, clamped is
// true and the voltage stays at that of the nearer end. Without the clamp a
// frozen sensor would drive a battery into gassing.
//
// A datasheet that adds 0.028 V a cell for every 10 °F of cold means 5.04
// mV/°C; the same sheet's "per 10 °C" for heat is a misprint of the unit.
//
// Valid for 0.5 to 1500 V, 1 to 1000 cells, m of -0.01 to 0 V/°C, and -40 to
// 60 °C; otherwise err wraps [ErrDomain].
//
// Common practice: makers' sheets; the clamp likewise.
func CompensatedVoltage(v25 unit.Voltage, cells int, perDegree unit.Voltage, t unit.Temperature) (v unit.Voltage, clamped bool, err error) {
	if !(v25 >= 0.5 && v25 <= 1500 && cells >= 1 && cells <= 1000 && perDegree >= -0.01 && perDegree <= 0 &&
		t >= Celsius(-40) && t <= Celsius(60)) {
		return 0, false, errors.Join(
			pkg.Range("charging voltage", float64(v25), 0.5, 1500, domain.Volt),
			checkCount("cells", cells, 1000),
			pkg.Range("temperature coefficient of a cell", float64(perDegree), -0.01, 0, domain.Volt),
			checkTemperature("battery temperature", t),
		)
	}
	celsius := InCelsius(t)
	held := min(max(celsius, compensationLow), compensationHigh)
	return v25 + unit.Voltage(float64(cells)*float64(perDegree)*(held-25)), held != celsius, nil
}

// ChargeVoltages are the voltages of a charger at a bank's terminals.
type ChargeVoltages struct {
	Absorption, Float Range[unit.Voltage] // the constant voltages
	Equalise          Range[unit.Voltage] // zero: never
	Clamped           bool                // the temperature is outside 0 to 40 °C
}

// ChargeVoltages returns the settings of a charger for the bank at a battery
// temperature: [Chemistry.SetPoints] times the cells of a string, moved by
// [CompensatedVoltage] at either end of the range of coefficients. Errors as
// there, and a bank outside its bounds is an [ErrDomain].
//
// Common practice: as for the functions named.
func (b Bank) ChargeVoltages(t unit.Temperature) (ChargeVoltages, error) {
	n, err := b.cells()
	if err = errors.Join(err, checkTemperature("battery temperature", t)); err != nil {
		return ChargeVoltages{}, err
	}
	s := setPoints[b.Block.Chemistry]
	var clamped bool
	at := func(r Range[unit.Voltage]) Range[unit.Voltage] {
		if r == (Range[unit.Voltage]{}) {
			return r
		}
		var v [4]unit.Voltage
		for i, m := range [...]unit.Voltage{s.PerDegree.Low, s.PerDegree.High} {
			lo, held, err1 := CompensatedVoltage(unit.Voltage(n)*r.Low, n, m, t)
			hi, _, err2 := CompensatedVoltage(unit.Voltage(n)*r.High, n, m, t)
			v[i], v[2+i], clamped = lo, hi, held
			err = errors.Join(err, err1, err2)
		}
		return Range[unit.Voltage]{Low: min(v[0], v[1]), High: max(v[2], v[3])}
	}
	got := ChargeVoltages{Absorption: at(s.Absorption), Float: at(s.Float), Equalise: at(s.Equalise)}
	if err != nil {
		return ChargeVoltages{}, err
	}
	got.Clamped = clamped && b.Block.Chemistry.LeadAcid()
	return got, nil
}
