package plan

import (
	"math"
	"strconv"
)

// num writes a number into the explanation of a figure: four significant
// digits, no exponent.
func num[T ~float64](x T) string {
	return strconv.FormatFloat(rounded(float64(x), 4), 'f', -1, 64)
}

// round3 keeps three, as much as a verdict should claim.
func round3[T ~float64](x T) float64 { return rounded(float64(x), 3) }

func rounded(x float64, digits int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return 0
	}
	return y
}

// up and down keep some significant digits, and never less or never more than x:
// what is asked for must do as it is written.
func up(x float64, digits int) float64   { return toward(x, digits, math.Ceil) }
func down(x float64, digits int) float64 { return toward(x, digits, math.Floor) }

func toward(x float64, digits int, whole func(float64) float64) float64 {
	if !(x > 0) {
		return 0
	}
	step := math.Pow10(int(math.Floor(math.Log10(x))) - digits + 1)
	y := whole(x/step) * step
	if near := math.Round(x/step) * step; math.Abs(near-x) < 1e-9*x {
		y = near // a last bit is no digit
	}
	return rounded(y, digits)
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
