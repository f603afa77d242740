package motor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestStarterVerdicts(t *testing.T) {
	for _, tt := range []struct {
		c    StarterCase
		want StarterVerdict
	}{
		{StarterCase{Starter: FullVoltage, Type: CapacitorStart, Phases: 1}, StarterVerdict{Useful, NoObjection}},
		{StarterCase{Starter: FullVoltage, Phases: 3}, StarterVerdict{Useful, NoObjection}},
		{StarterCase{Starter: VoltageRamp, Type: SplitPhase, Phases: 1}, StarterVerdict{Useless, SwitchStaysIn}},
		{StarterCase{Starter: VoltageRamp, Type: CapacitorStart, Phases: 1}, StarterVerdict{Useless, SwitchStaysIn}},
		{StarterCase{Starter: VoltageRamp, Type: CapacitorStartRun, Phases: 1}, StarterVerdict{Useless, SwitchStaysIn}},
		{StarterCase{Starter: VoltageRamp, Phases: 1}, StarterVerdict{Useless, SwitchStaysIn}},
		{StarterCase{Starter: VoltageRamp, Type: PermanentSplit, Phases: 1}, StarterVerdict{OnlyWithTorqueToSpare, TorqueFalls}},
		{StarterCase{Starter: VoltageRamp, Type: ShadedPole, Phases: 1}, StarterVerdict{OnlyWithTorqueToSpare, TorqueFalls}},
		{StarterCase{Starter: VoltageRamp, Type: ThreePhase, Phases: 3}, StarterVerdict{OnlyWithTorqueToSpare, TorqueFalls}},
		{StarterCase{Starter: Autotransformer, Type: SplitPhase, Phases: 1}, StarterVerdict{Useless, SwitchStaysIn}},
		{StarterCase{Starter: Autotransformer, Phases: 3}, StarterVerdict{OnlyWithTorqueToSpare, TorqueFalls}},
		{StarterCase{Starter: SeriesImpedance, Type: CapacitorStart, Phases: 1}, StarterVerdict{Useless, SwitchStaysIn}},
		{StarterCase{Starter: SeriesImpedance, Phases: 3}, StarterVerdict{OnlyWithTorqueToSpare, TorqueFalls}},
		{StarterCase{Starter: WyeDelta, Type: CapacitorStart, Phases: 1, SixLeads: true}, StarterVerdict{Useless, NeedsThreePhaseMotor}},
		{StarterCase{Starter: WyeDelta, Phases: 3}, StarterVerdict{Useless, NeedsSixLeads}},
		{StarterCase{Starter: WyeDelta, Phases: 3, SixLeads: true}, StarterVerdict{OnlyWithTorqueToSpare, TorqueFalls}},
		{StarterCase{Starter: FrequencyDrive, Type: ThreePhase, Phases: 3}, StarterVerdict{Useful, NoObjection}},
		{StarterCase{Starter: FrequencyDrive, Type: CapacitorStart, Phases: 1}, StarterVerdict{Useless, NeedsItsOwnDrive}},
		{StarterCase{Starter: FrequencyDrive, Type: PermanentSplit, Phases: 1}, StarterVerdict{Useless, NeedsItsOwnDrive}},
		{StarterCase{Starter: FrequencyDrive, Type: PermanentSplit, Phases: 1, SinglePhaseDrive: true}, StarterVerdict{Useful, NoObjection}},
		{StarterCase{Starter: FrequencyDrive, Type: CapacitorStart, Phases: 1, SinglePhaseDrive: true}, StarterVerdict{OnlyWithTorqueToSpare, SwitchStaysIn}},
	} {
		got, err := tt.c.Judge()
		require.NoError(t, err)
		assert.Equal(t, tt.want, got, "%+v", tt.c)
	}
}

func TestStarterCaseRefused(t *testing.T) {
	for _, c := range []StarterCase{
		{},
		{Starter: VoltageRamp, Phases: 2},
		{Phases: 1},
		{Starter: FrequencyDrive + 1, Phases: 3},
		{Starter: VoltageRamp, Type: 99, Phases: 1},
		{Starter: VoltageRamp, Type: ThreePhase, Phases: 1},
		{Starter: VoltageRamp, Type: SplitPhase, Phases: 3},
	} {
		_, err := c.Judge()
		assert.ErrorIs(t, err, ErrDomain, "%+v", c)
	}
	// Every starter has an answer for every type, and a reason where it is
	// not simply useful.
	for s := FullVoltage; s <= FrequencyDrive; s++ {
		for typ := UnknownType; typ <= ThreePhase; typ++ {
			for _, m := range []int{1, 3} {
				v, err := StarterCase{Starter: s, Type: typ, Phases: m}.Judge()
				if err == nil {
					assert.NotZero(t, v.Use)
					assert.Equal(t, v.Use == Useful, v.Reason == NoObjection)
				}
			}
		}
	}
}

func TestStarterNames(t *testing.T) {
	assert.Equal(t, "wye-delta", WyeDelta.String())
	assert.Equal(t, "frequency drive", FrequencyDrive.String())
	assert.Equal(t, "unknown", Starter(0).String())
	assert.Equal(t, "unknown", Starter(99).String())
	assert.Equal(t, "useless", Useless.String())
	assert.Equal(t, "the start switch stays in", SwitchStaysIn.String())
	assert.Equal(t, "needs a drive made for single-phase motors", NeedsItsOwnDrive.String())
}

func TestNotCovered(t *testing.T) {
	err := notCovered("a table", UncoveredPoles, "motors of 3 poles")
	require.ErrorIs(t, err, ErrNotCovered)
	require.NotErrorIs(t, err, ErrDomain)
	require.EqualError(t, err, "motor: a table does not cover motors of 3 poles")
	assert.Equal(t, "number of poles", UncoveredPoles.String())
	assert.Equal(t, "inertia of the load", UncoveredInertia.String())
	assert.Equal(t, "unknown", Uncovered(0).String())
	assert.Equal(t, "unknown", Uncovered(99).String())
}
