package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// jetPump is a half-horsepower jet pump wired for 115 V, of common practice.
var jetPump = Nameplate{
	Output: 0.5 * Horsepower, Voltage: 115, Phases: 1,
	FullLoadCurrent: 8.6, ServiceFactorCurrent: 10.8, ServiceFactor: 1.6,
	Type: CapacitorStart,
}

func TestJetPumpOfCommonPractice(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/common_practice.csv") {
		switch row.Text("quantity") {
		case "full-load current rewired", "service-factor current rewired":
			require.InDelta(t, float64(jetPump.FullLoadCurrent), row.Param("FLA", "A"), 0)
			require.InDelta(t, float64(jetPump.ServiceFactorCurrent), row.Param("SFA", "A"), 0)
			require.InDelta(t, float64(jetPump.Voltage), float64(volts(row)), 0)
			n, err := jetPump.Rewired(unit.Voltage(row.Param("to", "V")))
			require.NoError(t, err)
			if row.Text("quantity") == "full-load current rewired" {
				row.Expected(float64(n.FullLoadCurrent))
			} else {
				row.Expected(float64(n.ServiceFactorCurrent))
			}
			back, err := n.Rewired(jetPump.Voltage)
			require.NoError(t, err)
			assert.Equal(t, jetPump, back)
		case "volts times amperes":
			row.Expected(float64(VoltAmperesAsWatts(volts(row), unit.Current(row.Param("I", "A")))))
		case "three times running":
			row.Expected(float64(TriplingRule(VoltAmperesAsWatts(volts(row), unit.Current(row.Param("I", "A"))))))
		default:
			checkDCSide(t, row)
		}
	}
}

func TestNameplateAccepts(t *testing.T) {
	for name, n := range map[string]Nameplate{
		"jet pump":       jetPump,
		"least there is": {Voltage: 230, Phases: 1},
		"appliance":      {Voltage: 115, Phases: 1, FullLoadCurrent: 1.5, LockedRotorCurrent: 11},
		"everything": {
			Output: 10 * Horsepower, Voltage: 230, Phases: 3, FullLoadCurrent: 25, ServiceFactorCurrent: 28.5,
			LockedRotorCurrent: 165, ServiceFactor: 1.15, Code: 'H', Efficiency: 0.895, PowerFactor: 0.85, Type: ThreePhase,
		},
		"LRA just above its letter": {Output: 0.5 * Horsepower, Voltage: 115, Phases: 1, LockedRotorCurrent: 45, Code: 'L'},
		"V":                         {Output: 0.5 * Horsepower, Voltage: 115, Phases: 1, LockedRotorCurrent: 200, Code: 'V'},
	} {
		assert.NoError(t, n.Validate(), name)
	}
}

func TestNameplateContradictions(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(*Nameplate)
		want   string
	}{
		"service-factor below full-load": {func(n *Nameplate) { n.ServiceFactorCurrent = 8.5 }, "service-factor current 8.5 A is below full-load current 8.6 A"},
		"locked below full-load":         {func(n *Nameplate) { n.LockedRotorCurrent = 8 }, "locked-rotor current 8 A is below"},
		"locked below full-load alone": {func(n *Nameplate) {
			n.ServiceFactorCurrent, n.LockedRotorCurrent = 0, 8
		}, "below running current 8.6 A"},
		"locked below service-factor": {func(n *Nameplate) { n.LockedRotorCurrent = 10 }, "below running current 10.8 A"},
		"letter too low":              {func(n *Nameplate) { n.LockedRotorCurrent, n.Code = 45, 'H' }, "letter M, but the plate says H"},
		"letter too high":             {func(n *Nameplate) { n.LockedRotorCurrent, n.Code = 45, 'P' }, "the plate says P"},
		"output above volt-amperes":   {func(n *Nameplate) { n.Output = 1.5 * Horsepower }, "not below the 989 VA that go in"},
		"output of watts typed as hp": {func(n *Nameplate) { n.Output = 5 * Horsepower }, "not below"},
		"efficiency too low":          {func(n *Nameplate) { n.Efficiency = 0.3 }, "efficiency 0.3 is below"},
		"power factor too low":        {func(n *Nameplate) { n.PowerFactor = 0.3 }, "power factor 0.3 is below"},
		"product too low":             {func(n *Nameplate) { n.Efficiency, n.PowerFactor = 0.5, 0.5 }, "0.25 against output/volt-amperes 0.377"},
		"product too high":            {func(n *Nameplate) { n.Efficiency, n.PowerFactor = 0.8, 0.8 }, "0.64 against"},
		"type":                        {func(n *Nameplate) { n.Type = ThreePhase }, "type three-phase with 1 phases"},
		"letter below running current": {func(n *Nameplate) {
			n.ServiceFactorCurrent, n.FullLoadCurrent, n.Code = 15, 14, 'A'
		}, "running current 15 A is above the locked-rotor current of code letter A, at most 13.7 A"},
		"no full-load current": {func(n *Nameplate) {
			n.FullLoadCurrent = 0
			n.Output = 1.1 * Horsepower
		}, "not below the 1242 VA"},
	} {
		n := jetPump
		tt.change(&n)
		err := n.Validate()
		require.Error(t, err, name)
		require.ErrorContains(t, err, tt.want, name)
		assert.ErrorIs(t, err, ErrDomain, name)
		var c *ContradictionError
		assert.ErrorAs(t, err, &c, name)
		// Every question refuses a faulty plate.
		_, _, err = n.LockedRotor()
		require.Error(t, err)
		_, err = n.Running()
		require.Error(t, err)
		_, err = n.RunningAtServiceFactor()
		require.Error(t, err)
		_, err = n.Start(StartEvidence{})
		require.Error(t, err)
		_, err = n.StartFrom(BasisNameplate, StartEvidence{})
		require.Error(t, err)
		_, err = n.Rewired(230)
		require.Error(t, err)
	}
}

// Equal currents contradict nothing, neither to the short test nor to the
// wordy one.
func TestEqualCurrents(t *testing.T) {
	n := Nameplate{Voltage: 115, Phases: 1, FullLoadCurrent: 8, ServiceFactorCurrent: 8, LockedRotorCurrent: 8}
	require.NoError(t, n.Validate())
	require.NoError(t, faults(&n))
}

// Both sides of the two stated tolerances.
func TestNameplateTolerances(t *testing.T) {
	n := jetPump
	ratio := float64(n.Output) / (115 * 8.6)
	n.Efficiency = 0.6
	for factor, want := range map[float64]bool{0.851: true, 0.849: false, 1.149: true, 1.151: false} {
		n.PowerFactor = ratio / 0.6 * factor
		assert.Equal(t, want, n.Validate() == nil, factor)
	}
	m := Nameplate{Output: Horsepower, Voltage: 230, Phases: 1, Code: 'K'}
	for k, want := range map[float64]bool{8 * 0.951: true, 8 * 0.949: false, 9 * 1.049: true, 9 * 1.051: false} {
		m.LockedRotorCurrent = unit.Current(k * 1000 / 230)
		assert.Equal(t, want, m.Validate() == nil, k)
	}
	m.LockedRotorCurrent = 0
	for k, want := range map[float64]bool{9 * 1.049: true, 9 * 1.051: false} {
		m.FullLoadCurrent = unit.Current(k * 1000 / 230)
		assert.Equal(t, want, m.Validate() == nil, k)
	}
	three := Nameplate{Voltage: 230, Phases: 3, Type: PermanentSplit}
	assert.Error(t, three.Validate())
}

func TestNameplateRanges(t *testing.T) {
	for name, set := range map[string]func(*Nameplate, float64){
		"output":         func(n *Nameplate, x float64) { n.Output = unit.Power(x) },
		"voltage":        func(n *Nameplate, x float64) { n.Voltage = unit.Voltage(x) },
		"full-load":      func(n *Nameplate, x float64) { n.FullLoadCurrent = unit.Current(x) },
		"service-factor": func(n *Nameplate, x float64) { n.ServiceFactorCurrent = unit.Current(x) },
		"locked":         func(n *Nameplate, x float64) { n.LockedRotorCurrent = unit.Current(x) },
		"factor":         func(n *Nameplate, x float64) { n.ServiceFactor = x },
		"efficiency":     func(n *Nameplate, x float64) { n.Efficiency = x },
		"power factor":   func(n *Nameplate, x float64) { n.PowerFactor = x },
	} {
		for _, x := range bad {
			n := jetPump
			set(&n, x)
			assert.ErrorIs(t, n.Validate(), ErrDomain, "%s %v", name, x)
		}
	}
	for name, n := range map[string]Nameplate{
		"zero value":               {},
		"half a watt":              {Output: 0.5, Voltage: 115, Phases: 1},
		"one watt":                 {Output: 1, Voltage: 115, Phases: 1},
		"two phases":               {Voltage: 115, Phases: 2},
		"no letter":                {Voltage: 115, Phases: 1, Code: 'Q'},
		"service factor below one": {Voltage: 115, Phases: 1, ServiceFactor: 0.99},
		"percent":                  {Voltage: 115, Phases: 1, Efficiency: 65},
		"percent power factor":     {Voltage: 115, Phases: 1, PowerFactor: 70},
	} {
		assert.ErrorIs(t, n.Validate(), ErrDomain, name)
	}
	err := Nameplate{Output: 0.5}.Validate()
	for _, part := range []string{"output", "voltage 0 V, want 10 V to 15 kV", "phases 0"} {
		assert.ErrorContains(t, err, part, "all faults at once")
	}
}

func TestLockedRotor(t *testing.T) {
	n := Nameplate{Output: 0.5 * Horsepower, Voltage: 115, Phases: 1}
	_, _, err := n.LockedRotor()
	assert.ErrorIs(t, err, ErrMissing)
	assert.NotErrorIs(t, err, ErrDomain, "what is missing is not wrong")

	n.Code = 'R'
	i, basis, err := n.LockedRotor()
	require.NoError(t, err)
	assert.Equal(t, BasisCodeLetter, basis)
	assert.InDelta(t, 7000.0/115, float64(i.Low), 1e-9)
	assert.InDelta(t, 8000.0/115, float64(i.High), 1e-9)

	n.LockedRotorCurrent = 64.4
	i, basis, err = n.LockedRotor()
	require.NoError(t, err)
	assert.Equal(t, BasisNameplate, basis)
	assert.Equal(t, Exactly[unit.Current](64.4), i)

	v := Nameplate{Output: Horsepower, Voltage: 230, Phases: 1, Code: 'V'}
	i, _, err = v.LockedRotor()
	require.NoError(t, err)
	assert.True(t, math.IsInf(float64(i.High), 1))
	assert.InDelta(t, 22400.0/230, float64(i.Low), 1e-9)

	_, _, err = Nameplate{Voltage: 230, Phases: 1, Code: 'K'}.LockedRotor()
	assert.ErrorIs(t, err, ErrMissing)
	assert.ErrorContains(t, err, "rated output")
}

// The service factor raises the permitted load, not the locked-rotor current.
func TestServiceFactorLeavesLockedRotorAlone(t *testing.T) {
	n := Nameplate{Output: Horsepower, Voltage: 230, Phases: 1, Code: 'K'}
	a, _, err := n.LockedRotor()
	require.NoError(t, err)
	n.ServiceFactor = 1.4
	b, _, err := n.LockedRotor()
	require.NoError(t, err)
	assert.Equal(t, a, b)
}

func TestRewired(t *testing.T) {
	for _, v := range []unit.Voltage{0, 115, 208, 120, unit.Voltage(math.NaN()), 231} {
		_, err := jetPump.Rewired(v)
		assert.ErrorIs(t, err, ErrDomain, v)
	}
	_, err := jetPump.Rewired(208)
	assert.ErrorContains(t, err, "57.5 V or 230 V")
	n := jetPump
	n.Code = 'M'
	n.LockedRotorCurrent = 48
	m, err := n.Rewired(230)
	require.NoError(t, err)
	assert.InDelta(t, 24, float64(m.LockedRotorCurrent), 1e-12)
	a, err := n.Running()
	require.NoError(t, err)
	b, err := m.Running()
	require.NoError(t, err)
	assert.InDelta(t, float64(a.Real.Low), float64(b.Real.Low), 1e-9, "the windings carry the same")
}
