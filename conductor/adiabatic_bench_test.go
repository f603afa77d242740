package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// bareSkin is the continued fraction of skinEffect with complex numbers, as one
// would write it.
func bareSkin(x float64) complex128 {
	y, t := complex(0, x*x/4), complex(1, 0)
	for n := math.Floor(9 + 1.6*x); n >= 1; n-- {
		t = 1 + y/complex(n*(n+1), 0)/t
	}
	return t
}

func BenchmarkSkinEffect(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			r, l, err := SkinEffect(float64(n&63) / 16)
			sink, errSink = r+l, err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			x := float64(n&63)/16 + 1e-9
			t := bareSkin(x)
			sink = real(t) + 8/(x*x)*imag(t)
			n++
		}
	})
}

func BenchmarkProximityEffectIEC(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			y, err := ProximityEffectIEC(ThreeCores, float64(n&63)/32, 0.7)
			sink, errSink = y, err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			x, k := float64(n&63)/32, 0.7
			x4 := x * x * x * x
			f := x4 / (192 + 0.8*x4)
			sink = f * k * k * (0.312*k*k + 1.18/(f+0.27))
			n++
		}
	})
}

func BenchmarkLargestShortCurrent(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			i, err := AdiabaticFactor(143e6).LargestCurrent(unit.Area(1+n&63)*1e-6, 0.5)
			sink, errSink = float64(i), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			sink = 143e6 * float64(1+n&63) * 1e-6 / math.Sqrt(0.5+float64(n&1))
			n++
		}
	})
}

func BenchmarkFinalTemperature(b *testing.B) {
	law, err := Copper.HeatingIEC()
	if err != nil {
		b.Fatal(err)
	}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			t, err := law.FinalTemperature(10e-6, unit.Current(n&511), 2, 313.15)
			sink, errSink = float64(t), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			j := float64(n&511) / 10e-6
			sink = (40+234.5)*math.Exp(j*j*2/5.0926e16) - 234.5
			n++
		}
	})
}

func BenchmarkMelting(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			i, err := MeltingCurrentOnderdonk(unit.Area(1+n&63)*1e-6, 1, 298.15)
			sink, errSink = float64(i), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			at := 25 + float64(n&1)
			sink = float64(1+n&63) * 1973.5 * math.Sqrt(math.Log10((1083-at)/(234+at)+1)/33)
			n++
		}
	})
}

func BenchmarkAtLockedRotor(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			s, err := Impedance{1.2, 0.03}.AtLockedRotor(240, 230, Impedance{3, unit.Resistance(n & 63)})
			sink, errSink = s.Margin+float64(s.Current), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			x := float64(n & 63)
			z := math.Hypot(3, x)
			v := 240 * z / math.Hypot(4.2, x+0.03)
			sink = v/230/0.65 - 1 + v/z
			n++
		}
	})
}

func TestShortTimeKernelsDoNotAllocate(t *testing.T) {
	k := 143 * AmpereRootSecondPerSquareMillimetre
	law := SteelHeating()
	path := Path{{"battery", Impedance{0.005, 0}}, {"cable", Impedance{0.002, 0}}}
	entry, err := Table9(AWG(-3), Aluminium, SteelConduit)
	require.NoError(t, err)
	for name, f := range map[string]func() error{
		"SkinEffect":               func() error { _, _, err := SkinEffect(1.5); return err },
		"ACResistance":             func() error { _, err := ACResistance(1e-4, 60); return err },
		"InternalReactance":        func() error { _, err := InternalReactance(1e-4, 60); return err },
		"SkinEffectIEC":            func() error { _, err := SkinEffectIEC(1.5); return err },
		"ProximityEffectIEC":       func() error { _, err := ProximityEffectIEC(TwoCores, 1, 0.5); return err },
		"Table9":                   func() error { _, err := Table9(KCMilSize(1000), Aluminium, SteelConduit); return err },
		"Over":                     func() error { _, err := entry.Over(TwoWire, 10); return err },
		"Path.Impedance":           func() error { _, err := path.Impedance(); return err },
		"AtLockedRotor":            func() error { _, err := Impedance{1, 0}.AtLockedRotor(240, 230, Impedance{3, 4}); return err },
		"LargestCurrent":           func() error { _, err := k.LargestCurrent(1e-5, 1); return err },
		"LongestTime":              func() error { _, err := k.LongestTime(1e-5, 1000); return err },
		"LeastArea":                func() error { _, err := k.LeastArea(1000, 1); return err },
		"LetThrough":               func() error { _, err := k.LetThrough(1e-5); return err },
		"LeastAreaFor":             func() error { _, err := k.LeastAreaFor(1e6); return err },
		"Factor":                   func() error { _, err := law.Factor(300, 500); return err },
		"FinalTemperature":         func() error { _, err := law.FinalTemperature(1e-5, 100, 1, 300); return err },
		"MeltingCurrentOnderdonk":  func() error { _, err := MeltingCurrentOnderdonk(1e-6, 1, 300); return err },
		"MeltingTimeOnderdonk":     func() error { _, err := MeltingTimeOnderdonk(1e-6, 300, 300); return err },
		"MeltingCurrentPreece":     func() error { _, err := MeltingCurrentPreece(Copper, 1e-3); return err },
		"MeltingDiameterPreece":    func() error { _, err := MeltingDiameterPreece(Aluminium, 10); return err },
		"constants of the heating": func() error { _, err := Copper.HeatingICEA(); return err },
	} {
		require.NoError(t, f(), name)
		allocsFree(t, name, func() { _ = f() })
	}
}

// Whatever is put in, an answer or an error comes out.
func TestShortTimeNothingPanics(t *testing.T) {
	odd := []float64{0, -1, 1, 60, 300, 1e7, 5e16, 1e-300, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)}
	good := func(x float64, err error) {
		t.Helper()
		assert.True(t, err != nil || !math.IsNaN(x) && !math.IsInf(x, 0), "result %v without error", x)
		if err != nil {
			assert.NotEmpty(t, err.Error())
		}
	}
	for _, a := range odd {
		for _, b := range odd {
			good(skinPair(a))
			x, err := ACResistance(ResistancePerLength(a), unit.Frequency(b))
			good(float64(x), err)
			y, err := ProximityEffectIEC(Cores(2), a, b)
			good(y, err)
			for _, c := range odd {
				k := AdiabaticFactor(a)
				i, err := k.LargestCurrent(unit.Area(b), unit.Time(c))
				good(float64(i), err)
				s, err := k.LeastArea(unit.Current(b), unit.Time(c))
				good(float64(s), err)
				d, err := k.LongestTime(unit.Area(b), unit.Current(c))
				good(float64(d), err)
				law := HeatingLaw{a, b}
				f, err := law.Factor(unit.Temperature(c), unit.Temperature(a))
				good(float64(f), err)
				for _, law := range []HeatingLaw{law, SteelHeating()} {
					at, err := law.FinalTemperature(1e-5, unit.Current(a), unit.Time(b), unit.Temperature(c))
					good(float64(at), err)
				}
				m, err := MeltingCurrentOnderdonk(unit.Area(a), unit.Time(b), unit.Temperature(c))
				good(float64(m), err)
				d, err = MeltingTimeOnderdonk(unit.Area(a), unit.Current(b), unit.Temperature(c))
				good(float64(d), err)
				v, err := Impedance{unit.Resistance(a), 0}.AtLockedRotor(unit.Voltage(b), unit.Voltage(c), Impedance{1, 1})
				good(v.Margin, err)
			}
		}
	}
}

func skinPair(x float64) (float64, error) {
	r, l, err := SkinEffect(x)
	return r + l, err
}
