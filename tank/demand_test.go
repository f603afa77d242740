package tank

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestWaterDemand(t *testing.T) {
	use := func(tier Tier, persons int) Range[FlowRate] {
		r, err := tier.Use(persons)
		require.NoError(t, err)
		return r
	}
	indoor := func(persons int) FlowRate {
		q, err := IndoorUse(persons)
		require.NoError(t, err)
		return q
	}
	parts, err := PartsOfEmergency(1)
	require.NoError(t, err)
	got := map[string]FlowRate{
		"hygiene low": parts.Hygiene.Low, "hygiene high": parts.Hygiene.High,
		"cooking low": parts.Cooking.Low, "cooking high": parts.Cooking.High,
		"drinking low": use(Drinking, 1).Low, "drinking high": use(Drinking, 1).High,
		"emergency low": use(Emergency, 1).Low, "emergency high": use(Emergency, 1).High,
		"washing": use(Washing, 1).Low, "stored": use(Stored, 1).High,
		"normal low": use(Normal, 1).Low, "normal high": use(Normal, 1).High,
		"family of four": use(Normal, 4).High,
		"indoor slope":   indoor(4) - indoor(3), "indoor intercept": 2*indoor(1) - indoor(2),
		"emergency high in gallons": use(Emergency, 1).High,
		"emergency high misread":    use(Emergency, 1).High,
	}
	units := map[string]FlowRate{"L/day": LitrePerDay, "gal/day": USGallonPerDay}
	for _, r := range reftest.Rows(t, "tank/water_demand.csv") {
		q := float64(got[r.Text("item")] / units[r.Text("unit")])
		if r.Text("item") == "emergency high misread" {
			r.Rejects("value", q, 0.5)
			continue
		}
		r.Printed("value", q)
	}
}

// The tiers are in order, and people add up.
func TestTiers(t *testing.T) {
	var last Range[FlowRate]
	for tier := Drinking; tier <= Normal; tier++ {
		one, err := tier.Use(1)
		require.NoError(t, err)
		assert.True(t, one.Valid())
		assert.Greater(t, float64(one.Low), float64(last.Low), tier)
		five, err := tier.Use(5)
		require.NoError(t, err)
		assert.InEpsilon(t, 5*float64(one.High), float64(five.High), 1e-12)
		last = one
	}
	assert.Equal(t, "emergency", Emergency.String())
	assert.Equal(t, "none", Tier(0).String())
	assert.Equal(t, "none", Tier(200).String())
}

// The parts make the whole, and the drinking water is that of the tier.
func TestPartsOfEmergency(t *testing.T) {
	parts, err := PartsOfEmergency(4)
	require.NoError(t, err)
	whole, err := Emergency.Use(4)
	require.NoError(t, err)
	drinking, err := Drinking.Use(4)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(whole.Low), float64(parts.Drinking.Low+parts.Hygiene.Low+parts.Cooking.Low), 1e-12)
	assert.InEpsilon(t, float64(whole.High), float64(parts.Drinking.High+parts.Hygiene.High+parts.Cooking.High), 1e-12)
	assert.InEpsilon(t, float64(drinking.High), float64(parts.Drinking.High), 1e-12)
	for _, n := range []int{0, -1, 1001} {
		_, err := PartsOfEmergency(n)
		refused(t, err, "persons")
	}
}

func TestLasts(t *testing.T) {
	store, err := Lasts(30*USGallon, 10*USGallonPerDay)
	require.NoError(t, err)
	assert.InEpsilon(t, 3, float64(store/Day), 1e-12)
	empty, err := Lasts(0, 10*USGallonPerDay)
	require.NoError(t, err)
	assert.Zero(t, float64(empty))
}

func TestDemandBounds(t *testing.T) {
	for _, tier := range []Tier{0, Normal + 1, 255} {
		_, err := tier.Use(1)
		refused(t, err, "tier")
	}
	for _, n := range []int{0, -1, 1001} {
		_, err := Emergency.Use(n)
		refused(t, err, "persons")
		_, err = IndoorUse(n)
		refused(t, err, "persons")
	}
	for _, x := range notNumbers {
		_, err := Lasts(unit.Volume(x), 10*USGallonPerDay)
		refused(t, err, "water available")
		_, err = Lasts(10*USGallon, FlowRate(x))
		refused(t, err, "use")
	}
	_, err := Lasts(10*USGallon, 0)
	refused(t, err, "use")
	_, err = Lasts(1001, 0)
	refused(t, err, "water available")
}
