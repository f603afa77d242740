package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// batteryPath is a 12 V battery with its cable: 5 mΩ inside, two lugs, cable.
func batteryPath() Path {
	return Path{
		{"battery", Impedance{0.005, 0}},
		{"contacts", Impedance{0.0004, 0}},
		{"cable", Impedance{0.002, 0}},
	}
}

func TestPathDC(t *testing.T) {
	p := batteryPath()
	z := must[Impedance](t)(p.Impedance())
	assert.InDelta(t, 0.0074, float64(z.Resistance), 1e-15)
	points := must[[]Point](t)(p.Voltages(12.6, DC(100)))
	for k, want := range []struct{ v, lost float64 }{{12.1, 0.5}, {12.06, 0.04}, {11.86, 0.2}} {
		assert.Equal(t, p[k].Name, points[k].Name)
		assert.InDelta(t, want.v, float64(points[k].Voltage), 1e-12)
		assert.InDelta(t, want.lost, float64(points[k].Lost), 1e-12)
	}
	_, err := p.Voltages(12.6, DC(2000))
	require.ErrorIs(t, err, ErrCollapse)
	// An inverter as the load: the path's sum goes into the quadratic, and the
	// points at its current end at its voltage.
	v, i, err := ConstantPower(12.6, 800, z.Resistance)
	require.NoError(t, err)
	points = must[[]Point](t)(p.Voltages(12.6, DC(i)))
	assert.InEpsilon(t, float64(v), float64(points[2].Voltage), 1e-12)
}

// A held rotor through two runs of wire: the divider, node by node.
func TestPathLockedRotor(t *testing.T) {
	p := Path{{"inverter", Impedance{0.2, 0.5}}, {"house", Impedance{0.3, 0.04}}, {"well", Impedance{0.9, 0.06}}}
	locked := must[Impedance](t)(LoadImpedance(230, Load{Current: 50, PowerFactor: 0.55}))
	points := must[[]Point](t)(p.VoltagesAt(240, locked))
	i := 240 / (complex(1.4, 0.6) + locked.Complex())
	at := complex(240, 0)
	for k := range p {
		at -= i * p[k].Impedance.Complex()
		assert.InEpsilon(t, math.Hypot(real(at), imag(at)), float64(points[k].Voltage), 1e-12)
	}
	sum := must[Impedance](t)(p.Impedance())
	start := must[StartVoltage](t)(sum.AtLockedRotor(240, 230, locked))
	assert.InEpsilon(t, float64(points[2].Voltage), float64(start.Terminal), 1e-12)
	assert.InEpsilon(t, math.Hypot(real(i), imag(i)), float64(start.Current), 1e-12)
	assert.InEpsilon(t, float64(start.Terminal)/230, start.Fraction, 1e-12)
	assert.True(t, start.Holds)
	assert.InEpsilon(t, start.Fraction/0.65-1, start.Margin, 1e-12)
	// Just on either side of the rule: for a pure resistance the fraction is
	// Zm/(Zm + R).
	for _, c := range []struct {
		line  unit.Resistance
		holds bool
	}{{5.38, true}, {5.39, false}} {
		start = must[StartVoltage](t)(Impedance{c.line, 0}.AtLockedRotor(240, 240, Impedance{10, 0}))
		assert.Equal(t, c.holds, start.Holds)
		assert.Equal(t, c.holds, start.Margin >= 0)
		assert.InEpsilon(t, 10/(10+float64(c.line)), start.Fraction, 1e-12)
	}
}

// At the rule itself the start holds.
func TestAtLockedRotorOnTheLine(t *testing.T) {
	start := must[StartVoltage](t)(Impedance{3.5, 0}.AtLockedRotor(240, 240, Impedance{6.5, 0}))
	assert.InDelta(t, LeastStartVoltage, start.Fraction, 0)
	assert.True(t, start.Holds)
	assert.InDelta(t, 0, start.Margin, 0)
}

func TestPathRefuses(t *testing.T) {
	_, err := Path{}.Impedance()
	refused(t, err, "path without parts, want at least one")
	_, err = Path(nil).Voltages(12, DC(1))
	refused(t, err, "path")
	bad := Path{{"battery", Impedance{0.01, 0}}, {"lug", Impedance{-1, 0}}, {"cable", Impedance{1, unit.Resistance(math.NaN())}}}
	_, err = bad.VoltagesAt(12, Impedance{1, 0})
	refused(t, err, "part 2, lug: ")
	require.ErrorContains(t, err, "part 3, cable: ")
	p := batteryPath()
	_, err = p.Voltages(0, DC(1))
	refused(t, err, "source voltage")
	_, err = p.VoltagesAt(12, Impedance{})
	refused(t, err, "load impedance")
	z := Impedance{1, 0}
	bounds(t, "rated voltage", 120, 480, func(x float64) error {
		_, err := z.AtLockedRotor(240, unit.Voltage(x), Impedance{10, 0})
		return err
	})
	_, err = z.AtLockedRotor(0, 0, Impedance{10, 0})
	refused(t, err, "source voltage")
	_, err = z.AtLockedRotor(240, 230, Impedance{})
	refused(t, err, "load impedance")
	_, err = z.AtLockedRotor(35e3, 1, Impedance{10, 0})
	refused(t, err, "rated voltage")
}

// What is lost adds up, and a longer path leaves less of a resistive load.
func FuzzPath(f *testing.F) {
	f.Add(0.1, 0.2, 0.3, 0.4, 0.5)
	f.Fuzz(func(t *testing.T, a, b, c, d, e float64) {
		p := Path{
			{"a", Impedance{unit.Resistance(fold(a, 0, 1)), unit.Resistance(fold(b, -1, 1))}},
			{"b", Impedance{unit.Resistance(fold(c, 0, 1)), 0}},
			{"c", Impedance{unit.Resistance(fold(d, 0, 1)), unit.Resistance(fold(a, 0, 1))}},
		}
		add := func(points []Point, err error) {
			if err != nil {
				return
			}
			sum := 0.0
			for _, q := range points {
				sum += float64(q.Lost)
			}
			end := float64(points[len(points)-1].Voltage)
			if math.Abs(sum-(240-end)) > 1e-9*240 {
				t.Fatalf("%v lost of 240 V, %v left", sum, end)
			}
		}
		add(p.Voltages(240, Load{unit.Current(fold(e, 0, 60)), fold(b, 0.05, 1), c > 0.5}))
		add(p.VoltagesAt(240, Impedance{unit.Resistance(fold(e, 0.1, 50)), unit.Resistance(fold(c, 0, 50))}))
	})
}
