package main

import (
	"bytes"
	"encoding/json"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/examples/internal/console"
)

var half = []string{"-type", "capacitor-start", "-output-hp", "0.5", "-volts", "115"}

func with(more ...string) []string { return append(slices.Clone(half), more...) }

// Letter L is 9 to 10 kVA/hp: 39.1 to 43.5 A of half a horsepower at 115 V.
func TestCodeLetter(t *testing.T) {
	code, a := answer(t, with("-code", "l", "-full-load-a", "9.8")...)
	assert.Equal(t, console.Done, code)
	require.Len(t, a.Cases, 3)
	for i, kva := range []float64{9, 9.5, 10} {
		assert.InEpsilon(t, 1000*kva*0.5/115, a.Cases[i].LockedRotorA, 1e-4)
	}
	assert.Equal(t, "typical", a.Shown)
	assert.InEpsilon(t, 9500*0.5, a.Shortcuts.LockedRotorVA, 1e-4)
	assert.InEpsilon(t, 3*115*9.8, a.Shortcuts.TripledVA, 1e-4)
	assert.Contains(t, a.Motor.Basis, "code letter L")
	for _, name := range []string{"low", "typical", "high"} {
		_, one := answer(t, with("-code", "L", "-full-load-a", "9.8", "-spread", name)...)
		require.Len(t, one.Cases, 1)
		assert.Equal(t, name, one.Cases[0].Name)
		assert.Equal(t, name, one.Shown)
	}
}

// Amperes of the plate go before its letter, and must agree with it.
func TestLockedRotorAmperes(t *testing.T) {
	_, a := answer(t, with("-locked-rotor-a", "42", "-code", "L")...)
	require.Len(t, a.Cases, 1)
	assert.InEpsilon(t, 42, a.Cases[0].LockedRotorA, 1e-4)
	code, out, errs := call(with("-locked-rotor-a", "48", "-code", "L")...)
	assert.Equal(t, console.Input, code)
	assert.Empty(t, out)
	assert.Contains(t, errs, "letter M, but the plate says L")
}

func TestFit(t *testing.T) {
	_, a := answer(t, with("-code", "L", "-full-load-a", "9.8", "-full-load-rpm", "1725")...)
	assert.Contains(t, a.Motor.Basis, "fitted")
	for _, c := range a.Cases {
		assert.InEpsilon(t, 9.8, c.FullLoadA, 0.02)
	}
	// A load of the rated output turns at the speed of the plate.
	assert.InDelta(t, 1725, a.Cases[1].EndRPM, 5)
	// Figures of no motor leave a typical one.
	_, a = answer(t, with("-locked-rotor-a", "40", "-full-load-a", "9.8", "-efficiency", "0.7", "-full-load-rpm", "1200", "-poles", "4")...)
	assert.NotContains(t, a.Motor.Basis, "fitted")
	assert.Contains(t, a.Assumed[len(a.Assumed)-2], "left aside")
}

// Where the plate has neither, such motors' spread decides, and says so.
func TestTypicalDecides(t *testing.T) {
	code, a := answer(t, "-type", "permanent-split", "-output-hp", "0.33", "-volts", "230", "-drives", "fan", "-inertia-kgm2", "0.05")
	assert.Equal(t, console.Fails, code)
	assert.Equal(t, depends, a.Verdict)
	assert.Equal(t, fails, a.Cases[0].Verdict)
	assert.NotEqual(t, fails, a.Cases[2].Verdict)
	assert.Contains(t, a.Why[len(a.Why)-1], "narrows it")
	for _, args := range [][]string{
		{"-type", "split-phase", "-output-hp", "0.5", "-volts", "230", "-drives", "submersible"},
		{"-type", "capacitor-start", "-output-hp", "1", "-volts", "230", "-drives", "submersible"},
		{"-type", "three-phase", "-output-hp", "5", "-volts", "230", "-source-r-ohm", "0.1"},
		{"-type", "capacitor-start-run", "-output-hp", "2", "-volts", "230", "-source", "generator", "-rating-va", "15000"},
	} {
		code, a := answer(t, args...)
		assert.Equal(t, console.Done, code, "%v: %v", args, a.Why)
		assert.Len(t, a.Cases, 3)
		assert.Less(t, a.Cases[0].LockedRotorA, a.Cases[2].LockedRotorA)
		assert.Contains(t, a.Motor.Basis, "typical")
		for _, c := range a.Cases {
			assert.LessOrEqual(t, c.LeastS, c.FullSpeedS)
			assert.GreaterOrEqual(t, c.MostS, c.FullSpeedS)
		}
	}
}

// An engine that cannot give the watts counts on its flywheel: no plain yes.
func TestSmallEngine(t *testing.T) {
	code, a := answer(t, with("-code", "L", "-source", "generator", "-rating-va", "2500")...)
	assert.Equal(t, console.Fails, code)
	assert.Equal(t, marginal, a.Verdict)
	assert.Contains(t, a.Why[0], "flywheel")
}

// Rotors of a published range are known, others by rule of thumb.
func TestInertia(t *testing.T) {
	for args, want := range map[string]string{"2": "typical", "4": "rule of thumb"} {
		_, a := answer(t, "-type", "three-phase", "-output-hp", "2", "-volts", "230", "-poles", args)
		assert.Equal(t, want, a.Motor.InertiaBasis)
		assert.Less(t, a.Motor.InertiaLow, a.Motor.InertiaHigh)
	}
	_, a := answer(t, with("-inertia-lbft2", "0.1")...)
	assert.InEpsilon(t, 0.00421401, a.Motor.InertiaHigh, 1e-4)
	assert.InDelta(t, a.Motor.InertiaLow, a.Motor.InertiaHigh, 0)
}

func TestUnknownMotors(t *testing.T) {
	for says, args := range map[string][]string{
		"give ohms":               {"-type", "split-phase", "-output-hp", "5", "-volts", "230"},
		"inertia_kgm2 is missing": {"-type", "permanent-split", "-output-hp", "0.5", "-volts", "230", "-drives", "fan"},
		"start_uf is for a circ":  with("-start-uf", "300"),
		"nameplate":               with("-full-load-a", "2"),
	} {
		code, out, errs := call(args...)
		assert.Equal(t, console.Input, code, args)
		assert.Empty(t, out)
		assert.Contains(t, errs, says)
	}
}

// Whatever the plate and the source, there is an answer or a fault that names
// what it is about, and nothing that is no number.
func FuzzPlate(f *testing.F) {
	f.Add(0.5, 115.0, 9.5, 0.5, 20.0, uint8(0))
	f.Add(5.0, 230.0, 6.0, 0.1, 60.0, uint8(0x55))
	f.Add(1.0, 230.0, 11.0, 5.0, 5.0, uint8(0xff))
	f.Fuzz(func(t *testing.T, hp, volts, kva, ohms, amperes float64, bits uint8) {
		args := []string{
			"-format", "json", "-type", motorTypes[int(bits)%len(motorTypes)], "-output-hp", plain(hp), "-volts", plain(volts),
			"-drives", []string{"pump", "submersible", "piston", "none"}[bits>>2&3],
		}
		if bits&1 != 0 {
			args = append(args, "-locked-rotor-a", plain(1000*kva*hp/volts))
		}
		switch bits >> 4 & 3 {
		case 0:
			args = append(args, "-source-r-ohm", plain(ohms))
		case 1:
			args = append(args, "-source", "limited", "-limit-a", plain(amperes))
		default:
			args = append(args, "-source", "generator", "-rating-va", plain(amperes*volts))
		}
		var out, errs bytes.Buffer
		switch code := run(args, &out, &errs); code {
		case console.Input:
			if errs.Len() == 0 || out.Len() > 0 {
				t.Fatal(args, out.String(), errs.String())
			}
		case console.Done, console.Fails:
			var a Answer
			if err := json.Unmarshal(out.Bytes(), &a); err != nil || len(a.Cautions) == 0 || errs.Len() > 0 {
				t.Fatal(args, err, errs.String())
			}
			if (a.Verdict == starts) != (code == console.Done) || a.Verdict != starts && len(a.Why) == 0 {
				t.Fatal(args, a.Verdict, a.Why)
			}
		default:
			t.Fatal(args, code)
		}
	})
}
