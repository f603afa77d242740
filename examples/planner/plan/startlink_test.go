package plan

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// The chain beside an independent simulation, instant by instant, of a motor on a
// dc link that is fed with no more than a power.
func TestStartChainOnAPowerLimit(t *testing.T) {
	const ws = 2 * math.Pi * 60 / 2 // four poles
	for _, r := range reftest.Rows(t, "motor/start_dclink.csv") {
		c := startCase{
			run: motor.RunUp{
				Circuit: motor.SinglePhaseCircuit{
					Voltage: 110, Frequency: 60, Poles: 4, R1: 2.02, X1: 2.79, R2: 4.12, X2: 2.12, Xm: 66.8,
					Auxiliary: motor.Auxiliary{
						Turns: 1.18, R: 7.14, X: 3.22, Switch: 0.75,
						Start: motor.Branch{Resistance: 3, Capacitance: unit.Capacitance(1 / (2 * ws * 14.5))},
					},
				},
				Inertia: 0.0146, Settle: 2, FullSpeed: 0.9,
			},
			inverter: inverter.Limited{
				Voltage: 110, Frequency: 60, DCPower: unit.Power(r.Float("limit_value")),
				Loss: inverter.Loss{Rated: 1000}, Source: inverter.Source{OpenCircuit: 180, Battery: 1e-3}, CutOff: inverter.CutOff{Running: 50},
			},
			synchronous: ws,
		}
		if r.Text("load") == "quadratic" {
			c.run.Load = motor.CentrifugalLoad{Rated: 1.0324312, Speed: 1725 * motor.RPM}
		}
		went, err := c.follow()
		require.NoError(t, err)
		assert.Equal(t, r.Text("outcome"), went.result.Outcome.String())
		r.Within("t_75pct_s", float64(went.result.SwitchOpen), 0.017, "rms values know neither the clipped wave nor the flux that builds up, and the link's capacitor gives 27 J")
		r.Within("t_90pct_s", float64(went.result.FullSpeed), 0.032, "as above")
		r.Within("rpm_end", float64(went.result.Speed/motor.RPM), 2e-3, "the loaded motor at 500 W still settles")
		r.Within("i_rms_end_a", float64(went.result.Last.Current), 5e-3, "no limit acts at speed; the loaded motor still settles")
		want := inverter.DCPowerLimit
		if r.Float("limit_value") > 2000 {
			want = 0 // the held rotor takes 1792 W
		}
		assert.Equal(t, want, went.limit)
	}
}
