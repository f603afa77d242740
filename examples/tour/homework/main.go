// Command homework lays three shortcuts of the trade beside what they stand
// for, as a student would who checks an exercise.
package main

import (
	"fmt"
	"log"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
	"ridethrough.example/conductor"
	"ridethrough.example/tank"
)

func main() {
	// A battery of 100 Ah at the 20 h rate and k = 1.2, drained with 75 A.
	law := battery.Peukert{
		Rating:   battery.Rating{Capacity: 100 * battery.AmpereHour, Time: 20 * battery.Hour},
		Exponent: 1.2,
	}
	short, err := battery.ShortcutRuntime(law.Rating.Capacity, 75*unit.Ampere)
	check(err)
	hours, err := law.Runtime(75 * unit.Ampere)
	check(err)
	fmt.Printf("run time: %.2f h by the shortcut, %.2f h by Peukert\n",
		float64(short/battery.Hour), float64(hours/battery.Hour))

	// A tank of 85 gal, charged to 28 psi, on a 30/50 switch.
	vessel := tank.Vessel{
		Volume: 85 * tank.USGallon, Precharge: 28 * tank.PSI, CutIn: 30 * tank.PSI, CutOut: 50 * tank.PSI,
	}
	gauge, err := vessel.GaugeOnlyDrawdown()
	check(err)
	water, err := vessel.Drawdown()
	check(err)
	fmt.Printf("drawdown: %.1f gal without the atmosphere, %.1f gal by Boyle\n",
		float64(gauge/tank.USGallon), float64(water/tank.USGallon))

	// 300 ft of 12 AWG, a locked rotor of 50 A at 115 V and a power factor of 0.6.
	run := conductor.Run{Circuit: conductor.TwoWire, Segments: []conductor.Segment{{
		Wire:   conductor.Wire{Size: conductor.AWG(12), Metal: conductor.Copper, Stranding: conductor.Solid},
		OneWay: 300 * conductor.Foot, Temperature: conductor.Celsius(30),
	}}}
	line, err := run.Impedance()
	check(err)
	rotor := conductor.Load{Current: 50 * unit.Ampere, PowerFactor: 0.6}
	held, err := conductor.LoadImpedance(115*unit.Volt, rotor)
	check(err)
	left, err := line.Divide(115*unit.Volt, held)
	check(err)
	naive := 115 - 50*float64(line.Modulus())
	fmt.Printf("left at the motor: %.1f V by subtraction, %.1f by the divider\n", naive, left)
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
