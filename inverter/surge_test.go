package inverter

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// surge3kVA carries twice its rating for 5 s and a quarter more for 10 min.
var surge3kVA = Surge{Continuous: 3000, Points: []SurgePoint{{6000, 5}, {3750, 600}}}

func TestSurgeAllowed(t *testing.T) {
	for _, c := range []struct {
		s       Surge
		t       unit.Time
		allowed ApparentPower
		link    Link
	}{
		{surge3kVA, 0, 6000, SurgeRating},
		{surge3kVA, 5, 6000, SurgeRating},
		{surge3kVA, 5.001, 3750, SurgeRating}, // the step, not a line
		{surge3kVA, 600, 3750, SurgeRating},
		{surge3kVA, 601, 3000, ContinuousRating},
		{surge3kVA, 1 * Day, 3000, ContinuousRating},
		{Surge{Continuous: 300}, 0.1, 300, ContinuousRating},
		{Surge{300, []SurgePoint{{600, 600}}}, 0.5, 600, SurgeRating}, // a 300 W unit that carries 600 W for 10 min
	} {
		allowed, link, err := c.s.Allowed(c.t)
		require.NoError(t, err)
		assert.InDelta(t, float64(c.allowed), float64(allowed), 0)
		assert.Equal(t, c.link, link)
	}
}

func TestSurgeCheck(t *testing.T) {
	for _, c := range []struct {
		low, high ApparentPower
		verdict   Verdict
	}{
		{3000, 6000, Passes},
		{3000, 6001, Depends},
		{6000, 9000, Depends},
		{6001, 9000, Fails},
	} {
		r, err := surge3kVA.Check(Range[ApparentPower]{Low: c.low, High: c.high}, 0.6)
		require.NoError(t, err)
		assert.Equal(t, c.verdict, r.Verdict)
		assert.InDelta(t, float64(6000/c.high), r.Margin.Low, 1e-12)
		assert.InDelta(t, float64(6000/c.low), r.Margin.High, 1e-12)
		assert.InDelta(t, 6000, float64(r.Allowed), 0)
	}
}

// "Surge three times the running watts" fails for a quarter-hp motor that
// takes 246 W running and 1924 VA with its rotor held.
func TestThreeTimesRunningFails(t *testing.T) {
	s := Surge{Continuous: 246, Points: []SurgePoint{{3 * 246, 5}}}
	r, err := s.Check(Exactly[ApparentPower](1924), 0.46)
	require.NoError(t, err)
	assert.Equal(t, Fails, r.Verdict)
	assert.InDelta(t, 3*246.0/1924, r.Margin.Low, 1e-12)
}

// A 1 hp submersible of about 11 kVA held does not start on 2.5 kVA with twice
// that as surge.
func TestOneHorsepowerOnSmallUnit(t *testing.T) {
	s := Surge{Continuous: 2500, Points: []SurgePoint{{5000, 3}}}
	r, err := s.Check(Exactly[ApparentPower](11000), 0.6)
	require.NoError(t, err)
	assert.Equal(t, Fails, r.Verdict)
	assert.Equal(t, SurgeRating, r.Link)
}

func TestSurgeBounds(t *testing.T) {
	for _, c := range []struct {
		s     Surge
		words string
	}{
		{Surge{Continuous: 10}, ""},
		{Surge{}, "continuous rating 0 VA, want 10 VA to 1 MVA"},
		{Surge{Continuous: 1.5}, "continuous rating"}, // kVA forgotten
		{Surge{Continuous: 1.1e6}, "continuous rating"},
		{Surge{3000, []SurgePoint{{6000, 0}}}, "surge time 0 s, want 1 ms to 3.6 ks"}, // no time
		{Surge{3000, []SurgePoint{{6000, 3601}}}, "surge time"},
		{Surge{3000, []SurgePoint{{2999, 5}}}, "surge rating 2.999 kVA, want 3 kVA to 1 MVA"},
		{Surge{3000, []SurgePoint{{6000, 5}, {6001, 10}}}, "at most the 6000 VA of the shorter time"},
		{Surge{3000, []SurgePoint{{6000, 5}, {5000, 5}}}, "more than the 5 s before it"},
		{Surge{3000, []SurgePoint{{6000, 5}, {5000, 4}}}, "more than the 5 s before it"},
		{Surge{3000, []SurgePoint{{6000, 5}, {6000, 10}}}, ""},
	} {
		err := c.s.Validate()
		if c.words == "" {
			require.NoError(t, err)
			continue
		}
		domainError(t, err, c.words)
		_, _, err = c.s.Allowed(1)
		domainError(t, err, c.words)
		_, err = c.s.Check(Exactly[ApparentPower](100), 1)
		domainError(t, err, c.words)
	}
	for _, x := range strange {
		for _, s := range []Surge{
			{Continuous: ApparentPower(x)},
			{3000, []SurgePoint{{ApparentPower(x), 5}}},
			{3000, []SurgePoint{{6000, unit.Time(x)}}},
		} {
			require.ErrorIs(t, s.Validate(), ErrDomain)
		}
		_, _, err := surge3kVA.Allowed(unit.Time(x))
		require.ErrorIs(t, err, ErrDomain)
		_, err = surge3kVA.Check(Range[ApparentPower]{Low: ApparentPower(x), High: 100}, 1)
		require.ErrorIs(t, err, ErrDomain)
		_, err = surge3kVA.Check(Range[ApparentPower]{Low: 100, High: ApparentPower(x)}, 1)
		require.ErrorIs(t, err, ErrDomain)
		for i := range 3 {
			a := [3]float64{1000, 500, 800}
			a[i] = x
			_, err = LimitStart(ApparentPower(a[0]), unit.Power(a[1]), ApparentPower(a[2]))
			require.ErrorIs(t, err, ErrDomain)
		}
	}
	_, err := surge3kVA.Check(Range[ApparentPower]{Low: 200, High: 100}, 1)
	domainError(t, err, "apparent power 200 to 100 VA")
	_, err = LimitStart(2000, 1800, 2)
	require.NoError(t, err)
	_, err = LimitStart(2000, 1800, 1.9)
	domainError(t, err, "apparent power allowed 1.9 VA, want 2 VA to 1 MVA")
	_, err = LimitStart(500, 501, 400)
	domainError(t, err, "apparent power")
}

// The peak clamp of the reference runs flattens the wave, so that power falls
// as the square of the rms current to 2 % only.
func TestLimitStartTable(t *testing.T) {
	rows := reftest.Rows(t, "inverter/limited_start.csv")
	free := rows[0] // no limit
	full := ApparentPower(110 * free.Float("i_rms_a"))
	p := unit.Power(free.Float("p_w"))
	for _, row := range rows[1:] {
		l, err := LimitStart(full, p, ApparentPower(110*row.Float("i_rms_a")))
		require.NoError(t, err, row.Source())
		row.Within("p_w", float64(l.Real), 0.02, "peaks are clamped in the reference, a sine is assumed here")
		row.Within("t_75_s", l.RunUp*free.Float("t_75_s"), 0.04, "run-up goes with the square of the current as a mean over the slip only")
		assert.InDelta(t, row.Float("i_rms_a")/free.Float("i_rms_a"), l.Voltage, 1e-12)
		assert.InDelta(t, l.Voltage*l.Voltage, l.Torque, 1e-12)
		assert.InDelta(t, float64(l.Real/p), float64(l.Apparent/full), 1e-12)
	}
	whole, err := LimitStart(1000, 900, 2000)
	require.NoError(t, err)
	assert.Equal(t, LimitedStart{Voltage: 1, Torque: 1, Apparent: 1000, Real: 900, RunUp: 1}, whole)
}
