package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// poorWell yields 3 gal/min, and its pump 10.
var poorWell = Well{
	Casing: 6 * Inch, Static: 50 * Foot, Intake: 200 * Foot, Capacity: 0.02 * USGallonPerMinutePerFoot,
}

func TestWell(t *testing.T) {
	feet := func(r reftest.Row, name string) unit.Length { return unit.Length(r.Param(name, "ft")) * Foot }
	well := func(r reftest.Row) Well {
		return Well{
			Casing: unit.Length(r.Param("casing", "in")) * Inch, Static: feet(r, "static"), Intake: feet(r, "intake"),
			Capacity: SpecificCapacity(r.Param("capacity", "gpm/ft")) * USGallonPerMinutePerFoot,
		}
	}
	pump := func(r reftest.Row) FlowRate { return FlowRate(r.Param("pump", "gpm")) * USGallonPerMinute }
	pumped := func(r reftest.Row) Pumped {
		p, err := well(r).Pump(pump(r))
		require.NoError(t, err, r.Source())
		return p
	}
	for _, r := range reftest.Rows(t, "tank/well.csv") {
		switch quantity := r.Text("quantity"); quantity {
		case "storage_per_foot":
			r.Expected(gallons(t, r)(CasingVolume(unit.Length(r.Param("casing", "in"))*Inch, Foot)))
		case "specific_capacity":
			c, err := SpecificCapacityOf(FlowRate(r.Param("flow", "gpm"))*USGallonPerMinute, feet(r, "drawdown"))
			require.NoError(t, err)
			r.Expected(float64(c / USGallonPerMinutePerFoot))
		case "yield":
			q, err := well(r).Yield()
			require.NoError(t, err)
			r.Expected(float64(q / USGallonPerMinute))
		case "time_to_intake":
			p := pumped(r)
			assert.True(t, p.Outruns)
			r.Expected(float64(p.Until / Minute))
		case "settled_drawdown":
			p := pumped(r)
			assert.False(t, p.Outruns)
			r.Expected(float64(p.Drawdown / Foot))
		case "delivered_in_2_h":
			r.Expected(gallons(t, r)(well(r).Delivers(pump(r), 2*Hour)))
		case "recovery":
			d, err := well(r).Recovery(feet(r, "from"), feet(r, "to"))
			require.NoError(t, err)
			r.Expected(float64(d / Minute))
		default:
			t.Fatal(r.Source(), "unknown quantity", quantity)
		}
	}
	assert.Equal(t, "0.0002 m^2/s", format("%.4f", USGallonPerMinutePerFoot))
}

func TestWellBounds(t *testing.T) {
	pump := 10 * USGallonPerMinute
	for _, x := range append(notNumbers, 0, 0.019, 6) {
		bad := poorWell
		bad.Casing = unit.Length(x)
		_, err := bad.Pump(pump)
		refused(t, err, "casing")
		_, err = CasingVolume(unit.Length(x), 1)
		refused(t, err, "casing")
	}
	for _, x := range append(notNumbers, 601) {
		bad := poorWell
		bad.Static = unit.Length(x)
		_, err := bad.Yield()
		refused(t, err, "static level")
		_, err = CasingVolume(6*Inch, unit.Length(x))
		refused(t, err, "length of casing")
	}
	for _, x := range append(notNumbers, 0, float64(50*Foot), 601) {
		bad := poorWell
		bad.Intake = unit.Length(x)
		_, err := bad.Stored()
		refused(t, err, "intake")
	}
	for _, x := range append(notNumbers, 0, 1, 0.9e-7) {
		bad := poorWell
		bad.Capacity = SpecificCapacity(x)
		_, err := bad.Recovery(10, 1)
		refused(t, err, "specific capacity")
	}
	for _, x := range append(notNumbers, 0, 10) {
		_, err := poorWell.Pump(FlowRate(x))
		refused(t, err, "pump flow")
		_, err = SpecificCapacityOf(FlowRate(x), 10)
		refused(t, err, "flow")
	}
	for _, x := range append(notNumbers, 0, 0.009, 601) {
		_, err := SpecificCapacityOf(pump, unit.Length(x))
		refused(t, err, "drawdown of the well")
	}
	_, err := SpecificCapacityOf(leastPipeFlow, mostDepth)
	refused(t, err, "specific capacity")
	for _, x := range append(notNumbers, float64(401*Day)) {
		_, err := poorWell.Delivers(pump, unit.Time(x))
		refused(t, err, "time")
	}
	for _, x := range append(notNumbers, 0, 601) {
		_, err := poorWell.Recovery(unit.Length(x), 1)
		refused(t, err, "drawdown before")
		_, err = poorWell.Recovery(600, unit.Length(x))
		refused(t, err, "drawdown after")
	}
	same, err := poorWell.Recovery(10, 10)
	require.NoError(t, err)
	assert.Zero(t, float64(same))
	edge := Well{Casing: leastCasing, Static: mostDepth, Intake: mostDepth + leastColumn, Capacity: leastCapacity}
	require.NoError(t, edge.Validate())
	edge.Casing, edge.Capacity, edge.Static = mostCasing, mostCapacity, 0
	require.NoError(t, edge.Validate())
}

// The time lies between those without inflow and with all of it; a stronger
// pump is sooner there; water out is water in and what was stored.
func FuzzWell(f *testing.F) {
	f.Add(6.0, 50.0, 200.0, 0.02, 10.0, 3.0)
	f.Add(36.0, 12.0, 30.0, 0.1, 1.8, 100.0)
	f.Add(6.0, 0.0, 100.0, 1.0, 5.0, 0.0)
	f.Add(math.NaN(), -1.0, math.Inf(1), 5e-324, 0.0, 1.0)
	f.Fuzz(func(t *testing.T, casing, static, intake, capacity, gpm, hours float64) {
		w := Well{
			Casing: unit.Length(casing) * Inch, Static: unit.Length(static) * Foot, Intake: unit.Length(intake) * Foot,
			Capacity: SpecificCapacity(capacity) * USGallonPerMinutePerFoot,
		}
		q, span := FlowRate(gpm)*USGallonPerMinute, unit.Time(hours)*Hour
		require.Equal(t, w.ok(), w.Validate() == nil)
		p, err := w.Pump(q)
		known(t, err)
		v, err2 := w.Delivers(q, span)
		known(t, err2)
		finite(t, err2, float64(v))
		if err != nil {
			return
		}
		yield, err := w.Yield()
		require.NoError(t, err)
		stored, err := w.Stored()
		require.NoError(t, err)
		finite(t, nil, float64(p.Until), float64(p.Level), float64(p.Drawdown), float64(p.Sustained))
		require.True(t, p.Drawdown > 0 && p.Level <= w.Intake && p.Sustained <= q)
		if err2 == nil {
			require.LessOrEqual(t, float64(v), float64(q.Volume(span))*(1+1e-12), "no more than the pump gives")
			require.LessOrEqual(t, float64(v), float64(stored+yield.Volume(span))*(1+1e-9), "no more than there is")
		}
		if !p.Outruns {
			require.Equal(t, q, p.Sustained)
			return
		}
		require.Greater(t, float64(q), float64(yield)*(1-1e-12))
		least := float64(stored) / float64(q)
		require.GreaterOrEqual(t, float64(p.Until), least*(1-1e-9))
		if net := float64(q - yield); net > 0 {
			require.LessOrEqual(t, float64(p.Until), float64(stored)/net*(1+1e-9))
		}
		if more, err := w.Pump(2 * q); err == nil {
			require.Less(t, float64(more.Until), float64(p.Until))
		}
	})
}
