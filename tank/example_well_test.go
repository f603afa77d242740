package tank_test

import (
	"fmt"

	"ridethrough.example/tank"
)

// A well of 3 gal/min under a pump of 10: the casing lends the rest, once.
func ExampleWell_Pump() {
	w := tank.Well{
		Casing: 6 * tank.Inch, Static: 50 * tank.Foot, Intake: 200 * tank.Foot,
		Capacity: 0.02 * tank.USGallonPerMinutePerFoot,
	}
	pump := 10 * tank.USGallonPerMinute
	p, err := w.Pump(pump)
	if err != nil {
		fmt.Println(err)
		return
	}
	v, err := w.Delivers(pump, 2*tank.Hour)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("at the intake after %.0f min, then %.0f gal/min; %.0f gal in 2 h\n",
		float64(p.Until/tank.Minute), float64(p.Sustained/tank.USGallonPerMinute), float64(v/tank.USGallon))
	// Output: at the intake after 26 min, then 3 gal/min; 543 gal in 2 h
}

// Specific capacity from a pumping test, and the level at another flow.
func ExampleSpecificCapacityOf() {
	c, err := tank.SpecificCapacityOf(8*tank.USGallonPerMinute, 16*tank.Foot)
	if err != nil {
		fmt.Println(err)
		return
	}
	w := tank.Well{Casing: 6 * tank.Inch, Static: 92 * tank.Foot, Intake: 150 * tank.Foot, Capacity: c}
	p, err := w.Pump(12 * tank.USGallonPerMinute)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f gal/min a foot; at 12 gal/min the water stands at %.0f ft\n",
		float64(c/tank.USGallonPerMinutePerFoot), float64(p.Level/tank.Foot))
	// Output: 0.5 gal/min a foot; at 12 gal/min the water stands at 116 ft
}

// What switches are sold as, with the pressure that the pump is to reach.
func ExampleFactorySwitches() {
	for _, s := range tank.FactorySwitches() {
		p, err := s.ShutOff()
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f/%.0f psi: pump to %.0f psi, better %.0f\n",
			float64(s.CutIn/tank.PSI), float64(s.CutOut/tank.PSI), float64(p.Low/tank.PSI), float64(p.High/tank.PSI))
	}
	// Output:
	// 20/40 psi: pump to 45 psi, better 50
	// 30/50 psi: pump to 55 psi, better 60
	// 40/60 psi: pump to 65 psi, better 70
}
