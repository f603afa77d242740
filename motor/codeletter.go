package motor

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A CodeLetter is the locked-rotor indicating letter of a nameplate: the
// range of kVA per rated horsepower that the motor draws with its rotor held,
// at rated voltage and frequency. The zero value is no letter.
type CodeLetter byte

// codeLetters are the letters in use: I, O and Q are not.
const codeLetters = "ABCDEFGHJKLMNPRSTUV"

// codeFloor[i] is the least kVA/hp of codeLetters[i]; codeFloor[i+1] ends it.
//
// Source: NEMA MG 1 10.37.2. NEC Table 430.7(B) prints the upper ends 0.01
// lower, which leaves gaps that no motor falls into here.
var codeFloor = [len(codeLetters) + 1]float64{
	0, 3.15, 3.55, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9, 10,
	11.2, 12.5, 14, 16, 18, 20, 22.4, math.Inf(1),
}

// ParseCodeLetter reads one letter, in either case, with or without blanks
// around it. I, O, Q and anything longer are errors that wrap [ErrDomain].
//
// Source: NEMA MG 1 10.37.2; NEC Table 430.7(B).
func ParseCodeLetter(s string) (CodeLetter, error) {
	// Length before case: there are longer characters that fold to a letter.
	if name := strings.TrimSpace(s); len(name) == 1 {
		if c := CodeLetter(strings.ToUpper(name)[0]); c.index() >= 0 {
			return c, nil
		}
	}
	return 0, pkg.Invalid("code letter", strconv.Quote(s), "one of "+codeLetters)
}

// letterIndex is the place of each letter from A to Z in codeLetters, or -1.
var letterIndex = [26]int8{0, 1, 2, 3, 4, 5, 6, 7, -1, 8, 9, 10, 11, 12, -1, 13, -1, 14, 15, 16, 17, 18, -1, -1, -1, -1}

// index returns the place of the letter in codeLetters, or -1.
func (c CodeLetter) index() int {
	if c < 'A' || c > 'Z' {
		return -1
	}
	return int(letterIndex[c-'A'])
}

// KVAPerHP returns the half-open range [lo, hi) of locked-rotor kVA per rated
// horsepower. The letter V has no upper limit: hi is +Inf.
//
// The horsepower is the rated one, without the service factor. The mid-point
// of a letter, often used, hides 5 to 7 % either way: size a source with hi.
//
// Source: NEMA MG 1 10.37.2 (3.14 is A, 3.15 is B); NEC Table 430.7(B).
func (c CodeLetter) KVAPerHP() (lo, hi float64, err error) {
	i := c.index()
	if i < 0 {
		return 0, 0, badLetter(c)
	}
	return codeFloor[i], codeFloor[i+1], nil
}

func badLetter(c CodeLetter) error {
	return pkg.Invalid("code letter", strconv.QuoteRune(rune(c)), "one of "+codeLetters)
}

// String returns the letter, and "none" for a value that is none.
//
// Definition: the letter itself.
func (c CodeLetter) String() string {
	if c.index() < 0 {
		return "none"
	}
	return string(rune(c))
}

// MarshalText writes the letter; the zero value as nothing. Any other value
// is an error.
//
// Definition: the letter itself.
func (c CodeLetter) MarshalText() ([]byte, error) {
	if c == 0 {
		return []byte{}, nil
	}
	if c.index() < 0 {
		return nil, badLetter(c)
	}
	return []byte{byte(c)}, nil
}

// UnmarshalText reads what [CodeLetter.MarshalText] writes, in either case.
//
// Definition: the inverse of [CodeLetter.MarshalText].
func (c *CodeLetter) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*c = 0
		return nil
	}
	parsed, err := ParseCodeLetter(string(text))
	if err != nil {
		return err
	}
	*c = parsed
	return nil
}

// LockedRotorKVAPerHP returns the kVA per horsepower
//
//	k = √m·V·I / (1000·P)
//
// of a motor that draws the line current I (A, rms) with its rotor held; V is
// the line voltage then (V, rms), P the rated output (hp), and the factor √m
// is 1 for one phase and √3 for three. Give the voltage at which I was
// measured only if it is the rated one: k grows as its square.
//
// Valid for 1/20 to 500 hp, 10 V to 15 kV and 0.05 A to 20 kA; outside, err
// wraps [ErrDomain].
//
// Source: NEMA MG 1 10.37.2; NEC 430.7(B).
func LockedRotorKVAPerHP(current unit.Current, voltage unit.Voltage, phases int, output unit.Power) (float64, error) {
	if !(goodCurrent(current) && goodVoltage(voltage) && goodPhases(phases) && goodOutput(output)) {
		return 0, errors.Join(checkCurrent("locked-rotor current", current), checkVoltage(voltage), checkPhases(phases), checkOutput(output))
	}
	i, v, p := float64(current), float64(voltage), float64(output/Horsepower)
	return lineFactor(phases) * v * i / (1000 * p), nil
}

// Bounds of kVA per horsepower that catch VA or a current.
const (
	leastKVA    = 0.5
	greatestKVA = 100
)

// LockedRotorCurrent returns the line current (A, rms) with the rotor held,
//
//	I = 1000·k·P / (√m·V)
//
// of a motor of k kVA per horsepower; the symbols are those of
// [LockedRotorKVAPerHP]. At another voltage V' the current is about V'/V of
// it.
//
// Valid for k from 0.5 to 100 kVA/hp and as [LockedRotorKVAPerHP] says;
// outside, err wraps [ErrDomain].
//
// Source: NEMA MG 1 10.37.2; NEC 430.7(B).
func LockedRotorCurrent(kvaPerHP float64, voltage unit.Voltage, phases int, output unit.Power) (unit.Current, error) {
	if !(within(kvaPerHP, leastKVA, greatestKVA) && goodVoltage(voltage) && goodPhases(phases) && goodOutput(output)) {
		return 0, errors.Join(pkg.Range("kVA per horsepower", kvaPerHP, leastKVA, greatestKVA, domain.One), checkVoltage(voltage), checkPhases(phases), checkOutput(output))
	}
	return unit.Current(kvaPerHP * ampsPerKVAPerHP(voltage, phases, output)), nil
}

// ampsPerKVAPerHP is 1000·P/(√m·V).
func ampsPerKVAPerHP(voltage unit.Voltage, phases int, output unit.Power) float64 {
	v, p := float64(voltage), float64(output/Horsepower)
	return 1000 * p / (lineFactor(phases) * v)
}

// ClassifyCodeLetter returns the letter of a motor that draws the given line
// current with its rotor held at rated voltage. The limits are half open; a k
// that binary arithmetic leaves a part in 10¹² short of a limit is on it.
//
// A current measured at another voltage V' must be scaled to the rated
// voltage V by V/V' first. Valid as [LockedRotorKVAPerHP] says.
//
// Source: NEMA MG 1 10.37.2; NEC Table 430.7(B).
func ClassifyCodeLetter(current unit.Current, voltage unit.Voltage, phases int, output unit.Power) (CodeLetter, error) {
	k, err := LockedRotorKVAPerHP(current, voltage, phases, output)
	if err != nil {
		return 0, err
	}
	return letterOf(k), nil
}

// letterOf returns the letter whose range holds k.
func letterOf(k float64) CodeLetter {
	k *= 1 + 1e-12
	i := 0
	for i+1 < len(codeLetters) && k >= codeFloor[i+1] {
		i++
	}
	return CodeLetter(codeLetters[i])
}
