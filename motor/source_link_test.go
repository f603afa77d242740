package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// linkedLine is a line behind a dc link.
type linkedLine struct {
	Line

	capacitance unit.Capacitance
	full        unit.Voltage
	conductance unit.Conductance
	power       unit.Power
}

func (l linkedLine) Link() (unit.Capacitance, unit.Voltage, unit.Conductance, unit.Power) {
	return l.capacitance, l.full, l.conductance, l.power
}

// referenceLink is that of the reference runs.
func referenceLink(power unit.Power) linkedLine {
	return linkedLine{Line{Voltage: 110, Frequency: 60, Phases: 1}, 2000e-6, 180, 5, power}
}

func TestDynamicLink(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/start_dclink.csv") {
		r := RunUp{
			Circuit: quarterHorse(reactance(3, 14.5)), Source: referenceLink(unit.Power(row.Float("limit_value"))),
			Load: referenceLoad(row.Text("load")), Inertia: 0.0146, FullSpeed: 0.95, Until: 4, Settle: 4,
		}
		got := compareLimited(t, row, r)
		row.Within("v_rms_first6_v", rootMean(got.Cycles[:6], lineVolts), 3e-4, "the reference summed it from instants")
		row.Within("v_link_min_v", float64(got.LeastLink), 1.2e-5, "the reference looked for it on a grid of 25 to 50 µs")
		row.Within("v_link_min_fine_v", float64(got.LeastLink), 1e-6, fixedSteps)
	}
}

// A link that never falls to the crest is no limit at all, be it held by its
// capacitor or by its charger.
func TestDynamicLinkHolds(t *testing.T) {
	r := RunUp{Circuit: quarterHorse(reactance(3, 14.5)), Source: referenceLink(1000).Line, Inertia: 0.0146, Load: referenceLoad("quadratic"), Settle: 0.2}
	want, err := r.Dynamic(0, 1e-10)
	require.NoError(t, err)
	require.Zero(t, want.LeastLink)
	require.Zero(t, want.LinkEnergy)
	require.Zero(t, want.Last.Link)
	for name, change := range map[string]func(*linkedLine){
		"capacitance": func(l *linkedLine) { l.capacitance = 10 },
		"power":       func(l *linkedLine) { l.power = unit.Power(math.Inf(1)) },
		"voltage":     func(l *linkedLine) { l.full, l.power = 2000, 500 },
	} {
		source := referenceLink(1000)
		change(&source)
		r.Source = source
		got, err := r.Dynamic(0, 1e-10)
		require.NoError(t, err)
		require.Greater(t, float64(got.LeastLink), 110*math.Sqrt2, name)
		assert.InEpsilon(t, float64(want.FullSpeed), float64(got.FullSpeed), 1e-6, name)
		assert.InEpsilon(t, float64(want.SwitchOpen), float64(got.SwitchOpen), 1e-6, name)
		assert.InEpsilon(t, float64(want.Peak), float64(got.Peak), 1e-6, name)
		assert.InEpsilon(t, float64(want.Energy), float64(got.Energy), 1e-6, name)
		assert.InEpsilon(t, want.SquareTime, got.SquareTime, 1e-6, name)
	}
}

// linkBalance is what has charged the link, less what it gave and what it has
// gained, over what it gave and held at first.
func linkBalance(got DynamicResult, l linkedLine) float64 {
	half := float64(l.capacitance) / 2
	held := half * float64(l.full) * float64(l.full)
	gave := float64(got.Energy) + real(l.Impedance)*got.SquareTime
	gained := half*float64(got.Last.Link)*float64(got.Last.Link) - held
	return (float64(got.LinkEnergy) - gave - gained) / (math.Abs(gave) + held)
}

// Less power never starts sooner, and every joule is somewhere.
func TestDynamicLinkOrder(t *testing.T) {
	last := DynamicResult{}
	last.LeastLink = 180
	for _, p := range []unit.Power{unit.Power(math.Inf(1)), 2500, 1800, 1500, 1200, 1000, 850, 700, 600, 500, 400} {
		source := referenceLink(p)
		source.Impedance = 0.2
		r := RunUp{
			Circuit: quarterHorse(reactance(3, 14.5)), Source: source, Inertia: 0.0146, Load: referenceLoad("quadratic"),
			Feeder: 0.3, Every: 1e-4,
		}
		got, err := r.Dynamic(0, 1e-8)
		require.NoError(t, err)
		require.Equal(t, Starts, got.Outcome, p)
		assert.GreaterOrEqual(t, float64(got.FullSpeed), float64(last.FullSpeed)*(1-1e-6), p)
		assert.LessOrEqual(t, float64(got.LeastLink), float64(last.LeastLink)*(1+1e-6), p)
		assert.InDelta(t, 0, linkBalance(got, source), 1e-6, p)
		least := math.Inf(1)
		for _, s := range got.Samples {
			least = math.Min(least, float64(s.Link))
		}
		assert.InEpsilon(t, float64(got.LeastLink), least, 1e-4, "0.1 ms are near the least")
		last = got
	}
}

// Of a link that is drained the diodes carry the current, and it ends at 0.
func TestDynamicLinkDrained(t *testing.T) {
	source := referenceLink(1000)
	source.capacitance, source.conductance = 100e-6, 0.01
	r := RunUp{Circuit: quarterHorse(reactance(3, 14.5)), Source: source, Inertia: 0.0146, Load: referenceLoad("quadratic"), Until: 0.5}
	got, err := r.Dynamic(0, 1e-8)
	require.NoError(t, err)
	assert.NotEqual(t, Starts, got.Outcome)
	assert.Less(t, float64(got.LeastLink), 1.8)
	assert.GreaterOrEqual(t, float64(got.LeastLink), 0.0)
	assert.InDelta(t, 0, linkBalance(got, source), 1e-6)
}

func TestLinkBounds(t *testing.T) {
	r := RunUp{Circuit: quarterHorse(reactance(3, 14.5)), Inertia: 0.0146, Until: 0.02}
	try := func(l linkedLine) error {
		r.Source = l
		_, err := r.Dynamic(0, 1e-6)
		return err
	}
	for name, tt := range map[string]struct {
		good, bad []float64
		set       func(*linkedLine, float64)
	}{
		"capacitance": {[]float64{50e-6, 10}, []float64{9.99e-6, 10.01}, func(l *linkedLine, x float64) { l.capacitance = unit.Capacitance(x) }},
		"voltage":     {[]float64{10, 2000}, []float64{9.99, 2001}, func(l *linkedLine, x float64) { l.full = unit.Voltage(x) }},
		"conductance": {[]float64{0.01, 200}, []float64{0.00999, 201}, func(l *linkedLine, x float64) { l.conductance = unit.Conductance(x) }},
		"power":       {[]float64{20, 10e6, math.Inf(1)}, []float64{19.9, 10.1e6}, func(l *linkedLine, x float64) { l.power = unit.Power(x) }},
	} {
		for _, x := range tt.good {
			l := referenceLink(1000)
			tt.set(&l, x)
			require.NoError(t, try(l), "%s %v", name, x)
		}
		for _, x := range append(tt.bad, 0, math.NaN(), math.Inf(-1), -1, 1e300) {
			l := referenceLink(1000)
			tt.set(&l, x)
			require.ErrorIs(t, try(l), ErrDomain, "%s %v", name, x)
		}
	}
}

// Any start behind a link that is accepted keeps its joules, and its link
// between nothing and what has charged it.
func FuzzDynamicLink(f *testing.F) {
	f.Add(2e-3, 180.0, 5.0, 1000.0, 0.0, 0.0)
	f.Add(1e-5, 180.0, 0.01, 1000.0, 0.0, 1.0)
	f.Add(1e-4, 100.0, 10.0, 20.0, 8.0, 2.0)
	f.Add(10.0, 10.0, 1e5, 1e7, 15.0, 0.5)
	f.Fuzz(func(t *testing.T, farads, full, siemens, watts, limit, angle float64) {
		if !(math.Abs(angle) < 10) {
			t.Skip()
		}
		source := linkedLine{
			Line{Voltage: 110, Frequency: 60, Phases: 1, Limit: unit.Current(limit)},
			unit.Capacitance(farads), unit.Voltage(full), unit.Conductance(siemens), unit.Power(watts),
		}
		r := RunUp{
			Circuit: quarterHorse(reactance(3, 14.5)), Source: source, Inertia: 0.0146, Until: 0.06,
			Load: referenceLoad("quadratic"),
		}
		got, err := r.Dynamic(unit.Angle(angle), 1e-7)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.NotZero(t, got.Outcome)
		require.GreaterOrEqual(t, float64(got.LeastLink), 0.0)
		require.LessOrEqual(t, float64(got.LeastLink), full)
		require.InDelta(t, 0, linkBalance(got, source), 1e-5)
	})
}
