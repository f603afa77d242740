package conductor

import (
	"strconv"

	"gonum.org/v1/gonum/unit"
)

// A Stranding is how a conductor is made up. The zero value is none, and every
// function refuses it: solid and flexible wire of one size differ by 5 %.
type Stranding uint8

// The strandings.
const (
	// Solid is one round wire; class 1 of IEC 60228.
	Solid Stranding = iota + 1
	// Stranded is concentric class B of ASTM B8, building wire; class 2 of
	// IEC 60228.
	Stranded
	// Flexible is rope-lay class K of ASTM B172, battery and welding cable;
	// class 5 of IEC 60228.
	Flexible
)

// String returns "solid", "stranded", "flexible" or, for the zero value, "no
// stranding".
//
// Definition: the words of this package.
func (s Stranding) String() string {
	switch s {
	case Solid:
		return "solid"
	case Stranded:
		return "stranded"
	case Flexible:
		return "flexible"
	default:
		return "no stranding"
	}
}

// lay is by how much the strands are longer than the conductor. Source: ASTM
// B8 and NEC chapter 9, table 8, whose stranded rows stand 1.7 to 2.5 % above
// the resistance of the bare area (class B); common practice (class K).
var lay = [...]float64{Solid: 1, Stranded: 1.02, Flexible: 1.05}

// A Wire is a conductor without a length.
type Wire struct {
	Size      Size      // AWG, kcmil or mm²
	Metal     Metal     // copper or aluminium
	Stranding Stranding // solid, stranded or flexible
	Tinned    bool      // copper only; "coated" in the code
}

// String returns for example "10 AWG stranded tinned copper".
//
// Definition: the words of this package.
func (w Wire) String() string {
	tinned := ""
	if w.Tinned {
		tinned = "tinned "
	}
	return w.Size.String() + " " + w.Stranding.String() + " " + tinned + w.Metal.String()
}

// check refuses what no function can use.
func (w Wire) check() error {
	switch {
	case w.Size.system == 0:
		return w.Size.refuse(wantSize)
	case w.Metal != Copper && w.Metal != Aluminium:
		return w.Metal.check()
	case w.Stranding < Solid || w.Stranding > Flexible:
		return pkg.Invalid("stranding", strconv.Itoa(int(w.Stranding)), "solid, stranded or flexible")
	case w.Tinned && w.Metal != Copper:
		return pkg.Invalid("wire", w.String(), "tinning on copper only")
	}
	return nil
}

// Resistance returns the dc resistance per length at a conductor temperature.
// For AWG and kcmil sizes
//
//	r = ρ20·λ·τ/A · (1 + α20·(T − 20))
//
// where ρ20 (Ω·m) and α20 (1/K) are those of [Metal.Resistivity], A (m²) is
// [Size.Area], T is in °C, λ is 1 for solid, 1.02 for stranded and 1.05 for
// flexible conductors, and τ is the allowance for tinning, 1.024 to 1.073 by
// the diameter of the single strand. For metric sizes ρ20·λ·τ/A is replaced by
// [MaximumResistance].
//
// The result is one conductor's, not the loop's. [Table8] has the figures that
// the code prints instead; the two agree within 1 %. Alternating current of 60
// Hz sees under 0.5 % more up to 4/0 AWG. Automotive cable has less metal than
// its gauge number says.
//
// Valid for −60 to 300 °C; otherwise, and for a Wire with a zero field, err
// wraps [ErrDomain].
//
// Source: IEC 60028 (copper), IEC 60889 (aluminium), ASTM B258 (area), ASTM B8
// (class B), ASTM B33 (tinning), IEC 60228 (metric sizes). The 5 % of class K
// are common practice.
func (w Wire) Resistance(at unit.Temperature) (ResistancePerLength, error) {
	if err := w.check(); err != nil {
		return 0, err
	}
	if err := checkTemperature(float64(at)); err != nil {
		return 0, err
	}
	rho, alpha := w.Metal.at20()
	hot := 1 + alpha*(float64(at)-celsius20)
	if w.Size.system == metric {
		r, err := w.maximum()
		return ResistancePerLength(r * hot), err
	}
	a := w.Size.area()
	r := rho * lay[w.Stranding] / a * hot
	if w.Tinned {
		r *= tinning(w.strandDiameter(a))
	}
	return ResistancePerLength(r), nil
}

// strandDiameter returns the diameter of one strand of a conductor of area a
// (m²), in inches.
func (w Wire) strandDiameter(a float64) float64 {
	cmil := a / float64(CircularMil)
	return strandDiameter(w.Stranding, cmil)
}
