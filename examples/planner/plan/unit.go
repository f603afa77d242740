package plan

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
	"ridethrough.example/conductor"
	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

// A Ratio is a number without a unit: an efficiency, a share of the day, a
// Peukert exponent.
type Ratio float64

// A dimension lists the units in which a quantity may be typed.
type dimension struct {
	name  string
	units []typedUnit
}

// A typedUnit turns x of itself into x·size + offset SI units.
type typedUnit struct {
	names        []string // the first is the canonical one
	size, offset float64
}

func sized[T ~float64](size T, names ...string) typedUnit {
	return typedUnit{names: names, size: float64(size)}
}

// dimensionOf returns the dimension of a quantity's Go type.
func dimensionOf[T ~float64]() dimension {
	switch any(T(0)).(type) {
	case unit.Power:
		return dimension{"power", []typedUnit{
			sized(unit.Watt, "W"), sized(motor.Kilowatt, "kW"), sized(motor.Horsepower, "hp", "HP"),
			sized(motor.MetricHorsepower, "PS"),
		}}
	case motor.ApparentPower:
		return dimension{"apparent power", []typedUnit{sized(motor.VoltAmpere, "VA"), sized(1000*motor.VoltAmpere, "kVA")}}
	case unit.Voltage:
		return dimension{"voltage", []typedUnit{sized(unit.Volt, "V"), sized(unit.Volt/1000, "mV"), sized(1000*unit.Volt, "kV")}}
	case unit.Current:
		return dimension{"current", []typedUnit{sized(unit.Ampere, "A"), sized(unit.Ampere/1000, "mA"), sized(1000*unit.Ampere, "kA")}}
	case unit.Resistance:
		return dimension{"resistance", []typedUnit{
			sized(unit.Ohm, "ohm", "Ω"), sized(unit.Ohm/1000, "mohm", "mΩ", "milliohm"),
		}}
	case unit.Capacitance:
		return dimension{"capacitance", []typedUnit{
			sized(unit.Farad/1e6, "uF", "µF"), sized(unit.Farad/1000, "mF"), sized(unit.Farad, "F"),
		}}
	case unit.Charge:
		return dimension{"charge", []typedUnit{sized(battery.AmpereHour, "Ah")}}
	case unit.Energy:
		return dimension{"energy", []typedUnit{sized(battery.WattHour, "Wh"), sized(1000*battery.WattHour, "kWh")}}
	case unit.Pressure:
		return dimension{"pressure", []typedUnit{
			sized(tank.PSI, "psi", "psig"), sized(tank.Kilopascal, "kPa"), sized(tank.Bar, "bar"),
		}}
	case unit.Volume:
		return dimension{"volume", []typedUnit{
			sized(tank.Litre, "L", "l"), sized(tank.USGallon, "gal", "US gal"),
			sized(tank.ImperialGallon, "imp gal"), sized(1000*tank.Litre, "m3", "m³"),
		}}
	case tank.FlowRate:
		return dimension{"flow", []typedUnit{
			sized(tank.LitrePerMinute, "L/min", "l/min"), sized(tank.USGallonPerMinute, "gal/min", "gpm"),
			sized(60*tank.LitrePerMinute, "L/s", "l/s"), sized(tank.LitrePerMinute/1440, "L/day", "l/day"),
			sized(tank.USGallonPerMinute/1440, "gal/day"),
		}}
	case unit.Length:
		return dimension{"length", []typedUnit{
			sized(unit.Length(1), "m"), sized(unit.Length(0.01), "cm"), sized(unit.Length(0.001), "mm"), sized(conductor.Foot, "ft"), sized(conductor.Inch, "in"),
		}}
	case unit.Time:
		return dimension{"time", []typedUnit{
			sized(unit.Time(1), "s"), sized(unit.Time(1e-3), "ms"), sized(battery.Minute, "min"), sized(battery.Hour, "h"), sized(24*battery.Hour, "d", "days", "day"),
		}}
	case unit.Temperature:
		const zero = 273.15
		return dimension{"temperature", []typedUnit{
			{[]string{"°C", "C", "degC", "deg C"}, 1, zero}, {[]string{"°F", "F", "degF", "deg F"}, 1 / 1.8, zero - 32/1.8}, {[]string{"K"}, 1, 0},
		}}
	case Ratio:
		return dimension{"ratio", []typedUnit{
			sized(Ratio(1), ""), sized(Ratio(0.01), "%"),
			sized(Ratio(1.0/24), "h/day"), sized(Ratio(1.0/1440), "min/day"),
		}}
	}
	panic(fmt.Sprintf("plan: no units for %T", T(0)))
}

// find returns the unit of that name.
func (d dimension) find(name string) (typedUnit, error) {
	for _, u := range d.units {
		if slices.Contains(u.names, name) {
			return u, nil
		}
	}
	// No dimension has two units that differ in case alone.
	for _, u := range d.units {
		if slices.ContainsFunc(u.names, func(n string) bool { return strings.EqualFold(n, name) }) {
			return u, nil
		}
	}
	if name == "" {
		return typedUnit{}, fmt.Errorf("no unit, want a %s in %s", d.name, d.accepted())
	}
	return typedUnit{}, fmt.Errorf("%q is no unit of %s, want %s", name, d.name, d.accepted())
}

// accepted lists the canonical units.
func (d dimension) accepted() string {
	var names []string
	for _, u := range d.units {
		if n := u.names[0]; n == "" {
			names = append(names, "a plain number")
		} else {
			names = append(names, n)
		}
	}
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
