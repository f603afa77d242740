package battery_test

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
)

// A flooded bank by its table of rates, under a pump that draws 75 A for 5 of
// every 30 minutes, with 1 A of standing load.
func ExampleKinetic_Repeat() {
	rates := battery.Rates{
		{Capacity: 367 * battery.AmpereHour, Time: 100 * battery.Hour},
		{Capacity: 330 * battery.AmpereHour, Time: 20 * battery.Hour},
		{Capacity: 304 * battery.AmpereHour, Time: 10 * battery.Hour},
		{Capacity: 271 * battery.AmpereHour, Time: 5 * battery.Hour},
	}
	bank, fit, err := rates.FitKinetic()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("fitted to %.1f %%\n", 100*fit.Worst)

	full, err := bank.Rested(1)
	if err != nil {
		fmt.Println(err)
		return
	}
	cycle := []battery.Step{
		{Current: 75, For: 5 * battery.Minute},
		{Current: 1, For: 25 * battery.Minute},
	}
	run, err := bank.Repeat(full, 0, cycle)
	if err != nil {
		fmt.Println(err)
		return
	}
	steady, err := bank.TimeToEmpty(full, 75)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v after %.1f h, %.2f h of it pumping\n", run.End, float64(run.Elapsed/battery.Hour), float64(run.In(cycle, 0)/battery.Hour))
	fmt.Printf("without rests %.2f h\n", float64(steady/battery.Hour))
	// Output:
	// fitted to 0.7 %
	// emptied after 25.1 h, 4.24 h of it pumping
	// without rests 3.45 h
}

// The same bank a little worn, at 10 °C, to half its charge, carrying a pump
// beside a refrigerator.
func ExampleCondition_Kinetic() {
	bank := battery.Kinetic{
		Capacity: 375.7 * battery.AmpereHour, Available: 0.592, Rate: battery.EqualizationPer(0.263, battery.Hour),
	}
	condition := battery.Condition{
		Peukert: battery.Peukert{
			Rating:   battery.Rating{Capacity: 330 * battery.AmpereHour, Time: 20 * battery.Hour},
			Exponent: 1.17,
		},
		Chemistry:     battery.Flooded,
		Temperature:   battery.Celsius(10),
		StateOfHealth: 0.9,
		StateOfCharge: 1,
		DepthLimit:    0.5,
	}
	cycle, err := battery.NestedDuty(
		battery.Hour,
		battery.Duty{Running: 75, Standing: 1, OnFraction: 0.1},
		battery.Duty{Running: 10, OnFraction: 0.3},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	run, err := condition.Kinetic(bank, cycle)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v after %.1f h\n", run.End, float64(run.Elapsed/battery.Hour))
	// Output: at the floor after 10.4 h
}

// A table of five rates, and the capacity between two of them.
func ExampleRates_FitRateLaw() {
	rates := battery.Rates{
		{Capacity: 20 * battery.AmpereHour, Time: 20 * battery.Hour},
		{Capacity: 18.6 * battery.AmpereHour, Time: 10 * battery.Hour},
		{Capacity: 17 * battery.AmpereHour, Time: 5 * battery.Hour},
		{Capacity: 15.4 * battery.AmpereHour, Time: 3 * battery.Hour},
		{Capacity: 12 * battery.AmpereHour, Time: 1 * battery.Hour},
	}
	law, fit, err := rates.FitRateLaw()
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := law.Capacity(8 * unit.Ampere)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("within %.1f %%; %.1f Ah at 8 A\n", 100*fit.Worst, float64(c/battery.AmpereHour))
	// Output: within 0.6 %; 13.7 Ah at 8 A
}
