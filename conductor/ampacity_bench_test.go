package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

func BenchmarkRacewayAmpacity(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			i, err := RacewayAmpacity(codeList[2+n&15], Copper, Rated75C, Since2011)
			sink, errSink = float64(i), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			s := codeList[2+n&15]
			var row int
			if s.system == gauge {
				row = int(gaugeRow[s.number+3]) - 1
			} else {
				row = int(kcmilRow[s.number/50]) - 1
			}
			sink = raceway2011[row][1]
			n++
		}
	})
}

func BenchmarkAmbientLaw(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			f, err := AmbientLaw(348.15, 303.15, unit.Temperature(280+n&63))
			sink, errSink = f, err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			sink = math.Sqrt((348.15 - float64(280+n&63)) / (348.15 - 303.15))
			n++
		}
	})
}

func BenchmarkAmbientFactor(b *testing.B) {
	edges := [...]float64{10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70}
	factors := [...]float64{1.20, 1.15, 1.11, 1.05, 1, 0.94, 0.88, 0.82, 0.75, 0.67, 0.58, 0.47, 0.33}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			f, err := AmbientFactor(Rated75C, Base30C, unit.Temperature(280+n&63))
			sink, errSink = f, err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			t := float64(280+n&63) - 273.15
			for k, edge := range edges {
				if t <= edge {
					sink = factors[k]
					break
				}
			}
			n++
		}
	})
}

func BenchmarkStandardUp(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			r, err := StandardBreakers.Up(unit.Current(1 + n&511))
			sink, errSink = float64(r), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			i := float64(1 + n&511)
			for _, r := range breakerRatings {
				if r >= i {
					sink = r
					break
				}
			}
			n++
		}
	})
}

func BenchmarkShortCircuit(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			p, err := MotorCircuit{Kind: SinglePhase, Table: unit.Current(1 + n&63)}.ShortCircuit(InverseTimeBreaker)
			sink, errSink = float64(p.Largest), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			flc := float64(1 + n&63)
			standard, largest := 0.0, 0.0
			for _, r := range breakerRatings {
				if r <= 4*flc {
					largest = r
				}
				if standard == 0 && r >= 2.5*flc {
					standard = r
				}
				if r > 4*flc {
					break
				}
			}
			sink = max(standard, largest)
			n++
		}
	})
}

func BenchmarkBranchCurrent(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		w := Branch{Metal: Copper, Insulation: Rated90C, AmbientRule: ByFormula, Terminals: Rated75C}
		n := 0
		for b.Loop() {
			w.Size, w.Ambient, w.Conductors = codeList[2+n&15], unit.Temperature(290+n&31), 1+n&7
			i, err := w.Current()
			sink, errSink = float64(i), err
			n++
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			// The row is looked up from the size, as the kernel does.
			s := codeList[2+n&15]
			var row int
			if s.system == gauge {
				row = int(gaugeRow[s.number+3]) - 1
			} else {
				row = int(kcmilRow[s.number/50]) - 1
			}
			f := 1.0
			if c := 1 + n&7; c > 6 {
				f = 0.7
			} else if c > 3 {
				f = 0.8
			}
			i := raceway2011[row][2] * f * math.Sqrt((363.15-float64(290+n&31))/60)
			sink = min(i, raceway2011[row][1])
			n++
		}
	})
}

func TestAmpacityDoesNotAllocate(t *testing.T) {
	b := branch
	b.Conductors = 5
	iec := IECCircuit{MetricSize(4 * SquareMillimetre), PVC70, MethodB1, 2}
	m := MotorCircuit{Kind: SinglePhase, Table: 12, Nameplate: 10, ServiceFactor: 1.15}
	currents := []unit.Current{12, 8, 5}
	var err error
	for name, f := range map[string]func(){
		"RacewayAmpacity":     func() { _, err = RacewayAmpacity(AWG(10), Copper, Rated75C, Since2011) },
		"FreeAirAmpacity":     func() { _, err = FreeAirAmpacity(AWG(10), Rated75C) },
		"IECCircuit.Ampacity": func() { _, err = iec.Ampacity() },
		"IECAmbientFactor":    func() { _, err = IECAmbientFactor(PVC70, 310) },
		"AmbientLaw":          func() { _, err = AmbientLaw(348, 303, 310) },
		"AmbientFactor":       func() { _, err = AmbientFactor(Rated75C, Base40C, 310) },
		"CountFactor":         func() { _, err = CountFactor(5) },
		"TerminationColumn":   func() { _, err = TerminationColumn(AWG(10), 0, 0) },
		"SmallConductorLimit": func() { _, _, err = SmallConductorLimit(AWG(10), Copper) },
		"Up":                  func() { _, err = StandardFuses.Up(17) },
		"Down":                func() { _, err = StandardFuses.Down(17) },
		"ForAmpacity":         func() { _, err = StandardBreakers.ForAmpacity(950) },
		"Demand":              func() { _, err = BranchLoad{16, 2}.Demand() },
		"ContinuousCapacity":  func() { _, err = ContinuousCapacity(20) },
		"GroundingConductor":  func() { _, err = GroundingConductor(20, Copper) },
		"GroundingUpsized":    func() { _, err = GroundingUpsized(20, Copper, AWG(12), AWG(8)) },
		"ConductorAmpacity":   func() { _, err = m.ConductorAmpacity() },
		"ShortCircuit":        func() { _, err = m.ShortCircuit(DualElementFuse) },
		"Overload":            func() { _, err = m.Overload() },
		"ThermalProtector":    func() { _, err = m.ThermalProtector() },
		"Disconnect":          func() { _, err = m.Disconnect() },
		"MotorFeeder":         func() { _, err = MotorFeeder(currents) },
		"Branch.Current":      func() { _, err = b.Current() },
		"BranchCheck.Passes":  func() { _ = BranchCheck{}.Passes() },
	} {
		allocsFree(t, name, f)
		assert.NoError(t, err, name)
	}
}
