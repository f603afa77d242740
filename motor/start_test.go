package motor

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestStartTakesTheBestBasis(t *testing.T) {
	n := jetPump
	e := StartEvidence{Multiplier: Range[float64]{Low: 3, High: 5}, Driven: Pump}
	n.Output = 0.6 * Horsepower // in no table
	d, err := n.Start(e)
	require.NoError(t, err)
	assert.Equal(t, BasisRuleOfThumb, d.Basis)
	assert.InDelta(t, 25.8, float64(d.Current.Low), 1e-9)
	assert.InDelta(t, 43, float64(d.Current.High), 1e-9)

	n.Output = 0.5 * Horsepower
	d, err = n.Start(e)
	require.NoError(t, err)
	assert.Equal(t, BasisCodeTable, d.Basis)
	assert.Equal(t, Exactly[unit.Current](58.8), d.Current)

	n.Code = 'L'
	d, err = n.Start(e)
	require.NoError(t, err)
	assert.Equal(t, BasisCodeLetter, d.Basis)
	assert.InDelta(t, 43.478, float64(d.Current.High), 1e-3)

	n.LockedRotorCurrent = 40
	d, err = n.Start(e)
	require.NoError(t, err)
	assert.Equal(t, BasisNameplate, d.Basis)
	assert.InDelta(t, 4600, float64(d.Apparent.High), 1e-9)
	assert.InDelta(t, 4600*0.77, float64(d.Real.Low), 1e-9)
	assert.InDelta(t, 4600*0.99, float64(d.Real.High), 1e-9)
	assert.Equal(t, BasisTypical, d.PowerFactorBasis)
	assert.Equal(t, Range[unit.Time]{Low: 0.3, High: 1}, d.Duration)

	e.Inrush = Range[unit.Current]{Low: 36, High: 38}
	e.InrushVoltage = 110
	e.PowerFactor, e.PowerFactorBasis = Exactly(0.9), BasisMeasured
	d, err = n.Start(e)
	require.NoError(t, err)
	assert.Equal(t, BasisMeasured, d.Basis)
	assert.InDelta(t, 36*115.0/110, float64(d.Current.Low), 1e-9)
	assert.InDelta(t, 115*38*115.0/110*0.9, float64(d.Real.High), 1e-9)
	assert.Equal(t, BasisMeasured, d.PowerFactorBasis)
	assert.False(t, d.SuspectInrush)

	// Any one of them on request.
	for b, amps := range map[Basis]float64{
		BasisMeasured: 38 * 115.0 / 110, BasisNameplate: 40, BasisCodeLetter: 43.478, BasisCodeTable: 58.8, BasisRuleOfThumb: 43,
	} {
		d, err := n.StartFrom(b, e)
		require.NoError(t, err)
		assert.Equal(t, b, d.Basis)
		assert.InDelta(t, amps, float64(d.Current.High), 1e-3)
	}
	for _, b := range []Basis{0, BasisTypical, 200} {
		_, err := n.StartFrom(b, e)
		assert.ErrorIs(t, err, ErrMissing)
	}
}

func TestStartWithoutABasis(t *testing.T) {
	n := Nameplate{Output: 0.6 * Horsepower, Voltage: 115, Phases: 1}
	_, err := n.Start(StartEvidence{})
	require.ErrorIs(t, err, ErrMissing)
	for _, part := range []string{"inrush", "locked-rotor current not given", "next are 1/2 and 3/4 hp", "multiplier"} {
		assert.ErrorContains(t, err, part, "the reason of each")
	}
	n.Output = 0
	_, err = n.StartFrom(BasisCodeTable, StartEvidence{})
	assert.ErrorIs(t, err, ErrMissing)
	_, err = n.StartFrom(BasisRuleOfThumb, StartEvidence{Multiplier: Exactly(5.0)})
	assert.ErrorIs(t, err, ErrMissing, "a multiplier of nothing")
	d, err := n.Start(StartEvidence{Multiplier: Exactly(5.0), Running: Exactly[unit.Current](8)})
	require.NoError(t, err)
	assert.InDelta(t, 40, float64(d.Current.High), 1e-12)
	n.ServiceFactorCurrent = 9
	d, err = n.Start(StartEvidence{Multiplier: Exactly(5.0)})
	require.NoError(t, err)
	assert.InDelta(t, 45, float64(d.Current.High), 1e-12)
}

func TestSlowMeterIsSuspected(t *testing.T) {
	fridge := Nameplate{Voltage: 120, Phases: 1, FullLoadCurrent: 6.67}
	d, err := fridge.Start(StartEvidence{Inrush: Exactly[unit.Current](9.2), Driven: Compressor})
	require.NoError(t, err)
	assert.True(t, d.SuspectInrush)
	d, err = fridge.Start(StartEvidence{Inrush: Exactly[unit.Current](30)})
	require.NoError(t, err)
	assert.False(t, d.SuspectInrush)
	_, err = fridge.Start(StartEvidence{Inrush: Exactly[unit.Current](6)})
	assert.ErrorContains(t, err, "inrush 6 A is below running current 6.67 A")
}

func TestUnboundedStart(t *testing.T) {
	n := Nameplate{Output: Horsepower, Voltage: 230, Phases: 1, Code: 'V'}
	d, err := n.Start(StartEvidence{})
	require.NoError(t, err)
	assert.True(t, d.Unbounded)
	for _, high := range []float64{float64(d.Current.High), float64(d.Apparent.High), float64(d.Real.High)} {
		assert.True(t, math.IsInf(high, 1))
	}
	assert.InDelta(t, 22400, float64(d.Apparent.Low), 1e-9)
	_, err = d.Impedances()
	assert.ErrorIs(t, err, ErrUnbounded)
	half, err := d.At(115)
	require.NoError(t, err)
	assert.True(t, half.Unbounded)
	assert.InDelta(t, 5600, float64(half.Apparent.Low), 1e-9)
}

// Letter A begins at 0 kVA/hp: the demand begins where the motor runs, or
// where its output alone would take it.
func TestStartOfLetterA(t *testing.T) {
	for _, tt := range []struct {
		full, measured unit.Current
		phases         int
		low            float64
	}{
		{0, 0, 1, 745.6998715822702 / 230},
		{0, 0, 3, 745.6998715822702 / 230 / math.Sqrt(3)},
		{5, 0, 1, 5},
		{5, 6, 1, 6},
		{5, 1, 1, 745.6998715822702 / 230}, // unloaded, as measured
		{3150.0 / 230 * 1.01, 0, 1, 3150.0 / 230},   // rounded past the letter's end
		{0, 3150.0 / 230 * 1.0499, 1, 3150.0 / 230}, // the same, measured
	} {
		n := Nameplate{Output: Horsepower, Voltage: 230, Phases: tt.phases, FullLoadCurrent: tt.full, Code: 'A'}
		d, err := n.Start(StartEvidence{Running: Exactly(tt.measured)})
		require.NoError(t, err)
		assert.Equal(t, BasisCodeLetter, d.Basis)
		assert.InDelta(t, tt.low, float64(d.Current.Low), 1e-9)
		assert.InDelta(t, 3150.0/230/lineFactor(tt.phases), float64(d.Current.High), 1e-9)
		z, err := d.Impedances()
		require.NoError(t, err)
		assert.InDelta(t, 230/lineFactor(tt.phases)/tt.low, cmplx.Abs(z[0]), 1e-9)
	}
	// The plate alone gives the code's own range.
	i, _, err := Nameplate{Output: Horsepower, Voltage: 230, Phases: 1, Code: 'A'}.LockedRotor()
	require.NoError(t, err)
	assert.Zero(t, i.Low)
	// Where a letter's own end is above the running current it stands.
	d, err := Nameplate{Output: Horsepower, Voltage: 230, Phases: 1, FullLoadCurrent: 8, Code: 'B'}.Start(StartEvidence{})
	require.NoError(t, err)
	assert.InDelta(t, 3150.0/230, float64(d.Current.Low), 1e-9)
}

// A running current above the start current is refused on each basis, from
// both sides of the tolerance.
func TestRunningAboveStart(t *testing.T) {
	for b, tt := range map[Basis]struct {
		n    Nameplate
		amps float64
	}{
		BasisNameplate:  {Nameplate{Voltage: 230, Phases: 1, LockedRotorCurrent: 40}, 40},
		BasisCodeLetter: {Nameplate{Voltage: 230, Phases: 1, Output: Horsepower, Code: 'K'}, 9000.0 / 230},
		BasisCodeTable:  {Nameplate{Voltage: 230, Phases: 1, Output: Horsepower}, 48},
	} {
		for factor, want := range map[float64]bool{1.049: true, 1.051: false} {
			e := StartEvidence{Running: Exactly(unit.Current(tt.amps * factor))}
			for _, start := range []func() (StartDemand, error){
				func() (StartDemand, error) { return tt.n.Start(e) },
				func() (StartDemand, error) { return tt.n.StartFrom(b, e) },
			} {
				d, err := start()
				if want {
					require.NoError(t, err, b)
					assert.Equal(t, b, d.Basis)
					continue
				}
				var c *ContradictionError
				require.ErrorAs(t, err, &c, b)
				assert.ErrorContains(t, err, "on the basis "+b.String())
			}
		}
	}
}

// An inrush measured at another voltage is held against the running current
// as it would be at the plate's.
func TestInrushIsComparedAtRatedVoltage(t *testing.T) {
	n := Nameplate{Voltage: 120, Phases: 1, FullLoadCurrent: 6.67}
	d, err := n.Start(StartEvidence{Inrush: Exactly[unit.Current](6), InrushVoltage: 60})
	require.NoError(t, err)
	assert.InDelta(t, 12, float64(d.Current.High), 1e-12)
	assert.True(t, d.SuspectInrush)
	_, err = n.Start(StartEvidence{Inrush: Exactly[unit.Current](7.2), InrushVoltage: 144})
	assert.ErrorContains(t, err, "inrush 6 A is below running current 6.67 A")
}

func TestStartEvidenceIsChecked(t *testing.T) {
	for name, set := range map[string]func(*StartEvidence, float64){
		"inrush":     func(e *StartEvidence, x float64) { e.Inrush = Exactly(unit.Current(x)) },
		"volts":      func(e *StartEvidence, x float64) { e.InrushVoltage = unit.Voltage(x) },
		"running":    func(e *StartEvidence, x float64) { e.Running = Exactly(unit.Current(x)) },
		"multiplier": func(e *StartEvidence, x float64) { e.Multiplier = Exactly(x) },
		"pf":         func(e *StartEvidence, x float64) { e.PowerFactor = Exactly(x) },
	} {
		for _, x := range bad {
			var e StartEvidence
			set(&e, x)
			_, err := jetPump.Start(e)
			assert.ErrorIs(t, err, ErrDomain, "%s %v", name, x)
			_, err = jetPump.StartFrom(BasisCodeTable, e)
			assert.ErrorIs(t, err, ErrDomain, "%s %v", name, x)
		}
	}
	_, err := jetPump.Start(StartEvidence{Multiplier: Range[float64]{Low: 5, High: 3}})
	assert.ErrorIs(t, err, ErrDomain, "upside down")
	_, err = jetPump.Start(StartEvidence{Inrush: Range[unit.Current]{Low: 50, High: 30}})
	assert.ErrorIs(t, err, ErrDomain, "upside down")
	for x, want := range map[float64]bool{1: true, 0.99: false, 15: true, 15.1: false} {
		_, err := jetPump.Start(StartEvidence{Multiplier: Exactly(x)})
		assert.Equal(t, want, err == nil, x)
	}
}

// A capacitor-start motor at standstill takes 7.3 times its running watts and
// 4.9 times its running volt-amperes: no factor of three covers either.
func TestQuarterHorsepowerStart(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/quarter_hp_start.csv") {
		n := Nameplate{Output: 0.25 * Horsepower, Voltage: unit.Voltage(row.Float("v")), Phases: 1, Type: CapacitorStart}
		e := StartEvidence{Inrush: Exactly(unit.Current(row.Float("i_a"))), PowerFactor: Exactly(row.Float("pf"))}
		d, err := n.Start(e)
		require.NoError(t, err)
		row.Printed("start_va", float64(d.Apparent.High))
		row.Digits("start_w", float64(d.Real.High), 2, "current and power factor are given to six digits")
		assert.InDelta(t, 7.28, float64(d.Real.High)/row.Float("run_w"), 0.005)
		assert.InDelta(t, 4.85, float64(d.Apparent.High)/row.Float("run_va"), 0.005)
		row.Rejects("tripled_w", float64(d.Real.High), 0.5)
		assert.InDelta(t, row.Float("tripled_w"), float64(TriplingRule(unit.Power(row.Float("run_w")))), 0.5)
	}
}

// The trade's starting watts are volt-amperes in the range of letters E to K,
// and three times the running watts falls short of most.
func TestTradeTableOfStartingWatts(t *testing.T) {
	short, rows := 0, reftest.Rows(t, "motor/motor_start_watts.csv")
	for _, row := range rows {
		k, err := LockedRotorKVAPerHP(unit.Current(row.Float("start_w")/120), 120, 1, hp(row, "hp"))
		require.NoError(t, err)
		row.Printed("start_kw_per_hp", k)
		c := letterOf(k)
		assert.True(t, c >= 'E' && c <= 'K', "%s: %v", row.Source(), c)
		if float64(TriplingRule(unit.Power(row.Float("run_w")))) < row.Float("start_w") {
			short++
		}
	}
	assert.Equal(t, 13, short)
	assert.Len(t, rows, 22)
}

func TestLockedRotorPowerFactorEnclosesExamples(t *testing.T) {
	pfMin, pfMax := map[string]float64{}, map[string]float64{}
	for _, row := range reftest.Rows(t, "motor/locked_rotor_pf.csv") {
		pfMin[row.Text("id")], pfMax[row.Text("id")] = row.Float("pf_min"), row.Float("pf_max")
		types := []Type{ShadedPole, PermanentSplit}
		if kind := row.Text("kind"); kind != "main winding" {
			parsed, err := ParseType(kind)
			require.NoError(t, err, row.Source())
			types = []Type{parsed}
			if parsed == CapacitorStart {
				types = append(types, CapacitorStartRun)
			}
		}
		if types[0] != ThreePhase {
			types = append(types, UnknownType)
		}
		for _, typ := range types {
			for _, column := range []string{"pf_min", "pf_max"} {
				assert.True(t, inside(typ.LockedRotorPowerFactor(), row.Float(column)), "%s: %v", row.Source(), typ)
			}
		}
	}
	// No wider than the examples make them, to one in the second digit.
	for typ, ids := range map[Type][2]string{
		SplitPhase: {"L6", "K10-1"}, CapacitorStart: {"L3", "K10-3"}, CapacitorStartRun: {"L3", "K10-3"},
		PermanentSplit: {"SP9", "SP4"}, ShadedPole: {"SP9", "SP4"}, UnknownType: {"L6", "K10-3"}, ThreePhase: {"G2", "H50"},
	} {
		r := typ.LockedRotorPowerFactor()
		assert.InDelta(t, pfMin[ids[0]], r.Low, 0.0101, typ)
		assert.InDelta(t, pfMax[ids[1]], r.High, 0.0101, typ)
	}
	assert.True(t, inside(ThreePhase.LockedRotorPowerFactor(), PolyphaseLockedRotorPowerFactor))
	for typ := UnknownType; typ < ThreePhase; typ++ {
		assert.Greater(t, typ.LockedRotorPowerFactor().Low, PolyphaseLockedRotorPowerFactor,
			"the rule for polyphase motors holds for no single-phase one")
	}
}

func TestRatedFiguresEncloseExamples(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/small_motor_eff_pf.csv") {
		typ, err := ParseType(row.Text("type"))
		require.NoError(t, err)
		for _, typ := range []Type{typ, UnknownType} {
			assert.True(t, inside(typ.RatedEfficiency(), row.Float("efficiency")), row.Source())
			assert.True(t, inside(typ.RatedPowerFactor(), row.Float("power_factor")), row.Source())
		}
		// Two spans that doc comments tell: of output over volt-amperes, and
		// of volt-amperes over watts where there is no run capacitor.
		pf := row.Float("power_factor")
		shaft := row.Float("efficiency") * pf
		assert.True(t, shaft >= 0.39 && shaft <= 0.81, row.Source())
		if typ == SplitPhase {
			assert.True(t, 1/pf >= 1.45 && 1/pf <= 1.705, row.Source())
		}
	}
}

// A true inrush of one of the listed motors is not suspected.
func TestSuspectRatioIsBelowExamples(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/iec_small_2pole.csv") {
		run, ratio := row.Float("i_400v_a"), row.Float("start_current_ratio")
		assert.True(t, inside(Range[float64]{Low: 3.8, High: 7}, ratio), row.Source())
		n := Nameplate{Voltage: 400, Phases: 3, FullLoadCurrent: unit.Current(run)}
		d, err := n.Start(StartEvidence{Inrush: Exactly(unit.Current(run * ratio))})
		require.NoError(t, err)
		assert.False(t, d.SuspectInrush, row.Source())
	}
}

// Two windings in parallel draw the phasor sum of their currents.
func TestImpedanceOfWindings(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/winding_phasors.csv") {
		var y complex128
		for _, c := range [][2]string{{"i1_a", "angle1_deg"}, {"i2_a", "angle2_deg"}} {
			angle := row.Float(c[1]) * math.Pi / 180
			z, err := LockedRotorImpedance(110, unit.Current(row.Float(c[0])), 1, math.Cos(angle))
			require.NoError(t, err)
			if angle > 0 { // leading
				z = cmplx.Conj(z)
			}
			y += 1 / z
		}
		row.Printed("line_a", 110*cmplx.Abs(y))
		row.Printed("pf", real(y)/cmplx.Abs(y))
	}
}

func TestImpedances(t *testing.T) {
	d := StartDemand{
		Voltage: 230, Phases: 1, Current: Range[unit.Current]{Low: 20, High: 40},
		PowerFactor: Range[float64]{Low: 0.6, High: 0.8},
	}
	z, err := d.Impedances()
	require.NoError(t, err)
	for k, want := range [4]complex128{6.9 + 9.2i, 9.2 + 6.9i, 3.45 + 4.6i, 4.6 + 3.45i} {
		assert.InDelta(t, real(want), real(z[k]), 1e-12)
		assert.InDelta(t, imag(want), imag(z[k]), 1e-12)
	}
	d.Phases = 3
	z3, err := d.Impedances()
	require.NoError(t, err)
	assert.InDelta(t, real(z[0])/math.Sqrt(3), real(z3[0]), 1e-12)
	d.Current.Low = 0 // what the code lets letter A begin with
	_, err = d.Impedances()
	assert.ErrorIs(t, err, ErrDomain)
	_, err = StartDemand{}.Impedances()
	assert.ErrorIs(t, err, ErrDomain)
	for _, pf := range append([]float64{0, 0.049, 1.001}, bad...) {
		_, err := LockedRotorImpedance(230, 20, 1, pf)
		assert.ErrorIs(t, err, ErrDomain)
	}
	for _, pf := range []float64{0.05, 1} {
		z, err := LockedRotorImpedance(230, 20, 1, pf)
		require.NoError(t, err)
		assert.InDelta(t, 11.5, cmplx.Abs(z), 1e-12)
		assert.InDelta(t, 11.5*pf, real(z), 1e-12)
	}
}

// What the impedance takes from its voltage is the demand it came from.
func TestImpedanceGivesBackTheDemand(t *testing.T) {
	for _, m := range []int{1, 3} {
		n := Nameplate{Voltage: 230, Phases: m, LockedRotorCurrent: 40}
		d, err := n.Start(StartEvidence{PowerFactor: Exactly(0.7)})
		require.NoError(t, err)
		z, err := d.Impedances()
		require.NoError(t, err)
		phase := complex(230/math.Sqrt(float64(m)), 0)
		s := complex(float64(m), 0) * phase * cmplx.Conj(phase/z[0])
		assert.InDelta(t, float64(d.Apparent.High), cmplx.Abs(s), 1e-9)
		assert.InDelta(t, float64(d.Real.High), real(s), 1e-9)
		assert.Positive(t, imag(s), "lagging")
	}
}
