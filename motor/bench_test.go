package motor

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

// The benchmarks lay each kernel beside the bare expression on the same
// inputs, which vary so that nothing is computed ahead.
var (
	sinkFloat   float64
	sinkComplex complex128
	sinkRange   Range[unit.Current]
	sinkPower   Range[unit.Power]
)

var someAmps = [8]float64{23, 30, 34.2, 41.8, 48.7, 58.8, 64.4, 66.2}

func BenchmarkLockedRotorKVAPerHP(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			k, err := LockedRotorKVAPerHP(unit.Current(someAmps[i&7]), 230, 1, Horsepower)
			if err != nil {
				b.Fatal(err)
			}
			sinkFloat = k
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		v, p := 230.0, float64(Horsepower)
		for i := 0; b.Loop(); i++ {
			sinkFloat = v * someAmps[i&7] / (1000 * (p / float64(Horsepower)))
		}
	})
}

func BenchmarkClassifyCodeLetter(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			c, err := ClassifyCodeLetter(unit.Current(someAmps[i&7]), 230, 1, Horsepower)
			if err != nil {
				b.Fatal(err)
			}
			sinkFloat = float64(c)
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		v, p := 230.0, float64(Horsepower)
		for i := 0; b.Loop(); i++ {
			k := v * someAmps[i&7] / (1000 * (p / float64(Horsepower)))
			j := 0
			for j+1 < len(codeLetters) && k >= codeFloor[j+1] {
				j++
			}
			sinkFloat = float64(codeLetters[j])
		}
	})
}

func BenchmarkNameplateLockedRotor(b *testing.B) {
	n := Nameplate{Output: Horsepower, Voltage: 230, Phases: 1, Code: 'K'}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			n.Voltage = unit.Voltage(200 + someAmps[i&7])
			r, _, err := n.LockedRotor()
			if err != nil {
				b.Fatal(err)
			}
			sinkRange = r
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			v := 200 + someAmps[i&7]
			perK := 1000 * (float64(n.Output) / float64(Horsepower)) / v
			sinkRange = Range[unit.Current]{Low: unit.Current(8 * perK), High: unit.Current(9 * perK)}
		}
	})
}

// bareRunning takes a plate and returns running figures by value as
// [Nameplate.Running] does, which takes longer than to compute them.
//
//go:noinline
func bareRunning(n Nameplate) (r Running, err error) {
	s := float64(n.Voltage) * float64(n.FullLoadCurrent)
	r.Real = Range[unit.Power]{Low: unit.Power(max(s*0.55, float64(n.Output)/0.85)), High: unit.Power(s * 0.9)}
	return r, nil
}

func BenchmarkNameplateRunning(b *testing.B) {
	n := jetPump
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			n.FullLoadCurrent = unit.Current(8 + someAmps[i&7]/100)
			r, err := n.Running()
			if err != nil {
				b.Fatal(err)
			}
			sinkPower = r.Real
		}
	})
	b.Run("call", func(b *testing.B) { // the bare expression behind the method's signature
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			n.FullLoadCurrent = unit.Current(8 + someAmps[i&7]/100)
			r, err := bareRunning(n)
			if err != nil {
				b.Fatal(err)
			}
			sinkPower = r.Real
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			s := float64(n.Voltage) * (8 + someAmps[i&7]/100)
			sinkPower = Range[unit.Power]{
				Low:  unit.Power(max(s*0.55, float64(n.Output)/0.85)),
				High: unit.Power(s * 0.9),
			}
		}
	})
}

func BenchmarkCodeFullLoadCurrent(b *testing.B) {
	powers := [8]unit.Power{0.5 * Horsepower, 0.75 * Horsepower, Horsepower, 1.5 * Horsepower, 2 * Horsepower, 3 * Horsepower, 5 * Horsepower, 10 * Horsepower}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			a, err := CodeFullLoadCurrent(powers[i&7], 240, 1)
			if err != nil {
				b.Fatal(err)
			}
			sinkFloat = float64(a)
		}
	})
	b.Run("bare", func(b *testing.B) { // a scan of the rows
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			p := float64(powers[i&7] / Horsepower)
			for j := range table248.rows {
				if math.Abs(table248.rows[j].hp-p) <= 0.001*p {
					sinkFloat = table248.rows[j].amps[3]
					break
				}
			}
		}
	})
}

func BenchmarkTorqueRatio(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			x, err := TorqueRatio(someAmps[i&7]/70, 1)
			if err != nil {
				b.Fatal(err)
			}
			sinkFloat = x
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		f := 1.0
		for i := 0; b.Loop(); i++ {
			v := someAmps[i&7] / 70
			sinkFloat = (v / f) * (v / f)
		}
	})
}

func BenchmarkLockedRotorImpedance(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			z, err := LockedRotorImpedance(230, unit.Current(someAmps[i&7]), 1, 0.8)
			if err != nil {
				b.Fatal(err)
			}
			sinkComplex = z
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		v, pf := 230.0, 0.8
		for i := 0; b.Loop(); i++ {
			z := v / someAmps[i&7]
			sinkComplex = complex(z*pf, z*math.Sqrt(1-pf*pf))
		}
	})
}

func BenchmarkVoltageRatio(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			x, err := VoltageRatio(complex(someAmps[i&7], 2.3), 0.5+0.1i)
			if err != nil {
				b.Fatal(err)
			}
			sinkFloat = x
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		zs := 0.5 + 0.1i
		for i := 0; b.Loop(); i++ {
			z := complex(someAmps[i&7], 2.3)
			sinkFloat = cmplx.Abs(z) / cmplx.Abs(z+zs)
		}
	})
}

func TestKernelsDoNotAllocate(t *testing.T) {
	plate := jetPump
	plate.LockedRotorCurrent = 45
	lettered := Nameplate{Output: Horsepower, Voltage: 230, Phases: 1, Code: 'K'}
	reading := Reading{Voltage: 120, Phases: 1, Current: 10, Real: 800}
	dc := DCSide{Apparent: 1200, BatteryVoltage: 12, BatteryCurrent: 75, Efficiency: Range[float64]{Low: 0.85, High: 0.92}}
	evidence := StartEvidence{Driven: Pump}
	demand, err := plate.Start(evidence)
	assert.NoError(t, err)
	var failed error
	keep := func(err error) {
		if err != nil {
			failed = err
		}
	}
	for name, kernel := range map[string]func(){
		"LockedRotorKVAPerHP":    func() { _, err := LockedRotorKVAPerHP(40, 230, 1, Horsepower); keep(err) },
		"LockedRotorCurrent":     func() { _, err := LockedRotorCurrent(8, 230, 1, Horsepower); keep(err) },
		"ClassifyCodeLetter":     func() { _, err := ClassifyCodeLetter(40, 230, 1, Horsepower); keep(err) },
		"Validate":               func() { keep(plate.Validate()) },
		"LockedRotor":            func() { _, _, err := lettered.LockedRotor(); keep(err) },
		"Running":                func() { _, err := plate.Running(); keep(err) },
		"RunningAtServiceFactor": func() { _, err := plate.RunningAtServiceFactor(); keep(err) },
		"Reading":                func() { _, err := reading.Running(); keep(err) },
		"DCSide":                 func() { _, err := dc.Running(); keep(err) },
		"RunningFromShaft": func() {
			_, err := RunningFromShaft(Horsepower, 230, 1, Exactly(0.7), Exactly(0.7), BasisNameplate)
			keep(err)
		},
		"StartFrom":            func() { _, err := lettered.StartFrom(BasisCodeLetter, evidence); keep(err) },
		"CodeFullLoadCurrent":  func() { _, err := CodeFullLoadCurrent(Horsepower, 230, 1); keep(err) },
		"CodeLockedRotor":      func() { _, err := CodeLockedRotorCurrent(Horsepower, 230, 3); keep(err) },
		"ServiceFactor":        func() { _, err := GeneralPurposeServiceFactor(Horsepower, 4); keep(err) },
		"TorqueRatio":          func() { _, err := TorqueRatio(0.9, 1); keep(err) },
		"LockedRotorImpedance": func() { _, err := LockedRotorImpedance(230, 40, 1, 0.8); keep(err) },
		"Impedances":           func() { _, err := demand.Impedances(); keep(err) },
		"At":                   func() { _, err := demand.At(100); keep(err) },
		"VoltageRatio":         func() { _, err := VoltageRatio(3+4i, 0.5); keep(err) },
	} {
		assert.Zero(t, testing.AllocsPerRun(100, kernel), name)
		assert.NoError(t, failed, name)
	}
}
