package motor

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func threeOf(r reftest.Row) ThreePhaseCircuit {
	c := ThreePhaseCircuit{
		Frequency: unit.Frequency(r.Param("f", "Hz")), Poles: int(r.Param("poles", "")),
		R1: ohm(r, "R1"), X1: ohm(r, "X1"), R2: ohm(r, "R2"), X2: ohm(r, "X2"), RotationalLoss: watts(r, "Prot"),
	}
	if r.HasParam("V1") { // a phase voltage, no magnetizing branch
		c.Voltage, c.Xm = sqrt3*unit.Voltage(r.Param("V1", "V")), greatestOhm
		return c
	}
	c.Voltage, c.Xm = unit.Voltage(r.Param("Vline", "V")), ohm(r, "Xm")
	c.Delta = r.ParamText("conn") == "D"
	if r.HasParam("Rc") {
		c.Rc = ohm(r, "Rc")
	}
	return c
}

func TestThreePhaseWorked(t *testing.T) {
	rows := reftest.Rows(t, "motor/circuit_three.csv")
	for i, row := range rows {
		quantity := row.Text("quantity")
		with := row
		for strings.HasPrefix(with.Text("inputs"), "same") { // as in the row before
			i--
			with = rows[i]
		}
		if quantity == "s_max (no Xm)" {
			c := ThreePhaseCircuit{
				Voltage: 460, Frequency: 60, Poles: 4, Xm: greatestOhm,
				R1: ohm(row, "R1"), X1: ohm(row, "X1"), R2: ohm(row, "R2"), X2: ohm(row, "X2"),
			}
			th, err := c.Thevenin(460)
			require.NoError(t, err)
			row.Expected(th.Breakdown)
			continue
		}
		c := threeOf(with)
		th, err := c.Thevenin(c.Voltage)
		require.NoError(t, err, row.Source())
		twice := c.WithRotor(2 * c.R2)
		th2, err := twice.Thevenin(c.Voltage)
		require.NoError(t, err)
		held, err := c.Running(1, c.Voltage)
		require.NoError(t, err)
		slip := 1.0
		if with.HasParam("s") {
			slip = with.Param("s", "1")
		}
		p, err := c.Running(slip, c.Voltage)
		require.NoError(t, err)
		rpm := func(slip float64) float64 { return 120 * float64(c.Frequency) / float64(c.Poles) * (1 - slip) }
		figures := map[string]float64{
			"i_line": float64(p.Current), "i_angle": degrees(p.Line), "pf": p.PowerFactor, "i_rotor": cmplx.Abs(p.Rotor),
			"p_in": float64(p.Input), "p_scl": float64(p.StatorCopper), "p_core": float64(p.Core), "p_ag": float64(p.AirGapForward),
			"p_rcl": float64(p.RotorCopper), "p_conv": float64(p.Converted), "p_out": float64(p.Output), "n": float64(p.Speed / RPM),
			"t_ind": float64(p.Torque), "t_load": float64(p.ShaftTorque), "eff": p.Efficiency,
			"v_th": float64(th.Voltage), "r_th": real(th.Impedance), "x_th": imag(th.Impedance),
			"s_max": th.Breakdown, "n_tmax": rpm(th.Breakdown), "t_max": float64(th.Torque), "t_start": float64(th.Standstill),
			"s_max_2r2": th2.Breakdown, "n_tmax_2r2": rpm(th2.Breakdown), "t_start_2r2": float64(th2.Standstill),
			"i_start_line": float64(th.LockedRotor), "i2_start": cmplx.Abs(held.Rotor), "pf_start": held.PowerFactor,
			"slip at maximum developed power": th.PowerSlip, "maximum developed power": float64(th.Power),
			"breakdown slip": th.Breakdown, "breakdown torque": float64(th.Torque),
		}
		got, ok := figures[quantity]
		require.True(t, ok, "%s %s", row.Source(), quantity)
		if with.HasParam("V1") { // computed without a magnetizing branch
			if quantity == "breakdown torque" {
				row.Digits("expected", got, 1.5, "the source rounds the synchronous speed to 125.66 rad/s")
				continue
			}
			row.Expected(got)
			continue
		}
		checkFigure(t, row, got)
	}
}

// The shortened forms of print: X_th = X_1, or no magnetizing branch.
func TestShortenedThevenin(t *testing.T) {
	c := ThreePhaseCircuit{Voltage: 460, Frequency: 60, Poles: 4, R1: 0.641, X1: 1.106, R2: 0.332, X2: 0.464, Xm: 26.3}
	exact, err := c.Thevenin(460)
	require.NoError(t, err)
	c.Xm = greatestOhm
	short, err := c.Thevenin(460)
	require.NoError(t, err)
	require.InDelta(t, 1.041, float64(short.Torque/exact.Torque), 5e-4) // notes of the reference
	require.InDelta(t, 1.025, float64(short.Standstill/exact.Standstill), 5e-4)
	require.False(t, math.IsNaN(short.PowerSlip))
}
