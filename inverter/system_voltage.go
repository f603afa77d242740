package inverter

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A VoltageChoice is one system voltage and what it means for a load.
type VoltageChoice struct {
	Nominal unit.Voltage // 12, 24 or 48 V
	Current unit.Current // dc, continuous, at the lowest voltage at which the inverter runs
	Rating  unit.Current // 1.25 times that, for conductors and devices
	Usual   bool         // practice builds systems of this power at this voltage
	// Power is up to which ac power practice uses the voltage; the ends are those
	// of different rules. Both are 0 for 48 V, which has no end here.
	Power Range[unit.Power]
}

// usualPower is up to where practice goes, rule by rule.
var usualPower = [...]VoltageChoice{
	{Nominal: 12, Power: Range[unit.Power]{Low: 1.2 * Kilowatt, High: 1.5 * Kilowatt}},
	{Nominal: 24, Power: Range[unit.Power]{Low: 2.4 * Kilowatt, High: 5 * Kilowatt}},
	{Nominal: 48},
}

// VoltageChoices returns 12, 24 and 48 V with the continuous dc current of an ac
// power (W) at each, at a lowest voltage of 7/8 of the nominal one (10.5 V of
// 12 V), for a flat efficiency. Each doubling halves the current, and fixed
// resistances of cable and contacts weigh a quarter; two equal batteries give the
// same power in series as in parallel. Valid for 1 W to 1 MW and η from 0.5 to 1;
// otherwise err wraps [ErrDomain].
//
// Common practice: 12 V to 1.2 or 1.5 kW, 24 V to 2.4 to 5 kW by the rule asked,
// 48 V above. Usual is up to the High end.
func VoltageChoices(ac unit.Power, efficiency float64) ([3]VoltageChoice, error) {
	if err := pkg.Range("ac power", float64(ac), 1, mostPower, domain.Watt); err != nil {
		return [3]VoltageChoice{}, err
	}
	all := usualPower
	var failed []error
	for k := range all {
		c := &all[k]
		var errCurrent error
		c.Current, errCurrent = InputCurrent(ac, c.Nominal*7/8, efficiency)
		c.Rating = continuous * c.Current // that of a megawatt at 12 V is beyond LeastRating
		failed = append(failed, errCurrent)
		c.Usual = c.Power.High == 0 || ac <= c.Power.High
	}
	if err := errors.Join(failed...); err != nil {
		return [3]VoltageChoice{}, err
	}
	return all, nil
}
