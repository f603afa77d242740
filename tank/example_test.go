package tank_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/tank"
)

// An 85 gal tank on a 30/50 switch, at sea level and at 6000 ft.
func ExampleVessel_Drawdown() {
	v := tank.Vessel{
		Volume:    85 * tank.USGallon,
		Precharge: 28 * tank.PSI, CutIn: 30 * tank.PSI, CutOut: 50 * tank.PSI,
	}
	for _, feet := range []unit.Length{0, 6000} {
		var err error
		if v.Atmosphere, err = tank.StandardPressure(feet * tank.Foot); err != nil {
			fmt.Println(err)
			return
		}
		vd, err := v.Drawdown()
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%4.0f ft: %.1f gal, %.0f L\n", float64(feet), float64(vd/tank.USGallon), float64(vd/tank.Litre))
	}
	// Output:
	//    0 ft: 25.1 gal, 95 L
	// 6000 ft: 26.2 gal, 99 L
}

// The air charge was set above the switch's cut-in pressure.
func ExamplePrechargeError() {
	v := tank.Vessel{
		Volume:    85 * tank.USGallon,
		Precharge: 35 * tank.PSI, CutIn: 30 * tank.PSI, CutOut: 50 * tank.PSI,
	}
	_, err := v.Drawdown()
	var e *tank.PrechargeError
	if errors.As(err, &e) {
		fmt.Printf("dry below %.0f psi, after %.1f gal\n", float64(e.Precharge/tank.PSI), float64(e.Usable/tank.USGallon))
	}
	// Output: dry below 35 psi, after 19.7 gal
}

// What is in the tank when the power fails depends on where in its cycle the
// pump was.
func ExampleVessel_WaterWhenPowerFails() {
	v := tank.Vessel{
		Volume:    85 * tank.USGallon,
		Precharge: 28 * tank.PSI, CutIn: 30 * tank.PSI, CutOut: 50 * tank.PSI,
	}
	w, err := v.WaterWhenPowerFails()
	if err != nil {
		fmt.Println(err)
		return
	}
	gal := func(x unit.Volume) float64 { return float64(x / tank.USGallon) }
	fmt.Printf("%.1f to %.1f gal, %.1f on average\n", gal(w.Low), gal(w.High), gal(w.Mid()))
	// Output: 3.8 to 28.9 gal, 16.4 on average
}

// The slip of leaving the atmosphere out, beside the result.
func ExampleVessel_GaugeOnlyDrawdown() {
	v := tank.Vessel{
		Volume:    85 * tank.USGallon,
		Precharge: 28 * tank.PSI, CutIn: 30 * tank.PSI, CutOut: 50 * tank.PSI,
	}
	vd, err := v.Drawdown()
	if err != nil {
		fmt.Println(err)
		return
	}
	slip, err := v.GaugeOnlyDrawdown()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f gal, not %.1f\n", float64(vd/tank.USGallon), float64(slip/tank.USGallon))
	// Output: 25.1 gal, not 31.7
}

// A fill within a minute leaves the air warm: less water, and the gauge sags.
func ExampleVessel_PolytropicDrawdown() {
	v := tank.Vessel{
		Volume:    320 * tank.Litre,
		Precharge: 1.9 * tank.Bar, CutIn: 2 * tank.Bar, CutOut: 3.5 * tank.Bar,
	}
	for _, n := range []float64{tank.Isothermal, tank.SurgeFill, tank.Adiabatic} {
		vd, err := v.PolytropicDrawdown(n)
		if err != nil {
			fmt.Println(err)
			return
		}
		p, err := v.SettledPressure(n)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("n = %.1f: %.0f L, settles at %.2f bar\n", n, float64(vd/tank.Litre), float64(p/tank.Bar))
	}
	// Output:
	// n = 1.0: 103 L, settles at 3.50 bar
	// n = 1.2: 88 L, settles at 3.21 bar
	// n = 1.4: 78 L, settles at 3.01 bar
}

// A plain tank gives about a third of a captive-air tank's water.
func ExamplePlainTank_Drawdown() {
	t := tank.PlainTank{Volume: 85 * tank.USGallon, CutIn: 30 * tank.PSI, CutOut: 50 * tank.PSI}
	vd, err := t.Drawdown()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f gal\n", float64(vd/tank.USGallon))
	// Output: 8.6 gal
}

// With a gallon of air left, the pump starts every few seconds.
func ExampleWaterlogged_ShortCycle() {
	w := tank.Waterlogged{Air: 1 * tank.USGallon, CutIn: 30 * tank.PSI, CutOut: 50 * tank.PSI}
	c, err := w.ShortCycle(10 * tank.USGallonPerMinute)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("runs %.1f, rests %.1f\n", c.On, c.Off)
	// Output: runs 3.7 s, rests 3.7 s
}

// A tank charged in a warm shop loses pressure in a cold pit.
func ExampleCharge_At() {
	c := tank.Charge{Precharge: 28 * tank.PSI, Temperature: tank.Fahrenheit(70)}
	p, err := c.At(tank.Fahrenheit(35))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f psi\n", float64(p/tank.PSI))
	// Output: 25.2 psi
}

// Atmospheric pressure at 1800 m.
func ExampleStandardPressure() {
	p, err := tank.StandardPressure(1800)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f kPa\n", float64(p/tank.Kilopascal))
	// Output: 81.5 kPa
}

// Two taps, half the pump's flow: the demand that starts it most often.
func ExampleSystem_At() {
	s := tank.System{Drawdown: 25 * tank.USGallon, Pump: 10 * tank.USGallonPerMinute}
	for _, gpm := range []tank.FlowRate{2, 5, 10} {
		c, err := s.At(gpm * tank.USGallonPerMinute)
		switch {
		case errors.Is(err, tank.ErrNeverStops):
			fmt.Printf("%.0f gal/min: the pump never stops\n", float64(gpm))
		case err != nil:
			fmt.Println(err)
		default:
			fmt.Printf("%.0f gal/min: on %.1f min, off %.1f min, %.1f starts an hour\n",
				float64(gpm), float64(c.On/tank.Minute), float64(c.Off/tank.Minute), float64(c.Starts/tank.PerHour))
		}
	}
	// Output:
	// 2 gal/min: on 3.1 min, off 12.5 min, 3.8 starts an hour
	// 5 gal/min: on 5.0 min, off 5.0 min, 6.0 starts an hour
	// 10 gal/min: the pump never stops
}

// A day's water for four people, thrifty.
func ExampleSystem_Day() {
	s := tank.System{Drawdown: 25 * tank.USGallon, Pump: 10 * tank.USGallonPerMinute}
	use, err := tank.Washing.Use(4)
	if err != nil {
		fmt.Println(err)
		return
	}
	day, err := s.Day(use.High)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f L a day: %.1f min of pumping, %.1f starts\n",
		float64(use.High/tank.LitrePerDay), float64(day.PumpTime/tank.Minute), day.Starts)
	// Output: 280 L a day: 7.4 min of pumping, 3.0 starts
}

// The tank for six starts an hour at most, by Boyle's law and by the form of
// state design manuals.
func ExampleVessel_VolumeFor() {
	pump := 10 * tank.USGallonPerMinute
	vd, err := tank.DrawdownForStarts(pump, 6*tank.PerHour)
	if err != nil {
		fmt.Println(err)
		return
	}
	v := tank.Vessel{Precharge: 38 * tank.PSI, CutIn: 40 * tank.PSI, CutOut: 60 * tank.PSI}
	volume, err := v.VolumeFor(vd)
	if err != nil {
		fmt.Println(err)
		return
	}
	form, err := tank.DesignTank{Pump: pump, Cycles: 6 * tank.PerHour, CutIn: v.CutIn, CutOut: v.CutOut}.Volume()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f gal of drawdown: %.0f gal; design form: %.0f gal\n",
		float64(vd/tank.USGallon), float64(volume/tank.USGallon), float64(form/tank.USGallon))
	// Output: 25 gal of drawdown: 97 gal; design form: 93 gal
}

// What the trade allows a 1/2 hp submersible motor.
func ExamplePracticeFor() {
	p, err := tank.PracticeFor(0.5*tank.Horsepower, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f starts a day, %.0f an hour, runs of %.0f min or more\n",
		float64(p.DailyStarts/tank.PerDay), float64(p.HourlyStarts/tank.PerHour), float64(p.Run/tank.Minute))
	// Output: 300 starts a day, 15 an hour, runs of 1 min or more
}

// How long the mean content of a tank serves four people in an emergency.
func ExampleLasts() {
	use, err := tank.Emergency.Use(4)
	if err != nil {
		fmt.Println(err)
		return
	}
	most, err := tank.Lasts(16.4*tank.USGallon, use.Low)
	if err != nil {
		fmt.Println(err)
		return
	}
	least, err := tank.Lasts(16.4*tank.USGallon, use.High)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f to %.1f days\n", float64(least/tank.Day), float64(most/tank.Day))
	// Output: 1.0 to 2.1 days
}

// A bare number is SI: 30 is 30 Pa.
func ExampleVessel_Validate() {
	v := tank.Vessel{
		Volume:    85 * tank.USGallon,
		Precharge: 28 * tank.PSI, CutIn: 30, CutOut: 50 * tank.PSI,
	}
	fmt.Println(v.Validate())
	// Output: tank: cut-in 0.00435113 psi (30 Pa), want 5 psi to 149 psi
}
