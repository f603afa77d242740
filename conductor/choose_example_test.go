package conductor_test

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
)

// Two metres from a 12 V bank to an inverter that draws 150 A for hours and 400 A
// for a second at the start, through an engine space.
func ExampleLimits_ChooseSize() {
	limits := conductor.Limits{
		Circuit: conductor.TwoWire, OneWay: 2 * conductor.Metre, Temperature: conductor.Celsius(60),
		Running: conductor.DC(150), AllowedRunning: 0.36,
		Starting: conductor.DC(400), AllowedStarting: 1.2,
		Basis: conductor.BoatAmpacity, LeastAmpacity: 1.25 * 150,
		Boat:  conductor.BoatCable{EngineSpace: true, Bundled: 2},
		Surge: 400, SurgeTime: 1, Initial: conductor.Celsius(105), Final: conductor.Celsius(250),
	}
	wire := conductor.Wire{Metal: conductor.Copper, Stranding: conductor.Flexible}
	choice, err := limits.ChooseSize(wire, conductor.AWGSizes())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(choice.Candidate.Wire, "- governed by", choice.Governs)
	fails := choice.DownChecks[choice.Governs]
	fmt.Printf("%v would carry %.1f A of %.1f A\n", choice.Down.Wire.Size, fails.Bound, fails.Value)
	// Output:
	// 1 AWG flexible copper - governed by ampacity
	// 2 AWG would carry 178.5 A of 187.5 A
}

// The cheapest of three cables on a price list that carries 200 A.
func ExampleLimits_Choose() {
	catalogue := []conductor.Candidate{
		{Wire: conductor.Wire{Size: conductor.AWG(4), Metal: conductor.Copper, Stranding: conductor.Flexible}, Price: 5, Ampacity: 150},
		{Wire: conductor.Wire{Size: conductor.AWG(1), Metal: conductor.Copper, Stranding: conductor.Flexible}, Price: 11, Ampacity: 240},
		{Wire: conductor.Wire{Size: conductor.AWG(-3), Metal: conductor.Aluminium, Stranding: conductor.Stranded}, Price: 6, Ampacity: 205},
	}
	choice, err := conductor.Limits{Basis: conductor.StatedAmpacity, LeastAmpacity: 200}.Choose(catalogue, conductor.ByPrice)
	fmt.Printf("%v at %.2f a metre, %v\n", choice.Candidate.Wire, choice.Candidate.Price, err)
	// Output: 4/0 AWG stranded aluminium at 6.00 a metre, <nil>
}

// A fuse for 80 A with a start of 400 A for a second on a cable of 230 A.
func ExampleProtection_Device() {
	p := conductor.Protection{
		Running: 80, Ampacity: 230, Surge: 400, SurgeTime: 1,
		Ratings: conductor.StandardFuses, Withstand: conductor.StripFuse.Withstand(),
	}
	d, err := p.Device()
	fmt.Printf("%.0f, window %.0f to %.0f, %v, %v\n", d.Rating, d.Smallest, d.Largest, d.Surge, err)
	// Output: 200 A, window 100 A to 225 A, stays closed, <nil>
}

// A bank of two strings and a cable of 1 mΩ: a terminal fuse would do at 14 V, and
// not at 28 V.
func ExampleCheckInterrupting() {
	fault := conductor.DCFault{
		OpenCircuit: conductor.Range[unit.Voltage]{Low: 12, High: 14.4},
		Source:      conductor.Range[unit.Resistance]{Low: 1e-3, High: 3e-3},
		Line:        conductor.Range[unit.Resistance]{Low: 1e-3, High: 1.2e-3},
	}
	i, err := fault.Current()
	if err != nil {
		fmt.Println(err)
		return
	}
	marks, _ := conductor.TypicalInterrupting(conductor.TerminalFuse)
	at14, _ := conductor.CheckInterrupting(marks, 14, i.High)
	at28, _ := conductor.CheckInterrupting(marks, 28, i.High)
	fmt.Printf("%.0f to %.0f: %v, %v\n", i.Low, i.High, at14.Holds, at28.Holds)
	// Output: 2857 A to 7200 A: true, false
}

func ExampleStud_FitTerminal() {
	stud, _ := conductor.ParseStud("M10")
	label, _ := conductor.ParseStud("3/8 in")
	f, err := stud.FitTerminal(label)
	fmt.Printf("%v: %+.1f to %+.1f mm, %v\n", f.Verdict, 1000*float64(f.Clearance.Low), 1000*float64(f.Clearance.High), err)
	// Output: tight: -0.1 to +0.3 mm, <nil>
}

// Two studs 30 cm apart with both lugs up, and 4/0 AWG cable between them.
func ExampleStudPair_Check() {
	cable, _ := conductor.FlexibleCableOf(conductor.AWG(-3))
	multiple, _ := conductor.BendMultiple(conductor.BatteryCable, cable.Outside, 0)
	inside, _ := conductor.BendRadius(multiple, cable.Outside)
	pair := conductor.StudPair{
		Apart: 300e-3, First: math.Pi / 2, Second: math.Pi / 2, Stiff: 50e-3, Inside: inside, Outside: cable.Outside,
	}
	c, err := pair.Check(450e-3)
	fmt.Printf("holds: %v, at least %.0f mm, %v\n", c.Holds, 1000*float64(c.Path.Least), err)
	// Output: holds: false, at least 536 mm, <nil>
}
