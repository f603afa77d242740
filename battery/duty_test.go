package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestDutyTable(t *testing.T) {
	r := Rating{Capacity: 330 * AmpereHour, Time: 20 * Hour}
	k, err := PeukertExponent(r, Rating{Capacity: 271 * AmpereHour, Time: 5 * Hour})
	require.NoError(t, err)
	bare := Peukert{Rating: r, Exponent: k, Most: 660 * AmpereHour}
	capped := Peukert{Rating: r, Exponent: k, Most: 367 * AmpereHour}
	counted := map[Duty]bool{}
	for _, row := range reftest.Rows(t, "battery/pump_duty.csv") {
		on, off := row.Float("on_min"), row.Float("off_min")
		d := Duty{Running: unit.Current(row.Float("current_a")), OnFraction: on / (on + off)}
		x, err := bare.Duty(d)
		require.NoError(t, err)
		// The file repeats the first for every cycle of a current, and the second
		// for every cycle of one share: each counts once.
		assert.InDelta(t, row.Float("running_h"), hours(x.On().Low), 0.0005000001, row.Source())
		assert.InDelta(t, row.Float("average_h"), hours(x.On().High), 0.0005000001, row.Source())
		if !counted[d] {
			counted[d] = true
			if off == 0 {
				row.Printed("running_h", hours(x.On().Low))
			} else {
				row.Printed("average_h", hours(x.On().High))
			}
		}

		x, err = capped.Duty(d)
		require.NoError(t, err)
		// The optimistic end with its 100 h cap beside the kinetic model.
		assert.InEpsilon(t, row.Float("kinetic_h"), hours(x.On().High), 0.04, row.Source())
		assert.LessOrEqual(t, hours(x.On().Low), row.Float("kinetic_h"), row.Source())
	}
}

func TestDutyLimits(t *testing.T) {
	full := must[DutyRuntime](t)(hundred.Duty(Duty{Running: 30, OnFraction: 1}))
	assert.InEpsilon(t, float64(must[unit.Time](t)(hundred.Runtime(30))), float64(full.RunningCurrent), 1e-12)
	assert.InEpsilon(t, float64(full.AverageCurrent), float64(full.RunningCurrent), 1e-12)

	idle := must[DutyRuntime](t)(hundred.Duty(Duty{Running: 30, Standing: 2, OnFraction: 0}))
	assert.InEpsilon(t, 50, hours(idle.RunningCurrent), 1e-12)
	assert.InEpsilon(t, 50, hours(idle.AverageCurrent), 1e-12)
	assert.Zero(t, float64(idle.On().High))

	// With a standing current the two times add as rates.
	both := must[DutyRuntime](t)(hundred.Duty(Duty{Running: 30, Standing: 6, OnFraction: 0.25}))
	running, standing := hours(must[unit.Time](t)(hundred.Runtime(30))), hours(must[unit.Time](t)(hundred.Runtime(6)))
	assert.InEpsilon(t, 1/(0.25/running+0.75/standing), hours(both.RunningCurrent), 1e-12)
	assert.InEpsilon(t, hours(must[unit.Time](t)(hundred.Runtime(12))), hours(both.AverageCurrent), 1e-12)

	i := must[unit.Current](t)(Duty{Running: 30, Standing: 2, OnFraction: 0.25}.Average())
	assert.InDelta(t, 9, float64(i), 1e-12)

	for _, d := range []Duty{
		{},
		{Running: 30, Standing: 1001, OnFraction: 0.9999},
		{Running: 30, OnFraction: 0},
		{Running: 30, OnFraction: 25},
		{Running: 30, OnFraction: -0.1},
		{Running: 30, OnFraction: math.NaN()},
		{Running: -30, OnFraction: 0.5},
		{Running: 30, Standing: -1, OnFraction: 0.5},
		{Running: 1001, OnFraction: 0.5},
		{Running: 30, Standing: unit.Current(math.Inf(1)), OnFraction: 0.5},
	} {
		_, err := hundred.Duty(d)
		refused(t, err, "%+v", d)
	}
	_, err := Duty{}.Average()
	refused(t, err)
	_, err = Peukert{}.Duty(Duty{Running: 30, OnFraction: 1})
	refused(t, err)
}

func TestFractionUsed(t *testing.T) {
	used := must[Range[float64]](t)(hundred.FractionUsed([]Step{{Current: 5, For: 10 * Hour}, {For: 5 * Hour}}))
	assert.InDelta(t, 0.5, used.Low, 1e-12)
	assert.InDelta(t, 0.5, used.High, 1e-12)
	used = must[Range[float64]](t)(hundred.FractionUsed(nil))
	assert.Zero(t, used)
	used = must[Range[float64]](t)(hundred.FractionUsed([]Step{{Current: 50, For: 3 * Hour}}))
	assert.Greater(t, used.High, 1.5)
	for _, s := range []Step{
		{Current: -1, For: Hour},
		{Current: 5, For: -Hour},
		{Current: 5, For: unit.Time(math.NaN())},
		{Current: unit.Current(math.Inf(1)), For: Hour},
	} {
		_, err := hundred.FractionUsed([]Step{s})
		refused(t, err, "%+v", s)
	}
	_, err := Peukert{}.FractionUsed(nil)
	refused(t, err)
}

func FuzzDuty(f *testing.F) {
	f.Add(1.2, 30.0, 1.0, 0.2)
	f.Add(1.0, 400.0, 0.0, 1.0)
	f.Fuzz(func(t *testing.T, k, running, standing, fraction float64) {
		p := hundred
		p.Exponent = k
		d := Duty{Running: unit.Current(running), Standing: unit.Current(standing), OnFraction: fraction}
		x, err := p.Duty(d)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, x.Elapsed().Valid())
		require.True(t, x.On().Valid())
		require.Positive(t, float64(x.RunningCurrent))
		require.False(t, math.IsInf(float64(x.AverageCurrent), 0))
	})
}
