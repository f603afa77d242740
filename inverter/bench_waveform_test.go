package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

// zeros are zero angles (rad) that differ from call to call.
var zeros = [16]float64{0, 0.1, 0.2, 0.3, 0.4, 0.45, 0.5, 0.55, 0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 1, 1.1}

// benchPeak is in a variable, as a field would be.
var benchPeak = 170.0

func BenchmarkWaveFigures(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		w, sum, i := SteppedWave{Peak: unit.Voltage(benchPeak)}, 0.0, 0
		for b.Loop() {
			w.Zero = unit.Angle(zeros[i&15])
			f, _ := w.Figures()
			sum += float64(f.RMS+f.Rectified+f.Average+f.Fundamental) + f.THD + f.Crest
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		v, sum, i := benchPeak, 0.0, 0
		for b.Loop() {
			a := zeros[i&15]
			d, c := 1-2*a/math.Pi, math.Cos(a)
			r := math.Sqrt(d)
			sum += v*r + v*d + v*sineForm*d + v*2*math.Sqrt2/math.Pi*c + math.Sqrt(math.Pi*math.Pi/8*d/(c*c)-1) + 1/r
			i++
		}
		sink = sum
	})
}

func BenchmarkHarmonic(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		w, sum, i := SteppedWave{Peak: unit.Voltage(benchPeak)}, unit.Voltage(0), 0
		for b.Loop() {
			w.Zero = unit.Angle(zeros[i&15])
			v, _ := w.Harmonic(2*(i&15) + 1)
			sum += v
			i++
		}
		sink = float64(sum)
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		v, sum, i := benchPeak, 0.0, 0
		for b.Loop() {
			n := float64(2*(i&15) + 1)
			sum += 4 * v / (n * math.Pi) * math.Cos(n*zeros[i&15])
			i++
		}
		sink = sum
	})
}

func BenchmarkTHDTo49(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		w, sum, i := SteppedWave{Peak: unit.Voltage(benchPeak)}, 0.0, 0
		for b.Loop() {
			w.Zero = unit.Angle(zeros[i&15])
			x, _ := w.THDTo(49)
			sum += x
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		sum, i := 0.0, 0
		for b.Loop() {
			a, total := zeros[i&15], 0.0
			c := math.Cos(a)
			for n := 3.0; n <= 49; n += 2 {
				r := math.Cos(n*a) / (n * c)
				total += r * r
			}
			sum += math.Sqrt(total)
			i++
		}
		sink = sum
	})
}

// The sum to 49 999 has no shorter form to lay beside it than its terms.
func BenchmarkWaveHVF(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sink, _ = half.HVF()
	}
}

func BenchmarkHoldRMS(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum, i := 0.0, 0
		for b.Loop() {
			h, _ := HoldRMS(unit.Voltage(130+i&31), 120)
			sum += h.Torque
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		v, sum, i := 120.0, 0.0, 0
		for b.Loop() {
			p := float64(130 + i&31)
			r := v / p
			k := p * 2 * math.Sqrt2 / math.Pi * math.Cos(math.Pi/2*(1-r*r)) / v
			sum += k * k
			i++
		}
		sink = sum
	})
}

func BenchmarkSpectrumLoad(b *testing.B) {
	s, err := half.Spectrum(49)
	if err != nil {
		b.Fatal(err)
	}
	c := LineCapacitor{Capacitance: 30e-6, Frequency: 60, Resistance: 1}
	z := c.Impedance
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			l, _ := s.Load(z)
			sink += float64(l.Current)
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			total, real1 := 0.0, 1.0
			for n := 1; n < len(s); n += 2 {
				x := 1 / (2 * math.Pi * 60 * float64(n) * 30e-6)
				total += float64(s[n]*s[n]) / 2 / (real1*real1 + x*x)
			}
			sink += math.Sqrt(total)
		}
	})
}

func BenchmarkACReadings(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		r, sum, i := ACReadings{Voltage: about[unit.Voltage](120, 0.01), Current: about[unit.Current](6, 0.01), Real: about[unit.Power](500, 0.01)}, 0.0, 0
		for b.Loop() {
			r.Current.High = unit.Current(6.1 + zeros[i&15])
			l, _ := r.Load()
			sum += float64(l.Reactive.High) + l.PowerFactor.Low
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		v, p, sum, i := benchPeak*0.7, 495.0, 0.0, 0
		for b.Loop() {
			s := v * (6.1 + zeros[i&15])
			sum += math.Sqrt((s-p)*(s+p)) + p/s
			i++
		}
		sink = sum
	})
}

func BenchmarkSplitUse(b *testing.B) {
	across, right := va(2400, 0.8), va(600, 1)
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		l, sum, i := SplitLoads{L2: right, Across: across}, 0.0, 0
		for b.Loop() {
			l.L1.Real = unit.Power(loads[i&15])
			u, _ := stacked.Use(l)
			sum += float64(u.L1.Current + u.L2.Current + u.Neutral)
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		p, q, sum, i := float64(across.Real)/2, float64(across.Reactive)/2, 0.0, 0
		for b.Loop() {
			x := loads[i&15]
			sum += (math.Hypot(x+p, q) + math.Hypot(600+p, q) + math.Abs(x-600)) / 120
			i++
		}
		sink = sum
	})
}

func TestWaveAllocatesNothing(t *testing.T) {
	s, err := half.Spectrum(49)
	if err != nil {
		t.Fatal(err)
	}
	z := LineCapacitor{Capacitance: 30e-6, Frequency: 60, Resistance: 1}.Impedance
	r := ACReadings{Voltage: about[unit.Voltage](120, 0.01), Current: about[unit.Current](6, 0.01), Real: about[unit.Power](500, 0.01)}
	d := DCReadings{about[unit.Voltage](12, 0.01), about[unit.Current](60, 0.01)}
	light := DCReadings{about[unit.Voltage](12.6, 0.01), about[unit.Current](2, 0.01)}
	for name, f := range map[string]func(){
		"figures":   func() { _, _ = half.Figures() },
		"harmonic":  func() { _, _ = half.Harmonic(3) },
		"THD":       func() { _, _ = half.THDTo(49) },
		"HVF":       func() { _, _ = half.HVF() },
		"hold":      func() { _, _ = HoldRMS(150, 120) },
		"load":      func() { _, _ = s.Load(z) },
		"correct":   func() { _, _ = Correct(4000, 0.8, 0.95, 120, 60) },
		"readings":  func() { _, _ = r.Load() },
		"capacitor": func() { _, _ = r.Capacitor(1, 60) },
		"dc":        func() { _, _ = d.Efficiency(r.Real) },
		"sag":       func() { _, _ = light.Sag(d) },
		"show":      func() { _, _ = MeteredPoint{120, 400, 0.7, 0, 12, 0.9}.Show() },
		"split":     func() { _, _ = stacked.Use(SplitLoads{L1: va(100, 1)}) },
		"step-up":   func() { _, _ = StepUp{120, 240, 3000, true, 0.02, 12}.Feed(va(100, 1)) },
	} {
		assert.Zero(t, testing.AllocsPerRun(50, f), name)
	}
}
