package plan

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

func TestEdge(t *testing.T) {
	asked := 0
	x, ok := edge(0, 10, func(x float64) bool { asked++; return x <= 3 })
	assert.True(t, ok)
	assert.LessOrEqual(t, x, 3.0)
	assert.InEpsilon(t, 3, x, 0.02)
	x, ok = edge(5e5, 100, func(x float64) bool { asked++; return x >= 4321 })
	assert.True(t, ok)
	assert.GreaterOrEqual(t, x, 4321.0)
	assert.InEpsilon(t, 4321, x, 0.02)
	assert.LessOrEqual(t, asked, 26, "bounded")
	_, ok = edge(0, 10, func(float64) bool { return false })
	assert.False(t, ok)
}

// A starter that holds the current is no limit of the inverter, any other is.
func TestSoftStart(t *testing.T) {
	c := weakStarts(t)[0]
	free := c.ideal().result.First.Current
	held := softStart{c.inverter}
	held.Current = 0.7 * free
	slow, trip, err := c.on(held, held.Limited)
	require.NoError(t, err)
	assert.Nil(t, trip)
	assert.True(t, slow.comesUp())
	assert.InEpsilon(t, 0.7*float64(free), float64(slow.result.First.Current), 1e-9)
	// Torque at rest goes with the square of the current.
	full := c.ideal().result.First.Torque
	assert.InEpsilon(t, 0.49*float64(full), float64(slow.result.First.Torque), 1e-9)
	held.Surge = inverter.Surge{Continuous: 100}
	_, trip, err = c.on(held, held.Limited)
	require.NoError(t, err)
	require.NotNil(t, trip)
	assert.Equal(t, inverter.ContinuousRating, trip.Limit)
}

// What is said to be enough is enough, and a tenth less is not: the site with
// that change plans a start.
func TestRemediesHold(t *testing.T) {
	weak := siteFile(t, "c49_weak_batteries")
	const id = "refrigerator.start_runup"
	p, err := Make(weak)
	require.NoError(t, err)
	require.NotEqual(t, Holds, checkOf(t, p, id).State)
	state := func(change func(*Site)) State {
		s := weak
		change(&s)
		p, err := Make(s)
		require.NoError(t, err)
		return checkOf(t, p, id).State
	}
	need := func(key string) float64 { return figure(t, p, "refrigerator."+key).High }

	// The bank's resistance at the depth limit is that of a full one risen.
	r := readMaker(t, weak).bank.end.resistance.High
	share := need("need_battery_ohm") / float64(r)
	resistance := func(k float64) func(*Site) {
		return func(s *Site) {
			s.Battery.UnitResistance.Low *= unit.Resistance(k)
			s.Battery.UnitResistance.High *= unit.Resistance(k)
		}
	}
	assert.Equal(t, Holds, state(resistance(0.99*share)))
	assert.NotEqual(t, Holds, state(resistance(1.1*share)))
	strings := int(math.Ceil(4 / share))
	assert.Equal(t, Holds, state(func(s *Site) { s.Battery.Parallel = strings }))

	cable := func(x float64) func(*Site) {
		return func(s *Site) {
			s.DCCable = DCCable{Contacts: Value[unit.Resistance]{Low: unit.Resistance(x), High: unit.Resistance(x), given: true}}
		}
	}
	assert.Equal(t, Holds, state(cable(0.99*need("need_cable_ohm"))))
	assert.NotEqual(t, Holds, state(cable(1.1*need("need_cable_ohm"))))

	// The rating that would do, for as long as it says and no longer.
	weak = siteFile(t, "c12_stepped_jet")
	p, err = Make(weak)
	require.NoError(t, err)
	va := figure(t, p, "jet_pump.need_surge_va")
	var seconds unit.Time
	_, err = fmt.Sscanf(va.Also, "for %f s", &seconds)
	require.NoError(t, err)
	for _, c := range []struct {
		va, time float64
		want     bool
	}{{1, 1, true}, {0.97, 1, false}, {1, 0.9, false}} {
		s := weak
		v, d := motor.ApparentPower(c.va*va.High), unit.Time(c.time)*seconds
		s.Inverter.Surge = []SurgePoint{{Apparent: Value[motor.ApparentPower]{Low: v, High: v, given: true}, For: Value[unit.Time]{Low: d, High: d, given: true}}}
		q, err := Make(s)
		require.NoError(t, err)
		surge := checkOf(t, q, "jet_pump.start_surge") // depends in any case, the wave being stepped
		assert.Equal(t, c.want, checkOf(t, q, "jet_pump.start_runup").State == Holds && surge.High <= surge.Limit, "%v", c)
	}
}

// Numbers that are asked for do as they are written.
func TestUpAndDown(t *testing.T) {
	for _, x := range []float64{0.4142, 1.0001, 2999.9, 0.05, 3, 123456, 7.87e-5} {
		for digits := 1; digits < 5; digits++ {
			assert.GreaterOrEqual(t, up(x, digits), x*(1-1e-8))
			assert.LessOrEqual(t, down(x, digits), x*(1+1e-8))
			assert.InEpsilon(t, x, up(x, digits), 1.01*math.Pow10(1-digits))
			assert.InEpsilon(t, x, down(x, digits), 1.01*math.Pow10(1-digits))
		}
	}
	assert.InDelta(t, 3, up(3, 3), 0)
	assert.Equal(t, "0.0000787", num(7.87e-5), "no exponent")
}

// An inverter that is too small for what runs is asked for more without end as
// well: no surge is long enough.
func TestRemedyOfAnOverload(t *testing.T) {
	p := changedPlan(t, `power = "3000 W (nameplate)"`, `power = "1200 W"`, `surge = ["9000 VA for 0.5 s", "6000 VA for 5 s", "4000 VA for 60 s"]`, `surge = ["1500 VA for 5 s"]`,
		`efficiency_at = ["91 % at 600 W", "86 % at 3000 W"]`, `efficiency = "85..90 %"`)
	assert.Contains(t, strings.Join(notes(p), " "), " VA without end (now 1500 VA at the most)")
}

// Where no single change is enough, two together are found; and where the motor
// does not come up on any source, none is sought.
func TestRemediesTold(t *testing.T) {
	told := func(p *Plan) string { return strings.Join(notes(p), " ") }
	p := planned(t, "c10_one_hp")
	assert.Contains(t, told(p), "no single change is enough, but two together are: a battery of at most")
	assert.Contains(t, told(p), "a dc cable however thick")
	p = planned(t, "c21_two_freezers")
	assert.Contains(t, told(p), "it does not come up on any source of 120 V")
	_, ok := p.Figure("freezers.need_surge_va")
	assert.False(t, ok)
	assert.NotContains(t, told(planned(t, "c19_cold_food")), "enough")

	// Loads that run beside it can be switched off.
	p = changedPlan(t, `surge = ["9000 VA for 0.5 s", "6000 VA for 5 s", "4000 VA for 60 s"]`, `surge = ["3500 VA for 5 s"]`)
	assert.Equal(t, Depends, checkOf(t, p, "well_pump.start_runup").State)
	assert.Contains(t, told(p), "start it while nothing else runs")
}

// The management is in no simulated start, and the note says so; and a start that
// never ends at the bad end is not in good time.
func TestRemedyBesideManagement(t *testing.T) {
	weak := []string{`surge = ["9000 VA for 0.5 s", "6000 VA for 5 s", "4000 VA for 60 s"]`, `surge = ["3100 VA for 0.2 s"]`}
	p := changedPlan(t, append(weak, managementKey, `management = ["60 A"]`)...)
	assert.Contains(t, strings.Join(notes(p), " "), "management is none of this")
	assert.NotContains(t, strings.Join(notes(changedPlan(t, weak...)), " "), "management")

	c := checkOf(t, planned(t, "c02_distant_well"), "well_pump.start_time")
	assert.NotEqual(t, Holds, c.State)
	assert.Contains(t, c.Message, "never comes up")
}
