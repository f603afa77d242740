package inverter

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

var system12V = System{Loss: unit3kW, Surge: surge3kVA, Source: flooded12V, CutOff: patient}

func demand(va ApparentPower, w unit.Power) Demand {
	return Demand{Apparent: Exactly(va), Real: Exactly(w)}
}

func TestWeakestLink(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func(*System)
		d       Demand
		lasts   unit.Time
		weakest Link
		verdict Verdict
	}{
		{"all carry", func(*System) {}, demand(2000, 1800), 0.6, StartCutOff, Passes},
		{"inverter too small", func(s *System) { s.Surge = Surge{Continuous: 1000} }, demand(2000, 1800), 0.6, ContinuousRating, Fails},
		{"surge too short", func(s *System) { s.Surge = Surge{1500, []SurgePoint{{1900, 5}}} }, demand(2000, 1000), 0.6, SurgeRating, Fails},
		{"battery too weak", func(s *System) { s.Source.Battery *= 2 }, demand(2000, 1800), 0.6, StartCutOff, Fails},
		{"start outlasts the delay", func(*System) {}, demand(2500, 2200), 3, CutOffDelay, Fails},
		{"no threshold for the start", func(s *System) { s.CutOff = CutOff{Running: 10.5} }, demand(2500, 2200), 0.6, RunningCutOff, Fails},
		{"cut-off too low to matter", func(s *System) { s.CutOff = CutOff{Running: 6} }, demand(4000, 3900), 0.6, Collapse, Fails},
		{"rests below the cut-off", func(s *System) { s.Source.OpenCircuit = 9 }, demand(100, 90), 0.6, StartCutOff, Fails},
	} {
		s := system12V
		c.change(&s)
		r, err := s.CheckStart(c.d, c.lasts)
		require.NoError(t, err, c.name)
		assert.Equal(t, c.weakest, r.Weakest().Link, c.name)
		assert.Equal(t, c.verdict, r.Verdict(), c.name)
		assert.Equal(t, c.verdict, r.Weakest().Verdict, c.name)
	}
}

// Each figure of a check is what the part by itself gives.
func TestCheckAgreesWithParts(t *testing.T) {
	d := Demand{Apparent: Range[ApparentPower]{Low: 1500, High: 2500}, Real: Range[unit.Power]{Low: 1000, High: 2300}}
	r, err := system12V.CheckStart(d, 0.6)
	require.NoError(t, err)
	low, err := unit3kW.DCPowerAt(1000, 1500)
	require.NoError(t, err)
	high, err := unit3kW.DCPowerAt(2300, 2500)
	require.NoError(t, err)
	assert.Equal(t, Range[unit.Power]{Low: low, High: high}, r.DC)
	for _, end := range []struct {
		dc unit.Power
		v  unit.Voltage
		i  unit.Current
	}{{low, r.Voltage.High, r.Current.Low}, {high, r.Voltage.Low, r.Current.High}} {
		p, err := flooded12V.Operate(end.dc)
		require.NoError(t, err)
		assert.InDelta(t, float64(p.Voltage), float64(end.v), 0)
		assert.InDelta(t, float64(p.Current), float64(end.i), 0)
	}
	largest, err := flooded12V.LargestPower(9.5)
	require.NoError(t, err)
	assert.InDelta(t, float64(largest), float64(r.Largest), 0)
	assert.InDelta(t, 9.5, float64(r.Limit), 0)
	assert.InDelta(t, float64(largest/high), r.CutOff.Margin.Low, 1e-12)
	assert.InDelta(t, float64(largest/low), r.CutOff.Margin.High, 1e-12)
	assert.InDelta(t, 3969/float64(high), r.Collapse.Margin.Low, 1e-12)
	assert.InDelta(t, 6000.0/2500, r.Rating.Margin.Low, 1e-12)
	assert.InDelta(t, 6000, float64(r.Allowed), 0)
	// The dip is above the threshold where the margin is above 1, and only there.
	assert.Equal(t, r.CutOff.Margin.Low >= 1, r.Voltage.Low >= r.Limit)
}

func TestCheckRun(t *testing.T) {
	r, err := system12V.CheckRun(demand(1300, 1000))
	require.NoError(t, err)
	assert.Equal(t, Passes, r.Verdict())
	assert.Equal(t, RunningCutOff, r.CutOff.Link)
	assert.Equal(t, ContinuousRating, r.Rating.Link)
	assert.InDelta(t, 10.5, float64(r.Limit), 0)
	// 2100 W run below 10.5 V where a start of the same size passes.
	r, err = system12V.CheckRun(demand(2100, 2100))
	require.NoError(t, err)
	assert.Equal(t, Fails, r.Verdict())
	assert.Equal(t, RunningCutOff, r.Weakest().Link)
	r, err = system12V.CheckStart(demand(2100, 2100), 0.6)
	require.NoError(t, err)
	assert.Equal(t, Passes, r.Verdict())
}

func TestCheckCollapsed(t *testing.T) {
	d := Demand{Apparent: Range[ApparentPower]{Low: 2000, High: 5000}, Real: Range[unit.Power]{Low: 1500, High: 4500}}
	r, err := system12V.CheckStart(d, 0.6)
	require.NoError(t, err)
	assert.Zero(t, r.Voltage.Low)
	assert.Zero(t, r.Current.High)
	assert.Greater(t, float64(r.Voltage.High), 9.5)
	assert.Equal(t, Depends, r.Verdict())
	assert.Equal(t, Depends, r.Collapse.Verdict)
}

func TestSystemBounds(t *testing.T) {
	require.NoError(t, system12V.Validate())
	err := System{}.Validate()
	for _, words := range []string{"rated power", "continuous rating", "open-circuit voltage", "running cut-off"} {
		domainError(t, err, words)
	}
	good := demand(2000, 1800)
	for _, c := range []struct {
		d     Demand
		words string
	}{
		{Demand{}, "apparent power 0 VA, want 1 VA to 1 MVA"},
		{Demand{Apparent: good.Apparent}, "real power 0 W, want 1 W to 1 MW"},
		{demand(1000, 1001), "apparent power 1 kVA, want 1.001 kVA"},
		{Demand{good.Apparent, Range[unit.Power]{Low: 1800, High: 1700}}, "real power 1800 to 1700 W"},
		{Demand{Range[ApparentPower]{Low: 2000, High: 1900}, good.Real}, "apparent power 2000 to 1900 VA"},
		{Demand{Range[ApparentPower]{Low: 1000, High: 2000}, Exactly[unit.Power](1500)}, "apparent power 1 kVA, want 1.5 kVA"},
	} {
		_, err := system12V.CheckStart(c.d, 0.6)
		domainError(t, err, c.words)
		_, err = system12V.CheckRun(c.d)
		domainError(t, err, c.words)
	}
	for _, x := range strange {
		for _, d := range []Demand{
			{Range[ApparentPower]{Low: ApparentPower(x), High: 2000}, good.Real},
			{Range[ApparentPower]{Low: 2000, High: ApparentPower(x)}, good.Real},
			{good.Apparent, Range[unit.Power]{Low: unit.Power(x), High: 1800}},
			{good.Apparent, Range[unit.Power]{Low: 1800, High: unit.Power(x)}},
		} {
			_, err := system12V.CheckStart(d, 0.6)
			require.ErrorIs(t, err, ErrDomain)
		}
		_, err := system12V.CheckStart(good, unit.Time(x))
		require.ErrorIs(t, err, ErrDomain)
	}
	for _, s := range []System{
		{Surge: surge3kVA, Source: flooded12V, CutOff: patient},
		{Loss: unit3kW, Source: flooded12V, CutOff: patient},
		{Loss: unit3kW, Surge: surge3kVA, CutOff: patient},
		{Loss: unit3kW, Surge: surge3kVA, Source: flooded12V},
	} {
		_, err := s.CheckStart(good, 0.6)
		require.ErrorIs(t, err, ErrDomain)
		_, err = s.CheckRun(good)
		require.ErrorIs(t, err, ErrDomain)
	}
}
