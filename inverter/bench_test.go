package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

// sink keeps results alive.
var sink float64

// loads are inputs that differ from call to call.
var loads = [16]float64{50, 120, 200, 340, 500, 620, 750, 880, 1000, 1150, 1300, 1500, 1750, 2000, 2400, 2900}

// The bare twins have the coefficients in variables, as the models have them
// in fields, so that neither folds away.
var (
	bareIdle, bareLinear, bareQuadratic, bareRated = 30.0, 0.02, 0.05, 3000.0
	bareVoc, bareR                                 = 12.6, 10e-3
)

func BenchmarkDCPower(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		l, sum, i := unit3kW, unit.Power(0), 0
		for b.Loop() {
			p, _ := l.DCPower(unit.Power(loads[i&15]))
			sum += p
			i++
		}
		sink = float64(sum)
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		p0, v, r, pr, sum, i := bareIdle, bareLinear, bareQuadratic, bareRated, 0.0, 0
		for b.Loop() {
			p := loads[i&15]
			sum += p0 + (1+v)*p + r*p*p/pr
			i++
		}
		sink = sum
	})
}

func BenchmarkACPower(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		l, sum, i := unit3kW, unit.Power(0), 0
		for b.Loop() {
			p, _ := l.ACPower(unit.Power(loads[i&15]))
			sum += p
			i++
		}
		sink = float64(sum)
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		p0, v, r, pr, sum, i := bareIdle, bareLinear, bareQuadratic, bareRated, 0.0, 0
		for b.Loop() {
			x, k := loads[i&15]-p0, 1+v
			sum += 2 * x / (k + math.Sqrt(k*k+4*r/pr*x))
			i++
		}
		sink = sum
	})
}

func BenchmarkEfficiency(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		l, sum, i := unit3kW, 0.0, 0
		for b.Loop() {
			e, _ := l.Efficiency(unit.Power(loads[i&15]))
			sum += e
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		p0, v, r, pr, sum, i := bareIdle, bareLinear, bareQuadratic, bareRated, 0.0, 0
		for b.Loop() {
			p := loads[i&15]
			sum += p / (p0 + (1+v)*p + r*p*p/pr)
			i++
		}
		sink = sum
	})
}

func BenchmarkOperate(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		s, sum, i := flooded12V, 0.0, 0
		for b.Loop() {
			p, _ := s.Operate(unit.Power(loads[i&15]))
			sum += float64(p.Current) + float64(p.Voltage)
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		voc, r, sum, i := bareVoc, bareR, 0.0, 0
		for b.Loop() {
			p := loads[i&15]
			x := voc + math.Sqrt(voc*voc-4*p*r)
			sum += 2*p/x + x/2
			i++
		}
		sink = sum
	})
}

func BenchmarkLargestPower(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		s, sum, i := flooded12V, unit.Power(0), 0
		for b.Loop() {
			p, _ := s.LargestPower(9 + unit.Voltage(i&3)/2)
			sum += p
			i++
		}
		sink = float64(sum)
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		voc, r, sum, i := bareVoc, bareR, 0.0, 0
		for b.Loop() {
			v := 9 + float64(i&3)/2
			sum += v * (voc - v) / r
			i++
		}
		sink = sum
	})
}

func BenchmarkSurgeAllowed(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum, i := ApparentPower(0), 0
		for b.Loop() {
			p, _, _ := surge3kVA.Allowed(unit.Time(i & 7))
			sum += p
			i++
		}
		sink = float64(sum)
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		sum, i := ApparentPower(0), 0
		for b.Loop() {
			allowed := surge3kVA.Continuous
			for _, p := range surge3kVA.Points {
				if unit.Time(i&7) <= p.For {
					allowed = p.Apparent
					break
				}
			}
			sum += allowed
			i++
		}
		sink = float64(sum)
	})
}

func TestNoAllocations(t *testing.T) {
	d := Demand{Range[ApparentPower]{Low: 1500, High: 2500}, Range[unit.Power]{Low: 1000, High: 2300}}
	var err error
	for name, f := range map[string]func(){
		"DCPower":      func() { _, err = unit3kW.DCPower(1000) },
		"DCPowerAt":    func() { _, err = unit3kW.DCPowerAt(1000, 1200) },
		"ACPower":      func() { _, err = unit3kW.ACPower(1000) },
		"ACPowerAt":    func() { _, err = unit3kW.ACPowerAt(1000, 1200) },
		"Efficiency":   func() { _, err = unit3kW.Efficiency(1000) },
		"Operate":      func() { _, err = flooded12V.Operate(1000) },
		"LargestPower": func() { _, err = flooded12V.LargestPower(10.5) },
		"Allowed":      func() { _, _, err = surge3kVA.Allowed(1) },
		"Limit":        func() { _, _, err = patient.Limit(1) },
		"InputCurrent": func() { _, err = InputCurrent(1000, 10.5, 0.85) },
		"CheckStart":   func() { _, err = system12V.CheckStart(d, 0.6) },
		"Weighted":     func() { _, err = unit3kW.Weighted(CEC) },
	} {
		assert.Zero(t, testing.AllocsPerRun(100, f), name)
		assert.NoError(t, err, name)
	}
}
