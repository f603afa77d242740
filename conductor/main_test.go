package conductor

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestMain(m *testing.M) { reftest.Main(m) }

// sizeOf reads a column of a reference table as a size.
func sizeOf(t *testing.T, row reftest.Row, column string) Size {
	t.Helper()
	s, err := ParseSize(row.Text(column))
	require.NoError(t, err, row.Source())
	return s
}

// must unwraps a result that has to be good.
func must[T any](t *testing.T) func(T, error) T {
	t.Helper()
	return func(x T, err error) T {
		t.Helper()
		require.NoError(t, err)
		return x
	}
}

// solid is untinned solid copper of one size.
func solid(s Size) Wire { return Wire{Size: s, Metal: Copper, Stranding: Solid} }

// refused checks that an error is an argument error and says what it should.
func refused(t *testing.T, err error, says string) {
	t.Helper()
	require.ErrorIs(t, err, ErrDomain)
	var domain *DomainError
	require.ErrorAs(t, err, &domain)
	assert.Equal(t, "conductor", domain.Package)
	assert.ErrorContains(t, err, says)
}

// bounds checks both sides of a range, and what is no number.
func bounds(t *testing.T, says string, lo, hi float64, call func(float64) error) {
	t.Helper()
	require.NoError(t, call(lo), "low end of %s", says)
	require.NoError(t, call(hi), "high end of %s", says)
	span := math.Max(math.Abs(lo), math.Abs(hi))
	for _, x := range []float64{
		lo - 1e-9*span, math.Nextafter(hi, math.Inf(1)), math.NaN(), math.Inf(1), math.Inf(-1), -span,
	} {
		if x >= lo && x <= hi {
			continue
		}
		err := call(x)
		require.ErrorIs(t, err, ErrDomain, "%s %v", says, x)
		require.ErrorContains(t, err, says)
	}
}

func allocsFree(t *testing.T, name string, f func()) {
	t.Helper()
	assert.Zero(t, testing.AllocsPerRun(100, f), "%s allocates", name)
}

func TestKernelsDoNotAllocate(t *testing.T) {
	w := Wire{AWG(10), Copper, Stranded, true}
	run := Run{TwoWire, []Segment{{Wire: w, OneWay: 60 * Foot, Temperature: Celsius(75)}}}
	z := Impedance{1.2, 0.03}
	load := Load{Current: 10, PowerFactor: 0.8}
	search := Search{TwoWire, run.Segments[0], load, 7}
	var (
		s   Size
		err error
	)
	allocsFree(t, "Area", func() { _, err = w.Size.Area() })
	allocsFree(t, "Resistance", func() { _, err = w.Resistance(Celsius(75)) })
	allocsFree(t, "metric Resistance", func() {
		_, err = Wire{MetricSize(35 * SquareMillimetre), Copper, Flexible, false}.Resistance(Celsius(75))
	})
	allocsFree(t, "Table8", func() { _, err = Table8(AWG(10), Stranded) })
	allocsFree(t, "Run.Impedance", func() { _, err = run.Impedance() })
	allocsFree(t, "Drop", func() { _, err = z.Drop(load) })
	allocsFree(t, "LoadVoltage", func() { _, err = z.LoadVoltage(240, load) })
	allocsFree(t, "Divide", func() { _, err = z.Divide(240, Impedance{3, 4}) })
	allocsFree(t, "ConstantPower", func() { _, _, err = ConstantPower(12, 400, 0.01) })
	allocsFree(t, "drop of one size", func() { _, err = search.drop(AWG(8)) })
	sizes := BuildingSizes()
	allocsFree(t, "Smallest", func() { s, _, err = search.Smallest(sizes) })
	allocsFree(t, "ParseSize", func() { s, err = ParseSize("1/0 AWG") })
	require.NoError(t, err)
	assert.Equal(t, AWG(0), s)
}

// Whatever is put in, an answer or an error comes out, and a good answer is a
// finite number.
func TestNothingPanics(t *testing.T) {
	odd := []float64{0, -1, 1, 12, 1e-300, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)}
	finite := func(x float64, err error) {
		if err == nil {
			assert.False(t, math.IsNaN(x) || math.IsInf(x, 0), "result %v without error", x)
		} else {
			var d *DomainError
			var c *CurrentLimitError
			var p *PowerLimitError
			assert.True(t, errors.As(err, &d) || errors.As(err, &c) || errors.As(err, &p), "%v", err)
			assert.NotEmpty(t, err.Error())
		}
	}
	for _, a := range odd {
		for _, b := range odd {
			for _, c := range odd {
				z := Impedance{unit.Resistance(a), unit.Resistance(b)}
				l := Load{Current: unit.Current(b), PowerFactor: c, Leading: true}
				v, err := z.Drop(l)
				finite(float64(v), err)
				v, err = z.LoadVoltage(unit.Voltage(c), Load{Current: unit.Current(a), PowerFactor: 1, Leading: b > 0})
				finite(float64(v), err)
				v, err = z.Divide(unit.Voltage(c), Impedance{unit.Resistance(b), unit.Resistance(-a)})
				finite(float64(v), err)
				v, i, err := ConstantPower(unit.Voltage(a), unit.Power(b), unit.Resistance(c))
				finite(float64(v), err)
				finite(float64(i), err)
				d := DropLimit{TwoWire, unit.Length(a), unit.Current(b), unit.Voltage(c)}
				r, err := d.Resistance()
				finite(float64(r), err)
				k, err := d.LongestOneWay(ResistancePerLength(a))
				finite(float64(k), err)
				li, err := LoadImpedance(unit.Voltage(a), Load{Current: unit.Current(b), PowerFactor: c})
				finite(float64(li.Modulus()), err)
				s := Segment{solid(AWG(10)), unit.Length(a), unit.Temperature(b), ResistancePerLength(c)}
				loop, err := s.LoopResistance()
				finite(float64(loop), err)
			}
		}
		n, err := GaugeNumber(unit.Length(a))
		finite(n, err)
		for _, m := range []Metal{0, Copper, Aluminium, 3, 255} {
			rho, err := m.Resistivity(unit.Temperature(a))
			finite(float64(rho), err)
		}
		assert.NotPanics(t, func() { _ = MetricSize(unit.Area(a)) })
	}
	for _, n := range []int{math.MinInt, -4, 41, math.MaxInt} {
		assert.False(t, AWG(n).IsValid())
		assert.False(t, KCMilSize(n).IsValid())
	}
}
