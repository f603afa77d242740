package domain

import (
	"math"
	"strconv"

	"ridethrough.example/internal/quantity"
)

// A Unit says how a quantity held in SI units is shown in an error.
type Unit struct {
	Symbol string
	Size   float64 // SI units in one of this unit
	Offset float64 // added after the division, for °C
	SI     bool    // shown with prefixes from µ to G
	Base   string  // the SI symbol, shown beside a trade unit
}

// The units of the library's errors.
var (
	One        = Unit{Size: 1}
	Percent    = Unit{Symbol: "%", Size: 0.01}
	Volt       = Unit{Symbol: "V", Size: 1, SI: true}
	Ampere     = Unit{Symbol: "A", Size: 1, SI: true}
	Watt       = Unit{Symbol: "W", Size: 1, SI: true}
	VoltAmpere = Unit{Symbol: "VA", Size: 1, SI: true}
	Ohm        = Unit{Symbol: "Ω", Size: 1, SI: true}
	Metre      = Unit{Symbol: "m", Size: 1, SI: true}
	Second     = Unit{Symbol: "s", Size: 1, SI: true}
	Hertz      = Unit{Symbol: "Hz", Size: 1, SI: true}
	Pascal     = Unit{Symbol: "Pa", Size: 1, SI: true}
	Farad      = Unit{Symbol: "F", Size: 1, SI: true}
	Siemens    = Unit{Symbol: "S", Size: 1, SI: true}

	NewtonMetre = Unit{Symbol: "N·m", Size: 1}
	Joule       = Unit{Symbol: "J", Size: 1, SI: true}
	Radian      = Unit{Symbol: "rad", Size: 1}

	Horsepower       = Unit{Symbol: "hp", Size: float64(quantity.Horsepower), Base: "W"}
	PSI              = Unit{Symbol: "psi", Size: float64(quantity.PSI), Base: "Pa"}
	Litre            = Unit{Symbol: "L", Size: float64(quantity.Litre)}
	USGallon         = Unit{Symbol: "gal", Size: float64(quantity.USGallon), Base: "m³"}
	AmpereHour       = Unit{Symbol: "Ah", Size: float64(quantity.AmpereHour), Base: "C"}
	WattHour         = Unit{Symbol: "Wh", Size: float64(quantity.WattHour), Base: "J"}
	Minute           = Unit{Symbol: "min", Size: float64(quantity.Minute), Base: "s"}
	Hour             = Unit{Symbol: "h", Size: float64(quantity.Hour), Base: "s"}
	Foot             = Unit{Symbol: "ft", Size: float64(quantity.Foot), Base: "m"}
	PoundSquareFoot  = Unit{Symbol: "lb·ft²", Size: float64(quantity.PoundSquareFoot), Base: "kg·m²"}
	RPM              = Unit{Symbol: "rpm", Size: float64(quantity.RPM), Base: "rad/s"}
	SquareMillimetre = Unit{Symbol: "mm²", Size: float64(quantity.SquareMillimetre)}
	Celsius          = Unit{Symbol: "°C", Size: 1, Offset: -273.15, Base: "K"}
)

// refused shows a value and, beside a trade unit, what it is in SI: that is
// where a forgotten unit shows. A value that would read like the bound it
// misses is shown with all its digits.
func (u Unit) refused(x, lo, hi float64) string {
	s := u.show(x, shown)
	if s == u.show(lo, shown) || s == u.show(hi, shown) {
		s = u.show(x, -1)
	}
	if u.Base != "" {
		s += " (" + strconv.FormatFloat(x, 'g', shown, 64) + " " + u.Base + ")"
	}
	return s
}

// shown is how many digits an error shows.
const shown = 6

// show prints x, in SI, in the unit; -1 digits are as many as it takes.
func (u Unit) show(x float64, digits int) string {
	x = x/u.Size + u.Offset
	prefix := ""
	if u.SI {
		x, prefix = engineering(x)
	}
	s := strconv.FormatFloat(x, 'g', digits, 64)
	if u.Symbol == "" {
		return s
	}
	return s + " " + prefix + u.Symbol
}

// engineering splits x into a mantissa and an SI prefix.
func engineering(x float64) (mantissa float64, prefix string) {
	for _, p := range []struct {
		size float64
		name string
	}{{1e9, "G"}, {1e6, "M"}, {1e3, "k"}, {1, ""}, {1e-3, "m"}, {1e-6, "µ"}} {
		if a := math.Abs(x); a >= p.size && !math.IsInf(x, 0) {
			return x / p.size, p.name
		}
	}
	return x, ""
}
