package battery

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ChargerInput returns the ac power that a charger draws,
//
//	P = V·I/η
//
// where V is the charging voltage (V), I the charging current (A) and η the
// charger's efficiency: 60 A at 28.8 V and 85 % take 2.03 kW. Apparent power
// is more, by the charger's power factor.
//
// Valid for 0.5 to 1500 V, 1 mA to 100 kA and η of 0.3 to 1; otherwise err
// wraps [ErrDomain].
//
// Definition: efficiency.
func ChargerInput(v unit.Voltage, i unit.Current, efficiency float64) (unit.Power, error) {
	if !(v >= 0.5 && v <= 1500 && i >= leastCurrent && i <= mostCurrent && efficiency >= leastEfficiency && efficiency <= 1) {
		return 0, errors.Join(
			pkg.Range("charging voltage", float64(v), 0.5, 1500, domain.Volt),
			checkCurrent("charging current", i),
			pkg.Range("charger efficiency", efficiency, leastEfficiency, 1, domain.One),
		)
	}
	return unit.Power(float64(v) * float64(i) / efficiency), nil
}

// RechargeEnergy returns the ac energy that puts a charge back,
//
//	E = Q·V/(ηc·η)
//
// where Q is the charge removed (Ah), V the mean charging voltage (V), ηc the
// coulombic efficiency of the battery and η that of the charger.
//
// Valid for 0.1 mAh to 100 kAh, 0.5 to 1500 V and efficiencies of 0.3 to 1;
// otherwise err wraps [ErrDomain].
//
// Definition: the two efficiencies in a row.
func RechargeEnergy(removed unit.Charge, v unit.Voltage, coulombic, charger float64) (unit.Energy, error) {
	err := errors.Join(
		pkg.Range("charge removed", float64(removed), float64(leastRemoved), float64(mostCapacity), domain.AmpereHour),
		pkg.Range("charging voltage", float64(v), 0.5, 1500, domain.Volt),
		pkg.Range("charge efficiency", coulombic, leastEfficiency, 1, domain.One),
		pkg.Range("charger efficiency", charger, leastEfficiency, 1, domain.One),
	)
	if err != nil {
		return 0, err
	}
	return unit.Energy(float64(removed) * float64(v) / (coulombic * charger)), nil
}

// CycleEfficiency returns the energy given back over the energy put in,
//
//	ηe = ηc·Vd/Vc
//
// where ηc is the coulombic efficiency, Vd the mean voltage of the discharge
// and Vc that of the charge (V): 85 % by charge at 12.2 and 13.8 V are 75 % by
// energy.
//
// Valid for ηc of 0.3 to 1 and 0.5 to 1500 V with Vd not above Vc; otherwise
// err wraps [ErrDomain].
//
// Definition: energy efficiency of a cycle.
func CycleEfficiency(coulombic float64, charge, discharge unit.Voltage) (float64, error) {
	err := errors.Join(
		pkg.Range("charge efficiency", coulombic, leastEfficiency, 1, domain.One),
		pkg.Range("charging voltage", float64(charge), 0.5, 1500, domain.Volt),
		pkg.Range("discharge voltage", float64(discharge), 0.5, float64(charge), domain.Volt),
	)
	if err != nil {
		return 0, err
	}
	return coulombic * float64(discharge) / float64(charge), nil
}
