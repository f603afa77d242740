package inverter_test

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
)

// An inverter that is sold with 120 V rms and the peak of a 120 V sine.
func ExampleSteppedWave_Figures() {
	w, err := inverter.WithDuty(169.7, 0.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := w.Figures()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f rms, %.0f of it fundamental, distortion %.0f %%; an averaging meter shows %.0f\n",
		f.RMS, f.Fundamental, 100*f.THD, f.Average)
	// Output: 120 V rms, 108 V of it fundamental, distortion 48 %; an averaging meter shows 94 V
}

// The same rms as the battery sags: the fundamental rises and then the rms goes.
func ExampleHoldRMS() {
	for _, peak := range []unit.Voltage{170, 140, 110} {
		h, err := inverter.HoldRMS(peak, 120)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("peak %.0f: %.0f rms, torque %.2f, held %v\n", peak, h.Figures.RMS, h.Torque, h.Held)
	}
	// Output:
	// peak 170 V: 120 V rms, torque 0.81, held true
	// peak 140 V: 120 V rms, torque 0.92, held true
	// peak 110 V: 110 V rms, torque 0.68, held false
}

// A 30 µF capacitor across a stepped wave behind half an ohm.
func ExampleLineCapacitor_On() {
	w := inverter.SteppedWave{Peak: 169.7, Zero: 45 * inverter.Degree}
	s, err := w.Spectrum(9999)
	if err != nil {
		fmt.Println(err)
		return
	}
	c := inverter.LineCapacitor{Capacitance: 30e-6, Frequency: 60, Resistance: 0.5}
	i, err := c.On(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f on a sine, %.0f here\n", i.Sine, i.Current)
	// Output: 1.4 A on a sine, 14 A here
}

// A voltage sampled by an oscilloscope.
func ExampleAnalyze() {
	samples := make([]unit.Voltage, 48) // one cycle
	for k := range samples {
		switch {
		case k >= 4 && k < 20:
			samples[k] = 147
		case k >= 28 && k < 44:
			samples[k] = -147
		}
	}
	f, s, err := inverter.Analyze(samples, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f rms, fundamental %.0f, third %.0f, distortion %.0f %%\n", f.RMS, f.Fundamental, s[3], 100*f.THD)
	// Output: 120 V rms, fundamental 115 V, third 0 V, distortion 31 %
}

// The worked example of NEMA MG 1: 10, 7, 4.5 and 3.6 % at 5, 7, 11 and 13.
func ExampleSpectrum_HVF() {
	s := make(inverter.Spectrum, 14)
	s[1], s[5], s[7], s[11], s[13] = 460, 46, 32.2, 20.7, 16.56
	h, err := s.HVF()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f\n", h)
	// Output: 0.0546
}
