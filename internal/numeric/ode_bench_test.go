package numeric

import "testing"

// BenchmarkODE integrates six linear states with a pair of 377 rad/s over a
// tenth of a second: kernel to a tolerance of 1e-9, bare with the stages of the
// pair written out over arrays, as many steps and all of one length.
func BenchmarkODE(b *testing.B) {
	start := []float64{1, 0, 2, -1, 0.5, 3}
	const end = 0.1
	s := NewSolver(ODE{F: linear6, RTol: 1e-9, ATol: []float64{1e-9}}, 6)
	run := func() error {
		if err := s.Start(0, start); err != nil {
			return err
		}
		return s.Run(end)
	}
	if err := run(); err != nil {
		b.Fatal(err)
	}
	steps := s.Steps()
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if err := run(); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(steps), "steps/op")
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		var y, z, k1, k2, k3, k4, k5, k6 [6]float64
		h := end / float64(steps)
		for b.Loop() {
			copy(y[:], start)
			for range steps {
				linear6(0, y[:], k1[:])
				for i := range z {
					z[i] = y[i] + h*(a21*k1[i])
				}
				linear6(0, z[:], k2[:])
				for i := range z {
					z[i] = y[i] + h*(a31*k1[i]+a32*k2[i])
				}
				linear6(0, z[:], k3[:])
				for i := range z {
					z[i] = y[i] + h*(a41*k1[i]+a42*k2[i]+a43*k3[i])
				}
				linear6(0, z[:], k4[:])
				for i := range z {
					z[i] = y[i] + h*(a51*k1[i]+a52*k2[i]+a53*k3[i]+a54*k4[i])
				}
				linear6(0, z[:], k5[:])
				for i := range z {
					z[i] = y[i] + h*(a61*k1[i]+a62*k2[i]+a63*k3[i]+a64*k4[i]+a65*k5[i])
				}
				linear6(0, z[:], k6[:])
				for i := range y {
					y[i] += h * (b1*k1[i] + b3*k3[i] + b4*k4[i] + b5*k5[i] + b6*k6[i])
				}
			}
		}
	})
}
