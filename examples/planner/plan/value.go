package plan

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A Value is a quantity of a site file: text such as
//
//	"28 psi"   "1-1/2 hp"   "8.6..10.8 A"   "12.4 V (measured)"   "-5 °C"
//
// that is a number or a range, a unit, and in brackets, where it is known,
// what the figure rests on. The zero Value was not given.
type Value[T ~float64] struct {
	Low, High T      `toml:"-"`
	Basis     Basis  `toml:"-"`
	Text      string `toml:"-"` // as typed
	given     bool
}

// Given reports whether the site file has the quantity.
func (v Value[T]) Given() bool { return v.given }

// Mid returns the middle of the range.
func (v Value[T]) Mid() T { return v.Low + (v.High-v.Low)/2 }

// shape returns whether the quantity was given, the sign of its low end and
// whether it is a range.
func (v Value[T]) shape() (given bool, sign int, isRange bool) {
	switch {
	case v.Low > 0:
		sign = 1
	case v.Low < 0:
		sign = -1
	}
	return v.given, sign, v.Low != v.High
}

// or returns v if it was given, and otherwise x as an assumption.
func (v Value[T]) or(x T) Value[T] { return v.orRange(x, x) }

func (v Value[T]) orRange(low, high T) Value[T] {
	if v.given {
		return v
	}
	return Value[T]{Low: low, High: high, Basis: Assumed}
}

// MarshalText returns the quantity as it was typed.
func (v Value[T]) MarshalText() ([]byte, error) { return []byte(v.Text), nil }

// IsZero reports whether the quantity was not given, for omitzero in JSON.
func (v Value[T]) IsZero() bool { return !v.given }

// errTooLong guards against a site file that is none.
var errTooLong = errors.New("longer than any quantity, want something like \"28 psi\"")

// UnmarshalText reads a quantity. Errors name the accepted units.
func (v *Value[T]) UnmarshalText(text []byte) error {
	s := strings.TrimSpace(string(text))
	if len(s) > 200 || !utf8.ValidString(s) {
		return errTooLong
	}
	*v = Value[T]{Text: s, Basis: Stated, given: true}
	s = spellings.Replace(s)
	if body, word, ok := strings.Cut(s, "("); ok {
		word, closed := strings.CutSuffix(word, ")")
		if !closed {
			return fmt.Errorf("%q has no closing bracket", s)
		}
		basis, err := parseBasis(strings.TrimSpace(word))
		if err != nil {
			return err
		}
		s, v.Basis = strings.TrimSpace(body), basis
	}
	numbers, name := splitUnit(s)
	d := dimensionOf[T]()
	if numbers == "" {
		return fmt.Errorf("%q does not start with a number, want a %s in %s", s, d.name, d.accepted())
	}
	u, err := d.find(name)
	if err != nil {
		return err
	}
	first, second, isRange := strings.Cut(numbers, "..")
	low, err := parseNumber(first)
	if err != nil {
		return err
	}
	high := low
	if isRange {
		if high, err = parseNumber(second); err != nil {
			return err
		}
		if strings.HasPrefix(second, ".") {
			return fmt.Errorf("%q has too many points, want a range like 8.6..10.8", s)
		}
		if low > high {
			return fmt.Errorf("range %q is upside down, want the lower end first", s)
		}
	}
	v.Low, v.High = T(low*u.size+u.offset), T(high*u.size+u.offset)
	return nil
}

// spellings are characters that keyboards and word processors put in the
// place of others.
var spellings = strings.NewReplacer("½", "1/2", "¼", "1/4", "¾", "3/4", "⅓", "1/3", "⅔", "2/3", "−", "-", "–", "-", "…", "...")

// splitUnit cuts text behind its last number character.
func splitUnit(s string) (numbers, unit string) {
	end := strings.IndexFunc(s, func(r rune) bool {
		return !strings.ContainsRune("0123456789.-+/ ,", r)
	})
	if end < 0 {
		end = len(s)
	}
	return strings.TrimSpace(s[:end]), strings.TrimSpace(s[end:])
}

// parseNumber reads 12, 12.5, -5, 1/2 and 1-1/2. It takes no exponent, no
// decimal comma and no thousands separator, which readers take differently.
func parseNumber(s string) (float64, error) {
	s = strings.TrimSpace(s)
	bad := fmt.Errorf("%q is no number, want something like 12.5, 1/2, 1-1/2 or a range 8.6..10.8", s)
	if strings.Contains(s, ",") {
		return 0, fmt.Errorf("%q has a comma, want a point before decimals and no separator between thousands", s)
	}
	top, bottom, isFraction := strings.Cut(s, "/")
	if !isFraction {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil || math.IsInf(x, 0) || strings.Contains(s, " ") {
			return 0, bad
		}
		return x, nil
	}
	whole := 0.0
	if w, t, ok := strings.Cut(top, "-"); ok {
		n, err := strconv.ParseUint(w, 10, 16)
		if err != nil {
			return 0, bad
		}
		whole, top = float64(n), t
	}
	t, err1 := strconv.ParseUint(top, 10, 16)
	b, err2 := strconv.ParseUint(bottom, 10, 16)
	if err1 != nil || err2 != nil || b == 0 {
		return 0, bad
	}
	return whole + float64(t)/float64(b), nil
}
