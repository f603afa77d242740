package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// straight is the battery of the reference: 11.6 V empty, 12.8 V full, 200 Ah.
var straight = Source{OpenCircuit: 12.8, Battery: 12 * Milliohm}

func TestRunDownTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/run_down.csv") {
		r, err := straight.RunDown(11.6, 200*AmpereHour, unit.Power(row.Float("p_w")), 10.5)
		require.NoError(t, err, row.Source())
		row.Printed("i_start_a", float64(r.Start.Current))
		row.Printed("v_start_v", float64(r.Start.Voltage))
		row.Printed("time_h", float64(r.Time/Hour))
		row.Printed("soc_end", r.Left)
		row.Printed("ah_drawn", float64(r.Drawn/AmpereHour))
		row.Printed("energy_wh", float64(r.Energy/WattHour))
		row.Printed("i_end_a", float64(r.End.Current))
		row.Printed("v_end_v", float64(r.End.Voltage))
		want := map[string]Link{"empty": Empty, "cut-off": RunningCutOff}[row.Text("stopped_by")]
		assert.Equal(t, want, r.StoppedBy, row.Source())
		row.Rejects("naive_h", float64(r.Time/Hour), 0.008)
	}
}

// A simple integration, step by step, agrees with the closed form.
func TestRunDownStepByStep(t *testing.T) {
	for _, c := range []struct {
		p, cutoff float64
		link      Link
	}{{1500, 10.5, RunningCutOff}, {400, 10.5, Empty}, {3050, 5, Collapse}} {
		r, err := straight.RunDown(11.6, 200*AmpereHour, unit.Power(c.p), unit.Voltage(c.cutoff))
		require.NoError(t, err)
		assert.Equal(t, c.link, r.StoppedBy)
		const n = 200000
		dq := (1 - r.Left) / n
		sum := 0.0
		for i := range n {
			s := straight
			s.OpenCircuit = unit.Voltage(12.8 - 1.2*dq*(float64(i)+0.5))
			p, err := s.Operate(unit.Power(c.p))
			require.NoError(t, err)
			sum += 720e3 * dq / float64(p.Current)
		}
		assert.InEpsilon(t, sum, float64(r.Time), 1e-6)
	}
}

func TestRunDownEnds(t *testing.T) {
	// Below the cut-off from the start: no time at all.
	r, err := straight.RunDown(11.6, 200*AmpereHour, 2500, 10.5)
	require.NoError(t, err)
	assert.Zero(t, r.Time)
	assert.InDelta(t, 1, r.Left, 0)
	assert.Equal(t, RunningCutOff, r.StoppedBy)
	// No operating point even when full.
	_, err = straight.RunDown(11.6, 200*AmpereHour, 3414, 10.5)
	require.ErrorIs(t, err, ErrCollapse)
	// Twice the capacity, twice the time.
	one, err := straight.RunDown(11.6, 200*AmpereHour, 1200, 10.5)
	require.NoError(t, err)
	two, err := straight.RunDown(11.6, 400*AmpereHour, 1200, 10.5)
	require.NoError(t, err)
	closeTo(t, 2*float64(one.Time), float64(two.Time), 1e-12)
	// Light load: the charge at the mean voltage.
	light, err := straight.RunDown(11.6, 200*AmpereHour, 1, 10.5)
	require.NoError(t, err)
	closeTo(t, 200*12.2, float64(light.Time/Hour), 1e-4)
}

func TestRunDownBounds(t *testing.T) {
	for _, c := range []struct {
		s      Source
		empty  unit.Voltage
		q      unit.Charge
		p      unit.Power
		cutoff unit.Voltage
		words  string
	}{
		{Source{}, 11.6, 720e3, 300, 10.5, "open-circuit voltage"},
		{straight, 12.8, 720e3, 300, 10.5, "open-circuit voltage of the empty battery"},
		{straight, 4, 720e3, 300, 10.5, "open-circuit voltage of the empty battery"},
		{straight, 11.6, 200, 300, 10.5, "capacity 0.0555556 Ah (200 C), want 0.1 Ah to 100000 Ah"}, // Ah forgotten
		{straight, 11.6, 720e3, 0.5, 10.5, "dc power"},
		{straight, 11.6, 720e3, 300, 0, "cut-off voltage"},
	} {
		_, err := c.s.RunDown(c.empty, c.q, c.p, c.cutoff)
		domainError(t, err, c.words)
	}
	for _, x := range append(strange, math.MaxFloat64) {
		for i := range 4 {
			a := [4]float64{11.6, 720e3, 300, 10.5}
			a[i] = x
			_, err := straight.RunDown(unit.Voltage(a[0]), unit.Charge(a[1]), unit.Power(a[2]), unit.Voltage(a[3]))
			require.ErrorIs(t, err, ErrDomain)
		}
	}
}
