package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

// Every method inverts one and the same formula.
func TestDropLimitsInvertTheDrop(t *testing.T) {
	for circuit, drop := range map[Circuit]func(ResistancePerLength, unit.Length, unit.Current) unit.Voltage{
		TwoWire: TwoWireDrop, ThreePhase: ThreePhaseDrop,
	} {
		d := DropLimit{circuit, 120 * Foot, 17, 3.6}
		r := must[ResistancePerLength](t)(d.Resistance())
		assert.InEpsilon(t, 3.6, float64(drop(r, d.OneWay, d.Current)), 1e-12)
		assert.InEpsilon(t, float64(d.OneWay), float64(must[unit.Length](t)(d.LongestOneWay(r))), 1e-12)
		assert.InEpsilon(t, 17, float64(must[unit.Current](t)(d.LargestCurrent(r))), 1e-12)
		rho := must[Resistivity](t)(Copper.Resistivity(Celsius(20)))
		a := must[unit.Area](t)(d.Area(rho))
		assert.InEpsilon(t, float64(rho)/float64(r), float64(a), 1e-12)
	}
}

func TestDropLimitRefuses(t *testing.T) {
	d := DropLimit{TwoWire, 120 * Foot, 17, 3.6}
	bounds(t, "one-way length", minLength, maxLength, func(x float64) error {
		e := d
		e.OneWay = unit.Length(x)
		_, err := e.Resistance()
		return err
	})
	bounds(t, "current", 1e-3, 100e3, func(x float64) error {
		e := d
		e.Current = unit.Current(x)
		_, err := e.LongestOneWay(1e-3)
		return err
	})
	bounds(t, "allowed drop", 1e-3, 35e3, func(x float64) error {
		e := d
		e.Allowed = unit.Voltage(x)
		_, err := e.LargestCurrent(1e-3)
		return err
	})
	bounds(t, "resistance", 1e-9, 100, func(x float64) error {
		_, err := d.LongestOneWay(ResistancePerLength(x))
		return err
	})
	bounds(t, "resistance", 1e-9, 100, func(x float64) error {
		_, err := d.LargestCurrent(ResistancePerLength(x))
		return err
	})
	bounds(t, "resistivity", 1e-9, 1e-6, func(x float64) error {
		_, err := d.Area(Resistivity(x))
		return err
	})
	// 12.9 without its unit.
	_, err := d.Area(12.9)
	refused(t, err, "12.9 Ω·m")
	d.Circuit = 0
	_, err = d.Resistance()
	refused(t, err, "circuit")
	_, err = d.LongestOneWay(1e-3)
	refused(t, err, "circuit")
	_, err = d.LargestCurrent(1e-3)
	refused(t, err, "circuit")
}
