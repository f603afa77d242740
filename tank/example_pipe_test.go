package tank_test

import (
	"fmt"

	"ridethrough.example/tank"
)

// Well water at 50 °F.
func ExampleWaterAt() {
	w, err := tank.WaterAt(tank.Fahrenheit(50))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, %.3f mPa·s, boils at %.3f kPa\n", w.Density, float64(w.Viscosity/tank.Centipoise), float64(w.Vapour/tank.Kilopascal))
	// Output: 999.7 kg/m^3, 1.306 mPa·s, boils at 1.228 kPa
}

// Ten gallons a minute through 100 ft of 1 in steel pipe.
func ExamplePipe_Loss() {
	w, err := tank.WaterAt(tank.Fahrenheit(60))
	if err != nil {
		fmt.Println(err)
		return
	}
	p := tank.Pipe{Diameter: 1.049 * tank.Foot / 12, Length: 100 * tank.Foot, Roughness: 4.5e-5}
	l, err := p.Loss(10*tank.USGallonPerMinute, w)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f ft at Re %.0f, %v\n", float64(l.Head/tank.Foot), l.Reynolds, l.Regime)
	// Output: 6.8 ft at Re 26867, turbulent
}

// The same pipe as a pump table sees it, as plastic.
func ExampleHazenWilliamsLoss() {
	h, err := tank.HazenWilliamsLoss(10*tank.USGallonPerMinute, 140, 1.049*tank.Foot/12, 100*tank.Foot)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f ft\n", float64(h/tank.Foot))
	// Output: 6.2 ft
}

// A jet pump at 5000 ft, 18 ft above the water while it runs.
func ExampleSuction_Jet() {
	air, err := tank.StandardPressure(5000 * tank.Foot)
	if err != nil {
		fmt.Println(err)
		return
	}
	w, err := tank.WaterAt(tank.Fahrenheit(50))
	if err != nil {
		fmt.Println(err)
		return
	}
	s := tank.Suction{Atmosphere: air, Lift: 18 * tank.Foot, Friction: 2 * tank.Foot, Water: w}
	r, err := s.Jet(8.5 * tank.Foot)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v: %.1f ft available, margin %.1f ft\n", r.Verdict, float64(r.Available/tank.Foot), float64(r.Margin/tank.Foot))
	// Output: cavitates: 7.8 ft available, margin -0.7 ft
}

// Half-inch pipe is not half an inch inside.
func ExamplePipeKind_Size() {
	for _, kind := range []tank.PipeKind{tank.SteelSchedule40, tank.CopperTypeL, tank.PEXSDR9} {
		p, err := kind.Size(0.5 * tank.Inch)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: %.3f in\n", kind, float64(p.Inside/tank.Inch))
	}
	// Output:
	// steel schedule 40: 0.622 in
	// copper type L: 0.545 in
	// PEX SDR 9: 0.485 in
}

// The doubt of two elbows at 2 m/s.
func ExampleFitting_Coefficient() {
	k, err := tank.Elbow90.Coefficient()
	if err != nil {
		fmt.Println(err)
		return
	}
	low, err := tank.MinorLoss(2*k.Low, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	high, err := tank.MinorLoss(2*k.High, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f to %.2f\n", low, high)
	// Output: 0.31 m to 0.61 m
}
