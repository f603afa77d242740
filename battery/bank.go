package battery

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Block is one battery as it is bought: a 6 V or 12 V case. The zero value
// is invalid.
type Block struct {
	Chemistry Chemistry
	Voltage   unit.Voltage // nominal; see [Chemistry.Cells]
	Rating    Rating
	Exponent  float64     // Peukert's k, 1 to 1.6
	Most      unit.Charge // as in [Peukert]; zero: the rated capacity

	// Resistance is the internal resistance of a full block near 25 °C, 1 µΩ
	// to 10 Ω. Zero: [TypicalResistance] of its cells.
	Resistance Range[unit.Resistance]
}

func (b Block) validate() error {
	_, err := b.Chemistry.Cells(b.Voltage)
	err = errors.Join(err, b.Peukert().validate())
	if b.Resistance != (Range[unit.Resistance]{}) {
		err = errors.Join(err, checkRange("resistance of a block", b.Resistance,
			float64(leastResistance), float64(mostResistance), domain.Ohm))
	}
	return err
}

// Peukert returns the block's rate law, for the current of one block.
//
// Definition: the fields of b.
func (b Block) Peukert() Peukert {
	return Peukert{Rating: b.Rating, Exponent: b.Exponent, Most: b.Most}
}

// InternalResistance returns b.Resistance, or where that is zero
//
//	R = n·Rc
//
// where n is the number of cells and Rc is from [TypicalResistance]. Typical
// reports which. A block outside its bounds is an [ErrDomain].
//
// Definition: cells in series.
func (b Block) InternalResistance() (r Range[unit.Resistance], typical bool, err error) {
	if err := b.validate(); err != nil {
		return r, false, err
	}
	if b.Resistance != r {
		return b.Resistance, false, nil
	}
	cells, err := b.Chemistry.Cells(b.Voltage)
	if err != nil {
		return r, false, err
	}
	r, err = TypicalResistance(b.Chemistry, b.Rating.Capacity)
	if err != nil {
		return r, false, err
	}
	n := unit.Resistance(cells)
	return Range[unit.Resistance]{Low: n * r.Low, High: n * r.High}, true, nil
}

// OpenCircuit returns the rest voltage of the block at a state of charge of 0
// to 1. Bounds as for the function [OpenCircuit].
//
// Common practice: as for the function.
func (b Block) OpenCircuit(stateOfCharge float64, t unit.Temperature) (Range[unit.Voltage], error) {
	return Bank{Block: b, Series: 1, Parallel: 1}.OpenCircuit(stateOfCharge, t)
}

// StateOfCharge returns the band of the state of charge from the block's rest
// voltage. Bounds and [FlatError] as for the function [StateOfCharge].
//
// Common practice: as for the function.
func (b Block) StateOfCharge(v unit.Voltage, t unit.Temperature) (Range[float64], error) {
	return Bank{Block: b, Series: 1, Parallel: 1}.StateOfCharge(v, t)
}

// A Bank is equal blocks: Parallel strings of Series blocks each. Strings are
// taken to share the current equally, which needs equal blocks of one age and
// equal cable lengths. The zero value is invalid.
type Bank struct {
	Block    Block
	Series   int // blocks in each string, 1 to 500
	Parallel int // strings, 1 to 100
}

// Validate returns everything that is wrong with the bank, as an [ErrDomain],
// or nil. The nominal voltage must not exceed 1500 V.
//
// Definition: the bounds of [Bank] and [Block].
func (b Bank) Validate() error {
	err := errors.Join(b.Block.validate(), checkCount("blocks in series", b.Series, 500),
		checkCount("parallel strings", b.Parallel, 100))
	if err != nil {
		return err
	}
	return errors.Join(
		pkg.Range("bank voltage", float64(b.Voltage()), 0, 1500, domain.Volt),
		checkCapacity("bank capacity", b.Rating().Capacity),
	)
}

func checkCount(name string, n, most int) error {
	if n >= 1 && n <= most {
		return nil
	}
	return pkg.Invalid(name, strconv.Itoa(n), "1 to "+strconv.Itoa(most))
}

// Voltage returns the nominal voltage,
//
//	V = s·Vb
//
// where s is b.Series and Vb the voltage of a block (V).
//
// Definition: blocks in series.
func (b Bank) Voltage() unit.Voltage { return unit.Voltage(b.Series) * b.Block.Voltage }

// Rating returns the rating of the bank,
//
//	C = p·Cb
//
// where p is b.Parallel and Cb the capacity of a block (Ah), at the block's
// hour rate.
//
// Definition: strings in parallel.
func (b Bank) Rating() Rating {
	r := b.Block.Rating
	r.Capacity *= unit.Charge(b.Parallel)
	return r
}

// Energy returns the rated energy,
//
//	E = C·V
//
// where C is the rated capacity of the bank (Ah) and V its nominal voltage (V).
//
// Definition: rated energy. What may be drawn is less: [Condition.Usable].
func (b Bank) Energy() unit.Energy {
	return unit.Energy(float64(b.Rating().Capacity) * float64(b.Voltage()))
}

// StringCurrent returns the current of one string,
//
//	Is = I/p
//
// where I is the bank's current (A) and p is b.Parallel. It is this current
// that goes with the capacity of one block in Peukert's law. A bank outside
// its bounds, or a current outside 1 mA to 100 kA, is an [ErrDomain].
//
// Definition: equal sharing.
func (b Bank) StringCurrent(i unit.Current) (unit.Current, error) {
	if err := errors.Join(b.Validate(), checkCurrent("current", i)); err != nil {
		return 0, err
	}
	return i / unit.Current(b.Parallel), nil
}

// Peukert returns the rate law of the whole bank, for the bank's current: its
// capacity is that of all strings together. That is the same as the law of one
// block at [Bank.StringCurrent]; the bank's current on one block's capacity is
// the mistake that this method is there to avoid. A second string more than
// doubles the time, as each string is drained more slowly.
//
// Source: Peukert's law, with C and I both scaled by the number of strings.
func (b Bank) Peukert() Peukert {
	p := b.Block.Peukert()
	p.Rating = b.Rating()
	p.Most *= unit.Charge(b.Parallel)
	return p
}

// InternalResistance returns the resistance between the bank's terminals,
//
//	R = Rb·s/p + Rl·(s-1)/p
//
// where Rb is that of a block (Ω), s is b.Series, p is b.Parallel and Rl is
// that of one link between neighbours in a string (Ω, zero: left out). Typical
// reports that Rb is not from the caller but from [TypicalResistance]. A bank
// outside its bounds, or a link above 10 Ω, is an [ErrDomain].
//
// Definition: resistances in series and parallel.
func (b Bank) InternalResistance(link unit.Resistance) (r Range[unit.Resistance], typical bool, err error) {
	err = errors.Join(b.Validate(), pkg.Range("resistance of a link", float64(link), 0, float64(mostResistance), domain.Ohm))
	if err != nil {
		return r, false, err
	}
	r, typical, err = b.Block.InternalResistance()
	if err != nil {
		return r, false, err
	}
	s, p := unit.Resistance(b.Series), unit.Resistance(b.Parallel)
	links := link * (s - 1) / p
	return Range[unit.Resistance]{Low: r.Low*s/p + links, High: r.High*s/p + links}, typical, nil
}

// cells returns the number of cells in one string.
func (b Bank) cells() (int, error) {
	if err := b.Validate(); err != nil {
		return 0, err
	}
	n, err := b.Block.Chemistry.Cells(b.Block.Voltage)
	return n * b.Series, err
}

// OpenCircuit returns the rest voltage of the bank at a state of charge of 0
// to 1: that of a cell times the cells of a string. Bounds as for the function
// [OpenCircuit].
//
// Common practice: as for the function.
func (b Bank) OpenCircuit(stateOfCharge float64, t unit.Temperature) (Range[unit.Voltage], error) {
	n, err := b.cells()
	if err != nil {
		return Range[unit.Voltage]{}, err
	}
	v, err := OpenCircuit(b.Block.Chemistry, stateOfCharge, t)
	if err != nil {
		return Range[unit.Voltage]{}, err
	}
	return Range[unit.Voltage]{Low: unit.Voltage(n) * v.Low, High: unit.Voltage(n) * v.High}, nil
}

// StateOfCharge returns the band of the state of charge from the bank's rest
// voltage, taken to be shared equally by its cells. Bounds and [FlatError] as
// for the function [StateOfCharge].
//
// Common practice: as for the function.
func (b Bank) StateOfCharge(v unit.Voltage, t unit.Temperature) (Range[float64], error) {
	n, err := b.cells()
	if err != nil {
		return Range[float64]{}, err
	}
	return StateOfCharge(b.Block.Chemistry, v/unit.Voltage(n), t)
}

// FaultCurrent returns the current of a bolted fault, lowest to highest,
//
//	I = V/(R + Rc)
//
// where V is from the rest voltage at the nearly flat end (20 %) to the highest
// when full (V), R is from [Bank.InternalResistance] without links, three
// times as much for old and cold at the low end (Ω), and Rc is what links and
// cable add (Ω, zero: at the terminals). Errors as for the methods named.
//
// Source: [FaultCurrent]. Common practice: the threefold resistance.
func (b Bank) FaultCurrent(circuit unit.Resistance) (Range[unit.Current], error) {
	err := pkg.Range("resistance of the circuit", float64(circuit), 0, float64(mostResistance), domain.Ohm)
	r, _, err2 := b.InternalResistance(0)
	if err := errors.Join(err, err2); err != nil {
		return Range[unit.Current]{}, err
	}
	full, err := b.OpenCircuit(1, Celsius(25))
	flat, err2 := b.OpenCircuit(0.2, Celsius(25))
	if err := errors.Join(err, err2); err != nil {
		return Range[unit.Current]{}, err
	}
	return FaultCurrent(
		Range[unit.Voltage]{Low: flat.Low, High: full.High},
		Range[unit.Resistance]{Low: r.Low + circuit, High: 3*r.High + circuit},
	)
}
