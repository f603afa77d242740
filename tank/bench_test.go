package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// benchPressures vary with the iteration, so that no loop folds away.
var benchPressures = func() (p [64]unit.Pressure) {
	for i := range p {
		p[i] = unit.Pressure(45+0.1*float64(i)) * PSI
	}
	return p
}()

// benchVessels are the demo tank at those cut-outs.
var benchVessels = func() (v [64]Vessel) {
	for i := range v {
		v[i] = demo
		v[i].CutOut = benchPressures[i]
	}
	return v
}()

var sink float64

func BenchmarkVesselDrawdown(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			vd, err := benchVessels[i&63].Drawdown()
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(vd)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		vol, pre, on, pa, sum := float64(demo.Volume), float64(demo.Precharge), float64(demo.CutIn), float64(demo.Atmosphere), 0.0
		for i := 0; b.Loop(); i++ {
			off := float64(benchPressures[i&63])
			sum += vol * (pre + pa) * (1/(on+pa) - 1/(off+pa))
		}
		sink = sum
	})
}

func BenchmarkVesselWaterLeft(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			w, err := demo.WaterLeft(benchPressures[i&63])
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(w)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		vol, pre, pa, sum := float64(demo.Volume), float64(demo.Precharge), float64(demo.Atmosphere), 0.0
		for i := 0; b.Loop(); i++ {
			sum += vol * (1 - (pre+pa)/(float64(benchPressures[i&63])+pa))
		}
		sink = sum
	})
}

func BenchmarkPolytropicDrawdown(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			vd, err := benchVessels[i&63].PolytropicDrawdown(SurgeFill)
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(vd)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		vol, pre, on, pa, sum := float64(demo.Volume), float64(demo.Precharge), float64(demo.CutIn), float64(demo.Atmosphere), 0.0
		for i := 0; b.Loop(); i++ {
			off := float64(benchPressures[i&63])
			sum += vol * (pre + pa) / (on + pa) * (1 - math.Pow((on+pa)/(off+pa), 1/1.2))
		}
		sink = sum
	})
}

func BenchmarkStandardPressure(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			p, err := StandardPressure(unit.Length(50 * (i & 63)))
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(p)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			z := float64(50 * (i & 63))
			sum += 101325 * math.Pow(1-0.0065*(6356766*z/(6356766+z))/288.15, 5.2558761)
		}
		sink = sum
	})
}

func BenchmarkChargeAt(b *testing.B) {
	c := Charge{Precharge: 28 * PSI, Temperature: Celsius(20)}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			p, err := c.At(unit.Temperature(260 + i&31))
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(p)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		p1, t1, sum := float64(c.Precharge), float64(c.Temperature), 0.0
		for i := 0; b.Loop(); i++ {
			sum += (p1+101325)*float64(260+i&31)/t1 - 101325
		}
		sink = sum
	})
}

func BenchmarkSystemAt(b *testing.B) {
	s := System{Drawdown: 25.1 * USGallon, Pump: 10 * USGallonPerMinute}
	var demands [64]FlowRate
	for i := range demands {
		demands[i] = FlowRate(0.1*float64(i+1)) * USGallonPerMinute
	}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			c, err := s.At(demands[i&63])
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(c.Period()) + float64(c.Starts) + float64(c.Delivered())
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		vd, pump, sum := float64(s.Drawdown), float64(s.Pump), 0.0
		for i := 0; b.Loop(); i++ {
			q := float64(demands[i&63])
			period := vd/(pump-q) + vd/q
			sum += period + 1/period + q*period
		}
		sink = sum
	})
}

func BenchmarkSystemDay(b *testing.B) {
	s := System{Drawdown: 25.1 * USGallon, Pump: 10 * USGallonPerMinute}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			d, err := s.Day(FlowRate(1+i&63) * USGallonPerDay)
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(d.PumpTime) + d.Starts + float64(d.Run)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		vd, pump, sum := float64(s.Drawdown), float64(s.Pump), 0.0
		for i := 0; b.Loop(); i++ {
			u := float64(1+i&63) * float64(USGallonPerDay) * 86400
			sum += u/pump + u/vd + vd/pump
		}
		sink = sum
	})
}

func BenchmarkDesignVolume(b *testing.B) {
	d := DesignTank{Pump: 10 * USGallonPerMinute, Cycles: 6 * PerHour, CutIn: 40 * PSI, CutOut: 60 * PSI}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			d.CutOut = benchPressures[i&63]
			v, err := d.Volume()
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(v)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		q, n, p2, sum := float64(d.Pump), float64(d.Cycles), float64(d.CutIn), 0.0
		for i := 0; b.Loop(); i++ {
			p1 := float64(benchPressures[i&63])
			sum += (p1 + 101325) * q / (4 * (p1 - p2) * n)
		}
		sink = sum
	})
}

// The kernels allocate nothing while their inputs are good.
func TestKernelsDoNotAllocate(t *testing.T) {
	s := System{Drawdown: 25.1 * USGallon, Pump: 10 * USGallonPerMinute}
	c := Charge{Precharge: 28 * PSI, Temperature: Celsius(20)}
	plain := PlainTank{Volume: demo.Volume, CutIn: 30 * PSI, CutOut: 50 * PSI}
	logged := Waterlogged{Air: 1 * USGallon, CutIn: 30 * PSI, CutOut: 50 * PSI}
	d := DesignTank{Pump: 10 * USGallonPerMinute, Cycles: 6 * PerHour, CutIn: 40 * PSI, CutOut: 60 * PSI}
	for name, f := range map[string]func() error{
		"Drawdown":            func() error { _, err := demo.Drawdown(); return err },
		"AcceptanceFactor":    func() error { _, err := demo.AcceptanceFactor(); return err },
		"WaterLeft":           func() error { _, err := demo.WaterLeft(40 * PSI); return err },
		"WaterWhenPowerFails": func() error { _, err := demo.WaterWhenPowerFails(); return err },
		"PolytropicDrawdown":  func() error { _, err := demo.PolytropicDrawdown(1.2); return err },
		"SettledPressure":     func() error { _, err := demo.SettledPressure(1.2); return err },
		"VolumeFor":           func() error { _, err := demo.VolumeFor(10 * USGallon); return err },
		"PlainTank":           func() error { _, err := plain.Drawdown(); return err },
		"PlainTank.WaterLeft": func() error { _, err := plain.WaterLeft(40 * PSI); return err },
		"Waterlogged":         func() error { _, err := logged.Drawdown(); return err },
		"ShortCycle":          func() error { _, err := logged.ShortCycle(s.Pump); return err },
		"StandardPressure":    func() error { _, err := StandardPressure(1800); return err },
		"Charge.At":           func() error { _, err := c.At(Celsius(2)); return err },
		"System.At":           func() error { _, err := s.At(5 * USGallonPerMinute); return err },
		"System.WorstDemand":  func() error { _, err := s.WorstDemand(); return err },
		"System.Day":          func() error { _, err := s.Day(300 * USGallonPerDay); return err },
		"DesignTank.Volume":   func() error { _, err := d.Volume(); return err },
		"DrawdownForStarts":   func() error { _, err := DrawdownForStarts(s.Pump, 6*PerHour); return err },
		"DrawdownForRun":      func() error { _, err := DrawdownForRun(s.Pump, 2*Minute); return err },
		"PracticeFor":         func() error { _, err := PracticeFor(Horsepower, 1); return err },
		"Tier.Use":            func() error { _, err := Emergency.Use(4); return err },
		"Lasts":               func() error { _, err := Lasts(10*USGallon, 40*LitrePerDay); return err },
	} {
		require.NoError(t, f(), name)
		n := testing.AllocsPerRun(100, func() { _ = f() })
		require.Zero(t, n, name)
	}
}
