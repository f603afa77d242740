package conductor

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/unit"
)

// Each kernel beside the bare expression on the same inputs. The inputs vary
// with n so that nothing is computed once and for all.

var (
	sink    float64
	errSink error
	factors = [...]float64{0.6, 0.8, 0.85, 0.9}
)

func BenchmarkGaugeArea(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			a, err := AWG(n & 31).Area()
			sink, errSink = float64(a), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			d := 5 * math.Pow(92, (36-float64(n&31))/39)
			sink = d * d * 5.067074790974977e-10
			n++
		}
	})
}

func BenchmarkResistance(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			r, err := Wire{AWG(n & 31), Copper, Stranded, false}.Resistance(unit.Temperature(280 + n&63))
			sink, errSink = float64(r), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			d := 5 * math.Pow(92, (36-float64(n&31))/39)
			t := float64(280 + n&63)
			sink = 1.02e-6 / 58 / (d * d * 5.067074790974977e-10) * (1 + 0.00393*(t-293.15))
			n++
		}
	})
}

func BenchmarkTwoWireDrop(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		i := 0.0
		for b.Loop() {
			sink = float64(TwoWireDrop(0.003, 18, unit.Current(i)))
			i++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		i := 0.0
		for b.Loop() {
			sink = 2 * 18 * 0.003 * i
			i++
		}
	})
}

func BenchmarkDrop(b *testing.B) {
	z := Impedance{1.2, 0.0324}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			v, err := z.Drop(Load{Current: unit.Current(n & 63), PowerFactor: factors[n&3]})
			sink, errSink = float64(v), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			pf := factors[n&3]
			sink = float64(n&63) * (1.2*pf + 0.0324*math.Sqrt(1-pf*pf))
			n++
		}
	})
}

func BenchmarkLoadVoltage(b *testing.B) {
	z := Impedance{1.2, 0.0324}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			v, err := z.LoadVoltage(240, Load{Current: unit.Current(n & 63), PowerFactor: factors[n&3]})
			sink, errSink = float64(v), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			pf := factors[n&3]
			i, s := float64(n&63), math.Sqrt(1-pf*pf)
			q := i * (0.0324*pf - 1.2*s)
			sink = math.Sqrt(240*240-q*q) - i*(1.2*pf+0.0324*s)
			n++
		}
	})
}

func BenchmarkDivide(b *testing.B) {
	z := Impedance{1.2, 0.0324}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			v, err := z.Divide(240, Impedance{3, unit.Resistance(n & 63)})
			sink, errSink = float64(v), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			x := float64(n & 63)
			sink = 240 * math.Hypot(3, x) / math.Hypot(4.2, x+0.0324)
			n++
		}
	})
}

func BenchmarkConstantPower(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			v, i, err := ConstantPower(24, unit.Power(n&1023), 0.01)
			sink, errSink = float64(v)+float64(i), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			p := float64(n & 1023)
			v := (24 + math.Sqrt(24*24-4*p*0.01)) / 2
			sink = v + p/v
			n++
		}
	})
}

func BenchmarkSmallest(b *testing.B) {
	sizes := BuildingSizes()
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			s := Search{TwoWire, Segment{Wire{Size{}, Copper, Stranded, false}, 60, 348, 0}, DC(unit.Current(1 + n&63)), 7.2}
			_, v, err := s.Smallest(sizes)
			sink, errSink = float64(v), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		mils := make([]float64, len(sizes))
		for k, s := range sizes {
			mils[k] = s.area() / float64(CircularMil)
		}
		n := 0
		for b.Loop() {
			i, best := float64(1+n&63), math.Inf(1)
			for k := range mils {
				// The gauge is worked out from its number, as the search does.
				d := 5 * math.Pow(92, (36-float64(14-k))/39)
				v := 2 * 60 * i * 1.02e-6 / 58 / (d * d * 5.067074790974977e-10) * (1 + 0.00393*(348-293.15))
				if v <= 7.2 && mils[k] < best {
					best, sink = mils[k], v
				}
			}
			n++
		}
	})
}

func BenchmarkRun(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		segments := []Segment{{Wire{AWG(6), Copper, Solid, false}, 107, 293, 1.6e-4}, {Wire{AWG(8), Copper, Solid, false}, 91, 293, 1.6e-4}}
		n := 0
		for b.Loop() {
			segments[0].OneWay = unit.Length(1 + n&127)
			z, err := Run{TwoWire, segments}.Impedance()
			sink, errSink = float64(z.Resistance)+float64(z.Reactance), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		gauges := [...]float64{6, 8}
		n := 0
		for b.Loop() {
			lengths := [...]float64{float64(1 + n&127), 91}
			r, x := 0.0, 0.0
			for k, g := range gauges {
				d := 5 * math.Pow(92, (36-g)/39)
				r += 1e-6 / 58 / (d * d * 5.067074790974977e-10) * (1 + 0.00393*(293-293.15)) * lengths[k]
				x += 1.6e-4 * lengths[k]
			}
			sink = 2*r + 2*x
			n++
		}
	})
}
