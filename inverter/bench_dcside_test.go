package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

func BenchmarkLimitedUnder(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		l, sum, i := limited12V, 0.0, 0
		for b.Loop() {
			v, _, _ := l.Under(complex(14400/loads[i&15], 2), 0.5)
			sum += float64(v)
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		p0, lin, quad, pr := bareIdle, bareLinear, bareQuadratic, bareRated
		voc, r, limit, rating, most, floor, sum, i := bareVoc, bareR, 28.0, 3000.0/120, 3500.0, 9.5, 0.0, 0
		for b.Loop() {
			re, im := 14400/loads[i&15], 2.0
			z := math.Hypot(re, im)
			v := min(120, limit*z, rating*z)
			k, a := (1+lin)*re/(z*z), quad/(pr*z*z)
			if m := min(most, floor*(voc-floor)/r); p0+(k+a*v*v)*v*v > m {
				c := m - p0
				v = math.Sqrt(2 * c / (k + math.Sqrt(k*k+4*a*c)))
			}
			sum += v
			i++
		}
		sink = sum
	})
}

func BenchmarkCarry(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum, i := 0.0, 0
		for b.Loop() {
			p := loads[i&15]
			c, _ := system12V.Carry(PowerTriangle{Real: unit.Power(p), Apparent: ApparentPower(1.2 * p)})
			sum += float64(c.DC.Current) + c.ToCutOff
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		p0, v, r, pr, voc, ohms, cut, sum, i := bareIdle, bareLinear, bareQuadratic, bareRated, bareVoc, bareR, 10.5, 0.0, 0
		for b.Loop() {
			p := loads[i&15]
			s := 1.2 * p
			dc := p0 + (1+v)*p + r*s*s/pr
			x := voc + math.Sqrt(voc*voc-4*dc*ohms)
			sum += 2*dc/x + cut*(voc-cut)/(ohms*dc)
			i++
		}
		sink = sum
	})
}

func BenchmarkVoltageLoss(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum, i := 0.0, 0
		for b.Loop() {
			p, _ := grid2kW.DCPower(unit.Power(0.6*loads[i&15]), 52)
			sum += float64(p)
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		l, sum, i := grid2kW, 0.0, 0
		for b.Loop() {
			u := 52 - float64(l.Nominal)
			x, y, c := float64(l.DC)*(1+l.DCSlope*u), float64(l.Start)*(1+l.StartSlope*u), l.Curve*(1+l.CurveSlope*u)
			k, p := float64(l.AC)/(x-y)-c*(x-y), 0.6*loads[i&15]
			sum += y + 2*p/(k+math.Sqrt(k*k+4*c*p))
			i++
		}
		sink = sum
	})
}

// startDemand is a start in eight samples.
var startDemand = []DemandSample{
	{0, 2900, 2650},
	{0.1, 2880, 2660},
	{0.4, 2800, 2600},
	{0.6, 2300, 2100},
	{0.62, 1500, 1050},
	{0.75, 700, 450},
	{1.2, 640, 410},
	{3, 640, 410},
}

func BenchmarkSurgeFollow(b *testing.B) {
	s := Surge{Continuous: 1500, Points: []SurgePoint{{3000, 1}, {2000, 20}}}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for b.Loop() {
			first, _ := s.Follow(startDemand)
			sum += float64(first.Demand.After)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for b.Loop() {
			for k, level := range [...]float64{3000, 2000, 1500} {
				over := 0.0
				for i := 1; i < len(startDemand); i++ {
					t0, y0 := float64(startDemand[i-1].After), float64(startDemand[i-1].Apparent)
					t1, y1 := float64(startDemand[i].After), float64(startDemand[i].Apparent)
					share := 1.0
					if y0 <= level || y1 <= level {
						share = max(0, (max(y0, y1)-level)/math.Abs(y1-y0))
					}
					over += share * (t1 - t0)
				}
				if over > [...]float64{0, 1, 20}[k] {
					sum += over
				}
			}
		}
		sink = sum
	})
}

func TestNoAllocationsDCSide(t *testing.T) {
	var err error
	envelopeB := envelopes["B"]
	for name, f := range map[string]func(){
		"Under":    func() { _, _, err = limited12V.Under(10+2i, 0.5) },
		"DCLink":   func() { _, _, err = link1kW.Under(10+2i, 0.5) },
		"Carry":    func() { _, err = system12V.Carry(PowerTriangle{Real: 1000, Apparent: 1200}) },
		"Voltage":  func() { _, err = grid2kW.DCPower(1000, 52) },
		"After":    func() { _, err = Precharge{48, 4.7e-3, 33}.After(1) },
		"Next":     func() { _, _, err = returning.Next(SwitchState{}, 10, 1) },
		"Follow":   func() { _, err = surge3kVA.Follow(startDemand) },
		"Envelope": func() { _, err = envelopeB.Follow(startDemand) },
	} {
		assert.Zero(t, testing.AllocsPerRun(100, f), name)
		assert.NoError(t, err, name)
	}
}
