package inverter

import (
	"errors"
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// stiff48V is a source that hardly sags.
var stiff48V = Source{OpenCircuit: 51.2, Battery: 10e-6}

// limited12V is a 1500 VA inverter of a 12 V battery, with every limit there
// is.
var limited12V = Limited{
	Voltage: 120, Frequency: 60, Current: 28,
	Surge:   Surge{Continuous: 1500, Points: []SurgePoint{{3000, 1}, {2000, 20}}},
	DCPower: 3500, Loss: unit3kW, Source: flooded12V,
	CutOff: CutOff{Running: 10.5, Start: 9.5, Allowed: 3},
}

// ideal is stiff and without a limit.
var ideal = Limited{
	Voltage: 120, Frequency: 60,
	Loss: unit3kW, Source: stiff48V, CutOff: CutOff{Running: 42},
}

func TestLimitedTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/limited_output.csv") {
		rating := ApparentPower(row.Float("rating_va"))
		l := Limited{
			Voltage: 120, Frequency: 60,
			Resistance: unit.Resistance(row.Float("out_ohm")),
			Current:    unit.Current(row.Float("limit_a")),
			DCPower:    unit.Power(row.Float("limit_dc_w")),
			Loss:       unit3kW,
			Source:     Source{OpenCircuit: unit.Voltage(row.Float("open_v")), Battery: unit.Resistance(row.Float("source_ohm"))},
			CutOff:     CutOff{Running: unit.Voltage(row.Float("floor_v")), Allowed: 5},
		}
		l.CutOff.Running += 0.1
		l.CutOff.Start = l.CutOff.Running - 0.1
		switch {
		case row.Text("limit") == "surge rating":
			l.Surge = Surge{Continuous: rating / 3, Points: []SurgePoint{{rating, 5}}}
		case rating > 0:
			l.Surge.Continuous = rating
		}
		s, err := l.State(complex(row.Float("r_ohm"), row.Float("x_ohm")), 1)
		require.NoError(t, err, row.Source())
		row.Printed("v_ac", float64(s.Voltage))
		row.Printed("i_ac", float64(s.Current))
		row.Printed("va", float64(s.Apparent))
		row.Printed("w", float64(s.Real))
		row.Printed("w_dc", float64(s.DC.Power))
		row.Printed("i_dc", float64(s.DC.Current))
		row.Printed("v_dc", float64(s.DC.Voltage))
		want := row.Text("limit")
		if want == "regulated" || want == "droop" {
			want = "nothing"
		}
		assert.Equal(t, want, s.Limit.String(), row.Source())
	}
}

// A held motor behind an output resistance takes what the phasor solution says.
func TestLimitedHeldMotor(t *testing.T) {
	byCase := map[string]reftest.Row{}
	for _, row := range reftest.Rows(t, "motor/start_phasors.csv") {
		byCase[row.Text("case")] = row
	}
	for _, name := range []string{"locked_rotor_rc3", "locked_rotor_rc9"} {
		stiff, soft := byCase[name+"_Rs0"], byCase[name+"_Rs1"]
		z := cmplx.Rect(stiff.Float("v_terminal_v")/stiff.Float("i_total_a"), math.Acos(stiff.Float("pf_source")))
		l := ideal
		l.Voltage = 110
		for ohms, row := range map[unit.Resistance]reftest.Row{0: stiff, 1: soft} {
			l.Resistance = ohms
			s, err := l.State(z, 0)
			require.NoError(t, err)
			row.Within("v_terminal_v", float64(s.Voltage), 1e-8, "the impedance comes from nine digits")
			row.Within("i_total_a", float64(s.Current), 1e-8, "the impedance comes from nine digits")
		}
		// Limited to the current of the soft source, it takes that current.
		l.Resistance, l.Current = 0, unit.Current(soft.Float("i_total_a"))
		s, err := l.State(z, 0)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(l.Current), float64(s.Current), 1e-12)
		soft.Within("v_terminal_v", float64(s.Voltage), 1e-8, "the impedance comes from nine digits")
	}
}

func TestLimitedLinear(t *testing.T) {
	open, series, limit := ideal.Linear()
	assert.InDelta(t, 120, float64(open), 0)
	assert.Equal(t, complex(0, 0), series)
	assert.True(t, math.IsInf(float64(limit), 1))
	l := limited12V
	l.Resistance = 0.2
	_, series, limit = l.Linear()
	assert.Equal(t, complex(0.2, 0), series)
	assert.InDelta(t, 25, float64(limit), 1e-12, "3000 VA at 120 V")
	l.Current = 20
	_, _, limit = l.Linear()
	assert.InDelta(t, 20, float64(limit), 0)
	l.Surge = Surge{}
	_, _, limit = l.Linear()
	assert.InDelta(t, 20, float64(limit), 0)
}

// The surge rating falls by its times, and the running cut-off ends what the
// start cut-off allows.
func TestLimitedOverTime(t *testing.T) {
	l := limited12V
	l.Source.OpenCircuit, l.Source.Battery = 25.2, 0.01
	l.CutOff = CutOff{Running: 21, Start: 19, Allowed: 3}
	for after, want := range map[unit.Time]float64{0: 25, 1: 25, 1.001: 2000.0 / 120, 20: 2000.0 / 120, 20.1: 12.5, 1e6: 12.5} {
		s, err := l.State(2+1i, after)
		require.NoError(t, err)
		assert.InEpsilon(t, want, float64(s.Current), 1e-12)
		v, f, err := l.Under(2+1i, after)
		require.NoError(t, err)
		assert.InDelta(t, float64(s.Voltage), float64(v), 0)
		assert.InDelta(t, 60, float64(f), 0)
	}

	weak := limited12V
	weak.Source.Battery = 0.012
	s, err := weak.State(6+1i, 3)
	require.NoError(t, err)
	assert.Equal(t, SurgeRating, s.Limit)
	assert.True(t, s.DC.Voltage > 9.5 && s.DC.Voltage < 10.5)
	_, err = weak.State(6+1i, 3.01)
	var trip *TripError
	require.ErrorAs(t, err, &trip)
	require.ErrorIs(t, err, ErrTrip)
	require.NotErrorIs(t, err, ErrDomain)
	assert.Equal(t, CutOffDelay, trip.Limit)
	assert.InDelta(t, float64(s.DC.Voltage), float64(trip.Input), 1e-12)
	assert.InDelta(t, float64(s.Voltage), float64(trip.Output), 1e-12)
	assert.EqualError(t, err, "inverter: trips by its cut-off delay after 3.01 s, at 101.4 V ac and 9.91 V dc")
	// A lower current limit saves it.
	weak.Current = 10
	s, err = weak.State(6+1i, 3.01)
	require.NoError(t, err)
	assert.Equal(t, CurrentLimit, s.Limit)
}

func TestLimitedTrips(t *testing.T) {
	l := limited12V
	l.Trips = true
	_, err := l.State(20, 100)
	require.NoError(t, err)
	for limit, z := range map[Link]complex128{SurgeRating: 4, StartCutOff: 4.8 + 0.5i} {
		m := l
		if limit == StartCutOff {
			m.Surge = Surge{}
		}
		_, err := m.State(z, 0)
		var trip *TripError
		require.ErrorAs(t, err, &trip)
		assert.Equal(t, limit, trip.Limit)
		m.Trips = false
		_, err = m.State(z, 0)
		require.NoError(t, err, limit)
	}

	// Nothing connected, and the battery does not carry the idle draw.
	for name, change := range map[string]func(l *Limited){
		"start cut-off":   func(l *Limited) { l.Source.OpenCircuit = 9.4 },
		"running cut-off": func(l *Limited) { l.CutOff = CutOff{Running: 10.5}; l.Source.OpenCircuit = 10.4 },
		"dc power limit":  func(l *Limited) { l.DCPower = 29 },
		"cut-off delay":   func(l *Limited) { l.Source.OpenCircuit = 10.4 },
	} {
		m := limited12V
		change(&m)
		_, err := m.State(1e9, 4)
		require.ErrorIs(t, err, ErrTrip, name)
		require.ErrorContains(t, err, "by its "+name)
	}
	// Without idle draw and load, a battery at rest below the cut-off counts too.
	m := ideal
	m.Loss.Idle, m.Source.OpenCircuit = 0, 41
	_, err = m.State(1e9, 0)
	require.ErrorIs(t, err, ErrTrip)
	m.Source.OpenCircuit, m.Loss.Quadratic = 42, 0
	_, err = m.State(complex(0, 1e9), 1)
	require.NoError(t, err)
}

// A load that gives power back costs the battery what it idles and loses.
func TestLimitedPowerBack(t *testing.T) {
	s, err := ideal.State(-50+10i, 0)
	require.NoError(t, err)
	assert.Negative(t, float64(s.Real))
	dc, err := unit3kW.DCPowerAt(0, s.Apparent)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(dc), float64(s.DC.Power), 1e-12)
}

func TestLimitedRefuses(t *testing.T) {
	domainError(t, Limited{}.Validate(), "output voltage 0 V, want 50 V to 600 V")
	for words, change := range map[string]func(l *Limited){
		"frequency":           func(l *Limited) { l.Frequency = 9 },
		"output resistance":   func(l *Limited) { l.Resistance = 11 },
		"current limit":       func(l *Limited) { l.Current = 0.01 },
		"dc power limit":      func(l *Limited) { l.DCPower = 19 },
		"continuous rating":   func(l *Limited) { l.Surge.Continuous = 9 },
		"surge time":          func(l *Limited) { l.Surge = Surge{Points: []SurgePoint{{100, 0}}} },
		"rated power":         func(l *Limited) { l.Loss = Loss{} },
		"battery resistance":  func(l *Limited) { l.Source.Battery = 0 },
		"running cut-off":     func(l *Limited) { l.CutOff.Running = 0 },
		"start cut-off":       func(l *Limited) { l.CutOff.Start = 11 },
		"cut-off delay":       func(l *Limited) { l.CutOff.Allowed = -1 },
		"output voltage NaN":  func(l *Limited) { l.Voltage = unit.Voltage(math.NaN()) },
		"output voltage +Inf": func(l *Limited) { l.Voltage = unit.Voltage(math.Inf(1)) },
	} {
		l := limited12V
		change(&l)
		domainError(t, l.Validate(), words)
		_, _, err := l.Under(10, 0)
		domainError(t, err, words)
	}
	for _, z := range []complex128{0, 0.9e-3, 1.1e9, cmplx.NaN(), cmplx.Inf()} {
		_, err := limited12V.State(z, 0)
		domainError(t, err, "magnitude of the load")
	}
	for _, x := range strange {
		_, err := limited12V.State(10, unit.Time(x))
		domainError(t, err, "time")
	}
}

// FuzzLimited: no state breaks a limit, power balances, an ideal source is
// ideal, and a lower limit or a worse battery never gives more voltage while
// the inverter stays on.
func FuzzLimited(f *testing.F) {
	f.Add(true, 120.0, 0.0, 28.0, 3000.0, 3500.0, 12.6, 0.01, 9.5, 0.5, 5.0, 3.0)
	f.Add(true, 600.0, 10.0, 0.05, 10.0, 20.0, 1000.0, 1.0, 5.0, 1e6, 1e-3, 0.0)
	f.Add(true, math.NaN(), math.Inf(1), -1.0, 2.0, math.Inf(-1), math.NaN(), 0.0, 0.0, 0.0, 0.0, 0.0)
	seeds(f, 400, 11)
	f.Fuzz(func(t *testing.T, raw bool, v0, ro, limit, rating, most, voc, r, floor, after, re, im float64) {
		v0, ro = fold(raw, v0, 100, 250), fold(raw, ro, 0, 1)
		limit, rating = fold(raw, limit, 1, 60), fold(raw, rating, 200, 9000)
		most, voc = fold(raw, most, 100, 6000), fold(raw, voc, 11, 30)
		r, floor = fold(raw, r, 1e-3, 0.05), fold(raw, floor, 8, 12)
		after = fold(raw, after, 0, 6)
		re, im = fold(raw, re, 0.1, 60), fold(raw, im, -20, 20)
		l := Limited{
			Voltage: unit.Voltage(v0), Frequency: 60, Resistance: unit.Resistance(ro), Current: unit.Current(limit),
			Surge:   Surge{Continuous: ApparentPower(rating / 2), Points: []SurgePoint{{ApparentPower(rating), 2}}},
			DCPower: unit.Power(most), Loss: unit3kW,
			Source: Source{OpenCircuit: unit.Voltage(voc), Battery: unit.Resistance(r)},
			CutOff: CutOff{Running: unit.Voltage(1.05 * floor), Start: unit.Voltage(floor), Allowed: 4},
		}
		z, at := complex(re, im), unit.Time(after)
		s, err := l.State(z, at)
		valid := l.Validate() == nil && cmplx.Abs(z) >= 1e-3 && cmplx.Abs(z) <= 1e9 && at >= 0 && at <= mostTime
		require.Equal(t, !valid, errors.Is(err, ErrDomain))
		if err != nil {
			require.True(t, errors.Is(err, ErrDomain) || errors.Is(err, ErrTrip))
			return
		}
		const over = 1 + 1e-9
		require.True(t, float64(s.Voltage) >= 0 && float64(s.Voltage) <= v0*over)
		require.LessOrEqual(t, float64(s.Current), limit*over)
		require.LessOrEqual(t, float64(s.Apparent), rating*over)
		require.LessOrEqual(t, float64(s.DC.Power), most*over)
		require.GreaterOrEqual(t, float64(s.DC.Voltage), max(floor, voc/2)*(1-1e-6))
		require.InEpsilon(t, float64(s.DC.Power), unit3kW.dcAt(max(0, float64(s.Real)), float64(s.Apparent)), 1e-9)
		require.InEpsilon(t, float64(s.DC.Power), float64(s.DC.Voltage)*float64(s.DC.Current), 1e-9)
		free := v0 * cmplx.Abs(z/(z+complex(ro, 0)))
		require.Equal(t, s.Limit == 0, float64(s.Voltage) >= free*(1-1e-12))

		for name, change := range map[string]func(l *Limited){
			"battery":        func(l *Limited) { l.Source.Battery = min(1, 1.1*l.Source.Battery) },
			"output":         func(l *Limited) { l.Resistance = min(10, 1.1*l.Resistance) },
			"current":        func(l *Limited) { l.Current = max(0.05, 0.9*l.Current) },
			"surge":          func(l *Limited) { l.Surge = Surge{Continuous: l.Surge.Continuous} },
			"dc power":       func(l *Limited) { l.DCPower = max(20, 0.9*l.DCPower) },
			"start cut-off":  func(l *Limited) { l.CutOff.Start = min(l.CutOff.Running, 1.02*l.CutOff.Start) },
			"open circuit":   func(l *Limited) { l.Source.OpenCircuit = max(5, 0.99*l.Source.OpenCircuit) },
			"trips":          func(l *Limited) { l.Trips = true },
			"quadratic loss": func(l *Limited) { l.Loss.Quadratic *= 1.1 },
		} {
			worse := l
			change(&worse)
			v, _, err := worse.Under(z, at)
			if err != nil {
				require.ErrorIs(t, err, ErrTrip, name)
				continue
			}
			require.LessOrEqual(t, float64(v), float64(s.Voltage)*over, name)
		}

		l.Source, l.CutOff = Source{OpenCircuit: 800, Battery: 10e-6}, CutOff{Running: 400}
		l.Current, l.Surge, l.DCPower, l.Resistance = 0, Surge{}, 0, 0
		s, err = l.State(z, at)
		require.NoError(t, err)
		require.Zero(t, s.Limit)
		require.InEpsilon(t, v0, float64(s.Voltage), 1e-15)
	})
}

// A load that gives back as much as the output resistance takes would raise the
// voltage without end: State gave 0 V times infinity before.
func TestLimitedLoadThatGivesBack(t *testing.T) {
	l := ideal
	l.Resistance = 5
	for _, z := range []complex128{-5, -5.01, -9.99, complex(-5, 1)} {
		_, err := l.State(z, 0)
		require.ErrorIs(t, err, ErrDomain, z)
		assert.Contains(t, err.Error(), "gives power back")
	}
	for _, z := range []complex128{-10, complex(-5, 3), -1000} {
		s, err := l.State(z, 0)
		require.NoError(t, err, z)
		assert.LessOrEqual(t, float64(s.Voltage), 240*(1+1e-12))
		assert.Negative(t, float64(s.Real))
	}
}

// A battery below the cut-off is named, and not a limit on the ac side that
// happens to act as well.
func TestLimitedNamesTheBattery(t *testing.T) {
	l := Limited{
		Voltage: 120, Frequency: 60, Current: 1, Loss: Loss{Rated: 2000},
		Source: Source{OpenCircuit: 20, Battery: 0.02}, CutOff: CutOff{Running: 21},
	}
	_, err := l.State(50i, 10)
	var trip *TripError
	require.ErrorAs(t, err, &trip)
	assert.Equal(t, RunningCutOff, trip.Limit)
}
