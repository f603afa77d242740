package motor

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// polar reads a current from an amount and an angle in degrees.
func polar(row reftest.Row, amount, angle string) complex128 {
	return cmplx.Rect(row.Param(amount, "A"), row.Param(angle, "deg")*math.Pi/180)
}

// standstillOf computes the state of a row of standstill.csv.
func standstillOf(t *testing.T, row reftest.Row) Standstill {
	t.Helper()
	if row.HasParam("Im") {
		s, err := StandstillOf(volts(row), polar(row, "Im", "am"), polar(row, "Ia", "aa"))
		require.NoError(t, err, row.Source())
		return s
	}
	w, circuit := lockedWindings(t, row), StartCircuit{}
	if row.HasParam("rule") {
		c, err := w.StartCapacitor(capacitorRules[row.ParamText("rule")], volts(row))
		require.NoError(t, err, row.Source())
		circuit.Capacitance = c.Capacitance
	}
	if row.HasParam("alpha") {
		r, err := w.AngleResistor(unit.Angle(row.Param("alpha", "deg") * math.Pi / 180))
		require.NoError(t, err, row.Source())
		circuit.Resistance = r.External
	}
	s, err := w.Standstill(volts(row), circuit)
	require.NoError(t, err, row.Source())
	return s
}

func TestStandstillAgainstExamples(t *testing.T) {
	index := map[string]float64{}
	for _, row := range reftest.Rows(t, "motor/standstill.csv") {
		s := standstillOf(t, row)
		var got float64
		id := row.Text("id")
		if _, ok := index[id]; !ok {
			index[id] = s.TorqueIndex
		}
		switch row.Text("quantity") {
		case "i_main":
			got = cmplx.Abs(s.Main)
		case "i_aux":
			got = cmplx.Abs(s.Auxiliary)
		case "i_line":
			got = cmplx.Abs(s.Line)
		case "alpha":
			got = float64(s.Angle) * 180 / math.Pi
		case "pf_locked_rotor":
			got = s.PowerFactor
		case "s_locked_rotor":
			got = float64(s.Apparent)
		case "p_locked_rotor":
			got = float64(s.Real)
		case "torque_index":
			got = s.TorqueIndex
		case "torque_ratio":
			got = s.TorqueIndex / index["L11"]
		case "torque_gain":
			got = 100 * (s.TorqueIndex/index["L1"] - 1)
		default:
			t.Fatal(row.Source())
		}
		alsoComputed(t, row, got)
		if row.Has("repeats") {
			continue
		}
		row.Expected(got)
		if row.Has("wrong") {
			row.Rejects("wrong", got, 0.5)
		}
	}
}

// What the winding currents carry adds up: Kirchhoff at the terminals, power
// into the resistances, the drops around the auxiliary circuit.
func TestStandstillBalances(t *testing.T) {
	for _, w := range lockedMachines(t) {
		for _, circuit := range []StartCircuit{
			{},
			{Capacitance: 200e-6},
			{Resistance: 5.25},
			{Capacitance: 30e-6, Resistance: 3},
			{Capacitance: 200e-6, Open: true},
		} {
			s, err := w.Standstill(120, circuit)
			require.NoError(t, err)
			im, ia := cmplx.Abs(s.Main), cmplx.Abs(s.Auxiliary)
			assert.InEpsilon(t, cmplx.Abs(s.Line), cmplx.Abs(s.Main+s.Auxiliary), 1e-12)
			assert.InEpsilon(t, im*im*real(w.Main)+ia*ia*(real(w.Auxiliary)+float64(circuit.Resistance)), float64(s.Real), 1e-12)
			assert.InEpsilon(t, 120*cmplx.Abs(s.Line), float64(s.Apparent), 1e-12)
			assert.InEpsilon(t, float64(s.Real), float64(s.Apparent)*s.PowerFactor, 1e-12)
			assert.InDelta(t, im*ia*math.Sin(float64(s.Angle)), s.TorqueIndex, 1e-12*(1+im*ia))
			if circuit.Open {
				assert.Equal(t, Hums, s.Rotation)
				assert.Zero(t, s.Auxiliary)
				assert.Zero(t, s.CapacitorVoltage)
				continue
			}
			drop := s.Auxiliary * (w.Auxiliary + complex(float64(circuit.Resistance), 0))
			assert.InDelta(t, float64(s.CapacitorVoltage), cmplx.Abs(120-drop), 1e-9)
		}
	}
}

// The capacitor's voltage that the sizing gives is what it stands at.
func TestStandstillAgreesWithSizing(t *testing.T) {
	for _, w := range lockedMachines(t) {
		for _, rule := range capacitorRules {
			c, err := w.StartCapacitor(rule, 115)
			require.NoError(t, err)
			if c.Capacitance < leastFarads {
				continue
			}
			s, err := w.Standstill(115, StartCircuit{Capacitance: c.Capacitance})
			require.NoError(t, err)
			assert.InEpsilon(t, float64(c.Voltage), float64(s.CapacitorVoltage), 1e-9)
			assert.Equal(t, TurnsForward, s.Rotation)
		}
	}
}

// The windings of a textbook machine with a capacitor of its own.
var faultMachine = LockedWindings{Main: 4.5 + 3.7i, Auxiliary: 9.5 + 3.5i, Frequency: 60}

func TestCapacitorFaults(t *testing.T) {
	c, err := faultMachine.StartCapacitor(Quadrature, 120)
	require.NoError(t, err)
	healthy := StartCircuit{Capacitance: c.Capacitance, Resistance: 0.5}

	same, err := faultMachine.CompareStarts(120, healthy, healthy)
	require.NoError(t, err)
	assert.InDelta(t, 1, same.Torque, 1e-15)
	assert.InDelta(t, 1, same.Current, 1e-15)
	assert.InDelta(t, 1, same.Power, 1e-15)

	dead, err := faultMachine.CompareStarts(120, healthy, healthy.Opened())
	require.NoError(t, err)
	assert.Zero(t, dead.Torque)
	assert.Equal(t, Hums, dead.Faulty.Rotation)
	// The main winding alone: 120 V over 5.826 ohm.
	assert.InEpsilon(t, 20.598, cmplx.Abs(dead.Faulty.Line), 1e-4)
	assert.InEpsilon(t, 20.598*20.598*4.5, float64(dead.Faulty.Real), 1e-4)
	assert.Less(t, dead.Current, 1.0)

	// Without its capacitor a split-phase start is left, and far more current.
	short, err := faultMachine.CompareStarts(120, healthy, healthy.Shorted())
	require.NoError(t, err)
	assert.Equal(t, TurnsForward, short.Faulty.Rotation)
	assert.Greater(t, short.Current, 1.3)
	assert.Zero(t, short.Faulty.CapacitorVoltage)

	// Less than the quadrature capacitor is less torque, all the way down.
	last := 1.0
	for _, left := range []float64{0.9, 0.7, 0.5, 0.3, 0.1, 0.01} {
		weak, err := healthy.Aged(left)
		require.NoError(t, err)
		d, err := faultMachine.CompareStarts(120, healthy, weak)
		require.NoError(t, err)
		assert.Less(t, d.Torque, last)
		assert.Positive(t, d.Torque)
		last = d.Torque
	}
	assert.Less(t, last, 0.02)
	for _, left := range append([]float64{0, 0.0099, 1.01, 70}, bad...) {
		_, err := healthy.Aged(left)
		assert.ErrorIs(t, err, ErrDomain, left)
	}
}

// A winding of lower angle than the main one's would turn the motor back.
func TestShortedCapacitorCanTurnBack(t *testing.T) {
	w := LockedWindings{Main: 4 + 3i, Auxiliary: 4 + 5i, Frequency: 60}
	d, err := w.CompareStarts(120, StartCircuit{Capacitance: 200e-6}, StartCircuit{})
	require.NoError(t, err)
	assert.Equal(t, TurnsBackward, d.Faulty.Rotation)
	assert.Negative(t, d.Torque)

	w.Auxiliary = 8 + 6i // the same angle
	s, err := w.Standstill(120, StartCircuit{})
	require.NoError(t, err)
	assert.Equal(t, Hums, s.Rotation)
	assert.Zero(t, s.TorqueIndex)
	_, err = w.CompareStarts(120, StartCircuit{}, StartCircuit{})
	require.ErrorContains(t, err, "healthy start circuit without starting torque")
	_, err = w.CompareStarts(120, StartCircuit{Capacitance: 1}, StartCircuit{})
	require.ErrorIs(t, err, ErrDomain)
	_, err = w.CompareStarts(120, StartCircuit{}, StartCircuit{Capacitance: 1})
	require.ErrorIs(t, err, ErrDomain)
}

func TestStandstillBounds(t *testing.T) {
	for _, c := range []float64{0, 0.1e-6, 195e-6, 0.1} {
		_, err := faultMachine.Standstill(120, StartCircuit{Capacitance: unit.Capacitance(c)})
		assert.NoError(t, err, c)
	}
	for _, c := range append([]float64{0.09e-6, 0.11, 195, -195e-6}, bad...) {
		_, err := faultMachine.Standstill(120, StartCircuit{Capacitance: unit.Capacitance(c)})
		assert.ErrorIs(t, err, ErrDomain, c)
	}
	for _, r := range append([]float64{-0.1, 1.1e6}, bad...) {
		_, err := faultMachine.Standstill(120, StartCircuit{Resistance: unit.Resistance(r)})
		assert.ErrorIs(t, err, ErrDomain, r)
	}
	for _, v := range append([]float64{0, 9, 16e3}, bad...) {
		_, err := faultMachine.Standstill(unit.Voltage(v), StartCircuit{})
		assert.ErrorIs(t, err, ErrDomain, v)
		_, err = StandstillOf(unit.Voltage(v), 6, 4)
		assert.ErrorIs(t, err, ErrDomain, v)
	}
	for _, tt := range []struct {
		main, auxiliary complex128
		ok              bool
	}{
		{6, 4, true},
		{6, 0, true},
		{-6i, 4i, true},
		{0, 4, false},
		{0.04, 4, false},
		{21e3, 4, false},
		{6, 21e3, false},
		{-1 - 6i, 4, false},
		{6, -1 + 4i, false},
		{cmplx.NaN(), 4, false},
		{6, cmplx.NaN(), false},
		{cmplx.Inf(), 4, false},
		{6, cmplx.Inf(), false},
	} {
		_, err := StandstillOf(115, tt.main, tt.auxiliary)
		assert.Equal(t, tt.ok, err == nil, tt)
		if err != nil {
			assert.ErrorIs(t, err, ErrDomain)
		}
	}
	// Currents that cancel leave no line current and no power factor.
	s, err := StandstillOf(115, -6i, 6i)
	require.NoError(t, err)
	assert.Zero(t, s.PowerFactor)
	assert.Equal(t, Hums, s.Rotation)
}

// Currents follow the voltage, torque and watts its square, and no state is a
// number that is none.
func FuzzStandstill(f *testing.F) {
	f.Add(2.0, 3.5, 9.15, 8.4, 194.6e-6, 0.0, 120.0, false)
	f.Add(4.0, 3.0, 8.0, 6.0, 0.0, 0.0, 230.0, true)
	f.Add(math.NaN(), 0.0, -1.0, math.Inf(1), 200.0, -1.0, 0.0, false)
	f.Fuzz(func(t *testing.T, rm, xm, ra, xa, c, r, v float64, open bool) {
		w := LockedWindings{Main: complex(rm, xm), Auxiliary: complex(ra, xa), Frequency: 60}
		circuit := StartCircuit{Capacitance: unit.Capacitance(c), Resistance: unit.Resistance(r), Open: open}
		s, err := w.Standstill(unit.Voltage(v), circuit)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, finite(s.TorqueIndex) && finite(float64(s.CapacitorVoltage)) && finite(float64(s.Angle)))
		require.Positive(t, float64(s.Real))
		require.LessOrEqual(t, s.PowerFactor, 1+1e-12)
		half, err := w.Standstill(unit.Voltage(v/2), circuit)
		if err != nil {
			return
		}
		require.InEpsilon(t, cmplx.Abs(s.Line), 2*cmplx.Abs(half.Line), 1e-9)
		require.InEpsilon(t, float64(s.Real), 4*float64(half.Real), 1e-9)
		require.InDelta(t, s.TorqueIndex, 4*half.TorqueIndex, 1e-9*math.Abs(s.TorqueIndex))
		require.Equal(t, s.Rotation, half.Rotation)
	})
}
