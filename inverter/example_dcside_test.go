package inverter_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
)

// worn12V is a 1500 VA inverter on a tired 12 V battery.
func worn12V() inverter.Limited {
	return inverter.Limited{
		Voltage: 120, Frequency: 60,
		Surge: inverter.Surge{Continuous: 1500, Points: []inverter.SurgePoint{{Apparent: 3000, For: 5}}},
		Loss:  inverter.Loss{Rated: 1500, Idle: 15, Linear: 0.02, Quadratic: 0.06},
		Source: inverter.Source{
			OpenCircuit: 12.5, Battery: 11 * inverter.Milliohm, Cable: 2 * inverter.Milliohm, Contacts: 1 * inverter.Milliohm,
		},
		CutOff: inverter.CutOff{Running: 10.5, Start: 9.5, Allowed: 3},
	}
}

// A quarter-horsepower motor at rest, 6.3 Ω, on an inverter whose dc link gets
// 1000 W and no more.
func ExampleDCLink() {
	l := inverter.DCLink{
		Voltage: 110, Frequency: 60, Capacitance: 2000 * unit.Micro * unit.Farad,
		Full: 180, Conductance: 5, Power: 1 * inverter.Kilowatt,
	}
	v, _, err := l.Under(5.86+2.28i, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f of %.0f, torque %.0f %%\n", v, l.Voltage, 100*float64(v*v/(l.Voltage*l.Voltage)))
	// Output: 82 V of 110 V, torque 56 %
}

// A motor held at standstill is 6.9 Ω. The surge rating would carry it; the
// battery does not, and after three seconds the cut-off ends it.
func ExampleLimited_State() {
	for _, after := range []unit.Time{0.5, 4} {
		s, err := worn12V().State(6.4+2.5i, after)
		if errors.Is(err, inverter.ErrTrip) {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%.1f, %.1f, %.0f, %.1f dc, held by: %s\n", s.Voltage, s.Current, s.Apparent, s.DC.Voltage, s.Limit)
	}
	// Output:
	// 116.2 V, 16.9 A, 1964 VA, 9.5 V dc, held by: start cut-off
	// inverter: trips by its cut-off delay after 4 s, at 116.2 V ac and 9.50 V dc
}

// A start of 2.8 kVA for 0.6 s on an inverter that carries 3 kVA for one second.
// The switches carry it. The battery's management does not.
func ExampleEnvelope_Follow() {
	l := worn12V()
	l.Source.OpenCircuit, l.Source.Battery = 26.4, 8*inverter.Milliohm
	l.CutOff = inverter.CutOff{Running: 21, Start: 20, Allowed: 1}
	e := inverter.Envelope{
		System: inverter.System{Loss: l.Loss, Surge: l.Surge, Source: l.Source, CutOff: l.CutOff},
		Battery: inverter.BatteryLimit{
			Continuous: 100, Points: []inverter.CurrentPoint{{Current: 200, For: 0.1}, {Current: 110, For: 2}},
		},
	}
	c, err := e.Follow([]inverter.DemandSample{
		{After: 0, Apparent: 2800, Real: 2600},
		{After: 0.5, Apparent: 2700, Real: 2500},
		{After: 0.6, Apparent: 1200, Real: 800},
		{After: 3, Apparent: 700, Real: 450},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("rating: %s; cut-off: %s\n", c.Rating.Link, c.CutOff.Link)
	first := c.First()
	fmt.Printf("first: %s after %.2f, at %.0f\n", first.Link, first.Demand.After, first.Demand.Real)
	// Output:
	// rating: nothing; cut-off: nothing
	// first: battery management after 0.10 s, at 2580 W
}

// Six readings of idle draw and efficiency, two of them of the same draw. How
// far off they leave the model says what they are worth.
func ExampleFitPoints() {
	f, err := inverter.FitPoints(2*inverter.Kilowatt,
		[]unit.Power{22, 24},
		inverter.EfficiencyPoint{Output: 200, Efficiency: 0.86},
		inverter.EfficiencyPoint{Output: 500, Efficiency: 0.92},
		inverter.EfficiencyPoint{Output: 1000, Efficiency: 0.935},
		inverter.EfficiencyPoint{Output: 2000, Efficiency: 0.915},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("idle %.1f, v %.4f, r %.4f, off by %.1f at most\n", f.Loss.Idle, f.Loss.Linear, f.Loss.Quadratic, f.Greatest)
	// Output: idle 24.7 W, v 0.0159, r 0.0643, off by 3.4 W at most
}

// 1 kW from a 48 V inverter at three dc voltages.
func ExampleVoltageLoss_DCPower() {
	l := inverter.VoltageLoss{
		AC: 2000, DC: 2200, Nominal: 48, Start: 20,
		Curve: -2e-5, DCSlope: 1e-3, StartSlope: 2e-3, CurveSlope: -1e-2,
	}
	for _, v := range []unit.Voltage{42, 48, 56} {
		dc, err := l.DCPower(1*inverter.Kilowatt, v)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f: %.1f\n", v, dc)
	}
	// Output:
	// 42 V: 1076.3 W
	// 48 V: 1084.1 W
	// 56 V: 1094.6 W
}

// A pump, lamps and a small supply whose current leads, at once. Their VA add up
// to less than the sum of three readings, their watts to the sum.
func ExampleSystem_Carry() {
	l := worn12V()
	s := inverter.System{Loss: l.Loss, Surge: l.Surge, Source: l.Source, CutOff: l.CutOff}
	sum, err := inverter.Sum(
		inverter.ACLoad{Real: 600, PowerFactor: 0.65},
		inverter.ACLoad{Real: 150, PowerFactor: 1},
		inverter.ACLoad{Real: 60, PowerFactor: 0.5, Leading: true},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := s.Carry(sum)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f, %.0f, pf %.2f\n", sum.Real, sum.Apparent, sum.PowerFactor)
	fmt.Printf("%.2f and %.1f dc; cut-off at %.2f times\n", c.DC.Voltage, c.DC.Current, c.ToCutOff)
	fmt.Printf("battery gives %.0f: idle %.0f, inverter %.0f, battery %.0f, cable %.0f\n",
		c.Given, c.Idle, c.WithLoad, c.Heat.Battery, c.Heat.Cable)
	// Output:
	// 810 W, 1007 VA, pf 0.80
	// 11.42 V and 77.2 A dc; cut-off at 1.70 times
	// battery gives 965 W: idle 15 W, inverter 57 W, battery 66 W, cable 12 W
}

// A pump that is too much for its battery at 11 V: the cut-off takes it off, the
// battery recovers, and it starts again.
func ExampleVoltageSwitch_Next() {
	c := inverter.VoltageSwitch{
		CutOff: inverter.CutOff{Running: 10.5, Start: 9.5, Allowed: 5}, Reconnect: 12.2, Wait: 60,
	}
	s := inverter.SwitchState{}
	for _, v := range []unit.Voltage{11, 10.3, 12.4} {
		next, within, err := c.Next(s, v, 5*inverter.Minute)
		if err != nil {
			fmt.Println(err)
			return
		}
		if next.Off != s.Off {
			fmt.Printf("at %.1f off: %t, after %.0f\n", v, next.Off, within)
		}
		s = next
	}
	// Output:
	// at 10.3 V off: true, after 5 s
	// at 12.4 V off: false, after 60 s
}

// 10 mF behind the terminals of a 48 V inverter, a 30 Ω resistor, and a loop of
// 15 mΩ.
func ExamplePrecharge_Plan() {
	p := inverter.Precharge{Voltage: 51.2, Capacitance: 10e-3, Resistor: 30}
	plan, err := p.Plan()
	if err != nil {
		fmt.Println(err)
		return
	}
	without, errWithout := p.Inrush(0, 15*inverter.Milliohm)
	with, errWith := p.Inrush(plan.Time, 15*inverter.Milliohm)
	if err := errors.Join(errWithout, errWith); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, %.1f at first, %.1f into the resistor\n", plan.Time, plan.Peak, plan.Resistor)
	fmt.Printf("inrush %.0f without, %.0f with\n", without, with)
	// Output:
	// 1.5 s, 1.7 A at first, 13.1 J into the resistor
	// inrush 3413 A without, 23 A with
}

// Three strings, one on a longer cable. It loafs, and the fuse of each must
// still carry what two have to when the third is gone.
func ExampleShare() {
	near := inverter.Source{OpenCircuit: 12.6, Battery: 9 * inverter.Milliohm, Cable: 1 * inverter.Milliohm}
	far := near
	far.Cable = 4 * inverter.Milliohm
	shares, err := inverter.Share(180, near, near, far)
	if err != nil {
		fmt.Println(err)
		return
	}
	fuse, err := inverter.StringFuse(180, near, near, far)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f; fuse at least %.0f\n", shares, fuse)
	// Output: [65.0 A 65.0 A 50.0 A]; fuse at least 127 A
}

// 2 kW at three system voltages.
func ExampleVoltageChoices() {
	all, err := inverter.VoltageChoices(2*inverter.Kilowatt, 0.88)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range all {
		fmt.Printf("%.0f: %.0f, usual: %t\n", c.Nominal, c.Current, c.Usual)
	}
	// Output:
	// 12 V: 216 A, usual: false
	// 24 V: 108 A, usual: true
	// 48 V: 54 A, usual: true
}
