package tank_test

import (
	"fmt"

	"ridethrough.example/tank"
)

// A week's emergency water for four, drawn beforehand, against the battery.
func ExampleStore_Worth() {
	use, err := tank.Emergency.Use(4)
	if err != nil {
		fmt.Println(err)
		return
	}
	v, err := tank.StoreFor(use.High, 7*tank.Day)
	if err != nil {
		fmt.Println(err)
		return
	}
	w, err := tank.Store{Volume: v, Use: use.High, Energy: 2.5 * tank.WattHourPerUSGallon}.Worth()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f L, %.0f kg, for %.0f days: %.0f Wh of pumping less\n",
		float64(v/tank.Litre), float64(w.Mass), float64(w.Lasts/tank.Day), float64(w.Saved/tank.WattHour))
	// Output: 420 L, 420 kg, for 7 days: 277 Wh of pumping less
}

// What a battery brings up, and what to store to do without it.
func ExamplePumpedBy() {
	v, err := tank.PumpedBy(1000*tank.WattHour, 2.5*tank.WattHourPerUSGallon)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f gal, %.0f L\n", float64(v/tank.USGallon), float64(v/tank.Litre))
	// Output: 400 gal, 1514 L
}

// A 1 hp motor's tank: which demand makes it so large?
func ExampleVessel_Sized() {
	p, err := tank.PracticeFor(tank.Horsepower, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	v := tank.Vessel{Precharge: 38 * tank.PSI, CutIn: 40 * tank.PSI, CutOut: 60 * tank.PSI}
	for _, use := range []tank.FlowRate{0, 300 * tank.USGallonPerDay} {
		s, err := v.Sized(10*tank.USGallonPerMinute, p, use)
		if err != nil {
			fmt.Println(err)
			return
		}
		n, err := tank.TanksFor(s.Volume)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f gal of drawdown by %v: %.0f gal in %d\n",
			float64(s.Drawdown/tank.USGallon), s.Governs, float64(s.Volume/tank.USGallon), n)
	}
	// Output:
	// 36 gal of drawdown by starts a day: 140 gal in 2
	// 20 gal of drawdown by least run: 78 gal in 1
}

// An old tank left at 18 psi beside a new one at 28.
func ExampleBank_Drawdown() {
	b := tank.Bank{
		Tanks: []tank.PipedTank{
			{Volume: 85 * tank.USGallon, Precharge: 28 * tank.PSI},
			{Volume: 44 * tank.USGallon, Precharge: 18 * tank.PSI},
		},
		CutIn: 30 * tank.PSI, CutOut: 50 * tank.PSI,
	}
	vd, err := b.Drawdown()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f gal\n", float64(vd/tank.USGallon))
	// Output: 35.1 gal
}
