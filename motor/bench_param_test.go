package motor

import (
	"math"
	"testing"
)

var (
	sinkSingle SinglePhaseCircuit
	sinkThree  ThreePhaseCircuit
)

// BenchmarkFit has the whole search as kernel, and as bare one look at the
// residuals, of which it takes some hundred.
func BenchmarkFit(b *testing.B) {
	three := designB()
	single := three
	single.Type, single.FullLoadCurrent, single.LockedRotorCurrent, single.LockedRotorPowerFactor = CapacitorStart, 45, 260, 0
	single.StartingTorque, single.FullLoadSpeed, single.Efficiency = 2, 1740, 0
	single.FullLoadSpeed *= RPM
	for name, c := range map[string]Catalogue{"three": three, "capacitor": single} {
		b.Run(name+"/kernel", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				var err error
				if c.Type == ThreePhase {
					sinkThree, _, err = c.FitThreePhase()
				} else {
					sinkSingle, _, err = c.FitSinglePhase()
				}
				if err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(name+"/bare", func(b *testing.B) {
			b.ReportAllocs()
			f := c.fitting()
			x := make([]float64, len(f.free))
			for b.Loop() {
				f.evaluate(x, f.residuals)
				sinkFloat = f.residuals[0]
			}
		})
	}
}

// BenchmarkTypical has as bare the interpolation of one parameter.
func BenchmarkTypical(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			p, err := TypicalSinglePhase(CapacitorStart, Horsepower, 230, 60, 4)
			if err != nil {
				b.Fatal(err)
			}
			sinkSingle = p.Circuit
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			sinkFloat = math.Pow(1.9, float64(i&7)/8)
		}
	})
}

func BenchmarkTestsCircuit(b *testing.B) {
	t := SinglePhaseTests{
		Voltage: 115, Frequency: 60, Poles: 4, R1: 2.5,
		NoLoad: TestReading{115, 3.2, 55.17}, Blocked: TestReading{25, 3.72, 86.23},
	}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			c, err := t.Circuit()
			if err != nil {
				b.Fatal(err)
			}
			sinkSingle = c
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		vb, ib, pb, vn, in, pn := 25.0, 3.72, 86.23, 115.0, 3.2, 55.17
		for b.Loop() {
			r := pb / (ib * ib)
			x := math.Sqrt(vb*vb/(ib*ib) - r*r)
			rn := pn / (in * in)
			sinkFloat = 2 * (math.Sqrt(vn*vn/(in*in)-rn*rn) - 0.75*x)
			sinkFloat += pn - in*in*(2.5+(r-2.5)/4)
		}
	})
}

func BenchmarkWithLockedRotorCurrent(b *testing.B) {
	c := quarterHorse(reactance(3, 14.5))
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			d, err := c.WithLockedRotorCurrent(20)
			if err != nil {
				b.Fatal(err)
			}
			sinkSingle = d
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			w := c.windings(1, 1, starting)
			sinkComplex = w.main + w.auxiliary
		}
	})
}
