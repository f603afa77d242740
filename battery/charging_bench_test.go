package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

func BenchmarkRecharge(b *testing.B) {
	r := flatBank
	r.Standing = 1
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			r.Charger = unit.Current(currents[n&7])
			t, _ := r.Time()
			sink += float64(t.Total.Low + t.Total.High)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		c, n := float64(r.Capacity), 0
		from, ends, low, high, least, most := r.From, 0.8, 0.85, 0.95, 4*3600.0, 8*3600.0
		for b.Loop() {
			net := currents[n&7] - float64(r.Standing) - float64(r.SelfDischarge)
			late := math.Max(from, ends)
			bulk, tail, share := (late-from)*c/net, (1-late)*c/net, (1-late)/(1-ends)
			sink += bulk/high + math.Max(tail/high, least*share) + bulk/low + math.Max(tail/low, most*share) +
				(1-from)*c/high + (1-from)*c/low
			n++
		}
	})
}

func BenchmarkBulkTime(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			t, _ := BulkTime(flatBank.Capacity, unit.Current(currents[n&7]), 0.85)
			sink += float64(t)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			sink += float64(flatBank.Capacity) / (currents[n&7] * 0.85)
			n++
		}
	})
}

func BenchmarkCompensatedVoltage(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			v, _, _ := CompensatedVoltage(14.4, 6, -0.004, unit.Temperature(260+currents[n&7]/2))
			sink += float64(v)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			t := math.Min(math.Max(260+currents[n&7]/2-273.15, 0), 40)
			sink += 14.4 - 6*0.004*(t-25)
			n++
		}
	})
}

func BenchmarkVentilationAirflow(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			q, _ := VentilationAirflow(24, unit.Current(currents[n&7]))
			sink += float64(q)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			sink += 0.05 * 24 * currents[n&7] / 3600
			n++
		}
	})
}

func BenchmarkHydrogenDilution(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			h, _ := HydrogenRate(24, unit.Current(currents[n&7]))
			q, _ := DilutionAirflow(h, 0.01)
			sink += float64(q)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n, x := 0, 0.01
		for b.Loop() {
			sink += 0.000269 * 24 * currents[n&7] * float64(CubicFootPerMinute) * (1 - x) / x
			n++
		}
	})
}

func BenchmarkFaultLetThrough(b *testing.B) {
	f := FaultLoop{Voltage: 51.2, Resistance: 10 * Milliohm, Inductance: 1e-5}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			w, _ := f.LetThrough(unit.Time(currents[n&7] / 1e4))
			sink += w
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			i, tau := float64(f.Voltage)/float64(f.Resistance), float64(f.Inductance)/float64(f.Resistance)
			x := currents[n&7] / 1e4 / tau
			sink += i * i * tau * (x + 2*math.Expm1(-x) - math.Expm1(-2*x)/2)
			n++
		}
	})
}

func TestChargingAllocatesNothing(t *testing.T) {
	r, loop := flatBank, FaultLoop{Voltage: 51.2, Resistance: 10 * Milliohm}
	for name, f := range map[string]func(){
		"Recharge.Time":         func() { _, _ = r.Time() },
		"BulkTime":              func() { _, _ = BulkTime(AmpereHour, 1, 0.9) },
		"ShortcutRecharge":      func() { _, _ = ShortcutRecharge(AmpereHour, 1, Hour) },
		"CompensatedVoltage":    func() { _, _, _ = CompensatedVoltage(14.4, 6, -0.004, 290) },
		"ChargeRateLimit":       func() { _, _ = ChargeRateLimit(LithiumIronPhosphate, 290) },
		"CheckCharger":          func() { _, _ = pair.CheckCharger(10, 290) },
		"ChargeVoltages":        func() { _, _ = pair.ChargeVoltages(290) },
		"ChargerInput":          func() { _, _ = ChargerInput(14.4, 10, 0.85) },
		"RechargeEnergy":        func() { _, _ = RechargeEnergy(AmpereHour, 14, 0.9, 0.9) },
		"Fuel":                  func() { _, _ = smallSet.Fuel(1000) },
		"Run":                   func() { _, _ = smallSet.Run(Range[unit.Time]{Low: 1, High: 2}, 1000, 10) },
		"VentilationAirflow":    func() { _, _ = VentilationAirflow(24, 1) },
		"Ventilation":           func() { _, _ = pair.Ventilation(BoostCharge, 10, 0.01) },
		"HydrogenRate":          func() { _, _ = HydrogenRate(24, 1) },
		"DilutionAirflow":       func() { _, _ = DilutionAirflow(1e-4, 0.01) },
		"HydrogenConcentration": func() { _, _ = HydrogenConcentration(1e-4, 0.01) },
		"HydrogenVolume":        func() { _, _ = HydrogenVolume(6, AmpereHour, 290) },
		"FaultLoop.Current":     func() { _, _ = loop.Current(0.001) },
		"FaultLoop.LetThrough":  func() { _, _ = loop.LetThrough(0.001) },
		"Preset":                func() { _, _ = AGM.Preset() },
	} {
		assert.Zero(t, testing.AllocsPerRun(100, f), name)
	}
}
