package battery

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// leadChargeRates are the charging currents of the lead-acid types, in
// multiples of the 20 h capacity an hour.
var leadChargeRates = [...]Range[float64]{
	Flooded: {Low: 0.10, High: 0.20},
	AGM:     {Low: 0.20, High: 0.30},
	Gel:     {Low: 0.20, High: 0.20},
}

// A lithiumStep is the charging current allowed from one cell temperature (°C)
// up to the next step's.
type lithiumStep struct {
	from           float64
	standard, fast float64 // multiples of the capacity an hour
}

// lithiumSteps end at 60 °C. The sheet states no fast current from 50 °C up;
// there the standard one stands for both.
var lithiumSteps = [...]lithiumStep{
	{0, 0.1, 0}, {5, 0.1, 0.2}, {10, 0.2, 1}, {25, 0.5, 0.75}, {50, 0.1, 0.1},
}

// ChargeRateLimit returns the charging current that a battery takes, in
// multiples of its 20 h capacity an hour (0.2 is C/5: 20 A into 100 Ah). Low is
// the current that every sheet of the type allows, High the most that any
// does; between them the battery maker's sheet decides.
//
//   - flooded 0.10 to 0.20 (stationary types to 0.25), AGM 0.20 to 0.30 (some
//     sheets 0.4), gel 0.20, at all temperatures: but a flat one may be frozen,
//     see [FreezingPoint], and ice must thaw before it is charged;
//   - lithium iron phosphate by cell temperature, Low the standard and High the
//     fast current of one module: below 0 °C none at all; 0.1 from 0 °C, 0.1 to
//     0.2 from 5, 0.2 to 1 from 10, 0.5 to 0.75 from 25, 0.1 from 50 to 60 °C,
//     above that none. On a step the smaller of the two holds. From 0 to 5 °C
//     the fast current is none: High is then the standard one.
//
// Valid for -40 to 80 °C; otherwise, and for a chemistry that is none, err
// wraps [ErrDomain] and the limit is 0.
//
// Source: operation manual of one lithium iron phosphate module, table 4.3;
// the 0 °C limit in two more. Common practice: the lead-acid rates.
func ChargeRateLimit(c Chemistry, t unit.Temperature) (Range[float64], error) {
	err := errors.Join(c.validate(), pkg.Range("battery temperature", float64(t),
		float64(Celsius(-40)), float64(Celsius(80)), domain.Celsius))
	if err != nil {
		return Range[float64]{}, err
	}
	if c.LeadAcid() {
		return leadChargeRates[c], nil
	}
	celsius := InCelsius(t)
	if celsius < lithiumSteps[0].from || celsius > 60 {
		return Range[float64]{}, nil
	}
	i := 0
	for i+1 < len(lithiumSteps) && celsius >= lithiumSteps[i+1].from {
		i++
	}
	step := lithiumSteps[i]
	if i > 0 && celsius == step.from {
		step.standard = min(step.standard, lithiumSteps[i-1].standard)
		step.fast = min(step.fast, lithiumSteps[i-1].fast)
	}
	return Range[float64]{Low: step.standard, High: max(step.standard, step.fast)}, nil
}

// A ChargeVerdict says how a charger's current stands to a battery's limit.
// The zero value is no verdict.
type ChargeVerdict byte

// The verdicts.
const (
	ChargeWithin   ChargeVerdict = iota + 1 // every sheet of the type allows it
	ChargeAskMaker                          // some sheets of the type allow it: see the battery's own
	ChargeTooHigh                           // above what any sheet of the type allows
	ChargeNever                             // too cold or too hot to charge at all
)

var chargeVerdicts = [...]string{"no verdict", "within the limit", "only if the battery's maker allows it", "too high", "not at this temperature"}

// String returns the verdict in words.
//
// Definition: the words of the constants' comments, shortened.
func (v ChargeVerdict) String() string {
	if int(v) >= len(chargeVerdicts) {
		return chargeVerdicts[0]
	}
	return chargeVerdicts[v]
}

// A ChargeCheck is a charger's current beside the battery's limit.
type ChargeCheck struct {
	Verdict ChargeVerdict       // what the comparison says
	Limit   Range[unit.Current] // of the whole bank; zero: must not be charged
	Rate    float64             // the charger's current over the capacity, 1/h
}

// CheckCharger compares a charger's current with what the bank takes at its
// temperature,
//
//	I = r·C/(1 h)
//
// where r is from [ChargeRateLimit] and C the rated capacity of the bank (Ah).
// A charger current outside 1 mA to 100 kA, a bank outside its bounds and a
// temperature outside -40 to 80 °C are an [ErrDomain].
//
// Source: as for [ChargeRateLimit].
func (b Bank) CheckCharger(charger unit.Current, t unit.Temperature) (ChargeCheck, error) {
	r, err := ChargeRateLimit(b.Block.Chemistry, t)
	if err := errors.Join(b.Validate(), checkCurrent("charger current", charger), err); err != nil {
		return ChargeCheck{}, err
	}
	perHour := float64(b.Rating().Capacity / AmpereHour) // (A)
	k := ChargeCheck{
		Limit: Range[unit.Current]{Low: unit.Current(r.Low * perHour), High: unit.Current(r.High * perHour)},
		Rate:  float64(charger) / perHour,
	}
	const slack = 1 + 1e-12 // a charger of exactly the limit is within it
	switch {
	case r.High == 0:
		k.Verdict = ChargeNever
	case charger <= k.Limit.Low*slack:
		k.Verdict = ChargeWithin
	case charger <= k.Limit.High*slack:
		k.Verdict = ChargeAskMaker
	default:
		k.Verdict = ChargeTooHigh
	}
	return k, nil
}
