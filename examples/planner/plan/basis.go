package plan

import (
	"fmt"
	"slices"
	"strings"
)

// A Basis says where a figure comes from. Later ones are worse: a result is
// no better than the worst figure that went into it.
type Basis byte

// The bases, best first.
const (
	Exact       Basis = iota // a definition or a formula alone
	Measured                 // read off a meter, a gauge or a tape
	NameplateOf              // read off a nameplate or a label
	Table                    // a table of a code or a standard
	Stated                   // typed without saying where it comes from
	RuleOfThumb              // common practice, no source
	Assumed                  // filled in by the planner; every one is listed
)

var basisNames = []string{"exact", "measured", "nameplate", "table", "stated", "rule of thumb", "assumed"}

// String returns the word that site files and plans use.
func (b Basis) String() string { return basisNames[b] }

// MarshalText writes the word that site files and plans use.
func (b Basis) MarshalText() ([]byte, error) { return []byte(b.String()), nil }

// parseBasis reads the word in brackets behind a quantity.
func parseBasis(word string) (Basis, error) {
	typed := basisNames[Measured:Assumed]
	if i := slices.Index(typed, word); i >= 0 {
		return Measured + Basis(i), nil
	}
	return 0, fmt.Errorf("basis %q, want one of %s", word, strings.Join(typed, ", "))
}

// worst returns the worst of several bases.
func worst(bases ...Basis) Basis { return slices.Max(append(bases, Exact)) }
