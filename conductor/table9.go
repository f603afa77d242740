package conductor

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"
)

// A Conduit is what three single conductors lie in. The zero value is none, and
// every function refuses it.
type Conduit uint8

// The conduits of the code's table.
const (
	// PVCConduit is any that is not of metal.
	PVCConduit Conduit = iota + 1
	// AluminiumConduit carries eddy currents and no magnetism.
	AluminiumConduit
	// SteelConduit is magnetic: a quarter more reactance.
	SteelConduit
)

// String returns "PVC conduit", "aluminium conduit", "steel conduit" or, for
// the zero value, "no conduit".
//
// Definition: the words of this package.
func (c Conduit) String() string {
	switch c {
	case PVCConduit:
		return "PVC conduit"
	case AluminiumConduit:
		return "aluminium conduit"
	case SteelConduit:
		return "steel conduit"
	default:
		return "no conduit"
	}
}

func (c Conduit) ok() bool { return c >= PVCConduit && c <= SteelConduit }

// A Table9Entry is one conductor of the code's table of impedances: three
// single conductors of 600 V in a conduit, 60 Hz, 75 °C, each figure to
// neutral.
type Table9Entry struct {
	Size    Size    // AWG or kcmil
	Metal   Metal   // uncoated copper or aluminium
	Conduit Conduit // PVC, aluminium or steel

	Resistance ResistancePerLength // to alternating current
	Reactance  ResistancePerLength // the same for both metals
	// Impedance is the printed effective impedance at power factor 0.85,
	// R·0.85 + X·0.527. It is not the modulus of R + jX.
	Impedance ResistancePerLength
}

// table9Row holds a row in the units of print (Ω/kft); the triples are for
// conduits of PVC, aluminium and steel, and 0 stands where the print is empty.
type table9Row struct {
	size                    Size
	reactance, inSteel      float64
	copper, aluminium       [3]float64
	copper085, aluminium085 [3]float64
}

// Source: NEC chapter 9, table 9.
var table9 = [...]table9Row{
	{Size{gauge, 14}, 0.058, 0.073, [3]float64{3.1, 3.1, 3.1}, [3]float64{0, 0, 0}, [3]float64{2.7, 2.7, 2.7}, [3]float64{0, 0, 0}},
	{Size{gauge, 12}, 0.054, 0.068, [3]float64{2.0, 2.0, 2.0}, [3]float64{3.2, 3.2, 3.2}, [3]float64{1.7, 1.7, 1.7}, [3]float64{2.8, 2.8, 2.8}},
	{Size{gauge, 10}, 0.050, 0.063, [3]float64{1.2, 1.2, 1.2}, [3]float64{2.0, 2.0, 2.0}, [3]float64{1.1, 1.1, 1.1}, [3]float64{1.8, 1.8, 1.8}},
	{Size{gauge, 8}, 0.052, 0.065, [3]float64{0.78, 0.78, 0.78}, [3]float64{1.3, 1.3, 1.3}, [3]float64{0.69, 0.69, 0.70}, [3]float64{1.1, 1.1, 1.1}},
	{Size{gauge, 6}, 0.051, 0.064, [3]float64{0.49, 0.49, 0.49}, [3]float64{0.81, 0.81, 0.81}, [3]float64{0.44, 0.45, 0.45}, [3]float64{0.71, 0.72, 0.72}},
	{Size{gauge, 4}, 0.048, 0.060, [3]float64{0.31, 0.31, 0.31}, [3]float64{0.51, 0.51, 0.51}, [3]float64{0.29, 0.29, 0.30}, [3]float64{0.46, 0.46, 0.46}},
	{Size{gauge, 3}, 0.047, 0.059, [3]float64{0.25, 0.25, 0.25}, [3]float64{0.40, 0.41, 0.40}, [3]float64{0.23, 0.24, 0.24}, [3]float64{0.37, 0.37, 0.37}},
	{Size{gauge, 2}, 0.045, 0.057, [3]float64{0.19, 0.20, 0.20}, [3]float64{0.32, 0.32, 0.32}, [3]float64{0.19, 0.19, 0.20}, [3]float64{0.30, 0.30, 0.30}},
	{Size{gauge, 1}, 0.046, 0.057, [3]float64{0.15, 0.16, 0.16}, [3]float64{0.25, 0.26, 0.25}, [3]float64{0.16, 0.16, 0.16}, [3]float64{0.24, 0.24, 0.25}},
	{Size{gauge, 0}, 0.044, 0.055, [3]float64{0.12, 0.13, 0.12}, [3]float64{0.20, 0.21, 0.20}, [3]float64{0.13, 0.13, 0.13}, [3]float64{0.19, 0.20, 0.20}},
	{Size{gauge, -1}, 0.043, 0.054, [3]float64{0.10, 0.10, 0.10}, [3]float64{0.16, 0.16, 0.16}, [3]float64{0.11, 0.11, 0.11}, [3]float64{0.16, 0.16, 0.16}},
	{Size{gauge, -2}, 0.042, 0.052, [3]float64{0.077, 0.082, 0.079}, [3]float64{0.13, 0.13, 0.13}, [3]float64{0.088, 0.092, 0.094}, [3]float64{0.13, 0.13, 0.14}},
	{Size{gauge, -3}, 0.041, 0.051, [3]float64{0.062, 0.067, 0.063}, [3]float64{0.10, 0.11, 0.10}, [3]float64{0.074, 0.078, 0.080}, [3]float64{0.11, 0.11, 0.11}},
	{Size{kcmil, 250}, 0.041, 0.052, [3]float64{0.052, 0.057, 0.054}, [3]float64{0.085, 0.090, 0.086}, [3]float64{0.066, 0.070, 0.073}, [3]float64{0.094, 0.098, 0.10}},
	{Size{kcmil, 300}, 0.041, 0.051, [3]float64{0.044, 0.049, 0.045}, [3]float64{0.071, 0.076, 0.072}, [3]float64{0.059, 0.063, 0.065}, [3]float64{0.082, 0.086, 0.088}},
	{Size{kcmil, 350}, 0.040, 0.050, [3]float64{0.038, 0.043, 0.039}, [3]float64{0.061, 0.066, 0.063}, [3]float64{0.053, 0.058, 0.060}, [3]float64{0.073, 0.077, 0.080}},
	{Size{kcmil, 400}, 0.040, 0.049, [3]float64{0.033, 0.038, 0.035}, [3]float64{0.054, 0.059, 0.055}, [3]float64{0.049, 0.053, 0.056}, [3]float64{0.066, 0.071, 0.073}},
	{Size{kcmil, 500}, 0.039, 0.048, [3]float64{0.027, 0.032, 0.029}, [3]float64{0.043, 0.048, 0.045}, [3]float64{0.043, 0.048, 0.050}, [3]float64{0.057, 0.061, 0.064}},
	{Size{kcmil, 600}, 0.039, 0.048, [3]float64{0.023, 0.028, 0.025}, [3]float64{0.036, 0.041, 0.038}, [3]float64{0.040, 0.044, 0.047}, [3]float64{0.051, 0.055, 0.058}},
	{Size{kcmil, 750}, 0.038, 0.048, [3]float64{0.019, 0.024, 0.021}, [3]float64{0.029, 0.034, 0.031}, [3]float64{0.036, 0.040, 0.043}, [3]float64{0.045, 0.049, 0.052}},
	{Size{kcmil, 1000}, 0.037, 0.046, [3]float64{0.015, 0.019, 0.018}, [3]float64{0.023, 0.027, 0.025}, [3]float64{0.032, 0.036, 0.040}, [3]float64{0.039, 0.042, 0.046}},
}

// Table9 returns the figures of one conductor. Sizes between the rows are not
// interpolated.
//
// The print has two significant figures, up to 5 % of rounding: below 1/0 AWG
// the dc resistance of [Table8] or [Wire.Resistance] with a reactance from here
// is finer, as skin effect is below 0.1 % there. From 250 kcmil up, and in steel
// conduit, this table holds what a lone conductor's [SkinEffect] leaves out:
// neighbours and conduit.
//
// Valid for 14 AWG to 1000 kcmil in the sizes that the table has, 12 AWG and up
// in aluminium; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) chapter 9, table 9, unchanged since the 1990s.
func Table9(s Size, m Metal, c Conduit) (Table9Entry, error) {
	if !c.ok() || m != Copper && m != Aluminium {
		return Table9Entry{}, errors.Join(m.check(), c.check())
	}
	for i := range table9 {
		if r := &table9[i]; r.size == s {
			if e := r.entry(m, c); e.Resistance > 0 {
				return e, nil
			}
		}
	}
	return Table9Entry{}, pkg.Invalid("size", s.String()+" "+m.String(),
		"a row of NEC chapter 9 table 9: 14 AWG to 1000 kcmil, aluminium from 12 AWG")
}

// Table9Entries returns the whole table, smallest size first: per size copper
// and then aluminium in conduits of PVC, aluminium and steel. 14 AWG is of
// copper only.
//
// Source: NEC (2023) chapter 9, table 9.
func Table9Entries() []Table9Entry {
	entries := make([]Table9Entry, 0, 6*len(table9))
	for i := range table9 {
		for _, m := range [...]Metal{Copper, Aluminium} {
			for c := PVCConduit; c <= SteelConduit; c++ {
				if e := table9[i].entry(m, c); e.Resistance > 0 {
					entries = append(entries, e)
				}
			}
		}
	}
	return entries
}

func (r *table9Row) entry(m Metal, c Conduit) Table9Entry {
	x, k := r.reactance, c-PVCConduit
	if c == SteelConduit {
		x = r.inSteel
	}
	ohm, z := r.copper[k], r.copper085[k]
	if m == Aluminium {
		ohm, z = r.aluminium[k], r.aluminium085[k]
	}
	return Table9Entry{
		Size: r.size, Metal: m, Conduit: c,
		Resistance: ResistancePerLength(ohm) * OhmPerKilofoot,
		Reactance:  ResistancePerLength(x) * OhmPerKilofoot,
		Impedance:  ResistancePerLength(z) * OhmPerKilofoot,
	}
}

// Over returns the impedance of a length of the entry as a line,
//
//	Z = m·(R + jX)·L
//
// with R and X in Ω/m to neutral, L (m) one way, and m of [Circuit.Factor], so
// that drops follow as for a [Run].
//
// Valid for 1 cm to 20 km and figures as in the table; otherwise err wraps
// [ErrDomain].
//
// Source: NEC chapter 9, table 9, note 2.
func (e Table9Entry) Over(c Circuit, oneWay unit.Length) (Impedance, error) {
	m, err := c.Factor()
	l := float64(oneWay)
	if !(err == nil && l >= minLength && l <= maxLength && perLengthOK(e.Resistance) &&
		e.Reactance >= 0 && e.Reactance <= maxReactance) {
		return Impedance{}, errors.Join(err, checkOneWay(l), checkPerLength(e.Resistance),
			pkg.Range("reactance", float64(e.Reactance), 0, maxReactance, perKilometre))
	}
	k := unit.Resistance(m)
	return Impedance{k * e.Resistance.Over(oneWay), k * e.Reactance.Over(oneWay)}, nil
}

func (c Conduit) check() error {
	if c.ok() {
		return nil
	}
	return pkg.Invalid("conduit", strconv.Itoa(int(c)), "PVC, aluminium or steel")
}
