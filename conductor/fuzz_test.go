package conductor

import (
	"errors"
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/unit"
)

func FuzzParseSize(f *testing.F) {
	for _, s := range []string{"10 AWG", "4/0", "1/0 awg", "250 kcmil", "35 mm²", "2.5mm2", "", "10", "\xff²", "9999 MCM"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseSize(text)
		if (err == nil) != s.IsValid() {
			t.Fatalf("%q: %v, %v", text, s, err)
		}
		if err != nil {
			return
		}
		again, err := ParseSize(s.String())
		if err != nil || again != s {
			t.Fatalf("%q: %v became %v, %v", text, s, again, err)
		}
		data, err := s.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var back Size
		if err := back.UnmarshalText(data); err != nil || back != s {
			t.Fatalf("%q: %v became %v, %v", text, s, back, err)
		}
	})
}

// fold brings any number into [lo, hi].
func fold(x, lo, hi float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return lo
	}
	x = math.Abs(x)
	return lo + (hi-lo)*(x-math.Floor(x))
}

// Resistance grows with gauge number and temperature, and scales with length.
func FuzzResistanceMonotone(f *testing.F) {
	f.Add(int8(10), 0.3, 0.5, 0.2)
	f.Add(int8(-3), 0.9, 0.1, 0.7)
	f.Fuzz(func(t *testing.T, n int8, a, b, c float64) {
		gauge := int(fold(float64(n)/43, largestGauge, finestGauge))
		t1, t2 := fold(a, -60, 300), fold(b, -60, 300)
		if t1 > t2 {
			t1, t2 = t2, t1
		}
		for _, w := range []Wire{
			{AWG(gauge), Copper, Solid, false}, {AWG(gauge), Copper, Stranded, true}, {AWG(gauge), Aluminium, Flexible, false},
		} {
			cold, err1 := w.Resistance(Celsius(t1))
			hot, err2 := w.Resistance(Celsius(t2))
			if err1 != nil || err2 != nil || !(cold <= hot) || !(cold > 0) {
				t.Fatalf("%v: %v at %v, %v at %v: %v %v", w, cold, t1, hot, t2, err1, err2)
			}
			if gauge < finestGauge {
				thin := w
				thin.Size = AWG(gauge + 1)
				if r, err := thin.Resistance(Celsius(t1)); err != nil || !(r > cold) {
					t.Fatalf("%v has %v, %v has %v: %v", thin, r, w, cold, err)
				}
			}
			l := unit.Length(fold(c, 0.01, 1e4))
			s := Segment{w, l, Celsius(t1), 0}
			loop, err := s.LoopResistance()
			if err != nil || math.Abs(float64(loop)-2*float64(cold)*float64(l)) > 1e-12*float64(loop) {
				t.Fatalf("loop %v of %v over %v: %v", loop, cold, l, err)
			}
		}
	})
}

// Whatever voltage is given back, the phasors add up to the source.
func FuzzLoadVoltage(f *testing.F) {
	f.Add(0.1, 0.2, 0.3, 0.4, 0.5, true)
	f.Add(0.9, 0.9, 0.9, 0.9, 0.9, false)
	f.Fuzz(func(t *testing.T, a, b, c, d, e float64, leading bool) {
		vs, i := fold(a, 1, 600), fold(b, 0, 300)
		pf := fold(c, 0.05, 1)
		z := Impedance{unit.Resistance(fold(d, 0, 3)), unit.Resistance(fold(e, 0, 3))}
		load := Load{unit.Current(i), pf, leading}
		v, err := z.LoadVoltage(unit.Voltage(vs), load)
		sin, cos := load.sincos()
		current := complex(i*cos, -i*sin)
		if err != nil {
			var limit *CurrentLimitError
			if !errors.As(err, &limit) || !(limit.Limit <= limit.Current*(1+1e-9)) {
				t.Fatalf("%v", err)
			}
			return
		}
		back := cmplx.Abs(complex(float64(v), 0) + current*z.Complex())
		if math.Abs(back-vs) > 1e-9*(vs+i*cmplx.Abs(z.Complex())) {
			t.Fatalf("Vs %v, I %v, pf %v, Z %v: V %v gives back %v", vs, i, pf, z, v, back)
		}
	})
}

// Energy balance: what the source gives is what the load takes and the cable
// warms.
func FuzzConstantPower(f *testing.F) {
	f.Add(0.5, 0.5, 0.5)
	f.Fuzz(func(t *testing.T, a, b, c float64) {
		vs, p, r := fold(a, 1, 600), fold(b, 0, 10e3), fold(c, 0, 0.1)
		v, i, err := ConstantPower(unit.Voltage(vs), unit.Power(p), unit.Resistance(r))
		if err != nil {
			if 4*p*r < vs*vs*(1-1e-12) {
				t.Fatalf("%v", err)
			}
			return
		}
		if float64(v) < vs/2*(1-1e-12) {
			t.Fatalf("the lower root: %v of %v", v, vs)
		}
		given, used := vs*float64(i), p+float64(i)*float64(i)*r
		if math.Abs(given-used) > 1e-9*(1+given) {
			t.Fatalf("given %v, used %v", given, used)
		}
	})
}
