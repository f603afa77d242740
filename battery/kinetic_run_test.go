package battery

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// Lives do not change where capacity and currents grow together: the
// batteries of the table, of 0.09 and 0.18 Ah, are taken a hundredfold.
func TestKineticLives(t *testing.T) {
	const times = 100
	for _, row := range reftest.Rows(t, "battery/kinetic_lives.csv") {
		c := row.Float("capacity_a_min")
		m := Kinetic{
			Capacity: unit.Charge(times * c * float64(Minute)), Available: 0.166, Rate: EqualizationPer(0.122, Minute),
		}
		cycle := parseLoad(t, row.Text("cycle"))
		for j := range cycle {
			cycle[j].Current *= times
		}
		full := must[Wells](t)(m.Rested(1))
		r, err := m.Repeat(full, 0, cycle)
		require.NoError(t, err)
		assert.Equal(t, KineticEmptied, r.End)
		life := float64(r.Elapsed / Minute)
		row.Printed("published_min", life)
		row.Printed("life_min", life)
		if row.Has("on_min") {
			on := 0.0
			for j := range cycle {
				if cycle[j].Current > 0 {
					on += float64(r.In(cycle, j) / Minute)
				}
			}
			row.Printed("on_min", on)
		}
		row.Printed("delivered_a_min", float64(r.Delivered)/times/float64(Minute))
		if row.Has("cycles") {
			row.Printed("cycles", float64(r.Cycles))
			row.Printed("bound_a_min", float64(r.Wells.Bound)/times/float64(Minute))
		}
	}
}

func TestKineticDuty(t *testing.T) {
	m := Kinetic{Capacity: 200 * AmpereHour, Available: 0.35, Rate: EqualizationPer(0.8, Hour)}
	full := must[Wells](t)(m.Rested(1))
	for _, row := range reftest.Rows(t, "battery/kinetic_duty.csv") {
		r, err := m.Repeat(full, 0, parseLoad(t, row.Text("cycle")))
		require.NoError(t, err)
		row.Printed("empty_h", hours(r.Elapsed))
		row.Printed("delivered_ah", ampereHours(r.Delivered))
		row.Printed("cycles", float64(r.Cycles))
		row.Printed("bound_ah", ampereHours(r.Wells.Bound))
	}
}

func TestKineticPumpDuty(t *testing.T) {
	full := must[Wells](t)(floodedWells.Rested(1))
	for _, row := range reftest.Rows(t, "battery/pump_duty.csv") {
		cycle := []Step{
			{Current: unit.Current(row.Float("current_a")), For: unit.Time(row.Float("on_min")) * Minute},
			{For: unit.Time(row.Float("off_min")) * Minute},
		}
		r, err := floodedWells.Repeat(full, 0, cycle)
		require.NoError(t, err)
		row.Printed("kinetic_h", hours(r.In(cycle, 0)))
		assert.LessOrEqual(t, ampereHours(r.Delivered), ampereHours(floodedWells.Capacity))
	}
}

// Where the two models know the same cell they agree.
func TestKineticBesideDiffusion(t *testing.T) {
	m := Kinetic{
		Capacity: unit.Charge(40.375 * float64(Minute)), Available: 0.166, Rate: EqualizationPer(0.122, Minute),
	}
	full := must[Wells](t)(m.Rested(1))
	for _, row := range reftest.Rows(t, "battery/diffusion_lives.csv") {
		r, err := m.Run(full, 0, diffusionLoad(t, row.Text("load_min_ma")))
		require.NoError(t, err)
		assert.Equal(t, KineticEmptied, r.End, row.Source())
		row.Printed("kinetic_min", float64(r.Elapsed/Minute))
	}
}

func TestKineticFloor(t *testing.T) {
	full := must[Wells](t)(hundredWells.Rested(1))
	cycle := []Step{{Current: 10, For: Hour}, {Current: 1, For: Hour}}
	r, err := hundredWells.Repeat(full, 50*AmpereHour, cycle)
	require.NoError(t, err)
	assert.Equal(t, KineticAtFloor, r.End)
	// Four cycles take 44 Ah, the fifth the last 6 Ah in 0.6 h.
	assert.Equal(t, 4, r.Cycles)
	assert.Equal(t, 0, r.Step)
	assert.InDelta(t, 0.6, hours(r.Into), 1e-9)
	assert.InDelta(t, 8.6, hours(r.Elapsed), 1e-9)
	assert.InDelta(t, 50, ampereHours(r.Delivered), 1e-9)
	assert.InDelta(t, 50, ampereHours(r.Wells.Charge()), 1e-9)
	assert.InDelta(t, 4.6, hours(r.In(cycle, 0)), 1e-9)
	assert.InDelta(t, 4, hours(r.In(cycle, 1)), 1e-9)
	assert.Zero(t, r.In(cycle, -1))
	assert.Zero(t, r.In(cycle, 2))
	// At a high current the available well is first, whatever the floor.
	r, err = hundredWells.Repeat(full, 50*AmpereHour, []Step{{Current: 100, For: Hour}})
	require.NoError(t, err)
	assert.Equal(t, KineticEmptied, r.End)
	// At the floor already.
	r, err = hundredWells.Repeat(full, 100*AmpereHour, cycle)
	require.NoError(t, err)
	assert.Equal(t, KineticAtFloor, r.End)
	assert.Zero(t, float64(r.Elapsed))
	// Rests before a load do nothing to full wells.
	r, err = hundredWells.Run(full, 0, []Step{{For: Hour}, {Current: 100, For: Hour}})
	require.NoError(t, err)
	assert.InDelta(t, 1.441777, hours(r.Elapsed), 1e-6)
	assert.Equal(t, 1, r.Step)
	// An empty load lasts.
	r, err = hundredWells.Run(full, 0, nil)
	require.NoError(t, err)
	assert.Equal(t, KineticLasted, r.End)
	assert.Equal(t, full, r.Wells)
}

// A cycle that charges as much as it draws never ends, and is cut at 10000 h;
// one that charges too little ends.
func TestKineticCycleWithCharging(t *testing.T) {
	w := must[Wells](t)(hundredWells.Rested(0.5))
	r, err := hundredWells.Repeat(w, 0, []Step{{Current: 10, For: Hour}, {Current: -10, For: Hour}})
	require.NoError(t, err)
	assert.Equal(t, KineticLasted, r.End)
	assert.InDelta(t, 10000, hours(r.Elapsed), 1e-6)
	assert.Equal(t, 5000, r.Cycles)
	assert.InDelta(t, 50000, ampereHours(r.Delivered), 1e-3)
	assert.InDelta(t, 50, ampereHours(r.Wells.Charge()), 1e-6)
	r, err = hundredWells.Repeat(w, 0, []Step{{Current: 10, For: Hour}, {Current: -5, For: Hour}})
	require.NoError(t, err)
	assert.Equal(t, KineticEmptied, r.End)
	// Too much charge runs into the full well, and no further.
	r, err = hundredWells.Repeat(w, 0, []Step{{Current: 5, For: Hour}, {Current: -20, For: Hour}})
	require.NoError(t, err)
	assert.Equal(t, KineticLasted, r.End)
	assert.LessOrEqual(t, ampereHours(r.Wells.Charge()), 100+1e-9)
	assert.InDelta(t, 40, ampereHours(r.Wells.Available), 1e-9)
	assert.Greater(t, ampereHours(r.Wells.Bound), 57.0)
}

func TestKineticRunRefuses(t *testing.T) {
	full := must[Wells](t)(hundredWells.Rested(1))
	good := []Step{{Current: 5, For: Hour}}
	for _, bad := range [][]Step{
		{{Current: 1000.1, For: Hour}},
		{{Current: -1000.1, For: Hour}},
		{{Current: unit.Current(math.NaN()), For: Hour}},
		{{Current: 5, For: -1}},
		{{Current: 5, For: unit.Time(math.NaN())}},
		{{Current: 5, For: 1.001 * mostStepTime}},
	} {
		_, err := hundredWells.Run(full, 0, bad)
		refused(t, err, "%+v", bad)
		_, err = hundredWells.Repeat(full, 0, bad)
		refused(t, err, "%+v", bad)
	}
	for _, floor := range []float64{math.NaN(), -1, 360001} {
		_, err := hundredWells.Run(full, unit.Charge(floor), good)
		refused(t, err, floor)
		_, err = hundredWells.Repeat(full, unit.Charge(floor), good)
		refused(t, err, floor)
	}
	_, err := hundredWells.Repeat(full, 0, nil)
	refused(t, err)
	_, err = hundredWells.Repeat(full, 0, make([]Step, 65))
	refused(t, err)
	_, err = hundredWells.Repeat(full, 0, []Step{{Current: 5, For: 0.99}})
	refused(t, err, "a cycle below 1 s")
	_, err = hundredWells.Repeat(full, 0, []Step{{For: mostStepTime}, {For: 1}})
	refused(t, err, "a cycle above 10000 h")
	_, err = hundredWells.Repeat(full, 0, []Step{{Current: 50, For: 1}})
	require.NoError(t, err)
	long := make([]Step, 64)
	long[0], long[63] = Step{Current: 50, For: 1}, Step{Current: 1, For: 1}
	_, err = hundredWells.Repeat(full, 0, long)
	require.NoError(t, err)
	_, err = Kinetic{}.Run(full, 0, good)
	refused(t, err)
}

func TestNestedDuty(t *testing.T) {
	pump := Duty{Running: 80, Standing: 1, OnFraction: 0.1}
	fridge := Duty{Running: 12, OnFraction: 0.3}
	router := Duty{Running: 1.5, OnFraction: 1}
	cycle, err := NestedDuty(Hour, pump, fridge, router)
	require.NoError(t, err)
	want := []Step{{Current: 93.5, For: 0.1 * Hour}, {Current: 14.5, For: 0.2 * Hour}, {Current: 2.5, For: 0.7 * Hour}}
	require.Len(t, cycle, len(want))
	for i := range want {
		assert.InDelta(t, float64(want[i].Current), float64(cycle[i].Current), 1e-12)
		assert.InDelta(t, float64(want[i].For), float64(cycle[i].For), 1e-9)
	}
	// One load, always on or never on.
	cycle, err = NestedDuty(Hour, router)
	require.NoError(t, err)
	assert.Equal(t, []Step{{Current: 1.5, For: Hour}}, cycle)
	cycle, err = NestedDuty(Hour, Duty{Running: 80, Standing: 1})
	require.NoError(t, err)
	assert.Equal(t, []Step{{Current: 1, For: Hour}}, cycle)
	// Two with one share make one step.
	cycle, err = NestedDuty(Hour, fridge, fridge)
	require.NoError(t, err)
	assert.Len(t, cycle, 2)

	_, err = NestedDuty(Hour)
	refused(t, err)
	_, err = NestedDuty(Hour, make([]Duty, 64)...)
	refused(t, err)
	_, err = NestedDuty(Hour, Duty{})
	refused(t, err)
	for _, p := range []float64{math.NaN(), 0, 0.9, -1, math.Inf(1)} {
		_, err = NestedDuty(unit.Time(p), pump)
		refused(t, err, p)
	}
	many := make([]Duty, 63)
	for i := range many {
		many[i] = Duty{Running: 1, OnFraction: float64(i+1) / 64}
	}
	cycle, err = NestedDuty(Hour, many...)
	require.NoError(t, err)
	assert.Len(t, cycle, 64)
}

// floodedCondition is the flooded bank by nameplate, new and full.
var floodedCondition = Condition{
	Peukert: Peukert{
		Rating: Rating{Capacity: 330 * AmpereHour, Time: 20 * Hour}, Exponent: 1.1656, Most: 367 * AmpereHour,
	},
	Chemistry: Flooded, Temperature: Celsius(25), StateOfHealth: 1, StateOfCharge: 1, DepthLimit: 1,
}

func TestConditionKinetic(t *testing.T) {
	cycle := []Step{{Current: 75, For: 5 * Minute}, {Current: 1, For: 25 * Minute}}
	full := must[Wells](t)(floodedWells.Rested(1))
	bare, err := floodedWells.Repeat(full, 0, cycle)
	require.NoError(t, err)
	r, err := floodedCondition.Kinetic(floodedWells, cycle)
	require.NoError(t, err)
	assert.Equal(t, bare, r, "nothing taken off")

	half := floodedCondition
	half.DepthLimit = 0.5
	r, err = half.Kinetic(floodedWells, cycle)
	require.NoError(t, err)
	assert.Equal(t, KineticAtFloor, r.End)
	assert.InDelta(t, 367.0/2, ampereHours(r.Delivered), 1e-6, "half of the most capacity credited")

	// Start and depth count the same ampere-hours.
	half.StateOfCharge = 0.7
	r, err = half.Kinetic(floodedWells, cycle)
	require.NoError(t, err)
	assert.InDelta(t, 0.2*367, ampereHours(r.Delivered), 1e-6)
	half.StateOfCharge = 0.5
	_, err = half.Kinetic(floodedWells, cycle)
	require.ErrorIs(t, err, ErrBelowLimit)

	// Cold and age take at least their factors.
	last := bare.Elapsed
	for _, c := range []struct{ celsius, health float64 }{{15, 1}, {5, 1}, {0, 1}, {0, 0.8}, {-3, 0.8}, {-3, 0.5}} {
		cold := floodedCondition
		cold.Temperature, cold.StateOfHealth = Celsius(c.celsius), c.health
		r, err := cold.Kinetic(floodedWells, cycle)
		require.NoError(t, err)
		f := must[float64](t)(CapacityFactor(Flooded, cold.Temperature, Hour)) * c.health
		assert.LessOrEqual(t, float64(r.Elapsed), f*float64(bare.Elapsed)+float64(30*Minute), c)
		assert.Less(t, float64(r.Elapsed), float64(last), c)
		last = r.Elapsed
	}

	// It lies within the bracket of the shortcuts.
	steady, err := floodedCondition.Kinetic(floodedWells, []Step{{Current: 75, For: Hour}})
	require.NoError(t, err)
	assert.Less(t, float64(steady.Elapsed), float64(must[unit.Time](t)(ShortcutRuntime(330*AmpereHour, 75))))

	_, err = Condition{}.Kinetic(floodedWells, cycle)
	refused(t, err)
	_, err = floodedCondition.Kinetic(Kinetic{}, cycle)
	refused(t, err)
	_, err = floodedCondition.Kinetic(floodedWells, nil)
	refused(t, err)
	hot := floodedCondition
	hot.Temperature = Celsius(59)
	_, err = hot.Kinetic(floodedWells, cycle)
	refused(t, err)
	// A rating beyond qmax and a low start leave nothing.
	small := floodedWells.Scale(0.5)
	low := floodedCondition
	low.StateOfCharge, low.DepthLimit = 0.4, 1
	_, err = low.Kinetic(small, cycle)
	require.ErrorIs(t, err, ErrBelowLimit)
}

// On and off, the load is carried at least as long in running time as without
// rests, and no more is drawn than there is. Split steps change nothing.
func FuzzKineticRepeat(f *testing.F) {
	f.Add(0.4, 0.8, 1.0, 40.0, 5.0, 25.0, 0.3)
	f.Add(0.1, 0.05, 0.7, 200.0, 60.0, 60.0, 0.5)
	f.Fuzz(func(t *testing.T, c, k, charge, i, on, off, split float64) {
		m, w, ok := fuzzWells(c, k, charge, charge)
		if !ok || !(i >= 1 && i <= 1000) || !(on >= 1 && on <= 600) || !(off >= 0 && off <= 600) || !(split > 0 && split < 1) {
			return
		}
		cycle := []Step{{Current: unit.Current(i), For: unit.Time(on) * Minute}, {For: unit.Time(off) * Minute}}
		r, err := m.Repeat(w, 0, cycle)
		require.NoError(t, err)
		if r.End == KineticLasted {
			return
		}
		steady := must[unit.Time](t)(m.TimeToEmpty(w, unit.Current(i)))
		running := r.In(cycle, 0)
		require.GreaterOrEqual(t, float64(running)*(1+1e-9)+1e-6, float64(steady))
		require.LessOrEqual(t, float64(r.Delivered), float64(w.Charge())*(1+1e-9))
		require.InDelta(t, float64(r.Delivered), i*float64(running), 1e-9*float64(m.Capacity))
		require.InDelta(t, float64(w.Charge()), float64(r.Delivered+r.Wells.Charge()), 1e-9*float64(m.Capacity))

		parts := []Step{
			{Current: cycle[0].Current, For: cycle[0].For * unit.Time(split)},
			{Current: cycle[0].Current, For: cycle[0].For * unit.Time(1-split)},
			{For: cycle[1].For * unit.Time(split)},
			{For: cycle[1].For * unit.Time(1-split)},
		}
		s, err := m.Repeat(w, 0, parts)
		require.NoError(t, err)
		// Where a cycle ends just empty the last bit decides for another one.
		if s.Cycles == r.Cycles {
			require.InDelta(t, float64(r.Elapsed), float64(s.Elapsed), 1e-6*float64(r.Elapsed)+1)
		}
	})
}

// A cycle that draws nothing lasts, and levels the wells.
func TestKineticRepeatOfRest(t *testing.T) {
	for _, w := range []Wells{{}, {Bound: 60 * AmpereHour}, {Available: 40 * AmpereHour}} {
		r, err := hundredWells.Repeat(w, 0, []Step{{For: 1}})
		require.NoError(t, err)
		assert.Equal(t, KineticLasted, r.End)
		assert.Equal(t, 36000000, r.Cycles)
		assert.InDelta(t, 0.4*ampereHours(w.Charge()), ampereHours(r.Wells.Available), 1e-9)
	}
	// A cycle kept full by a charger lasts, and is not gone through to the end.
	kept := must[KineticRun](t)(hundredWells.Repeat(Wells{}, 0, []Step{{Current: -5, For: 0.6}, {Current: 1, For: 0.4}}))
	assert.Equal(t, KineticLasted, kept.End)
	assert.Equal(t, 36000000, kept.Cycles)
	assert.InDelta(t, 4000, ampereHours(kept.Delivered), 1e-3, "1 A for 0.4 of 10000 h")
	assert.InDelta(t, 100, ampereHours(kept.Wells.Charge()), 1e-3)
	// A trickle that outlasts the 10000 h does so at once.
	full := must[Wells](t)(hundredWells.Rested(1))
	r, err := hundredWells.Repeat(full, 0, []Step{{Current: 0.005, For: 0.5}, {For: 0.5}})
	require.NoError(t, err)
	assert.Equal(t, KineticLasted, r.End)
	assert.InDelta(t, 25, ampereHours(r.Delivered), 1e-6)
	assert.InDelta(t, 75, ampereHours(r.Wells.Charge()), 1e-6)
}

// Run and Repeat agree, and Step by Step as well.
func TestKineticRunIsRepeatWrittenOut(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for n := range 300 {
		m := Kinetic{Capacity: 100 * AmpereHour, Available: 0.1 + 0.8*random.Float64(), Rate: EqualizationPer(0.05+2*random.Float64(), Hour)}
		w := must[Wells](t)(m.Rested(0.2 + 0.8*random.Float64()))
		// Half of the cycles charge as well; some are short and many.
		lowest, length := 20*float64(n%2), 1.0
		if n%3 == 0 {
			length = 0.03
		}
		var cycle []Step
		for range 1 + random.IntN(4) {
			cycle = append(cycle, Step{Current: unit.Current(100*random.Float64() - lowest), For: unit.Time(length*random.Float64()) * Hour})
		}
		r, err := m.Repeat(w, 0, cycle)
		require.NoError(t, err)
		if r.End == KineticLasted || r.Cycles > 3000 {
			continue
		}
		var load []Step
		for range r.Cycles + 1 {
			load = append(load, cycle...)
		}
		s, err := m.Run(w, 0, load)
		require.NoError(t, err)
		require.Equal(t, r.End, s.End)
		require.Equal(t, r.Cycles*len(cycle)+r.Step, s.Step)
		require.InEpsilon(t, float64(r.Elapsed), float64(s.Elapsed), 1e-11)
		require.InDelta(t, float64(r.Wells.Bound), float64(s.Wells.Bound), 1e-9*float64(m.Capacity))
		require.InDelta(t, float64(r.Delivered), float64(s.Delivered), 1e-9*float64(m.Capacity))
	}
}
