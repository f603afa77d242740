package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

// drawnInputs vary the charge drawn (Ah).
var drawnInputs = [8]float64{3, 8, 15, 30, 45, 60, 75, 90}

func BenchmarkShepherdVoltage(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			v, _ := shepherdSet.Voltage(unit.Charge(drawnInputs[n&7])*AmpereHour, unit.Current(currents[n&7]))
			sink += float64(v)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		es, k, c, r, a, d, n := 12.3, 0.006, 100.0, 0.008, 0.45, 12.0, 0
		for b.Loop() {
			q, i := drawnInputs[n&7], currents[n&7]
			sink += es - k*c/(c-q)*i - r*i + a*math.Exp(-d*q/c)
			n++
		}
	})
}

func BenchmarkTremblayVoltage(b *testing.B) {
	set := Tremblay{Constant: 12.4, Resistance: 0.008, Polarization: 0.002, Capacity: 100 * AmpereHour, Amplitude: 0.5, Zone: 10 * AmpereHour}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			v, _ := set.Voltage(unit.Charge(drawnInputs[n&7])*AmpereHour, unit.Current(currents[n&7]))
			sink += float64(v)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		e0, k, c, r, a, d, n := 12.4, 0.002, 100.0, 0.008, 0.5, 0.3, 0
		for b.Loop() {
			q, i := drawnInputs[n&7], currents[n&7]
			sink += e0 - k*c/(c-q)*(q+i) - r*i + a*math.Exp(-d*q)
			n++
		}
	})
}

func BenchmarkPointAtPower(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			x, _ := PointAtPower(12.6, 0.01, unit.Power(10*currents[n&7]))
			sink += float64(x.Current) + float64(x.Voltage)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		v, r, n := 12.6, 0.01, 0
		for b.Loop() {
			p := 10 * currents[n&7]
			s := v + math.Sqrt(v*v-4*r*p)
			sink += 2*p/s + s/2
			n++
		}
	})
}

// The bare expression of a discharge is the formula for one straight line,
// with two logarithms.
func BenchmarkConstantPower(b *testing.B) {
	m := straight(b)
	l := RunLimits{StateOfCharge: 1, DepthLimit: 1, CutOff: 10.5}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			run, _ := m.ConstantPower(l, unit.Power(20*currents[n&7]))
			sink += float64(run.Time)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		q, r, top, a, vc, n := 720000.0, 0.012, 12.8, 1.2, 10.5, 0
		for b.Loop() {
			p := 20 * currents[n&7]
			c := 4 * p * r
			end := math.Max(top-a, vc+p*r/vc)
			f := func(v float64) float64 {
				w := math.Sqrt(v*v - c)
				return (v*v + v*w - c*math.Log(v+w)) / 2
			}
			sink += q / (2 * p * a) * (f(top) - f(end))
			n++
		}
	})
}

// A bank's model has a hundred lines.
func BenchmarkConstantPowerBank(b *testing.B) {
	weak, _, err := pair.VoltageModels(SagCondition{Temperature: Celsius(10)})
	if err != nil {
		b.Fatal(err)
	}
	l := RunLimits{StateOfCharge: 1, DepthLimit: 0.8, CutOff: 10.5}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			run, _ := weak.ConstantPower(l, unit.Power(5*currents[n&7]))
			sink += float64(run.Time)
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			// One root and one quotient a line: exact where the square under
			// the root is a straight line itself.
			p, sum := 5*currents[n&7], 0.0
			va := weak.open[20]
			wa := math.Sqrt(va*va - 4*p*weak.res[20])
			for k := 21; k <= 100; k++ {
				vb := weak.open[k]
				wb := math.Sqrt(vb*vb - 4*p*weak.res[k])
				sum += (va+vb)/2 + 2./3*(wa*wa+wa*wb+wb*wb)/(wa+wb)
				va, wa = vb, wb
			}
			sink += sum * weak.capacity / 100 / (2 * p)
			n++
		}
	})
}

func BenchmarkTripAtPower(b *testing.B) {
	m := straight(b)
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			x, _ := m.TripAtPower(unit.Power(1000+10*currents[n&7]), 10.5)
			sink += x.Below
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		vc, r, v0, a, n := 10.5, 0.012, 11.6, 1.2, 0
		for b.Loop() {
			p := 1000 + 10*currents[n&7]
			sink += (vc + p*r/vc - v0) / a
			n++
		}
	})
}

func TestVoltageAllocatesNothing(t *testing.T) {
	set := voltageSets(t)["lead-acid"]
	m := voltageModels(t)["lithium 51.2 V"]
	l := RunLimits{StateOfCharge: 1, DepthLimit: 1, CutOff: 40}
	for name, f := range map[string]func(){
		"Shepherd.Voltage":       func() { _, _ = shepherdSet.Voltage(3600, 10) },
		"Shepherd.DrawnAt":       func() { _, _ = shepherdSet.DrawnAt(10, 10.5) },
		"Tremblay.Voltage":       func() { _, _ = set.Voltage(360, 0.1) },
		"Tremblay.ChargeVoltage": func() { _, _ = set.ChargeVoltage(360, 0.1) },
		"Tremblay.After":         func() { _, _ = set.After(set.Full(), 0.1, 60) },
		"Tremblay.Terminal":      func() { _, _ = set.Terminal(set.Full(), 0.1) },
		"Tremblay.DrawnAt":       func() { _, _ = set.DrawnAt(0.1, 10.5) },
		"VoltageModel.Voltage":   func() { _, _ = m.Voltage(0.5, 10) },
		"VoltageAtPower":         func() { _, _ = m.VoltageAtPower(0.5, 1000) },
		"ConstantPower":          func() { _, _ = m.ConstantPower(l, 3000) },
		"ConstantCurrent":        func() { _, _ = m.ConstantCurrent(l, 30) },
		"TripAtPower":            func() { _, _ = m.TripAtPower(3000, 44) },
		"TripAtCurrent":          func() { _, _ = m.TripAtCurrent(100, 44) },
		"PointAtPower":           func() { _, _ = PointAtPower(12.6, 0.01, 500) },
	} {
		assert.Zero(t, testing.AllocsPerRun(100, f), name)
	}
}
