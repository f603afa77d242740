package motor

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/numeric"
	"ridethrough.example/internal/reftest"
)

// referenceLoads are the loads of the reference runs.
func referenceLoad(name string) Load {
	switch name {
	case "quadratic":
		return CentrifugalLoad{Rated: 1.0324312, Speed: 1725 * RPM}
	case "constant":
		return ConstantLoad{Rated: 1.0324312, Rounding: 0.5}
	}
	return nil
}

func TestDynamicStart(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/start_dynamic.csv") {
		c := quarterHorse(reactance(unit.Resistance(row.Float("rc_ohm")), 14.5))
		angle := unit.Angle(0)
		if row.Text("phase") == "sin" {
			angle = -math.Pi / 2
		}
		r := RunUp{
			Circuit: c, Source: Line{Voltage: 110, Frequency: 60, Phases: 1, Impedance: complex(row.Float("source_r_ohm"), 0)},
			Load: referenceLoad(row.Text("load")), Inertia: 0.0146, FullSpeed: 0.95, Until: 3, Settle: 3,
		}
		began := time.Now()
		got, err := r.Dynamic(angle, 1e-10)
		require.NoError(t, err)
		t.Log(row.Text("case"), time.Since(began), got.Outcome)
		const why = "relative accuracy of the independent solver"
		row.Within("t_75pct_s", float64(got.SwitchOrdered), 2e-8, why)
		row.Within("t_switch_open_s", float64(got.SwitchOpen), 2e-8, why)
		row.Within("vc_left_abs_v", float64(got.CapacitorLeft), 2e-7, why)
		if row.Has("t_95pct_s") {
			row.Within("t_95pct_s", float64(got.FullSpeed), 2e-8, why)
		}
		for k, column := range []string{"i_rms_cycle1_a", "i_rms_cycle2_a", "i_rms_cycle3_a"} {
			row.Within(column, float64(got.Cycles[k].Current), 1e-8, why)
		}
		square, mean := 0.0, 0.0
		for _, c := range got.Cycles[:6] {
			square += float64(c.Current*c.Current) / 6
			mean += float64(c.Real) / 6
		}
		row.Within("i_rms_first6_a", math.Sqrt(square), 1e-8, why)
		row.Within("p_mean_first6_w", mean, 1e-8, why)
		row.Within("i_rms_to_open_a", math.Sqrt(got.SquareTimeToOpen/float64(got.SwitchOpen)), 1e-8, why)
		row.Within("energy_to_open_j", float64(got.EnergyToOpen), 2e-8, why)
		last := got.Cycles[len(got.Cycles)-1]
		row.Printed("rpm_end", float64(last.Speed/RPM))
		row.Digits("i_rms_end_a", float64(last.Current), 1.1, "a tie of rounding")
		row.Printed("p_end_w", float64(last.Real))
		r.Until = 0.2
		got, err = r.Dynamic(angle, 1e-10)
		require.NoError(t, err)
		row.Within("i_peak_a", float64(got.Peak), 1e-8, why)
		row.Within("t_peak_s", float64(got.PeakTime), 1e-6, why)
		row.Within("i_main_peak_a", float64(got.MainPeak), 5e-6, "the reference looked for this peak on a grid, and found it that much short")
	}
}

func TestDynamicClamped(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/start_clamped.csv") {
		limit := unit.Current(row.Float("limit_value") / math.Sqrt2)
		r := RunUp{
			Circuit: quarterHorse(reactance(3, 14.5)), Source: Line{Voltage: 110, Frequency: 60, Phases: 1, Limit: limit},
			Load: referenceLoad(row.Text("load")), Inertia: 0.0146, FullSpeed: 0.95, Until: 3, Settle: 6,
		}
		switch {
		case row.Text("load") == "constant":
			r.Until = 4
		case row.Float("limit_value") < 10:
			r.Until = 6
		}
		got := compareLimited(t, row, r)
		row.Within("v_rms_first6_v", rootMean(got.Cycles[:6], lineVolts), 6e-4, "the reference summed it from instants, and says 3e-4 of it; its fine figures are beside it")
	}
}

func rootMean(cycles []Cycle, of func(Cycle) float64) float64 {
	sum := 0.0
	for _, c := range cycles {
		sum += of(c) * of(c)
	}
	return math.Sqrt(sum / float64(len(cycles)))
}

func lineVolts(c Cycle) float64 { return float64(c.Voltage) }

func lineAmps(c Cycle) float64 { return float64(c.Current) }

const fixedSteps = "error of the fixed steps"

// compareLimited compares a start with a row of the reference's starts on limited
// sources.
func compareLimited(t *testing.T, row reftest.Row, r RunUp) DynamicResult {
	t.Helper()
	got, err := r.Dynamic(0, 1e-8)
	require.NoError(t, err)
	mean := 0.0
	for _, c := range got.Cycles[:6] {
		mean += float64(c.Real) / 6
	}
	const why = "accuracy of the independent solver"
	row.Within("v_rms_first6_fine_v", rootMean(got.Cycles[:6], lineVolts), 1e-6, fixedSteps)
	row.Within("i_rms_first6_a", rootMean(got.Cycles[:6], lineAmps), 1e-6, why)
	row.Within("p_first6_w", mean, 1e-6+0.0005/mean, why+", and its rounding")
	last := got.Cycles[len(got.Cycles)-1]
	row.Digits("rpm_end", float64(last.Speed/RPM), 2, "the reference summed it from instants")
	row.Digits("i_rms_end_a", float64(last.Current), 2, "the reference summed it from instants")
	row.Digits("i_peak_a", float64(got.Peak), 3, "the reference looked for it on a grid of 25 to 50 µs")
	row.Within("i_peak_fine_a", float64(got.Peak), 1e-6, fixedSteps)
	if row.Has("t_75pct_s") {
		row.Within("t_75pct_s", float64(got.SwitchOrdered), 1e-7, why)
		row.Within("t_switch_open_s", float64(got.SwitchOpen), 1e-7, why)
	}
	// The reference calls it started where its switch opens.
	require.Equal(t, row.Text("outcome") == "starts", got.SwitchOpen > 0, row.Source())
	r.Settle = 0
	for column, share := range map[string]float64{"t_50pct_s": 0.5, "t_90pct_s": 0.9, "t_95pct_s": 0.95} {
		if r.FullSpeed = share; !row.Has(column) {
			continue
		}
		to, err := r.Dynamic(0, 1e-8)
		require.NoError(t, err)
		require.Equal(t, Starts, to.Outcome, row.Source())
		row.Digits(column, float64(to.FullSpeed), 2, "the reference found it to 5e-5 s")
	}
	return got
}

// Held at one speed, the equations of the dynamic start settle at the phasors of
// the revolving fields.
func TestDynamicSettlesAtTheCircuit(t *testing.T) {
	for _, tt := range []struct {
		slip float64
		n    connection
	}{{0.05, running}, {0.25, running}, {1, running}, {1, starting}, {0.5, starting}, {0.25, starting}} {
		c := quarterHorse(reactance(3, 14.5))
		r := RunUp{Circuit: c, Source: Line{Voltage: 110, Frequency: 60, Phases: 1}, Inertia: 1e12}
		d := dynamic{RunUp: r.plain(), circuit: c, frame: c.frame(), accuracy: 1e-11}
		require.NoError(t, d.prepare(0))
		require.NoError(t, d.connect(tt.n, nil))
		solver := numeric.NewSolver(numeric.ODE{F: d.slope, RTol: 1e-11, ATol: d.tolerances()}, d.states())
		y := make([]float64, d.states())
		y[dySpeed] = (1 - tt.slip) * synchronous(60, 4)
		require.NoError(t, solver.Start(0, y))
		require.NoError(t, solver.Run(2))
		copy(y, solver.Y())
		require.NoError(t, solver.Run(2+1.0/60))
		mean := func(i int) float64 { return 60 * (solver.Y()[i] - y[i]) }
		turn := c.Running
		if tt.n == starting {
			turn = c.Starting
		}
		want, err := turn(tt.slip, 110)
		require.NoError(t, err)
		require.InEpsilon(t, float64(want.Current), math.Sqrt(mean(dySquareTime)), 1e-8, "slip %v", tt.slip)
		require.InEpsilon(t, float64(want.Input), mean(dyEnergy), 1e-8)
		require.InEpsilon(t, float64(want.StatorCopper+want.AuxiliaryLoss), mean(dyStator), 1e-8)
		require.InEpsilon(t, float64(want.RotorCopper), mean(dyRotor), 1e-8)
	}
}

// The worst angle of switching on is found, and no other angle is worse.
func TestWorstPeak(t *testing.T) {
	r := RunUp{Circuit: quarterHorse(reactance(3, 14.5)), Source: Line{Voltage: 110, Frequency: 60, Phases: 1}, Inertia: 0.0146}
	peak, angle, err := r.WorstPeak(0.2, 1e-8)
	require.NoError(t, err)
	require.InDelta(t, 26.05, float64(peak), 0.006) // notes of testdata/motor/start_dynamic.csv's source: 1.053 times √2 the locked-rotor current
	r.Until = 0.2
	at, err := r.Dynamic(angle, 1e-8)
	require.NoError(t, err)
	require.InEpsilon(t, float64(peak), float64(at.Peak), 1e-6)
	for k := range 20 {
		other, err := r.Dynamic(unit.Angle(float64(k)*math.Pi/20), 1e-8)
		require.NoError(t, err)
		require.LessOrEqual(t, float64(other.Peak), float64(peak)*(1+1e-6))
	}
	_, _, err = r.WorstPeak(1e-3, 1e-8)
	require.ErrorIs(t, err, ErrDomain)
}

// A run capacitor stays in when the start capacitor leaves, and a permanent one
// never switches.
func TestDynamicRunCapacitor(t *testing.T) {
	c := quarterHorse(reactance(3, 14.5))
	c.Auxiliary.Run = reactance(9, 172)
	r := RunUp{Circuit: c, Source: Line{Voltage: 110, Frequency: 60, Phases: 1}, Inertia: 0.0146, Load: referenceLoad("quadratic"), Settle: 1}
	quasi, err := r.QuasiSteady()
	require.NoError(t, err)
	got, err := r.Dynamic(0, 1e-8)
	require.NoError(t, err)
	require.InEpsilon(t, float64(quasi.FullSpeed), float64(got.FullSpeed), 0.012)
	last := got.Cycles[len(got.Cycles)-1]
	want, err := c.Running(1-float64(last.Speed)/synchronous(60, 4), 110)
	require.NoError(t, err)
	require.InEpsilon(t, float64(want.Current), float64(last.Current), 2e-3, "but for the ripple of the speed")

	c.Auxiliary.Switch, c.Auxiliary.Start = 0, Branch{}
	r.Circuit, r.Load = c, nil
	got, err = r.Dynamic(0, 1e-8)
	require.NoError(t, err)
	require.Equal(t, Starts, got.Outcome)
	require.Zero(t, got.SwitchOpen)
	_, err = RunUp{Circuit: sixPoles(), Source: Line{Voltage: 220, Frequency: 60, Phases: 3}, Inertia: 0.1}.Dynamic(0, 1e-8)
	require.ErrorIs(t, err, ErrDomain)
	r.Source = Line{Voltage: 110, Frequency: 60, Phases: 1, Limit: 5, Impedance: 1i}
	_, err = r.Dynamic(0, 1e-8)
	require.ErrorIs(t, err, ErrDomain, "a limit with inductance")
	r.Source = Line{Voltage: 110, Frequency: 50, Phases: 1}
	_, err = r.Dynamic(0, 1e-8)
	require.ErrorIs(t, err, ErrDomain, "another frequency")
	r.Source = Line{Voltage: 110, Frequency: 60, Phases: 3}
	_, err = r.QuasiSteady()
	require.ErrorIs(t, err, ErrDomain, "another number of phases")
}

// Any dynamic start that is accepted ends with an outcome and with numbers, and
// with the energy that went in.
func FuzzDynamicEnds(f *testing.F) {
	f.Add(110.0, 0.0146, 0.8, 0.5, 0.3, 0.0, 0.0, 14.5, 0)
	f.Add(115.0, 1e-3, 2.0, 0.0, 0.0, 8.0, 1.0, 40.0, 1)
	f.Add(230.0, 0.1, 0.3, 2.0, 0.0, 0.0, 2.0, 9.0, 2)
	f.Fuzz(func(t *testing.T, volts, j, torque, ohms, reach, limit, angle, xc float64, kind int) {
		if !(xc > 0.1 && xc < 1000 && math.Abs(angle) < 10 && j > 1e-4) {
			t.Skip()
		}
		c := quarterHorse(reactance(3, xc))
		switch kind {
		case 1:
			c.Auxiliary.Run = reactance(9, 172)
		case 2:
			c.Auxiliary.Start = Branch{}
		case 3:
			c.Auxiliary = Auxiliary{}
		}
		r := RunUp{
			Circuit: c, Inertia: Inertia(j), Until: 0.12, FullSpeed: 0.5, Settle: 1,
			Source: Line{Voltage: unit.Voltage(volts), Frequency: 60, Phases: 1, Impedance: complex(ohms, reach), Limit: unit.Current(limit)},
			Load:   CentrifugalLoad{Rated: unit.Torque(torque), Speed: 1710 * RPM},
		}
		got, err := r.Dynamic(unit.Angle(angle), 1e-7)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.NotZero(t, got.Outcome)
		require.Equal(t, got.Outcome == Starts, got.FullSpeed > 0)
		require.Len(t, got.Cycles, 7)
		for _, x := range []float64{float64(got.Peak), float64(got.Speed), float64(got.LeastVoltage), float64(got.Energy), got.SquareTime} {
			require.True(t, finite(x))
		}
		require.GreaterOrEqual(t, float64(got.Peak)*(1+1e-6), float64(got.GreatestCurrent), "no rms is above the peak")
		require.GreaterOrEqual(t, float64(got.MainPeak), 0.0)
	})
}

// thevenin is a source of another package: nothing but its methods is known.
type thevenin struct {
	open      unit.Voltage
	series    complex128
	limit     unit.Current
	frequency unit.Frequency
}

func (s thevenin) Linear() (unit.Voltage, complex128, unit.Current) {
	return s.open, s.series, s.limit
}

func (s thevenin) Under(complex128, unit.Time) (unit.Voltage, unit.Frequency, error) {
	return s.open, s.frequency, nil
}

// A source of 50 Hz ran a motor of 60 Hz at 60 Hz; a limit that was no number
// was none; an angle in degrees, or none at all, ended in a step length.
func TestDynamicRefusesForeignSources(t *testing.T) {
	none := unit.Current(math.Inf(1))
	good := thevenin{110, 0, none, 60}
	r := RunUp{Circuit: quarterHorse(reactance(3, 14.5)), Source: good, Inertia: 0.0146, Until: 0.05}
	_, err := r.Dynamic(-2*math.Pi, 1e-6)
	require.NoError(t, err)
	for words, s := range map[string]thevenin{
		"a source of 50":        {110, 0, none, 50},
		"a source of NaN":       {110, 0, none, unit.Frequency(math.NaN())},
		"voltage of the source": {unit.Voltage(math.NaN()), 0, none, 60},
		"source resistance":     {110, -1, none, 60},
		"source reactance":      {110, complex(0, math.Inf(1)), none, 60},
		"current limit":         {110, 0, -5, 60},
		"current limit NaN":     {110, 0, unit.Current(math.NaN()), 60},
	} {
		r.Source = s
		_, err := r.Dynamic(0, 1e-6)
		require.ErrorIs(t, err, ErrDomain, words)
		require.ErrorContains(t, err, words)
	}
	r.Source = good
	for _, angle := range []float64{90, math.NaN(), math.Inf(1), 1e300} {
		_, err = r.Dynamic(unit.Angle(angle), 1e-6)
		require.ErrorIs(t, err, ErrDomain)
		require.ErrorContains(t, err, "angle of switching on")
	}
}
