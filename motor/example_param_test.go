package motor_test

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// A half-horsepower jet pump of which the plate tells the currents and the
// speed. What three figures leave open stays as in published motors.
func ExampleCatalogue_FitSinglePhase() {
	plate := motor.Catalogue{
		Type: motor.CapacitorStart, Output: motor.Horsepower / 2, Voltage: 115, Frequency: 60, Poles: 2,
		FullLoadCurrent: 8.6, FullLoadSpeed: 3450 * motor.RPM, LockedRotorCurrent: 41,
	}
	pump, fit, err := plate.FitSinglePhase()
	if err != nil {
		fmt.Println(err)
		return
	}
	start, err := pump.Starting(1, 115)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("follows the plate: %t; %d parameters undecided\n", math.Abs(fit.Worst.Relative) < 0.001, fit.Undecided)
	fmt.Printf("running %.0f W, starting %.0f W at power factor %.2f\n", float64(fit.Rated.Input), float64(start.Input), start.PowerFactor)
	// Output:
	// follows the plate: true; 5 parameters undecided
	// running 560 W, starting 4035 W at power factor 0.86
}

// Figures of a 10 hp catalogue motor, whose deep bars give it more starting
// torque than its slip at full load has room for.
func ExampleCatalogue_FitThreePhase() {
	c := motor.Catalogue{
		Type: motor.ThreePhase, Output: 10 * motor.Horsepower, Voltage: 230, Frequency: 60, Poles: 4,
		FullLoadCurrent: 26, PowerFactor: 0.83, Efficiency: 0.895, FullLoadSpeed: 1750 * motor.RPM,
		LockedRotorCurrent: 162, StartingTorque: 2.2, BreakdownTorque: 2.6,
	}
	for _, c.DeepBar = range []bool{false, true} {
		_, fit, err := c.FitThreePhase()
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s %+.0f %%\n", fit.Worst.Figure, 100*fit.Worst.Relative)
	}
	// Output:
	// starting torque -24 %
	// breakdown torque +8 %
}

// A third-horsepower sump pump of which no more is known.
func ExampleTypicalSinglePhase() {
	pump, err := motor.TypicalSinglePhase(motor.SplitPhase, motor.Horsepower/3, 115, 60, 4)
	if err != nil {
		fmt.Println(err)
		return
	}
	start, err := pump.Circuit.Starting(1, 115)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("held %.1f (%.1f to %.1f), %.0f, power factor %.2f\n",
		start.Current, pump.LockedRotorCurrent.Low, pump.LockedRotorCurrent.High, start.Input, start.PowerFactor)
	// Output: held 30.7 A (26.1 A to 36.2 A), 2867 W, power factor 0.81
}

// A three-wire well pump whose plate gives its locked-rotor current.
func ExampleTypicalSubmersible() {
	typical, err := motor.TypicalSubmersible(3, motor.Horsepower, 230, 60)
	if err != nil {
		fmt.Println(err)
		return
	}
	pump, err := typical.Circuit.WithLockedRotorCurrent(44)
	if err != nil {
		fmt.Println(err)
		return
	}
	rated, err := pump.AtOutput(motor.Horsepower, 230)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f and %.0f at %.0f rpm, on %s figures\n", rated.Current, rated.Input, float64(rated.Speed/motor.RPM), typical.Basis)
	// Output: 8.1 A and 1003 W at 3508 rpm, on typical figures
}

// The tests of a small motor on the bench.
func ExampleSinglePhaseTests_Circuit() {
	c, err := motor.SinglePhaseTests{
		Voltage: 115, Frequency: 60, Poles: 4, R1: 2.5,
		NoLoad:  motor.TestReading{Voltage: 115, Current: 3.2, Power: 55.17},
		Blocked: motor.TestReading{Voltage: 25, Current: 3.72, Power: 86.23},
	}.Circuit()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("R2 %.2f, X1 %.2f, Xm %.1f, lost at the shaft %.1f\n", c.R2, c.X1, c.Xm, c.RotationalLoss)
	// Output: R2 3.73 Ω, X1 1.26 Ω, Xm 67.3 Ω, lost at the shaft 20.0 W
}

// A motor as a simulation library describes it.
func ExampleInductances_Circuit() {
	c, err := motor.Inductances{
		Stator: 1.405, Rotor: 1.395, Ls: 0.178039, Lr: 0.178039, Lm: 0.1722,
	}.Circuit(400*unit.Volt, 50, 4)
	if err != nil {
		fmt.Println(err)
		return
	}
	th, err := c.Thevenin(400)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("held %.1f, breakdown %.1f N·m\n", th.LockedRotor, float64(th.Torque))
	// Output: held 50.9 A, breakdown 91.8 N·m
}
