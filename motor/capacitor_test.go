package motor

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// lockedWindings reads a row's inputs Zm, Za and f.
func lockedWindings(t *testing.T, row reftest.Row) LockedWindings {
	t.Helper()
	return LockedWindings{
		Main: ohms(t, row.ParamText("Zm")), Auxiliary: ohms(t, row.ParamText("Za")),
		Frequency: unit.Frequency(row.Param("f", "Hz")),
	}
}

var capacitorRules = map[string]CapacitorRule{
	"quadrature": Quadrature, "most torque": MostTorque, "most torque per ampere": MostTorquePerAmpere,
}

func microfarads(t *testing.T, w LockedWindings, rule CapacitorRule) float64 {
	t.Helper()
	c, err := w.StartCapacitor(rule, 120)
	require.NoError(t, err)
	require.Equal(t, PartNeeded, c.Missing)
	require.Equal(t, rule, c.Rule)
	return 1e6 * float64(c.Capacitance)
}

// alsoComputed holds got against the same figure to more digits.
func alsoComputed(t *testing.T, row reftest.Row, got float64) {
	t.Helper()
	if row.Has("computed") {
		assert.InEpsilon(t, row.Float("computed"), got, 1e-9, row.Source())
	}
}

func TestCapacitorSizing(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/capacitor_sizing.csv") {
		w := lockedWindings(t, row)
		var got float64
		switch quantity := row.Text("quantity"); quantity {
		case "quadrature below most torque":
			row.Printed("expected", 100*(1-microfarads(t, w, Quadrature)/microfarads(t, w, MostTorque)))
			continue
		case "resistor for an angle":
			r, err := w.AngleResistor(unit.Angle(row.Param("alpha", "deg") * math.Pi / 180))
			require.NoError(t, err)
			got = float64(r.External)
		case "resistor for most torque, total", "resistor for most torque, external":
			r, err := w.MostTorqueResistor()
			require.NoError(t, err)
			assert.InDelta(t, float64(r.Total), float64(r.External)+real(w.Auxiliary), 1e-12)
			got = float64(r.External)
			if quantity == "resistor for most torque, total" {
				got = float64(r.Total)
			}
		default:
			rule, ok := capacitorRules[quantity]
			require.True(t, ok, row.Source())
			got = microfarads(t, w, rule)
		}
		row.Expected(got)
		alsoComputed(t, row, got)
		if row.Has("wrong") {
			row.Rejects("wrong", got, 0.05)
		}
	}
}

// lockedMachines are the windings of the file and one of each odd kind.
func lockedMachines(t *testing.T) []LockedWindings {
	t.Helper()
	ms := []LockedWindings{
		{Main: 4 + 3.5i, Auxiliary: 5 - 2i, Frequency: 50},          // a capacitor stays in
		{Main: 0.05 + 8i, Auxiliary: 0.02 + 3i, Frequency: 60},      // hardly any resistance
		{Main: 20 + 0.05i, Auxiliary: 900 + 100i, Frequency: 60},    // hardly any reactance
		{Main: 0.5 + 0.9i, Auxiliary: 0.4 + 40i, Frequency: 400},    // hardly any torque
		{Main: 1500 + 4000i, Auxiliary: 3e3 + 6000i, Frequency: 50}, // a thousandth of the size
	}
	seen := map[LockedWindings]bool{}
	for _, row := range reftest.Rows(t, "motor/capacitor_sizing.csv") {
		if w := lockedWindings(t, row); !seen[w] {
			seen[w] = true
			ms = append(ms, w)
		}
	}
	return ms
}

// seek returns where f is greatest, by a search over the logarithm from the
// best of a coarse grid.
func seek(t *testing.T, lo, hi float64, f func(float64) float64) float64 {
	t.Helper()
	best := math.Log(lo)
	for k := range 401 {
		if u := math.Log(lo) + float64(k)/400*math.Log(hi/lo); f(math.Exp(u)) > f(math.Exp(best)) {
			best = u
		}
	}
	scale := f(math.Exp(best))
	result, err := optimize.Minimize(
		optimize.Problem{Func: func(u []float64) float64 { return -f(math.Exp(u[0])) / math.Abs(scale) }},
		[]float64{best}, &optimize.Settings{Converger: &optimize.FunctionConverge{Absolute: 1e-15, Iterations: 60}},
		&optimize.NelderMead{SimplexSize: 0.01},
	)
	require.NoError(t, err)
	return math.Exp(result.X[0])
}

// index computes the torque index and the line current of a series reactance
// and resistance without the library.
func index(w LockedWindings, r, xc float64) (torque, line float64) {
	im := 120 / w.Main
	ia := 120 / (w.Auxiliary + complex(r, -xc))
	alpha := cmplx.Phase(ia) - cmplx.Phase(im)
	return cmplx.Abs(im) * cmplx.Abs(ia) * math.Sin(alpha), cmplx.Abs(im + ia)
}

// Each rule holds where a numeric search looks for it: a search along a flat
// top finds the place only to the root of the precision of its value.
func TestRulesAreOptima(t *testing.T) {
	for _, w := range lockedMachines(t) {
		z := cmplx.Abs(w.Auxiliary)
		torque := func(xc float64) float64 { y, _ := index(w, 0, xc); return y }
		perAmpere := func(xc float64) float64 { y, i := index(w, 0, xc); return y / i }
		for rule, f := range map[CapacitorRule]func(float64) float64{MostTorque: torque, MostTorquePerAmpere: perAmpere} {
			c, err := w.StartCapacitor(rule, 120)
			require.NoError(t, err)
			require.Equal(t, PartNeeded, c.Missing, w)
			x := float64(c.Reactance)
			found := seek(t, z/1e4, z*1e4, f)
			assert.GreaterOrEqual(t, f(x), f(found)*(1-1e-9), "%v %v", w, rule)
			if ra := real(w.Auxiliary); rule == MostTorquePerAmpere && imag(w.Main)*imag(w.Main) > 4*ra*(ra+real(w.Main)) {
				// Two are as good as each other: the line current stands at
				// right angles to the main one.
				assert.InEpsilon(t, 120/cmplx.Abs(w.Main), f(x), 1e-9, w)
				_, i := index(w, 0, x)
				_, other := index(w, 0, found)
				assert.LessOrEqual(t, i, other*(1+1e-4), w)
			} else {
				assert.InEpsilon(t, found, x, 1e-4, "%v %v", w, rule)
			}
			for _, d := range []float64{0.999, 1.001, 0.9, 1.1} {
				assert.GreaterOrEqual(t, f(x), f(x*d)*(1-1e-12), "%v %v", w, rule)
			}
		}
		c, err := w.StartCapacitor(Quadrature, 120)
		require.NoError(t, err)
		s, err := w.Standstill(120, StartCircuit{Capacitance: c.Capacitance})
		if w.good() && err == nil {
			assert.InDelta(t, math.Pi/2, float64(s.Angle), 1e-9)
		}
		if imag(w.Auxiliary) < 0 {
			_, err := w.MostTorqueResistor()
			assert.ErrorIs(t, err, ErrDomain)
			continue
		}
		r, err := w.MostTorqueResistor()
		require.NoError(t, err)
		split := func(total float64) float64 { y, _ := index(w, total-real(w.Auxiliary), 0); return y }
		assert.InEpsilon(t, seek(t, z/1e4, z*1e4, split), float64(r.Total), 1e-4, w)
	}
}

// Of the three, the rule of the greatest torque asks for the largest
// capacitor; and each gives the most of what it promises.
func TestRulesRank(t *testing.T) {
	for _, w := range lockedMachines(t) {
		assert.Greater(t, microfarads(t, w, MostTorque), microfarads(t, w, Quadrature), w)
		assert.Greater(t, microfarads(t, w, MostTorque), microfarads(t, w, MostTorquePerAmpere), w)
	}
}

func TestCapacitorVoltage(t *testing.T) {
	for _, w := range lockedMachines(t) {
		for _, rule := range capacitorRules {
			c, err := w.StartCapacitor(rule, 230)
			require.NoError(t, err)
			// The drops around the auxiliary circuit close on the line voltage.
			i := 230 / (w.Auxiliary - complex(0, float64(c.Reactance)))
			assert.InEpsilon(t, cmplx.Abs(i)*float64(c.Reactance), float64(c.Voltage), 1e-12)
			assert.InEpsilon(t, 1/float64(c.Reactance), 2*math.Pi*float64(w.Frequency)*float64(c.Capacitance), 1e-12)
		}
	}
}

// An auxiliary winding that is capacitive by itself can want no more.
func TestNoCapacitorNeeded(t *testing.T) {
	w := LockedWindings{Main: 3 + 4i, Auxiliary: 4 - 20i, Frequency: 60}
	for _, rule := range capacitorRules {
		c, err := w.StartCapacitor(rule, 120)
		require.NoError(t, err)
		assert.Equal(t, EnoughCapacitive, c.Missing)
		assert.Negative(t, float64(c.Reactance))
		assert.Zero(t, c.Capacitance)
		assert.Zero(t, c.Voltage)
	}
	// At quadrature Xc = −3 + 4·3/4 = 0, and a little more on one side of it.
	for x, missing := range map[float64]NoPart{-3: EnoughCapacitive, -2.98: EnoughCapacitive, -2.97: PartNeeded} {
		w.Auxiliary = complex(4, x)
		c, err := w.StartCapacitor(Quadrature, 120)
		require.NoError(t, err)
		assert.Equal(t, missing, c.Missing, x)
	}
}

func TestSplitResistorReasons(t *testing.T) {
	w := LockedWindings{Main: 2 + 3.5i, Auxiliary: 9.15 + 8.4i, Frequency: 60}
	phase := cmplx.Phase(w.Main)
	for angle, missing := range map[float64]NoPart{
		0.1: EnoughResistive, 0.30: EnoughResistive, 0.31: PartNeeded, 0.99: PartNeeded,
		phase - 1e-9: OutOfReach, phase: OutOfReach, 1.2: OutOfReach, math.Pi / 2: OutOfReach,
	} {
		r, err := w.AngleResistor(unit.Angle(angle))
		require.NoError(t, err)
		assert.Equal(t, missing, r.Missing, angle)
		assert.Equal(t, missing == PartNeeded, r.External > 0)
		assert.Equal(t, missing == OutOfReach, r.Total == 0)
	}
	w.Auxiliary = 90 + 8.4i
	r, err := w.MostTorqueResistor()
	require.NoError(t, err)
	assert.Equal(t, EnoughResistive, r.Missing)
	assert.Zero(t, r.External)
	assert.Positive(t, float64(r.Total))
	for _, angle := range append([]float64{0, 30, 0.0009, 1.571}, bad...) {
		_, err := w.AngleResistor(unit.Angle(angle))
		assert.ErrorIs(t, err, ErrDomain, angle)
	}
	_, err = LockedWindings{}.AngleResistor(0.5)
	assert.ErrorIs(t, err, ErrDomain)
}

func TestWindingBounds(t *testing.T) {
	good := LockedWindings{Main: 2 + 3.5i, Auxiliary: 9.15 + 8.4i, Frequency: 60}
	set := map[string]func(*LockedWindings, float64){
		"main resistance":     func(w *LockedWindings, x float64) { w.Main = complex(x, 3.5) },
		"main reactance":      func(w *LockedWindings, x float64) { w.Main = complex(2, x) },
		"auxiliary":           func(w *LockedWindings, x float64) { w.Auxiliary = complex(x, 8.4) },
		"frequency":           func(w *LockedWindings, x float64) { w.Frequency = unit.Frequency(x) },
		"auxiliary reactance": func(w *LockedWindings, x float64) { w.Auxiliary = complex(9.15, x) },
	}
	for name, ends := range map[string][2]float64{
		"main resistance": {0.01, 1e4}, "main reactance": {0.01, 1e4}, "auxiliary": {0.01, 1e4}, "frequency": {10, 400},
		"auxiliary reactance": {-1e4, 1e4},
	} {
		for k, x := range ends {
			w := good
			set[name](&w, x)
			require.NoError(t, w.Validate(), name)
			_, err := w.StartCapacitor(MostTorque, 230)
			require.NoError(t, err, name)
			for _, y := range append([]float64{math.Nextafter(x, math.Inf(2*k-1))}, math.NaN(), math.Inf(1), math.Inf(-1)) {
				set[name](&w, y)
				require.ErrorIs(t, w.Validate(), ErrDomain, "%s %v", name, y)
				_, err := w.StartCapacitor(MostTorque, 230)
				require.ErrorIs(t, err, ErrDomain, "%s %v", name, y)
				_, err = w.Standstill(230, StartCircuit{})
				require.ErrorIs(t, err, ErrDomain, "%s %v", name, y)
			}
		}
	}
	for _, rule := range []CapacitorRule{0, 4, 255} {
		_, err := good.StartCapacitor(rule, 230)
		assert.ErrorContains(t, err, "want quadrature, most torque or most torque per ampere")
	}
	for _, v := range append([]float64{0, 9.9, 15001}, bad...) {
		_, err := good.StartCapacitor(Quadrature, unit.Voltage(v))
		assert.ErrorIs(t, err, ErrDomain, v)
	}
	var zero LockedWindings
	assert.ErrorIs(t, zero.Validate(), ErrDomain)
}

func TestRuleNames(t *testing.T) {
	for name, rule := range capacitorRules {
		assert.Equal(t, name, rule.String())
	}
	assert.Equal(t, "unknown", CapacitorRule(9).String())
	assert.Equal(t, "part needed", PartNeeded.String())
	assert.Equal(t, "current low enough", EnoughImpedance.String())
	assert.Equal(t, "unknown", NoPart(9).String())
	assert.Equal(t, "hums", Hums.String())
	assert.Equal(t, "turns backward", TurnsBackward.String())
	assert.Equal(t, "unknown", Rotation(9).String())
}

// What is sized scales with the impedances: all ohms tenfold, a tenth of the
// capacitance, the same voltage.
func FuzzStartCapacitor(f *testing.F) {
	f.Add(2.0, 3.5, 9.15, 8.4, 60.0, byte(1))
	f.Add(4.0, 3.5, 5.0, -3.0, 50.0, byte(2))
	f.Add(math.NaN(), 0.0, -1.0, math.Inf(1), 1e9, byte(3))
	f.Fuzz(func(t *testing.T, rm, xm, ra, xa, hz float64, rule byte) {
		w := LockedWindings{Main: complex(rm, xm), Auxiliary: complex(ra, xa), Frequency: unit.Frequency(hz)}
		c, err := w.StartCapacitor(CapacitorRule(rule), 230)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, finite(float64(c.Reactance)) && finite(float64(c.Capacitance)) && finite(float64(c.Voltage)))
		require.Equal(t, c.Missing == PartNeeded, c.Capacitance > 0)
		if xa >= 0 {
			require.Greater(t, float64(c.Reactance), xa, "an inductive winding always wants a capacitor")
		}
		w.Main, w.Auxiliary = w.Main*10, w.Auxiliary*10
		tenfold, err := w.StartCapacitor(CapacitorRule(rule), 230)
		if err != nil || c.Missing != PartNeeded || tenfold.Missing != PartNeeded {
			return
		}
		// Where Xa and the rest cancel, only the larger of them is precise.
		slack := 1e-12 * (1 + math.Abs(xa)/float64(c.Reactance))
		require.InEpsilon(t, float64(c.Capacitance), 10*float64(tenfold.Capacitance), slack*10)
	})
}
