package motor

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// catalogueOf is what a data sheet would say of a circuit at an output.
func catalogueOf(t testing.TB, kind Type, c Circuit, output unit.Power) Catalogue {
	t.Helper()
	var rated Point
	var err error
	f := c.frame()
	v := unit.Voltage(f.voltage)
	cat := Catalogue{Type: kind, Output: output, Voltage: v, Frequency: unit.Frequency(f.frequency)}
	switch c := c.(type) {
	case SinglePhaseCircuit:
		rated, err = c.AtOutput(output, v)
		cat.Poles, cat.ReactanceRatio = c.Poles, float64(c.X1/c.X2)
		if kind == PermanentSplit {
			cat.Run = c.Auxiliary.Run
		}
	case ThreePhaseCircuit:
		rated, err = c.AtOutput(output, v)
		cat.Poles, cat.ReactanceRatio = c.Poles, float64(c.X1/c.X2)
	}
	require.NoError(t, err)
	held, err := c.Starting(1, v)
	require.NoError(t, err)
	most, err := c.Breakdown(v)
	require.NoError(t, err)
	torque := float64(output) / float64(rated.Speed)
	cat.FullLoadCurrent, cat.PowerFactor, cat.Efficiency, cat.FullLoadSpeed = rated.Current, rated.PowerFactor, rated.Efficiency, rated.Speed
	cat.LockedRotorCurrent, cat.LockedRotorPowerFactor = held.Current, held.PowerFactor
	cat.StartingTorque, cat.BreakdownTorque = float64(held.Torque)/torque, float64(most.Torque)/torque
	return cat
}

// exact are the tolerances of figures that come from a circuit.
func exact() Tolerances {
	const t = 1e-4
	return Tolerances{t, t, t, t, t, t, t, t}
}

// published are the machines of a file, each once, at the output of its example.
func published(t testing.TB, file string, three bool) (ids []string, circuits []Circuit, outputs []unit.Power) {
	t.Helper()
	for _, row := range reftest.Rows(t, file) {
		id := row.Text("id")
		if len(id) > 3 || !row.HasParam("s") || row.HasParam("V1") || len(ids) > 0 && ids[len(ids)-1] == id {
			continue
		}
		var c Circuit
		if three {
			c = threeOf(row)
		} else {
			c = singleOf(row)
		}
		p, err := c.Running(row.Param("s", "1"), unit.Voltage(c.frame().voltage))
		require.NoError(t, err)
		ids, circuits, outputs = append(ids, id), append(circuits, c), append(outputs, p.Output)
	}
	return ids, circuits, outputs
}

// A fit to a machine's own figures finds its parameters, in wye, and its
// behaviour; not told which figures are exact it finds the latter alone.
func TestFitRecoversThreePhase(t *testing.T) {
	ids, circuits, outputs := published(t, "motor/circuit_three.csv", true)
	require.Equal(t, []string{"TP1", "TP2", "TP3", "TP4", "TP5", "TP6", "TP7"}, ids)
	for i, circuit := range circuits {
		c, ok := circuit.(ThreePhaseCircuit)
		require.True(t, ok)
		cat := catalogueOf(t, ThreePhase, c, outputs[i])
		_, fit, err := cat.FitThreePhase()
		require.NoError(t, err, ids[i])
		// A core loss in the line (TP3, TP5) becomes one at the shaft.
		limit := 0.005
		if c.Rc != 0 {
			limit = 0.15
		}
		assert.Less(t, fit.Worst.over(), limit, ids[i])
		assert.Zero(t, fit.Undecided)

		cat.Tolerance = exact()
		got, fit, err := cat.FitThreePhase()
		if c.Rc != 0 {
			require.ErrorAs(t, err, new(*MisfitError))
			continue
		}
		require.NoError(t, err, ids[i])
		assert.Less(t, math.Abs(fit.Worst.Relative), 1e-6, ids[i])
		want := c
		if c.Delta {
			want = c.scaled(1. / 3)
		}
		for _, pair := range [][2]unit.Resistance{
			{want.R1, got.R1}, {want.X1, got.X1}, {want.R2, got.R2}, {want.X2, got.X2}, {want.Xm, got.Xm}, {fit.StandstillRotor, got.R2},
		} {
			assert.InEpsilon(t, float64(pair[0]), float64(pair[1]), 1e-3, ids[i])
		}
		assert.InEpsilon(t, float64(want.RotationalLoss), float64(got.RotationalLoss), 0.01, ids[i])
	}
}

func TestFitRecoversMainWinding(t *testing.T) {
	ids, circuits, outputs := published(t, "motor/circuit_single.csv", false)
	require.Equal(t, []string{"SP1", "SP2", "SP3", "SP4", "SP5", "SP6", "SP7", "SP8", "SP9"}, ids)
	for i, circuit := range circuits {
		c, ok := circuit.(SinglePhaseCircuit)
		require.True(t, ok)
		cat := catalogueOf(t, UnknownType, c, outputs[i])
		cat.Tolerance = exact()
		got, fit, err := cat.FitSinglePhase()
		require.NoError(t, err, ids[i])
		if c.RotationalLoss == 0 { // SP7: the fit knows no motor without
			assert.Less(t, math.Abs(fit.Worst.Relative), 2e-4, ids[i])
			continue
		}
		assert.Less(t, math.Abs(fit.Worst.Relative), 1e-6, ids[i])
		for _, pair := range [][2]unit.Resistance{{c.R1, got.R1}, {c.X1, got.X1}, {c.R2, got.R2}, {c.X2, got.X2}, {c.Xm, got.Xm}} {
			assert.InEpsilon(t, float64(pair[0]), float64(pair[1]), 1e-3, ids[i])
		}
		assert.InEpsilon(t, float64(c.RotationalLoss), float64(got.RotationalLoss), 0.01, ids[i])
	}
}

// permanentSplits are the two published motors of that type.
func permanentSplits(t testing.TB) (circuits []SinglePhaseCircuit, outputs []unit.Power) {
	t.Helper()
	tt, ok := t.(*testing.T)
	require.True(t, ok)
	seen := ""
	for _, row := range reftest.Rows(t, "motor/circuit_two_winding.csv") {
		if id := row.Text("id"); (id == "PSC1" || id == "PSC2") && id != seen {
			seen = id
			c, slip := twoWinding(tt, row)
			p, err := c.Running(slip, c.Voltage)
			require.NoError(t, err)
			circuits, outputs = append(circuits, c), append(outputs, p.Output)
		}
	}
	return circuits, outputs
}

func TestFitRecoversTwoWindings(t *testing.T) {
	quarter := quarterHorse(reactance(3, 14.5))
	quarter.RotationalLoss = 37
	split := quarterHorse(Branch{})
	split.RotationalLoss = 37
	both := quarterHorse(reactance(3, 14.5))
	both.RotationalLoss, both.Auxiliary.Run = 37, reactance(9, 172)
	psc, outputs := permanentSplits(t)
	require.Len(t, psc, 2)
	for name, tt := range map[string]struct {
		kind   Type
		c      SinglePhaseCircuit
		output unit.Power
		limit  float64 // in tolerances
		main   float64 // of the main winding's parameters
	}{
		"capacitor-start":        {CapacitorStart, quarter, 0.25 * Horsepower, 0.01, 0.1},
		"split-phase":            {SplitPhase, split, 0.25 * Horsepower, 0.05, 0.05},
		"capacitor-start/run":    {CapacitorStartRun, both, 0.25 * Horsepower, 0.05, 0.15},
		"permanent-split 3.5 kW": {PermanentSplit, psc[0], outputs[0], 0.2, 0.15}, // core loss in the line
		"permanent-split 1/5 hp": {PermanentSplit, psc[1], outputs[1], 0.05, 0.15},
	} {
		cat := catalogueOf(t, tt.kind, tt.c, tt.output)
		got, fit, err := cat.FitSinglePhase()
		require.NoError(t, err, name)
		t.Logf("%s: worst %s %+.3f %%, undecided %d", name, fit.Worst.Figure, 100*fit.Worst.Relative, fit.Undecided)
		assert.Less(t, fit.Worst.over(), tt.limit, name)
		for _, pair := range [][2]unit.Resistance{{tt.c.R1, got.R1}, {tt.c.X1 + tt.c.X2, got.X1 + got.X2}, {tt.c.R2, got.R2}, {tt.c.Xm, got.Xm}} {
			assert.InEpsilon(t, float64(pair[0]), float64(pair[1]), tt.main, name)
		}
	}
}

func TestFitFollowsDataSheets(t *testing.T) {
	for i, row := range reftest.Rows(t, "motor/iec_small_2pole.csv") {
		speed := 2840 * RPM // of the same sheet, which the file leaves out
		if i < 6 {
			speed = 2800 * RPM
		}
		amperes := row.Float("i_400v_a")
		cat := Catalogue{
			Type: ThreePhase, Output: unit.Power(1000 * row.Float("p_kw")), Voltage: 400, Frequency: 50, Poles: 2,
			FullLoadCurrent: unit.Current(amperes), PowerFactor: row.Float("power_factor"), Efficiency: row.Float("efficiency_pct") / 100,
			FullLoadSpeed: speed, LockedRotorCurrent: unit.Current(amperes * row.Float("start_current_ratio")),
		}
		c, fit, err := cat.FitThreePhase()
		require.NoError(t, err, row.Source())
		require.NoError(t, c.Validate())
		assert.LessOrEqual(t, fit.Worst.over(), 1.0, row.Source())
		assert.Len(t, fit.Residuals, 5)
		// The ratio of torques that the sheet gives, breakdown or starting, is
		// 2.1 to 2.3; a linear circuit has more, for it does not saturate.
		most, err := c.Breakdown(c.Voltage)
		require.NoError(t, err)
		assert.InDelta(t, 3.4, float64(most.Torque)/float64(cat.Output)*float64(cat.FullLoadSpeed), 1.3, row.Source())
	}
}

// designB is a 10 hp motor as of a catalogue, with the starting torque of its
// deep bars.
func designB() Catalogue {
	return Catalogue{
		Type: ThreePhase, Output: 10 * Horsepower, Voltage: 230, Frequency: 60, Poles: 4,
		FullLoadCurrent: 26, PowerFactor: 0.83, Efficiency: 0.895, FullLoadSpeed: 1750 * RPM,
		LockedRotorCurrent: 162, StartingTorque: 1.65, BreakdownTorque: 2.6,
	}
}

func TestFitDeepBar(t *testing.T) {
	cat := designB()
	cat.StartingTorque = 2.2
	single, fit, err := cat.FitThreePhase()
	require.NoError(t, err)
	residual := func(f Fit, want Figure) float64 {
		for _, r := range f.Residuals {
			if r.Figure == want {
				return r.Relative
			}
		}
		t.Fatal("no residual of", want)
		return 0
	}
	assert.Less(t, residual(fit, FigureStartingTorque), -0.15, "one cage falls short")
	assert.Greater(t, residual(fit, FigureSlip), 0.05, "and has more slip")
	assert.InDelta(t, float64(single.R2), float64(fit.StandstillRotor), 0)

	cat.DeepBar = true
	deep, both, err := cat.FitThreePhase()
	require.NoError(t, err)
	assert.Less(t, math.Abs(residual(both, FigureStartingTorque)), 0.1)
	assert.Less(t, math.Abs(residual(both, FigureSlip)), 0.05)
	assert.Greater(t, float64(both.StandstillRotor/deep.R2), 1.2)
	assert.Less(t, both.Worst.over(), fit.Worst.over())
}

func TestFitOfFewFigures(t *testing.T) {
	plate := Catalogue{
		Type: CapacitorStart, Output: Horsepower / 2, Voltage: 115, Frequency: 60, Poles: 4,
		FullLoadCurrent: 8.6, FullLoadSpeed: 1725 * RPM, LockedRotorCurrent: 41,
	}
	c, fit, err := plate.FitSinglePhase()
	require.NoError(t, err)
	assert.Equal(t, 5, fit.Undecided)
	assert.Less(t, fit.Worst.over(), 0.1)
	require.Len(t, fit.Residuals, 3)
	held, err := c.Starting(1, 115)
	require.NoError(t, err)
	assert.InEpsilon(t, 41, float64(held.Current), 0.01)
	assert.Equal(t, FigureLockedRotorCurrent, fit.Residuals[2].Figure)

	for name, take := range map[string]func(c *Catalogue){
		"full-load current, or":                func(c *Catalogue) { c.FullLoadCurrent, c.PowerFactor = 0, 0.6 },
		"locked-rotor current or":              func(c *Catalogue) { c.LockedRotorCurrent = 0 },
		"full-load speed, starting torque":     func(c *Catalogue) { c.FullLoadSpeed = 0 },
		"full-load current, or power factor a": func(c *Catalogue) { c.FullLoadCurrent, c.Efficiency = 0, 0.6 },
	} {
		p := plate
		take(&p)
		_, _, err := p.FitSinglePhase()
		require.ErrorIs(t, err, ErrMissing, name)
		assert.Contains(t, err.Error(), name)
	}
	_, _, err = Catalogue{}.FitThreePhase()
	require.ErrorIs(t, err, ErrDomain)
}

func TestFitRefuses(t *testing.T) {
	var contradicts *ContradictionError
	for name, spoil := range map[string]func(c *Catalogue){
		"current too small":     func(c *Catalogue) { c.FullLoadCurrent = 18 },
		"of half the voltage":   func(c *Catalogue) { c.FullLoadCurrent = 52 },
		"efficiency and slip":   func(c *Catalogue) { c.FullLoadSpeed, c.Efficiency, c.PowerFactor = 1500*RPM, 0.88, 0.85 },
		"held below full load":  func(c *Catalogue) { c.LockedRotorCurrent, c.StartingTorque = 20, 0 },
		"torque above the line": func(c *Catalogue) { c.LockedRotorPowerFactor, c.StartingTorque = 0.15, 1.65 },
	} {
		c := designB()
		spoil(&c)
		_, _, err := c.FitThreePhase()
		require.ErrorAs(t, err, &contradicts, name)
		require.ErrorIs(t, err, ErrDomain)
	}
	c := designB()
	c.BreakdownTorque, c.LockedRotorCurrent = 1.1, 250
	circuit, fit, err := c.FitThreePhase()
	var misfit *MisfitError
	require.ErrorAs(t, err, &misfit)
	require.ErrorIs(t, err, ErrDomain)
	assert.NotEmpty(t, misfit.Error())
	assert.Equal(t, fit.Worst, misfit.Worst)
	assert.Greater(t, fit.Worst.over(), 3.0)
	require.NoError(t, circuit.Validate(), "the best circuit is there to look at")

	_, _, err = designB().FitSinglePhase()
	require.ErrorIs(t, err, ErrDomain)
	single := designB()
	single.Type, single.FullLoadCurrent, single.LockedRotorCurrent = CapacitorStart, 45, 280
	_, _, err = single.FitThreePhase()
	require.ErrorIs(t, err, ErrDomain)
}

func TestCatalogueBounds(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	base := designB()
	base.LockedRotorPowerFactor = 0.5
	require.NoError(t, base.Validate())
	ns := 1800 * float64(RPM)
	for name, tt := range map[string]struct {
		set       func(c *Catalogue, x float64)
		good, bad []float64
	}{
		"output":          {func(c *Catalogue, x float64) { c.Output = unit.Power(x) }, []float64{6700}, []float64{0, 37, 4e5, nan, inf}},
		"voltage":         {func(c *Catalogue, x float64) { c.Voltage = unit.Voltage(x) }, []float64{229}, []float64{0, 9, 15001, nan}},
		"frequency":       {func(c *Catalogue, x float64) { c.Frequency = unit.Frequency(x) }, []float64{59.5}, []float64{0, 9, 401, nan}},
		"poles":           {func(c *Catalogue, x float64) { c.Poles = int(x) }, []float64{4}, []float64{0, 3, 26}},
		"current":         {func(c *Catalogue, x float64) { c.FullLoadCurrent = unit.Current(x) }, []float64{0, 25}, []float64{0.049, 20001, nan}},
		"power factor":    {func(c *Catalogue, x float64) { c.PowerFactor = x }, []float64{0, 0.8}, []float64{0.09, 1.01, 83, nan}},
		"efficiency":      {func(c *Catalogue, x float64) { c.Efficiency = x }, []float64{0, 0.9}, []float64{0.04, 0.995, 90, nan}},
		"speed":           {func(c *Catalogue, x float64) { c.FullLoadSpeed = Speed(x) }, []float64{0, 0.96 * ns, 0.9995 * ns}, []float64{0.59 * ns, ns, 1750, nan}},
		"held":            {func(c *Catalogue, x float64) { c.LockedRotorCurrent = unit.Current(x) }, []float64{0, 160}, []float64{-1, 20001, nan}},
		"held pf":         {func(c *Catalogue, x float64) { c.LockedRotorPowerFactor = x }, []float64{0, 0.4, 1}, []float64{0.09, 1.01, nan}},
		"starting torque": {func(c *Catalogue, x float64) { c.StartingTorque = x }, []float64{0, 0.05, 2}, []float64{0.04, 8.1, nan}},
		"breakdown":       {func(c *Catalogue, x float64) { c.BreakdownTorque = x }, []float64{0, 1.05, 8}, []float64{1.04, 8.1, nan}},
		"ratio":           {func(c *Catalogue, x float64) { c.ReactanceRatio = x }, []float64{0, 0.1, 10}, []float64{0.09, 10.1, nan}},
		"tolerance":       {func(c *Catalogue, x float64) { c.Tolerance.Slip = x }, []float64{0, 1e-6, 1}, []float64{1e-7, 1.1, -0.1, nan}},
		"type":            {func(c *Catalogue, x float64) { c.Type = Type(x) }, []float64{float64(ThreePhase)}, []float64{float64(ShadedPole), 9}},
		"start": {
			func(c *Catalogue, x float64) { c.Start.Capacitance = unit.Capacitance(x) },
			[]float64{0},
			[]float64{1e-4, nan},
		},
		"run": {func(c *Catalogue, x float64) { c.Run.Capacitance = unit.Capacitance(x) }, []float64{0}, []float64{1e-5, nan}},
	} {
		for _, x := range tt.good {
			c := base
			tt.set(&c, x)
			require.NoError(t, c.Validate(), "%s %g", name, x)
		}
		for _, x := range tt.bad {
			c := base
			tt.set(&c, x)
			require.ErrorIs(t, c.Validate(), ErrDomain, "%s %g", name, x)
			_, _, err := c.FitThreePhase()
			require.ErrorIs(t, err, ErrDomain)
		}
	}
	assert.Equal(t, "breakdown torque", FigureBreakdownTorque.String())
	assert.Equal(t, "unknown", Figure(99).String())
}

func TestFitResidualsAllocateNothing(t *testing.T) {
	for _, kind := range []Type{ThreePhase, UnknownType, CapacitorStart, PermanentSplit} {
		c := designB()
		c.Type = kind
		f := c.fitting()
		x := make([]float64, len(f.free))
		assert.Zero(t, testing.AllocsPerRun(10, func() { f.evaluate(x, f.residuals) }), kind)
	}
}

// A machine of another size, make and load is found again by its figures.
func FuzzFitBehaviour(f *testing.F) {
	f.Add(uint8(0), 1.0, 1.0, 1.0, 1.0, 1.0)
	f.Add(uint8(1), 0.7, 1.3, 0.8, 1.2, 0.6)
	f.Add(uint8(2), 1.2, 0.8, 1.4, 0.9, 1.0)
	f.Add(uint8(3), 0.8, 1.1, 1.1, 0.8, 1.1)
	kinds := [...]Type{ThreePhase, UnknownType, SplitPhase, CapacitorStart}
	f.Fuzz(func(t *testing.T, k uint8, r1, x, r2, xm, load float64) {
		for _, v := range []float64{r1, x, r2, xm, load} {
			if !within(v, 0.6, 1.6) {
				t.Skip()
			}
		}
		kind := kinds[int(k)%len(kinds)]
		u := kind.parts(Horsepower)
		u[unitR1] *= r1
		u[unitX1] *= x
		u[unitX2] = u[unitX1]
		u[unitXa] = u[unitTurns] * u[unitTurns] * u[unitX1]
		u[unitR2] *= r2
		u[unitXm] *= xm
		output := unit.Power(load) * Horsepower
		var c Circuit = u.single(kind, Horsepower, 230, 60, 4)
		if kind == ThreePhase {
			c = u.three(Horsepower, 230, 60, 4)
		}
		most, err := c.Breakdown(230)
		require.NoError(t, err)
		if float64(most.Torque) < 1.7*float64(output)/synchronous(60, 4) {
			t.Skip() // overloaded
		}
		cat := catalogueOf(t, kind, c, output)
		if cat.StartingTorque < leastTorqueRatio {
			cat.StartingTorque = 0
		}
		if cat.Validate() != nil {
			t.Skip()
		}
		var fit Fit
		if kind == ThreePhase {
			_, fit, err = cat.FitThreePhase()
		} else {
			_, fit, err = cat.FitSinglePhase()
		}
		require.NoError(t, err)
		assert.Less(t, fit.Worst.over(), 0.15)
		assert.InEpsilon(t, float64(output), float64(fit.Rated.Output), 1e-9)
	})
}

// A resistor or capacitor that is given stands in the circuit as it is.
func TestFitKeepsBranches(t *testing.T) {
	for kind, b := range map[Type]Branch{
		SplitPhase:     {Resistance: 2},
		CapacitorStart: {Resistance: 0.3, Capacitance: 300e-6},
	} {
		c, _, err := Catalogue{
			Type: kind, Output: Horsepower / 2, Voltage: 115, Frequency: 60, Poles: 4,
			FullLoadCurrent: 8, FullLoadSpeed: 1725 * RPM, LockedRotorCurrent: 41, Start: b,
		}.FitSinglePhase()
		require.NoError(t, err, kind)
		assert.InDelta(t, float64(b.Resistance), float64(c.Auxiliary.Start.Resistance), 1e-9)
		assert.InDelta(t, float64(b.Capacitance), float64(c.Auxiliary.Start.Capacitance), 1e-12)
	}
}

// Whatever a catalogue says, there is a circuit or a reason.
func FuzzFitAnything(f *testing.F) {
	f.Add(uint8(6), 7457.0, 230.0, 26.0, 0.83, 0.895, 0.97, 162.0, 0.0, 1.65, 2.6, false)
	f.Add(uint8(2), 373.0, 115.0, 8.6, 0.0, 0.0, 0.95, 41.0, 0.0, 0.0, 0.0, true)
	f.Add(uint8(4), 373.0, 115.0, 3.9, 0.9, 0.9, 0.99, 500.0, 1.0, 7.0, 1.1, false)
	f.Add(uint8(3), 40.0, 400.0, 0.0, 1.0, 0.99, 0.6, 0.1, 0.1, 0.05, 8.0, true)
	f.Add(uint8(0), 3.7e5, 10.0, 0.0, 0.1, 0.05, 0.9995, 20000.0, 0.1, 0.0, 0.0, true)
	f.Fuzz(func(t *testing.T, kind uint8, p, v, i, pf, eff, speed, lr, lrpf, start, most float64, deep bool) {
		c := Catalogue{
			Type: Type(kind % 8), Output: unit.Power(p), Voltage: unit.Voltage(v), Frequency: 60, Poles: 4,
			FullLoadCurrent: unit.Current(i), PowerFactor: pf, Efficiency: eff, FullLoadSpeed: Speed(speed * synchronous(60, 4)),
			LockedRotorCurrent: unit.Current(lr), LockedRotorPowerFactor: lrpf, StartingTorque: start, BreakdownTorque: most, DeepBar: deep,
		}
		check := func(circuit Circuit, fit Fit, err error) {
			var misfit *MisfitError
			if err != nil && !errors.As(err, &misfit) {
				var stall *StallError
				assert.True(t, errors.Is(err, ErrDomain) || errors.Is(err, ErrMissing) || errors.As(err, &stall), err)
				return
			}
			require.NoError(t, circuit.Validate())
			for _, r := range fit.Residuals {
				assert.False(t, math.IsNaN(r.Got) || math.IsInf(r.Got, 0), r)
			}
		}
		single, fit, err := c.FitSinglePhase()
		check(single, fit, err)
		three, fit, err := c.FitThreePhase()
		check(three, fit, err)
	})
}
