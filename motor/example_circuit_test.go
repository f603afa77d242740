package motor_test

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// quarterHorsepower is the textbook motor of 1/4 hp, 110 V, with its start
// capacitor of 183 µF.
var quarterHorsepower = motor.SinglePhaseCircuit{
	Voltage: 110, Frequency: 60, Poles: 4,
	R1: 2.02, X1: 2.79, R2: 4.12, X2: 2.12, Xm: 66.8, RotationalLoss: 37,
	Auxiliary: motor.Auxiliary{Turns: 1.18, R: 7.14, X: 3.22, Start: motor.Branch{Capacitance: 182.9e-6, Resistance: 3}, Switch: 0.75},
}

// Example 9.2 of Fitzgerald, Kingsley and Umans: the motor at 5 % slip.
func ExampleSinglePhaseCircuit_Running() {
	p, err := quarterHorsepower.Running(0.05, 110)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f, power factor %.2f, %.0f at the shaft, %.0f rpm\n", p.Current, p.PowerFactor, p.Output, float64(p.Speed/motor.RPM))
	// Output: 3.60 A, power factor 0.62, 147 W at the shaft, 1710 rpm
}

// The same motor at rest, both windings on the line.
func ExampleSinglePhaseCircuit_Starting() {
	p, err := quarterHorsepower.Starting(1, 110)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, %.0f, %.0f, torque %.1f\n", p.Current, p.Apparent, p.Input, p.Torque)
	// Output: 17.5 A, 1924 VA, 1792 W, torque 4.0 N m
}

// Example 6.3 of Fitzgerald, Kingsley and Umans.
func ExampleThreePhaseCircuit_Thevenin() {
	c := motor.ThreePhaseCircuit{Voltage: 220, Frequency: 60, Poles: 6, R1: 0.294, X1: 0.503, R2: 0.144, X2: 0.209, Xm: 13.25}
	th, err := c.Thevenin(220)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("breakdown %.0f at slip %.3f\n", th.Torque, th.Breakdown)
	// Output: breakdown 175 N m at slip 0.192
}

// A pump on a long wire: the motor keeps its volts but for the start.
func ExampleRunUp_QuasiSteady() {
	r := motor.RunUp{
		Circuit: quarterHorsepower, Feeder: 0.5, Inertia: 0.0146,
		Source: motor.Line{Voltage: 110, Frequency: 60, Phases: 1},
		Load:   motor.CentrifugalLoad{Rated: 0.8, Speed: 1710 * motor.RPM, Breakaway: 0.15},
	}
	got, err := r.QuasiSteady()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v in %.2f, start switch open at %.2f, %.0f at least\n", got.Outcome, got.FullSpeed, got.SwitchOpen, got.LeastVoltage)
	r.Source = motor.Line{Voltage: 110, Frequency: 60, Phases: 1, Limit: 3}
	got, err = r.QuasiSteady()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("held to 3 A: %v\n", got.Outcome)
	// Output:
	// starts in 0.86 s, start switch open at 0.56 s, 102 V at least
	// held to 3 A: stands still and hums
}

// Instant by instant, with the voltage at its crest as the switch closes.
func ExampleRunUp_Dynamic() {
	r := motor.RunUp{
		Circuit: quarterHorsepower, Inertia: 0.0146,
		Source: motor.Line{Voltage: 110, Frequency: 60, Phases: 1},
	}
	got, err := r.Dynamic(0, 1e-8)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v in %.2f, peak %.1f, first cycle %.1f rms\n", got.Outcome, got.FullSpeed, got.Peak, got.Cycles[0].Current)
	fmt.Printf("the capacitor keeps %.0f\n", got.CapacitorLeft)
	// Output:
	// starts in 0.67 s, peak 24.8 A, first cycle 16.1 A rms
	// the capacitor keeps 126 V
}

// linked is an inverter of 110 V behind a dc link of 2000 µF and 180 V, which a
// converter charges with 1000 W at most.
type linked struct{ motor.Line }

func (linked) Link() (unit.Capacitance, unit.Voltage, unit.Conductance, unit.Power) {
	return 2000 * unit.Micro * unit.Farad, 180 * unit.Volt, 5 * unit.Siemens, 1000 * unit.Watt
}

// 1000 W are four times what the motor runs on, and yet the link sags to half.
func ExampleLinked() {
	r := motor.RunUp{
		Circuit: quarterHorsepower, Inertia: 0.0146,
		Source: linked{motor.Line{Voltage: 110, Frequency: 60, Phases: 1}},
	}
	got, err := r.Dynamic(0, 1e-8)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v in %.2f, link down to %.0f\n", got.Outcome, got.FullSpeed, got.LeastLink)
	// Output: starts in 1.03 s, link down to 90 V
}
