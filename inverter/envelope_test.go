package inverter

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// envelopes are the sets of demand_envelope.csv.
var envelopes = map[string]Envelope{
	"A": {
		System: System{
			Loss:   unit3kW,
			Surge:  Surge{Continuous: 1500, Points: []SurgePoint{{3000, 0.5}, {2200, 2}}},
			Source: Source{OpenCircuit: 12.6, Battery: 9.5e-3},
			CutOff: CutOff{Running: 10.5, Start: 9.8, Allowed: 0.4},
		},
		DCPower: 2600,
		Battery: BatteryLimit{Continuous: 150, Points: []CurrentPoint{{260, 0.3}, {220, 1}}},
	},
	"B": {
		System: System{
			Loss:   unit3kW,
			Surge:  Surge{Continuous: 1200, Points: []SurgePoint{{2600, 1}}},
			Source: Source{OpenCircuit: 25.2, Battery: 12e-3},
			CutOff: CutOff{Running: 21, Start: 20, Allowed: 1},
		},
		DCPower: 2000,
		Battery: BatteryLimit{Continuous: 70, Points: []CurrentPoint{{90, 0.5}}},
	},
	"C": {
		System: System{
			Loss:   unit3kW,
			Surge:  Surge{Continuous: 3000},
			Source: Source{OpenCircuit: 12.4, Battery: 12e-3},
			CutOff: CutOff{Running: 10.8, Start: 9.5},
		},
	},
}

// number reads a number out of a cell of words.
func number(t *testing.T, word string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(word, 64)
	require.NoError(t, err)
	return x
}

// demandOf reads "0 s 2900 VA 2650 W; ...".
func demandOf(t *testing.T, text string) []DemandSample {
	t.Helper()
	var all []DemandSample
	for part := range strings.SplitSeq(text, "; ") {
		f := strings.Fields(part)
		require.Len(t, f, 6)
		all = append(all, DemandSample{
			unit.Time(number(t, f[0])), ApparentPower(number(t, f[2])), unit.Power(number(t, f[4])),
		})
	}
	return all
}

func TestEnvelopeTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/demand_envelope.csv") {
		e, demand := envelopes[row.Text("set")], demandOf(t, row.Text("demand"))
		c, err := e.Follow(demand)
		require.NoError(t, err, row.Source())
		earliest := math.Inf(1)
		for column, b := range map[string]Breach{
			"rating_s": c.Rating, "dc_power_s": c.DCPower, "cut_off_s": c.CutOff, "battery_s": c.Battery,
		} {
			require.Equal(t, row.Has(column), b.Link != 0, "%s %s", row.Source(), column)
			if b.Link == 0 {
				continue
			}
			row.Digits(column, float64(b.Demand.After), 2, "the march has steps of 2 µs")
			earliest = min(earliest, float64(b.Demand.After))
		}
		if first := c.First(); first.Link != 0 {
			assert.InDelta(t, earliest, float64(first.Demand.After), 0)
		}
		rating, err := e.System.Surge.Follow(demand)
		require.NoError(t, err)
		assert.Equal(t, c.Rating, rating)

		// The battery's limit on the current itself, finely sampled.
		if e.unmanaged() {
			continue
		}
		var course []CurrentSample
		for i := 1; i < len(demand); i++ {
			a, b := demand[i-1], demand[i]
			pa, pb := e.System.Loss.dcAt(float64(a.Real), float64(a.Apparent)), e.System.Loss.dcAt(float64(b.Real), float64(b.Apparent))
			for k := range 2001 {
				x := float64(k) / 2000
				p := e.System.Source.atMost(unit.Power(min(pa+x*(pb-pa), float64(e.System.Source.collapse()))))
				course = append(course, CurrentSample{a.After + unit.Time(x)*(b.After-a.After), p.Current})
			}
		}
		at, over, err := e.Battery.Follow(course)
		require.NoError(t, err)
		require.Equal(t, row.Has("battery_s"), over)
		if over {
			assert.InDelta(t, float64(c.Battery.Demand.After), float64(at), 1e-5)
		}
	}
}

// A demand that stands still passes for as long as the rating says, and no
// longer.
func TestFollowStandsStill(t *testing.T) {
	s := Surge{Continuous: 1500, Points: []SurgePoint{{3000, 0.5}, {2200, 2}}}
	for _, tt := range []struct {
		va   ApparentPower
		at   unit.Time
		link Link
	}{
		{3001, 0, SurgeRating},
		{3000, 0.5, SurgeRating},
		{2201, 0.5, SurgeRating},
		{2200, 2, ContinuousRating},
		{1501, 2, ContinuousRating},
		{1500, 0, 0},
	} {
		b, err := s.Follow([]DemandSample{{0, tt.va, 1000}, {10, tt.va, 1000}})
		require.NoError(t, err)
		assert.Equal(t, tt.link, b.Link, tt.va)
		assert.InDelta(t, float64(tt.at), float64(b.Demand.After), 1e-12, tt.va)
		if b.Link != 0 && tt.at > 0 {
			b, err = s.Follow([]DemandSample{{0, tt.va, 1000}, {tt.at, tt.va, 1000}})
			require.NoError(t, err)
			assert.Zero(t, b.Link, "no longer than the rating says")
		}
	}
}

func TestFollowShapes(t *testing.T) {
	s := Surge{Continuous: 1000, Points: []SurgePoint{{2000, 1}}}
	for name, tt := range map[string]struct {
		demand []DemandSample
		at, va float64
		link   Link
	}{
		// Rises through 1000 VA at 1 s, and has been above for 1 s at 2 s.
		"ramp":           {[]DemandSample{{0, 0, 0}, {1.8, 1800, 0}, {4, 1800, 0}}, 2, 1800, ContinuousRating},
		"ramp to peak":   {[]DemandSample{{0, 0, 0}, {4, 8000, 0}}, 1, 2000, SurgeRating},
		"one sample":     {[]DemandSample{{3, 2100, 0}}, 3, 2100, SurgeRating},
		"one, all right": {[]DemandSample{{3, 2000, 0}}, 0, 0, 0},
		"step":           {[]DemandSample{{0, 500, 0}, {1, 500, 0}, {1, 2500, 0}, {2, 2500, 0}}, 1, 2500, SurgeRating},
		// Two humps of 0.7 s each, with a rest: it ends 0.3 s into the second.
		"two humps": {[]DemandSample{
			{0, 1500, 0}, {0.7, 1500, 0}, {0.7, 100, 0}, {9, 100, 0}, {9, 1500, 0}, {9.7, 1500, 0},
		}, 9.3, 1500, ContinuousRating},
		"just at the end": {[]DemandSample{{0, 1500, 0}, {1, 1500, 0}, {1, 900, 0}, {99, 1000, 0}}, 0, 0, 0},
	} {
		b, err := s.Follow(tt.demand)
		require.NoError(t, err, name)
		assert.Equal(t, tt.link, b.Link, name)
		assert.InDelta(t, tt.at, float64(b.Demand.After), 1e-12, name)
		assert.InDelta(t, tt.va, float64(b.Demand.Apparent), 1e-9, name)
	}
}

func TestFollowRefuses(t *testing.T) {
	s := surge3kVA
	_, err := s.Follow(nil)
	domainError(t, err, "demand without samples")
	_, err = Surge{}.Follow([]DemandSample{{}})
	domainError(t, err, "continuous rating")
	for words, d := range map[string]DemandSample{
		"apparent power":                     {1, -1, 0},
		"apparent power NaN":                 {1, ApparentPower(math.NaN()), 0},
		"real power":                         {1, 100, 101},
		"real power NaN":                     {1, 100, unit.Power(math.NaN())},
		"time of a sample NaN":               {unit.Time(math.NaN()), 1, 1},
		"time of a sample +Inf":              {unit.Time(math.Inf(1)), 1, 1},
		"want not before the 0.5 s of the l": {0.4, 1, 1},
	} {
		_, err := s.Follow([]DemandSample{{0.5, 100, 100}, d})
		domainError(t, err, words)
		_, err = envelopes["A"].Follow([]DemandSample{{0.5, 100, 100}, d})
		domainError(t, err, words)
	}
	e := envelopes["A"]
	e.DCPower = 19
	_, err = e.Follow([]DemandSample{{}})
	domainError(t, err, "dc power limit")
	e = envelopes["A"]
	e.Battery.Continuous = 0
	_, err = e.Follow([]DemandSample{{}})
	domainError(t, err, "continuous current")
}

// A battery limit above any current that a power draws is met by collapse, which
// a cut-off below half the open-circuit voltage lets come first.
func TestEnvelopeCollapse(t *testing.T) {
	e := envelopes["A"]
	e.Battery.Continuous, e.Battery.Points = 1000, nil
	e.System.CutOff = CutOff{Running: 5}
	c, err := e.Follow([]DemandSample{{0, 0, 0}, {10, 10e3, 10e3}})
	require.NoError(t, err)
	assert.Equal(t, Collapse, c.CutOff.Link)
	assert.Equal(t, BatteryManagement, c.Battery.Link)
	assert.InDelta(t, float64(c.CutOff.Demand.After), float64(c.Battery.Demand.After), 1e-12)

	// The last bits of a power at collapse still give a point there.
	s := Source{OpenCircuit: 12.6, Battery: 0.011}
	p := s.atMost(s.collapse() * (1 + 1e-12))
	assert.InDelta(t, 6.3, float64(p.Voltage), 0)
	assert.InEpsilon(t, 6.3/0.011, float64(p.Current), 1e-12)
}

func TestBatteryLimit(t *testing.T) {
	b := BatteryLimit{Continuous: 100, Points: []CurrentPoint{{300, 1}, {200, 10}}}
	require.NoError(t, b.Validate())
	for d, want := range map[unit.Time]float64{0: 300, 1: 300, 1.1: 200, 10: 200, 10.1: 100} {
		i, err := b.Allowed(d)
		require.NoError(t, err)
		assert.InDelta(t, want, float64(i), 0)
		at, over, err := b.Follow([]CurrentSample{{0, i}, {d, i}})
		require.NoError(t, err)
		assert.False(t, over, "%v %v", d, at)
	}
	_, err := b.Allowed(-1)
	domainError(t, err, "duration")
	for words, bad := range map[string]BatteryLimit{
		"continuous current": {},
		"peak time 0 s":      {Continuous: 1, Points: []CurrentPoint{{2, 0}}},
		"peak current":       {Continuous: 3, Points: []CurrentPoint{{2, 1}}},
		"want more than":     {Continuous: 1, Points: []CurrentPoint{{3, 1}, {2, 1}}},
		"peak current 4 A":   {Continuous: 1, Points: []CurrentPoint{{3, 1}, {4, 2}}},
	} {
		domainError(t, bad.Validate(), words)
		_, _, err := bad.Follow([]CurrentSample{{0, 1}})
		domainError(t, err, words)
	}
	_, _, err = b.Follow(nil)
	domainError(t, err, "without samples")
	for _, c := range []CurrentSample{{1, -1}, {1, 20001}, {0.4, 1}, {1, unit.Current(math.NaN())}, {unit.Time(math.NaN()), 1}} {
		_, _, err := b.Follow([]CurrentSample{{0.5, 1}, c})
		require.ErrorIs(t, err, ErrDomain)
	}
}

// FuzzFollow: whatever the demand, a greater one is never beyond later, a
// sample put on the line between two changes nothing, and neither does what
// comes after the breach.
func FuzzFollow(f *testing.F) {
	seeds(f, 300, 9)
	f.Add(true, 1e3, 2e3, 0.0, math.NaN(), 1.0, 1.0, 1.0, 1.0, 1.0)
	f.Fuzz(func(t *testing.T, raw bool, a, b, c, d, t1, t2, t3, pf, more float64) {
		a, b, c, d = fold(raw, a, 0, 4000), fold(raw, b, 0, 4000), fold(raw, c, 0, 4000), fold(raw, d, 0, 4000)
		t1, t2, t3 = fold(raw, t1, 0, 1), fold(raw, t2, 0, 3), fold(raw, t3, 0, 3)
		pf, more = fold(raw, pf, 0, 1), fold(raw, more, 1, 2)
		demand := make([]DemandSample, 0, 5)
		at := 0.0
		for i, s := range []float64{a, b, c, d} {
			at += []float64{0, t1, t2, t3}[i]
			demand = append(demand, DemandSample{unit.Time(at), ApparentPower(s), unit.Power(s * pf)})
		}
		e := envelopes["A"]
		got, err := e.Follow(demand)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		limits := func(c EnvelopeCheck) [4]Breach { return [4]Breach{c.Rating, c.DCPower, c.CutOff, c.Battery} }
		greater := make([]DemandSample, len(demand))
		for i, s := range demand {
			greater[i] = DemandSample{s.After, ApparentPower(more) * s.Apparent, unit.Power(more) * s.Real}
		}
		worse, err := e.Follow(greater)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain) // beyond 1 MVA
			return
		}
		mid := demand[1]
		mid.After = (demand[1].After + demand[2].After) / 2
		mid.Apparent = (demand[1].Apparent + demand[2].Apparent) / 2
		mid.Real = (demand[1].Real + demand[2].Real) / 2
		split, err := e.System.Surge.Follow([]DemandSample{demand[0], demand[1], mid, demand[2], demand[3]})
		require.NoError(t, err)
		for i, b := range limits(got) {
			w := limits(worse)[i]
			if b.Link == 0 {
				continue
			}
			require.NotZero(t, w.Link)
			require.LessOrEqual(t, float64(w.Demand.After), float64(b.Demand.After)+1e-9)
			require.True(t, b.Demand.After >= 0 && float64(b.Demand.After) <= at)
		}
		if got.Rating.Link != 0 && demand[1].After < demand[2].After {
			require.InDelta(t, float64(got.Rating.Demand.After), float64(split.Demand.After), 1e-6)
		}
	})
}

// A breach between two samples has the demand of its instant.
func TestBreachBetweenSamples(t *testing.T) {
	s := Surge{Continuous: 2000}
	b, err := s.Follow([]DemandSample{{0, 1000, 500}, {2, 3000, 2500}, {3, 4000, 2600}})
	require.NoError(t, err)
	assert.Equal(t, ContinuousRating, b.Link)
	closeTo(t, 1, float64(b.Demand.After), 1e-12)
	closeTo(t, 2000, float64(b.Demand.Apparent), 1e-12)
	closeTo(t, 1500, float64(b.Demand.Real), 1e-12)

	// At a step it is what the step leads to.
	b, err = s.Follow([]DemandSample{{0, 1000, 500}, {1, 1000, 500}, {1, 2500, 700}, {2, 2500, 700}})
	require.NoError(t, err)
	assert.Equal(t, DemandSample{1, 2500, 700}, b.Demand)
}

// A dc side that could give more at its cut-off than it ever gives collapses
// first.
func TestEnvelopeNamesCollapse(t *testing.T) {
	e := Envelope{System: system12V}
	e.System.Surge = Surge{Continuous: 20e3}
	for cut, want := range map[unit.Voltage]Link{10.5: RunningCutOff, 5.5: Collapse} {
		e.System.CutOff = CutOff{Running: cut}
		c, err := e.Follow([]DemandSample{{0, 10, 10}, {1, 15e3, 15e3}})
		require.NoError(t, err)
		assert.Equal(t, want, c.CutOff.Link)
		assert.Less(t, float64(c.CutOff.Demand.After), 1.0)
	}
}
