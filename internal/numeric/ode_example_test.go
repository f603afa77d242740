package numeric_test

import (
	"fmt"

	"ridethrough.example/internal/numeric"
)

// A drum runs up on 6 N·m until a switch at 30 rad/s leaves 4 N·m; a brake
// takes 0.1 N·m·s per radian, the inertia is 1 kg·m². The states are speed and
// angle.
func ExampleSolver() {
	drive := func(torque float64) func(t float64, y, dy []float64) {
		return func(_ float64, y, dy []float64) {
			dy[0], dy[1] = torque-0.1*y[0], y[0]
		}
	}
	s := numeric.NewSolver(numeric.ODE{
		F: drive(6), RTol: 1e-9, ATol: []float64{1e-9},
		Events: []numeric.Event{{
			G:         func(_ float64, y []float64) float64 { return y[0] - 30 },
			Direction: numeric.Rising,
		}},
	}, 2)
	if err := s.Start(0, []float64{0, 0}); err != nil {
		fmt.Println(err)
		return
	}
	for s.T() < 10 {
		if err := s.Run(10); err != nil {
			fmt.Println(err)
			return
		}
		if s.Fired(0) {
			fmt.Printf("switch after %.4f s and %.2f rad\n", s.T(), s.Y()[1])
			s.F = drive(4)
			if err := s.Restart(); err != nil {
				fmt.Println(err)
				return
			}
		}
	}
	fmt.Printf("%.4f rad/s after %.0f s\n", s.Y()[0], s.T())
	// Output:
	// switch after 6.9315 s and 115.89 rad
	// 32.6424 rad/s after 10 s
}
