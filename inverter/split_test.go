package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// stacked is a pair of 3.6 kVA with a surge of twice that.
var stacked = SplitPhase{Leg: 120, Unit: Surge{Continuous: 3600, Points: []SurgePoint{{Apparent: 7200, For: 5}}}}

// va is a load of an apparent power and a power factor.
func va(s, pf float64) PowerTriangle { return triangle(unit.Power(s*pf), pf) }

func TestSplitTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/split.csv") {
		use := func(s SplitPhase, l SplitLoads) SplitUse {
			u, err := s.Use(l)
			require.NoError(t, err, row.Source())
			return u
		}
		legs := func() SplitUse {
			return use(stacked, SplitLoads{
				va(row.Param("L1", "VA"), row.Param("pf1", "")), va(row.Param("L2", "VA"), row.Param("pf2", "")), va(row.Param("across", "VA"), row.Param("pf", "")),
			})
		}
		step := func(s StepUp, load float64) StepUpUse {
			s.Source, s.Load, s.Auto = volts(row, "V1"), volts(row, "V2"), true
			u, err := s.Feed(va(load, 1))
			require.NoError(t, err, row.Source())
			return u
		}
		var got float64
		switch q := row.Text("quantity"); q {
		case "usable share":
			s := SplitPhase{Leg: 120, Unit: Surge{Continuous: ApparentPower(120 * row.Param("rating", "A"))}}
			got = use(s, SplitLoads{L1: va(120*row.Param("L1", "A"), 1), L2: va(120*row.Param("L2", "A"), 1)}).Usable
		case "share of one leg":
			u := use(SplitPhase{Leg: 120, Unit: Surge{Continuous: ApparentPower(row.Param("rating", "VA"))}}, SplitLoads{L1: va(row.Param("L1", "VA"), 1)})
			assert.True(t, u.Carried)
			assert.Zero(t, u.L2.Share)
			got = u.L1.Share
		case "leg 1":
			got = float64(legs().L1.Apparent)
		case "leg 2":
			got = float64(legs().L2.Apparent)
		case "neutral":
			got = float64(legs().Neutral)
		case "balanced neutral":
			got = float64(balanced(t, row).Neutral)
		case "balancer winding":
			got = float64(balanced(t, row).Winding)
		case "balanced source":
			got = float64(balanced(t, row).Source)
		case "source current":
			got = float64(step(StepUp{Rating: 8000, Loss: row.Param("loss", "")}, row.Param("V2", "V")*row.Param("I", "A")).Source)
		case "frame":
			got = float64(step(StepUp{Rating: ApparentPower(row.Param("rating", "VA"))}, 0).Frame)
		case "standing energy a day":
			u := step(StepUp{Rating: ApparentPower(row.Param("rating", "VA")), Loss: row.Param("loss", "")}, 0)
			got = float64(u.Standing) * 24
			closeTo(t, float64(u.Standing)/row.Param("V1", "V"), float64(u.Source), 1e-12)
		case "torque at half voltage":
			var e *MismatchError
			require.ErrorAs(t, MatchVoltage(volts(row, "V"), volts(row, "rated")), &e)
			got = e.Torque
		default:
			t.Fatalf("%s: no test for %q", row.Source(), q)
		}
		row.Expected(got)
		if row.Has("claim") {
			row.Rejects("claim", got, 0.05)
		}
	}
}

// A start of 6 kVA on one leg meets one unit, across both it meets two halves.
func TestSplitStart(t *testing.T) {
	demand := Exactly[ApparentPower](10000)
	c, err := stacked.Start(demand, 1, false)
	require.NoError(t, err)
	assert.Equal(t, Fails, c.Verdict)
	assert.InDelta(t, 7200, float64(c.Allowed), 0)
	c, err = stacked.Start(demand, 1, true)
	require.NoError(t, err)
	assert.Equal(t, Passes, c.Verdict)
	_, err = stacked.Start(Range[ApparentPower]{Low: 2, High: 1}, 1, true)
	require.ErrorIs(t, err, ErrDomain)
	_, err = SplitPhase{}.Start(demand, 1, true)
	domainError(t, err, "leg voltage 0 V, want 100 V to 130 V")
}

func TestMatchVoltage(t *testing.T) {
	for _, ok := range [][2]unit.Voltage{{120, 115}, {120, 120}, {240, 230}, {208, 230}, {108, 120}, {132, 120}} {
		require.NoError(t, MatchVoltage(ok[0], ok[1]))
	}
	assert.EqualError(t, MatchVoltage(120, 240),
		"inverter: a motor wired for 240 V on a source of 120 V has 0.25 times its torque: it hums, does not come up to speed and burns out")
	assert.ErrorContains(t, MatchVoltage(240, 120), "4 times its torque: its iron saturates")
	for _, bad := range [][2]unit.Voltage{{120, 230}, {107.9, 120}, {132.1, 120}} {
		var e *MismatchError
		require.ErrorAs(t, MatchVoltage(bad[0], bad[1]), &e)
		require.NotErrorIs(t, e, ErrDomain, "a state of the world, not a mistake")
	}
	for _, x := range append([]float64{0, 1001}, strange...) {
		require.ErrorIs(t, MatchVoltage(unit.Voltage(x), 120), ErrDomain)
		require.ErrorIs(t, MatchVoltage(120, unit.Voltage(x)), ErrDomain)
	}
}

func TestStepUp(t *testing.T) {
	s := StepUp{Source: 120, Load: 240, Rating: 3000, Loss: 0.02, Inrush: 12}
	u, err := s.Feed(va(2000, 0.7))
	require.NoError(t, err)
	assert.InDelta(t, 3000, float64(u.Frame), 0, "two windings carry it all")
	assert.InDelta(t, 2./3, u.Share, 1e-12)
	assert.InDelta(t, 2000./240, float64(u.Load), 1e-12)
	assert.InDelta(t, math.Hypot(1460, 2000*math.Sqrt(1-0.49))/120, float64(u.Source), 1e-9)
	assert.InDelta(t, 12*math.Sqrt2*25, float64(u.Inrush), 1e-9)
	for _, x := range strange {
		for _, b := range []StepUp{
			{unit.Voltage(x), 240, 3000, false, 0, 0},
			{120, unit.Voltage(x), 3000, false, 0, 0},
			{120, 240, ApparentPower(x), false, 0, 0},
			{120, 240, 3000, false, x, 0},
			{120, 240, 3000, false, 0, x},
		} {
			_, err := b.Feed(va(1, 1))
			require.ErrorIs(t, err, ErrDomain)
		}
		_, err := s.Feed(PowerTriangle{Real: unit.Power(x)})
		require.ErrorIs(t, err, ErrDomain)
		_, err = stacked.Use(SplitLoads{L2: PowerTriangle{Real: unit.Power(x)}})
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err = s.Feed(PowerTriangle{Reactive: ReactivePower(math.NaN())})
	domainError(t, err, "load, reactive")
	s.Load = 120
	domainError(t, s.Validate(), "load voltage 120 V, want more than that of the source")
	s.Load, s.Loss = 240, 2
	domainError(t, s.Validate(), "standing loss 200 %, want 0 % to 10 %")
}

func TestTogether(t *testing.T) {
	assert.Equal(t, PowerTriangle{}, together())
	sum := together(va(1000, 0.6), va(1000, 0.8))
	assert.InDelta(t, 1400, float64(sum.Real), 1e-9)
	assert.InDelta(t, 1400, float64(sum.Reactive), 1e-9)
	assert.InDelta(t, 1400*math.Sqrt2, float64(sum.Apparent), 1e-9, "less than 2000")
	assert.InDelta(t, 1/math.Sqrt2, sum.PowerFactor, 1e-12)
}

// FuzzSplit: power is conserved over the legs, swapping them changes nothing but
// the names, and what hangs across both leaves the neutral alone.
func FuzzSplit(f *testing.F) {
	f.Add(true, 1000.0, 500.0, 0.8, 1.0, 2400.0)
	f.Add(true, 0.0, 0.0, 1.0, 1.0, 0.0)
	f.Add(true, math.NaN(), 0.0, 1.0, 1.0, math.Inf(1))
	seeds(f, 200, 5)
	f.Fuzz(func(t *testing.T, raw bool, a, b, pfA, pfB, across float64) {
		a, b, across = fold(raw, a, 0, 1e4), fold(raw, b, 0, 1e4), fold(raw, across, 0, 1e4)
		pfA, pfB = fold(false, pfA, leastPF, 1), fold(false, pfB, leastPF, 1)
		l := SplitLoads{va(a, pfA), va(b, pfB), va(across, 0.8)}
		u, err := stacked.Use(l)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		all := together(l.L1, l.L2, l.Across)
		require.LessOrEqual(t, float64(all.Apparent), float64(u.L1.Apparent+u.L2.Apparent)*(1+1e-9)+1e-9)
		require.GreaterOrEqual(t, float64(u.Neutral)*(1+1e-9)+1e-9, float64(u.Imbalance))
		require.True(t, u.Usable >= 0 && u.Usable <= 1)
		swapped, err := stacked.Use(SplitLoads{l.L2, l.L1, l.Across})
		require.NoError(t, err)
		require.Equal(t, u.L1, swapped.L2)
		require.InDelta(t, float64(u.Neutral), float64(swapped.Neutral), 1e-9)
		more, err := stacked.Use(SplitLoads{l.L1, l.L2, PowerTriangle{}})
		require.NoError(t, err)
		require.Equal(t, u.Neutral, more.Neutral)
	})
}

// 208 V on a motor of 240 V has three quarters of its torque: it mostly runs, and
// was said to burn out.
func TestMismatchSaysNoMoreThanIsTrue(t *testing.T) {
	for words, volts := range map[string][2]unit.Voltage{
		"may not start its load and runs hot":     {208, 240},
		"its iron saturates and it runs hot":      {240, 208},
		"does not come up to speed and burns out": {120, 240},
		"its winding burns out":                   {240, 120},
	} {
		assert.ErrorContains(t, MatchVoltage(volts[0], volts[1]), words)
	}
}

func TestReactiveLoadIsNamedInVar(t *testing.T) {
	_, err := SplitPhase{Leg: 120, Unit: Surge{Continuous: 2000}}.Use(SplitLoads{L1: PowerTriangle{Reactive: 2e6}})
	assert.ErrorContains(t, err, "2 Mvar, want -1 Mvar to 1 Mvar")
}
