package plan

import (
	"strconv"
	"strings"
)

// num writes a number into the explanation of a figure: four significant
// digits, no exponent where it can be helped.
func num[T ~float64](x T) string {
	s := strconv.FormatFloat(float64(x), 'g', 4, 64)
	if strings.Contains(s, "e") && x >= 1000 {
		return strconv.FormatFloat(round4(float64(x)), 'f', 0, 64)
	}
	return s
}

// round4 keeps four significant digits.
func round4(x float64) float64 { return rounded(x, 4) }

// round3 keeps three, as much as a verdict should claim.
func round3[T ~float64](x T) float64 { return rounded(float64(x), 3) }

func rounded(x float64, digits int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return 0
	}
	return y
}

// span writes a range.
func span[T ~float64](low, high T) string {
	if l, h := num(low), num(high); l != h {
		return l + ".." + h
	}
	return num(low)
}

// brief writes a range with three digits, for what stands beside a figure.
func brief[T ~float64](low, high T) string { return span(round3(low), round3(high)) }

// in writes a range in units of u.
func in[T ~float64](low, high, u T, symbol string) string {
	return brief(low/u, high/u) + " " + symbol
}
