package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Precharge is the filling of an inverter's input capacitors through a
// resistor before the main switch closes. Without one the first closing draws
// the current of a short circuit for an instant: it welds contacts and trips a
// battery's management.
type Precharge struct {
	Voltage     unit.Voltage     // of the battery, 5 V to 1 kV
	Capacitance unit.Capacitance // of the input, 10 µF to 1 F
	Resistor    unit.Resistance  // 0.1 Ω to 100 kΩ
}

// Validate returns nil for fields in the ranges stated beside them, and
// otherwise an error that names each fault.
//
// Definition: as [Precharge].
func (p Precharge) Validate() error {
	return errors.Join(
		dcVoltage("battery voltage", p.Voltage),
		pkg.Range("input capacitance", float64(p.Capacitance), 10e-6, 1, domain.Farad),
		pkg.Range("precharge resistor", float64(p.Resistor), 0.1, 100e3, domain.Ohm),
	)
}

// A PrechargeState is where a precharge stands.
type PrechargeState struct {
	Voltage  unit.Voltage // across the capacitors
	Current  unit.Current // through the resistor
	Stored   unit.Energy  // in the capacitors
	Resistor unit.Energy  // turned into heat in the resistor so far
}

// After returns the state a time t (s) after the beginning, capacitors empty,
//
//	u = V·(1 - e^(-t/RC)),  i = (V/R)·e^(-t/RC)
//	E_C = C·u²/2,  E_R = (C·V²/2)·(1 - e^(-2t/RC))
//
// The inverter must not draw current meanwhile. Valid for 0 to 400 days.
//
// Source: charging of a capacitor through a resistor.
func (p Precharge) After(t unit.Time) (PrechargeState, error) {
	if err := errors.Join(p.Validate(), span("time", t)); err != nil {
		return PrechargeState{}, err
	}
	v, c, r := float64(p.Voltage), float64(p.Capacitance), float64(p.Resistor)
	x := float64(t) / (r * c)
	u := -v * math.Expm1(-x)
	return PrechargeState{
		Voltage: unit.Voltage(u), Current: unit.Current(v / r * math.Exp(-x)),
		Stored: unit.Energy(c * u * u / 2), Resistor: unit.Energy(-c * v * v / 2 * math.Expm1(-2*x)),
	}, nil
}

// A PrechargePlan is what a precharge asks of its resistor and of patience.
type PrechargePlan struct {
	Time     unit.Time    // 5·R·C, after which 0.7 % of the voltage is missing
	Peak     unit.Current // V/R, at first
	PeakHeat unit.Power   // V²/R in the resistor, at first
	Stored   unit.Energy  // C·V²/2, in the end
	Resistor unit.Energy  // as much again, as heat in the resistor, whatever its resistance
}

// Plan returns time, peak and energies of the precharge. A resistor that takes
// the joules at once need not take the peak for long. Switching over after
// 5·R·C leaves an inrush of 0.7 % of [Precharge.Inrush].
//
// Source: charging of a capacitor through a resistor. Common practice: five time
// constants.
func (p Precharge) Plan() (PrechargePlan, error) {
	if err := p.Validate(); err != nil {
		return PrechargePlan{}, err
	}
	v, c, r := float64(p.Voltage), float64(p.Capacitance), float64(p.Resistor)
	e := unit.Energy(c * v * v / 2)
	return PrechargePlan{
		Time: unit.Time(5 * r * c), Peak: unit.Current(v / r), PeakHeat: unit.Power(v * v / r), Stored: e, Resistor: e,
	}, nil
}

// Inrush returns the current (A) as the main switch closes a time after the
// precharge began, the missing voltage over the resistance R (Ω) of battery,
// cable, contacts and capacitors,
//
//	I = V·e^(-t/(R_p·C))/R
//
// with t = 0 for no precharge at all. The inductance of the cable, left out,
// makes it less. Valid for 0.1 mΩ to 10 Ω.
//
// Source: Ohm's law at the first instant.
func (p Precharge) Inrush(after unit.Time, resistance unit.Resistance) (unit.Current, error) {
	s, err := p.After(after)
	err = errors.Join(err, pkg.Range("resistance of the loop", float64(resistance), 1e-4, 10, domain.Ohm))
	if err != nil {
		return 0, err
	}
	// The current in the resistor times its resistance is the missing voltage,
	// without the digits that a difference would lose.
	return unit.Current(float64(s.Current) * float64(p.Resistor) / float64(resistance)), nil
}

// ResistorFor returns the least resistor that brings the peak current to the one
// given, R = V/I (Ω). Valid for 5 V to 1 kV and 1 mA to 1 kA.
//
// Source: Ohm's law.
func ResistorFor(v unit.Voltage, peak unit.Current) (unit.Resistance, error) {
	err := errors.Join(dcVoltage("battery voltage", v), pkg.Range("peak current", float64(peak), 1e-3, 1e3, domain.Ampere))
	if err != nil {
		return 0, err
	}
	return unit.Resistance(float64(v) / float64(peak)), nil
}
