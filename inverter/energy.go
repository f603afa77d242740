package inverter

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Run is a time for which the inverter carries one load.
type Run struct {
	Load unit.Power // ac, 0 to 1 MW
	For  unit.Time  // 0 to 400 days
}

// An Account is where the battery's energy went, each joule once.
type Account struct {
	Delivered unit.Energy // ac, to the loads
	Standing  unit.Energy // idle draw over all hours switched on, those under load included
	LoadLoss  unit.Energy // loss that comes with the load
	On        unit.Time   // hours switched on
}

// DC returns the energy taken from the battery, the sum of the three (J).
//
// Definition: energy balance.
func (a Account) DC() unit.Energy { return a.Delivered + a.Standing + a.LoadLoss }

// Efficiency returns Delivered/DC, the honest efficiency of the whole time; 0
// if nothing was taken.
//
// Definition: ac energy out over dc energy in.
func (a Account) Efficiency() float64 {
	if dc := a.DC(); dc > 0 {
		return float64(a.Delivered / dc)
	}
	return 0
}

// Use returns the account of runs one after the other and of the time spent
// switched on without load,
//
//	E_dc = Σ P_dc(P_i)·t_i + P_0·t_idle
//
// Time switched off is not part of it. A pump of 1 kW that runs 12 minutes a
// day on a 3 kW inverter with 30 W idle draw makes 22 % of a unit whose peak
// efficiency is 94 %. Loads that run together go into one run with the sum of
// their powers, or the idle draw counts twice. Valid for up to 400 days.
//
// Source: the model of [Loss] summed over time.
func (l Loss) Use(runs []Run, idle unit.Time) (Account, error) {
	if err := errors.Join(l.Validate(), span("idle time", idle)); err != nil {
		return Account{}, err
	}
	a := Account{On: idle}
	for _, r := range runs {
		if err := errors.Join(acPower(r.Load), span("run time", r.For)); err != nil {
			return Account{}, err
		}
		p, t := float64(r.Load), float64(r.For)
		a.On += r.For
		a.Delivered += unit.Energy(p * t)
		a.LoadLoss += unit.Energy(l.withLoad(p) * t)
	}
	if err := span("time switched on", a.On); err != nil {
		return Account{}, err
	}
	a.Standing = unit.Energy(float64(l.Idle) * float64(a.On))
	return a, nil
}

// Charge returns the charge that an energy takes from the battery, Q = E/V
// (C). V is the mean voltage of the discharge. IEEE 1013-2007 takes the
// running current at 95 % of the system voltage, which adds 5.3 %. Valid for 0
// to 1 GWh and 5 V to 1 kV.
//
// Definition: Q = E/V; IEEE 1013-2007, 5.2, for the voltage.
func Charge(dc unit.Energy, v unit.Voltage) (unit.Charge, error) {
	err := errors.Join(pkg.Range("dc energy", float64(dc), 0, 3.6e15, domain.WattHour), dcVoltage("dc voltage", v))
	if err != nil {
		return 0, err
	}
	return unit.Charge(float64(dc) / float64(v)), nil
}

// DCCharge converts ampere-hours counted on the ac side to ampere-hours at the
// battery,
//
//	Q_dc = Q_ac·V_ac/(V_dc·η)
//
// which at 120 V, 12 V and 0.85 is 11.8 times as many. Valid for 50 to 600 V
// ac and η from 0.5 to 1.
//
// Definition: energy balance at unity power factor.
func DCCharge(ac unit.Charge, vac, vdc unit.Voltage, efficiency float64) (unit.Charge, error) {
	err := errors.Join(
		pkg.Range("ac charge", float64(ac), 0, 3.6e9, domain.AmpereHour),
		pkg.Range("ac voltage", float64(vac), 50, 600, domain.Volt),
		dcVoltage("dc voltage", vdc),
		pkg.Range("efficiency", efficiency, 0.5, 1, domain.One),
	)
	if err != nil {
		return 0, err
	}
	return unit.Charge(float64(ac) * float64(vac) / (float64(vdc) * efficiency)), nil
}

// ReadingRatio returns ac volt-amperes over dc watts from four meter readings,
//
//	V_ac·I_ac / (V_dc·I_dc)
//
// It equals the efficiency at unity power factor and is above it at any other:
// efficiency is pf times this ratio. A ratio above 1 is therefore no mistake.
// Valid for 50 to 600 V and 10 mA to 10 kA ac, 5 V to 1 kV and 10 mA to 10 kA
// dc.
//
// Definition: apparent power out over real power in.
func ReadingRatio(vac unit.Voltage, iac unit.Current, vdc unit.Voltage, idc unit.Current) (float64, error) {
	err := errors.Join(
		pkg.Range("ac voltage", float64(vac), 50, 600, domain.Volt),
		pkg.Range("ac current", float64(iac), 0.01, 10e3, domain.Ampere),
		dcVoltage("dc voltage", vdc),
		pkg.Range("dc current", float64(idc), 0.01, 10e3, domain.Ampere),
	)
	if err != nil {
		return 0, err
	}
	return float64(vac) * float64(iac) / (float64(vdc) * float64(idc)), nil
}
