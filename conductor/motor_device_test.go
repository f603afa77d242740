package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

var (
	motorKinds   = []MotorKind{SinglePhase, Polyphase, DesignB, Synchronous, WoundRotor, DirectCurrent}
	motorDevices = []MotorDevice{NonTimeDelayFuse, DualElementFuse, InstantaneousTrip, InverseTimeBreaker}
)

func kindNamed(t *testing.T, name string) MotorKind {
	t.Helper()
	for _, k := range motorKinds {
		if k.String() == name {
			return k
		}
	}
	t.Fatalf("no kind %q", name)
	return 0
}

func deviceNamed(t *testing.T, name string) MotorDevice {
	t.Helper()
	for _, d := range motorDevices {
		if d.String() == name {
			return d
		}
	}
	t.Fatalf("no device %q", name)
	return 0
}

func TestMotorDevicePercent(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_430_52.csv")
	require.Len(t, rows, 7)
	for _, row := range rows {
		for column, d := range map[string]MotorDevice{
			"nontime_delay_fuse_pct": NonTimeDelayFuse, "dual_element_fuse_pct": DualElementFuse,
			"instantaneous_trip_pct": InstantaneousTrip, "inverse_time_breaker_pct": InverseTimeBreaker,
		} {
			p := must[MotorProtection](t)(MotorCircuit{Kind: kindNamed(t, row.Text("motor")), Table: 40}.ShortCircuit(d))
			row.Printed(column, float64(100*p.Computed/40))
			assert.InDelta(t, p.Percent, float64(100*p.Computed/40), 1e-9)
		}
	}
}

func TestMotorDeviceCeilings(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_430_52_ceilings.csv")
	require.Len(t, rows, 8)
	for _, row := range rows {
		flc := unit.Current(row.Float("flc_a"))
		p := must[MotorProtection](t)(MotorCircuit{Kind: kindNamed(t, row.Text("motor")), Table: flc}.ShortCircuit(deviceNamed(t, row.Text("device"))))
		row.Printed("ceiling_pct", float64(100*p.Ceiling/flc))
	}
}

func TestMotorDevicesWorked(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_430_devices_worked.csv")
	require.Len(t, rows, 13)
	for _, row := range rows {
		m := MotorCircuit{Kind: SinglePhase}
		if row.HasParam("FLC") {
			m.Table = unit.Current(row.Param("FLC", "A"))
		}
		if row.HasParam("FLA") {
			m.Nameplate, m.ServiceFactor = unit.Current(row.Param("FLA", "A")), row.Param("SF", "")
		}
		var got unit.Current
		switch q := row.Text("quantity"); q {
		case "overload":
			got = must[MotorOverload](t)(m.Overload()).Largest
		case "overload if no start":
			got = must[MotorOverload](t)(m.Overload()).IfNoStart
		case "continuous capacity":
			got = must[unit.Current](t)(ContinuousCapacity(unit.Current(row.Param("rating", "A"))))
		default:
			got = must[MotorProtection](t)(m.ShortCircuit(deviceNamed(t, q))).Standard
		}
		row.Expected(float64(got))
		if row.Has("wrong") {
			row.Rejects("wrong", float64(got), 0.015)
		}
	}
}

// The rating within the code: at least the computed one, less than a step above
// it, never below it in the end, and growing with the current.
func TestMotorDeviceLaws(t *testing.T) {
	for _, k := range motorKinds {
		for _, d := range motorDevices {
			last := MotorProtection{}
			for flc := unit.Current(0.1); flc <= 2000; flc *= 1.013 {
				p := must[MotorProtection](t)(MotorCircuit{Kind: k, Table: flc}.ShortCircuit(d))
				assert.GreaterOrEqual(t, p.Standard, p.Computed*(1-ratingSlack))
				assert.GreaterOrEqual(t, p.Largest, p.Standard)
				assert.GreaterOrEqual(t, p.Ceiling, p.Computed*(1-ratingSlack), "%v %v %v", k, d, flc)
				assert.GreaterOrEqual(t, p.Computed, last.Computed)
				assert.GreaterOrEqual(t, p.Standard, last.Standard)
				if d != InstantaneousTrip && p.Largest > p.Standard {
					assert.LessOrEqual(t, p.Largest, p.Ceiling*(1+ratingSlack))
				}
				last = p
			}
		}
	}
	// A breaker that holds at the ceiling, and fuses of the large class.
	p := must[MotorProtection](t)(MotorCircuit{Kind: Polyphase, Table: 22}.ShortCircuit(InverseTimeBreaker))
	assert.Equal(t, MotorProtection{250, 55, 60, 88, 80}, p)
	p = must[MotorProtection](t)(MotorCircuit{Kind: Polyphase, Table: 180}.ShortCircuit(NonTimeDelayFuse))
	assert.Equal(t, MotorProtection{300, 540, 600, 600, 600}, p)
	p = must[MotorProtection](t)(MotorCircuit{Kind: WoundRotor, Table: 601. / 3}.ShortCircuit(DualElementFuse))
	assert.EqualValues(t, 601, p.Ceiling)
	p = must[MotorProtection](t)(MotorCircuit{Kind: Polyphase, Table: 250}.ShortCircuit(DualElementFuse))
	assert.Equal(t, MotorProtection{175, 437.5, 450, 750, 700}, p)
}

func TestMotorDeviceRefuses(t *testing.T) {
	for _, k := range []MotorKind{0, DirectCurrent + 1, 255} {
		refused(t, second(MotorCircuit{Kind: k, Table: 12}.ShortCircuit(DualElementFuse)), "kind of motor")
	}
	for _, d := range []MotorDevice{0, InverseTimeBreaker + 1, 255} {
		refused(t, second(MotorCircuit{Kind: SinglePhase, Table: 12}.ShortCircuit(d)), "motor device")
	}
	err := second(MotorCircuit{}.ShortCircuit(0))
	for _, says := range []string{"kind of motor", "motor device", "table full-load current"} {
		refused(t, err, says)
	}
}
