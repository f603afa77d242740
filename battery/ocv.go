package battery

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// The flat stretch of lithium iron phosphate: over these states of charge the
// rest voltage moves by a hundred millivolts a cell, less than charts differ.
const (
	flatLow  = 0.20
	flatHigh = 0.98
)

// A FlatError is the answer where the rest voltage of lithium iron phosphate
// does not tell the state of charge: all that it says is the band. Count
// ampere-hours instead.
type FlatError struct {
	Band Range[float64] // of the state of charge
}

// Error names the band: "... only that the charge is between 20 and 98 %".
//
// Definition: the band in per cent.
func (e *FlatError) Error() string {
	return fmt.Sprintf("battery: rest voltage of lithium iron phosphate says only that the charge is between %.0f and %.0f %%",
		100*e.Band.Low, 100*e.Band.High)
}

// shift returns what a rest voltage of a cell at t is above that of the charts.
func (c Chemistry) shift(t unit.Temperature) (float64, error) {
	if err := c.validate(); err != nil {
		return 0, err
	}
	f := InFahrenheit(t)
	lo, hi := temperatureShift.Bounds()
	if f >= lo-roundedDegree && f <= hi+roundedDegree {
		f = min(max(f, lo), hi)
	}
	s, ok := temperatureShift.At(f)
	if !ok {
		return 0, pkg.Range("battery temperature", float64(t),
			float64(Fahrenheit(lo)), float64(Fahrenheit(hi)), domain.Celsius)
	}
	if !c.LeadAcid() {
		return 0, nil
	}
	return s / 6, nil
}

// OpenCircuit returns the rest voltage of one cell at a state of charge, from
// the lowest to the highest of the published charts of the type, moved by the
// temperature (lead-acid only). Multiply by the cells in series, or use
// [Block.OpenCircuit] and [Bank.OpenCircuit].
//
// Charts hold after hours of rest; on a 12 V lead-acid block they differ by
// 0.05 to 0.5 V, and by 1 V where a flooded one is empty. A full lithium iron phosphate cell settles to the low end
// of its band; the high end is just off the charger.
//
// Valid for states of charge of 0 to 1 and 0 to 120 °F (-17.8 to 48.9 °C);
// otherwise, and for a chemistry that is none, err wraps [ErrDomain].
//
// Common practice: rest-voltage charts of the battery trade, makers and two
// measured cells; see testdata/battery.
func OpenCircuit(c Chemistry, stateOfCharge float64, t unit.Temperature) (Range[unit.Voltage], error) {
	shift, err := c.shift(t)
	if err := errors.Join(err, checkFraction("state of charge", stateOfCharge, 0)); err != nil {
		return Range[unit.Voltage]{}, err
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, chart := range charts[c] {
		v := chart.volts(stateOfCharge) + shift
		lo, hi = min(lo, v), max(hi, v)
	}
	return Range[unit.Voltage]{Low: unit.Voltage(lo), High: unit.Voltage(hi)}, nil
}

// StateOfCharge returns the state of charge, 0 to 1, from the rest voltage of
// one cell, as the band over the published charts of the type, moved by the
// temperature (lead-acid only). Charts disagree: 12.06 V on a flooded 12 V
// block is 25 % in one and 50 % in another. Above a chart's top it says full,
// below its bottom empty.
//
// For lithium iron phosphate a band that touches the stretch from 20 to 98 %
// is refused with a [FlatError], which holds the band.
//
// Valid for 1.5 to 2.5 V (lead-acid) or 2 to 3.7 V a cell and 0 to 120 °F
// (-17.8 to 48.9 °C), after hours without load or charge; otherwise, and for
// a chemistry that is none, err wraps [ErrDomain].
//
// Common practice: as for [OpenCircuit].
func StateOfCharge(c Chemistry, cell unit.Voltage, t unit.Temperature) (Range[float64], error) {
	shift, err := c.shift(t)
	if err != nil {
		return Range[float64]{}, err
	}
	least, most := 1.5, 2.5
	if !c.LeadAcid() {
		least, most = 2.0, 3.7
	}
	if err := pkg.Range("rest voltage of a cell", float64(cell), least, most, domain.Volt); err != nil {
		return Range[float64]{}, err
	}
	band := Range[float64]{Low: 1, High: 0}
	for _, chart := range charts[c] {
		s := chart.soc(float64(cell) - shift)
		band.Low, band.High = min(band.Low, s), max(band.High, s)
	}
	if !c.LeadAcid() && band.High > flatLow && band.Low < flatHigh {
		// On the stretch itself no chart is better than the stretch.
		if band.Low >= flatLow && float64(cell) < lithiumCell1.volts(flatHigh) {
			band = Range[float64]{Low: min(band.Low, flatLow), High: max(band.High, flatHigh)}
		}
		return Range[float64]{}, &FlatError{Band: band}
	}
	return band, nil
}
