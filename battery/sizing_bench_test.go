package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

// BenchmarkSize sizes for the six periods of the station. The bare form is
// the sum of the section method on a copy of the logarithms of the same table.
func BenchmarkSize(b *testing.B) {
	s := station()
	rates := []PlateRate{{Minute, 128}, {30 * Minute, 94}, {Hour, 75}, {3 * Hour, 43}, {8 * Hour, 20}}
	curve := must[RateCurve](b)(PlateCurve(1.75, plate, rates))
	table := must[RateTable](b)(NewRateTable(curve))
	s.Rate, s.Temperature = table, Fahrenheit(50)
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			s.Cycle.Periods[0].Current = unit.Current(300 + currents[n&7])
			c, _ := s.Size()
			sink += float64(c)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		line := &table.curves[0]
		a := [6]float64{320, 100, 280, 200, 40, 120}
		t := [6]float64{60, 29 * 60, 30 * 60, 3600, 59 * 60, 60}
		n := 0
		for b.Loop() {
			a[0] = 300 + currents[n&7]
			most, end := 0.0, 0.0
			for last := range a {
				end += t[last]
				sum, start, before := 0.0, 0.0, 0.0
				for i := 0; i <= last; i++ {
					sum += (a[i] - before) * math.Exp(line.logKT(math.Log(end-start)))
					before = a[i]
					start += t[i]
				}
				most = math.Max(most, sum)
			}
			random := 100 * math.Exp(line.logKT(math.Log(60)))
			sink += (most + random) * 1.19 * 1.1 * 1.25
			n++
		}
	})
}

func BenchmarkKT(b *testing.B) {
	table := sealedTable(b)
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			k, _ := table.KT(unit.Time(currents[n&7]*700), 1.75)
			sink += float64(k)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		x, y, n := table.curves[0].t, table.curves[0].k, 0
		for b.Loop() {
			t := math.Log(currents[n&7] * 700)
			i := 0
			for i < len(x)-2 && x[i+1] <= t {
				i++
			}
			sink += math.Exp(y[i] + (y[i+1]-y[i])*(t-x[i])/(x[i+1]-x[i]))
			n++
		}
	})
}

func BenchmarkAutonomy(b *testing.B) {
	a := hut
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			a.Daily = unit.Charge(currents[n&7]) * AmpereHour
			s, _ := a.Size()
			sink += float64(s.Required)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		// Every figure that the kernel returns, of variable inputs.
		days, depth, daily, end, margin, amperes, kelvin := a.Days, a.MaxDepth, a.MaxDailyDepth, a.EndOfLife, a.DesignMargin, float64(a.RunningCurrent), float64(a.Temperature)
		n := 0
		for b.Loop() {
			q := currents[n&7] * 3600
			f, _ := sizingFactor.At((kelvin-273.15)*1.8 + 32)
			x, y, z := q*days/depth, q/daily, q*days/end
			most := max(x, y, z)
			cold := most * max(1, f)
			sink += q*days + x + y + z + most + cold + cold*margin + most/amperes
			n++
		}
	})
}

func BenchmarkMeanLifeFactor(b *testing.B) {
	year := []Spell{{Celsius(15), 0.25}, {Celsius(20), 0.5}, {Celsius(35), 0.25}}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			year[2].Temperature = unit.Temperature(290 + currents[n&7]/4)
			f, _ := MeanLifeFactor(HalvingTrade, year...)
			sink += f
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			at := func(kelvin float64) float64 { return math.Exp2((25 - math.Max(kelvin-273.15, 15)) / 10) }
			sink += 1 / (0.25/at(288.15) + 0.5/at(293.15) + 0.25/at(290+currents[n&7]/4))
			n++
		}
	})
}

func BenchmarkCycles(b *testing.B) {
	curve := must[CycleCurve](b)(TypicalCycleLife(Flooded))
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			x, _ := curve.Cycles(0.2 + currents[n&7]/160)
			sink += x
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			d, i := 0.2+currents[n&7]/160, 1
			for d > curve[i].Depth {
				i++
			}
			p := math.Log(curve[i-1].Cycles/curve[i].Cycles) / math.Log(curve[i].Depth/curve[i-1].Depth)
			sink += curve[i-1].Cycles * math.Pow(curve[i-1].Depth/d, p)
			n++
		}
	})
}

func BenchmarkFreezingPointAtCharge(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			f, _ := FreezingPointAtCharge(currents[n&7] / 100)
			sink += float64(f.High)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			// Two charts and twice the freezing table, each one look-up.
			x, _ := gravity1265.At(currents[n&7])
			y, _ := gravity1280.At(currents[n&7])
			cold, _ := freezing.At(math.Max(x, y))
			warm, _ := freezing.At(math.Min(x, y))
			sink += (cold + warm + 2*459.67) / 1.8
			n++
		}
	})
}

func BenchmarkMaintainerCurrent(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			i, _ := sealedLoss.MaintainerCurrent(100*AmpereHour, unit.Temperature(280+currents[n&7]/4), 0.05, 0.5)
			sink += float64(i)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		share, time, at, c := sealedLoss.Share, float64(sealedLoss.Time), float64(sealedLoss.Temperature), 360000.0
		n := 0
		for b.Loop() {
			t := 280 + currents[n&7]/4
			sink += 0.05 + c*share/time*math.Exp2((t-at)/10)/0.5
			n++
		}
	})
}

func TestSizingAllocatesNothing(t *testing.T) {
	s := cabin(t)
	s.Cycle.Random = DutyPeriod{Current: 5, Duration: Hour}
	law := s
	law.Rate = hundred
	curve := must[CycleCurve](t)(TypicalCycleLife(Gel))
	list := []unit.Charge{200 * AmpereHour, 100 * AmpereHour}
	for name, f := range map[string]func(){
		"Size":              func() { _, _ = s.Size() },
		"Size by Peukert":   func() { _, _ = law.Size() },
		"DutyCycle.Charge":  func() { _, _ = s.Cycle.Charge() },
		"Choose":            func() { _, _, _ = Choose(150*AmpereHour, list) },
		"CellEndVoltage":    func() { _, _ = CellEndVoltage(10.5, 0.3, 6) },
		"SeriesCells":       func() { _, _ = SeriesCells(140, 2.33) },
		"Autonomy.Size":     func() { _, _ = hut.Size() },
		"GravityAtCharge":   func() { _, _ = GravityAtCharge(0.5) },
		"FreezingAtCharge":  func() { _, _ = FreezingPointAtCharge(0.5) },
		"GravityAt80F":      func() { _, _ = GravityAt80F(1.25, 280) },
		"ColdSizingFactor":  func() { _, _ = ColdSizingFactor(262) },
		"LifeFactor":        func() { _, _ = LifeFactor(300, HalvingTrade) },
		"MeanLifeFactor":    func() { _, _ = MeanLifeFactor(HalvingTrade, Spell{300, 0.5}, Spell{290, 0.5}) },
		"Cycles":            func() { _, _ = curve.Cycles(0.5) },
		"Wear":              func() { _, _ = curve.Wear(CyclePoint{0.5, 100}) },
		"MaintainerCurrent": func() { _, _ = sealedLoss.MaintainerCurrent(100*AmpereHour, 290, 0, 0.5) },
	} {
		assert.Zero(t, testing.AllocsPerRun(100, f), name)
	}
}
