package motor

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// ohm reads an input in ohms.
func ohm(r reftest.Row, name string) unit.Resistance { return unit.Resistance(r.Param(name, "ohm")) }

// watts reads an input in watts, 0 where the row has none.
func watts(r reftest.Row, name string) unit.Power {
	if !r.HasParam(name) {
		return 0
	}
	return unit.Power(r.Param(name, "W"))
}

// singleOf reads the main winding's circuit of a row.
func singleOf(r reftest.Row) SinglePhaseCircuit {
	return SinglePhaseCircuit{
		Voltage: volts(r), Frequency: unit.Frequency(r.Param("f", "Hz")), Poles: int(r.Param("poles", "")),
		R1: ohm(r, "R1"), X1: ohm(r, "X1"), R2: ohm(r, "R2"), X2: ohm(r, "X2"), Xm: ohm(r, "Xm"),
		RotationalLoss: watts(r, "Prot"),
	}
}

// checkFigure lays got beside a row: the figure expected, the one recomputed to
// more digits, and the wrong one, which must not come out.
func checkFigure(t *testing.T, r reftest.Row, got float64) {
	t.Helper()
	r.Expected(got)
	if r.Has("computed") {
		want := r.Float("computed")
		assert.InDelta(t, want, got, 2e-9*math.Abs(want)+1e-9, "%s %s", r.Source(), r.Text("quantity"))
	}
	if r.Has("wrong") {
		r.Rejects("wrong", got, 0.5*math.Abs(got/r.Float("wrong")-1))
	}
}

func degrees(z complex128) float64 { return cmplx.Phase(z) * 180 / math.Pi }

func TestSinglePhaseWorked(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/circuit_single.csv") {
		c := singleOf(row)
		slip := row.Param("s", "1")
		if slip == 0.7777777778 {
			slip = 7.0 / 9 // 400 of 1800 rpm
		}
		p, err := c.Running(slip, c.Voltage)
		require.NoError(t, err, row.Source())
		zf, zb := c.fields(slip, 1)
		figures := map[string]float64{
			"zf_half_re": real(zf), "zf_half_im": imag(zf), "zb_half_re": real(zb), "zb_half_im": imag(zb),
			"i_main": cmplx.Abs(p.Main), "i_angle": degrees(p.Main), "pf": p.PowerFactor,
			"p_in": float64(p.Input), "s_in": float64(p.Apparent), "p_scl": float64(p.StatorCopper), "p_rcl": float64(p.RotorCopper),
			"p_ag_f": float64(p.AirGapForward), "p_ag_b": float64(p.AirGapBackward), "p_ag": float64(p.AirGapForward - p.AirGapBackward),
			"p_conv": float64(p.Converted), "p_out": float64(p.Output), "n": float64(p.Speed / RPM),
			"t_ind": float64(p.Torque), "t_load": float64(p.ShaftTorque), "eff": p.Efficiency,
		}
		got, ok := figures[row.Text("quantity")]
		require.True(t, ok, row.Source())
		checkFigure(t, row, got)
	}
}

// quarterHorse is the capacitor-start machine of Krause with a branch in series
// with its auxiliary winding while it starts.
func quarterHorse(start Branch) SinglePhaseCircuit {
	return SinglePhaseCircuit{
		Voltage: 110, Frequency: 60, Poles: 4, R1: 2.02, X1: 2.79, R2: 4.12, X2: 2.12, Xm: 66.8,
		Auxiliary: Auxiliary{Turns: 1.18, R: 7.14, X: 3.22, Start: start, Switch: 0.75},
	}
}

// reactance is the branch R - jX at 60 Hz.
func reactance(r unit.Resistance, x float64) Branch {
	return Branch{Resistance: r, Capacitance: unit.Capacitance(1 / (2 * math.Pi * 60 * x))}
}

// twoWinding reads the circuit of a row on two windings and the speed it turns at.
func twoWinding(t *testing.T, r reftest.Row) (c SinglePhaseCircuit, slip float64) {
	t.Helper()
	switch id := r.Text("id"); {
	case strings.HasPrefix(id, "PSC1"):
		// The source gives inductances; ref is the turns of the rotor's
		// equivalent winding, which cancels.
		const ref = 130
		w := 2 * math.Pi * r.Param("f", "Hz")
		henry := func(name string) float64 { return r.Param(name, "H") }
		xm := w * ref * henry("Lmain_r")
		a := henry("Laux_r") / henry("Lmain_r")
		c = SinglePhaseCircuit{
			Voltage: volts(r), Frequency: unit.Frequency(r.Param("f", "Hz")), Poles: int(r.Param("poles", "")),
			R1: ohm(r, "Rmain"), X1: unit.Resistance(w*henry("Lmain") - xm), Xm: unit.Resistance(xm),
			R2: ref * ref * ohm(r, "Rr"), X2: unit.Resistance(w*ref*ref*henry("Lr") - xm),
			RotationalLoss: watts(r, "Prot"), CoreLoss: watts(r, "Pcore"),
			Auxiliary: Auxiliary{
				Turns: a, R: ohm(r, "Raux"), X: unit.Resistance(w*henry("Laux") - a*a*xm),
				Run: Branch{Capacitance: unit.Capacitance(r.Param("C", "F"))},
			},
		}
		return c, 1 - r.Param("n", "rpm")/3600
	case strings.HasPrefix(id, "PSC2"):
		c = singleOf(r)
		a := r.Param("a", "1")
		c.RotationalLoss = watts(r, "Pcore") + watts(r, "Pfw")
		c.Auxiliary = Auxiliary{
			Turns: a, R: ohm(r, "Raux"), X: unit.Resistance(a*a) * c.X1,
			Run: Branch{Capacitance: unit.Capacitance(r.Param("C", "F"))},
		}
		return c, 1 - r.Param("n", "rpm")/1000
	}
	c = singleOf(r)
	c.Auxiliary = Auxiliary{Turns: r.Param("a", "1"), R: ohm(r, "Raux"), X: ohm(r, "Xaux"), Switch: 0.75}
	switch r.ParamText("Zc") {
	case "3-j14.5 ohm":
		c.Auxiliary.Start = reactance(3, 14.5)
	case "9-j172 ohm":
		c.Auxiliary.Start = reactance(9, 172)
	}
	return c, 1
}

func TestTwoWindingWorked(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/circuit_two_winding.csv") {
		if row.Text("id") == "2PH1" {
			checkTwoPhase(t, row)
			continue
		}
		c, slip := twoWinding(t, row)
		p, err := c.Starting(slip, c.Voltage)
		require.NoError(t, err, row.Source())
		aux := degrees(p.Auxiliary)
		if row.Text("id") == "PSC1" {
			aux = degrees(-p.Auxiliary) // the source counts it the other way round
		}
		figures := map[string]float64{
			"i_main": cmplx.Abs(p.Main), "i_aux": cmplx.Abs(p.Auxiliary), "i_aux_angle": aux,
			"i_line": float64(p.Current), "i_line_angle": degrees(p.Line), "pf": p.PowerFactor,
			"p_in": float64(p.Input), "s_in": float64(p.Apparent), "p_main": real(p.Main) * float64(c.Voltage),
			"t": float64(p.Torque), "t_ind": float64(p.Torque), "t_load": float64(p.ShaftTorque),
			"p_out": float64(p.Output), "v_cap": float64(p.CapacitorVoltage),
		}
		got, ok := figures[row.Text("quantity")]
		require.True(t, ok, row.Source())
		checkFigure(t, row, got)
	}
}

func checkTwoPhase(t *testing.T, row reftest.Row) {
	t.Helper()
	c := SinglePhaseCircuit{
		Voltage: 230, Frequency: 60, Poles: 4, R1: ohm(row, "R1"), X1: ohm(row, "X1"),
		R2: ohm(row, "R2"), X2: ohm(row, "X2"), Xm: ohm(row, "Xm"),
		Auxiliary: Auxiliary{Turns: 1, R: ohm(row, "R1"), X: ohm(row, "X1"), Switch: 0.75},
	}
	require.Equal(t, "210 V at 80 deg", row.ParamText("Vb"))
	u, err := c.TwoPhase(row.Param("s", ""), complex(row.Param("Va", "V"), 0), cmplx.Rect(210, 80*math.Pi/180))
	require.NoError(t, err)
	figures := map[string]float64{
		"vf_im": imag(u.ForwardVoltage), "vb_im": imag(u.BackwardVoltage),
		"if_re": real(u.ForwardCurrent), "ib_im": imag(u.BackwardCurrent),
		"p_f": float64(u.AirGapForward), "p_b": float64(u.AirGapBackward), "p_mech": float64(u.Converted),
	}
	got, ok := figures[row.Text("quantity")]
	require.True(t, ok, row.Source())
	checkFigure(t, row, got)
}

func TestSpeedCurve(t *testing.T) {
	start := quarterHorse(reactance(3, 14.5))
	run := quarterHorse(reactance(9, 172))
	for _, row := range reftest.Rows(t, "motor/speed_curve.csv") {
		slip := 1 - row.Float("n_rpm")/1800
		main, err := start.Running(slip, 110)
		require.NoError(t, err)
		capstart, err := start.Starting(slip, 110)
		require.NoError(t, err)
		caprun, err := run.Starting(slip, 110)
		require.NoError(t, err)
		for name, p := range map[string]Point{"main": main, "capstart": capstart, "caprun": caprun} {
			if name != "main" || slip != 1 {
				row.Printed("t_"+name+"_nm", float64(p.Torque))
			}
			row.Printed("i_"+name+"_a", float64(p.Current))
			row.Printed("p_"+name+"_w", float64(p.Input))
			row.Printed("pf_"+name, p.PowerFactor)
		}
		row.Printed("vcap_capstart_v", float64(capstart.CapacitorVoltage))
	}
}

func TestStartPhasors(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/start_phasors.csv") {
		c := quarterHorse(Branch{})
		turn := c.Running
		if row.Has("rc_ohm") {
			c.Auxiliary.Start = reactance(unit.Resistance(row.Float("rc_ohm")), 14.5)
			turn = c.Starting
		}
		slip := row.Float("slip")
		// The source's voltage divides between its own resistance and the motor.
		one, err := turn(slip, 110)
		require.NoError(t, err)
		z := 110 / one.Line
		ratio, err := VoltageRatio(z, complex(row.Float("source_r_ohm"), 0))
		require.NoError(t, err)
		p, err := turn(slip, unit.Voltage(110*ratio))
		require.NoError(t, err)
		va := 110 * float64(p.Current)
		w := float64(p.Input) + square(p.Line)*row.Float("source_r_ohm")
		row.Printed("i_main_a", cmplx.Abs(p.Main))
		row.Printed("i_aux_a", cmplx.Abs(p.Auxiliary))
		row.Printed("i_total_a", float64(p.Current))
		row.Printed("pf_source", w/va)
		row.Printed("va_source", va)
		row.Printed("w_source", w)
		row.Printed("v_terminal_v", float64(p.Voltage))
		row.Printed("torque_mean_nm", float64(p.Torque))
	}
}
