package motor

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// mainWinding is the quarter-horsepower motor at speed.
func mainWinding() SinglePhaseCircuit {
	return SinglePhaseCircuit{Voltage: 110, Frequency: 60, Poles: 4, R1: 2.02, X1: 2.79, R2: 4.12, X2: 2.12, Xm: 66.8, RotationalLoss: 37}
}

// sixPoles is the three-phase motor of Fitzgerald, Example 6.2.
func sixPoles() ThreePhaseCircuit {
	return ThreePhaseCircuit{Voltage: 220, Frequency: 60, Poles: 6, R1: 0.294, X1: 0.503, R2: 0.144, X2: 0.209, Xm: 13.25, RotationalLoss: 403}
}

// machines are the published circuits.
func machines() []Circuit {
	single := func(v unit.Voltage, f unit.Frequency, poles int, r1, x1, r2, x2, xm unit.Resistance, rot unit.Power) SinglePhaseCircuit {
		return SinglePhaseCircuit{Voltage: v, Frequency: f, Poles: poles, R1: r1, X1: x1, R2: r2, X2: x2, Xm: xm, RotationalLoss: rot}
	}
	psc := single(230, 50, 6, 34.14, 35.9, 23.25, 29.32, 248.59, 21.78)
	psc.Auxiliary = Auxiliary{Turns: 1.73, R: 149.78, X: 107.44, Run: Branch{Capacitance: 4e-6}}
	core := single(120, 60, 4, 2, 2.56, 2.8, 2.56, 60.5, 20)
	core.CoreLoss = 31
	return []Circuit{
		mainWinding(), single(220, 50, 6, 1.3, 2.01, 1.73, 2.01, 105, 291),
		psc, core, quarterHorse(reactance(3, 14.5)), quarterHorse(Branch{}),
		sixPoles(),
		ThreePhaseCircuit{Voltage: 460, Frequency: 60, Poles: 6, R1: 0.2, X1: 1.2, R2: 0.25, X2: 1.29, Xm: 42, Rc: 317, RotationalLoss: 166},
		ThreePhaseCircuit{Voltage: 440, Frequency: 60, Poles: 4, Delta: true, R1: 1.2, X1: 2, R2: 0.6, X2: 0.8, Xm: 50, RotationalLoss: 900},
	}
}

// Whatever goes in comes out, as losses or at the shaft; torque goes with the
// square of the voltage; what the kernel of a start shows is what the points show.
func FuzzCircuitBalance(f *testing.F) {
	for k := range machines() {
		f.Add(k, 0.05, 0.9)
		f.Add(k, 1.0, 1.1)
		f.Add(k, -0.04, 1.0)
		f.Add(k, 1.7, 0.3)
	}
	f.Fuzz(func(t *testing.T, k int, slip, share float64) {
		all := machines()
		if k < 0 || k >= len(all) || !(slip >= leastSlip && slip <= greatestSlip && share >= 0.1 && share <= 1.3) {
			t.Skip()
		}
		c := all[k]
		rated := c.frame().voltage
		v := unit.Voltage(share * rated)
		for n, turn := range []func(float64, unit.Voltage) (Point, error){c.Starting, c.Running} {
			p, err := turn(slip, v)
			require.NoError(t, err)
			out := p.StatorCopper + p.AuxiliaryLoss + p.Core + p.RotorCopper + p.Converted
			assert.InDelta(t, float64(p.Input), float64(out), 1e-9*float64(p.Apparent))
			assert.InDelta(t, float64(p.Output+p.Rotational), float64(p.Converted), 1e-9*float64(p.Apparent))
			assert.InDelta(t, float64(p.Torque)*float64(p.Speed), float64(p.Converted), 1e-9*float64(p.Apparent))
			full, err := turn(slip, unit.Voltage(rated))
			require.NoError(t, err)
			assert.InDelta(t, float64(full.Torque)*share*share, float64(p.Torque), 1e-12*float64(p.Apparent))
			assert.InEpsilon(t, float64(full.Current)*share, float64(p.Current), 1e-12)

			m := c.respond(float64(p.Speed), 1, connection(n))
			v2 := float64(v * v)
			assert.InDelta(t, float64(p.Torque), v2*m.torque, 1e-9*float64(p.Apparent))
			assert.InDelta(t, float64(p.StatorCopper+p.AuxiliaryLoss), v2*m.winding, 1e-9*float64(p.Apparent))
			assert.InDelta(t, float64(p.RotorCopper), v2*m.rotor, 1e-9*float64(p.Apparent))
			if p.Core == 0 || c.frame().phases == 3 {
				i := float64(v) / (lineFactor(c.frame().phases) * cmplx.Abs(m.impedance))
				assert.InEpsilon(t, float64(p.Current), i, 1e-9)
			}
		}
	})
}

// One winding has no torque at standstill, and turns either way: s and 2 - s are
// mirror images. Near synchronous speed its torque is negative.
func TestMainWindingAlone(t *testing.T) {
	c := mainWinding()
	held, err := c.Running(1, 110)
	require.NoError(t, err)
	assert.InDelta(t, 0, float64(held.Torque), 1e-12)
	zf, zb := c.fields(1, 1)
	assert.InDelta(t, 0, cmplx.Abs(zf-zb), 1e-15)
	for s := 0.0; s < 1; s += 0.1 {
		fore, err := c.Running(s, 110)
		require.NoError(t, err)
		aft, err := c.Running(2-s, 110)
		require.NoError(t, err)
		assert.InDelta(t, float64(fore.Torque), -float64(aft.Torque), 1e-12)
	}
	idle, err := c.Running(0, 110)
	require.NoError(t, err)
	assert.Negative(t, float64(idle.Torque))
	zf, _ = c.fields(0, 1)
	assert.InDelta(t, 33.4, imag(zf), 1e-12, "½X_m")
}

// A reversed auxiliary winding turns the motor round; a quarter-turn capacitor
// gives more torque than none.
func TestAuxiliaryTurns(t *testing.T) {
	capacitor, err := quarterHorse(reactance(3, 14.5)).Starting(1, 110)
	require.NoError(t, err)
	wire, err := quarterHorse(Branch{}).Starting(1, 110)
	require.NoError(t, err)
	assert.Greater(t, float64(capacitor.Torque), 2*float64(wire.Torque))
	// T = 4a·I_1·I_2·Re Z_f·sin α/ω_s at standstill, as textbooks have it.
	zf, _ := quarterHorse(Branch{}).fields(1, 1)
	alpha := cmplx.Phase(capacitor.Auxiliary) - cmplx.Phase(capacitor.Main)
	byAngle := 4 * 1.18 * cmplx.Abs(capacitor.Main) * cmplx.Abs(capacitor.Auxiliary) * real(zf) * math.Sin(alpha)
	assert.InEpsilon(t, 753.6, byAngle, 1e-4) // notes of the reference
	assert.InEpsilon(t, byAngle/synchronous(60, 4), float64(capacitor.Torque), 1e-12)
}

func TestOperatingPoint(t *testing.T) {
	for k, c := range machines() {
		v := unit.Voltage(c.frame().voltage)
		peak, err := c.Breakdown(v)
		require.NoError(t, err)
		for _, s := range []float64{peak.Slip * 0.99, peak.Slip * 1.01} {
			near, err := c.Running(min(s, 1), v)
			require.NoError(t, err)
			assert.LessOrEqual(t, float64(near.Torque), float64(peak.Torque)*(1+1e-12), "machine %d", k)
		}
		// Any point of the running branch is found again from its torque and power.
		want, err := c.Running(peak.Slip*0.3, v)
		require.NoError(t, err)
		p, err := c.AtTorque(want.ShaftTorque, v)
		require.NoError(t, err, "machine %d", k)
		assert.InEpsilon(t, want.Slip, p.Slip, 1e-8)
		p, err = c.AtOutput(want.Output, v)
		require.NoError(t, err)
		assert.InEpsilon(t, want.Slip, p.Slip, 1e-8)

		var stall *StallError
		_, err = c.AtTorque(peak.Torque*1.01, v)
		require.ErrorAs(t, err, &stall)
		assert.Equal(t, "N·m", stall.Unit)
		_, err = c.AtOutput(unit.Power(float64(peak.Torque)*c.frame().synchron*1.01), v)
		require.ErrorAs(t, err, &stall)
		assert.Equal(t, "W", stall.Unit)
		idle, err := c.AtTorque(0, v)
		require.NoError(t, err)
		assert.InDelta(t, 0, float64(idle.Output), 1e-6*float64(peak.Apparent))
	}
}

// Breakdown by the closed form is that of a search, with a core-loss branch too.
func TestBreakdownByThevenin(t *testing.T) {
	for _, c := range machines() {
		three, ok := c.(ThreePhaseCircuit)
		if !ok {
			continue
		}
		th, err := three.Thevenin(three.Voltage)
		require.NoError(t, err)
		p, err := three.Breakdown(three.Voltage)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(p.Torque), float64(th.Torque), 1e-12)
		most := 0.0
		for s := 1e-4; s < 1; s += 1e-4 {
			at, err := three.Running(s, three.Voltage)
			require.NoError(t, err)
			most = max(most, float64(at.Torque))
		}
		assert.InEpsilon(t, most, float64(th.Torque), 1e-6)
		wound, err := three.WithRotor(3 * three.R2).Thevenin(three.Voltage)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(th.Torque), float64(wound.Torque), 1e-12)
		assert.InEpsilon(t, 3*th.Breakdown, wound.Breakdown, 1e-12)
	}
}

// Balanced voltages have no backward field, and equal the circuit; a small
// unbalance is a large one of the currents.
func TestUnbalancedVoltages(t *testing.T) {
	for _, delta := range []bool{false, true} {
		c := ThreePhaseCircuit{Voltage: 460, Frequency: 60, Poles: 4, Delta: delta, R1: 0.641, X1: 1.106, R2: 0.332, X2: 0.464, Xm: 26.3}
		want, err := c.Running(0.022, 460)
		require.NoError(t, err)
		u, err := c.Unbalanced(0.022, 460, 460, 460)
		require.NoError(t, err)
		assert.InDelta(t, 0, u.VoltageUnbalance, 1e-12)
		assert.InEpsilon(t, float64(want.Torque), float64(u.Torque), 1e-9)
		assert.InEpsilon(t, float64(want.Current), cmplx.Abs(u.Currents[1]), 1e-9)
		assert.InEpsilon(t, float64(want.StatorCopper+want.RotorCopper), float64(u.CopperLoss), 1e-9)

		u, err = c.Unbalanced(0.022, 470, 460, 450)
		require.NoError(t, err)
		assert.InDelta(t, 0.0251, u.VoltageUnbalance, 1e-4)
		assert.Greater(t, u.CurrentUnbalance, 5*u.VoltageUnbalance)
		assert.InDelta(t, 0, cmplx.Abs(u.Currents[0]+u.Currents[1]+u.Currents[2]), 1e-9, "no neutral")
		assert.Less(t, float64(u.Torque), float64(want.Torque))
		// Power in is copper loss and what is converted.
		in := 3 * real(u.ForwardVoltage*cmplx.Conj(u.ForwardCurrent)+u.BackwardVoltage*cmplx.Conj(u.BackwardCurrent))
		assert.InEpsilon(t, in, float64(u.CopperLoss+u.Converted), 1e-9)

		_, err = c.Unbalanced(0.022, 100, 100, 300)
		require.ErrorIs(t, err, ErrDomain, "no triangle")
	}
}

func TestCircuitBounds(t *testing.T) {
	single := quarterHorse(reactance(3, 14.5))
	three := sixPoles()
	require.NoError(t, single.Validate())
	require.NoError(t, three.Validate())
	require.ErrorIs(t, SinglePhaseCircuit{}.Validate(), ErrDomain)
	require.ErrorIs(t, ThreePhaseCircuit{}.Validate(), ErrDomain)
	for _, x := range bad {
		r, p := unit.Resistance(x), unit.Power(x)
		for i, change := range []func(*SinglePhaseCircuit){
			func(c *SinglePhaseCircuit) { c.Voltage = unit.Voltage(x) }, func(c *SinglePhaseCircuit) { c.Frequency = unit.Frequency(x) },
			func(c *SinglePhaseCircuit) { c.R1 = r }, func(c *SinglePhaseCircuit) { c.X1 = r }, func(c *SinglePhaseCircuit) { c.R2 = r },
			func(c *SinglePhaseCircuit) { c.X2 = r }, func(c *SinglePhaseCircuit) { c.Xm = r },
			func(c *SinglePhaseCircuit) { c.RotationalLoss = p }, func(c *SinglePhaseCircuit) { c.CoreLoss = p },
			func(c *SinglePhaseCircuit) { c.Auxiliary.Turns = x }, func(c *SinglePhaseCircuit) { c.Auxiliary.R = r },
			func(c *SinglePhaseCircuit) { c.Auxiliary.X = r }, func(c *SinglePhaseCircuit) { c.Auxiliary.Switch = x },
			func(c *SinglePhaseCircuit) { c.Auxiliary.Start.Resistance = r },
			func(c *SinglePhaseCircuit) { c.Auxiliary.Run.Capacitance = unit.Capacitance(x) },
		} {
			c := single
			change(&c)
			require.ErrorIs(t, c.Validate(), ErrDomain, "%d %v", i, x)
			_, err := c.Running(0.05, 110)
			require.ErrorIs(t, err, ErrDomain)
			_, err = c.AtTorque(1, 110)
			require.ErrorIs(t, err, ErrDomain)
		}
		for i, change := range []func(*ThreePhaseCircuit){
			func(c *ThreePhaseCircuit) { c.Voltage = unit.Voltage(x) }, func(c *ThreePhaseCircuit) { c.Frequency = unit.Frequency(x) },
			func(c *ThreePhaseCircuit) { c.R1 = r }, func(c *ThreePhaseCircuit) { c.X1 = r }, func(c *ThreePhaseCircuit) { c.R2 = r },
			func(c *ThreePhaseCircuit) { c.X2 = r }, func(c *ThreePhaseCircuit) { c.Xm = r }, func(c *ThreePhaseCircuit) { c.Rc = r },
			func(c *ThreePhaseCircuit) { c.RotationalLoss = p },
		} {
			c := three
			change(&c)
			require.ErrorIs(t, c.Validate(), ErrDomain, "%d %v", i, x)
			_, err := c.Thevenin(220)
			require.ErrorIs(t, err, ErrDomain)
		}
		if x != -1 { // which is a slip
			_, err := single.Running(x, 110)
			require.ErrorIs(t, err, ErrDomain)
		}
		_, err := three.Running(0.05, unit.Voltage(x))
		require.ErrorIs(t, err, ErrDomain)
		_, err = three.AtFrequency(unit.Frequency(x))
		require.ErrorIs(t, err, ErrDomain)
	}
	for _, poles := range []int{-2, 0, 1, 3, 26} {
		c := single
		c.Poles = poles
		require.ErrorIs(t, c.Validate(), ErrDomain)
	}
	// An auxiliary winding that nothing connects, and a start branch without a switch.
	c := single
	c.Auxiliary.Switch = 0
	require.ErrorIs(t, c.Validate(), ErrDomain)
	c.Auxiliary.Start = Branch{}
	require.ErrorIs(t, c.Validate(), ErrDomain)
	c.Auxiliary.Run = reactance(9, 172)
	require.NoError(t, c.Validate())
}

// At half frequency and half voltage the field is the same: the torque at the
// same slip speed, but for the stator resistance, stays.
func TestAtFrequency(t *testing.T) {
	c := sixPoles()
	c.R1 = 0
	low, err := c.AtFrequency(30)
	require.NoError(t, err)
	full, err := c.Running(0.02, 220)
	require.NoError(t, err)
	half, err := low.Running(0.04, 110)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(full.Torque), float64(half.Torque), 1e-12)
	m := c.respond(float64(half.Speed), 0.5, running)
	assert.InEpsilon(t, float64(half.Torque), 110*110*m.torque, 1e-12)
	single, err := quarterHorse(reactance(3, 14.5)).AtFrequency(50)
	require.NoError(t, err)
	p, err := single.Starting(1, 110)
	require.NoError(t, err)
	n := quarterHorse(reactance(3, 14.5)).respond(0, 50.0/60, starting)
	assert.InEpsilon(t, float64(p.Torque), 110*110*n.torque, 1e-12)
	ws, err := SynchronousSpeed(60, 4)
	require.NoError(t, err)
	assert.InEpsilon(t, 1800, float64(ws/RPM), 1e-12)
}
