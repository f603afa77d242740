package battery_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
)

// A 100 Ah battery at 75 A: what the head says, and what Peukert says.
func Example() {
	p := battery.Peukert{
		Rating:   battery.Rating{Capacity: 100 * battery.AmpereHour, Time: 20 * battery.Hour},
		Exponent: 1.2,
	}
	head, err := battery.ShortcutRuntime(p.Rating.Capacity, 75)
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := p.Runtime(75 * unit.Ampere)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("by the shortcut %.0f min, computed %.0f min\n", float64(head/battery.Minute), float64(t/battery.Minute))
	// Output: by the shortcut 80 min, computed 47 min
}

// The exponent from what a nameplate states: 225 Ah at 20 h, 447 min at 25 A.
func ExampleExponentFromReserve() {
	rating := battery.Rating{Capacity: 225 * battery.AmpereHour, Time: 20 * battery.Hour}
	k, err := battery.ExponentFromReserve(rating, 447*battery.Minute)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("k = %.2f\n", k)
	// Output: k = 1.24
}

// A maker's table gives the exponent near the load.
func ExampleRates_Peukert() {
	table := battery.Rates{
		{Capacity: 330 * battery.AmpereHour, Time: 20 * battery.Hour},
		{Capacity: 304 * battery.AmpereHour, Time: 10 * battery.Hour},
		{Capacity: 271 * battery.AmpereHour, Time: 5 * battery.Hour},
	}
	p, bracketed, err := table.Peukert(40)
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := p.Runtime(40)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("k = %.2f, bracketed: %v, %.1f h\n", p.Exponent, bracketed, float64(t/battery.Hour))
	// Output: k = 1.20, bracketed: true, 7.2 h
}

// A pump that draws 75 A for 5 minutes in 30, and an inverter that idles at 1 A.
func ExamplePeukert_Duty() {
	p := battery.Peukert{
		Rating:   battery.Rating{Capacity: 330 * battery.AmpereHour, Time: 20 * battery.Hour},
		Exponent: 1.17,
	}
	r, err := p.Duty(battery.Duty{Running: 75, Standing: 1, OnFraction: 5.0 / 30})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f to %.0f h, of which the pump runs %.1f to %.1f h\n",
		float64(r.Elapsed().Low/battery.Hour), float64(r.Elapsed().High/battery.Hour),
		float64(r.On().Low/battery.Hour), float64(r.On().High/battery.Hour))
	// Output: 19 to 25 h, of which the pump runs 3.2 to 4.1 h
}

// An aged battery in a cold cellar, half of it to be used: where the
// ampere-hours go.
func ExampleCondition_Usable() {
	c := battery.Condition{
		Peukert: battery.Peukert{
			Rating:   battery.Rating{Capacity: 225 * battery.AmpereHour, Time: 20 * battery.Hour},
			Exponent: 1.24,
		},
		Chemistry:     battery.Flooded,
		Temperature:   battery.Fahrenheit(50),
		StateOfHealth: 0.8,
		StateOfCharge: 1,
		DepthLimit:    0.5,
	}
	u, err := c.Usable(50)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, step := range []struct {
		name string
		left unit.Charge
	}{
		{"rated", u.Rated},
		{"rate", u.AfterRate},
		{"temperature", u.AfterTemperature},
		{"age", u.AfterAge},
		{"depth", u.Charge},
	} {
		fmt.Printf("%-12s%6.1f Ah\n", step.name, float64(step.left/battery.AmpereHour))
	}
	fmt.Printf("%.0f Wh, %.2f h\n", float64(u.Energy(12)/battery.WattHour), float64(u.Runtime/battery.Hour))
	// Output:
	// rated        225.0 Ah
	// rate         157.3 Ah
	// temperature  132.2 Ah
	// age          105.7 Ah
	// depth         52.9 Ah
	// 634 Wh, 1.06 h
}

// Four 6 V blocks, two in series and two in parallel.
func ExampleBank() {
	bank := battery.Bank{
		Block: battery.Block{
			Chemistry: battery.Flooded, Voltage: 6,
			Rating:     battery.Rating{Capacity: 225 * battery.AmpereHour, Time: 20 * battery.Hour},
			Exponent:   1.24,
			Resistance: battery.Range[unit.Resistance]{Low: 2 * battery.Milliohm, High: 3 * battery.Milliohm},
		},
		Series: 2, Parallel: 2,
	}
	t, err := bank.Peukert().Runtime(75)
	if err != nil {
		fmt.Println(err)
		return
	}
	fault, err := bank.FaultCurrent(0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f, %.0f Ah, %.1f h at 75 A, bolted fault %.0f to %.0f\n",
		bank.Voltage(), float64(bank.Rating().Capacity/battery.AmpereHour), float64(t/battery.Hour), fault.Low, fault.High)
	// Output: 12 V, 450 Ah, 4.5 h at 75 A, bolted fault 1286 A to 6349 A
}

// What 12.2 V at rest says of a flooded block, and 13.2 V of lithium.
func ExampleBlock_StateOfCharge() {
	wet := battery.Block{
		Chemistry: battery.Flooded, Voltage: 12, Exponent: 1.2,
		Rating: battery.Rating{Capacity: 100 * battery.AmpereHour, Time: 20 * battery.Hour},
	}
	s, err := wet.StateOfCharge(12.2, battery.Celsius(25))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f to %.0f %%\n", 100*s.Low, 100*s.High)

	lithium := wet
	lithium.Chemistry, lithium.Voltage, lithium.Exponent = battery.LithiumIronPhosphate, 12.8, 1.03
	_, err = lithium.StateOfCharge(13.2, battery.Celsius(25))
	var flat *battery.FlatError
	if errors.As(err, &flat) {
		fmt.Printf("%.0f to %.0f %%: no answer\n", 100*flat.Band.Low, 100*flat.Band.High)
	}
	// Output:
	// 34 to 60 %
	// 20 to 98 %: no answer
}

// The size that 100 Ah at 25 °C must have at 0 °C.
func ExampleSizingFactor() {
	f, err := battery.SizingFactor(battery.Celsius(0))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f Ah\n", 100*f)
	// Output: 140 Ah
}

// Rest at 12.7 V, and 12.2 V while 75 A flow.
func ExampleResistanceFromReadings() {
	r, open, err := battery.ResistanceFromReadings(
		battery.Reading{Voltage: 12.7},
		battery.Reading{Voltage: 12.2, Current: 75},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f mΩ behind %.1f\n", float64(r/battery.Milliohm), open)
	// Output: 6.7 mΩ behind 12.7 V
}
