package console

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Number returns what reads a number from lo to hi into a field.
func Number[T any](at func(*T) *float64, lo, hi float64) func(*T, string) error {
	return func(in *T, text string) error {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || !(x >= lo && x <= hi) {
			return fmt.Errorf("%s, want a number from %g to %g", Quote(text), lo, hi)
		}
		*at(in) = x
		return nil
	}
}

// Words returns what reads one of some words into a field.
func Words[T any](at func(*T) *string, want ...string) func(*T, string) error {
	return func(in *T, text string) error {
		if !slices.Contains(want, text) {
			return fmt.Errorf("%s, want %s", Quote(text), strings.Join(want, ", "))
		}
		*at(in) = text
		return nil
	}
}

// Yes returns what reads yes or no into a field.
func Yes[T any](at func(*T) *bool) func(*T, string) error {
	return func(in *T, text string) error {
		if text != "yes" && text != "no" {
			return fmt.Errorf("%s, want yes or no", Quote(text))
		}
		*at(in) = text == "yes"
		return nil
	}
}

// Quote returns what was typed, in quotes and not too long.
func Quote(text string) string {
	const longest = 40
	if len(text) > longest {
		text = text[:longest] + "…"
	}
	return strconv.QuoteToASCII(text)
}
