package motor

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

var sinkStandstill Standstill

var someWindings = [4]LockedWindings{
	{Main: 4.5 + 3.7i, Auxiliary: 9.5 + 3.5i, Frequency: 60},
	{Main: 2 + 3.5i, Auxiliary: 9.15 + 8.4i, Frequency: 60},
	{Main: 1.5 + 4i, Auxiliary: 3 + 6i, Frequency: 60},
	{Main: 4 + 3.5i, Auxiliary: 5 + 3i, Frequency: 50},
}

func BenchmarkStartCapacitor(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			c, err := someWindings[i&3].StartCapacitor(MostTorque, 120)
			if err != nil {
				b.Fatal(err)
			}
			sinkFloat = float64(c.Capacitance) + float64(c.Voltage)
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			w := &someWindings[i&3]
			rm, xm, ra, xa := real(w.Main), imag(w.Main), real(w.Auxiliary), imag(w.Auxiliary)
			xc := xa + ra*rm/(xm+cmplx.Abs(w.Main))
			sinkFloat = 1/(2*math.Pi*float64(w.Frequency)*xc) + 120*xc/math.Hypot(ra, xa-xc)
		}
	})
}

func BenchmarkStandstill(b *testing.B) {
	circuit := StartCircuit{Capacitance: 200e-6}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			s, err := someWindings[i&3].Standstill(120, circuit)
			if err != nil {
				b.Fatal(err)
			}
			sinkStandstill = s
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			w := &someWindings[i&3]
			xc := 1 / (2 * math.Pi * float64(w.Frequency) * float64(circuit.Capacitance))
			im, ia := 120/w.Main, 120/(w.Auxiliary-complex(0, xc))
			product := ia * cmplx.Conj(im)
			s := cmplx.Abs(im + ia)
			sinkStandstill = Standstill{
				Main: im, Auxiliary: ia, Line: im + ia, Apparent: ApparentPower(120 * s), Real: unit.Power(120 * real(im+ia)),
				PowerFactor: real(im+ia) / s, TorqueIndex: imag(product), Angle: unit.Angle(cmplx.Phase(product)),
				CapacitorVoltage: unit.Voltage(cmplx.Abs(ia) * xc),
			}
		}
	})
}

func BenchmarkAccelerationTime(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			t, err := AccelerationTime(0.0146, 0, 1350*RPM, unit.Torque(someAmps[i&7]))
			if err != nil {
				b.Fatal(err)
			}
			sinkFloat = float64(t)
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		w := 1350 * float64(RPM)
		for i := 0; b.Loop(); i++ {
			sinkFloat = 0.0146 * w / someAmps[i&7]
		}
	})
}

func BenchmarkAllowableStarts(b *testing.B) {
	sizes := [4]float64{1, 10, 25, 250}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			s, err := AllowableStarts(unit.Power(sizes[i&3])*Horsepower, 4, 3, 2*PoundSquareFoot)
			if err != nil {
				b.Fatal(err)
			}
			sinkFloat = s.PerHour
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			r := &startRows[(i&3)*5]
			sinkFloat = min(r.a[1], r.b[1]/2)
		}
	})
}

func TestRuleKernelsAllocateNothing(t *testing.T) {
	w, circuit := someWindings[0], StartCircuit{Capacitance: 200e-6}
	for name, kernel := range map[string]func() error{
		"start capacitor":  func() error { _, err := w.StartCapacitor(MostTorquePerAmpere, 120); return err },
		"resistor":         func() error { _, err := w.MostTorqueResistor(); return err },
		"angle":            func() error { _, err := w.AngleResistor(0.5); return err },
		"standstill":       func() error { _, err := w.Standstill(120, circuit); return err },
		"compare":          func() error { _, err := w.CompareStarts(120, circuit, circuit.Opened()); return err },
		"given currents":   func() error { _, err := StandstillOf(120, 6-1i, 4+1i); return err },
		"series resistor":  func() error { _, err := SeriesResistor(3+4i, 120, 20); return err },
		"series reactor":   func() error { _, err := SeriesReactor(3+4i, 120, 20, 60); return err },
		"autotransformer":  func() error { _, err := AutotransformerStart(0.65); return err },
		"ramp":             func() error { _, err := VoltageRampStart(0.65); return err },
		"drive":            func() error { _, err := DriveStart(6, 1.5); return err },
		"judge":            func() error { _, err := StarterCase{Starter: VoltageRamp, Phases: 1}.Judge(); return err },
		"allowable starts": func() error { _, err := AllowableStarts(25*Horsepower, 4, 3, PoundSquareFoot); return err },
		"submersible":      func() error { _, err := SubmersibleStarts(Horsepower, 1, false); return err },
		"efficiency":       func() error { _, err := SmallMotorEfficiency(Horsepower, 2, ThreePhase, Pump); return err },
		"dc table":         func() error { _, err := CodeDCFullLoadCurrent(Horsepower, 120); return err },
		"unbalance":        func() error { _, err := VoltageUnbalance(230, 231, 228); return err },
		"derating":         func() error { _, err := UnbalanceDerating(0.025); return err },
		"rotor":            func() error { _, err := TypicalRotorInertia(Kilowatt, 2); return err },
		"acceleration":     func() error { _, err := AccelerationTime(0.01, 0, 100, 1); return err },
		"start heat":       func() error { _, err := NoLoadStartHeat(0.01, 100, 1); return err },
		"unloaded start":   func() error { _, err := NoLoadStartTime(0.01, 100, 1, 0.2, 0.05); return err },
	} {
		assert.Zero(t, testing.AllocsPerRun(100, func() {
			if err := kernel(); err != nil {
				t.Fatal(err)
			}
		}), name)
	}
}
