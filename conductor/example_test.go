package conductor_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
)

// An inverter draws 39.2 A through 10 ft of 10 AWG from a 12 V battery.
func Example() {
	cable := conductor.Segment{
		Wire:        conductor.Wire{Size: conductor.AWG(10), Metal: conductor.Copper, Stranding: conductor.Solid},
		OneWay:      10 * conductor.Foot,
		Temperature: conductor.Celsius(20),
	}
	loop, err := cable.LoopResistance()
	if err != nil {
		fmt.Println(err)
		return
	}
	drop := unit.Voltage(float64(loop) * 39.2)
	fmt.Printf("loop %.1f mΩ, drop %.2f of 12 V: %.1f %%\n", float64(loop)*1000, drop, float64(drop/12)*100)
	// Output: loop 20.0 mΩ, drop 0.78 V of 12 V: 6.5 %
}

// A pump 650 ft from its inverter, on two sizes of wire: what is lost while it
// runs, and what is left at the motor at the instant it starts.
func ExampleRun_Impedance() {
	wire := func(n int) conductor.Wire {
		return conductor.Wire{Size: conductor.AWG(n), Metal: conductor.Copper, Stranding: conductor.Solid}
	}
	z, err := conductor.Run{
		Circuit: conductor.TwoWire,
		Segments: []conductor.Segment{
			{Wire: wire(6), OneWay: 350 * conductor.Foot, Temperature: conductor.Celsius(20), Reactance: conductor.ReactanceInPVC},
			{Wire: wire(8), OneWay: 300 * conductor.Foot, Temperature: conductor.Celsius(20), Reactance: conductor.ReactanceInPVC},
		},
	}.Impedance()
	if err != nil {
		fmt.Println(err)
		return
	}
	running := conductor.Load{Current: 11.9, PowerFactor: 0.70}
	usual, err1 := z.Drop(running)
	left, err2 := z.LoadVoltage(240, running)
	locked, err3 := conductor.LoadImpedance(230, conductor.Load{Current: 72, PowerFactor: 0.55})
	start, err4 := z.Divide(240, locked)
	if err := errors.Join(err1, err2, err3, err4); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("loop %.3f + j%.3f Ω\n", float64(z.Resistance), float64(z.Reactance))
	fmt.Printf("running: %.2f lost by the usual formula, %.2f exactly\n", usual, 240-left)
	fmt.Printf("starting: %.0f at the motor, %.0f %% of the source\n", start, float64(start/240)*100)
	// Output:
	// loop 0.653 + j0.065 Ω
	// running: 6.00 V lost by the usual formula, 6.05 V exactly
	// starting: 210 V at the motor, 88 % of the source
}

// 12 A over 200 ft may lose 3 % of 240 V.
func ExampleSearch_Smallest() {
	s := conductor.Search{
		Circuit: conductor.TwoWire,
		Segment: conductor.Segment{
			Wire:        conductor.Wire{Metal: conductor.Copper, Stranding: conductor.Stranded},
			OneWay:      200 * conductor.Foot,
			Temperature: conductor.Celsius(75),
		},
		Load:    conductor.Load{Current: 12, PowerFactor: 0.8},
		Allowed: 0.03 * 240,
	}
	for _, list := range [][]conductor.Size{conductor.BuildingSizes(), conductor.MetricSizes()} {
		size, drop, err := s.Smallest(list)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: %.1f\n", size, drop)
	}
	s.Allowed = 0.001
	_, _, err := s.Smallest(conductor.BuildingSizes())
	fmt.Println(errors.Is(err, conductor.ErrNoSize))
	// Output:
	// 10 AWG: 4.8 V
	// 4 mm²: 6.6 V
	// true
}

// A 3 kW inverter on 12 V and 10 mΩ of cable: the shortcut of watts over volts
// says 250 A and 9.5 V. At 4 kW there is no answer at all.
func ExampleConstantPower() {
	v, i, err := conductor.ConstantPower(12, 3000, 0.010)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, %.0f\n", v, i)
	_, _, err = conductor.ConstantPower(12, 4000, 0.010)
	fmt.Println(err)
	// Output:
	// 8.4 V, 355 A
	// conductor: the load voltage collapses: 4000 W asked of a cable that carries at most 3600 W from 12 V
}

func ExampleParseSize() {
	for _, text := range []string{"1/0 AWG", "35 mm2", "500 MCM", "10"} {
		size, err := conductor.ParseSize(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		area, err := size.Area()
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%v: %.1f mm²\n", size, float64(area/conductor.SquareMillimetre))
	}
	// Output:
	// 1/0 AWG: 53.5 mm²
	// 35 mm²: 35.0 mm²
	// 500 kcmil: 253.4 mm²
	// conductor: size "10", want a size such as 10 AWG, 4/0 AWG, 250 kcmil or 35 mm² (IEC 60228)
}

// The code's figure for 10 AWG stranded copper, brought from 75 to 60 °C.
func ExampleTable8() {
	row, err := conductor.Table8(conductor.AWG(10), conductor.Stranded)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := row.Resistance(conductor.Copper, false, conductor.Celsius(60))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f cmil, %.2f Ω/kft at 75 °C, %.2f Ω/kft at 60 °C\n",
		float64(row.Area/conductor.CircularMil),
		float64(row.Copper/conductor.OhmPerKilofoot), float64(r/conductor.OhmPerKilofoot))
	// Output: 10380 cmil, 1.24 Ω/kft at 75 °C, 1.18 Ω/kft at 60 °C
}
