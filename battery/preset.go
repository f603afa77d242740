package battery

import (
	"errors"

	"gonum.org/v1/gonum/unit"
)

// A Preset gathers what this package takes as typical of one chemistry, at
// 25 °C where nothing else is said. It is where to look before a maker's sheet
// is at hand, and what a sheet should be compared with; [Preset.Origins] says
// where each figure is from and how far it can be trusted.
type Preset struct {
	Chemistry   Chemistry
	CellVoltage unit.Voltage // nominal, [Chemistry.CellVoltage]

	Exponent Range[float64] // Peukert's k, [TypicalExponent]

	// Resistance times capacity of a full cell (Ω·Ah), [TypicalResistance].
	Resistance Range[float64]

	Full, Half Range[unit.Voltage] // rest voltage of a cell, full and half full, [OpenCircuit]

	// FreezingCapacity is the capacity at 0 °C over that at 25 °C in a 20 h
	// discharge, [CapacityFactor]; zero: no figure for the type.
	FreezingCapacity float64

	SetPoints  SetPoints      // [Chemistry.SetPoints]
	ChargeRate Range[float64] // multiples of the capacity an hour, [ChargeRateLimit]
	// Efficiency is the share of the charge put in that comes back.
	Efficiency Range[float64]
	BulkEnds   float64          // state of charge at which the charger's current falls
	Tail       Range[unit.Time] // from there to full, [Recharge.Time]
	LeastTemp  unit.Temperature // below which it must not be charged; zero: no such limit

	// GasFloat and GasBoost are the gas-producing currents (A/Ah), i·fg·fs of
	// [GasFactors]; zero: no hydrogen.
	GasFloat, GasBoost float64

	// SelfDischarge is the share of the capacity lost in a [Month] at 20 °C,
	// [TypicalSelfDischarge]; zero: no figure for the type.
	SelfDischarge Range[float64]
}

// Preset returns the typical figures of a chemistry; one that is none is an
// [ErrDomain].
//
// Source: the functions that the fields name; the rest by [Preset.Origins].
func (c Chemistry) Preset() (Preset, error) {
	if err := c.validate(); err != nil {
		return Preset{}, err
	}
	habit := rechargeHabits[c]
	p := Preset{
		Chemistry: c, CellVoltage: c.CellVoltage(), Exponent: typicalExponents[c], Resistance: typicalResistances[c],
		SetPoints: setPoints[c], Efficiency: habit.efficiency, BulkEnds: habit.bulkEnds, Tail: habit.tail,
	}
	room := Celsius(25)
	var errs [5]error
	p.Full, errs[0] = OpenCircuit(c, 1, room)
	p.Half, errs[1] = OpenCircuit(c, 0.5, room)
	p.ChargeRate, errs[2] = ChargeRateLimit(c, room)
	if c.LeadAcid() {
		p.FreezingCapacity, errs[3] = CapacityFactor(c, Celsius(0), 20*Hour)
		low, high, err := TypicalSelfDischarge(c)
		p.SelfDischarge = Range[float64]{Low: low.Share, High: high.Share}
		errs[4] = err
		float, err := c.GasFactors(FloatCharge)
		boost, err2 := c.GasFactors(BoostCharge)
		p.GasFloat = float.Current * float.Emission * float.Safety
		p.GasBoost = boost.Current * boost.Emission * boost.Safety
		errs[0] = errors.Join(errs[0], err, err2)
	} else {
		p.LeastTemp = Celsius(lithiumSteps[0].from)
	}
	for _, err := range errs {
		if err != nil {
			return Preset{}, errors.Join(errs[:]...)
		}
	}
	return p, nil
}

// An Origin says where a figure of a [Preset] is from.
type Origin struct {
	Figure string // the field
	Source string // in words
	Status string // published, common practice or memory
}

// The words of Origin.Status.
const (
	published      = "published"
	commonPractice = "common practice"
	recalled       = "memory"
)

// Origins returns the origin of each figure of the preset.
//
// Definition: one entry for each field that holds a figure.
func (p Preset) Origins() []Origin {
	rate := Origin{"ChargeRate", "trade rules of C/10 to C/5 flooded, C/5 and more sealed", recalled}
	efficiency := Origin{"Efficiency", "trade figures for whole charges; above 0.95 at a low state of charge in measurements", commonPractice}
	tail := Origin{"Tail", "charger makers' absorption hours for the last fifth", commonPractice}
	ends := Origin{"BulkEnds", "charger makers' notes", published}
	self := Origin{"SelfDischarge", "as for TypicalSelfDischarge", published}
	gas := "IEC 62485-2:2010, Table 1"
	exponent := Origin{"Exponent", "makers' ratings and monitors' defaults", commonPractice}
	setPoint := Origin{"SetPoints", "IEC 62485-2 and makers' sheets; coefficients by trade rule", commonPractice}
	if !p.Chemistry.LeadAcid() {
		rate = Origin{"ChargeRate", "operation manual of one module, table 4.3", published}
		efficiency = Origin{"Efficiency", "figure of the trade", recalled}
		tail = Origin{"Tail", "assumed: none with a charge that stops at the voltage, an hour with one that tapers", commonPractice}
		self = Origin{"SelfDischarge", "none: the maker must say", recalled}
		gas = "no water to split"
		exponent.Status = recalled
	}
	return []Origin{
		{"CellVoltage", "naming of the trade", commonPractice},
		exponent,
		{"Resistance", "sheets of seven batteries", commonPractice},
		{"Full", "charts of testdata/battery", commonPractice},
		{"Half", "charts of testdata/battery", commonPractice},
		{"FreezingCapacity", "as for CapacityFactor", commonPractice},
		setPoint, rate, efficiency, ends, tail,
		{"LeastTemp", "charging below 0 °C plates lithium: cell sheet, module manual and two chargers' notes", published},
		{"GasFloat", gas, recalled},
		{"GasBoost", gas, recalled},
		self,
	}
}
