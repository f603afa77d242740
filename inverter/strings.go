package inverter

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Parallel returns the source that strings of batteries on common terminals make
// together,
//
//	V_oc = Σ(V_k/R_k) / Σ(1/R_k),  1/R = Σ(1/R_k)
//
// R_k being the whole resistance of a string up to the common point (Ω). All of
// R stands in Battery of the result, and the cable from the common point to the
// inverter is to be added. Valid for 1 to 16 strings that are valid sources and
// together have 10 µΩ to 1 Ω; otherwise err wraps [ErrDomain].
//
// Source: Millman's theorem.
func Parallel(strings ...Source) (Source, error) {
	if err := checkStrings(strings); err != nil {
		return Source{}, err
	}
	g, i := 0.0, 0.0
	low, high := strings[0].OpenCircuit, strings[0].OpenCircuit
	for _, s := range strings {
		g += 1 / float64(s.Resistance())
		i += float64(s.OpenCircuit) / float64(s.Resistance())
		low, high = min(low, s.OpenCircuit), max(high, s.OpenCircuit)
	}
	mean := unit.Voltage(i / g) // which rounding puts beside equal voltages
	return valid(Source{OpenCircuit: min(max(mean, low), high), Battery: unit.Resistance(1 / g)})
}

// valid is the source, or none with what is wrong with it.
func valid(s Source) (Source, error) {
	if err := s.Validate(); err != nil {
		return Source{}, err
	}
	return s, nil
}

// Series returns the source that batteries one after the other make, voltages
// and resistances added by place. Valid for 1 to 16 sources whose sums are a
// valid source; otherwise err wraps [ErrDomain].
//
// Source: voltages and resistances in series add.
func Series(batteries ...Source) (Source, error) {
	if err := checkStrings(batteries); err != nil {
		return Source{}, err
	}
	all := Source{}
	for _, s := range batteries {
		all.OpenCircuit += s.OpenCircuit
		all.Battery += s.Battery
		all.Cable += s.Cable
		all.Contacts += s.Contacts
	}
	return valid(all)
}

const mostStrings = 16

func checkStrings(strings []Source) error {
	var all []error
	if n := len(strings); n < 1 || n > mostStrings {
		all = append(all, pkg.Invalid("number of batteries", fmt.Sprint(n), fmt.Sprintf("1 to %d", mostStrings)))
	}
	for _, s := range strings {
		all = append(all, s.Validate())
	}
	return errors.Join(all...)
}

// Share returns the current of each string of [Parallel] while a total current
// flows to the inverter,
//
//	I_k = (V_k - V)/R_k,  V = V_oc - I·R
//
// negative in a string that the others charge. Strings of one voltage share as
// their conductances: that with the shortest cable works hardest and ages first,
// for which equal lengths are the remedy. Valid for -100 kA to 100 kA; otherwise
// as [Parallel].
//
// Source: Ohm's law in each string.
func Share(total unit.Current, strings ...Source) ([]unit.Current, error) {
	all, err := Parallel(strings...)
	err = errors.Join(err, pkg.Range("total current", float64(total), -100e3, 100e3, domain.Ampere))
	if err != nil {
		return nil, err
	}
	r := float64(all.Battery)
	shares := make([]unit.Current, len(strings))
	for k, s := range strings {
		// Not through V, of which little may be left of the difference.
		a := float64(total) * r / float64(s.Resistance())
		a += float64(s.OpenCircuit-all.OpenCircuit) / float64(s.Resistance())
		shares[k] = unit.Current(a)
	}
	return shares, nil
}

// StringFuse returns the least rating of a fuse in each string: 1.25 times the
// most that any string carries, out or in, of a continuous total current (A),
// with all strings in place and with any one of them gone, as after its fuse has
// blown.
// A single string carries all. The fuse must besides carry a start and interrupt
// what the other strings feed into a fault, Σ V_k/R_k without its own. Otherwise
// as [Share], for 0 to 100 kA.
//
// Source: the 125 % rule of [LeastRating]. Common practice: the loss of one
// string counted in.
func StringFuse(total unit.Current, strings ...Source) (unit.Current, error) {
	if err := pkg.Range("total current", float64(total), 0, 100e3, domain.Ampere); err != nil {
		return 0, err
	}
	most := unit.Current(0)
	for gone := -1; gone < len(strings); gone++ {
		left := make([]Source, 0, mostStrings)
		for k, s := range strings {
			if k != gone {
				left = append(left, s)
			}
		}
		if len(left) == 0 && gone >= 0 {
			break // the only one there is
		}
		shares, err := Share(total, left...)
		if err != nil {
			return 0, err
		}
		for _, i := range shares {
			most = max(most, i, -i)
		}
	}
	return LeastRating(most)
}
