package conductor

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// A rule of the list is the factor by which its function multiplies.
func TestMotorRules(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_430_rules.csv")
	require.Len(t, rows, 14)
	for _, row := range rows {
		amps := unit.Current(row.Float("amperes"))
		m := MotorCircuit{Table: amps, Nameplate: amps}
		if row.Has("sf") {
			m.ServiceFactor = row.Float("sf")
		}
		if row.Has("rise_k") {
			m.Rise = unit.Temperature(row.Float("rise_k"))
		}
		var got unit.Current
		var err error
		switch row.Text("rule") {
		case "430.22 conductor":
			got, err = m.ConductorAmpacity()
		case "430.24 feeder":
			got, err = MotorFeeder([]unit.Current{3, amps, 5})
			got -= 8
		case "430.32(A)(1) overload", "430.32(C) overload if no start":
			var o MotorOverload
			o, err = m.Overload()
			got = o.Largest
			if row.Text("rule") != "430.32(A)(1) overload" {
				got = o.IfNoStart
			}
		case "430.32(A)(2) thermal protector":
			got, err = m.ThermalProtector()
		case "430.110 disconnect":
			got, err = m.Disconnect()
		case "210.20(A) continuous load":
			got, err = BranchLoad{Continuous: amps}.Demand()
		default:
			t.Errorf("%s: unknown rule", row.Source())
		}
		require.NoError(t, err)
		row.Printed("factor", float64(got/amps))
	}
}

func TestMotorFeeder(t *testing.T) {
	assert.EqualValues(t, 15, must[unit.Current](t)(MotorFeeder([]unit.Current{12})))
	assert.EqualValues(t, 25, must[unit.Current](t)(MotorFeeder([]unit.Current{12, 10})))
	assert.EqualValues(t, 25, must[unit.Current](t)(MotorFeeder([]unit.Current{10, 12})))
	assert.EqualValues(t, 27, must[unit.Current](t)(MotorFeeder([]unit.Current{12, 12})))
	refused(t, second(MotorFeeder(nil)), "list of motors")
	refused(t, second(MotorFeeder([]unit.Current{12, 0})), "table full-load current")
}

// The table's current and the nameplate's do not stand in for each other.
func TestMotorCurrents(t *testing.T) {
	table, plate := MotorCircuit{Kind: SinglePhase, Table: 8}, MotorCircuit{Kind: SinglePhase, Nameplate: 7.2}
	require.NoError(t, second(table.ConductorAmpacity()))
	require.NoError(t, second(table.ShortCircuit(DualElementFuse)))
	require.NoError(t, second(plate.Overload()))
	refused(t, second(table.Overload()), "nameplate full-load current 0 A")
	for _, err := range []error{
		second(plate.ConductorAmpacity()), second(plate.ShortCircuit(DualElementFuse)), second(plate.ThermalProtector()), second(plate.Disconnect()),
	} {
		refused(t, err, "table full-load current 0 A")
	}
	for name, call := range map[string]func(x float64) error{
		"conductor":  func(x float64) error { return second(MotorCircuit{Table: unit.Current(x)}.ConductorAmpacity()) },
		"protector":  func(x float64) error { return second(MotorCircuit{Table: unit.Current(x)}.ThermalProtector()) },
		"disconnect": func(x float64) error { return second(MotorCircuit{Table: unit.Current(x)}.Disconnect()) },
		"feeder":     func(x float64) error { return second(MotorFeeder([]unit.Current{unit.Current(x)})) },
		"device": func(x float64) error {
			return second(MotorCircuit{Kind: Polyphase, Table: unit.Current(x)}.ShortCircuit(InverseTimeBreaker))
		},
	} {
		t.Run(name, func(t *testing.T) { bounds(t, "table full-load current", 0.1, 2000, call) })
	}
}

func TestMotorKindNames(t *testing.T) {
	assert.Equal(t, "single-phase, polyphase, no kind of motor", fmt.Sprintf("%v, %v, %v", SinglePhase, Polyphase, MotorKind(0)))
	assert.Equal(t, "inverse-time breaker, no device", fmt.Sprintf("%v, %v", InverseTimeBreaker, MotorDevice(0)))
}
