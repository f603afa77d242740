package conductor_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
)

// What alternating current adds in a large and in a small conductor, and what
// an inverter's ripple at 20 kHz meets.
func ExampleACResistance() {
	for _, c := range []struct {
		size conductor.Size
		f    unit.Frequency
	}{{conductor.AWG(10), 60}, {conductor.AWG(-3), 60}, {conductor.KCMilSize(1000), 60}, {conductor.AWG(10), 20e3}} {
		wire := conductor.Wire{Size: c.size, Metal: conductor.Copper, Stranding: conductor.Stranded}
		dc, err := wire.Resistance(conductor.Celsius(65))
		if err != nil {
			fmt.Println(err)
			return
		}
		ac, err := conductor.ACResistance(dc, c.f)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v at %.0f Hz: %.3f\n", c.size, float64(c.f), float64(ac/dc))
	}
	// Output:
	// 10 AWG at 60 Hz: 1.000
	// 4/0 AWG at 60 Hz: 1.003
	// 1000 kcmil at 60 Hz: 1.067
	// 10 AWG at 20000 Hz: 1.519
}

// The code's own figures for 10 AWG in steel conduit, and the drop of 12 A at
// power factor 0.85 over 200 ft.
func ExampleTable9() {
	e, err := conductor.Table9(conductor.AWG(10), conductor.Copper, conductor.SteelConduit)
	if err != nil {
		fmt.Println(err)
		return
	}
	line, err := e.Over(conductor.TwoWire, 200*conductor.Foot)
	if err != nil {
		fmt.Println(err)
		return
	}
	drop, err := line.Drop(conductor.Load{Current: 12, PowerFactor: 0.85})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f + j%.3f Ω/kft, Z %.2f, drop %.1f\n", float64(e.Resistance/conductor.OhmPerKilofoot),
		float64(e.Reactance/conductor.OhmPerKilofoot), float64(e.Impedance/conductor.OhmPerKilofoot), drop)
	// Output: 1.20 + j0.063 Ω/kft, Z 1.10, drop 5.1 V
}

// Where the volts go between a 12 V battery and its inverter at 150 A.
func ExamplePath_Voltages() {
	path := conductor.Path{
		{Name: "battery", Impedance: conductor.Impedance{Resistance: 0.004}},
		{Name: "fuse and lugs", Impedance: conductor.Impedance{Resistance: 0.0006}},
		{Name: "cable", Impedance: conductor.Impedance{Resistance: 0.0015}},
	}
	points, err := path.Voltages(12.6, conductor.DC(150))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range points {
		fmt.Printf("%-13s %5.2f lost, %5.2f left\n", p.Name, p.Lost, p.Voltage)
	}
	// Output:
	// battery       0.60 V lost, 12.00 V left
	// fuse and lugs 0.09 V lost, 11.91 V left
	// cable         0.22 V lost, 11.69 V left
}

// Whether a pump's motor keeps 65 % of its rated voltage as it starts.
func ExampleImpedance_AtLockedRotor() {
	locked, err := conductor.LoadImpedance(230, conductor.Load{Current: 72, PowerFactor: 0.55})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range []conductor.Impedance{{Resistance: 0.65, Reactance: 0.07}, {Resistance: 2.8, Reactance: 0.1}} {
		start, err := line.AtLockedRotor(240, 230, locked)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f, %.0f %% of rated, %.1f: holds %v\n", start.Terminal, 100*start.Fraction, start.Current, start.Holds)
	}
	// Output:
	// 210 V, 91 % of rated, 65.8 A: holds true
	// 144 V, 63 % of rated, 45.0 A: holds false
}

// A 35 mm² battery cable of PVC: the fault current it stands for 0.2 s, for how
// long it stands 6 kA, and how warm a start of 400 A for 3 s makes it.
func ExampleAdiabaticFactor() {
	law, err1 := conductor.Copper.HeatingIEC()
	k, err2 := law.Factor(conductor.PVCOperating, conductor.PVCFault)
	area := 35 * conductor.SquareMillimetre
	i, err3 := k.LargestCurrent(area, 0.2)
	t, err4 := k.LongestTime(area, 6000)
	hot, err5 := law.FinalTemperature(area, 400, 3, conductor.Celsius(40))
	if err := errors.Join(err1, err2, err3, err4, err5); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("k %.1f\n%.0f for 0.2 s, 6000 A for %.2f\n%.1f °C after the start\n", k, i, t, conductor.InCelsius(hot))
	_, err := k.LongestTime(area, 500)
	fmt.Println(err)
	// Output:
	// k 114.8 A·√s/mm²
	// 8987 A for 0.2 s, 6000 A for 0.45 s
	// 42.1 °C after the start
	// conductor: time outside the adiabatic law: at 500 A the formula gives 64.6 s, it holds for 0.1 s to 5 s
}

// Destruction, not rating: 14 AWG carries 20 A for ever and melts at 560 A in a
// few seconds.
func ExampleMeltingTimeOnderdonk() {
	area, err := conductor.AWG(14).Area()
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := conductor.MeltingTimeOnderdonk(area, 560, conductor.Celsius(25))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f\n", t)
	// Output: 1.2 s
}
