package battery_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
)

// A 220 Ah flooded bank, half down, on 30 A with 2 A of standing load.
func ExampleRecharge_Time() {
	r := battery.Recharge{
		Chemistry: battery.Flooded, Capacity: 220 * battery.AmpereHour, From: 0.5,
		Charger: 30 * unit.Ampere, Standing: 2 * unit.Ampere,
	}
	t, err := r.Time()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("bulk %.1f to %.1f h, in all %.1f to %.1f h\n",
		float64(t.Bulk.Low/battery.Hour), float64(t.Bulk.High/battery.Hour),
		float64(t.Total.Low/battery.Hour), float64(t.Total.High/battery.Hour))
	// Output: bulk 2.5 to 2.8 h, in all 6.5 to 10.8 h
}

// A 1.5 A maintainer on a flat 200 Ah bank: days alone, never beside an
// inverter that idles at 2 A.
func ExampleNeverChargesError() {
	r := battery.Recharge{
		Chemistry: battery.AGM, Capacity: 200 * battery.AmpereHour, Charger: 1.5 * unit.Ampere,
		Efficiency: battery.Range[float64]{Low: 0.85, High: 0.85},
	}
	t, err := r.Time()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("alone %.1f days\n", float64(t.Total.High/battery.Day))
	r.Standing = 2 * unit.Ampere
	_, err = r.Time()
	var never *battery.NeverChargesError
	if errors.As(err, &never) {
		fmt.Printf("with the inverter on it goes on losing %.1f A\n", float64(never.Deficit()))
	}
	// Output:
	// alone 6.5 days
	// with the inverter on it goes on losing 0.5 A
}

// The estimate of a charger handbook, and what the library makes of it.
func ExampleShortcutRecharge() {
	t, err := battery.ShortcutRecharge(220*battery.AmpereHour, 30*unit.Ampere, 8*battery.Hour)
	if err != nil {
		fmt.Println(err)
		return
	}
	r := battery.Recharge{Chemistry: battery.Flooded, Capacity: 220 * battery.AmpereHour, Charger: 30 * unit.Ampere}
	computed, err := r.Time()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("by the handbook %.1f h, computed %.1f to %.1f h\n", float64(t/battery.Hour),
		float64(computed.Total.Low/battery.Hour), float64(computed.Total.High/battery.Hour))
	// Output: by the handbook 15.3 h, computed 10.2 to 14.9 h
}

// A 30 A charger on 100 Ah of lithium iron phosphate, in a shed through the
// winter.
func ExampleBank_CheckCharger() {
	bank := battery.Bank{
		Block: battery.Block{
			Chemistry: battery.LithiumIronPhosphate, Voltage: 12.8 * unit.Volt, Exponent: 1.03,
			Rating: battery.Rating{Capacity: 100 * battery.AmpereHour, Time: 20 * battery.Hour},
		},
		Series: 1, Parallel: 1,
	}
	for _, celsius := range []float64{-5, 3, 15} {
		k, err := bank.CheckCharger(30*unit.Ampere, battery.Celsius(celsius))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f °C: %v, most %.0f\n", celsius, k.Verdict, k.Limit.High)
	}
	// Output:
	// -5 °C: not at this temperature, most 0 A
	// 3 °C: too high, most 10 A
	// 15 °C: only if the battery's maker allows it, most 100 A
}

// A charger's settings for a 12 V AGM block in a cold shed.
func ExampleBank_ChargeVoltages() {
	bank := battery.Bank{
		Block: battery.Block{
			Chemistry: battery.AGM, Voltage: 12 * unit.Volt, Exponent: 1.12,
			Rating: battery.Rating{Capacity: 100 * battery.AmpereHour, Time: 20 * battery.Hour},
		},
		Series: 1, Parallel: 1,
	}
	v, err := bank.ChargeVoltages(battery.Celsius(5))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("absorption %.2f to %.2f, float %.2f to %.2f\n", v.Absorption.Low, v.Absorption.High, v.Float.Low, v.Float.High)
	// Output: absorption 14.76 V to 15.30 V, float 13.86 V to 14.40 V
}

// The hydrogen of a 48 V flooded bank at the absorption voltage.
func ExampleBank_Ventilation() {
	bank := battery.Bank{
		Block: battery.Block{
			Chemistry: battery.Flooded, Voltage: 6 * unit.Volt, Exponent: 1.2,
			Rating: battery.Rating{Capacity: 220 * battery.AmpereHour, Time: 20 * battery.Hour},
		},
		Series: 8, Parallel: 1,
	}
	v, err := bank.Ventilation(battery.BoostCharge, 30*unit.Ampere, 0.01)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("airflow %.1f m³/h, two openings of %.0f cm²\n",
		float64(v.Airflow/battery.CubicMetrePerHour), float64(v.Opening)*1e4)
	fmt.Printf("all of 30 A into gas: %.1f m³/h to stay at 1 %%\n", float64(v.Dilution/battery.CubicMetrePerHour))
	// Output:
	// airflow 5.3 m³/h, two openings of 148 cm²
	// all of 30 A into gas: 32.6 m³/h to stay at 1 %
}

// The fuel for putting a day's charge back.
func ExampleGenerator_Run() {
	set := battery.Generator{
		Rated: 7000 * unit.Watt, NoLoad: 0.25 * battery.USGallonPerHour,
		Load: 3500 * unit.Watt, AtLoad: 0.625 * battery.USGallonPerHour,
	}
	input, err := battery.ChargerInput(28.8*unit.Volt, 60*unit.Ampere, 0.85)
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := battery.BulkTime(276*battery.AmpereHour, 60*unit.Ampere, 0.85)
	if err != nil {
		fmt.Println(err)
		return
	}
	run, err := set.Run(battery.Range[unit.Time]{Low: t, High: t}, input, 500*unit.Watt)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f for %.1f h: %.1f gal\n", run.Load, float64(t/battery.Hour), float64(run.Fuel.High)/3.785e-3)
	// Output: 2533 W for 5.4 h: 2.8 gal
}

// How fast a short across a 48 V bank rises, and when a fuse melts.
func ExampleFaultLoop() {
	loop := battery.FaultLoop{Voltage: 51.2 * unit.Volt, Resistance: 10 * battery.Milliohm, Inductance: 10e-6}
	i, err := loop.Current(0.5e-3)
	if err != nil {
		fmt.Println(err)
		return
	}
	melt, err := loop.TimeToLetThrough(10e3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("after 0.5 ms %.0f, a fuse of 10 000 A²s melts after %.2f ms\n", i, 1000*float64(melt))
	// Output: after 0.5 ms 2015 A, a fuse of 10 000 A²s melts after 1.43 ms
}

// What is typical of AGM, and how well it is known.
func ExampleChemistry_Preset() {
	p, err := battery.AGM.Preset()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("k %.2f to %.2f, charge at %.1f to %.1f of the capacity an hour\n",
		p.Exponent.Low, p.Exponent.High, p.ChargeRate.Low, p.ChargeRate.High)
	for _, o := range p.Origins() {
		if o.Figure == "ChargeRate" || o.Figure == "SelfDischarge" {
			fmt.Printf("%s: %s\n", o.Figure, o.Status)
		}
	}
	// Output:
	// k 1.08 to 1.16, charge at 0.2 to 0.3 of the capacity an hour
	// ChargeRate: memory
	// SelfDischarge: published
}
