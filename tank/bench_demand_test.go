package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

func BenchmarkWaterPower(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			p, err := WaterPower(1000, benchFlows[i&63], 60)
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(p)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		rho, h, sum := 1000.0, 60.0, 0.0
		for i := 0; b.Loop(); i++ {
			sum += rho * gravity * float64(benchFlows[i&63]) * h
		}
		sink = sum
	})
}

func BenchmarkEnergyToRaise(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			e, err := EnergyToRaise(1000, unit.Length(20+i&63), 0.3)
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(e)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		rho, eta, sum := 1000.0, 0.3, 0.0
		for i := 0; b.Loop(); i++ {
			sum += rho * gravity * float64(20+i&63) / eta
		}
		sink = sum
	})
}

func BenchmarkTotalHead(b *testing.B) {
	th := TotalHead{PumpingLevel: 30, Rise: 3, Friction: 2, Density: 1000}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			th.Pressure = benchPressures[i&63]
			h, err := th.Head()
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(h)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		z, r, hf, rho, sum := 30.0, 3.0, 2.0, 1000.0, 0.0
		for i := 0; b.Loop(); i++ {
			sum += z + r + float64(benchPressures[i&63])/(rho*gravity) + hf
		}
		sink = sum
	})
}

func BenchmarkPumpSetInput(b *testing.B) {
	s := PumpSet{Pump: 0.55, Motor: 0.62, Supply: 0.97}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			p, err := s.Input(unit.Power(300 + i&63))
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(p)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		pump, motor, supply, sum := 0.55, 0.62, 0.97, 0.0
		for i := 0; b.Loop(); i++ {
			sum += float64(300+i&63) / (pump * motor * supply)
		}
		sink = sum
	})
}

func BenchmarkWellPump(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			p, err := poorWell.Pump(FlowRate(4+i&15) * USGallonPerMinute)
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(p.Until)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		r, c, d, sum := float64(poorWell.Casing)/2, float64(poorWell.Capacity), float64(poorWell.Intake-poorWell.Static), 0.0
		for i := 0; b.Loop(); i++ {
			q := float64(4+i&15) * float64(USGallonPerMinute)
			sum += -math.Pi * r * r / c * math.Log1p(-c*d/q)
		}
		sink = sum
	})
}

func BenchmarkProfileDraws(b *testing.B) {
	p := HouseholdProfile()
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			d, err := p.Draws(FlowRate(200+i&63) * USGallonPerDay)
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(d[7].Demand)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			var all float64
			for _, w := range p {
				all += w
			}
			draws := make([]Draw, len(p))
			for h, w := range p {
				draws[h] = Draw{For: Hour, Demand: FlowRate(200+i&63) * USGallonPerDay * FlowRate(24*w/all)}
			}
			sum += float64(draws[7].Demand)
		}
		sink = sum
	})
}

func BenchmarkBankDrawdown(b *testing.B) {
	bank := Bank{
		Tanks: []PipedTank{{85 * USGallon, 28 * PSI}, {44 * USGallon, 18 * PSI}},
		CutIn: 30 * PSI, Atmosphere: SeaLevel,
	}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			bank.CutOut = benchPressures[i&63]
			vd, err := bank.Drawdown()
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(vd)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		pa, in, sum := float64(SeaLevel), float64(bank.CutIn), 0.0
		for i := 0; b.Loop(); i++ {
			out := float64(benchPressures[i&63])
			for _, t := range bank.Tanks {
				pre := float64(t.Precharge)
				sum += float64(t.Volume) * (max(0, 1-(pre+pa)/(out+pa)) - max(0, 1-(pre+pa)/(in+pa)))
			}
		}
		sink = sum
	})
}

func BenchmarkSized(b *testing.B) {
	p := Practice{DailyStarts: 300 * PerDay, HourlyStarts: 15 * PerHour, Run: Minute}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		sum := 0.0
		for i := 0; b.Loop(); i++ {
			s, err := demo.Sized(FlowRate(4+i&15)*USGallonPerMinute, p, 300*USGallonPerDay)
			if err != nil {
				b.Fatal(err)
			}
			sum += float64(s.Volume)
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		pre, on, off := absolute(demo.Precharge, demo.CutIn, demo.CutOut, demo.Atmosphere)
		nd, nh, run, u, sum := float64(p.DailyStarts), float64(p.HourlyStarts), float64(p.Run), float64(300*USGallonPerDay), 0.0
		for i := 0; b.Loop(); i++ {
			q := float64(4+i&15) * float64(USGallonPerMinute)
			sum += max(q*run, q/(4*nh), min(q/(4*nd), u/nd)) / (pre * (1/on - 1/off))
		}
		sink = sum
	})
}

// The kernels allocate nothing; a profile allocates what it returns.
func TestDemandKernelsDoNotAllocate(t *testing.T) {
	set := PumpSet{Pump: 0.55, Motor: 0.62}
	th := TotalHead{PumpingLevel: 30, Pressure: 40 * PSI, Density: 1000}
	bank := Bank{Tanks: []PipedTank{{85 * USGallon, 28 * PSI}, {44 * USGallon, 18 * PSI}}, CutIn: 30 * PSI, CutOut: 50 * PSI}
	house := []FixtureCount{{Showerhead, 1}, {Lavatory, 2}}
	store := Store{Volume: 200 * Litre, Use: 60 * LitrePerDay, Energy: 0.66 * WattHourPerLitre}
	practice := Practice{DailyStarts: 300 * PerDay, Run: Minute}
	q := 10 * USGallonPerMinute
	for name, f := range map[string]func() error{
		"WaterPower":         func() error { _, err := WaterPower(1000, q, 60); return err },
		"EnergyToRaise":      func() error { _, err := EnergyToRaise(1000, 60, 0.3); return err },
		"ImpliedWireToWater": func() error { _, err := ImpliedWireToWater(1000, 1000, q, 60); return err },
		"ShaftPower":         func() error { _, err := set.ShaftPower(300); return err },
		"Input":              func() error { _, err := set.Input(300); return err },
		"TotalHead":          func() error { _, err := th.Head(); return err },
		"AirLine":            func() error { _, err := AirLine{Length: 45, Density: 1000}.Level(20 * PSI); return err },
		"HeadOfPressure":     func() error { _, err := HeadOfPressure(PSI, 1000); return err },
		"PressureAbove":      func() error { _, err := PressureAbove(20*PSI, 9, 1000); return err },
		"PeakFactor":         func() error { _, err := HouseholdProfile().PeakFactor(); return err },
		"SevenMinutePeak":    func() error { _, err := SevenMinutePeak(2); return err },
		"AllowancePeak":      func() error { _, err := AllowancePeak(house); return err },
		"Fixture":            func() error { _, err := ToiletOld.Use(); return err },
		"Well.Pump":          func() error { _, err := poorWell.Pump(q); return err },
		"Well.Delivers":      func() error { _, err := poorWell.Delivers(q, 2*Hour); return err },
		"Well.Recovery":      func() error { _, err := poorWell.Recovery(40, 4); return err },
		"Bank":               func() error { _, err := bank.Drawdown(); return err },
		"Sized":              func() error { _, err := demo.Sized(q, practice, 0); return err },
		"Store":              func() error { _, err := store.Worth(); return err },
		"PumpedBy":           func() error { _, err := PumpedBy(WattHour, WattHourPerLitre); return err },
	} {
		require.NoError(t, f(), name)
		require.Zero(t, testing.AllocsPerRun(100, func() { _ = f() }), name)
	}
	require.LessOrEqual(t, testing.AllocsPerRun(100, func() { _, _ = FlatProfile().Draws(300 * USGallonPerDay) }), 1.0)
}
