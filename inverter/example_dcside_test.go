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
