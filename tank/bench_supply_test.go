package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// BenchmarkOperatingPoint: pump and pipe meet. The bare one is 12 steps of
// Newton's method on the same two powers, without a bracket.
func BenchmarkOperatingPoint(b *testing.B) {
	s := house(b)
	p, err := s.pumping()
	require.NoError(b, err)
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := range b.N {
			at, err := p.at(200e3 + float64(i&63)*2e3)
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(at.Flow)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		sum := 0.0
		for i := range b.N {
			static := 20 + (200e3+float64(i&63)*2e3)/float64(PSI)*2.31
			q := 10.0
			for range 12 {
				k := 0.0885068756344 * math.Pow(q, 0.852)
				q -= (180 - 0.6*q*q - static - k*q) / (-1.2*q - 1.852*k)
			}
			sum += q
		}
		sink = sum
	})
}

// BenchmarkFill: a fill with friction and a demand by quadrature. The bare one
// is Gauss and Legendre's rule of 30 points over the volume, each with 12 steps
// of Newton's method for the flow; it knows neither errors nor energy.
func BenchmarkFill(b *testing.B) {
	s := house(b)
	p, err := s.pumping()
	require.NoError(b, err)
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := range b.N {
			f, err := p.fill(1e-5 * float64(i&15))
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(f.Time)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		vd, air := p.drawdown(1), p.air
		sum := 0.0
		for i := range b.N {
			demand := 1e-5 * float64(i&15) / float64(USGallonPerMinute)
			for k := range 30 {
				v := vd * (float64(k) + 0.5) / 30
				static := 20 + (p.on*air/(air-v)-p.atmosphere)/float64(PSI)*2.31
				q := 10.0
				for range 12 {
					k := 0.0885068756344 * math.Pow(q, 0.852)
					q -= (180 - 0.6*q*q - static - k*q) / (-1.2*q - 1.852*k)
				}
				sum += vd / 30 / (q - demand)
			}
		}
		sink = sum
	})
}

// BenchmarkDay: a day of 24 hourly draws. The bare one walks the same day in
// steps of a second with the flow of a straight line.
func BenchmarkDay(b *testing.B) {
	s := house(b)
	full, err := s.Full()
	require.NoError(b, err)
	day := hours()
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for range b.N {
			got, err := s.Follow(full, day)
			if err != nil {
				b.Fatal(err)
			}
			sink = float64(got.Energy)
		}
	})
	b.Run("bare", func(b *testing.B) {
		on, err := s.At(demo.CutIn)
		require.NoError(b, err)
		off, err := s.At(demo.CutOut)
		require.NoError(b, err)
		vd := float64(full.Stored)
		for range b.N {
			v, running, energy := vd, false, 0.0
			for _, d := range day {
				for range 3600 {
					flow := 0.0
					if running {
						flow = float64(on.Flow) + float64(off.Flow-on.Flow)*v/vd
						energy += 500 + 25*flow/float64(USGallonPerMinute)
					}
					v += flow - float64(d.Demand)
					running = v <= 0 || running && v < vd
				}
			}
			sink = energy
		}
	})
}

// The kernels of the supply allocate nothing.
func TestSupplyAllocatesNothing(t *testing.T) {
	s := house(t)
	full, err := s.Full()
	require.NoError(t, err)
	day := hours()
	for name, f := range map[string]func(){
		"At":     func() { _, _ = s.At(40 * PSI) },
		"Fill":   func() { _, _ = s.Fill(4*USGallonPerMinute, 1) },
		"Follow": func() { _, _ = s.Follow(full, day) },
		"Head":   func() { _, _ = s.Main.Head(1e-4, unit.Pressure(2e5)) },
	} {
		require.Zero(t, testing.AllocsPerRun(20, f), name)
	}
}
