package inverter_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
)

// What 1 kW of pump takes from the battery of a 3 kW inverter, and what the
// inverter takes with nothing running.
func ExampleLoss_DCPower() {
	l := inverter.Loss{Rated: 3 * inverter.Kilowatt, Idle: 30 * unit.Watt, Linear: 0.02, Quadratic: 0.05}
	for _, ac := range []unit.Power{0, 1 * inverter.Kilowatt} {
		dc, err := l.DCPower(ac)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f ac: %.1f dc\n", ac, dc)
	}
	// Output:
	// 0 W ac: 30.0 W dc
	// 1000 W ac: 1066.7 W dc
}

// A plug meter shows 1200 VA while 75 A leave a 12 V battery. The catalogue
// gives 85 to 92 % efficiency and 10 to 20 W idle draw. How many watts are
// real?
func ExampleLoss_ACPowerAt() {
	best, worst, err := inverter.FlatRange(2*inverter.Kilowatt,
		inverter.Range[unit.Power]{Low: 10, High: 20},
		inverter.Range[float64]{Low: 0.85, High: 0.92})
	if err != nil {
		fmt.Println(err)
		return
	}
	const s = 1200 * inverter.VoltAmpere
	low, errLow := worst.ACPowerAt(75*12*unit.Watt, s)
	high, errHigh := best.ACPowerAt(75*12*unit.Watt, s)
	if err := errors.Join(errLow, errHigh); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f to %.0f, power factor %.2f to %.2f\n", low, high, float64(low)/float64(s), float64(high)/float64(s))
	// Output: 748 W to 819 W, power factor 0.62 to 0.68
}

// The model from a data sheet with three efficiencies.
func ExampleFitThree() {
	const rated = 2 * inverter.Kilowatt
	l, err := inverter.FitThree(
		rated,
		inverter.EfficiencyPoint{Output: 0.1 * rated, Efficiency: 0.90},
		inverter.EfficiencyPoint{Output: 0.5 * rated, Efficiency: 0.945},
		inverter.EfficiencyPoint{Output: 1.0 * rated, Efficiency: 0.93},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	top, at, err := l.PeakEfficiency()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("idle %.1f, peak %.1f %% at %.0f\n", l.Idle, 100*top, at)
	// Output: idle 18.5 W, peak 94.6 % at 838 W
}

// A pump's 1500 W through battery, cable and contacts: watts over the
// rest voltage is 11 % short.
func ExampleSource_Operate() {
	s := inverter.Source{
		OpenCircuit: 12.6 * unit.Volt,
		Battery:     7 * inverter.Milliohm,
		Cable:       2 * inverter.Milliohm,
		Contacts:    1 * inverter.Milliohm,
	}
	p, err := s.Operate(1500 * unit.Watt)
	if err != nil {
		fmt.Println(err)
		return
	}
	shortcut, err := inverter.ShortcutCurrent(1500*unit.Watt, 12.6*unit.Volt)
	if err != nil {
		fmt.Println(err)
		return
	}
	d := s.Drops(p.Current)
	fmt.Printf("%.1f at %.2f, shortcut %.1f\n", p.Current, p.Voltage, shortcut)
	fmt.Printf("lost in battery %.2f, cable %.2f, contacts %.2f\n", d.Battery, d.Cable, d.Contacts)
	// Output:
	// 133.1 A at 11.27 V, shortcut 119.0 A
	// lost in battery 0.93 V, cable 0.27 V, contacts 0.13 V
}

// A demand beyond what the source can deliver at any voltage is an answer of
// its own.
func ExampleCollapseError() {
	s := inverter.Source{OpenCircuit: 12.3 * unit.Volt, Battery: 20 * inverter.Milliohm}
	_, err := s.Operate(2 * inverter.Kilowatt)
	var collapse *inverter.CollapseError
	if errors.As(err, &collapse) {
		fmt.Printf("at most %.0f\n", collapse.Largest)
	}
	// Output: at most 1891 W
}

// A half-horsepower pump that takes 2600 to 3300 VA with its rotor held, on an
// inverter of 1500 VA that carries twice that for 5 s.
func ExampleSystem_CheckStart() {
	s := inverter.System{
		Loss: inverter.Loss{Rated: 1500 * unit.Watt, Idle: 15 * unit.Watt, Linear: 0.03, Quadratic: 0.06},
		Surge: inverter.Surge{
			Continuous: 1500 * inverter.VoltAmpere,
			Points:     []inverter.SurgePoint{{Apparent: 3 * inverter.KilovoltAmpere, For: 5 * unit.Second}},
		},
		Source: inverter.Source{
			OpenCircuit: 12.5 * unit.Volt,
			Battery:     6 * inverter.Milliohm,
			Cable:       1.5 * inverter.Milliohm,
			Contacts:    0.5 * inverter.Milliohm,
		},
		CutOff: inverter.CutOff{Running: 10.5 * unit.Volt, Start: 9.5 * unit.Volt, Allowed: 2 * unit.Second},
	}
	r, err := s.CheckStart(inverter.Demand{
		Apparent: inverter.Range[inverter.ApparentPower]{Low: 2600, High: 3300},
		Real:     inverter.Range[unit.Power]{Low: 2000, High: 3000},
	}, 0.7*unit.Second)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v: %v\n", r.Rating.Link, r.Rating.Verdict)
	fmt.Printf("%v: %v\n", r.CutOff.Link, r.CutOff.Verdict)
	fmt.Printf("%v: %v\n", r.Collapse.Link, r.Collapse.Verdict)
	w := r.Weakest()
	fmt.Printf("weakest: %v, margin %.2f to %.2f\n", w.Link, w.Margin.Low, w.Margin.High)
	// Output:
	// surge rating: depends
	// start cut-off: passes
	// collapse of the source: passes
	// weakest: surge rating, margin 0.91 to 1.15
}

// A surge is read as a step: what lasts longer than 5 s has the rating of the
// next longer time.
func ExampleSurge_Check() {
	s := inverter.Surge{
		Continuous: 300 * inverter.VoltAmpere,
		Points:     []inverter.SurgePoint{{Apparent: 900, For: 5 * unit.Second}, {Apparent: 600, For: 10 * inverter.Minute}},
	}
	for _, t := range []unit.Time{0.5, 6} {
		r, err := s.Check(inverter.Range[inverter.ApparentPower]{Low: 700, High: 800}, t)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.1f: %.0f allowed, %v\n", t, r.Allowed, r.Verdict)
	}
	// Output:
	// 0.5 s: 900 VA allowed, passes
	// 6.0 s: 600 VA allowed, fails
}

// A full battery, a steady load without trouble, and a start that dips too
// long.
func ExampleCutOff_Check() {
	c := inverter.CutOff{Running: 10.5 * unit.Volt, Start: 9.5 * unit.Volt, Allowed: 1 * unit.Second}
	r, err := c.Check(11.9*unit.Volt, 10.1*unit.Volt, 1.4*unit.Second)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("running margin %.1f, start margin %.1f: %v\n", r.RunningMargin, r.StartMargin, r.GaveWay)
	// Output: running margin 1.4 V, start margin -0.4 V: cut-off delay
}

// Twelve minutes of pumping a day on an inverter that stays on.
func ExampleLoss_Use() {
	l := inverter.Loss{Rated: 3 * inverter.Kilowatt, Idle: 30 * unit.Watt, Linear: 0.02, Quadratic: 0.05}
	a, err := l.Use([]inverter.Run{{Load: 1 * inverter.Kilowatt, For: 12 * inverter.Minute}}, 23.8*inverter.Hour)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f Wh to the pump, %.0f Wh idle draw, %.0f Wh in all\n",
		float64(a.Delivered/inverter.WattHour), float64(a.Standing/inverter.WattHour), float64(a.DC()/inverter.WattHour))
	fmt.Printf("efficiency of the day %.1f %%\n", 100*a.Efficiency())
	// Output:
	// 200 Wh to the pump, 720 Wh idle draw, 927 Wh in all
	// efficiency of the day 21.6 %
}

// A motor on an inverter that limits its current to 60 % of what it asks for.
func ExampleLimitStart() {
	l, err := inverter.LimitStart(1900*inverter.VoltAmpere, 1750*unit.Watt, 1140*inverter.VoltAmpere)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% voltage, %.0f %% torque, %.0f\n", 100*l.Voltage, 100*l.Torque, l.Real)
	// Output: 60 % voltage, 36 % torque, 630 W
}

// 1800 W from a 200 Ah battery: the cut-off ends it by sag after a quarter
// hour, with four fifths of the charge left.
func ExampleSource_RunDown() {
	s := inverter.Source{OpenCircuit: 12.8 * unit.Volt, Battery: 12 * inverter.Milliohm}
	r, err := s.RunDown(11.6*unit.Volt, 200*inverter.AmpereHour, 1800*unit.Watt, 10.5*unit.Volt)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f min, %.0f %% left, stopped by %v\n", float64(r.Time/inverter.Minute), 100*r.Left, r.StoppedBy)
	// Output: 14 min, 80 % left, stopped by running cut-off
}

// Continuous current at the cut-off and the least fuse for it.
func ExampleLeastRating() {
	i, err := inverter.InputCurrent(600*unit.Watt, 10.5*unit.Volt, 0.8)
	if err != nil {
		fmt.Println(err)
		return
	}
	least, err := inverter.LeastRating(i)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, fuse at least %.1f\n", i, least)
	// Output: 71.4 A, fuse at least 89.3 A
}

// A unit that draws 2 A at 12 V awake and a quarter of that in search mode.
func ExampleStandby_Energy() {
	idle, err := inverter.IdleDraw(12*unit.Volt, 2*unit.Ampere)
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := inverter.Standby{Idle: idle, Search: idle / 4}.Energy(2*inverter.Hour, 22*inverter.Hour)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f Wh a day\n", float64(e/inverter.WattHour))
	// Output: 180 Wh a day
}

func ExampleWeighting_Of() {
	curve := []inverter.LoadEfficiency{{0.05, 0.85}, {0.1, 0.90}, {0.2, 0.93}, {0.3, 0.94}, {0.5, 0.945}, {0.75, 0.942}, {1, 0.93}}
	for _, w := range []inverter.Weighting{inverter.European, inverter.CEC} {
		e, err := w.Of(curve)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v %.1f %%\n", w, 100*e)
	}
	// Output:
	// European 93.4 %
	// CEC 94.0 %
}
