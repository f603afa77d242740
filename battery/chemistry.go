package battery

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Chemistry is the type of a battery. The zero value is none, and is
// refused.
type Chemistry byte

// The types of battery.
const (
	Flooded              Chemistry = iota + 1 // vented lead-acid
	AGM                                       // sealed lead-acid, acid held in glass mat
	Gel                                       // sealed lead-acid, acid held in a gel
	LithiumIronPhosphate                      // LiFePO4 with a battery management system
)

// chemistryNames are what String prints and ParseChemistry reads.
var chemistryNames = [...]string{
	Flooded: "flooded", AGM: "AGM", Gel: "gel", LithiumIronPhosphate: "lithium iron phosphate",
}

// chemistryAliases are other spellings in use, in lower case.
var chemistryAliases = map[string]Chemistry{
	"vented": Flooded, "wet": Flooded, "lfp": LithiumIronPhosphate, "lifepo4": LithiumIronPhosphate,
}

const wantChemistry = "flooded, AGM, gel or lithium iron phosphate"

// Valid reports whether c is one of the four types.
//
// Definition: true for [Flooded], [AGM], [Gel] and [LithiumIronPhosphate].
func (c Chemistry) Valid() bool { return c >= Flooded && c <= LithiumIronPhosphate }

func (c Chemistry) validate() error {
	if c.Valid() {
		return nil
	}
	return pkg.Invalid("chemistry", strconv.Itoa(int(c)), wantChemistry)
}

// LeadAcid reports whether c is one of the three lead-acid types.
//
// Definition: true for [Flooded], [AGM] and [Gel].
func (c Chemistry) LeadAcid() bool { return c >= Flooded && c <= Gel }

// String returns the name, or "Chemistry(9)" for a value that is none.
//
// Definition: "flooded", "AGM", "gel", "lithium iron phosphate".
func (c Chemistry) String() string {
	if !c.Valid() {
		return "Chemistry(" + strconv.Itoa(int(c)) + ")"
	}
	return chemistryNames[c]
}

// ParseChemistry reads a name as String prints it, in upper or lower case, or
// one of vented, wet, LFP, LiFePO4. Anything else is an [ErrDomain].
//
// Definition: the inverse of [Chemistry.String].
func ParseChemistry(s string) (Chemistry, error) {
	name := strings.TrimSpace(s)
	for c := Flooded; c.Valid(); c++ {
		if strings.EqualFold(name, chemistryNames[c]) {
			return c, nil
		}
	}
	if c, ok := chemistryAliases[strings.ToLower(name)]; ok {
		return c, nil
	}
	if len(name) > 40 {
		name = strings.ToValidUTF8(name[:40], "") + "..."
	}
	return 0, pkg.Invalid("chemistry", strconv.Quote(name), wantChemistry)
}

// MarshalText returns the name; a value that is none is an [ErrDomain].
//
// Definition: the text of [Chemistry.String].
func (c Chemistry) MarshalText() ([]byte, error) {
	if err := c.validate(); err != nil {
		return nil, err
	}
	return []byte(chemistryNames[c]), nil
}

// UnmarshalText reads what [ParseChemistry] reads.
//
// Definition: the inverse of [Chemistry.MarshalText].
func (c *Chemistry) UnmarshalText(text []byte) error {
	parsed, err := ParseChemistry(string(text))
	if err == nil {
		*c = parsed
	}
	return err
}

// CellVoltage returns the nominal voltage of one cell: 2.0 V for lead-acid,
// 3.2 V for lithium iron phosphate, 0 for a value that is none.
//
// Common practice: a lead-acid block of six cells is called 12 V, a lithium
// iron phosphate block of four 12.8 V.
func (c Chemistry) CellVoltage() unit.Voltage {
	switch {
	case c.LeadAcid():
		return 2
	case c == LithiumIronPhosphate:
		return 3.2
	}
	return 0
}

// Cells returns the number of cells in series behind a nominal voltage,
//
//	n = V/Vc
//
// where Vc is [Chemistry.CellVoltage]. The quotient must be within 2 % of a
// whole number from 1 to 500, and within 0.2. "12 V" and "24 V" on a lithium
// iron phosphate battery are read as 4 and 8 cells; 48 V there is 15 cells, and
// one of 16 must be stated as 51.2 V. Anything else is an [ErrDomain].
//
// Common practice: how nameplates name voltages.
func (c Chemistry) Cells(nominal unit.Voltage) (int, error) {
	if err := c.validate(); err != nil {
		return 0, err
	}
	vc := float64(c.CellVoltage())
	v := float64(nominal)
	if err := pkg.Range("nominal voltage", v, 0.98*vc, 500*vc, domain.Volt); err != nil {
		return 0, err
	}
	if c == LithiumIronPhosphate && (v == 12 || v == 24) {
		return int(v) / 3, nil
	}
	n := math.Round(v / vc)
	if math.Abs(v/vc-n) > 0.02*n || math.Abs(v/vc-n) > 0.2 {
		return 0, pkg.Invalid("nominal voltage", strconv.FormatFloat(v, 'g', 6, 64)+" V",
			"a whole number of cells of "+strconv.FormatFloat(vc, 'g', 2, 64)+" V")
	}
	return int(n), nil
}
