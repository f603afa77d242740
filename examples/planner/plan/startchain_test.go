package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// readMaker takes a site through all steps that come before the figures.
func readMaker(tb testing.TB, s Site) *maker {
	tb.Helper()
	m := &maker{site: s.clone()}
	for _, step := range []func() error{
		m.readBank, m.readInverter, m.readCable, m.readWater, m.readWell, m.readLoads, m.findEnd, m.findTogether,
	} {
		require.NoError(tb, step())
	}
	return m
}

// weakStarts are the starts of the sample's well pump at the bad end, at the
// depth limit.
func weakStarts(tb testing.TB) []startCase {
	tb.Helper()
	m := readMaker(tb, mustRead(tb, sampleText(tb)))
	motors, why := m.loads[0].typicalMotors()
	require.Empty(tb, why)
	cases, err := m.startCases(0, motors, m.bank.end, weakAmong)
	require.NoError(tb, err)
	require.NotEmpty(tb, cases)
	return cases
}

// On a stiff battery and without a limit the chain is the plain voltage.
func TestStartChainIdealSource(t *testing.T) {
	for _, c := range weakStarts(t) {
		c.inverter.Surge = inverter.Surge{}
		c.inverter.Source = inverter.Source{OpenCircuit: 25, Battery: 10e-6}
		went, err := c.follow()
		require.NoError(t, err)
		want := c.ideal()
		assert.True(t, went.starts())
		assert.InEpsilon(t, float64(want.result.FullSpeed), float64(went.result.FullSpeed), 1e-9)
		assert.InEpsilon(t, float64(want.result.LeastVoltage), float64(went.result.LeastVoltage), 1e-9)
		assert.InEpsilon(t, float64(want.result.Energy), float64(went.result.Energy), 1e-9)
		assert.InDelta(t, 25, float64(went.dcVoltage), 0.01)
		assert.Equal(t, "no limit of the inverter acts", went.acts())
	}
}

// The dc side is the root of the circuit equations, and its extremes belong to
// one point.
func TestStartChainDCSide(t *testing.T) {
	for _, c := range weakStarts(t) {
		went, err := c.follow()
		require.NoError(t, err)
		s := c.inverter.Source
		assert.InEpsilon(t, float64(s.OpenCircuit-went.dcVoltage)/float64(s.Resistance()), float64(went.dcCurrent), 1e-9)
		assert.InEpsilon(t, float64(went.result.GreatestDC), float64(went.dcVoltage)*float64(went.dcCurrent), 1e-9)
	}
}

// The limit that acts first is named, with its time, and the inverter that
// switches off ends the start there.
func TestStartChainNamesTheLimit(t *testing.T) {
	c := weakStarts(t)[0]
	at := func(change func(*inverter.Limited)) corner {
		s := c
		change(&s.inverter)
		went, err := s.follow()
		require.NoError(t, err)
		return went
	}
	free := at(func(*inverter.Limited) {})
	require.True(t, free.starts())

	held := at(func(l *inverter.Limited) {
		l.Surge = inverter.Surge{Continuous: 600, Points: []inverter.SurgePoint{{Apparent: 2500, For: 9}}}
	})
	assert.Equal(t, inverter.SurgeRating, held.limit)
	assert.Zero(t, held.after)
	assert.Equal(t, 1, held.rank(), "it comes up, at a limit")
	assert.Greater(t, held.result.FullSpeed, free.result.FullSpeed)
	assert.Equal(t, "the surge rating holds the current from the first instant", held.acts())
	assert.Zero(t, held.tripped)

	// A surge that is over before the motor is up.
	half := free.result.FullSpeed / 2
	short := at(func(l *inverter.Limited) {
		l.Surge = inverter.Surge{Continuous: 600, Points: []inverter.SurgePoint{{Apparent: 9000, For: half}}}
	})
	assert.Equal(t, inverter.ContinuousRating, short.limit)
	assert.InDelta(t, float64(half), float64(short.after), 1e-4)
	assert.Greater(t, short.tripped, 10.0)
	assert.Contains(t, short.acts(), "the continuous rating holds the current after 0.1")

	low := at(func(l *inverter.Limited) { l.CutOff = inverter.CutOff{Running: 23.5} })
	assert.Equal(t, inverter.RunningCutOff, low.limit)
	assert.Equal(t, 0, low.rank(), "a cut-off is no limit that can be held")
	assert.Contains(t, low.acts(), "the low-voltage cut-off trips from the first instant")

	// One that waits 60 ms rides through to the start cut-off, and then trips.
	waits := at(func(l *inverter.Limited) { l.CutOff = inverter.CutOff{Running: 23.5, Start: 20, Allowed: 0.06} })
	assert.Equal(t, inverter.CutOffDelay, waits.limit)
	assert.InDelta(t, 0.06, float64(waits.after), 1e-4)
	dips := at(func(l *inverter.Limited) { l.CutOff = inverter.CutOff{Running: 23.5, Start: 22.5, Allowed: 5} })
	assert.Equal(t, inverter.StartCutOff, dips.limit)
	assert.Equal(t, 1, dips.rank())
	assert.InDelta(t, 22.5, float64(dips.dcVoltage), 1e-6, "the dip ends at the start cut-off")
}

// What runs beside a start only adds: idle draw as much as it is, at the same
// losses with load.
func TestIdling(t *testing.T) {
	l := inverter.Loss{Rated: 3000, Idle: 20, Linear: 0.05, Quadratic: 0.04}
	for _, more := range []unit.Power{0, 100, 900, 5000} {
		got := idling(l, more)
		require.NoError(t, got.Validate())
		for _, p := range []unit.Power{0, 500, 3000} {
			want, err1 := l.DCPowerAt(p, motor.ApparentPower(1.2*p))
			dc, err2 := got.DCPowerAt(p, motor.ApparentPower(1.2*p))
			require.NoError(t, first(err1, err2))
			assert.InEpsilon(t, float64(want+more), float64(dc), 1e-12)
		}
	}
	// Where the model ends it stays valid.
	require.NoError(t, idling(inverter.Loss{Rated: 3000, Quadratic: 0.5}, 200e3).Validate())
}

// FuzzStartChain: more resistance before the inverter, less rest voltage and a
// higher cut-off never improve a start, nor does less surge that of an inverter
// that switches off. (One that lowers its voltage may be spared its cut-off by a
// lower surge rating.)
func FuzzStartChain(f *testing.F) {
	cases := weakStarts(f)
	f.Add(byte(0), 5.0, 4000.0, 25.0, byte(0), 2.0)
	f.Add(byte(1), 12.0, 3600.0, 24.0, byte(1), 0.5)
	f.Add(byte(0), 20.0, 2500.0, 24.5, byte(2), 0.3)
	f.Add(byte(1), 8.0, 3000.0, 23.5, byte(3), 0.7)
	f.Add(byte(1), 15.0, 9000.0, 24.0, byte(4), 1.0)
	f.Fuzz(func(t *testing.T, which byte, milliohms, surge, volts float64, what byte, by float64) {
		if !(milliohms >= 0.1 && milliohms <= 100 && surge >= 100 && surge <= 2e4 && volts >= 20.5 && volts <= 27 && by >= 0 && by <= 10) {
			return
		}
		c := cases[int(which)%len(cases)]
		c.inverter.Source = inverter.Source{OpenCircuit: unit.Voltage(volts), Battery: unit.Resistance(milliohms / 1000), Cable: 1e-3}
		c.inverter.Surge = inverter.Surge{Continuous: motor.ApparentPower(min(surge, 800)), Points: []inverter.SurgePoint{{Apparent: motor.ApparentPower(max(surge, 800)), For: 2}}}
		worse := c
		holding := true // the law holds for an inverter that lowers its voltage as well
		switch what % 5 {
		case 0:
			worse.inverter.Source.Battery = min(1, worse.inverter.Source.Battery*unit.Resistance(1+by))
		case 1:
			worse.inverter.Source.Cable += unit.Resistance(by / 100)
		case 2:
			worse.inverter.Source.OpenCircuit -= unit.Voltage(by / 10)
		case 3:
			worse.inverter.CutOff.Running += unit.Voltage(by / 10)
		case 4:
			p := worse.inverter.Surge.Points[0]
			p.Apparent = max(worse.inverter.Surge.Continuous, p.Apparent/motor.ApparentPower(1+by))
			worse.inverter.Surge.Points = []inverter.SurgePoint{p}
			holding = false
		}
		a, err := c.follow()
		require.NoError(t, err)
		b, err := worse.follow()
		require.NoError(t, err)
		if b.starts() {
			require.True(t, a.starts(), "%+v", worse.inverter)
			assert.LessOrEqual(t, float64(a.result.FullSpeed), float64(b.result.FullSpeed)*(1+1e-6))
		}
		if holding {
			assert.GreaterOrEqual(t, a.rank(), b.rank(), "%+v", worse.inverter)
			if a.comesUp() && b.comesUp() {
				assert.LessOrEqual(t, float64(a.result.FullSpeed), float64(b.result.FullSpeed)*(1+1e-6))
			}
			assert.GreaterOrEqual(t, float64(a.dcVoltage)+max(0, float64(worse.inverter.CutOff.Running-c.inverter.CutOff.Running)), float64(b.dcVoltage)-1e-6*volts)
		}
	})
}

// More dc cable, a colder or emptier battery and less surge never improve a
// start of a whole plan.
func TestWorseNeverStartsBetter(t *testing.T) {
	for _, tt := range []struct {
		name, line string
		worse      []string
	}{
		{"cable", `length = "6 ft (measured)"`, []string{`length = "12 ft"`, `length = "30 ft"`, `length = "90 ft"`}},
		{"thinner cable", `size = "2/0 AWG"`, []string{`size = "2 AWG"`, `size = "6 AWG"`, `size = "10 AWG"`}},
		{"contacts", `contacts = "0.4..0.8 mohm (rule of thumb)"`, []string{`contacts = "2 mohm"`, `contacts = "20 mohm"`}},
		{"cold", `temperature = "12 °C (measured)"`, []string{`temperature = "5 °C"`, `temperature = "0 °C"`, `temperature = "-3 °C"`}},
		{"charge", `charge_at_start = "100 %"`, []string{`charge_at_start = "80 %"`, `charge_at_start = "60 %"`}},
		{"depth", `depth_limit = "70 %"`, []string{`depth_limit = "80 %"`, `depth_limit = "95 %"`}},
		{"resistance", `unit_resistance = "1.6..2.0 mohm (measured)"`, []string{`unit_resistance = "1.6..4 mohm"`, `unit_resistance = "1.6..9 mohm"`}},
		{"surge", `surge = ["9000 VA for 0.5 s", "6000 VA for 5 s", "4000 VA for 60 s"]`, []string{`surge = ["6000 VA for 5 s"]`, `surge = ["4000 VA for 5 s"]`, `surge = ["3500 VA for 0.1 s"]`}},
		{"wires", `length = "18 m"`, []string{`length = "60 m"`, `length = "150 m"`}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			before := changedPlan(t)
			for _, worse := range tt.worse {
				after := changedPlan(t, tt.line, worse)
				for _, key := range before.Keys {
					a, b := checkOf(t, before, key+".start_runup"), checkOf(t, after, key+".start_runup")
					assert.GreaterOrEqual(t, a.State, b.State, "%s %s", key, worse)
					x, y := figure(t, before, key+".runup_s"), figure(t, after, key+".runup_s")
					if b.State == Holds {
						assert.LessOrEqual(t, x.High, y.High*(1+1e-6), "%s %s", key, worse)
					}
					assert.LessOrEqual(t, x.Low, y.Low*(1+1e-6), "%s %s", key, worse)
					if tt.name != "surge" && tt.name != "wires" { // these lower what is asked of the battery
						assert.GreaterOrEqual(t, figure(t, before, key+".runup_dc_v").Low, figure(t, after, key+".runup_dc_v").Low-1e-9, "%s %s", key, worse)
					}
				}
				before = after
			}
		})
	}
}
