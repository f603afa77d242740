// Command embed shows how a developer asks the library one question: does a
// pump with this nameplate start on this inverter and battery?
package main

import (
	"fmt"
	"log"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

func main() {
	pump := motor.Nameplate{
		Output: 0.5 * motor.Horsepower, Voltage: 115 * unit.Volt, Phases: 1,
		FullLoadCurrent: 8 * unit.Ampere, Code: 'K', Type: motor.CapacitorStart,
	}
	start, err := pump.Start(motor.StartEvidence{Driven: motor.Pump})
	if err != nil {
		log.Fatal(err) // names package, quantity, value and accepted range
	}
	loss, err := inverter.Flat(2000*unit.Watt, 20*unit.Watt, 0.88)
	if err != nil {
		log.Fatal(err)
	}
	system := inverter.System{
		Loss: loss,
		Surge: inverter.Surge{
			Continuous: 2000 * inverter.VoltAmpere,
			Points:     []inverter.SurgePoint{{Apparent: 4000 * inverter.VoltAmpere, For: 5}},
		},
		Source: inverter.Source{OpenCircuit: 12.5, Battery: 4e-3, Cable: 1e-3, Contacts: 0.5e-3},
		CutOff: inverter.CutOff{Running: 10.5 * unit.Volt},
	}
	check, err := system.CheckStart(inverter.Demand{Apparent: start.Apparent, Real: start.Real}, start.Duration.High)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("at the start: %.0f to %.0f, %.0f to %.0f (%v)\n",
		start.Apparent.Low, start.Apparent.High, start.Real.Low, start.Real.High, start.Basis)
	for _, link := range []inverter.LinkCheck{check.Rating, check.CutOff, check.Collapse} {
		fmt.Printf("%-23v %-7v margin %.2f to %.2f\n", link.Link, link.Verdict, link.Margin.Low, link.Margin.High)
	}
	fmt.Println("weakest link:", check.Weakest().Link)
}
