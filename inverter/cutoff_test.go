package inverter

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// patient waits two seconds below 10.5 V but never goes below 9.5 V.
var patient = CutOff{Running: 10.5, Start: 9.5, Allowed: 2}

func TestCutOffLimit(t *testing.T) {
	for _, c := range []struct {
		cut      CutOff
		duration unit.Time
		limit    unit.Voltage
		link     Link
	}{
		{patient, 0, 9.5, StartCutOff},
		{patient, 2, 9.5, StartCutOff},
		{patient, 2.001, 10.5, CutOffDelay},
		{CutOff{Running: 10.5}, 0.5, 10.5, RunningCutOff},
		{CutOff{Running: 10.5, Allowed: 5}, 0.5, 10.5, RunningCutOff},
		{CutOff{Running: 10.5, Start: 10.5}, 0.5, 10.5, RunningCutOff},
		{CutOff{Running: 10.5, Start: 9.5}, 0.5, 10.5, CutOffDelay}, // it does not wait
	} {
		limit, link, err := c.cut.Limit(c.duration)
		require.NoError(t, err)
		assert.InDelta(t, float64(c.limit), float64(limit), 0)
		assert.Equal(t, c.link, link)
	}
}

func TestCutOffCheck(t *testing.T) {
	for _, c := range []struct {
		running, dip unit.Voltage
		duration     unit.Time
		gaveWay      Link
	}{
		{12, 10, 0.5, 0},
		{10.5, 9.5, 0.5, 0}, // on the thresholds
		{10.49, 10, 0.5, RunningCutOff},
		{12, 9.49, 0.5, StartCutOff},
		{12, 10, 3, CutOffDelay},
		{10.4, 9, 0.5, StartCutOff},    // the dip is further below
		{9.9, 9.4, 0.5, RunningCutOff}, // the steady load is
		{12, 0, 0.5, StartCutOff},      // collapsed
	} {
		r, err := patient.Check(c.running, c.dip, c.duration)
		require.NoError(t, err)
		assert.Equal(t, c.gaveWay, r.GaveWay, "%v", c)
		assert.InDelta(t, float64(c.running)-10.5, float64(r.RunningMargin), 1e-12)
		assert.InDelta(t, float64(c.dip-r.StartLimit), float64(r.StartMargin), 1e-12)
	}
}

func TestCutOffBounds(t *testing.T) {
	for _, c := range []struct {
		cut   CutOff
		words string
	}{
		{CutOff{Running: 5}, ""},
		{CutOff{}, "running cut-off 0 V, want 5 V to 1 kV"},
		{CutOff{Running: 1.75}, "running cut-off"},
		{CutOff{Running: 10.5, Start: 10.6}, "start cut-off 10.6 V, want 5 V to 10.5 V"},
		{CutOff{Running: 10.5, Start: 4.9}, "start cut-off"},
		{CutOff{Running: 10.5, Allowed: 60}, ""},
		{CutOff{Running: 10.5, Allowed: 61}, "cut-off delay"}, // milliseconds taken for seconds
	} {
		err := c.cut.Validate()
		if c.words == "" {
			require.NoError(t, err)
			continue
		}
		domainError(t, err, c.words)
		_, _, err = c.cut.Limit(1)
		domainError(t, err, c.words)
		_, err = c.cut.Check(12, 12, 1)
		domainError(t, err, c.words)
	}
	for _, x := range strange {
		v, s := unit.Voltage(x), unit.Time(x)
		for _, cut := range []CutOff{{Running: v}, {Running: 10.5, Start: v}, {Running: 10.5, Allowed: s}} {
			require.ErrorIs(t, cut.Validate(), ErrDomain)
		}
		_, _, err := patient.Limit(s)
		require.ErrorIs(t, err, ErrDomain)
		_, err = patient.Check(v, 12, 1)
		require.ErrorIs(t, err, ErrDomain)
		_, err = patient.Check(12, v, 1)
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err := patient.Check(12, 0, 1)
	require.NoError(t, err)
	_, err = patient.Check(12, 1001, 1)
	domainError(t, err, "start voltage")
}
