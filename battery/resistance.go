package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Reading is the voltage at a battery's terminals while a current flows. The
// current is positive on discharge.
type Reading struct {
	Voltage unit.Voltage
	Current unit.Current
}

// ResistanceFromReadings returns the internal resistance and the voltage at
// zero current of the straight line through two readings,
//
//	R = (V1 - V2)/(I2 - I1),  V0 = V1 + R·I1
//
// where V is in V and I in A. Take the readings seconds apart, the second
// after some seconds of load; the line is the initial-voltage line of a
// maker's curves. With rest and one load it is the usual field test.
//
// The voltages must be 0.5 to 1500 V, the currents 0 to 100 kA and at least
// 0.1 A apart, and R must come out at 1 µΩ to 10 Ω: a voltage that rises with
// the load is refused. Otherwise err wraps [ErrDomain].
//
// Definition: slope of the discharge line.
func ResistanceFromReadings(a, b Reading) (r unit.Resistance, open unit.Voltage, err error) {
	for _, x := range [...]Reading{a, b} {
		err = errors.Join(
			err,
			pkg.Range("voltage", float64(x.Voltage), 0.5, 1500, domain.Volt),
			pkg.Range("current", float64(x.Current), 0, float64(mostCurrent), domain.Ampere),
		)
	}
	err = errors.Join(err, pkg.Range("difference of the currents",
		math.Abs(float64(b.Current-a.Current)), 0.1, float64(mostCurrent), domain.Ampere))
	if err != nil {
		return 0, 0, err
	}
	r = unit.Resistance(float64(a.Voltage-b.Voltage) / float64(b.Current-a.Current))
	if err := checkResistance("internal resistance from the readings", r); err != nil {
		return 0, 0, err
	}
	return r, a.Voltage + unit.Voltage(float64(r)*float64(a.Current)), nil
}

func checkResistance(name string, r unit.Resistance) error {
	return pkg.Range(name, float64(r), float64(leastResistance), float64(mostResistance), domain.Ohm)
}

// typicalResistances are cell resistance times capacity (Ω·Ah) by Chemistry,
// for full cells near 25 °C.
var typicalResistances = [...]Range[float64]{
	Flooded:              {Low: 0.120, High: 0.250},
	AGM:                  {Low: 0.028, High: 0.100},
	Gel:                  {Low: 0.080, High: 0.140},
	LithiumIronPhosphate: {Low: 0.070, High: 0.250},
}

// TypicalResistance returns the internal resistance of one full cell near
// 25 °C where no figure is at hand,
//
//	R = r/C
//
// where C is the capacity at the 20 h rate (Ah) and r runs, in mΩ·Ah a cell,
// from 120 to 250 for flooded, 28 to 100 for AGM, 80 to 140 for gel and 70 to
// 250 for lithium iron phosphate, whose high end holds the protection switch
// and links of a block. The band is wide since plates differ: measure, with
// [ResistanceFromReadings], before trusting a start to it. Resistance rises
// with cold ([ColdResistance]), and to two or three times when flat or old.
//
// Valid for 0.5 Ah to 100 kAh; otherwise, and for a chemistry that is none,
// err wraps [ErrDomain].
//
// Common practice: makers' sheets of seven batteries.
func TypicalResistance(c Chemistry, capacity unit.Charge) (Range[unit.Resistance], error) {
	if err := errors.Join(c.validate(), checkCapacity("capacity", capacity)); err != nil {
		return Range[unit.Resistance]{}, err
	}
	r, ah := typicalResistances[c], float64(capacity/AmpereHour)
	return Range[unit.Resistance]{Low: unit.Resistance(r.Low / ah), High: unit.Resistance(r.High / ah)}, nil
}

// ColdResistance returns the resistance of a lead-acid battery at a
// temperature, from that at 25 °C,
//
//	R = R25·2^((25-T)/35)
//
// where T is the temperature (°C): it doubles from 25 to -10 °C, as the acid's
// resistivity does.
//
// Valid for 1 µΩ to 10 Ω and -40 to 60 °C; otherwise err wraps [ErrDomain].
//
// Common practice: the acid's resistivity at a specific gravity of 1.25.
func ColdResistance(r unit.Resistance, t unit.Temperature) (unit.Resistance, error) {
	if err := errors.Join(checkResistance("resistance", r), checkTemperature("battery temperature", t)); err != nil {
		return 0, err
	}
	return r * unit.Resistance(math.Exp2((25-InCelsius(t))/35)), nil
}

// FaultCurrent returns the current of a bolted fault, lowest to highest,
//
//	I = V/R
//
// where V is the open-circuit voltage (V) and R all the resistance around the
// loop (Ω). The low end is the lowest V over the highest R: it must still open
// the fuse. The high end is what the fuse must be able to interrupt: use new,
// warm, full cells and their dc resistance; ac meters read 0.6 to 0.8 of that.
//
// Valid for 0.5 to 1500 V and 1 µΩ to 10 Ω, ends in order; otherwise err
// wraps [ErrDomain].
//
// Source: Ohm's law, as in IEEE Std 946, short-circuit current of batteries.
func FaultCurrent(v Range[unit.Voltage], r Range[unit.Resistance]) (Range[unit.Current], error) {
	const leastV, mostV = unit.Voltage(0.5), unit.Voltage(1500)
	if !(v.Low >= leastV && v.High >= v.Low && v.High <= mostV &&
		r.Low >= leastResistance && r.High >= r.Low && r.High <= mostResistance) {
		return Range[unit.Current]{}, errors.Join(
			checkRange("open-circuit voltage", v, float64(leastV), float64(mostV), domain.Volt),
			checkRange("resistance", r, float64(leastResistance), float64(mostResistance), domain.Ohm),
		)
	}
	return Range[unit.Current]{
		Low:  unit.Current(float64(v.Low) / float64(r.High)),
		High: unit.Current(float64(v.High) / float64(r.Low)),
	}, nil
}
