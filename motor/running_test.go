package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// runningOf computes a row's motor the way its inputs ask for.
func runningOf(t *testing.T, row reftest.Row) Running {
	t.Helper()
	if row.HasParam("Pout") {
		r, err := RunningFromShaft(unit.Power(row.Param("Pout", "W")), volts(row), phases(row),
			Exactly(row.Param("eff", "")), Exactly(row.Param("pf", "")), BasisMeasured)
		require.NoError(t, err, row.Source())
		return r
	}
	m := Reading{Voltage: volts(row), Phases: phases(row)}
	if row.HasParam("I") {
		m.Current = unit.Current(row.Param("I", "A"))
	}
	if row.HasParam("P") {
		m.Real = unit.Power(row.Param("P", "W"))
	}
	if row.HasParam("pf") {
		m.PowerFactor = row.Param("pf", "")
	}
	r, err := m.Running()
	require.NoError(t, err, row.Source())
	return r
}

func TestRunningAgainstWorkedExamples(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/running.csv") {
		r := runningOf(t, row)
		consistent(t, r)
		switch row.Text("quantity") {
		case "apparent":
			row.Expected(float64(r.Apparent.High))
		case "real":
			row.Expected(float64(r.Real.High))
		case "current":
			row.Expected(float64(r.Current.High))
		case "pf":
			row.Expected(r.PowerFactor.High)
		default:
			t.Fatal(row.Source())
		}
	}
}

func TestRunningAvoidsWrongAnswers(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/running_wrong.csv") {
		row.Rejects("wrong_w", float64(runningOf(t, row).Real.High), 0.2)
	}
}

// consistent checks what holds of any running figures.
func consistent(t *testing.T, r Running) {
	t.Helper()
	for _, v := range []bool{r.Current.Valid(), r.Apparent.Valid(), r.Real.Valid(), r.PowerFactor.Valid()} {
		require.True(t, v, "%+v", r)
	}
	require.LessOrEqual(t, float64(r.Real.Low), float64(r.Apparent.Low)*(1+1e-9))
	require.LessOrEqual(t, float64(r.Real.High), float64(r.Apparent.High)*(1+1e-9))
	require.LessOrEqual(t, r.PowerFactor.High, 1.0)
	require.Greater(t, r.PowerFactor.Low, 0.0)
	require.InEpsilon(t, lineFactor(r.Phases)*float64(r.Voltage)*float64(r.Current.High), float64(r.Apparent.High), 1e-9)
	require.GreaterOrEqual(t, r.Basis, r.CurrentBasis)
	// Real is apparent power times power factor at both ends.
	a, b := float64(r.Real.Low)/float64(r.Apparent.Low), float64(r.Real.High)/float64(r.Apparent.High)
	require.InDelta(t, min(a, b), r.PowerFactor.Low, 1e-9)
	require.InDelta(t, max(a, b), r.PowerFactor.High, 1e-9)
}

func TestRunningFromPlate(t *testing.T) {
	r, err := jetPump.Running()
	require.NoError(t, err)
	consistent(t, r)
	assert.InDelta(t, 989, float64(r.Apparent.High), 1e-9)
	assert.Equal(t, BasisNameplate, r.CurrentBasis)
	assert.Equal(t, BasisTypical, r.Basis)
	assert.InDelta(t, 989*0.55, float64(r.Real.Low), 1e-9)
	assert.InDelta(t, 989*0.90, float64(r.Real.High), 1e-9)
	assert.InDelta(t, 0.55, r.PowerFactor.Low, 1e-12)
	assert.InDelta(t, 0.90, r.PowerFactor.High, 1e-12)

	s, err := jetPump.RunningAtServiceFactor()
	require.NoError(t, err)
	consistent(t, s)
	assert.InDelta(t, 115*10.8, float64(s.Apparent.High), 1e-9)
	assert.InDelta(t, 0.5*1.6*float64(Horsepower)/0.85, float64(s.Real.Low), 1e-6, "bounded from below by the shaft power")
	assert.Greater(t, s.Real.Low, r.Real.Low)

	for name, tt := range map[string]struct {
		change   func(*Nameplate)
		low      float64
		high     float64
		basis    Basis
		apparent float64
	}{
		"power factor":     {func(n *Nameplate) { n.PowerFactor = 0.7 }, 692.3, 692.3, BasisNameplate, 989},
		"efficiency":       {func(n *Nameplate) { n.Efficiency = 0.6 }, 621.4166, 621.4166, BasisNameplate, 989},
		"both":             {func(n *Nameplate) { n.Efficiency, n.PowerFactor = 0.6, 0.6 }, 593.4, 621.4166, BasisNameplate, 989},
		"no output":        {func(n *Nameplate) { n.Output = 0 }, 989 * 0.55, 989 * 0.9, BasisTypical, 989},
		"unknown type":     {func(n *Nameplate) { n.Type = 0 }, 989 * 0.55, 989 * 0.95, BasisTypical, 989},
		"no current":       {func(n *Nameplate) { n.FullLoadCurrent = 0 }, 438.6470, 677.9090, BasisTypical, 677.9090 / 0.55},
		"output past typ.": {func(n *Nameplate) { n.Output = 1.2 * Horsepower }, 894.8398, 989, BasisTypical, 989},
		"no current, figures": {func(n *Nameplate) {
			n.FullLoadCurrent, n.ServiceFactorCurrent, n.Efficiency, n.PowerFactor = 0, 0, 0.6, 0.65
		}, 621.4166, 621.4166, BasisNameplate, 621.4166 / 0.65},
	} {
		n := jetPump
		tt.change(&n)
		r, err := n.Running()
		require.NoError(t, err, name)
		consistent(t, r)
		assert.InDelta(t, tt.low, float64(r.Real.Low), 1e-3, name)
		assert.InDelta(t, tt.high, float64(r.Real.High), 1e-3, name)
		assert.InDelta(t, tt.apparent, float64(r.Apparent.High), 1e-2, name)
		assert.Equal(t, tt.basis, r.Basis, name)
	}

	// Without the factor the output at service-factor current is not known:
	// the efficiency alone cannot tell the real power.
	n := jetPump
	n.ServiceFactor, n.Efficiency = 0, 0.6
	s, err = n.RunningAtServiceFactor()
	require.NoError(t, err)
	consistent(t, s)
	assert.Equal(t, BasisTypical, s.Basis)
	assert.InDelta(t, 1242*0.55, float64(s.Real.Low), 1e-9)
	assert.InDelta(t, 1242*0.90, float64(s.Real.High), 1e-9)
	n.ServiceFactor = 1.6
	s, err = n.RunningAtServiceFactor()
	require.NoError(t, err)
	assert.Equal(t, BasisNameplate, s.Basis)
	assert.InDelta(t, 0.8*float64(Horsepower)/0.6, float64(s.Real.High), 1e-9)

	_, err = Nameplate{Voltage: 115, Phases: 1, ServiceFactorCurrent: 10}.Running()
	assert.ErrorIs(t, err, ErrMissing)
}

func TestRunningAtServiceFactorWithoutItsCurrent(t *testing.T) {
	n := jetPump
	n.ServiceFactorCurrent = 0
	r, err := n.RunningAtServiceFactor()
	require.NoError(t, err)
	assert.Equal(t, Range[unit.Current]{Low: 8.6, High: 8.6 * 1.6}, r.Current)
	assert.Equal(t, BasisRuleOfThumb, r.CurrentBasis)

	// The shaft power sets the least current.
	n.Efficiency = 0.5
	r, err = n.RunningAtServiceFactor()
	require.NoError(t, err)
	consistent(t, r)
	assert.InDelta(t, 0.8*float64(Horsepower)/0.5, float64(r.Real.High), 1e-9)
	assert.InDelta(t, float64(r.Real.Low), float64(r.Apparent.Low), 1e-9)
	assert.InDelta(t, 1, r.PowerFactor.High, 1e-12)
	assert.InDelta(t, 0.8*float64(Horsepower)/0.5/115, float64(r.Current.Low), 1e-9)
	three := Nameplate{
		Output: Horsepower, Voltage: 230, Phases: 3, FullLoadCurrent: 2.5, ServiceFactor: 1.15, Efficiency: 0.8,
	}
	r3, err := three.RunningAtServiceFactor()
	require.NoError(t, err)
	consistent(t, r3)
	assert.InDelta(t, 1.15*float64(Horsepower)/0.8/230/math.Sqrt(3), float64(r3.Current.Low), 1e-9)
	n.Efficiency = 0

	n.ServiceFactor = 1
	r, err = n.RunningAtServiceFactor()
	require.NoError(t, err)
	rated, err := n.Running()
	require.NoError(t, err)
	assert.Equal(t, rated, r)

	n.ServiceFactor = 0
	_, err = n.RunningAtServiceFactor()
	assert.ErrorIs(t, err, ErrMissing)

	n.FullLoadCurrent, n.ServiceFactor = 0, 1.6
	r, err = n.RunningAtServiceFactor()
	require.NoError(t, err)
	consistent(t, r)
	assert.InDelta(t, 0.8*float64(Horsepower)/0.85, float64(r.Real.Low), 1e-6)
	n.Output = 0
	_, err = n.RunningAtServiceFactor()
	assert.ErrorIs(t, err, ErrMissing)
}

func TestRunningFromShaftBounds(t *testing.T) {
	ok := func(p float64, v float64, m int, eff, pf Range[float64]) bool {
		r, err := RunningFromShaft(unit.Power(p)*Horsepower, unit.Voltage(v), m, eff, pf, BasisNameplate)
		if err != nil {
			assert.ErrorIs(t, err, ErrDomain)
			return false
		}
		consistent(t, r)
		return true
	}
	e, f := Range[float64]{Low: 0.6, High: 0.7}, Range[float64]{Low: 0.6, High: 0.8}
	assert.True(t, ok(0.5, 115, 1, e, f))
	assert.True(t, ok(0.5, 115, 1, Exactly(0.05), Exactly(0.1)))
	assert.True(t, ok(0.5, 115, 1, Exactly(0.99), Exactly(1.0)))
	assert.False(t, ok(0.5, 115, 1, Exactly(0.049), f))
	assert.False(t, ok(0.5, 115, 1, Exactly(0.991), f))
	assert.False(t, ok(0.5, 115, 1, e, Exactly(0.099)))
	assert.False(t, ok(0.5, 115, 1, e, Exactly(1.001)))
	assert.False(t, ok(0.5, 115, 1, Range[float64]{Low: 0.7, High: 0.6}, f), "upside down")
	assert.False(t, ok(0.5, 115, 1, e, Range[float64]{Low: 0.8, High: 0.6}), "upside down")
	for _, x := range append([]float64{0}, bad...) {
		assert.False(t, ok(x, 115, 1, e, f), x)
		assert.False(t, ok(0.5, x, 1, e, f), x)
		assert.False(t, ok(0.5, 115, 1, Exactly(x), f), x)
		assert.False(t, ok(0.5, 115, 1, e, Exactly(x)), x)
	}
	assert.False(t, ok(0.5, 115, 2, e, f))
}

// The current of small three-phase motors follows from their printed power,
// efficiency and power factor.
func TestShaftPowerAgainstDataSheet(t *testing.T) {
	const optimistic = "the data sheet's efficiency is 3 to 7 % above what its own current gives"
	for _, row := range reftest.Rows(t, "motor/iec_small_2pole.csv") {
		r, err := RunningFromShaft(unit.Power(row.Float("p_kw"))*Kilowatt, 400, 3,
			Exactly(row.Float("efficiency_pct")/100), Exactly(row.Float("power_factor")), BasisNameplate)
		require.NoError(t, err)
		row.Within("i_400v_a", float64(r.Current.High), 0.08, optimistic)
		assert.True(t, inside(ThreePhase.RatedPowerFactor(), row.Float("power_factor")), row.Source())
		assert.True(t, inside(ThreePhase.RatedEfficiency(), row.Float("efficiency_pct")/100), row.Source())
	}
}

func inside(r Range[float64], x float64) bool { return x >= r.Low && x <= r.High }

func TestReadings(t *testing.T) {
	good := Reading{Voltage: 120, Phases: 1, Current: 10, Apparent: 1210, Real: 800, PowerFactor: 0.66}
	r, err := good.Running()
	require.NoError(t, err)
	consistent(t, r)
	assert.InDelta(t, 1200, float64(r.Apparent.High), 1e-9, "volts times amperes before the rounded VA")
	assert.InDelta(t, 800, float64(r.Real.High), 1e-9)
	assert.Equal(t, BasisMeasured, r.Basis)

	for name, tt := range map[string]struct {
		change func(*Reading)
		want   string
	}{
		"W above VA":       {func(m *Reading) { m.Real, m.PowerFactor = 1237, 0 }, "more than the 1200 VA"},
		"VA off V·A":       {func(m *Reading) { m.Apparent = 1300 }, "1300 VA read, but volts times amperes are 1200 VA"},
		"pf off W/VA":      {func(m *Reading) { m.PowerFactor = 0.8 }, "power factor 0.8 read"},
		"W above VA alone": {func(m *Reading) { m.Current, m.Real, m.PowerFactor = 0, 1300, 0 }, "more than the 1210 VA"},
		"type":             {func(m *Reading) { m.Type = ThreePhase }, "three-phase with 1 phases"},
	} {
		m := good
		tt.change(&m)
		_, err := m.Running()
		require.ErrorIs(t, err, ErrDomain, name)
		assert.ErrorContains(t, err, tt.want, name)
	}

	// Kilowatts typed for watts, which each figure by itself does not show.
	for watts, want := range map[unit.Power]bool{1.2: false, 119.9: false, 120: true} {
		_, err := Reading{Voltage: 120, Phases: 1, Current: 10, Real: watts}.Running()
		assert.Equal(t, want, err == nil, watts)
		if !want {
			assert.ErrorContains(t, err, "watts over volt-amperes")
			assert.ErrorIs(t, err, ErrDomain)
		}
	}

	// A resistive load reads a little above its volt-amperes.
	m := Reading{Voltage: 120, Phases: 1, Current: 10, Real: 1230}
	r, err = m.Running()
	require.NoError(t, err)
	assert.InDelta(t, 1, r.PowerFactor.High, 0)
	assert.InDelta(t, 1200, float64(r.Real.High), 1e-9)

	// VA alone never become watts.
	m = Reading{Voltage: 120, Phases: 1, Apparent: 1200, Type: SplitPhase}
	r, err = m.Running()
	require.NoError(t, err)
	consistent(t, r)
	assert.Equal(t, BasisTypical, r.Basis)
	assert.Equal(t, BasisMeasured, r.CurrentBasis)
	assert.InDelta(t, 10, float64(r.Current.High), 1e-12)
	assert.Less(t, r.Real.High, unit.Power(1200))

	_, err = Reading{Voltage: 120, Phases: 1}.Running()
	assert.ErrorIs(t, err, ErrMissing)
	_, err = Reading{Voltage: 120, Phases: 1, Real: 500}.Running()
	assert.ErrorIs(t, err, ErrMissing)
	_, err = Reading{}.Running()
	assert.ErrorIs(t, err, ErrDomain)

	for name, set := range map[string]func(*Reading, float64){
		"voltage":  func(m *Reading, x float64) { m.Voltage = unit.Voltage(x) },
		"current":  func(m *Reading, x float64) { m.Current = unit.Current(x) },
		"apparent": func(m *Reading, x float64) { m.Apparent = ApparentPower(x) },
		"real":     func(m *Reading, x float64) { m.Real = unit.Power(x) },
		"pf":       func(m *Reading, x float64) { m.PowerFactor = x },
	} {
		for _, x := range bad {
			m := good
			set(&m, x)
			_, err := m.Running()
			assert.ErrorIs(t, err, ErrDomain, "%s %v", name, x)
		}
	}
}

// checkDCSide computes the rows of the two meters.
func checkDCSide(t *testing.T, row reftest.Row) {
	t.Helper()
	d := DCSide{
		Apparent: ApparentPower(row.Param("S", "VA")), BatteryVoltage: unit.Voltage(row.Param("U", "V")),
		BatteryCurrent: unit.Current(row.Param("I", "A")),
		Efficiency:     Range[float64]{Low: row.Param("lo", ""), High: row.Param("hi", "")},
	}
	r, err := d.Running()
	require.NoError(t, err)
	switch row.Text("quantity") {
	case "least real power":
		row.Expected(float64(r.Real.Low))
	case "greatest real power":
		row.Expected(float64(r.Real.High))
	case "least power factor":
		row.Expected(r.PowerFactor.Low)
	case "greatest power factor":
		row.Expected(r.PowerFactor.High)
	default:
		t.Fatal(row.Source())
	}
}

func TestDCSide(t *testing.T) {
	d := DCSide{
		Apparent: 1200, PlugVoltage: 120, BatteryVoltage: 12, BatteryCurrent: 75,
		Efficiency: Range[float64]{Low: 0.85, High: 0.92}, EfficiencyBasis: BasisNameplate,
	}
	r, err := d.Running()
	require.NoError(t, err)
	consistent(t, r)
	assert.InDelta(t, 10, float64(r.Current.Low), 1e-12)
	assert.Equal(t, BasisNameplate, r.Basis)
	d.PlugVoltage, d.EfficiencyBasis = 0, 0
	r, err = d.Running()
	require.NoError(t, err)
	assert.Zero(t, r.Current)
	assert.Equal(t, BasisTypical, r.Basis)

	// The real power ends at the volt-amperes, and where even that is not
	// enough the readings contradict.
	d.Apparent = 800
	r, err = d.Running()
	require.NoError(t, err)
	assert.InDelta(t, 800, float64(r.Real.High), 0)
	assert.InDelta(t, 1, r.PowerFactor.High, 0)
	d.Apparent = 765 // 12 V, 75 A and the least efficiency exactly
	r, err = d.Running()
	require.NoError(t, err)
	assert.InDelta(t, 765, float64(r.Real.Low), 0)
	assert.InDelta(t, 765, float64(r.Real.High), 0)
	d.Apparent = 764
	_, err = d.Running()
	assert.ErrorContains(t, err, "765 W leave the inverter, more than the 764 VA")
	assert.ErrorIs(t, err, ErrDomain)
	d.Apparent = 1200

	for name, set := range map[string]func(*DCSide, float64){
		"apparent": func(d *DCSide, x float64) { d.Apparent = ApparentPower(x) },
		"battery":  func(d *DCSide, x float64) { d.BatteryVoltage = unit.Voltage(x) },
		"current":  func(d *DCSide, x float64) { d.BatteryCurrent = unit.Current(x) },
		"low":      func(d *DCSide, x float64) { d.Efficiency.Low = x },
		"high":     func(d *DCSide, x float64) { d.Efficiency.High = x },
	} {
		for _, x := range append([]float64{0}, bad...) {
			e := d
			set(&e, x)
			_, err := e.Running()
			assert.ErrorIs(t, err, ErrDomain, "%s %v", name, x)
		}
	}
	d.PlugVoltage = unit.Voltage(math.NaN())
	_, err = d.Running()
	assert.ErrorIs(t, err, ErrDomain)
	d.PlugVoltage = 120
	d.Efficiency = Range[float64]{Low: 0.92, High: 0.85}
	_, err = d.Running()
	assert.ErrorIs(t, err, ErrDomain, "upside down")
}
