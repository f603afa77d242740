package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestStore(t *testing.T) {
	flow := func(r reftest.Row) FlowRate {
		if r.Text("unit") == "gal" {
			return FlowRate(r.Param("use", "gal/day")) * USGallonPerDay
		}
		return FlowRate(r.Param("use", "L/day")) * LitrePerDay
	}
	size := func(r reftest.Row) unit.Volume {
		if r.Text("unit") == "gal" {
			return USGallon
		}
		return Litre
	}
	for _, r := range reftest.Rows(t, "tank/store.csv") {
		s := Store{Volume: Litre, Use: LitrePerDay, Energy: WattHourPerLitre}
		if r.HasParam("volume") {
			s.Volume = unit.Volume(r.Param("volume", "L")) * Litre
		}
		if r.HasParam("use") {
			s.Use = flow(r)
		}
		if r.Text("quantity") == "energy_saved" {
			s.Energy = EnergyPerVolume(r.Param("energy", "Wh/L")) * WattHourPerLitre
		}
		w, err := s.Worth()
		require.NoError(t, err, r.Source())
		switch quantity := r.Text("quantity"); quantity {
		case "store_for":
			v, err := StoreFor(s.Use, unit.Time(r.Param("outage", "days"))*Day)
			require.NoError(t, err)
			r.Expected(float64(v / size(r)))
		case "energy_saved":
			r.Expected(float64(w.Saved / WattHour))
		case "lasts":
			r.Expected(float64(w.Lasts / Day))
		case "mass":
			r.Expected(float64(w.Mass))
		case "pumped_by":
			e := WattHourPerLitre
			if r.Text("unit") == "gal" {
				e = WattHourPerUSGallon * EnergyPerVolume(r.Param("per_volume", "Wh/gal"))
			} else {
				e *= EnergyPerVolume(r.Param("per_volume", "Wh/L"))
			}
			v, err := PumpedBy(unit.Energy(r.Param("energy", "Wh"))*WattHour, e)
			require.NoError(t, err)
			r.Expected(float64(v / size(r)))
		default:
			t.Fatal(r.Source(), "unknown quantity", quantity)
		}
	}
}

func TestStoreBounds(t *testing.T) {
	good := Store{Volume: 200 * Litre, Use: 60 * LitrePerDay, Energy: 0.66 * WattHourPerLitre}
	for _, x := range append(notNumbers, 0, 1001) {
		bad := good
		bad.Volume = unit.Volume(x)
		_, err := bad.Worth()
		refused(t, err, "store")
		bad = good
		bad.Use = FlowRate(x)
		_, err = bad.Worth()
		refused(t, err, "use")
		_, err = StoreFor(FlowRate(x), Day)
		refused(t, err, "use")
		_, err = StoreFor(good.Use, unit.Time(x))
		refused(t, err, "outage")
	}
	for _, x := range append(notNumbers, 0, 0.66, 999, 1.1e9) {
		bad := good
		bad.Energy = EnergyPerVolume(x)
		_, err := bad.Worth()
		refused(t, err, "energy a volume")
		_, err = PumpedBy(WattHour, EnergyPerVolume(x))
		refused(t, err, "energy a volume")
	}
	for _, x := range append(notNumbers, 3.7e9) {
		_, err := PumpedBy(unit.Energy(x), WattHourPerLitre)
		refused(t, err, "energy")
	}
	none, err := PumpedBy(0, WattHourPerLitre)
	require.NoError(t, err)
	assert.Zero(t, float64(none))
	for _, s := range []Store{{leastStore, leastDemand, leastPerVolume}, {mostStore, mostFlow, mostPerVolume}} {
		_, err := s.Worth()
		require.NoError(t, err)
	}
}

// What a store saves brings the store up.
func FuzzStore(f *testing.F) {
	f.Add(200.0, 60.0, 0.66)
	f.Add(math.NaN(), -1.0, math.Inf(1))
	f.Fuzz(func(t *testing.T, litres, use, whPerLitre float64) {
		s := Store{unit.Volume(litres) * Litre, FlowRate(use) * LitrePerDay, EnergyPerVolume(whPerLitre) * WattHourPerLitre}
		w, err := s.Worth()
		known(t, err)
		finite(t, err, float64(w.Mass), float64(w.Lasts), float64(w.Saved))
		if err != nil {
			return
		}
		if v, err := PumpedBy(w.Saved, s.Energy); err == nil {
			require.InEpsilon(t, float64(s.Volume), float64(v), 1e-12)
		}
		if v, err := StoreFor(s.Use, w.Lasts); err == nil {
			require.InEpsilon(t, float64(s.Volume), float64(v), 1e-12)
		}
	})
}
