package motor_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// A half-horsepower jet pump wired for 115 V: what it draws by its plate, and
// what the shortcut of the trade makes of it.
func ExampleNameplate_RunningAtServiceFactor() {
	pump := motor.Nameplate{
		Output: 0.5 * motor.Horsepower, Voltage: 115 * unit.Volt, Phases: 1,
		FullLoadCurrent: 8.6 * unit.Ampere, ServiceFactorCurrent: 10.8 * unit.Ampere, ServiceFactor: 1.6,
		Type: motor.CapacitorStart,
	}
	r, err := pump.RunningAtServiceFactor()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("computed: %.0f, %.0f to %.0f (%v)\n", r.Apparent.High, r.Real.Low, r.Real.High, r.Basis)
	fmt.Printf("shortcut: %.0f, and of surge %.0f\n",
		motor.VoltAmperesAsWatts(120, 10.8), motor.TriplingRule(motor.VoltAmperesAsWatts(120, 10.8)))
	// Output:
	// computed: 1242 VA, 702 W to 1118 W (typical)
	// shortcut: 1296 W, and of surge 3888 W
}

// A well pump stamped 1 hp, 230 V, one phase, code K.
func ExampleNameplate_LockedRotor() {
	pump := motor.Nameplate{Output: 1 * motor.Horsepower, Voltage: 230 * unit.Volt, Phases: 1, Code: 'K'}
	i, basis, err := pump.LockedRotor()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("locked rotor: %.1f to %.1f (%v)\n", i.Low, i.High, basis)
	// Output: locked rotor: 34.8 A to 39.1 A (code letter)
}

// What a start asks of the inverter (A, VA) and of the battery (W).
func ExampleNameplate_Start() {
	pump := motor.Nameplate{
		Output: 0.5 * motor.Horsepower, Voltage: 115 * unit.Volt, Phases: 1,
		LockedRotorCurrent: 64.4 * unit.Ampere, Code: 'R', Type: motor.SplitPhase,
	}
	d, err := pump.Start(motor.StartEvidence{Driven: motor.SubmersiblePump})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, %.0f on the basis %v\n", d.Current.High, d.Apparent.High, d.Basis)
	fmt.Printf("%.0f to %.0f on the basis %v\n", d.Real.Low, d.Real.High, d.PowerFactorBasis)
	fmt.Printf("for %.1f to %.1f s\n", float64(d.Duration.Low), float64(d.Duration.High))
	// Output:
	// 64.4 A, 7406 VA on the basis nameplate
	// 2814 W to 6443 W on the basis typical
	// for 0.2 to 0.5 s
}

// Two of the bases side by side, and one that is not there.
func ExampleNameplate_StartFrom() {
	pump := motor.Nameplate{Output: 0.5 * motor.Horsepower, Voltage: 115 * unit.Volt, Phases: 1, Code: 'L'}
	for _, basis := range []motor.Basis{motor.BasisMeasured, motor.BasisCodeLetter, motor.BasisCodeTable} {
		d, err := pump.StartFrom(basis, motor.StartEvidence{})
		switch {
		case errors.Is(err, motor.ErrMissing):
			fmt.Printf("%v: nothing to go by\n", basis)
		case err != nil:
			fmt.Println(err)
		default:
			fmt.Printf("%v: %.1f to %.1f\n", basis, d.Current.Low, d.Current.High)
		}
	}
	// Output:
	// measured: nothing to go by
	// code letter: 39.1 A to 43.5 A
	// code table: 58.8 A to 58.8 A
}

// A plate whose figures cannot all be true.
func ExampleNameplate_Validate() {
	pump := motor.Nameplate{
		Output: 0.5 * motor.Horsepower, Voltage: 115 * unit.Volt, Phases: 1,
		FullLoadCurrent: 10.8 * unit.Ampere, ServiceFactorCurrent: 8.6 * unit.Ampere,
	}
	fmt.Println(pump.Validate())
	pump.Output = 0.5 // the unit forgotten: half a watt
	fmt.Println(pump.Validate())
	// Output:
	// motor: contradiction: service-factor current 8.6 A is below full-load current 10.8 A
	// motor: output 0.000670511 hp (0.5 W), want 0.05 hp to 500 hp
}

// The same pump connected for 230 V draws half the current.
func ExampleNameplate_Rewired() {
	pump := motor.Nameplate{Voltage: 115 * unit.Volt, Phases: 1, FullLoadCurrent: 8.6 * unit.Ampere, ServiceFactorCurrent: 10.8 * unit.Ampere}
	high, err := pump.Rewired(230 * unit.Volt)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, %.1f at its service factor\n", high.FullLoadCurrent, high.ServiceFactorCurrent)
	// Output: 4.3 A, 5.4 A at its service factor
}

// A plug-in meter shows volts, amperes and watts.
func ExampleReading_Running() {
	r, err := motor.Reading{Voltage: 115 * unit.Volt, Phases: 1, Current: 5.35 * unit.Ampere, Real: 400 * unit.Watt}.Running()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f, %.0f, power factor %.2f\n", r.Apparent.High, r.Real.High, r.PowerFactor.High)
	// Output: 615 VA, 400 W, power factor 0.65
}

// About 1200 VA go in at the plug while 75 A leave a 12 V battery: the motor
// takes far fewer watts than volt-amperes.
func ExampleDCSide_Running() {
	r, err := motor.DCSide{
		Apparent: 1200 * motor.VoltAmpere, PlugVoltage: 120 * unit.Volt,
		BatteryVoltage: 12 * unit.Volt, BatteryCurrent: 75 * unit.Ampere,
		Efficiency: motor.Range[float64]{Low: 0.85, High: 0.92},
	}.Running()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f to %.0f, power factor %.2f to %.2f\n", r.Real.Low, r.Real.High, r.PowerFactor.Low, r.PowerFactor.High)
	// Output: 765 W to 828 W, power factor 0.64 to 0.69
}

// 746 W per horsepower come out at the shaft; more goes in.
func ExampleRunningFromShaft() {
	r, err := motor.RunningFromShaft(1*motor.Horsepower, 230*unit.Volt, 1,
		motor.Range[float64]{Low: 0.60, High: 0.70}, motor.Exactly(0.7), motor.BasisRuleOfThumb)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f to %.0f, %.1f to %.1f\n", r.Real.Low, r.Real.High, r.Current.Low, r.Current.High)
	// Output: 1065 W to 1243 W, 6.6 A to 7.7 A
}

func ExampleCodeFullLoadCurrent() {
	i, err := motor.CodeFullLoadCurrent(0.5*motor.Horsepower, 120*unit.Volt, 1)
	fmt.Printf("%.1f %v\n", i, err)
	_, err = motor.CodeFullLoadCurrent(0.6*motor.Horsepower, 120*unit.Volt, 1)
	fmt.Println(err)
	// Output:
	// 9.8 A <nil>
	// motor: output 0.6 hp, want a row of NEC Table 430.248: next are 1/2 and 3/4 hp
}

func ExampleClassifyCodeLetter() {
	c, err := motor.ClassifyCodeLetter(64.4*unit.Ampere, 115*unit.Volt, 1, 0.5*motor.Horsepower)
	fmt.Println(c, err)
	// Output: R <nil>
}

// What is left of voltage and starting torque at the end of a long cable.
func ExampleVoltageRatio() {
	z, err := motor.LockedRotorImpedance(230*unit.Volt, 29.4*unit.Ampere, 1, 0.8)
	if err != nil {
		fmt.Println(err)
		return
	}
	v, err := motor.VoltageRatio(z, 1.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	torque, err := motor.TorqueRatio(v, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% of the voltage, %.0f %% of the torque\n", 100*v, 100*torque)
	// Output: 90 % of the voltage, 80 % of the torque
}

// Reading a quantity back: divide by the unit, then convert.
func Example_units() {
	output := 0.37 * motor.Kilowatt
	fmt.Printf("%.3f hp\n", float64(output/motor.Horsepower))
	// Output: 0.496 hp
}
