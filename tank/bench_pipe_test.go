package tank

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/unit"
)

// benchFlows vary with the iteration, so that no loop folds away.
var benchFlows = func() (q [64]FlowRate) {
	for i := range q {
		q[i] = FlowRate(8+0.1*float64(i)) * USGallonPerMinute
	}
	return q
}()

func BenchmarkPipeLoss(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			l, err := demoPipe.Loss(benchFlows[i&63], cold)
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(l.Head)
		}
		sink = sum
	})
	// bare takes three rounds of Newton's method without a test of the end.
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		d, l, sum := float64(demoPipe.Diameter), float64(demoPipe.Length), 0.0
		e, nu := float64(demoPipe.Roughness), float64(cold.Viscosity)/float64(cold.Density)
		for i := 0; b.Loop(); i++ {
			v := 4 * float64(benchFlows[i&63]) / (math.Pi * d * d)
			p, r := e/d/3.7, 2.51*nu/(v*d)
			x := -2 / math.Ln10 * math.Log(p+7*r)
			for range 3 {
				y := p + r*x
				x -= (x + 2/math.Ln10*math.Log(y)) / (1 + 2/math.Ln10*r/y)
			}
			sum += l / d * v * v / (2 * gravity * x * x)
		}
		sink = sum
	})
}

func BenchmarkHazenWilliamsLoss(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			h, err := HazenWilliamsLoss(benchFlows[i&63], 140, demoPipe.Diameter, demoPipe.Length)
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(h)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		d, l, sum := float64(demoPipe.Diameter), float64(demoPipe.Length), 0.0
		for i := 0; b.Loop(); i++ {
			v := 4 * float64(benchFlows[i&63]) / (math.Pi * d * d) / 0.3048
			sum += l * math.Exp((math.Log(v/(1.318*140))-0.63*math.Log(d/4/0.3048))/0.54)
		}
		sink = sum
	})
}

func BenchmarkSuctionJet(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		s, sum := well, 0.0
		for i := 0; b.Loop(); i++ {
			s.Lift = 3 * Foot
			s.Friction = 1000 * unit.Length(benchFlows[i&63])
			r, err := s.Jet(2)
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(r.Margin)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		pa, pv, rho, sum := float64(well.Atmosphere), float64(cold.Vapour), float64(cold.Density), 0.0
		for i := 0; b.Loop(); i++ {
			sum += (pa-pv)/(rho*gravity) - 3*0.3048 - 1000*float64(benchFlows[i&63]) - 2
		}
		sink = sum
	})
}
