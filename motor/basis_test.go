package motor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

func TestBasisText(t *testing.T) {
	for i := range 256 {
		b := Basis(i)
		text, err := b.MarshalText()
		if i > int(BasisTypical) {
			assert.ErrorIs(t, err, ErrDomain)
			assert.Equal(t, "unknown", b.String())
			continue
		}
		require.NoError(t, err)
		back := Basis(99)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, b, back)
	}
	for text, want := range map[string]Basis{"Measured": BasisMeasured, " table ": BasisCodeTable, "RULE OF THUMB": BasisRuleOfThumb} {
		got, err := ParseBasis(text)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	for _, text := range []string{"", "unknown", "guess", "measured,"} {
		_, err := ParseBasis(text)
		assert.ErrorIs(t, err, ErrDomain, text)
	}
	var b Basis
	assert.ErrorIs(t, b.UnmarshalText([]byte("guess")), ErrDomain)
}

func TestWorst(t *testing.T) {
	assert.Equal(t, BasisTypical, Worst(BasisMeasured, BasisTypical, BasisNameplate))
	assert.Equal(t, BasisMeasured, Worst(BasisMeasured))
	assert.Zero(t, Worst())
	assert.Zero(t, Worst(BasisMeasured, 0))
	assert.Less(t, BasisMeasured, BasisNameplate)
	assert.Less(t, BasisNameplate, BasisCodeLetter)
	assert.Less(t, BasisCodeLetter, BasisCodeTable)
	assert.Less(t, BasisCodeTable, BasisRuleOfThumb)
}

func TestTypeText(t *testing.T) {
	for i := range 256 {
		typ := Type(i)
		text, err := typ.MarshalText()
		if typ > ThreePhase {
			assert.ErrorIs(t, err, ErrDomain)
			assert.Equal(t, "unknown", typ.String())
			assert.Equal(t, UnknownType.LockedRotorPowerFactor(), typ.LockedRotorPowerFactor())
			continue
		}
		require.NoError(t, err)
		back := Type(99)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, typ, back)
		for _, r := range []Range[float64]{typ.LockedRotorPowerFactor(), typ.RatedPowerFactor(), typ.RatedEfficiency()} {
			assert.True(t, r.Valid() && r.Low > 0 && r.High < 1, typ)
		}
	}
	for text, want := range map[string]Type{"PSC": PermanentSplit, "csir": CapacitorStart, "CSCR": CapacitorStartRun, "Three-Phase": ThreePhase} {
		got, err := ParseType(text)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	for _, text := range []string{"", "dc", "psc motor"} {
		_, err := ParseType(text)
		assert.ErrorIs(t, err, ErrDomain, text)
	}
	typ := ThreePhase
	require.NoError(t, typ.UnmarshalText(nil))
	assert.Equal(t, UnknownType, typ)
	assert.ErrorIs(t, typ.UnmarshalText([]byte("dc")), ErrDomain)
	// Three phases decide where the type is not known.
	r, err := Nameplate{Voltage: 230, Phases: 3, LockedRotorCurrent: 100}.Start(StartEvidence{})
	require.NoError(t, err)
	assert.Equal(t, ThreePhase.LockedRotorPowerFactor(), r.PowerFactor)
}

func TestStartDuration(t *testing.T) {
	all := UnknownLoad.StartDuration()
	for l := range DrivenLoad(10) {
		d := l.StartDuration()
		assert.True(t, d.Valid() && d.Low > 0, l)
		assert.True(t, d.Low >= all.Low && d.High <= all.High, "the unknown load encloses the others")
	}
	assert.Equal(t, Range[unit.Time]{Low: 0.3, High: 1}, Pump.StartDuration())
}

func TestErrorTexts(t *testing.T) {
	c := &ContradictionError{What: "a against b"}
	assert.EqualError(t, c, "motor: contradiction: a against b")
	assert.NotErrorIs(t, c, ErrMissing)
	assert.EqualError(t, missing("x"), "motor: x not given")
	assert.EqualError(t, checkCurrent("current", 0), "motor: current 0 A, want 50 mA to 20 kA")
}
