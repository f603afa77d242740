package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

func TestPumpTorque(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/pump_torque.csv") {
		x := Speed(row.Float("speed_fraction"))
		open := CentrifugalLoad{Rated: 1, Speed: 180, Breakaway: 0.2}
		row.Printed("t_open_fraction", float64(open.Torque(180*x)))
		if x > 0 { // at rest the valve says nothing
			closed := open
			closed.Shutoff = 0.4
			row.Printed("t_closed_valve_fraction", float64(closed.Torque(180*x)))
		}
	}
}

func TestConstantLoad(t *testing.T) {
	piston := ConstantLoad{Rated: 2, Breakaway: 1.5}
	require.NoError(t, piston.Validate())
	assert.InDelta(t, 3, float64(piston.Torque(0)), 0)
	assert.InDelta(t, 2, float64(piston.Torque(1)), 0)
	round := ConstantLoad{Rated: 2, Rounding: 0.5}
	assert.InDelta(t, 2*math.Tanh(1), float64(round.Torque(0.5)), 1e-15)
	assert.Zero(t, round.Torque(0))
}

// A belt that halves the speed halves the torque; power is kept.
func TestGearedLoad(t *testing.T) {
	pump := CentrifugalLoad{Rated: 4, Speed: 90, Breakaway: 0.1}
	belt := GearedLoad{Load: pump, Ratio: 0.5, Efficiency: 0.8}
	require.NoError(t, belt.Validate())
	assert.InEpsilon(t, float64(pump.Torque(90))*90/0.8, float64(belt.Torque(180))*180, 1e-12)
	require.ErrorIs(t, GearedLoad{Ratio: 1}.Validate(), ErrDomain)
}

func TestLoadBounds(t *testing.T) {
	good := CentrifugalLoad{Rated: 1, Speed: 180}
	for _, x := range bad {
		for name, l := range map[string]Load{
			"rated":      CentrifugalLoad{Rated: 0 * 1, Speed: 180, Breakaway: x},
			"breakaway":  CentrifugalLoad{Rated: good.Rated, Speed: good.Speed, Breakaway: x},
			"shutoff":    CentrifugalLoad{Rated: good.Rated, Speed: good.Speed, Shutoff: x},
			"speed":      CentrifugalLoad{Rated: good.Rated, Speed: Speed(x)},
			"ratio":      GearedLoad{Load: good, Ratio: x},
			"efficiency": GearedLoad{Load: good, Ratio: 1, Efficiency: x},
			"constant":   ConstantLoad{Rated: 1, Breakaway: x},
			"rounding":   ConstantLoad{Rated: 1, Rounding: Speed(x)},
		} {
			require.ErrorIs(t, l.Validate(), ErrDomain, "%s %v", name, x)
		}
	}
	require.NoError(t, good.Validate())
	require.ErrorIs(t, ConstantLoad{Rated: 1, Breakaway: 1.2, Rounding: 1}.Validate(), ErrDomain)
	require.NoError(t, CentrifugalLoad{Rated: 1e-3, Speed: 1}.Validate())
	require.ErrorIs(t, CentrifugalLoad{Rated: 0.99e-3, Speed: 1}.Validate(), ErrDomain)
	require.ErrorIs(t, CentrifugalLoad{Rated: 10.01e3, Speed: 1}.Validate(), ErrDomain)
}
