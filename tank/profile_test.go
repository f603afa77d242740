package tank

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

func TestDemandFigures(t *testing.T) {
	mean := 300 * USGallonPerDay
	day, hour, err := PeakUse(mean)
	require.NoError(t, err)
	two, err := TwoHourPeak(mean)
	require.NoError(t, err)
	got := map[string]float64{
		"maximum day": float64(day / mean), "peak hour": float64(hour / mean),
		"whole daily use within": float64(mean.Volume(Day)) / float64(two) / float64(Hour),
		"stored for":             float64(StoredFor / Day), "indoor share": 100 * IndoorShare,
		"new well yield":      float64(NewWellYield / USGallonPerMinute),
		"existing well yield": float64(ExistingWellYield / USGallonPerMinute),
		"well board supply":   float64(WellBoardYield.Volume(2*Hour) / USGallon),
	}
	for _, r := range reftest.Rows(t, "tank/demand_figures.csv") {
		r.Printed("value", got[r.Text("item")])
	}
}

// exactly sums flow times an hour without rounding.
func exactly(draws []Draw) *big.Rat {
	sum := new(big.Rat)
	for _, d := range draws {
		q := new(big.Rat).SetFloat64(float64(d.Demand))
		sum.Add(sum, q.Mul(q, new(big.Rat).SetFloat64(float64(d.For))))
	}
	return sum
}

// dayVolume is an hour of 24 times the use, without rounding the product.
func dayVolume(use FlowRate) *big.Rat {
	v := new(big.Rat).SetFloat64(24 * float64(use))
	return v.Mul(v, big.NewRat(3600, 1))
}

func TestNamedProfiles(t *testing.T) {
	use := 300 * USGallonPerDay
	for name, tt := range map[string]struct {
		p    Profile
		peak float64
	}{
		"flat": {FlatProfile(), 1}, "household": {HouseholdProfile(), 2.4}, "two hours": {TwoHourProfile(), 12},
	} {
		k, err := tt.p.PeakFactor()
		require.NoError(t, err)
		assert.InEpsilon(t, tt.peak, k, 1e-12, name)
		draws, err := tt.p.Draws(use)
		require.NoError(t, err)
		require.Len(t, draws, 24)
		most := FlowRate(0)
		for _, d := range draws {
			assert.Equal(t, Hour, d.For)
			most = max(most, d.Demand)
		}
		assert.InEpsilon(t, k*float64(use), float64(most), 1e-12, name)
		assert.Zero(t, exactly(draws).Cmp(dayVolume(use)), name)
	}
	sum, err := HouseholdProfile().sum()
	require.NoError(t, err)
	assert.InDelta(t, 100, sum, 0, "percent")
	two, err := TwoHourPeak(use)
	require.NoError(t, err)
	draws, err := TwoHourProfile().Draws(use)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(two), float64(draws[7].Demand), 1e-12)
}

// A day at a profile is a day of use: what is drawn is what was asked.
func TestProfileFollows(t *testing.T) {
	s := System{Drawdown: 25 * USGallon, Pump: 10 * USGallonPerMinute}
	use := 300 * USGallonPerDay
	for _, p := range []Profile{FlatProfile(), HouseholdProfile(), TwoHourProfile()} {
		draws, err := p.Draws(use)
		require.NoError(t, err)
		f, err := s.Follow(Level{Stored: s.Drawdown}, 0, draws)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(use.Volume(Day)), float64(f.Drawn), 1e-9)
		assert.Zero(t, float64(f.Unmet))
	}
}

func TestProfileBounds(t *testing.T) {
	use := 300 * USGallonPerDay
	_, err := Profile{}.Draws(use)
	refused(t, err, "sum of weights")
	for _, x := range notNumbers {
		p := FlatProfile()
		p[5] = x
		_, err := p.Draws(use)
		refused(t, err, "weight of an hour")
		_, err = p.PeakFactor()
		refused(t, err, "weight of an hour")
	}
	for _, x := range append(notNumbers, 0, 300, 0.9e-9, 0.84e-3) {
		_, err := FlatProfile().Draws(FlowRate(x))
		refused(t, err, "daily use")
		_, err = TwoHourPeak(FlowRate(x))
		refused(t, err, "daily use")
		_, _, err = PeakUse(FlowRate(x))
		refused(t, err, "mean use")
	}
	// A drip, all in one hour or shared out, is still drawn.
	for _, p := range []Profile{FlatProfile(), {3: 1}, {23: mostWeight}, {0: 1, 23: 1e-9}} {
		for _, u := range []FlowRate{leastDemand, mostDayUse} {
			draws, err := p.Draws(u)
			require.NoError(t, err)
			assert.Zero(t, exactly(draws).Cmp(dayVolume(u)))
			_, err = System{Drawdown: USGallon, Pump: mostFlow}.Follow(Level{}, 0, draws)
			require.NoError(t, err)
		}
	}
}

// Whatever the weights, the volumes sum exactly and Follow takes the draws.
func FuzzProfile(f *testing.F) {
	f.Add(300.0, 1.0, 1.0, 1.0, 1.0, uint8(3))
	f.Add(0.1, 1e9, 1e-9, 0.3, 0.7, uint8(23))
	f.Add(1e4, 0.0, 0.0, 0.0, 1e-9, uint8(0))
	f.Add(math.NaN(), math.Inf(1), -1.0, 5e-324, 0.0, uint8(200))
	f.Fuzz(func(t *testing.T, gallons, a, b, c, d float64, turn uint8) {
		var p Profile
		for i := range p {
			p[(i+int(turn))%24] = [4]float64{a, b, c, d}[i%4] * float64(1+i*i%7)
		}
		use := FlowRate(gallons) * USGallonPerDay
		draws, err := p.Draws(use)
		known(t, err)
		k, peakErr := p.PeakFactor()
		known(t, peakErr)
		if err != nil {
			return
		}
		require.NoError(t, peakErr)
		require.True(t, k >= 1-1e-12 && k <= 24+1e-12, "peak factor %v", k)
		require.Zero(t, exactly(draws).Cmp(dayVolume(use)))
		sum, back := 0.0, 0.0
		for i := range draws {
			q := draws[i].Demand
			require.True(t, q == 0 || q >= leastDemand && q <= mostFlow, "demand %v", q)
			sum += float64(q)
			back += float64(draws[23-i].Demand)
		}
		require.InDelta(t, 24*float64(use), sum, 0, "in order")
		require.InDelta(t, 24*float64(use), back, 0, "and backwards")
		_, err = System{Drawdown: USGallon, Pump: mostFlow}.Follow(Level{}, 0, draws)
		require.NoError(t, err)
	})
}
