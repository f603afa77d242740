package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

var returning = VoltageSwitch{
	CutOff: CutOff{Running: 10.5, Start: 9.5, Allowed: 5}, Reconnect: 12.2, Wait: 60,
}

func TestVoltageSwitch(t *testing.T) {
	s := SwitchState{}
	for i, step := range []struct {
		v      unit.Voltage
		dt     unit.Time
		off    bool
		so     unit.Time
		within unit.Time
	}{
		{12.5, 3600, false, 0, 3600},
		{10.4, 3, false, 3, 3},
		{10.6, 1, false, 0, 1}, // back in time: the clock starts anew
		{10.4, 5, false, 5, 5}, // for as long as it waits
		{10.4, 0, false, 5, 0},
		{10.4, 1, true, 0, 0},
		{12.1, 9999, true, 0, 9999},
		{12.2, 40, true, 40, 40},
		{12.1, 1, true, 0, 1},
		{12.3, 59, true, 59, 59},
		{12.3, 10, false, 0, 1},
		{10.5, 10, false, 0, 10}, // at the threshold it stays on
		{10.0, 9, true, 0, 5},
		{13.0, 60, false, 0, 60},
		{9.4, 1, true, 0, 0},
		{9.4, 1, true, 0, 1},
	} {
		var within unit.Time
		var err error
		before := s.Off
		s, within, err = returning.Next(s, step.v, step.dt)
		require.NoError(t, err)
		assert.Equal(t, SwitchState{step.off, step.so}, s, i)
		assert.InDelta(t, float64(step.within), float64(within), 0, i)
		if before == s.Off {
			assert.InDelta(t, float64(step.dt), float64(within), 0, i)
		}
	}
	_, _, err := returning.Next(SwitchState{}, 12, -1)
	domainError(t, err, "time")
	_, _, err = returning.Next(SwitchState{For: -1}, 12, 1)
	domainError(t, err, "time so far")
	_, _, err = returning.Next(SwitchState{}, unit.Voltage(math.NaN()), 1)
	domainError(t, err, "dc voltage")
	for words, c := range map[string]VoltageSwitch{
		"running cut-off":   {},
		"reconnect voltage": {CutOff: CutOff{Running: 10.5}, Reconnect: 10.4},
		"reconnect delay":   {CutOff: CutOff{Running: 10.5}, Reconnect: 12, Wait: 3601},
	} {
		domainError(t, c.Validate(), words)
		_, err := c.Hunts(flooded12V, 100)
		domainError(t, err, words)
	}
}

func TestHunts(t *testing.T) {
	for dc, want := range map[unit.Power]bool{0: false, 2204: false, 2206: true, 5000: true} {
		got, err := returning.Hunts(flooded12V, dc)
		require.NoError(t, err)
		assert.Equal(t, want, got, dc)
	}
	s := flooded12V
	s.OpenCircuit = 12.1
	got, err := returning.Hunts(s, 2206)
	require.NoError(t, err)
	assert.False(t, got, "it never comes back")
	_, err = returning.Hunts(s, -1)
	domainError(t, err, "dc power")
}

// Thresholds that were seen make switches, whichever trip is joined with
// whichever reconnect voltage of 12 V units; lead-acid cells are empty between
// them. A span, and no value.
func TestThresholdsSeen(t *testing.T) {
	trips, back := []unit.Voltage{}, []unit.Voltage{}
	for _, row := range reftest.Rows(t, "inverter/voltage_thresholds.csv") {
		low, high := unit.Voltage(row.Float("low_v")), unit.Voltage(row.Float("high_v"))
		require.LessOrEqual(t, low, high, row.Source())
		switch row.Text("quantity") {
		case "shutdown":
			trips = append(trips, low, high)
		case "reconnect":
			back = append(back, low, high)
		case "empty":
			for _, v := range trips {
				require.InDelta(t, float64(low), float64(v), 1.3)
			}
		case "alarm":
			require.NoError(t, CutOff{Running: low}.Validate())
		}
	}
	require.NotEmpty(t, trips)
	require.NotEmpty(t, back)
	for _, v := range trips {
		for _, r := range back {
			require.NoError(t, VoltageSwitch{CutOff: CutOff{Running: v}, Reconnect: r}.Validate())
		}
	}
}

// FuzzVoltageSwitch: a step taken in two parts ends where the whole does.
func FuzzVoltageSwitch(f *testing.F) {
	seeds(f, 200, 4)
	f.Fuzz(func(t *testing.T, raw bool, v, dt, part, so float64) {
		v, dt = fold(raw, v, 9, 13), fold(raw, dt, 0, 100)
		part, so = fold(raw, part, 0, 1), fold(raw, so, 0, 10)
		for _, s := range []SwitchState{{}, {For: unit.Time(so)}, {Off: true}, {true, unit.Time(so)}} {
			whole, within, err := returning.Next(s, unit.Voltage(v), unit.Time(dt))
			if err != nil {
				require.ErrorIs(t, err, ErrDomain)
				return
			}
			require.True(t, within >= 0 && within <= unit.Time(dt))
			if !(part >= 0 && part <= 1) || math.Abs(float64(within)-part*dt) < 1e-9 {
				return
			}
			first, _, err := returning.Next(s, unit.Voltage(v), unit.Time(part*dt))
			require.NoError(t, err)
			both, _, err := returning.Next(first, unit.Voltage(v), unit.Time(dt-part*dt))
			require.NoError(t, err)
			require.Equal(t, whole.Off, both.Off)
			require.InDelta(t, float64(whole.For), float64(both.For), 1e-9)
		}
	})
}
