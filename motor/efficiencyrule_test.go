package motor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// doeOutput reads the horsepower of a row, whose 0.33 stands for 1/3.
func doeOutput(row reftest.Row) unit.Power {
	if row.Text("hp") == "0.33" {
		return Horsepower / 3
	}
	return hp(row, "hp")
}

func TestSmallMotorEfficiencyAgainstFile(t *testing.T) {
	table := reftest.Rows(t, "motor/doe_small_motors.csv")
	require.Len(t, table, len(efficiencyRows), "rows in the code and in the file")
	columns := map[Type]string{ThreePhase: "polyphase", CapacitorStart: "cap_start", CapacitorStartRun: "cap_start"}
	for _, row := range table {
		for typ, name := range columns {
			for poles, suffix := range map[int]string{2: "_2pole", 4: "_4pole", 6: "_6pole"} {
				for _, output := range []unit.Power{doeOutput(row), unit.Power(row.Float("kw")) * Kilowatt} {
					m, err := SmallMotorEfficiency(output, poles, typ, Pump)
					if !row.Has(name + suffix) {
						require.ErrorIs(t, err, ErrNotCovered, "%s %s", row.Source(), name+suffix)
						continue
					}
					require.NoError(t, err, row.Source())
					row.Printed(name+suffix, 100*m.Efficiency)
					row.Printed("kw", float64(m.Metric/Kilowatt))
					assert.InEpsilon(t, float64(doeOutput(row)), float64(m.Listed), 1e-12)
				}
			}
		}
	}
}

// Larger motors are to be better, and the metric rating stands near the other.
func TestSmallMotorEfficiencyLaws(t *testing.T) {
	for i, r := range efficiencyRows {
		assert.InEpsilon(t, r.hp*0.746, r.kilowatt, 0.04, r.hp)
		if i == 0 {
			continue
		}
		last := efficiencyRows[i-1]
		for k := range 3 {
			if r.polyphase[k] != 0 {
				assert.GreaterOrEqual(t, r.polyphase[k], last.polyphase[k])
			}
			if r.capacitorStart[k] != 0 {
				assert.GreaterOrEqual(t, r.capacitorStart[k], last.capacitorStart[k])
			}
		}
	}
}

func TestSmallMotorEfficiencyBetweenSizes(t *testing.T) {
	for hp, listed := range map[float64]float64{0.245: 0.25, 0.6: 0.5, 0.625: 0.75, 0.874: 0.75, 0.875: 1, 1.2: 1, 1.25: 1.5, 2.49: 2, 2.5: 3, 3.002: 3} {
		m, err := SmallMotorEfficiency(unit.Power(hp)*Horsepower, 2, CapacitorStart, UnknownLoad)
		require.NoError(t, err, hp)
		assert.InDelta(t, listed, float64(m.Listed/Horsepower), 1e-12, hp)
	}
}

func TestSmallMotorEfficiencyRefuses(t *testing.T) {
	for _, tt := range []struct {
		hp     float64
		poles  int
		typ    Type
		driven DrivenLoad
		reason Uncovered
	}{
		{1, 4, SplitPhase, Pump, UncoveredType},
		{1, 4, PermanentSplit, Pump, UncoveredType},
		{1, 4, ShadedPole, Pump, UncoveredType},
		{1, 4, UnknownType, Pump, UncoveredType},
		{1, 4, CapacitorStart, SubmersiblePump, UncoveredDriven},
		{1, 8, CapacitorStart, Pump, UncoveredPoles},
		{0.2, 4, CapacitorStart, Pump, UncoveredSize},
		{3.01, 2, CapacitorStart, Pump, UncoveredSize},
		{3, 4, CapacitorStart, Pump, UncoveredSize},
		{5, 4, ThreePhase, Pump, UncoveredSize},
	} {
		_, err := SmallMotorEfficiency(unit.Power(tt.hp)*Horsepower, tt.poles, tt.typ, tt.driven)
		var e *NotCoveredError
		require.ErrorAs(t, err, &e)
		assert.Equal(t, tt.reason, e.Reason, err)
	}
	for _, p := range append([]float64{0, 1}, bad...) {
		_, err := SmallMotorEfficiency(unit.Power(p), 4, ThreePhase, Pump)
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err := SmallMotorEfficiency(Horsepower, 4, 99, Pump)
	require.ErrorIs(t, err, ErrDomain)
}
