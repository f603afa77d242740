package motor_test

import (
	"fmt"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// textbookWindings are the windings of a 120 V motor with the rotor held.
var textbookWindings = motor.LockedWindings{Main: 4.5 + 3.7i, Auxiliary: 9.5 + 3.5i, Frequency: 60 * unit.Hertz}

// The three rules ask for three capacitors.
func ExampleLockedWindings_StartCapacitor() {
	for _, rule := range []motor.CapacitorRule{motor.Quadrature, motor.MostTorquePerAmpere, motor.MostTorque} {
		c, err := textbookWindings.StartCapacitor(rule, 120*unit.Volt)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: %.0f µF at %.0f\n", rule, float64(c.Capacitance)*1e6, c.Voltage)
	}
	// Output:
	// quadrature: 176 µF at 121 V
	// most torque per ampere: 250 µF at 107 V
	// most torque: 332 µF at 91 V
}

// How much resistance a split-phase motor wants for its greatest torque: the
// total includes the winding.
func ExampleLockedWindings_MostTorqueResistor() {
	w := motor.LockedWindings{Main: 1.5 + 4i, Auxiliary: 3 + 6i, Frequency: 60 * unit.Hertz}
	r, err := w.MostTorqueResistor()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("total %.2f Ω, to add %.2f Ω\n", float64(r.Total), float64(r.External))
	// Output: total 8.66 Ω, to add 5.66 Ω
}

// What a motor draws while its rotor is held.
func ExampleLockedWindings_Standstill() {
	s, err := textbookWindings.Standstill(120*unit.Volt, motor.StartCircuit{Capacitance: 177e-6 * unit.Farad})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f A, %.0f, %.0f, power factor %.2f\n", cmplx.Abs(s.Line), s.Apparent, s.Real, s.PowerFactor)
	// Output: 22.1 A, 2656 VA, 2525 W, power factor 0.95
}

// A capacitor that lost half, one that failed open and one that failed short.
// With an open one the motor hums, and draws nearly as much as a healthy start
// for as long as it hangs.
func ExampleLockedWindings_CompareStarts() {
	healthy := motor.StartCircuit{Capacitance: 177e-6 * unit.Farad}
	weak, err := healthy.Aged(0.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range []motor.StartCircuit{weak, healthy.Opened(), healthy.Shorted()} {
		d, err := textbookWindings.CompareStarts(120*unit.Volt, healthy, c)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: torque %.2f, current %.2f, %.0f\n", d.Faulty.Rotation, d.Torque, d.Current, d.Faulty.Real)
	}
	// Output:
	// turns forward: torque 0.50, current 0.88, 2082 W
	// hums: torque 0.00, current 0.93, 1909 W
	// turns forward: torque 0.48, current 1.45, 3244 W
}

// A soft starter is no help to a well pump with a start switch.
func ExampleStarterCase_Judge() {
	for _, c := range []motor.StarterCase{
		{Starter: motor.VoltageRamp, Type: motor.CapacitorStart, Phases: 1},
		{Starter: motor.FrequencyDrive, Type: motor.CapacitorStart, Phases: 1},
		{Starter: motor.WyeDelta, Type: motor.ThreePhase, Phases: 3},
		{Starter: motor.FrequencyDrive, Type: motor.ThreePhase, Phases: 3},
	} {
		v, err := c.Judge()
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v on %v: %v, %v\n", c.Starter, c.Type, v.Use, v.Reason)
	}
	// Output:
	// voltage ramp on capacitor-start: useless, the start switch stays in
	// frequency drive on capacitor-start: useless, needs a drive made for single-phase motors
	// wye-delta on three-phase: useless, needs six leads
	// frequency drive on three-phase: useful, no objection
}

// The 65 % tap of an autotransformer against a soft starter at 65 %.
func ExampleAutotransformerStart() {
	tap, err := motor.AutotransformerStart(0.65)
	if err != nil {
		fmt.Println(err)
		return
	}
	ramp, err := motor.VoltageRampStart(0.65)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("transformer: line %.2f, torque %.2f\n", tap.Line, tap.Torque)
	fmt.Printf("voltage alone: line %.2f, torque %.2f\n", ramp.Line, ramp.Torque)
	// Output:
	// transformer: line 0.42, torque 0.42
	// voltage alone: line 0.65, torque 0.42
}

// A reactor that holds a 7.5 hp motor of 208 V to 48 A.
func ExampleSeriesReactor() {
	p, err := motor.SeriesReactor(0.294+0.809i, 120.09*unit.Volt, 48*unit.Ampere, 60*unit.Hertz)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f mH, %.0f, torque %.2f\n", float64(p.Inductance)*1e3, p.Voltage, p.Ratios.Torque)
	// Output: 4.44 mH, 80 V, torque 0.12
}
