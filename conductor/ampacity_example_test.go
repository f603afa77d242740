package conductor_test

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
)

// The small sizes of copper, and what may protect them.
func ExampleRacewayAmpacity() {
	for _, n := range []int{14, 12, 10, 8} {
		i, err := conductor.RacewayAmpacity(conductor.AWG(n), conductor.Copper, conductor.Rated75C, conductor.Since2011)
		if err != nil {
			fmt.Println(err)
			return
		}
		device, limited, err := conductor.SmallConductorLimit(conductor.AWG(n), conductor.Copper)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: %.0f", conductor.AWG(n), i)
		if limited {
			fmt.Printf(", breaker at most %.0f", device)
		}
		fmt.Println()
	}
	// Output:
	// 14 AWG: 20 A, breaker at most 15 A
	// 12 AWG: 25 A, breaker at most 20 A
	// 10 AWG: 35 A, breaker at most 30 A
	// 8 AWG: 50 A
}

// Six conductors of 10 AWG in a raceway across an attic of 50 °C.
func ExampleBranch_Ampacity() {
	attic := conductor.Branch{
		Size: conductor.AWG(10), Metal: conductor.Copper, Insulation: conductor.Rated90C,
		Ambient: conductor.Celsius(50), Conductors: 6, Terminals: conductor.Rated75C,
	}
	w, err := attic.Ampacity()
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, s := range w.Steps {
		mark := ""
		if i == w.Governs || i == w.DeviceGoverns {
			mark = " (governs)"
		}
		fmt.Printf("%s: %.1f to %.1f%s\n", s.Rule, s.Before, s.After, mark)
	}
	// Output:
	// table: 40.0 A to 40.0 A
	// ambient temperature: 40.0 A to 32.8 A
	// number of conductors: 32.8 A to 26.2 A (governs)
	// terminals: 26.2 A to 26.2 A
	// overcurrent device: 26.2 A to 30.0 A (governs)
	// small conductor: 30.0 A to 30.0 A
}

// A 2 hp single-phase well pump, 12 A by the code's table and 10.6 A by its
// plate, on 12 AWG.
func ExampleBranch_CheckMotor() {
	run := conductor.Branch{
		Size: conductor.AWG(12), Metal: conductor.Copper, Insulation: conductor.Rated90C,
		Ambient: conductor.Celsius(30), Conductors: 2, Terminals: conductor.Rated75C,
	}
	pump := conductor.MotorCircuit{Kind: conductor.SinglePhase, Table: 12 * unit.Ampere, Nameplate: 10.6 * unit.Ampere, ServiceFactor: 1.15}
	c, err := run.CheckMotor(pump, conductor.InverseTimeBreaker)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("conductor needs %.0f, has %.0f: %v\n", c.Conditions[0].Need, c.Conditions[0].Has, c.Passes())
	fmt.Printf("breaker %.0f, if it will not start up to %.0f\n", c.Protection.Standard, c.Protection.Largest)
	fmt.Printf("overload at most %.2f\n", c.Overload.Largest)
	fmt.Printf("grounding conductor %v, as it need not be larger than the others\n", c.Grounding)
	// Output:
	// conductor needs 15 A, has 25 A: true
	// breaker 30 A, if it will not start up to 45 A
	// overload at most 13.25 A
	// grounding conductor 12 AWG, as it need not be larger than the others
}

// The table of bands is on the safe side of the formula.
func ExampleAmbientFactor() {
	attic := conductor.Fahrenheit(100)
	band, err := conductor.AmbientFactor(conductor.Rated75C, conductor.Base30C, attic)
	if err != nil {
		fmt.Println(err)
		return
	}
	law, err := conductor.AmbientLaw(conductor.Celsius(75), conductor.Celsius(30), attic)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f °C: %.2f by the table, %.3f by the formula\n", conductor.InCelsius(attic), band, law)
	// Output: 37.8 °C: 0.88 by the table, 0.909 by the formula
}

// Conductors enlarged from 12 to 8 AWG against voltage drop take the grounding
// conductor with them.
func ExampleGroundingUpsized() {
	g, err := conductor.GroundingUpsized(20*unit.Ampere, conductor.Copper, conductor.AWG(12), conductor.AWG(8))
	fmt.Println(g, err)
	// Output: 8 AWG <nil>
}

// A conduit on a wall in Europe, at 40 °C.
func ExampleIECCircuit_Ampacity() {
	c := conductor.IECCircuit{
		Size: conductor.MetricSize(4 * conductor.SquareMillimetre), Insulation: conductor.PVC70, Method: conductor.MethodB1, Loaded: 2,
	}
	i, err := c.Ampacity()
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := conductor.IECAmbientFactor(c.Insulation, conductor.Celsius(40))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, at 40 °C %.1f\n", i, unit.Current(f)*i)
	// Output: 32.0 A, at 40 °C 27.8 A
}

func ExampleStandardRatings_ForAmpacity() {
	for _, ampacity := range []unit.Current{115, 755, 950} {
		device, err := conductor.StandardBreakers.ForAmpacity(ampacity)
		fmt.Printf("%.0f: %.0f %v\n", ampacity, device, err)
	}
	// Output:
	// 115 A: 125 A <nil>
	// 755 A: 800 A <nil>
	// 950 A: 800 A <nil>
}
