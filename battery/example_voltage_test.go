package battery_test

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
)

// cellarBank is two 12 V AGM blocks of 100 Ah in parallel.
var cellarBank = battery.Bank{Series: 1, Parallel: 2, Block: battery.Block{
	Chemistry: battery.AGM, Voltage: 12 * unit.Volt, Exponent: 1.12,
	Rating: battery.Rating{Capacity: 100 * battery.AmpereHour, Time: 20 * battery.Hour},
}}

// An inverter that takes 1500 W from the bank and trips at 10.5 V: by the weak
// end of what is known, and by the strong one.
func ExampleVoltageModel_ConstantPower() {
	weak, strong, err := cellarBank.VoltageModels(battery.SagCondition{
		Temperature: battery.Celsius(10), Circuit: 2 * battery.Milliohm, Capacity: 150 * battery.AmpereHour,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	l := battery.RunLimits{StateOfCharge: 1, DepthLimit: 0.8, CutOff: 10.5 * unit.Volt}
	for _, m := range []battery.VoltageModel{weak, strong} {
		run, err := m.ConstantPower(l, 1500*unit.Watt)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f min, %.1f to %.1f, ended by %v at %.0f %%\n", float64(run.Time/battery.Minute),
			run.Start.Voltage, run.End.Voltage, run.StoppedBy, 100*run.StateOfCharge)
	}
	// Output:
	// 53 min, 12.1 V to 10.5 V, ended by cut-off at 23 %
	// 58 min, 12.8 V to 11.5 V, ended by depth limit at 20 %
}

// How far down three loads can still be started, by the weak end of what is
// known: 4 kW hold only on a bank that is all but full.
func ExampleVoltageModel_TripAtPower() {
	weak, _, err := cellarBank.VoltageModels(battery.SagCondition{
		Temperature: battery.Celsius(10), Circuit: 2 * battery.Milliohm,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range []unit.Power{600, 1800, 4000} {
		trip, err := weak.TripAtPower(p, 10.5)
		switch {
		case err != nil:
			fmt.Println(err)
		case trip.Never:
			fmt.Printf("%.0f W: at any charge\n", float64(p))
		case trip.Always:
			fmt.Printf("%.0f W: not even when full\n", float64(p))
		default:
			fmt.Printf("%.0f W: down to %.0f %%\n", float64(p), 100*trip.Below)
		}
	}
	// Output:
	// 600 W: at any charge
	// 1800 W: down to 31 %
	// 4000 W: down to 98 %
}

// The set of a small nickel-metal hydride cell from its published curve.
func ExampleCurvePoints_Tremblay() {
	set, err := battery.CurvePoints{
		Current: 1.3, Capacity: 7 * battery.AmpereHour, Resistance: 2 * battery.Milliohm,
		Full: 1.39, ZoneEnd: 1.28, ZoneCharge: 1.3 * battery.AmpereHour,
		PlateauEnd: 1.18, PlateauCharge: 6.25 * battery.AmpereHour,
	}.Tremblay()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("E0 = %.4f, A = %.3f, K = %.4f Ω or V/Ah\n", set.Constant, set.Amplitude, float64(set.Polarization))
	// Output: E0 = 1.2816 V, A = 0.111 V, K = 0.0014 Ω or V/Ah
}

// Down to 10.8 V at 20 A on a Shepherd curve.
func ExampleShepherd_DrawnAt() {
	s := battery.Shepherd{
		Constant: 12.3, Polarization: 0.006, Capacity: 100 * battery.AmpereHour,
		Resistance: 0.008, Amplitude: 0.45, Decay: 12,
	}
	q, err := s.DrawnAt(20*unit.Ampere, 10.8*unit.Volt)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f Ah in %.1f h\n", float64(q/battery.AmpereHour), float64(q/battery.AmpereHour)/20)
	// Output: 91.0 Ah in 4.6 h
}
