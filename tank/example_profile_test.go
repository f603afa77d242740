package tank_test

import (
	"fmt"

	"ridethrough.example/tank"
)

// The same 300 gal on three days: 30 minutes of pumping, less what the tank is
// short of at midnight.
func ExampleProfile_Draws() {
	s := tank.System{Drawdown: 25 * tank.USGallon, Pump: 10 * tank.USGallonPerMinute}
	for _, day := range []struct {
		name    string
		profile tank.Profile
	}{
		{"flat", tank.FlatProfile()}, {"household", tank.HouseholdProfile()}, {"two hours", tank.TwoHourProfile()},
	} {
		draws, err := day.profile.Draws(300 * tank.USGallonPerDay)
		if err != nil {
			fmt.Println(err)
			return
		}
		f, err := s.Follow(tank.Level{Stored: s.Drawdown}, 0, draws)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %d starts, %.1f min of pumping\n", day.name, f.Starts, float64(f.PumpTime/tank.Minute))
	}
	// Output:
	// flat: 11 starts, 28.1 min of pumping
	// household: 11 starts, 28.4 min of pumping
	// two hours: 9 starts, 30.0 min of pumping
}

// A house with two bathrooms, by two methods.
func ExampleSevenMinutePeak() {
	p, err := tank.SevenMinutePeak(2)
	if err != nil {
		fmt.Println(err)
		return
	}
	q, err := tank.AllowancePeak([]tank.FixtureCount{
		{Fixture: tank.Showerhead, Count: 2},
		{Fixture: tank.Lavatory, Count: 3},
		{Fixture: tank.ToiletOld, Count: 2},
		{Fixture: tank.KitchenSink, Count: 1},
		{Fixture: tank.ClothesWasher, Count: 1},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f gal in 7 min: %.0f gal/min; by allowance %.0f gal/min\n",
		float64(p.Drawn/tank.USGallon), float64(p.Pump/tank.USGallonPerMinute), float64(q/tank.USGallonPerMinute))
	// Output: 98 gal in 7 min: 14 gal/min; by allowance 8 gal/min
}

// What a flush costs, old and new.
func ExampleFixture_Use() {
	for _, f := range []tank.Fixture{tank.ToiletOld, tank.ToiletEfficient} {
		u, err := f.Use()
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: %.1f to %.1f L a %s\n", f, float64(u.Volume.Low/tank.Litre), float64(u.Volume.High/tank.Litre), u.Per)
	}
	// Output:
	// old toilet: 13.2 to 26.5 L a flush
	// efficient toilet: 4.8 to 4.8 L a flush
}
