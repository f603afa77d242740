package battery_test

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
)

// A cabin draws 24 A for 2 h, 8 A for 2 h and 16 A for 1 h, in a place that may
// fall to 40 °F. The maker's table is on the basis of a 100 Ah block.
func ExampleSizing_Worksheet() {
	rates := battery.Rates{
		{Capacity: 100 * battery.AmpereHour, Time: 20 * battery.Hour},
		{Capacity: 93 * battery.AmpereHour, Time: 10 * battery.Hour},
		{Capacity: 85 * battery.AmpereHour, Time: 5 * battery.Hour},
		{Capacity: 77 * battery.AmpereHour, Time: 3 * battery.Hour},
		{Capacity: 60 * battery.AmpereHour, Time: 1 * battery.Hour},
	}
	curve, err := rates.Curve(1.75, 100*battery.AmpereHour)
	if err != nil {
		fmt.Println(err)
		return
	}
	table, err := battery.NewRateTable(curve)
	if err != nil {
		fmt.Println(err)
		return
	}
	w, err := battery.Sizing{
		Cycle: battery.DutyCycle{Periods: []battery.DutyPeriod{
			{Duration: 2 * battery.Hour, Current: 24},
			{Duration: 2 * battery.Hour, Current: 8},
			{Duration: 1 * battery.Hour, Current: 16},
		}},
		Rate: table, EndVoltage: 1.75, Chemistry: battery.Flooded, Temperature: battery.Fahrenheit(40),
		DesignMargin: 1.10, AgingFactor: 1.25,
	}.Worksheet()
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, s := range w.Sections {
		fmt.Printf("section %d\n", i+1)
		for _, x := range s.Terms {
			fmt.Printf("  %+.0f A for %.0f h: %+.1f Ah\n", float64(x.Change),
				float64(x.Remaining/battery.Hour), float64(x.Size/battery.AmpereHour))
		}
	}
	fmt.Printf("uncorrected %.1f Ah, required %.1f Ah\n",
		float64(w.Uncorrected/battery.AmpereHour), float64(w.Required/battery.AmpereHour))
	// Output:
	// section 1
	//   +24 A for 2 h: +68.3 Ah
	// section 2
	//   +24 A for 4 h: +117.9 Ah
	//   -16 A for 2 h: -45.6 Ah
	// section 3
	//   +24 A for 5 h: +141.2 Ah
	//   -16 A for 3 h: -62.3 Ah
	//   +8 A for 1 h: +13.3 Ah
	// uncorrected 92.2 Ah, required 164.8 Ah
}

// Three days of 60 Ah each: the limit of one day decides.
func ExampleAutonomy_Size() {
	s, err := battery.Autonomy{
		Daily: 60 * battery.AmpereHour, Days: 3,
		MaxDepth: 0.8, MaxDailyDepth: 0.25, EndOfLife: 0.8,
		Chemistry: battery.Flooded, Temperature: battery.Fahrenheit(50), DesignMargin: 1,
	}.Size()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f Ah by %s, %.1f Ah in the cold\n",
		float64(s.Adjusted/battery.AmpereHour), s.Governing, float64(s.Required/battery.AmpereHour))
	// Output: 240 Ah by daily depth of discharge, 285.6 Ah in the cold
}

// The acid of a flat battery freezes where that of a full one does not.
func ExampleFreezingPointAtCharge() {
	for _, soc := range []float64{0, 0.5, 1} {
		f, err := battery.FreezingPointAtCharge(soc)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%3.0f %%: keep above %.0f °C\n", 100*soc, battery.InCelsius(f.High))
	}
	// Output:
	//   0 %: keep above -7 °C
	//  50 %: keep above -24 °C
	// 100 %: keep above -59 °C
}

// A hydrometer reads 1.265 in acid at 0 °F.
func ExampleGravityAt80F() {
	sg, err := battery.GravityAt80F(1.265, battery.Fahrenheit(0))
	fmt.Printf("%.3f %v\n", sg, err)
	// Output: 1.233 <nil>
}

// Half a year at 15 °C and half at 35 °C is not a year at 25 °C.
func ExampleMeanLifeFactor() {
	f, err := battery.MeanLifeFactor(battery.HalvingTrade,
		battery.Spell{Temperature: battery.Celsius(15), Share: 0.5},
		battery.Spell{Temperature: battery.Celsius(35), Share: 0.5})
	fmt.Printf("%.1f years of 10 %v\n", 10*f, err)
	// Output: 8.0 years of 10 <nil>
}

// One deep outage a month and a shallow one each day, on a typical flooded
// battery.
func ExampleCycleCurve_Wear() {
	curve, err := battery.TypicalCycleLife(battery.Flooded)
	if err != nil {
		fmt.Println(err)
		return
	}
	year, err := curve.Wear(
		battery.CyclePoint{Depth: 0.8, Cycles: 12},
		battery.CyclePoint{Depth: 0.2, Cycles: 365})
	fmt.Printf("worn in %.1f years %v\n", 1/year, err)
	// Output: worn in 7.6 years <nil>
}

// What keeps a 200 Ah flooded battery full at 30 °C beside an alarm of 30 mA.
func ExampleSelfDischarge_MaintainerCurrent() {
	_, high, err := battery.TypicalSelfDischarge(battery.Flooded)
	if err != nil {
		fmt.Println(err)
		return
	}
	i, err := high.MaintainerCurrent(200*battery.AmpereHour, battery.Celsius(30), 30e-3*unit.Ampere, 0.5)
	fmt.Printf("%.2f %v\n", i, err)
	// Output: 0.16 A <nil>
}
