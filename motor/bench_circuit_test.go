package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

var sinkPoint Point

var someSlips = [8]float64{0.03, 0.05, 0.08, 0.2, 0.4, 0.6, 0.8, 1}

// bareMainWinding is what a textbook computes for one winding at one slip.
func bareMainWinding(s float64) (complex128, float64) {
	r2, x2, xm := 4.12, 2.12, 66.8
	zf := 0.5 * complex(0, xm) * complex(r2/s, x2) / complex(r2/s, x2+xm)
	zb := 0.5 * complex(0, xm) * complex(r2/(2-s), x2) / complex(r2/(2-s), x2+xm)
	i := 110 / (complex(2.02, 2.79) + zf + zb)
	i2 := real(i)*real(i) + imag(i)*imag(i)
	return i, i2 * (real(zf) - real(zb)) / (60 * math.Pi)
}

func BenchmarkRunningPoint(b *testing.B) {
	c := mainWinding()
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			p, err := c.Running(someSlips[i&7], 110)
			if err != nil {
				b.Fatal(err)
			}
			sinkPoint = p
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			s := someSlips[i&7]
			line, torque := bareMainWinding(s)
			amps2 := real(line)*real(line) + imag(line)*imag(line)
			amps, gap := math.Sqrt(amps2), torque*60*math.Pi
			in, copper, rotor := 110*real(line), amps2*2.02, s*gap
			converted := (1 - s) * gap
			out := converted - 37
			sinkComplex = line
			sinkFloat = amps*110 + in/(amps*110) + copper + rotor + converted + out/((1-s)*60*math.Pi) + out/in
		}
	})
}

// The response is what a start asks for at each step.
func BenchmarkResponse(b *testing.B) {
	c := quarterHorse(reactance(3, 14.5))
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			sinkFloat = c.respond(188*(1-someSlips[i&7]), 1, starting).torque
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		r2, x2, xm, a := 4.12, 2.12, 66.8, 1.18
		zc := complex(3, -14.5)
		for i := 0; b.Loop(); i++ {
			s := someSlips[i&7]
			zf := 0.5 * complex(0, xm) * complex(r2/s, x2) / complex(r2/s, x2+xm)
			zb := 0.5 * complex(0, xm) * complex(r2/(2-s), x2) / complex(r2/(2-s), x2+xm)
			z11, z12 := complex(2.02, 2.79)+zf+zb, complex(0, -a)*(zf-zb)
			z22 := complex(a*a, 0)*(zf+zb) + complex(7.14, 3.22) + zc
			det := z11*z22 + z12*z12
			i1, i2 := (z22-z12)/det, (z11+z12)/det
			ja := complex(0, a) * i2
			sinkComplex = i1 + i2
			sinkFloat = (square(i1-ja)*real(zf) - square(i1+ja)*real(zb)) / (60 * math.Pi)
		}
	})
}

// The bare one finds the slip by bisection to the same accuracy, from the
// breakdown slip that it is told.
func BenchmarkAtTorque(b *testing.B) {
	c := mainWinding()
	c.RotationalLoss = 0
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			p, err := c.AtTorque(unit.Torque(0.5+0.1*float64(i&7)), 110)
			if err != nil {
				b.Fatal(err)
			}
			sinkPoint = p
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			want, lo, hi := 0.5+0.1*float64(i&7), 1e-9, 0.23
			for range 50 {
				mid := (lo + hi) / 2
				if _, t := bareMainWinding(mid); t < want {
					lo = mid
				} else {
					hi = mid
				}
			}
			sinkFloat = lo
		}
	})
}

// The bare one is a fixed-step Runge–Kutta of order 4 over the same start,
// 1e-3 s, good to 1e-4.
func BenchmarkQuasiSteadyStart(b *testing.B) {
	r := pumpStart(110)
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			got, err := r.QuasiSteady()
			if err != nil {
				b.Fatal(err)
			}
			sinkFloat = float64(got.FullSpeed)
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		c, load := quarterHorse(reactance(3, 14.5)), r.Load
		for b.Loop() {
			n := starting
			f := func(w float64) float64 {
				return (110*110*c.respond(w, 1, n).torque - float64(load.Torque(Speed(w)))) / 0.0146
			}
			const h = 1e-3
			w, t := 0.0, 0.0
			for w < 178.02 {
				k1 := f(w)
				k2 := f(w + h/2*k1)
				k3 := f(w + h/2*k2)
				k4 := f(w + h*k3)
				w, t = w+h/6*(k1+2*k2+2*k3+k4), t+h
				if w > 0.75*60*math.Pi {
					n = running
				}
			}
			sinkFloat = t
		}
	})
}

// One simulated second at 1e-8, from rest with the pump's load, on a stiff
// source, behind a limit of current and behind a dc link.
func BenchmarkDynamicSecond(b *testing.B) {
	r := pumpStart(110)
	r.Until, r.FullSpeed = 1, 0.999
	line := Line{Voltage: 110, Frequency: 60, Phases: 1}
	clamp := line
	clamp.Limit = 15 / math.Sqrt2
	for _, tt := range []struct {
		name   string
		source Source
	}{{"stiff", line}, {"clamp", clamp}, {"link", referenceLink(1000)}} {
		b.Run(tt.name, func(b *testing.B) {
			r := r
			r.Source = tt.source
			b.ReportAllocs()
			for b.Loop() {
				got, err := r.Dynamic(0, 1e-8)
				if err != nil {
					b.Fatal(err)
				}
				sinkFloat = float64(got.Peak)
			}
		})
	}
}

func TestStartsDoNotAllocate(t *testing.T) {
	r := pumpStart(110)
	q := quasi{RunUp: r.plain()}
	q.frame = q.Circuit.frame()
	var y, dy [dynamicStates]float64
	y[stSpeed] = 50
	assert.Zero(t, testing.AllocsPerRun(100, func() { q.slope(0.1, y[:quasiStates], dy[:quasiStates]) }), "quasi-steady")

	c := r.Circuit.(SinglePhaseCircuit) //nolint:errcheck // pumpStart's
	d := dynamic{RunUp: r.plain(), circuit: c, frame: c.frame(), accuracy: 1e-8}
	require.NoError(t, d.prepare(0))
	assert.Zero(t, testing.AllocsPerRun(100, func() { d.slope(0.1, y[:], dy[:]) }), "dynamic")
	d.Source = referenceLink(1000)
	require.NoError(t, d.prepare(0))
	y[dyLink] = 90
	assert.Zero(t, testing.AllocsPerRun(100, func() { d.slope(0.1, y[:], dy[:]) }), "dynamic, behind a link")

	for name, f := range map[string]func(){
		"point":  func() { sinkPoint, _ = c.Running(0.05, 110) },
		"torque": func() { sinkPoint, _ = c.AtTorque(0.8, 110) },
		"peak":   func() { sinkPoint, _ = c.Breakdown(110) },
		"three":  func() { sinkPoint, _ = sixPoles().AtOutput(5000, 220) },
	} {
		assert.Zero(t, testing.AllocsPerRun(100, f), name)
	}
}
