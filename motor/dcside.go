package motor

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A DCSide is a pair of readings on the two sides of an inverter that runs
// one motor: volt-amperes at the plug and amperes at the battery. Together
// they tell what neither tells alone, the motor's real power and power factor.
type DCSide struct {
	// Apparent is what goes in at the motor's plug (1 VA to 500 kVA).
	Apparent ApparentPower
	// PlugVoltage is the voltage there, one phase. Zero: not read; the result
	// has no current then.
	PlugVoltage unit.Voltage
	// BatteryVoltage is the voltage at the battery or the inverter's dc
	// terminals while the current flows (6 to 1000 V): the nominal one is up
	// to 10 % off.
	BatteryVoltage unit.Voltage
	// BatteryCurrent is the dc current of the inverter alone (0.1 A to 5 kA).
	BatteryCurrent unit.Current
	// Efficiency is that of the inverter at this load, ac watts over dc watts,
	// idle draw included (0.3 to 0.99).
	Efficiency Range[float64]
	// EfficiencyBasis says where Efficiency comes from. Zero: [BasisTypical].
	EfficiencyBasis Basis
}

// Running returns the motor's real power and power factor,
//
//	P = U·I_dc·η    cos φ = P/S
//
// with U the battery voltage (V), I_dc the battery current (A), η the
// inverter's efficiency and S the apparent power at the plug (VA). Where η
// would make P exceed S, P ends at S.
//
// If even the least η gives more watts than the plug takes volt-amperes, the
// readings are a [ContradictionError]: another load hangs on the inverter, or
// a meter misreads the wave. Outside the fields' ranges err wraps [ErrDomain].
// An S read on a wave that is no sine holds harmonics, which lower cos φ.
//
// Source: conservation of energy; definition of power factor, IEC
// 60050-131-11-46.
func (d DCSide) Running() (Running, error) {
	var plug error
	if d.PlugVoltage != 0 {
		plug = checkVoltage(d.PlugVoltage)
	}
	err := errors.Join(
		pkg.Range("apparent power at the plug", float64(d.Apparent), 1, 500e3, domain.VoltAmpere), plug,
		pkg.Range("battery voltage", float64(d.BatteryVoltage), 6, 1000, domain.Volt),
		pkg.Range("battery current", float64(d.BatteryCurrent), 0.1, 5000, domain.Ampere),
		checkRange("inverter efficiency", d.Efficiency, 0.3, 0.99, domain.One),
	)
	if err != nil {
		return Running{}, err
	}
	s, dc := float64(d.Apparent), float64(d.BatteryVoltage)*float64(d.BatteryCurrent)
	lo, hi := dc*d.Efficiency.Low, min(dc*d.Efficiency.High, s)
	if lo > s {
		return Running{}, contradiction("%.4g leave the inverter, more than the %.4g at the plug", unit.Power(lo), d.Apparent)
	}
	basis := d.EfficiencyBasis
	if basis == 0 {
		basis = BasisTypical
	}
	r := Running{
		Voltage: d.PlugVoltage, Phases: 1,
		Apparent:    Exactly(d.Apparent),
		Real:        Range[unit.Power]{Low: unit.Power(lo), High: unit.Power(hi)},
		PowerFactor: Range[float64]{Low: lo / s, High: hi / s}, CurrentBasis: BasisMeasured, Basis: basis,
	}
	if d.PlugVoltage != 0 {
		r.Current = Exactly(unit.Current(s / float64(d.PlugVoltage)))
	}
	return r, nil
}
