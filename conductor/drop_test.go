package conductor

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// perLength reads an input of either unit.
func perLength(row reftest.Row, name string) ResistancePerLength {
	if unitOf(row, name) == "ohm/ft" {
		return ResistancePerLength(row.Param(name, "ohm/ft")) * OhmPerFoot
	}
	return ResistancePerLength(row.Param(name, "ohm/kft")) * OhmPerKilofoot
}

func unitOf(row reftest.Row, name string) string {
	text := row.ParamText(name)
	for i := range len(text) {
		if text[i] == ' ' {
			return text[i+1:]
		}
	}
	return ""
}

func feet(row reftest.Row, name string) unit.Length {
	return unit.Length(row.Param(name, "ft")) * Foot
}

func amperes(row reftest.Row) unit.Current { return unit.Current(row.Param("I", "A")) }

func volts(row reftest.Row, name string) unit.Voltage { return unit.Voltage(row.Param(name, "V")) }

func ohms(row reftest.Row, name string) unit.Resistance {
	return unit.Resistance(row.Param(name, "ohm"))
}

// sizeParam reads a size among the inputs.
func sizeParam(t *testing.T, row reftest.Row, name string) Size {
	t.Helper()
	s, err := ParseSize(row.ParamText(name))
	require.NoError(t, err, row.Source())
	return s
}

// answer compares with the expected figure and, where the row has a wrong one,
// makes sure that it is not met.
func answer(row reftest.Row, got float64) {
	row.Expected(got)
	if row.Has("wrong") {
		row.Rejects("wrong", got, 0.009)
	}
}

func TestVoltageDropExamples(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/voltage_drop_examples.csv") {
		example(t, row)
	}
}

func example(t *testing.T, row reftest.Row) {
	t.Helper()
	line := func() Impedance { return Impedance{ohms(row, "R"), ohms(row, "X")} }
	load := func() Load { return Load{Current: amperes(row), PowerFactor: row.Param("pf", "")} }
	limit := func(c Circuit) DropLimit {
		d := DropLimit{Circuit: c, Allowed: volts(row, "Vd")}
		if row.HasParam("L") {
			d.OneWay = feet(row, "L")
		}
		if row.HasParam("I") {
			d.Current = amperes(row)
		}
		return d
	}
	switch kind := row.Text("kind"); kind {
	case "two-wire per length":
		answer(row, float64(TwoWireDrop(perLength(row, "r"), feet(row, "L"), amperes(row))))
	case "three-phase per length":
		answer(row, float64(ThreePhaseDrop(perLength(row, "r"), feet(row, "L"), amperes(row))))
	case "two-wire table 8":
		r := must[Table8Row](t)(Table8(sizeParam(t, row, "size"), Stranded))
		answer(row, float64(TwoWireDrop(r.Copper, feet(row, "L"), amperes(row))))
	case "two-wire table 8 percent":
		r := must[Table8Row](t)(Table8(sizeParam(t, row, "size"), Stranded))
		answer(row, 100*float64(TwoWireDrop(r.Copper, feet(row, "L"), amperes(row))/volts(row, "V")))
	case "resistance by length":
		answer(row, float64(perLength(row, "r").Over(feet(row, "L"))))
	case "three-phase area", "two-wire area":
		c := TwoWire
		if kind == "three-phase area" {
			c = ThreePhase
		}
		a := must[unit.Area](t)(limit(c).Area(Resistivity(row.Param("K", "ohm cmil/ft")) * OhmCircularMilPerFoot))
		answer(row, float64(a/CircularMil))
	case "three-phase length":
		answer(row, float64(must[unit.Length](t)(limit(ThreePhase).LongestOneWay(perLength(row, "r")))/Foot))
	case "three-phase current":
		answer(row, float64(must[unit.Current](t)(limit(ThreePhase).LargestCurrent(perLength(row, "r")))))
	case "effective impedance":
		ze := must[ResistancePerLength](t)(EffectiveImpedance(perLength(row, "R"), perLength(row, "X"), row.Param("pf", "")))
		answer(row, float64(ze/OhmPerKilofoot))
	case "table 8 temperature":
		r := must[Table8Row](t)(Table8(sizeParam(t, row, "size"), Stranded))
		at := must[ResistancePerLength](t)(r.Resistance(Copper, false, Celsius(row.Param("T", "C"))))
		answer(row, float64(at/OhmPerKilofoot))
	case "exact":
		v := must[unit.Voltage](t)(line().LoadVoltage(volts(row, "Vs"), load()))
		answer(row, float64(volts(row, "Vs")-v))
	case "approximate":
		answer(row, float64(must[unit.Voltage](t)(line().Drop(load()))))
	case "largest power":
		answer(row, float64(must[unit.Power](t)(LargestPower(volts(row, "Vs"), ohms(row, "R")))))
	case "constant power":
		v, i, err := ConstantPower(volts(row, "Vs"), unit.Power(row.Param("P", "W")), ohms(row, "R"))
		require.NoError(t, err, row.Source())
		assert.InEpsilon(t, row.Param("P", "W"), float64(v)*float64(i), 1e-12)
		answer(row, float64(v))
	case "smallest tinned 20 C":
		segment := Segment{Wire: Wire{Metal: Copper, Stranding: Stranded, Tinned: true}, OneWay: feet(row, "L"), Temperature: Celsius(20)}
		s, _, err := Search{TwoWire, segment, DC(amperes(row)), volts(row, "Vd")}.Smallest(evenGauges())
		require.NoError(t, err, row.Source())
		answer(row, float64(s.number))
	default:
		t.Errorf("%s: unknown kind %q", row.Source(), kind)
	}
}

// evenGauges are the even gauges from 22 to 2.
func evenGauges() []Size {
	var sizes []Size
	for n := 22; n >= 2; n -= 2 {
		sizes = append(sizes, AWG(n))
	}
	return sizes
}

// A solution must satisfy the phasor diagram, whatever the circuit.
func TestLoadVoltageClosesTheDiagram(t *testing.T) {
	for _, z := range []Impedance{{1.2, 0.0324}, {0.1, 0.1}, {0.02, 0}, {0, 0.3}, {0.5, -0.2}} {
		for _, pf := range []float64{0.05, 0.3, 0.6, 0.85, 1} {
			for _, leading := range []bool{false, true} {
				for _, i := range []unit.Current{0, 1, 10, 50} {
					load := Load{Current: i, PowerFactor: pf, Leading: leading}
					v, err := z.LoadVoltage(240, load)
					require.NoError(t, err)
					sin, cos := load.sincos()
					current := complex(float64(i)*cos, -float64(i)*sin)
					assert.InEpsilon(t, 240, cmplx.Abs(complex(float64(v), 0)+current*z.Complex()), 1e-12)
				}
			}
		}
	}
}

// At a small drop approximation and exact form meet; for dc they are one.
func TestDropApproximatesLoadVoltage(t *testing.T) {
	z := Impedance{0.4, 0.05}
	for _, i := range []unit.Current{0.01, 0.1, 1, 5} {
		load := Load{Current: i, PowerFactor: 0.8}
		drop := must[unit.Voltage](t)(z.Drop(load))
		v := must[unit.Voltage](t)(z.LoadVoltage(240, load))
		assert.InDelta(t, float64(drop), 240-float64(v), float64(i*i)*1e-3)
		assert.LessOrEqual(t, float64(drop), 240-float64(v)+1e-12, "the approximation is never high for a lagging load")
		dc := must[unit.Voltage](t)(Impedance{0.4, 0}.Drop(DC(i)))
		end := must[unit.Voltage](t)(Impedance{0.4, 0}.LoadVoltage(240, DC(i)))
		assert.InDelta(t, float64(dc), 240-float64(end), 1e-12)
	}
}

func TestLoadVoltageCollapses(t *testing.T) {
	z := Impedance{3, 4}
	v, err := z.LoadVoltage(240, Load{Current: 48.01, PowerFactor: 0.7})
	require.ErrorIs(t, err, ErrCollapse)
	assert.NotErrorIs(t, err, ErrDomain)
	assert.Zero(t, v)
	var limit *CurrentLimitError
	require.ErrorAs(t, err, &limit)
	assert.InDelta(t, 48, float64(limit.Limit), 1e-12, "the short-circuit current")
	assert.Equal(t, unit.Voltage(240), limit.Source)
	assert.ErrorContains(t, err, "48.01 A")
	v, err = z.LoadVoltage(240, Load{Current: 47.99, PowerFactor: 0.7})
	require.NoError(t, err)
	assert.Less(t, float64(v), 0.1)

	// A leading load on an inductive line: the root ends before the voltage.
	x := Impedance{0, 4}
	_, err = x.LoadVoltage(240, Load{Current: 1000, PowerFactor: 0.8, Leading: true})
	require.ErrorAs(t, err, &limit)
	assert.InDelta(t, 240/(4*0.8), float64(limit.Limit), 1e-9)
	_, err = x.LoadVoltage(240, Load{Current: limit.Limit * 0.999999, PowerFactor: 0.8, Leading: true})
	require.NoError(t, err)
}

func TestDivide(t *testing.T) {
	// The line divides as complex numbers do.
	for _, c := range []struct{ line, load complex128 }{
		{0.653, complex(2, 2.7)}, {complex(1.2, 0.0324), cmplx.Rect(4.8, math.Acos(0.6))}, {0, 5}, {complex(0.1, 0.2), complex(0, -5)},
	} {
		want := 240 * cmplx.Abs(c.load/(c.load+c.line))
		v := must[unit.Voltage](t)(ImpedanceOf(c.line).Divide(240, ImpedanceOf(c.load)))
		assert.InEpsilon(t, want, float64(v), 1e-12)
	}
	// The current that flows and the phasor form of a constant current agree.
	line, locked := Impedance{1.2, 0.0324}, must[Impedance](t)(LoadImpedance(240, Load{Current: 50, PowerFactor: 0.6}))
	v := must[unit.Voltage](t)(line.Divide(240, locked))
	i := unit.Current(float64(v) / float64(locked.Modulus()))
	again := must[unit.Voltage](t)(line.LoadVoltage(240, Load{Current: i, PowerFactor: 0.6}))
	assert.InEpsilon(t, float64(v), float64(again), 1e-12)
	assert.Less(t, float64(i), 50.0, "a sagging motor draws less")

	_, err := line.Divide(240, Impedance{})
	refused(t, err, "load impedance")
	_, err = Impedance{0, 5}.Divide(240, Impedance{0, -5})
	refused(t, err, "resonance")
	_, err = line.Divide(240, Impedance{-1, 0})
	refused(t, err, "load resistance")
	_, err = line.Divide(0, locked)
	refused(t, err, "source voltage 0 V, want 1 V to 35 kV")
}

func TestDropBounds(t *testing.T) {
	z, good := Impedance{0.01, 0.001}, Load{Current: 10, PowerFactor: 0.8}
	bounds(t, "current", 0, 100e3, func(x float64) error {
		_, err := z.Drop(Load{Current: unit.Current(x), PowerFactor: 0.8})
		return err
	})
	bounds(t, "power factor", 0.05, 1, func(x float64) error {
		_, err := z.LoadVoltage(240, Load{Current: 10, PowerFactor: x})
		return err
	})
	bounds(t, "source voltage", 1, 35e3, func(x float64) error {
		_, err := z.LoadVoltage(unit.Voltage(x), DC(0))
		return err
	})
	bounds(t, "line resistance", 0, 1e6, func(x float64) error {
		_, err := Impedance{unit.Resistance(x), 0}.Drop(good)
		return err
	})
	bounds(t, "line reactance", -1e6, 1e6, func(x float64) error {
		_, err := Impedance{1, unit.Resistance(x)}.Drop(good)
		return err
	})
	_, err := z.LoadVoltage(0, Load{})
	assert.ErrorContains(t, err, "source voltage")
	assert.ErrorContains(t, err, "power factor")
	assert.NotErrorIs(t, err, ErrCollapse)
}
