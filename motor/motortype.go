package motor

import (
	"slices"
	"strconv"
	"strings"
)

// A Type says how a motor starts and runs, which decides its power factor.
// The zero value is a single-phase motor of unknown type where one phase is
// given, and a three-phase motor where three are.
//
// Electronically commutated and universal motors have no entry: they have no
// locked-rotor current in the sense of the standards. Describe them by a
// meter [Reading].
type Type byte

// The types of induction motor.
const (
	UnknownType       Type = iota
	SplitPhase             // auxiliary winding of high resistance, switched out
	CapacitorStart         // start capacitor and switch; runs on the main winding
	CapacitorStartRun      // start capacitor switched out, run capacitor stays in
	PermanentSplit         // one capacitor, always in (PSC)
	ShadedPole             // small fans and the like
	ThreePhase             // squirrel cage
)

// figures are what published examples say of motors of one type.
type figures struct {
	name string
	// lockedPF is the power factor with the rotor held.
	lockedPF Range[float64]
	// pf and efficiency are those at rated load.
	pf, efficiency Range[float64]
}

// typical holds, by Type, spans that enclose the examples. The locked-rotor
// spans, widened outwards to two digits, come from machines computed from
// their printed impedances (testdata/motor/locked_rotor_pf.csv):
//
//   - split-phase 0.38 to 0.87: rows L4, L6, K10-1
//   - capacitor-start, also with a run capacitor (the start capacitor is in
//     circuit): 0.77 to 0.99: rows L3, L5, L8, L10, K10-3, QHP
//   - permanent-split 0.59 to 0.92: row PSC2 (0.72) lies in the span of the
//     main windings alone (SP rows), which carry most of the current
//   - shaded-pole: no row of its own; main windings alone
//   - unknown single-phase: all of these
//   - three-phase 0.10 to 0.62: rows TP, G, M and H50;
//     the low end is for medium and large machines, the high end for small ones
//
// Running spans: testdata/motor/small_motor_eff_pf.csv (one phase) and
// iec_small_2pole.csv (three phases, low ends), with more room, for the
// examples are few; upper ends of the efficiency cover the minima of 10 CFR
// 431.446.
var typical = [...]figures{
	UnknownType:       {"unknown", span(0.38, 0.99), span(0.55, 0.95), span(0.50, 0.88)},
	SplitPhase:        {"split-phase", span(0.38, 0.87), span(0.55, 0.70), span(0.55, 0.70)},
	CapacitorStart:    {"capacitor-start", span(0.77, 0.99), span(0.55, 0.90), span(0.55, 0.85)},
	CapacitorStartRun: {"capacitor-start capacitor-run", span(0.77, 0.99), span(0.80, 0.95), span(0.55, 0.88)},
	PermanentSplit:    {"permanent-split capacitor", span(0.59, 0.92), span(0.80, 0.95), span(0.55, 0.88)},
	ShadedPole:        {"shaded-pole", span(0.59, 0.92), span(0.55, 0.95), span(0.10, 0.88)},
	ThreePhase:        {"three-phase", span(0.10, 0.62), span(0.70, 0.95), span(0.65, 0.95)},
}

func span(lo, hi float64) Range[float64] { return Range[float64]{Low: lo, High: hi} }

// aliases are other names in use.
var aliases = map[string]Type{
	"csir": CapacitorStart, "capacitor-start induction-run": CapacitorStart,
	"cscr": CapacitorStartRun, "capacitor-start/run": CapacitorStartRun,
	"psc": PermanentSplit, "permanent-split": PermanentSplit,
	"3-phase": ThreePhase,
}

// known maps a value that is no Type to UnknownType.
func (t Type) known() Type {
	if int(t) < len(typical) {
		return t
	}
	return UnknownType
}

// with resolves an unknown type by the number of phases.
func (t Type) with(phases int) Type {
	if t.known() == UnknownType && phases == 3 {
		return ThreePhase
	}
	return t.known()
}

// String returns the name that [ParseType] reads, and "unknown" for the zero
// value and for any other that is no type.
//
// Definition: the name of the constant in words.
func (t Type) String() string { return typical[t.known()].name }

// ParseType reads what [Type.String] writes, in any case, and the
// abbreviations CSIR, CSCR and PSC. Anything else is an error that wraps
// [ErrDomain].
//
// Definition: the name of the constant in words.
func ParseType(s string) (Type, error) {
	name := strings.ToLower(strings.TrimSpace(s))
	if t, ok := aliases[name]; ok {
		return t, nil
	}
	if i := slices.IndexFunc(typical[:], func(f figures) bool { return f.name == name }); i >= 0 {
		return Type(i), nil
	}
	var names []string
	for _, f := range typical {
		names = append(names, f.name)
	}
	return 0, pkg.Invalid("motor type", strconv.Quote(s), "one of "+strings.Join(names, ", "))
}

// MarshalText writes the type as [Type.String] does. A value that is no type
// is an error.
//
// Definition: the text of [Type.String].
func (t Type) MarshalText() ([]byte, error) {
	if t != t.known() {
		return nil, pkg.Invalid("motor type", strconv.Itoa(int(t)), "a type")
	}
	return []byte(t.String()), nil
}

// UnmarshalText reads what [Type.MarshalText] writes; nothing is
// [UnknownType].
//
// Definition: the inverse of [Type.MarshalText].
func (t *Type) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*t = UnknownType
		return nil
	}
	parsed, err := ParseType(string(text))
	if err != nil {
		return err
	}
	*t = parsed
	return nil
}

// LockedRotorPowerFactor returns the span of the power factor with the rotor
// held, cos φ = P/S, over published machines of the type. Small single-phase
// motors stand high: what they take at standstill is nearly all real power,
// which the battery must deliver. The spans enclose few machines and are no
// limits.
//
// Source: computed from the impedances of textbook machines, listed with book
// and example in testdata/motor/locked_rotor_pf.csv; shaded-pole: taken from
// main windings alone, for want of examples.
func (t Type) LockedRotorPowerFactor() Range[float64] { return typical[t.known()].lockedPF }

// RatedPowerFactor returns the span of the power factor at rated load over
// published machines of the type. It is no limit.
//
// Source: textbook examples listed in testdata/motor/small_motor_eff_pf.csv
// and a published range of small three-phase motors in iec_small_2pole.csv;
// shaded-pole: as unknown, for want of examples.
func (t Type) RatedPowerFactor() Range[float64] { return typical[t.known()].pf }

// RatedEfficiency returns the span of the efficiency at rated load, shaft
// power over real input power, over published machines of the type. It is no
// limit.
//
// Source: textbook examples listed in testdata/motor/small_motor_eff_pf.csv
// and a published range of small three-phase motors in iec_small_2pole.csv;
// upper ends cover the minima of 10 CFR 431.446(a); shaded-pole: low end by
// common practice.
func (t Type) RatedEfficiency() Range[float64] { return typical[t.known()].efficiency }

// PolyphaseLockedRotorPowerFactor is the trade's single figure for medium and
// large three-phase motors. It is far too low for small single-phase motors,
// which stand between 0.4 and 1.0.
//
// Source: IEEE Std 141-1993, as quoted.
const PolyphaseLockedRotorPowerFactor = 0.20
