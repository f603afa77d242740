package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// changedPlan plans the sample site with lines replaced.
func changedPlan(t *testing.T, pairs ...string) *Plan {
	t.Helper()
	text := sampleText(t)
	for i := 0; i < len(pairs); i += 2 {
		require.True(t, strings.Contains(text, pairs[i]), pairs[i]) //nolint:testifylint // the text is long
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	s, err := Read(strings.NewReader(text))
	require.NoError(t, err)
	p, err := Make(s)
	require.NoError(t, err)
	return p
}

func TestRunUpOfTheSample(t *testing.T) {
	p := changedPlan(t)
	for _, key := range p.Keys {
		c := checkOf(t, p, key+".start_runup")
		assert.Equal(t, Holds, c.State, key)
		assert.Less(t, c.High, 100.0, "an induction motor stays below synchronous speed")
		assert.Contains(t, c.Message, "It starts")
		f := figure(t, p, key+".runup_s")
		assert.Positive(t, f.Low)
		assert.LessOrEqual(t, f.Low, f.High)
		v := figure(t, p, key+".runup_motor_v")
		assert.LessOrEqual(t, v.High, 120.0)
	}
	// Practice has small pumps up within a second.
	assert.LessOrEqual(t, figure(t, p, "well_pump.runup_s").High, 1.0)
}

// A weaker supply never helps: less surge, more wire, a heavier load.
func TestRunUpOnAWeakSupply(t *testing.T) {
	const surge = `surge = ["9000 VA for 0.5 s", "6000 VA for 5 s", "4000 VA for 60 s"]`
	good := changedPlan(t)
	before := figure(t, good, "well_pump.runup_s")

	weak := changedPlan(t, `power = "3000 W (nameplate)"  # c`, `power = "1600 W (nameplate)"  # c`,
		surge, `surge = ["1700 VA for 0.5 s", "1650 VA for 5 s"]`)
	c := checkOf(t, weak, "well_pump.start_runup")
	assert.NotEqual(t, Holds, c.State, "held to what the other loads leave of 1650 VA")
	assert.Less(t, c.Low, 90.0)
	assert.Contains(t, c.Message, "switch it off")
	assert.False(t, weak.Passes())

	long := changedPlan(t, `length = "18 m"`, `length = "200 m"`)
	after := figure(t, long, "well_pump.runup_s")
	assert.Greater(t, after.High, before.High)
	assert.Less(t, figure(t, long, "well_pump.runup_motor_v").Low, figure(t, good, "well_pump.runup_motor_v").Low)
}

// What is not known is said: a motor of no published kind, and one of three
// phases.
func TestRunUpNotComputed(t *testing.T) {
	p := changedPlan(t, `motor = "capacitor-start"`, `motor = "shaded-pole"`)
	_, ok := p.Figure("well_pump.runup_s")
	assert.False(t, ok)
	said := false
	for _, s := range p.Sections {
		for _, n := range s.Notes {
			said = said || strings.Contains(n, "well pump: whether it comes up to speed is not computed")
		}
	}
	assert.True(t, said)
}

// A start far from that of any motor of the size plans all the same.
func TestRunUpFarFromPublishedMotors(t *testing.T) {
	p := changedPlan(t, `locked_rotor_current = "14 A (nameplate)"`, `locked_rotor_current = "400 A"`)
	_, ok := p.Figure("furnace_blower.runup_s")
	assert.False(t, ok)
	assert.Contains(t, strings.Join(notes(p), "\n"), "furnace blower: whether it comes up to speed is not computed: 400 A with the rotor held")
	assert.False(t, p.Passes())
}

// A motor that is not said to be of a kind is tried as each that is usual.
func TestRunUpOfAnUnknownKind(t *testing.T) {
	p := changedPlan(t, `motor = "capacitor-start"`, `#`)
	known := changedPlan(t)
	a, b := figure(t, p, "well_pump.runup_s"), figure(t, known, "well_pump.runup_s")
	assert.LessOrEqual(t, a.Low, a.High)
	assert.GreaterOrEqual(t, a.High, b.High/3)
	assert.Contains(t, a.Source, "; ")
}

// Instant by instant the sample's starts last as long as by rms values, within a
// fifth: the dynamic one builds up the flux and swings.
func TestRunUpDynamic(t *testing.T) {
	p, err := Options{Dynamic: true}.Make(mustRead(t, sampleText(t)))
	require.NoError(t, err)
	plain := changedPlan(t)
	for _, key := range p.Keys {
		d, q := figure(t, p, key+".runup_dynamic_s"), figure(t, p, key+".runup_s")
		assert.InEpsilon(t, q.High, d.High, 0.2, key)
		peak := figure(t, p, key+".runup_peak_a")
		assert.Greater(t, peak.High, peak.Shortcut.Value*0.9, key)
		assert.Less(t, peak.High, peak.Shortcut.Value*2, "an offset at most doubles a peak")
		assert.Equal(t, figure(t, plain, key+".runup_s"), q, "it stands beside the rest and changes nothing")
	}
	// Behind a limit the peak is held.
	held, err := Options{Dynamic: true}.Make(siteFile(t, "c10_one_hp"))
	require.NoError(t, err)
	assert.Less(t, figure(t, held, "submersible.runup_peak_a").High, 5000.0/230*1.4142*1.1)
}

// An inverter that rides through a dip starts what one without that cannot.
func TestRunUpRidesThrough(t *testing.T) {
	const cut = `cut_off = "20 V (nameplate)"`
	weak := changedPlan(t, cut, `cut_off = "22.5 V"`)
	rides := changedPlan(t, cut, "cut_off = \"22.5 V\"\nstart_cut_off = \"19 V\"\nstart_delay = \"5 s\"")
	a, b := checkOf(t, weak, "well_pump.start_runup"), checkOf(t, rides, "well_pump.start_runup")
	assert.Equal(t, Depends, a.State)
	assert.Contains(t, a.Message, "the low-voltage cut-off trips from the first instant")
	assert.Equal(t, Holds, b.State, b.Message)
}

// Volts and amperes of the way up can be redone from the numbers beside them, at
// both ends: the bad one at the depth limit, the good one as the outage begins.
func TestRunUpRedone(t *testing.T) {
	p := planned(t, "c04_two_wire")
	v, a := figure(t, p, "well_pump.runup_dc_v"), figure(t, p, "well_pump.runup_dc_a")
	for _, at := range []struct{ amps, volts float64 }{{a.High, v.Low}, {a.Low, v.High}} {
		assert.Contains(t, a.Numbers, num(round3(at.volts)))
	}
	assert.Contains(t, v.Numbers, num(round3(a.High*v.Low)))
	assert.Contains(t, a.Numbers, "mΩ full")
}
