package tank

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// Power and energy from the wire to the water.

const (
	// WattHour is 3600 J.
	WattHour = quantity.WattHour
	// CustomaryWater is the density that is meant by 2.31 ft of water a psi and
	// by 3960 gal/min·ft a horsepower, 998.554 kg/m³. It is that of 18 °C.
	CustomaryWater = Density(PSI) / (gravity * 2.31 * Density(Foot))
)

// An EnergyPerVolume is what it costs to bring up water (J/m³). Read it back
// as float64(e / tank.WattHourPerLitre).
type EnergyPerVolume float64

// Units of energy a volume.
const (
	// JoulePerCubicMetre is the SI unit.
	JoulePerCubicMetre EnergyPerVolume = 1
	// WattHourPerLitre is also a kilowatt-hour a cubic metre.
	WattHourPerLitre = EnergyPerVolume(WattHour) / EnergyPerVolume(Litre)
	// WattHourPerUSGallon is 0.264 Wh/L.
	WattHourPerUSGallon = EnergyPerVolume(WattHour) / EnergyPerVolume(USGallon)
)

// Format prints the figure in J/m^3, as gonum's unit types print.
//
// Definition: energy over volume, in SI units.
func (e EnergyPerVolume) Format(fs fmt.State, c rune) { quantity.Format(fs, c, float64(e), "J/m^3") }

// WaterPower returns what a flow gains by being lifted, or put under the
// pressure of such a lift,
//
//	P = ρ·g·Q·H
//
// where ρ is the density (kg/m³), g 9.806 65 m/s², Q the flow (m³/s) and H the
// total head (m), see [TotalHead]. Divided by 746 it is the water horsepower
// of the trade, gal/min times feet over 3960, for [CustomaryWater]; water of
// 1000 kg/m³ gives 0.14 % more.
//
// Valid for 800 to 1300 kg/m³, flows of 1e-6 to 0.25 m³/s and heads of 0.1 to
// 1000 m; otherwise err wraps [ErrDomain].
//
// Source: L. Bachus, A. Custodio, Know and Understand Centrifugal Pumps, on
// water horsepower.
func WaterPower(rho Density, flow FlowRate, head unit.Length) (unit.Power, error) {
	if !(raisedOK(rho, head) && pipeFlowOK(flow)) {
		return 0, errors.Join(raisedFaults(rho, head),
			pkg.Range("flow", float64(flow), float64(leastPipeFlow), float64(mostPipeFlow), flowUnit))
	}
	return unit.Power(float64(rho) * gravity * float64(flow) * float64(head)), nil
}

// EnergyToRaise returns the energy that a volume of water costs at a head,
//
//	e = ρ·g·H/η
//
// with the symbols of [WaterPower], where η is the wire-to-water efficiency
// (1), see [PumpSet.WireToWater]. At 0.25 a gallon raised by 200 ft costs 2.5
// Wh. The inverter's losses are not in it, unless η has them.
//
// Valid as [WaterPower] is, for efficiencies of 0.01 to 1; otherwise err wraps
// [ErrDomain].
//
// Source: as [WaterPower].
func EnergyToRaise(rho Density, head unit.Length, wireToWater float64) (EnergyPerVolume, error) {
	if !(raisedOK(rho, head) && efficiencyOK(wireToWater)) {
		return 0, errors.Join(raisedFaults(rho, head), efficiencyRange("wire-to-water efficiency", wireToWater))
	}
	return EnergyPerVolume(float64(rho) * gravity * float64(head) / wireToWater), nil
}

// ImpliedWireToWater returns the efficiency that a measurement shows,
//
//	η = ρ·g·Q·H/P
//
// with the symbols of [WaterPower], where P is the electrical power measured
// while the pump delivers Q (W). It replaces the typical figures of [Machine].
// Volts times amperes is no such power: it is larger by the power factor.
//
// Valid as [WaterPower] is, for 10 W to 100 kW. An efficiency below 0.01 or
// above 1 is none: a reading or the head is wrong, and err wraps [ErrDomain]
// as it does for other values outside.
//
// Source: as [WaterPower].
func ImpliedWireToWater(measured unit.Power, rho Density, flow FlowRate, head unit.Length) (float64, error) {
	water, err := WaterPower(rho, flow, head)
	err = errors.Join(err, pkg.Range("measured power", float64(measured), 10, 100e3, domain.Watt))
	if err != nil {
		return 0, err
	}
	eta := float64(water / measured)
	if err := efficiencyRange("efficiency by measurement", eta); err != nil {
		return 0, err
	}
	return eta, nil
}

// A PumpSet holds the efficiencies of what stands between wire and water. They
// are multiplied: their mean says nothing.
type PumpSet struct {
	Pump  float64 // water power over shaft power, 0.01 to 1
	Motor float64 // shaft power over electrical input, 0.01 to 1
	// Supply is of what else the energy passes: cable, starter, inverter. Zero:
	// nothing is counted, 1.
	Supply float64
}

// WireToWater returns the efficiency from the wire to the water,
//
//	η = ηp·ηm·ηs
//
// where ηp is s.Pump, ηm s.Motor and ηs s.Supply. Each holds at one flow: away
// from its best point a pump's falls.
//
// Valid for 0.01 to 1 each; otherwise err wraps [ErrDomain].
//
// Definition: water power over electrical power.
func (s PumpSet) WireToWater() (float64, error) {
	supply := s.supply()
	if !(efficiencyOK(s.Pump) && efficiencyOK(s.Motor) && efficiencyOK(supply)) {
		return 0, errors.Join(
			efficiencyRange("pump efficiency", s.Pump),
			efficiencyRange("motor efficiency", s.Motor),
			efficiencyRange("supply efficiency", supply),
		)
	}
	return s.Pump * s.Motor * supply, nil
}

func (s PumpSet) supply() float64 {
	if s.Supply == 0 {
		return 1
	}
	return s.Supply
}

// ShaftPower returns what the motor must give the pump, the brake horsepower
// of the trade,
//
//	Ps = P/ηp
//
// where P is the water power (W), see [WaterPower], and ηp is s.Pump.
//
// Valid for 0 to 1 MW and the range of s.Pump; otherwise err wraps [ErrDomain].
//
// Definition: pump efficiency is water power over shaft power.
func (s PumpSet) ShaftPower(water unit.Power) (unit.Power, error) {
	if !(efficiencyOK(s.Pump) && waterPowerOK(water)) {
		return 0, errors.Join(efficiencyRange("pump efficiency", s.Pump), waterPowerRange(water))
	}
	return water / unit.Power(s.Pump), nil
}

// Input returns the electrical power that goes in,
//
//	Pe = P/η
//
// where P is the water power (W) and η is s.WireToWater(). It is real power
// while the pump runs: volt-amperes are more, and the start many times more.
//
// Valid for 0 to 1 MW and as [PumpSet.WireToWater] is; otherwise err wraps
// [ErrDomain].
//
// Definition: wire-to-water efficiency is water power over electrical power.
func (s PumpSet) Input(water unit.Power) (unit.Power, error) {
	eta, err := s.WireToWater()
	if err != nil || !waterPowerOK(water) {
		return 0, errors.Join(err, waterPowerRange(water))
	}
	return water / unit.Power(eta), nil
}

// Bounds. An efficiency in percent and a head in mm lie outside.
const (
	leastEfficiency         = 0.01
	leastRaised, mostRaised = unit.Length(0.1), unit.Length(1000)
	mostWaterPower          = unit.Power(1e6)
)

func efficiencyOK(eta float64) bool { return eta >= leastEfficiency && eta <= 1 }

func efficiencyRange(name string, eta float64) error {
	return pkg.Range(name, eta, leastEfficiency, 1, domain.One)
}

func raisedOK(rho Density, head unit.Length) bool {
	return rho >= leastDensity && rho <= mostDensity && head >= leastRaised && head <= mostRaised
}

func raisedFaults(rho Density, head unit.Length) error {
	return errors.Join(Water{Density: rho}.densityRange(),
		pkg.Range("head", float64(head), float64(leastRaised), float64(mostRaised), domain.Metre))
}

func waterPowerOK(p unit.Power) bool { return p >= 0 && p <= mostWaterPower }

func waterPowerRange(p unit.Power) error {
	return pkg.Range("water power", float64(p), 0, float64(mostWaterPower), domain.Watt)
}
