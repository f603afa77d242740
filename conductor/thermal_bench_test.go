package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// The thermal and marine kernels beside the bare expression on the same inputs.

func TestThermalKernelsDoNotAllocate(t *testing.T) {
	var err error
	law := cable6.Resistance
	air := AirCable{4.7e-3, 6.5e-3, PVCResistivity, 0.9, Celsius(30), ChurchillChu}
	allocsFree(t, "HeatPath.Ampacity", func() { _, err = HeatPath{ToAmbient: 3}.Ampacity(0.002, Celsius(75), Celsius(30)) })
	allocsFree(t, "HeatPath.Temperature", func() { _, err = HeatPath{ToAmbient: 3}.Temperature(95, law, Celsius(30)) })
	allocsFree(t, "Layer", func() { _, err = Layer(5, 3e-3, 6e-3) })
	allocsFree(t, "CableLayers.Path", func() { _, err = CableLayers{0.3, 0.1, 0.2, 0.9, 3, 0.1, 0.05, 0}.Path() })
	allocsFree(t, "RatedCurrent.Temperature", func() { _, err = rated10.Temperature(40, Celsius(30)) })
	allocsFree(t, "RatedCurrent.Model", func() { _, err = rated10.Model(solid(AWG(10))) })
	allocsFree(t, "AirCable.Ampacity", func() { _, err = air.Ampacity(law.Resistance, Celsius(75)) })
	allocsFree(t, "AirCable.Temperature", func() { _, _, err = air.Temperature(95, law) })
	allocsFree(t, "AirCable.Temperatures", func() { _, _, err = air.Temperatures(15) })
	allocsFree(t, "After", func() { _, err = cable6.After(Celsius(30), 95, 60) })
	allocsFree(t, "Steady", func() { _, err = cable6.Steady(95) })
	allocsFree(t, "TimeTo", func() { _, err = cable6.TimeTo(Celsius(60), Celsius(30), 95) })
	allocsFree(t, "AfterCycles", func() { _, err = cable6.AfterCycles(Celsius(30), LoadCycle{60, 120, 95, 0}, 7) })
	allocsFree(t, "CyclicLimit", func() { _, err = cable6.CyclicLimit(LoadCycle{60, 120, 95, 0}) })
	allocsFree(t, "HeatingFactor", func() { _, err = DutyCycle{60, 120}.HeatingFactor(142) })
	allocsFree(t, "DutyMultiplierOf", func() { _, err = DutyMultiplierOf(0.33) })
	allocsFree(t, "BoatCable.Ampacity", func() { _, err = BoatCable{AWG(2), true, 4}.Ampacity() })
	allocsFree(t, "SmallestSAE", func() { _, err = MarineRun{20 * Foot, 60, 0.36, MarineK}.SmallestSAE() })
	allocsFree(t, "AircraftWireOf", func() { _, err = AircraftWireOf(AWG(4)) })
	allocsFree(t, "AircraftEstimate", func() { _, err = rated10.AircraftEstimate(40) })
	allocsFree(t, "FlexibleCableOf", func() { _, err = FlexibleCableOf(AWG(4)) })
	require.NoError(t, err)
}

func BenchmarkHeatPathAmpacity(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			i, err := HeatPath{ToAmbient: 3}.Ampacity(0.002, unit.Temperature(330+n&31), 303)
			sink, errSink = float64(i), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			sink = math.Sqrt((float64(330+n&31) - 303) / (0.002 * 3))
			n++
		}
	})
}

func BenchmarkAirCableAmpacity(b *testing.B) {
	c := AirCable{4.7e-3, 6.5e-3, PVCResistivity, 0.9, 303, ChurchillChu}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			i, err := c.Ampacity(0.0016, unit.Temperature(330+n&31))
			sink, errSink = float64(i), err
			n++
		}
	})
	// bare is the same balance by bisection to the same nanokelvin, as a script
	// would solve it.
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		layer := 5 / (2 * math.Pi) * math.Log(6.5/4.7)
		n := 0
		for b.Loop() {
			tc := float64(330 + n&31)
			lo, hi := 303.0, tc
			for hi-lo > 1e-9 {
				mid := (lo + hi) / 2
				if mid+c.lost(mid)*layer > tc {
					hi = mid
				} else {
					lo = mid
				}
			}
			sink = math.Sqrt(c.lost(lo) / 0.0016)
			n++
		}
	})
}

func BenchmarkAfter(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			t, err := cable6.After(303, unit.Current(n&127), 60)
			sink, errSink = float64(t), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		m := cable6
		r, alpha, c, g := float64(m.Resistance.Resistance), m.Resistance.Coefficient, float64(m.HeatCapacity), float64(m.Loss)
		n := 0
		for b.Loop() {
			i := float64(n & 127)
			k := (g - i*i*r*alpha) / c
			rise := i * i * r * (1 + alpha*(303.15-348.15)) / (k * c)
			sink = 303.15 + rise + (303-303.15-rise)*math.Exp(-k*60)
			n++
		}
	})
}

func BenchmarkCyclicLimit(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			t, err := cable6.CyclicLimit(LoadCycle{60, unit.Time(60 + n&127), 95, 0})
			sink, errSink = float64(t.AfterOn), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		m := cable6
		r, alpha, c, g := float64(m.Resistance.Resistance), m.Resistance.Coefficient, float64(m.HeatCapacity), float64(m.Loss)
		n := 0
		for b.Loop() {
			k1, k2 := (g-95*95*r*alpha)/c, g/c
			rise := 95 * 95 * r * (1 + alpha*(303.15-348.15)) / (k1 * c)
			e1, e2 := math.Exp(-k1*60), math.Exp(-k2*float64(60+n&127))
			sink = 303.15 + rise*(1-e1)/(1-e1*e2)
			n++
		}
	})
}

func BenchmarkPeakRise(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			x, err := DutyCycle{60, unit.Time(60 + n&127)}.PeakRise(142)
			sink, errSink = x, err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			sink = (1 - math.Exp(-60/142.0)) / (1 - math.Exp(-float64(120+n&127)/142))
			n++
		}
	})
}

func BenchmarkMarineArea(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			a, err := MarineRun{6, unit.Current(1 + n&127), 0.36, MarineK}.Area()
			sink, errSink = float64(a), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			sink = float64(MarineK) * 6 * float64(1+n&127) / 0.36
			n++
		}
	})
}

func BenchmarkBoatAmpacity(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			i, err := BoatCable{boatCable[n%15].size, true, 1 + n&15}.Ampacity()
			sink, errSink = float64(i), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			want, f := boatCable[n%15].size, 1.0
			if k := 1 + n&15; k > 6 {
				f = 0.5
			} else if k > 3 {
				f = 0.6
			} else if k == 3 {
				f = 0.7
			}
			for k := range boatCable {
				if boatCable[k].size == want {
					sink = boatCable[k].outside * 0.85 * f
					break
				}
			}
			n++
		}
	})
}
