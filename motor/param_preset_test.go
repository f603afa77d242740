package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// sizes are the ratings of catalogues (hp).
var sizes = [...]float64{1. / 6, 0.25, 1. / 3, 0.5, 0.75, 1, 1.5, 2, 3, 5, 7.5, 10}

// within checks one figure of a preset against its span.
func inSpan(t *testing.T, got float64, want Range[float64], what string, hp float64) {
	t.Helper()
	assert.True(t, within(got, want.Low, want.High), "%s at %.3g hp: %.3f, want %.2f to %.2f", what, hp, got, want.Low, want.High)
}

// sanity is what a typical motor must be.
type sanity struct {
	slip, breakdown, starting, pf, efficiency, lockedPF Range[float64]
}

func (s sanity) check(t *testing.T, c Circuit, output unit.Power, name string) {
	t.Helper()
	require.NoError(t, c.Validate(), name)
	hp := float64(output / Horsepower)
	v := unit.Voltage(c.frame().voltage)
	var rated Point
	var err error
	switch c := c.(type) {
	case SinglePhaseCircuit:
		rated, err = c.AtOutput(output, v)
	case ThreePhaseCircuit:
		rated, err = c.AtOutput(output, v)
	}
	require.NoError(t, err, "%s at %.3g hp", name, hp)
	held, err := c.Starting(1, v)
	require.NoError(t, err)
	most, err := c.Breakdown(v)
	require.NoError(t, err)
	torque := float64(output) / float64(rated.Speed)
	inSpan(t, rated.Slip, s.slip, name+" slip", hp)
	inSpan(t, float64(most.Torque)/torque, s.breakdown, name+" breakdown torque", hp)
	inSpan(t, float64(held.Torque)/torque, s.starting, name+" starting torque", hp)
	inSpan(t, rated.PowerFactor, s.pf, name+" power factor", hp)
	inSpan(t, rated.Efficiency, s.efficiency, name+" efficiency", hp)
	inSpan(t, held.PowerFactor, s.lockedPF, name+" locked-rotor power factor", hp)
}

// sanityOf has the spans that hold for all types, and those of the types'
// published machines.
func sanityOf(t Type, starting Range[float64]) sanity {
	return sanity{
		slip: span(0.02, 0.07), breakdown: span(1.5, 5.1), starting: starting,
		pf: t.RatedPowerFactor(), efficiency: t.RatedEfficiency(), lockedPF: t.LockedRotorPowerFactor(),
	}
}

// Spans of starting torque over rated torque are those of the trade for each
// type; the other spans are those of published machines.
func TestTypicalSinglePhase(t *testing.T) {
	for _, tt := range []struct {
		kind        Type
		least, most float64
		starting    Range[float64]
		stated      [3]Range[float64] // in the comment: slip, breakdown, starting
	}{
		{SplitPhase, 1. / 6, 0.5, span(1, 2), [3]Range[float64]{span(0.045, 0.055), span(2.4, 3.1), span(1.4, 1.9)}},
		{CapacitorStart, 1. / 6, 5, span(2, 4), [3]Range[float64]{span(0.03, 0.045), span(1.7, 3.5), span(2, 3)}},
		{CapacitorStartRun, 0.5, 5, span(2, 4), [3]Range[float64]{span(0.025, 0.035), span(1.8, 4.1), span(2, 3)}},
		{PermanentSplit, 1. / 6, 1, span(0.3, 0.8), [3]Range[float64]{span(0.05, 0.055), span(1.6, 1.8), span(0.3, 0.4)}},
	} {
		checked := 0
		for _, hp := range sizes {
			p := unit.Power(hp) * Horsepower
			for _, rating := range []struct {
				v     unit.Voltage
				f     unit.Frequency
				poles int
			}{{115, 60, 4}, {230, 60, 2}, {230, 50, 6}} {
				got, err := TypicalSinglePhase(tt.kind, p, rating.v, rating.f, rating.poles)
				if !within(hp, tt.least, tt.most) {
					require.ErrorIs(t, err, ErrDomain)
					continue
				}
				require.NoError(t, err)
				checked++
				s := sanityOf(tt.kind, tt.starting)
				s.check(t, got.Circuit, p, tt.kind.String())
				s.slip, s.breakdown, s.starting = tt.stated[0], tt.stated[1], tt.stated[2]
				s.check(t, got.Circuit, p, tt.kind.String()+" as stated")
				assert.Equal(t, BasisTypical, got.Basis)
				assert.NotEmpty(t, got.Source)
				held, err := got.Circuit.Starting(1, rating.v)
				require.NoError(t, err)
				assert.True(t, got.LockedRotorCurrent.Low < held.Current && held.Current < got.LockedRotorCurrent.High, hp)
				// The letters about the typical one.
				low, err := ClassifyCodeLetter(got.LockedRotorCurrent.Low*1.0001, rating.v, 1, p)
				require.NoError(t, err)
				mid, err := ClassifyCodeLetter(held.Current, rating.v, 1, p)
				require.NoError(t, err)
				high, err := ClassifyCodeLetter(got.LockedRotorCurrent.High*0.9999, rating.v, 1, p)
				require.NoError(t, err)
				assert.Equal(t, []int{mid.index() - 1, mid.index() + 1}, []int{low.index(), high.index()})
			}
		}
		assert.GreaterOrEqual(t, checked, 12, tt.kind)
	}
}

// Circuits at the ends of the spread still carry their load and start.
func TestTypicalSpread(t *testing.T) {
	for _, kind := range []Type{SplitPhase, CapacitorStart, CapacitorStartRun, PermanentSplit} {
		for _, hp := range []float64{0.5, 1, 5} {
			p := unit.Power(hp) * Horsepower
			preset, err := TypicalSinglePhase(kind, p, 230, 60, 4)
			if err != nil {
				continue
			}
			low, err := preset.Low()
			require.NoError(t, err)
			high, err := preset.High()
			require.NoError(t, err)
			var held [3]Point
			for i, c := range []SinglePhaseCircuit{low, preset.Circuit, high} {
				held[i], err = c.Starting(1, 230)
				require.NoError(t, err)
				most, err := c.Breakdown(230)
				require.NoError(t, err)
				assert.Greater(t, float64(most.Torque), 1.3*float64(p)/synchronous(60, 4), "%s %g", kind, hp)
			}
			assert.InEpsilon(t, float64(preset.LockedRotorCurrent.Low), float64(held[0].Current), 1e-9)
			assert.InEpsilon(t, float64(preset.LockedRotorCurrent.High), float64(held[2].Current), 1e-9)
			assert.Less(t, held[0].Torque, held[1].Torque)
			assert.Less(t, held[1].Torque, held[2].Torque)
		}
	}
	three, err := TypicalThreePhase(5*Horsepower, 230, 60, 4)
	require.NoError(t, err)
	low, err := three.Low()
	require.NoError(t, err)
	high, err := three.High()
	require.NoError(t, err)
	a, err := low.Thevenin(230)
	require.NoError(t, err)
	b, err := high.Thevenin(230)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(three.LockedRotorCurrent.Low), float64(a.LockedRotor), 1e-9)
	assert.InEpsilon(t, float64(three.LockedRotorCurrent.High), float64(b.LockedRotor), 1e-9)
}

func TestTypicalThreePhase(t *testing.T) {
	for _, hp := range sizes {
		p := unit.Power(hp) * Horsepower
		got, err := TypicalThreePhase(p, 460, 60, 4)
		if hp < 0.5 {
			require.ErrorIs(t, err, ErrDomain)
			continue
		}
		require.NoError(t, err)
		s := sanityOf(ThreePhase, span(1.3, 3.6))
		s.slip, s.breakdown = span(0.025, 0.035), span(2.9, 5.1)
		s.check(t, got.Circuit, p, "three-phase")
		assert.Equal(t, BasisTypical, got.Basis)
		assert.NotEmpty(t, got.Source)
	}
}

func TestTypicalSubmersible(t *testing.T) {
	checked := 0
	for _, row := range reftest.Rows(t, "motor/submersible.csv") {
		if row.Float("phases") != 1 {
			continue
		}
		p, v := unit.Power(row.Float("hp"))*Horsepower, unit.Voltage(row.Float("v_v"))
		wires := int(row.Float("wires"))
		got, err := TypicalSubmersible(wires, p, v, 60)
		require.NoError(t, err)
		s := sanityOf(SplitPhase, span(1.2, 2.4))
		if wires == 3 {
			s = sanityOf(CapacitorStart, span(2, 4))
		}
		// Their running figures lie below those of other motors: more
		// magnetizing current in a slender motor.
		s.pf, s.efficiency = span(0.5, 0.8), span(0.55, 0.82)
		s.check(t, got.Circuit, p, "submersible")
		held, err := got.Circuit.Starting(1, v)
		require.NoError(t, err)
		assert.InEpsilon(t, row.Float("lra_a"), float64(held.Current), 0.02, row.Source())
		// At service-factor load the current is near the greatest of the sheet.
		factor := map[float64]unit.Power{0.5: 1.6, 0.75: 1.5, 1: 1.4, 1.5: 1.3}[row.Float("hp")]
		loaded, err := got.Circuit.AtOutput(factor*p, v)
		require.NoError(t, err)
		assert.InEpsilon(t, row.Float("i_max_a"), float64(loaded.Current), 0.2, row.Source())
		checked++
	}
	assert.Equal(t, 8, checked)
	large, err := TypicalSubmersible(3, 5*Horsepower, 230, 60)
	require.NoError(t, err)
	assert.Equal(t, 2, large.Circuit.Poles)
	for _, wires := range []int{1, 4} {
		_, err := TypicalSubmersible(wires, Horsepower, 230, 60)
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err = TypicalSubmersible(2, 2*Horsepower, 230, 60)
	require.ErrorIs(t, err, ErrDomain)
}

// The motors of a house come out as people find them there. The bounds are
// common practice: locked-rotor amperes of plates, running amperes between the
// textbook motors' and the code table's.
func TestTypicalHousehold(t *testing.T) {
	for name, tt := range map[string]struct {
		kind        Type
		hp          float64
		v           unit.Voltage
		poles       int
		held, rated Range[float64]
	}{
		"jet pump, capacitor-start":       {CapacitorStart, 0.5, 115, 2, span(38, 50), span(7, 9.8)},
		"jet pump, split-phase":           {SplitPhase, 0.5, 115, 2, span(38, 50), span(6, 9.8)},
		"sump pump, split-phase":          {SplitPhase, 1. / 3, 115, 4, span(25, 36), span(4.5, 7.2)},
		"sump pump, permanent-split":      {PermanentSplit, 1. / 3, 115, 4, span(8, 16), span(3.5, 7.2)},
		"refrigerator, split-phase":       {SplitPhase, 1. / 6, 115, 2, span(12, 20), span(2.2, 4.4)},
		"refrigerator, start capacitor":   {CapacitorStart, 1. / 4, 115, 2, span(15, 26), span(3.5, 5.8)},
		"furnace blower, permanent-split": {PermanentSplit, 0.5, 115, 6, span(12, 25), span(5.5, 9.8)},
	} {
		p, err := TypicalSinglePhase(tt.kind, unit.Power(tt.hp)*Horsepower, tt.v, 60, tt.poles)
		require.NoError(t, err)
		held, err := p.Circuit.Starting(1, tt.v)
		require.NoError(t, err)
		rated, err := p.Circuit.AtOutput(unit.Power(tt.hp)*Horsepower, tt.v)
		require.NoError(t, err)
		inSpan(t, float64(held.Current), tt.held, name+" held", tt.hp)
		inSpan(t, float64(rated.Current), tt.rated, name+" rated", tt.hp)
	}
}

// The letters that practice gives to horsepowers contain the typical motors.
func TestTypicalLetters(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/typical_letters.csv") {
		p := unit.Power(row.Float("hp")) * Horsepower
		preset, err := TypicalSinglePhase(CapacitorStart, p, 230, 60, 4)
		require.NoError(t, err)
		held, err := preset.Circuit.Starting(1, 230)
		require.NoError(t, err)
		letter, err := ClassifyCodeLetter(held.Current, 230, 1, p)
		require.NoError(t, err)
		assert.Equal(t, row.Text("letter"), letter.String(), row.Source())
	}
}

func TestTypicalRefuses(t *testing.T) {
	nan := math.NaN()
	for name, err := range map[string]error{
		"shaded-pole":  second(TypicalSinglePhase(ShadedPole, Horsepower/4, 115, 60, 4)),
		"unknown":      second(TypicalSinglePhase(UnknownType, Horsepower/4, 115, 60, 4)),
		"three-phase":  second(TypicalSinglePhase(ThreePhase, Horsepower, 115, 60, 4)),
		"no unit":      second(TypicalSinglePhase(SplitPhase, 0.5, 115, 60, 4)),
		"nan":          second(TypicalSinglePhase(SplitPhase, unit.Power(nan), 115, 60, 4)),
		"volts":        second(TypicalSinglePhase(SplitPhase, Horsepower/3, 12, 60, 4)),
		"volts nan":    second(TypicalSinglePhase(SplitPhase, Horsepower/3, unit.Voltage(nan), 60, 4)),
		"volts high":   second(TypicalSinglePhase(SplitPhase, Horsepower/3, 601, 60, 4)),
		"hertz":        second(TypicalSinglePhase(SplitPhase, Horsepower/3, 115, 0, 4)),
		"poles":        second(TypicalSinglePhase(SplitPhase, Horsepower/3, 115, 60, 5)),
		"three: hertz": second(TypicalThreePhase(Horsepower, 230, 500, 4)),
		"three: large": second(TypicalThreePhase(11*Horsepower, 230, 60, 4)),
	} {
		require.ErrorIs(t, err, ErrDomain, name)
	}
}

func second[T any](_ T, err error) error { return err }

// Between the sizes nothing jumps: the locked-rotor current rises with the
// output, and impedances go with V²/P at one frequency.
func FuzzTypical(f *testing.F) {
	f.Add(uint8(0), 0.3, 115.0)
	f.Add(uint8(1), 1.7, 230.0)
	f.Add(uint8(2), 4.9, 240.0)
	f.Add(uint8(3), 0.6, 120.0)
	kinds := [...]Type{SplitPhase, CapacitorStart, CapacitorStartRun, PermanentSplit}
	f.Fuzz(func(t *testing.T, k uint8, hp, v float64) {
		kind := kinds[int(k)%len(kinds)]
		r := kind.recipe()
		if !within(hp, r.least, r.most/1.01) || !within(v, 100, 300) {
			t.Skip()
		}
		p := unit.Power(hp) * Horsepower
		a, err := TypicalSinglePhase(kind, p, unit.Voltage(v), 60, 4)
		require.NoError(t, err)
		b, err := TypicalSinglePhase(kind, p*1.01, unit.Voltage(v), 60, 4)
		require.NoError(t, err)
		c, err := TypicalSinglePhase(kind, p, unit.Voltage(2*v), 60, 4)
		require.NoError(t, err)
		held := func(c SinglePhaseCircuit) Point {
			h, err := c.Starting(1, c.Voltage)
			require.NoError(t, err)
			return h
		}
		ratio := float64(held(b.Circuit).Apparent / held(a.Circuit).Apparent)
		assert.True(t, within(ratio, 0.999, 1.012), ratio)
		assert.InEpsilon(t, float64(held(a.Circuit).Apparent), float64(held(c.Circuit).Apparent), 1e-9)
		assert.InEpsilon(t, float64(held(a.Circuit).Torque), float64(held(c.Circuit).Torque), 1e-9)
		assert.InEpsilon(t, 4*float64(a.Circuit.Xm), float64(c.Circuit.Xm), 1e-9)
	})
}
