package tank

import (
	"testing"

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
