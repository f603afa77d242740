package tank_test

import (
	"fmt"

	"ridethrough.example/tank"
)

// What 200 gal a day cost, at the mean of the switch pressures.
func ExampleEnergyToRaise() {
	head, err := tank.TotalHead{
		PumpingLevel: 90 * tank.Foot, Rise: 8 * tank.Foot, Pressure: 40 * tank.PSI, Friction: 6 * tank.Foot,
		Density: tank.CustomaryWater,
	}.Head()
	if err != nil {
		fmt.Println(err)
		return
	}
	set, err := tank.SubmersibleSet.Efficiency()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, eta := range []float64{set.High, set.Low} {
		e, err := tank.EnergyToRaise(tank.CustomaryWater, head, eta)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f ft at %.2f: %.1f Wh/gal, %.0f Wh a day\n",
			float64(head/tank.Foot), eta, float64(e/tank.WattHourPerUSGallon), 200*float64(e/tank.WattHourPerUSGallon))
	}
	// Output:
	// 196 ft at 0.40: 1.5 Wh/gal, 308 Wh a day
	// 196 ft at 0.25: 2.5 Wh/gal, 493 Wh a day
}

// Measured while it ran: 980 W, 8 gal/min, 196 ft.
func ExampleImpliedWireToWater() {
	eta, err := tank.ImpliedWireToWater(980, tank.CustomaryWater, 8*tank.USGallonPerMinute, 196*tank.Foot)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f\n", eta)
	// Output: 0.30
}

// From the flow and head that are wanted to what the wire must bring.
func ExamplePumpSet_Input() {
	water, err := tank.WaterPower(tank.CustomaryWater, 10*tank.USGallonPerMinute, 200*tank.Foot)
	if err != nil {
		fmt.Println(err)
		return
	}
	set := tank.PumpSet{Pump: 0.55, Motor: 0.62, Supply: 0.97}
	shaft, err := set.ShaftPower(water)
	if err != nil {
		fmt.Println(err)
		return
	}
	in, err := set.Input(water)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("water %.2f hp, shaft %.2f hp, wire %.0f W\n",
		float64(water/tank.Horsepower), float64(shaft/tank.Horsepower), float64(in))
	// Output: water 0.51 hp, shaft 0.92 hp, wire 1139 W
}

// What a shower 30 ft above the tank has left of 20 psi.
func ExamplePressureAbove() {
	p, err := tank.PressureAbove(20*tank.PSI, 30*tank.Foot, tank.CustomaryWater)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f psi\n", float64(p/tank.PSI))
	// Output: 7 psi
}

// The gauge of a 150 ft air line falls from 25 to 18 psi when the pump runs.
func ExampleAirLine_Level() {
	a := tank.AirLine{Length: 150 * tank.Foot, Density: tank.CustomaryWater}
	static, err := a.Level(25 * tank.PSI)
	if err != nil {
		fmt.Println(err)
		return
	}
	pumping, err := a.Level(18 * tank.PSI)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("water at %.0f ft, at %.0f ft while pumping\n", float64(static/tank.Foot), float64(pumping/tank.Foot))
	// Output: water at 92 ft, at 108 ft while pumping
}
