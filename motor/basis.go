package motor

import (
	"slices"
	"strconv"
	"strings"
)

// A Basis says where a figure comes from. The constants stand in order, best
// first, so that the greater of two is the worse. The zero value is no basis.
type Basis byte

// The bases, best first.
const (
	BasisMeasured    Basis = iota + 1 // read on a meter at this motor
	BasisNameplate                    // printed on its plate
	BasisCodeLetter                   // from the letter on its plate, a range of kVA per horsepower
	BasisCodeTable                    // from a table of the code, for any motor of that size
	BasisRuleOfThumb                  // a multiplier or another shortcut of the trade
	BasisTypical                      // the span of published examples of such motors
)

// basisNames are the texts, in the order of the constants.
var basisNames = [...]string{
	"unknown", "measured", "nameplate", "code letter", "code table", "rule of thumb", "typical",
}

// String returns the words that [ParseBasis] reads; "unknown" for the zero
// value and for any other that is no basis.
//
// Definition: measured, nameplate, code letter, code table, rule of thumb, typical.
func (b Basis) String() string {
	if int(b) < len(basisNames) {
		return basisNames[b]
	}
	return basisNames[0]
}

// ParseBasis reads what [Basis.String] writes, in any case; "table" stands
// for "code table". Anything else is an error that wraps [ErrDomain].
//
// Definition: measured, nameplate, code letter, code table, rule of thumb, typical.
func ParseBasis(s string) (Basis, error) {
	name := strings.ToLower(strings.TrimSpace(s))
	if name == "table" {
		return BasisCodeTable, nil
	}
	if i := slices.Index(basisNames[:], name); i > 0 {
		return Basis(i), nil
	}
	return 0, pkg.Invalid("basis", strconv.Quote(s), "one of "+strings.Join(basisNames[1:], ", "))
}

// MarshalText writes the basis as [Basis.String] does; the zero value as
// nothing. A value that is no basis is an error.
//
// Definition: the text of [Basis.String].
func (b Basis) MarshalText() ([]byte, error) {
	if b == 0 {
		return []byte{}, nil
	}
	if int(b) >= len(basisNames) {
		return nil, pkg.Invalid("basis", strconv.Itoa(int(b)), "a basis")
	}
	return []byte(b.String()), nil
}

// UnmarshalText reads what [Basis.MarshalText] writes.
//
// Definition: the inverse of [Basis.MarshalText].
func (b *Basis) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*b = 0
		return nil
	}
	parsed, err := ParseBasis(string(text))
	if err != nil {
		return err
	}
	*b = parsed
	return nil
}

// Worst returns the worst of the bases, which a result made of several
// figures inherits. Without arguments, or with a zero among them, it is zero:
// a figure of unknown origin makes the result one.
//
// Definition: the greatest in the order of the constants, the zero value
// counted as worst.
func Worst(bases ...Basis) Basis {
	var worst Basis
	for i, b := range bases {
		if b == 0 {
			return 0
		}
		if i == 0 || b > worst {
			worst = b
		}
	}
	return worst
}
