package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ResistanceAtCharge returns the resistance of a battery at a state of charge
// from that when full,
//
//	R = R1·(1 + (f - 1)·(1 - S)³)
//
// where R1 is the resistance when full (Ω), S the state of charge, 0 to 1, and
// f what it is when flat over that when full: 2 to 3 in common practice. It
// rises slowly to half charge, by 12 to 25 %, and fast from there. Both ends
// are common practice; the cubic between is a shape of this package.
//
// Valid for 1 µΩ to 10 Ω and f from 1 to 10; otherwise err wraps [ErrDomain].
//
// Common practice: resistance two to three times as high when flat.
func ResistanceAtCharge(full unit.Resistance, stateOfCharge, flat float64) (unit.Resistance, error) {
	err := errors.Join(
		checkResistance("resistance when full", full),
		checkFraction("state of charge", stateOfCharge, 0),
		checkFlatFactor(Range[float64]{Low: flat, High: flat}),
	)
	if err != nil {
		return 0, err
	}
	return full * unit.Resistance(flatRise(stateOfCharge, flat)), nil
}

func flatRise(soc, flat float64) float64 {
	d := 1 - soc
	return 1 + (flat-1)*d*d*d
}

func checkFlatFactor(f Range[float64]) error {
	return checkRange("resistance when flat over full", f, 1, 10, domain.One)
}

// A SagCondition says in what state a bank is whose voltage is asked for.
type SagCondition struct {
	// Temperature of the cells, 0 to 120 °F (-17.8 to 48.9 °C).
	Temperature unit.Temperature

	// Capacity of the bank from full to empty at the rate, temperature and age
	// of the discharge. Zero: the rated one, which is long at a high rate.
	Capacity unit.Charge

	// Circuit is the resistance between the bank and where the voltage is
	// measured: links, cable, fuses, up to 10 Ω. Zero: at the terminals.
	Circuit unit.Resistance

	// TemperatureRise is the resistance at Temperature over that at 25 °C, 0.3
	// to 10. Zero: [ColdResistance] for lead-acid, and 1 for lithium iron
	// phosphate from 15 to 45 °C, outside which there is no figure to take.
	TemperatureRise float64

	// AgeRise is the resistance over that when new, 1 to 10. Zero: 1.
	AgeRise float64

	// FlatRise is f of [ResistanceAtCharge]. Zero: 2 to 3.
	FlatRise Range[float64]
}

// bankSteps is how many steps the charts are read at.
const bankSteps = 100

// VoltageModels returns two models of the bank between which it is expected:
// weak has the lowest rest voltage of the charts and the highest resistance,
// strong the highest and the lowest. They are read from [Bank.OpenCircuit],
// [Bank.InternalResistance] and [ResistanceAtCharge] at every whole per cent,
// with straight lines between. The weak one is the one to plan with.
//
// A bank or c outside its bounds, and a temperature that no figure covers, is
// an [ErrDomain].
//
// Common practice: rest-voltage charts and typical resistances, as for the
// methods named.
func (b Bank) VoltageModels(c SagCondition) (weak, strong VoltageModel, err error) {
	r, _, err := b.InternalResistance(0)
	rise, err2 := c.rise(b.Block.Chemistry)
	flat := c.FlatRise
	if flat == (Range[float64]{}) {
		flat = Range[float64]{Low: 2, High: 3}
	}
	err = errors.Join(err, err2, checkFlatFactor(flat),
		pkg.Range("resistance of the circuit", float64(c.Circuit), 0, float64(mostResistance), domain.Ohm))
	if err != nil {
		return VoltageModel{}, VoltageModel{}, err
	}
	capacity := c.Capacity
	if capacity == 0 {
		capacity = b.Rating().Capacity
	}
	var low, high [bankSteps + 1]VoltagePoint
	for i := range low {
		s := float64(i) / bankSteps
		v, err := b.OpenCircuit(s, c.Temperature)
		if err != nil {
			return VoltageModel{}, VoltageModel{}, err
		}
		low[i] = VoltagePoint{s, v.Low, r.High*unit.Resistance(rise*flatRise(s, flat.High)) + c.Circuit}
		high[i] = VoltagePoint{s, v.High, r.Low*unit.Resistance(rise*flatRise(s, flat.Low)) + c.Circuit}
	}
	weak, err = NewVoltageModel(low[:], capacity)
	strong, err2 = NewVoltageModel(high[:], capacity)
	if err := errors.Join(err, err2); err != nil {
		return VoltageModel{}, VoltageModel{}, err
	}
	return weak, strong, nil
}

// rise returns what temperature and age make of the resistance.
func (c SagCondition) rise(chemistry Chemistry) (float64, error) {
	age := c.AgeRise
	if age == 0 {
		age = 1
	}
	err := pkg.Range("resistance by age", age, 1, 10, domain.One)
	switch {
	case c.TemperatureRise != 0:
		return age * c.TemperatureRise, errors.Join(err, pkg.Range("resistance by temperature", c.TemperatureRise, 0.3, 10, domain.One))
	case chemistry.LeadAcid():
		cold := math.Exp2((25 - InCelsius(c.Temperature)) / 35) // as ColdResistance
		return age * cold, errors.Join(err, checkTemperature("battery temperature", c.Temperature))
	}
	return age, errors.Join(err, pkg.Range("battery temperature without a figure for the resistance",
		float64(c.Temperature), float64(Celsius(15)), float64(Celsius(45)), domain.Celsius))
}
