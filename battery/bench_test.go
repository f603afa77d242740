package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

// sink keeps results alive, so that nothing benchmarked is optimised away.
var sink float64

// currents vary the input (A).
var currents = [8]float64{6, 9, 15, 25, 40, 60, 75, 90}

func BenchmarkRuntime(b *testing.B) {
	p := hundred
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			t, _ := p.Runtime(unit.Current(currents[n&7]))
			sink += float64(t)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		c, h, k, n := float64(p.Rating.Capacity), float64(p.Rating.Time), p.Exponent, 0
		for b.Loop() {
			sink += h * math.Pow(c/(currents[n&7]*h), k)
			n++
		}
	})
}

func BenchmarkDuty(b *testing.B) {
	p := hundred
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			r, _ := p.Duty(Duty{Running: unit.Current(currents[n&7]), Standing: 1, OnFraction: 0.25})
			sink += float64(r.RunningCurrent + r.AverageCurrent)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		c, h, k, n := float64(p.Rating.Capacity), float64(p.Rating.Time), p.Exponent, 0
		at := func(i float64) float64 { return math.Min(h*math.Pow(c/(i*h), k), c/i) }
		for b.Loop() {
			i := currents[n&7]
			sink += 1/(0.25/at(i)+0.75/at(1)) + at(0.25*i+0.75)
			n++
		}
	})
}

func BenchmarkUsable(b *testing.B) {
	condition := cellar
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			u, _ := condition.Usable(unit.Current(currents[n&7]))
			sink += float64(u.Charge)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		c, h, k := float64(hundred.Rating.Capacity), float64(hundred.Rating.Time), hundred.Exponent
		n := 0
		for b.Loop() {
			i := currents[n&7]
			f, _ := sizingFactor.At((float64(condition.Temperature)-273.15)*1.8 + 32)
			sink += i * math.Min(h*math.Pow(c/(i*h), k), c/i) / f * 0.8 * 0.5
			n++
		}
	})
}

func BenchmarkSizingFactor(b *testing.B) {
	var f, factor [41]float64
	for i := range f {
		f[i] = 25 + 2.5*float64(i)
		factor[i], _ = SizingFactor(Fahrenheit(f[i]))
	}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			x, _ := SizingFactor(unit.Temperature(270 + currents[n&7]/2.5))
			sink += x
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			x := (270+currents[n&7]/2.5-273.15)*1.8 + 32
			lo, hi := 0, len(f)-1
			for hi-lo > 1 {
				if mid := (lo + hi) / 2; f[mid] <= x {
					lo = mid
				} else {
					hi = mid
				}
			}
			sink += factor[lo] + (factor[hi]-factor[lo])*(x-f[lo])/(f[hi]-f[lo])
			n++
		}
	})
}

func BenchmarkFaultCurrent(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			v := unit.Voltage(currents[n&7])
			i, _ := FaultCurrent(Range[unit.Voltage]{Low: v, High: v + 1}, Range[unit.Resistance]{Low: 0.002, High: 0.006})
			sink += float64(i.Low + i.High)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		lo, hi, n := 0.002, 0.006, 0
		for b.Loop() {
			v := currents[n&7]
			sink += v/hi + (v+1)/lo
			n++
		}
	})
}

func BenchmarkStateOfCharge(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			s, _ := StateOfCharge(Flooded, unit.Voltage(2+currents[n&7]/1000), 300)
			sink += s.Low + s.High
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			// Three charts and the shift, each one table look-up.
			v := 2 + currents[n&7]/1000
			shift, _ := temperatureShift.At(80.33)
			x, _ := tradeWet.byVolts.At(v - shift/6)
			y, _ := olderWet.byVolts.At(v - shift/6)
			z, _ := magazineWet.byVolts.At(v - shift/6)
			sink += math.Min(x, math.Min(y, z)) + math.Max(x, math.Max(y, z))
			n++
		}
	})
}

func TestNoAllocations(t *testing.T) {
	rates := Rates{{Capacity: 330 * AmpereHour, Time: 20 * Hour}, {Capacity: 271 * AmpereHour, Time: 5 * Hour}}
	for name, f := range map[string]func(){
		"Runtime": func() { _, _ = hundred.Runtime(30) },
		"Current": func() { _, _ = hundred.Current(3 * Hour) },
		"Duty":    func() { _, _ = hundred.Duty(Duty{Running: 30, Standing: 1, OnFraction: 0.2}) },
		"Usable":  func() { _, _ = cellar.Usable(30) },
		"Condition.Duty": func() {
			_, _ = cellar.Duty(Duty{Running: 30, Standing: 1, OnFraction: 0.2})
		},
		"SizingFactor":       func() { _, _ = SizingFactor(280) },
		"CapacityFactor":     func() { _, _ = CapacityFactor(AGM, 280, Hour) },
		"OpenCircuit":        func() { _, _ = OpenCircuit(Flooded, 0.5, 290) },
		"StateOfCharge":      func() { _, _ = StateOfCharge(Flooded, 2.05, 290) },
		"Bank.OpenCircuit":   func() { _, _ = pair.OpenCircuit(0.5, 290) },
		"Bank.FaultCurrent":  func() { _, _ = pair.FaultCurrent(0.001) },
		"InternalResistance": func() { _, _, _ = pair.InternalResistance(0.001) },
		"Rates.Peukert":      func() { _, _, _ = rates.Peukert(30) },
		"PeukertExponent":    func() { _, _ = PeukertExponent(rates[0], rates[1]) },
	} {
		assert.Zero(t, testing.AllocsPerRun(100, f), name)
	}
}
