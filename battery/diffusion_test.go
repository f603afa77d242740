package battery

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

// The two parameter sets of the published cell.
var (
	cellSet1 = Diffusion{Capacity: unit.Charge(35.220 * float64(Minute)), Rate: BetaPerRoot(0.637, Minute)}
	cellSet2 = Diffusion{Capacity: unit.Charge(40.375 * float64(Minute)), Rate: BetaPerRoot(0.273, Minute)}
)

// diffusionLoad reads "0:628 19.5:0 26:628", start in min and current in mA,
// the last held without end.
func diffusionLoad(t testing.TB, text string) (load []Step) {
	t.Helper()
	var starts []float64
	for part := range strings.FieldsSeq(text) {
		a, b, ok := strings.Cut(part, ":")
		require.True(t, ok, part)
		start, err := strconv.ParseFloat(a, 64)
		require.NoError(t, err)
		i, err := strconv.ParseFloat(b, 64)
		require.NoError(t, err)
		starts = append(starts, start)
		load = append(load, Step{Current: unit.Current(i) / 1000, For: 100 * Hour})
	}
	for n := range starts[1:] {
		load[n].For = unit.Time(starts[n+1]-starts[n]) * Minute
	}
	return load
}

func TestDiffusionLives(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/diffusion_lives.csv") {
		load := diffusionLoad(t, row.Text("load_min_ma"))
		for _, set := range []struct {
			m      Diffusion
			column string
			halves float64
		}{{cellSet1, "1_min", 4}, {cellSet2, "2_min", 3}} {
			life, emptied, err := set.m.Life(load)
			require.NoError(t, err)
			require.True(t, emptied, row.Source())
			row.Printed("computed"+set.column, float64(life/Minute))
			row.Digits("published"+set.column, float64(life/Minute), set.halves, "the source rounded on its way; see the file")
		}
	}
}

func TestDiffusionConstant(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/diffusion_constant.csv") {
		load := []Step{{Current: unit.Current(row.Float("current_ma")) / 1000, For: 1000 * Hour}}
		life, emptied, err := cellSet1.Life(load)
		require.NoError(t, err)
		require.True(t, emptied)
		row.Printed("ten_terms_s", float64(life))
		row.Digits("published_s", float64(life), 2, "stepped up to the next whole second")
		many, emptied := cellSet1.life(load, make([]float64, 2000))
		require.True(t, emptied)
		row.Printed("many_terms_s", float64(many))
	}
}

// The series as its authors wrote it, summed over the load at once.
func TestDiffusionLostIsTheSeries(t *testing.T) {
	m := cellSet2
	load := diffusionLoad(t, "0:300 0.5:113.9 25.5:0 50.5:34.1 60:0")
	load[len(load)-1].For = 7 * Minute
	sigma, start, end := 0.0, 0.0, 0.0
	for _, s := range load {
		end += float64(s.For)
	}
	for _, s := range load {
		i, d := float64(s.Current), float64(s.For)
		sum := d
		for n := 1.0; n <= DiffusionTerms; n++ {
			l := float64(m.Rate) * n * n
			sum += 2 * (math.Exp(-l*(end-start-d)) - math.Exp(-l*(end-start))) / l
		}
		sigma += i * sum
		start += d
	}
	got, err := m.Lost(load)
	require.NoError(t, err)
	assert.InEpsilon(t, sigma, float64(got), 1e-12)
	// After a long rest what was out of reach is back.
	got, err = m.Lost(append(load, Step{For: 1000 * Hour}))
	require.NoError(t, err)
	drawn := 0.0
	for _, s := range load {
		drawn += float64(s.Current) * float64(s.For)
	}
	assert.InEpsilon(t, drawn, float64(got), 1e-9)
	// At its life the loss is the capacity.
	load = diffusionLoad(t, "0:628 19.5:0 26:628")
	life, _, err := m.Life(load)
	require.NoError(t, err)
	load[2].For = life - 26*Minute
	got, err = m.Lost(load)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(m.Capacity), float64(got), 1e-12)
	// A load that ends before it empties the battery says so.
	life, emptied, err := m.Life(load[:1])
	require.NoError(t, err)
	assert.False(t, emptied)
	assert.InDelta(t, 19.5, float64(life/Minute), 1e-9)
}

func TestDiffusionRefuses(t *testing.T) {
	good := []Step{{Current: 0.5, For: Hour}}
	for _, m := range []Diffusion{
		{},
		{Capacity: 1 * AmpereHour, Rate: 2},
		{Capacity: 1 * AmpereHour, Rate: DiffusionRate(math.NaN())},
		{Capacity: 1 * AmpereHour, Rate: 0.9e-7},
		{Capacity: 1, Rate: 1e-3},
	} {
		_, _, err := m.Life(good)
		refused(t, err, "%+v", m)
		_, err = m.Lost(good)
		refused(t, err, "%+v", m)
	}
	for _, s := range []Step{
		{Current: -0.1, For: Hour},
		{Current: 100, For: Hour},
		{Current: unit.Current(math.NaN()), For: Hour},
		{Current: 0.5, For: -1},
		{Current: 0.5, For: 1.1 * mostStepTime},
	} {
		_, _, err := cellSet1.Life([]Step{s})
		refused(t, err, "%+v", s)
		_, err = cellSet1.Lost([]Step{s})
		refused(t, err, "%+v", s)
	}
	life, emptied, err := cellSet1.Life(nil)
	require.NoError(t, err)
	assert.False(t, emptied)
	assert.Zero(t, life)
}

// Lives fall with the load, a rest does not shorten the running time, and a
// step in two halves is the step.
func FuzzDiffusion(f *testing.F) {
	f.Add(0.6, 0.3, 20.0, 10.0, 1.1)
	f.Add(0.05, 0.9, 500.0, 1.0, 2.0)
	f.Fuzz(func(t *testing.T, i, beta, on, off, more float64) {
		m := Diffusion{Capacity: AmpereHour, Rate: BetaPerRoot(beta, Minute)}
		if m.validate() != nil || !(i >= 0.01 && i <= 4) || !(on >= 0.1 && on <= 1e4) || !(off >= 0 && off <= 1e4) || !(more >= 1 && more <= 2) {
			return
		}
		rest := []Step{{unit.Current(i), unit.Time(on) * Minute}, {0, unit.Time(off) * Minute}, {unit.Current(i), 1000 * Hour}}
		life, emptied, err := m.Life(rest)
		require.NoError(t, err)
		require.True(t, emptied)
		steady, _, err := m.Life([]Step{{unit.Current(i), 1000 * Hour}})
		require.NoError(t, err)
		running := life
		if life > rest[0].For+rest[1].For {
			running -= rest[1].For
		}
		require.GreaterOrEqual(t, float64(running)*(1+1e-9), float64(steady))
		require.LessOrEqual(t, i*float64(running), float64(m.Capacity)*(1+1e-9))
		heavier, _, err := m.Life([]Step{{unit.Current(i * more), 1000 * Hour}})
		require.NoError(t, err)
		require.LessOrEqual(t, float64(heavier), float64(steady)*(1+1e-9))
		whole := must[unit.Charge](t)(m.Lost(rest[:2]))
		split := must[unit.Charge](t)(m.Lost([]Step{{rest[0].Current, rest[0].For / 3}, {rest[0].Current, 2 * rest[0].For / 3}, rest[1]}))
		require.InEpsilon(t, float64(whole), float64(split), 1e-12)
	})
}
