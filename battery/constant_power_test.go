package battery

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/numeric"
	"ridethrough.example/internal/reftest"
)

// madeUp builds a model from columns, with the resistance in mΩ.
func madeUp(t testing.TB, ah float64, soc, volts, milliohms []float64) VoltageModel {
	t.Helper()
	var points []VoltagePoint
	for i := range soc {
		points = append(points, VoltagePoint{soc[i], unit.Voltage(volts[i]), unit.Resistance(milliohms[i]) * Milliohm})
	}
	return must[VoltageModel](t)(NewVoltageModel(points, unit.Charge(ah)*AmpereHour))
}

// voltageModels are the curves of testdata/battery/constant_power_ode.csv.
func voltageModels(t testing.TB) map[string]VoltageModel {
	t.Helper()
	return map[string]VoltageModel{
		"lead 12 V": madeUp(t, 100, []float64{0, 0.25, 0.5, 0.75, 1},
			[]float64{11.89, 12.06, 12.24, 12.45, 12.65}, []float64{24, 15, 11, 9, 8}),
		"lithium 51.2 V": madeUp(t, 80, []float64{0, 0.02, 0.1, 0.3, 0.7, 0.95, 1},
			[]float64{40, 46.4, 50.4, 52, 52.6, 53.2, 54.4}, []float64{60, 45, 36, 30, 28, 28, 28}),
		"two points": madeUp(t, 35, []float64{0, 1}, []float64{10.8, 13.2}, []float64{50, 10}),
	}
}

// straight is the battery of testdata/inverter/run_down.csv.
func straight(t testing.TB) VoltageModel {
	t.Helper()
	return madeUp(t, 200, []float64{0, 1}, []float64{11.6, 12.8}, []float64{12, 12})
}

func wattHours(e unit.Energy) float64 { return float64(e / WattHour) }

func TestConstantPowerODE(t *testing.T) {
	models := voltageModels(t)
	for _, row := range reftest.Rows(t, "battery/constant_power_ode.csv") {
		run := must[LoadRun](t)(models[row.Text("curve")].ConstantPower(RunLimits{
			StateOfCharge: row.Float("start"), DepthLimit: row.Float("depth_limit"), CutOff: unit.Voltage(row.Float("cut_off_v")),
		}, unit.Power(row.Float("p_w"))))
		row.Printed("time_s", float64(run.Time))
		row.Printed("soc_end", run.StateOfCharge)
		row.Printed("drawn_ah", ampereHours(run.Drawn))
		row.Printed("energy_wh", wattHours(run.Energy))
		row.Printed("heat_wh", wattHours(run.Heat))
		row.Printed("start_a", float64(run.Start.Current))
		row.Printed("start_v", float64(run.Start.Voltage))
		row.Printed("end_a", float64(run.End.Current))
		row.Printed("end_v", float64(run.End.Voltage))
		assert.Equal(t, row.Text("stopped_by"), run.StoppedBy.String(), row.Source())
	}
}

// The runs of the straight-line battery, which another package works out by
// the formula for one straight line.
func TestConstantPowerRunDown(t *testing.T) {
	m := straight(t)
	for _, row := range reftest.Rows(t, "inverter/run_down.csv") {
		p := unit.Power(row.Float("p_w"))
		run := must[LoadRun](t)(m.ConstantPower(RunLimits{StateOfCharge: 1, DepthLimit: 1, CutOff: 10.5}, p))
		row.Printed("time_h", hours(run.Time))
		row.Printed("soc_end", run.StateOfCharge)
		row.Printed("ah_drawn", ampereHours(run.Drawn))
		row.Printed("energy_wh", wattHours(run.Energy))
		row.Printed("i_start_a", float64(run.Start.Current))
		row.Printed("v_start_v", float64(run.Start.Voltage))
		row.Printed("i_end_a", float64(run.End.Current))
		row.Printed("v_end_v", float64(run.End.Voltage))
		row.Rejects("naive_h", hours(run.Time), 0.005)
		want := RunCutOff
		if row.Text("stopped_by") == "empty" {
			want = RunDepthLimit
		}
		assert.Equal(t, want, run.StoppedBy, row.Source())
	}
}

func TestConstantPowerPoints(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/constant_power.csv") {
		open, r := paramVolts(row, "Voc"), unit.Resistance(row.Param("R", "ohm"))
		var x LoadPoint
		var err error
		if row.HasParam("P") {
			x, err = PointAtPower(open, r, unit.Power(row.Param("P", "W")))
		}
		if row.Text("expected") == "none" {
			var collapse *CollapseError
			require.ErrorAs(t, err, &collapse)
			require.ErrorIs(t, err, ErrCollapse)
			require.NotErrorIs(t, err, ErrDomain)
			assert.Equal(t, "battery: no operating point, the voltage collapses: 3970 W asked, 3969 W is the most", err.Error())
			continue
		}
		require.NoError(t, err, row.Source())
		switch q := row.Text("quantity"); q {
		case "terminal voltage":
			row.Expected(float64(x.Voltage))
		case "dc current":
			row.Expected(float64(x.Current))
		case "loss in R":
			row.Expected(float64(x.Current) * float64(x.Current) * float64(r))
		case "maximum deliverable power":
			row.Expected(float64(must[unit.Power](t)(PowerAtCollapse(open, r))))
		case "power at the cut-off":
			row.Expected(float64(must[unit.Power](t)(PowerAtCutOff(open, r, paramVolts(row, "Vcut")))))
		default:
			t.Fatal(q)
		}
	}
}

func TestPowerAtCutOffEnds(t *testing.T) {
	p := must[unit.Power](t)(PowerAtCutOff(12, 0.01, 12))
	assert.Zero(t, p)
	p = must[unit.Power](t)(PowerAtCutOff(12, 0.01, 13))
	assert.Zero(t, p)
	p = must[unit.Power](t)(PowerAtCutOff(12, 0.01, 2))
	assert.InDelta(t, 3600, float64(p), 1e-9, "the collapse comes first")
	for _, x := range junk {
		_, err := PowerAtCutOff(12, 0.01, unit.Voltage(x))
		refused(t, err)
		_, err = PowerAtCollapse(unit.Voltage(x), 0.01)
		refused(t, err)
		if x != 1e-3 {
			_, err = PowerAtCutOff(12, unit.Resistance(x), 10)
			refused(t, err)
			_, err = PointAtPower(12, unit.Resistance(x), 10)
			refused(t, err)
		}
		if !(x >= 0 && x <= 1e8) {
			_, err = PointAtPower(12, 0.01, unit.Power(x))
			refused(t, err)
		}
	}
}

func TestMeanRoot(t *testing.T) {
	// Against the antiderivative of √(x² + c) between any ends.
	f := func(x, c float64) float64 {
		s := math.Sqrt(x*x + c)
		return (x*s + c*math.Log(x+s)) / 2
	}
	for _, c := range []float64{-4, -1, 0, 0.5, 3} {
		for _, a := range []float64{2, 2.5, 7} {
			for _, h := range []float64{0.01, 0.1, 1, 3, 10, 1000} {
				b := a + h
				want := (f(b, c) - f(a, c)) / h
				assert.InEpsilon(t, want, meanRoot(math.Sqrt(a*a+c), math.Sqrt(b*b+c), h), 2e-12, "%v %v %v", c, a, h)
			}
		}
	}
	assert.Zero(t, meanRoot(0, 0, 0))
	assert.InDelta(t, 2./3, meanRoot(0, 1, 0), 1e-15, "a straight line from zero")
	assert.InDelta(t, 0.5, meanRoot(0, 1, 1), 1e-15, "a full square")
	assert.InDelta(t, meanRootU(0.25), meanRootU(math.Nextafter(0.25, 1)), 1e-14, "both forms of U")
	small := math.Sqrt(4e-3)
	assert.InDelta(t, meanRoot(0.2, 0.8, small*(1-1e-15)), meanRoot(0.2, 0.8, small*(1+1e-15)), 1e-14, "both lengths of the series")
}

// The time is the integral of Q/I, by Simpson's rule on the points themselves.
func TestConstantPowerQuadrature(t *testing.T) {
	m := voltageModels(t)["lead 12 V"]
	for _, p := range []unit.Power{10, 300, 700} {
		run := must[LoadRun](t)(m.ConstantPower(RunLimits{StateOfCharge: 0.9, DepthLimit: 0.8, CutOff: 9}, p))
		const n = 2800 // a multiple of the spacing of the points
		sum := 0.0
		for i := 0; i <= n; i++ {
			w := 2 + 2*float64(i%2)
			if i == 0 || i == n {
				w = 1
			}
			sum += w / float64(must[LoadPoint](t)(m.VoltageAtPower(0.2+0.7*float64(i)/n, p)).Current)
		}
		want := sum * 0.7 / n / 3 * float64(m.Capacity())
		assert.InEpsilon(t, want, float64(run.Time), 1e-9)
	}
}

// Loads that are past their end from the first moment: 12.8 V behind 12 mΩ
// give at most 3413 W.
func TestConstantPowerAnswers(t *testing.T) {
	m := straight(t)
	full := RunLimits{StateOfCharge: 1, DepthLimit: 1, CutOff: 10.5}
	run := must[LoadRun](t)(m.ConstantPower(full, 3420))
	assert.Equal(t, LoadRun{StateOfCharge: 1, StoppedBy: RunCollapse}, run)
	run = must[LoadRun](t)(m.ConstantPower(full, 3400))
	assert.Equal(t, RunCutOff, run.StoppedBy)
	assert.Zero(t, run.Time)
	assert.InDelta(t, 6.8, float64(run.Start.Voltage), 1e-9, "the point that trips it")
	assert.Equal(t, run.Start, run.End)
}

func TestTrip(t *testing.T) {
	m := straight(t)
	// 1500 W hold 10.5 V down to Voc = 10.5 + 1500·0.012/10.5.
	trip := must[Trip](t)(m.TripAtPower(1500, 10.5))
	assert.InDelta(t, (10.5+1500*0.012/10.5-11.6)/1.2, trip.Below, 1e-12)
	assert.Equal(t, RunCutOff, trip.By)
	assert.False(t, trip.Never || trip.Always)
	assert.Equal(t, Trip{Never: true}, must[Trip](t)(m.TripAtPower(900, 10.5)))
	assert.Equal(t, Trip{Below: 1, By: RunCutOff, Always: true}, must[Trip](t)(m.TripAtPower(2500, 10.5)))
	assert.Equal(t, Trip{Below: 1, By: RunCollapse, Always: true}, must[Trip](t)(m.TripAtPower(3420, 10.5)))
	assert.Equal(t, Trip{Below: 1, By: RunCutOff, Always: true}, must[Trip](t)(m.TripAtPower(1, 12.9)))
	// 3000 W at a low cut-off collapse first, at Voc = 2·√(3000·0.012) = 12 V.
	trip = must[Trip](t)(m.TripAtPower(3000, 5))
	assert.InDelta(t, 1./3, trip.Below, 1e-12)
	assert.Equal(t, RunCollapse, trip.By)
	// No voltage to gain and a resistance that rises: 4·P·R = Voc² at 18 mΩ.
	level := madeUp(t, 100, []float64{0, 1}, []float64{12, 12}, []float64{24, 12})
	trip = must[Trip](t)(level.TripAtPower(2000, 3))
	assert.InDelta(t, 0.5, trip.Below, 1e-12)
	assert.Equal(t, RunCollapse, trip.By)
	// The current of 100 A holds 10.5 V at Voc = 11.7 V.
	trip = must[Trip](t)(m.TripAtCurrent(100, 10.5))
	assert.InDelta(t, 0.1/1.2, trip.Below, 1e-12)
	assert.Equal(t, RunCutOff, trip.By)
	assert.Equal(t, Trip{Never: true}, must[Trip](t)(m.TripAtCurrent(50, 10.5)))
	assert.Equal(t, Trip{Below: 1, By: RunCutOff, Always: true}, must[Trip](t)(m.TripAtCurrent(200, 10.5)))
	for _, x := range junk {
		if x != 1e-3 {
			_, err := m.TripAtPower(unit.Power(x), 10.5)
			refused(t, err)
			_, err = m.TripAtCurrent(unit.Current(x), 10.5)
			refused(t, err)
		}
		_, err := m.TripAtPower(100, unit.Voltage(x))
		refused(t, err)
		_, err = m.TripAtCurrent(100, unit.Voltage(x))
		refused(t, err)
	}
}

// The trip is where a root finder, which knows nothing of the lines, finds the
// voltage at the cut-off.
func TestTripAgainstRoot(t *testing.T) {
	for name, m := range voltageModels(t) {
		for _, p := range []unit.Power{200, 700, 1300, 2200, 5000, 9000} {
			for _, share := range []float64{0.7, 0.8, 0.9} {
				cut := unit.Voltage(share * m.open[len(m.open)-1])
				trip := must[Trip](t)(m.TripAtPower(p, cut))
				spare := func(s float64) float64 {
					x, err := m.VoltageAtPower(s, p)
					if err != nil {
						return -1
					}
					return float64(x.Voltage - cut)
				}
				s, err := numeric.Root(spare, 0, 1, 0)
				switch {
				case trip.Never:
					require.GreaterOrEqual(t, spare(0), 0.0, name)
				case trip.Always:
					require.Less(t, spare(1), 0.0, name)
				default:
					require.NoError(t, err)
					require.InDelta(t, s, trip.Below, 1e-9, "%s %v %v", name, p, cut)
				}
			}
		}
	}
}

func TestConstantCurrent(t *testing.T) {
	m := straight(t)
	run := must[LoadRun](t)(m.ConstantCurrent(RunLimits{StateOfCharge: 1, DepthLimit: 1, CutOff: 10.5}, 100))
	assert.Equal(t, RunCutOff, run.StoppedBy)
	assert.InDelta(t, 200*(1-0.1/1.2)/100, hours(run.Time), 1e-12)
	assert.InDelta(t, 10.5, float64(run.End.Voltage), 1e-12)
	assert.InDelta(t, 11.6, float64(run.Start.Voltage), 1e-12)
	assert.InDelta(t, hours(run.Time)*(11.6+10.5)/2*100, wattHours(run.Energy), 1e-9)
	assert.InDelta(t, hours(run.Time)*120, wattHours(run.Heat), 1e-9)
	run = must[LoadRun](t)(m.ConstantCurrent(RunLimits{StateOfCharge: 0.8, DepthLimit: 0.5, CutOff: 10.5}, 20))
	assert.Equal(t, RunDepthLimit, run.StoppedBy)
	assert.InDelta(t, 3, hours(run.Time), 1e-12)
	run = must[LoadRun](t)(m.ConstantCurrent(RunLimits{StateOfCharge: 0.8, DepthLimit: 0.5, CutOff: 10.5}, 200))
	assert.Equal(t, RunCutOff, run.StoppedBy)
	assert.Zero(t, run.Time)
	assert.InDelta(t, 0.8, run.StateOfCharge, 0)
}

func TestRunLimitsBounds(t *testing.T) {
	m := straight(t)
	good := RunLimits{StateOfCharge: 1, DepthLimit: 1, CutOff: 10.5}
	for _, x := range junk {
		for _, change := range []func(*RunLimits){
			func(l *RunLimits) { l.StateOfCharge = x },
			func(l *RunLimits) { l.DepthLimit = x },
			func(l *RunLimits) { l.CutOff = unit.Voltage(x) },
		} {
			l := good
			change(&l)
			_, err := m.ConstantPower(l, 100)
			refused(t, err)
			_, err = m.ConstantCurrent(l, 100)
			refused(t, err)
		}
	}
	_, err := m.ConstantPower(RunLimits{StateOfCharge: 0.5, DepthLimit: 0.5, CutOff: 10.5}, 100)
	require.ErrorIs(t, err, ErrBelowLimit)
	_, err = m.ConstantCurrent(RunLimits{StateOfCharge: 0.4, DepthLimit: 0.5, CutOff: 10.5}, 100)
	require.ErrorIs(t, err, ErrBelowLimit)
	_, err = m.ConstantPower(RunLimits{StateOfCharge: 2, DepthLimit: 1, CutOff: 0.1}, -5)
	refused(t, err)
	assert.Len(t, strings.Split(err.Error(), "\n"), 3, "every fault once: %v", err)
	_, err = VoltageModel{}.ConstantPower(good, 100)
	refused(t, err)
	_, err = VoltageModel{}.ConstantCurrent(good, 100)
	refused(t, err)
	_, err = m.ConstantPower(good, 1e-3)
	require.NoError(t, err)
	for e, name := range map[RunEnd]string{0: "none", RunDepthLimit: "depth limit", RunCutOff: "cut-off", RunCollapse: "collapse", 9: "none"} {
		assert.Equal(t, name, e.String())
	}
}

// The run time falls with load and cut-off and grows with capacity, start and
// depth; energy and heat are what lies in the open-circuit curve; two runs end
// to end are one.
func FuzzConstantPower(f *testing.F) {
	f.Add(byte(0), 600.0, 10.5, 1.0, 0.8, 0.1)
	f.Add(byte(1), 20000.0, 20.0, 0.9, 1.0, 0.3)
	f.Add(byte(2), 1500.0, 6.0, 1.0, 1.0, 0.01)
	names := []string{"lead 12 V", "lithium 51.2 V", "two points"}
	models := voltageModels(f)
	f.Fuzz(func(t *testing.T, which byte, p, cut, start, depth, more float64) {
		m := models[names[int(which)%3]]
		l := RunLimits{StateOfCharge: start, DepthLimit: depth, CutOff: unit.Voltage(cut)}
		run, err := m.ConstantPower(l, unit.Power(p))
		if err != nil {
			require.True(t, errors.Is(err, ErrDomain) || errors.Is(err, ErrBelowLimit), "%v", err)
			return
		}
		if !(more >= 1e-6 && more <= 1) {
			return
		}
		slack := 1e-9*float64(run.Time) + 1e-9
		longer := func(what string, l RunLimits, m VoltageModel, p, sign float64) {
			if other, err := m.ConstantPower(l, unit.Power(p)); err == nil {
				require.GreaterOrEqual(t, sign*float64(other.Time-run.Time), -slack, what)
			}
		}
		longer("load", l, m, p*(1+more), -1)
		other := l
		other.CutOff *= unit.Voltage(1 + more)
		longer("cut-off", other, m, p, -1)
		other = l
		other.StateOfCharge += more
		longer("start", other, m, p, 1)
		other = l
		other.DepthLimit += more
		longer("depth", other, m, p, 1)
		large := must[VoltageModel](t)(NewVoltageModel(m.Points(), m.Capacity()*unit.Charge(1+more)))
		if other, err := large.ConstantPower(l, unit.Power(p)); err == nil {
			require.InDelta(t, float64(run.Time)*(1+more), float64(other.Time), slack*2, "capacity")
		}
		// All of the energy is at most that of the highest open-circuit voltage.
		require.LessOrEqual(t, float64(run.Energy+run.Heat),
			float64(run.Drawn)*m.open[len(m.open)-1]*(1+1e-9)+1e-9)
		require.InDelta(t, float64(run.Energy), p*float64(run.Time), 1e-9*float64(run.Energy))
		require.GreaterOrEqual(t, float64(run.Heat), 0.0)
		// Split where the first part has come half way down.
		half := (run.StateOfCharge + start) / 2
		first, second := l, l
		first.DepthLimit, second.StateOfCharge = 1-half, half
		a, err1 := m.ConstantPower(first, unit.Power(p))
		b, err2 := m.ConstantPower(second, unit.Power(p))
		if err1 == nil && err2 == nil && run.Time > 1 {
			require.InDelta(t, float64(run.Time), float64(a.Time+b.Time), 1e-9*float64(run.Time))
			require.InDelta(t, float64(run.Energy+run.Heat), float64(a.Energy+a.Heat+b.Energy+b.Heat), 1e-8*float64(run.Energy))
		}
	})
}

func FuzzTrip(f *testing.F) {
	f.Add(byte(0), 900.0, 10.5)
	f.Add(byte(1), 20000.0, 20.0)
	names := []string{"lead 12 V", "lithium 51.2 V", "two points"}
	models := voltageModels(f)
	f.Fuzz(func(t *testing.T, which byte, p, cut float64) {
		m := models[names[int(which)%3]]
		trip, err := m.TripAtPower(unit.Power(p), unit.Voltage(cut))
		if err != nil {
			return
		}
		require.True(t, trip.Below >= 0 && trip.Below <= 1, "%+v", trip)
		holds := func(s float64) bool {
			x, err := m.VoltageAtPower(min(max(s, 0), 1), unit.Power(p))
			return err == nil && float64(x.Voltage) >= cut
		}
		require.Equal(t, trip.Never, trip.By == 0)
		switch {
		case trip.Never:
			require.True(t, holds(0) && trip.Below == 0)
		case trip.Always:
			require.True(t, !holds(1) && trip.Below == 1)
		default:
			if trip.Below < 1-1e-7 {
				require.True(t, holds(trip.Below+1e-7), "%+v", trip)
			}
			if trip.Below > 1e-7 {
				require.False(t, holds(trip.Below-1e-7), "%+v", trip)
			}
		}
	})
}
