package inverter_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
)

// A plug-in meter of ±(1 % + 2 digits) shows 118 V, 6.60 A and 520 W.
func ExampleACReadings_Load() {
	v, errV := inverter.Accuracy[unit.Voltage]{Share: 0.01, Digits: 2, Step: 0.1}.Of(118)
	i, errI := inverter.Accuracy[unit.Current]{Share: 0.01, Digits: 2, Step: 0.01}.Of(6.60)
	p, errP := inverter.Accuracy[unit.Power]{Share: 0.01, Digits: 2, Step: 1}.Of(520)
	if err := errors.Join(errV, errI, errP); err != nil {
		fmt.Println(err)
		return
	}
	l, err := inverter.ACReadings{Voltage: v, Current: i, Real: p}.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f to %.0f, power factor %.2f to %.2f\n", l.Apparent.Low, l.Apparent.High, l.PowerFactor.Low, l.PowerFactor.High)
	// Output: 760 VA to 798 VA, power factor 0.64 to 0.69
}

// The textbook's 4 kW load at a power factor of 0.8.
func ExampleCorrect() {
	c, err := inverter.Correct(4*inverter.Kilowatt, 0.8, 0.95, 120, 60)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f µF, from %.1f to %.1f\n", 1e6*float64(c.Capacitance), c.Was, c.Is)
	// Output: 310 µF, from 41.7 A to 35.1 A
}

// 12.60 V at 2 A and 11.80 V at 82 A.
func ExampleDCReadings_Sag() {
	light := inverter.DCReadings{Voltage: inverter.Exactly[unit.Voltage](12.60), Current: inverter.Exactly[unit.Current](2)}
	heavy := inverter.DCReadings{Voltage: inverter.Exactly[unit.Voltage](11.80), Current: inverter.Exactly[unit.Current](82)}
	s, err := light.Sag(heavy)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mΩ behind %.2f\n", float64(s.Resistance.Mid()/inverter.Milliohm), s.OpenCircuit.Mid())
	// Output: 10 mΩ behind 12.62 V
}

// What 400 W of motor show on a plug-in meter and on a dc clamp.
func ExampleMeteredPoint_Show() {
	m, err := inverter.MeteredPoint{Voltage: 120, Real: 400, PowerFactor: 0.65, DC: 12.2, Efficiency: 0.88}.Show()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f and %.0f ac, %.1f dc\n", m.Current, m.Apparent, m.DC)
	// Output: 5.1 A and 615 VA ac, 37.3 A dc
}

// Two stacked units of 3.6 kVA with a pump on one leg.
func ExampleSplitPhase_Use() {
	pump, err := inverter.Triangle(2*inverter.Kilowatt, 0.7)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := inverter.SplitPhase{Leg: 120, Unit: inverter.Surge{Continuous: 3600}}
	u, err := s.Use(inverter.SplitLoads{L1: pump})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("leg 1 at %.0f %%, leg 2 at %.0f %%, %.1f in the neutral\n", 100*u.L1.Share, 100*u.L2.Share, u.Neutral)
	// Output: leg 1 at 79 %, leg 2 at 0 %, 23.8 A in the neutral
}

// A 240 V pump does not run on 120 V.
func ExampleMatchVoltage() {
	fmt.Println(inverter.MatchVoltage(120, 240))
	// Output: inverter: a motor wired for 240 V on a source of 120 V has 0.25 times its torque: it hums, does not come up to speed and burns out
}

// The same pump through an autotransformer: half the frame, twice the amperes.
func ExampleStepUp_Feed() {
	pump, err := inverter.Triangle(1*inverter.Kilowatt, 0.7)
	if err != nil {
		fmt.Println(err)
		return
	}
	t := inverter.StepUp{Source: 120, Load: 240, Rating: 3000, Auto: true, Loss: 0.02, Inrush: 12}
	u, err := t.Feed(pump)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f at 240 V, %.1f at 120 V, frame %.0f, %.0f day and night, %.0f when switched on\n",
		u.Load, u.Source, u.Frame, u.Standing, u.Inrush)
	// Output: 6.0 A at 240 V, 12.3 A at 120 V, frame 1500 VA, 60 W day and night, 424 A when switched on
}

// A month of two freezers on a plug-in meter.
func ExampleMeanPower() {
	p, err := inverter.MeanPower(104*inverter.KilowattHour, 670*inverter.Hour)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f, %.1f kWh a day\n", p, float64(p)*24/1000)
	// Output: 155 W, 3.7 kWh a day
}
