package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// fixturesByName looks fixtures up as files of reference name them.
func fixturesByName() map[string]Fixture {
	m := map[string]Fixture{}
	for f := Lavatory; f <= LaundrySink; f++ {
		m[f.String()] = f
	}
	return m
}

func TestFixtureFlows(t *testing.T) {
	named, seen := fixturesByName(), 0
	for _, r := range reftest.Rows(t, "tank/fixture_flows.csv") {
		u, err := named[r.Text("constant")].Use()
		require.NoError(t, err, r.Source())
		seen++
		if r.Has("flow_gpm") {
			r.Printed("flow_gpm", float64(u.Flow/USGallonPerMinute))
		} else {
			assert.Zero(t, float64(u.Flow))
		}
		assert.Equal(t, r.Text("per"), u.Per)
		if !r.Has("low_gal") {
			assert.Equal(t, Range[unit.Volume]{}, u.Volume)
			continue
		}
		r.Printed("low_gal", float64(u.Volume.Low/USGallon))
		if r.Text("high_gal") != r.Text("low_gal") { // a single figure counts once
			r.Printed("high_gal", float64(u.Volume.High/USGallon))
		}
		assert.True(t, u.Volume.Valid())
	}
	assert.Equal(t, int(LaundrySink)-1, seen, "every fixture has its row")
	for _, f := range []Fixture{0, LaundrySink, LaundrySink + 1, 255} {
		_, err := f.Use()
		refused(t, err, "fixture")
	}
	assert.Equal(t, "Fixture(200)", Fixture(200).String())
}

func TestSevenMinutePeak(t *testing.T) {
	named := fixturesByName()
	columns := []string{"bath_1", "bath_1_5", "bath_2", "bath_3"}
	rooms := []float64{1, 1.5, 2, 3}
	var sums [4]unit.Volume
	for _, r := range reftest.Rows(t, "tank/peak_demand_7min.csv") {
		name := r.Text("constant")
		if name == "total" || name == "pump" {
			for i, c := range columns {
				p, err := SevenMinutePeak(rooms[i])
				require.NoError(t, err)
				if name == "pump" {
					r.Printed(c, float64(p.Pump/USGallonPerMinute))
					assert.InDelta(t, float64(p.Mean), float64(p.Pump), float64(USGallonPerMinute))
					continue
				}
				r.Printed(c, float64(p.Drawn/USGallon))
				assert.InEpsilon(t, float64(sums[i]), float64(p.Drawn), 1e-12, "columns sum")
				assert.InEpsilon(t, float64(p.Drawn), float64(p.Mean.Volume(7*Minute)), 1e-12)
			}
			continue
		}
		o, err := named[name].SevenMinutes()
		require.NoError(t, err, r.Source())
		r.Printed("flow_gpm", float64(o.Flow/USGallonPerMinute))
		r.Printed("use_gal", float64(o.Use/USGallon))
		for i, c := range columns {
			r.Printed(c, float64(o.Drawn[i]/USGallon))
			sums[i] += o.Drawn[i]
		}
	}
	for _, pair := range [][2]float64{{2, 2.5}, {3, 3.5}, {3, 4}} {
		a, err := SevenMinutePeak(pair[0])
		require.NoError(t, err)
		b, err := SevenMinutePeak(pair[1])
		require.NoError(t, err)
		assert.Equal(t, a, b)
	}
	for _, x := range append(notNumbers, 0, 0.5, 1.25, 4.5, 5) {
		_, err := SevenMinutePeak(x)
		refused(t, err, "bathrooms")
	}
	for _, f := range []Fixture{0, OutsideHose, 255} {
		_, err := f.SevenMinutes()
		refused(t, err, "fixture")
	}
}

func TestPeakDemandAllowance(t *testing.T) {
	named := fixturesByName()
	var all []FixtureCount
	sum := 0.0
	for _, r := range reftest.Rows(t, "tank/peak_demand_allowance.csv") {
		f := named[r.Text("constant")]
		a, err := f.Allowance()
		require.NoError(t, err, r.Source())
		r.Printed("pda_gpm", float64(a.Peak/USGallonPerMinute))
		r.Printed("ffr_gpm", float64(a.Flow/USGallonPerMinute))
		all = append(all, FixtureCount{f, 2})
		sum += 2 * r.Float("pda_gpm")
		one, err := AllowancePeak([]FixtureCount{{f, 1}})
		require.NoError(t, err)
		assert.Equal(t, a.Flow, one, "one fixture takes its own flow")
	}
	q, err := AllowancePeak(all)
	require.NoError(t, err)
	assert.InEpsilon(t, sum, float64(q/USGallonPerMinute), 1e-12)
	none, err := AllowancePeak([]FixtureCount{{ClothesWasher, 0}})
	require.NoError(t, err)
	assert.Zero(t, float64(none))
	for _, n := range []int{-1, 1001, math.MinInt} {
		_, err := AllowancePeak([]FixtureCount{{Lavatory, n}})
		refused(t, err, "fixtures")
	}
	for _, f := range []Fixture{0, OutsideHose, 255} {
		_, err := AllowancePeak([]FixtureCount{{f, 1}})
		refused(t, err, "fixture")
	}
}

// One more fixture never lowers the peak.
func FuzzAllowancePeak(f *testing.F) {
	f.Add(uint8(1), 2, uint8(5), 1)
	f.Add(uint8(15), 1000, uint8(0), -1)
	f.Fuzz(func(t *testing.T, a uint8, n int, b uint8, m int) {
		one, err := AllowancePeak([]FixtureCount{{Fixture(a), n}})
		known(t, err)
		two, err2 := AllowancePeak([]FixtureCount{{Fixture(a), n}, {Fixture(b), m}})
		known(t, err2)
		finite(t, err2, float64(two))
		if err == nil && err2 == nil {
			require.GreaterOrEqual(t, float64(two), float64(one))
		}
	})
}
