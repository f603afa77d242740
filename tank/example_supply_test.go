package tank_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/tank"
)

// farm is a pump of 180 ft at shut-off and 120 ft at 10 gal/min, 20 ft above
// the water, that fills an 85 gal tank through 100 ft of 1 in pipe.
func farm() (tank.Supply, error) {
	pump, err1 := tank.FitCurve(180*tank.Foot,
		tank.CurvePoint{Flow: 5 * tank.USGallonPerMinute, Head: 165 * tank.Foot},
		tank.CurvePoint{Flow: 10 * tank.USGallonPerMinute, Head: 120 * tank.Foot})
	input, err2 := tank.InputThrough([]tank.InputPoint{
		{Flow: 0, Power: 500}, {Flow: 10 * tank.USGallonPerMinute, Power: 750}, {Flow: 15 * tank.USGallonPerMinute, Power: 875},
	})
	water, err3 := tank.WaterAt(tank.Celsius(10))
	pipe, err4 := tank.HazenWilliamsLoss(10*tank.USGallonPerMinute, 140, 1.049*tank.Inch, 100*tank.Foot)
	return tank.Supply{
		Tank: tank.Vessel{
			Volume: 85 * tank.USGallon, Precharge: 28 * tank.PSI, CutIn: 30 * tank.PSI, CutOut: 50 * tank.PSI,
		},
		Pump: pump, Input: input,
		Main: tank.RisingMain{
			Lift: 20 * tank.Foot, Water: water,
			Losses: []tank.HeadLoss{{Head: pipe, At: 10 * tank.USGallonPerMinute, Exponent: tank.HazenWilliamsExponent}},
		},
	}, errors.Join(err1, err2, err3, err4)
}

func ExampleSupply_At() {
	s, err := farm()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, psi := range []unit.Pressure{30, 40, 50} {
		at, err := s.At(psi * tank.PSI)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f psi: %.1f gal/min against %.0f ft, %.0f %% from wire to water\n",
			float64(at.Pressure/tank.PSI), float64(at.Flow/tank.USGallonPerMinute), float64(at.Head/tank.Foot), 100*at.Efficiency())
	}
	// Output:
	// 30 psi: 11.7 gal/min against 98 ft, 27 % from wire to water
	// 40 psi: 10.1 gal/min against 119 ft, 30 % from wire to water
	// 50 psi: 8.2 gal/min against 140 ft, 31 % from wire to water
}

// One fill, and the same pump with a tap open that takes nearly all it gives.
func ExampleSupply_Fill() {
	s, err := farm()
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := s.Fill(0, tank.Isothermal)
	fmt.Printf("%.2f min for %.1f gal, %.1f Wh, %v\n",
		float64(f.Time/tank.Minute), float64(f.Stored/tank.USGallon), float64(f.Energy)/3600, err)
	_, err = s.Fill(9*tank.USGallonPerMinute, tank.Isothermal)
	fmt.Println(err)
	// Output:
	// 2.47 min for 25.1 gal, 31.0 Wh, <nil>
	// tank: the pump never stops: it holds 46.05 psi and cut-out is 50 psi, as a demand of 9 gal/min takes what it delivers
}

// A household's day, 300 gal by the hour.
func ExampleSupply_Follow() {
	s, err1 := farm()
	full, err2 := s.Full()
	draws, err3 := tank.HouseholdProfile().Draws(300 * tank.USGallonPerDay)
	if err := errors.Join(err1, err2, err3); err != nil {
		fmt.Println(err)
		return
	}
	day, err := s.Follow(full, draws)
	fmt.Printf("%d starts, %.0f min, %.0f Wh, %.2f Wh/gal, at least %.0f psi, %v\n",
		day.Starts, float64(day.PumpTime/tank.Minute), float64(day.Energy)/3600,
		float64(day.EnergyPerVolume()/tank.WattHourPerUSGallon), float64(day.LeastPressure/tank.PSI), err)
	// Output: 11 starts, 28 min, 352 Wh, 1.24 Wh/gal, at least 30 psi, <nil>
}
