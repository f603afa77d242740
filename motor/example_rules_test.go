package motor_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// How often a 25 hp motor may start a heavy fan, and why the table says
// nothing of a single-phase one.
func ExampleAllowableStarts() {
	s, err := motor.AllowableStarts(25*motor.Horsepower, 4, 3, 50*motor.PoundSquareFoot)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f an hour, %.0f s apart\n", s.PerHour, float64(s.Rest))
	_, err = motor.AllowableStarts(1*motor.Horsepower, 2, 1, 0)
	fmt.Println(errors.Is(err, motor.ErrNotCovered), err)
	// Output:
	// 2.44 an hour, 58 s apart
	// true motor: NEMA MG 10 Table 7 does not cover single-phase motors
}

// A well pump of 1 hp, single-phase.
func ExampleSubmersibleStarts() {
	d, err := motor.SubmersibleStarts(1*motor.Horsepower, 1, false)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f a day, one each %.1f min, run %.0f min\n", d.PerDay, float64(d.Period)/60, float64(d.Run)/60)
	// Output: 100 a day, one each 14.4 min, run 2 min
}

// A jet pump of today has a floor of efficiency; a split-phase one has none.
func ExampleSmallMotorEfficiency() {
	m, err := motor.SmallMotorEfficiency(0.5*motor.Horsepower, 2, motor.CapacitorStart, motor.Pump)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", 100*m.Efficiency)
	_, err = motor.SmallMotorEfficiency(0.5*motor.Horsepower, 2, motor.SplitPhase, motor.Pump)
	fmt.Println(err)
	// Output:
	// 72.4 %
	// motor: 10 CFR 431.446 does not cover split-phase motors
}

// A 1/2 hp dc motor.
func ExampleCodeDCFullLoadCurrent() {
	i, err := motor.CodeDCFullLoadCurrent(0.5*motor.Horsepower, 120*unit.Volt)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f\n", i)
	// Output: 5.4 A
}

// Three voltages read at the motor.
func ExampleVoltageUnbalance() {
	u, err := motor.VoltageUnbalance(460*unit.Volt, 467*unit.Volt, 450*unit.Volt)
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := motor.UnbalanceDerating(u)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %%, load at most %.2f of rated\n", 100*u, d)
	// Output: 1.96 %, load at most 0.95 of rated
}

// How long a mean surplus of 2 N·m takes to bring a small pump to speed.
func ExampleAccelerationTime() {
	rotor, err := motor.TypicalRotorInertia(0.75*motor.Kilowatt, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := motor.AccelerationTime(rotor.High, 0, 2850*motor.RPM, 2*unit.Newtonmetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f s\n", float64(t))
	// Output: 0.15 s
}

// What a start leaves in the windings, and how many of them full-load cooling
// carries off.
func ExampleNoLoadStartHeat() {
	h, err := motor.NoLoadStartHeat(0.5*motor.KilogramSquareMetre, 1000*motor.RPM, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	n, err := motor.StartsWithinLoss(2193.6*unit.Watt, h.Rotor+h.Stator)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f, %.0f starts a minute at the most\n", h.Rotor+h.Stator, n/60)
	// Output: 5483 J, 24 starts a minute at the most
}
