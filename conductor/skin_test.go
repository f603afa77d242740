package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestSkinEffectBessel(t *testing.T) {
	const exact = "the Bessel functions have 15 digits, the fraction and the series 12"
	for _, row := range reftest.Rows(t, "conductor/skin_effect_bessel.csv") {
		x := row.Float("x")
		r, l, err := SkinEffect(x)
		require.NoError(t, err, row.Source())
		row.Within("rac_over_rdc", r, 1e-12, exact)
		row.Within("li_over_li0", l, 1e-12, exact)
		switch {
		case row.Text("printed") == "1.10":
			row.Printed("printed", r)
		case row.Has("printed"):
			row.Digits("printed", r, 1.2, "1.10053 and 3.35133 are printed rounded down to 1.1005 and 3.35")
		}
		if row.Has("iec_1_plus_ys") {
			row.Printed("iec_1_plus_ys", 1+must[float64](t)(SkinEffectIEC(x)))
		}
		if row.Has("wrong") {
			row.Rejects("wrong", r, 0.5)
		}
	}
}

func TestSkinEffect60Hz(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/skin_effect_60hz.csv") {
		for column, m := range map[string]Metal{"cu_": Copper, "al_": Aluminium} {
			// The reference has areas of print and 2 % of lay.
			rho := must[Resistivity](t)(m.Resistivity(Celsius(65)))
			area := must[Table8Row](t)(Table8(sizeOf(t, row, "size"), Stranded)).Area
			r := ResistancePerLength(1.02 * float64(rho) / float64(area))
			x := must[float64](t)(SkinParameter(r, 60))
			row.Printed(column+"x", x)
			ratio := float64(must[ResistancePerLength](t)(ACResistance(r, 60)) / r)
			row.Within(column+"printed", ratio, 0.004/row.Float(column+"printed"), "the print is met within 0.004")
			row.Printed(column+"bessel", ratio)
			row.Printed(column+"iec", 1+must[float64](t)(SkinEffectIEC(x)))
		}
	}
}

// The exact ratios against an independent series and against their limits.
func TestSkinEffectLimits(t *testing.T) {
	for x := 1e-3; x < 0.5; x *= 1.3 {
		r, l := skinEffect(x)
		assert.InDelta(t, math.Pow(x, 4)/192, r-1, math.Pow(x, 8)/1e4+1e-15)
		assert.InDelta(t, math.Pow(x, 4)/384, 1-l, math.Pow(x, 8)/1e4+1e-15)
	}
	for _, x := range []float64{0, 1e-300} {
		r, l := skinEffect(x)
		assert.InDelta(t, 1, r, 0)
		assert.InDelta(t, 1, l, 0)
	}
	// Kelvin's series, good where its terms do not cancel.
	for x := 0.1; x < 12; x += 0.37 {
		j0, j1, term0, term1 := complex(1, 0), complex(1, 0), complex(1, 0), complex(1, 0)
		y := complex(0, x*x/4)
		for k := 1.0; k < 60; k++ {
			term0 *= y / complex(k*k, 0)
			term1 *= y / complex(k*(k+1), 0)
			j0, j1 = j0+term0, j1+term1
		}
		r, l := skinEffect(x)
		assert.InEpsilon(t, real(j0/j1), r, 1e-12)
		assert.InEpsilon(t, 8/(x*x)*imag(j0/j1), l, 1e-12)
	}
	// Where the fraction gives way to the series.
	r1, l1 := skinEffect(asymptotic)
	r2, l2 := skinAsymptotic(asymptotic)
	assert.InEpsilon(t, r1, r2, 1e-12)
	assert.InEpsilon(t, l1, l2, 1e-12)
	r, l := skinEffect(maxSkinParameter)
	assert.InEpsilon(t, 1000/(2*math.Sqrt2)+0.25, r, 1e-6)
	assert.InEpsilon(t, 2*math.Sqrt2/1000, l, 1e-5)
}

// The coefficients of the asymptotic series follow from the Riccati equation of
// the quotient; the algebra holds for any x.
func TestSkinAsymptoticCoefficients(t *testing.T) {
	h := []float64{1, 0.5}
	for n := 2; n <= 6; n++ {
		sum := float64(n) * h[n-1]
		for i := 1; i < n; i++ {
			sum -= h[i] * h[n-i]
		}
		h = append(h, sum/2)
	}
	for _, x := range []float64{1, 3, 10} {
		u := complex(x/math.Sqrt2, x/math.Sqrt2)
		series, power := complex(0, 0), complex(1, 0)
		for _, c := range h {
			series += complex(c, 0) * power
			power /= u
		}
		series *= u / 2
		r, l := skinAsymptotic(x)
		assert.InEpsilon(t, real(series), r, 1e-12)
		assert.InEpsilon(t, 8/(x*x)*imag(series), l, 1e-12)
	}
}

// The approximation within what its doc comment says, and its first line alone
// out of it.
func TestSkinEffectIECAccuracy(t *testing.T) {
	for x := 0.0; x <= 100; x += 0.01 {
		ys := must[float64](t)(SkinEffectIEC(x))
		r, _ := skinEffect(x)
		most := 0.0056
		if x <= 2.8 {
			most = 0.0011
		}
		assert.InEpsilon(t, r, 1+ys, most, "x %v", x)
	}
	r, _ := skinEffect(8)
	assert.Greater(t, math.Abs(1+fourthPower(8)-r), 0.5)
}

// Eddy currents in the even field of thin neighbours: for two wires a field
// I/(2πs), for three in trefoil √1.5 of it.
func TestProximityOfThinNeighbours(t *testing.T) {
	for x := 0.1; x < 0.7; x += 0.1 {
		for _, k := range []float64{0.01, 0.05, 0.1} {
			eddy := math.Pow(x, 4) * k * k / 64
			assert.InEpsilon(t, eddy, must[float64](t)(ProximityEffectIEC(TwoCores, x, k)), 0.035)
			assert.InEpsilon(t, 1.5*eddy, must[float64](t)(ProximityEffectIEC(ThreeCores, x, k)), 0.035)
		}
	}
}

// Worked by hand: F = 16/204.8, and F·k²·(0.312·k² + 1.18/(F + 0.27)).
func TestProximityByHand(t *testing.T) {
	assert.InDelta(t, 0.179463, must[float64](t)(ProximityEffectIEC(ThreeCores, 2, 0.8)), 5e-7)
	assert.InDelta(t, 0.145000, must[float64](t)(ProximityEffectIEC(TwoCores, 2, 0.8)), 5e-7)
}

// The code's table of three cores in PVC conduit lies between a lone conductor
// and three that touch, with 2.4 mm of insulation on each, within its rounding.
func TestProximityBoundsTable9(t *testing.T) {
	for _, kcm := range []int{250, 300, 350, 400, 500, 600, 750, 1000} {
		s := KCMilSize(kcm)
		row := must[Table8Row](t)(Table8(s, Stranded))
		x := must[float64](t)(SkinParameter(row.Copper, 60))
		d := float64(row.OverallDiameter)
		ys := must[float64](t)(SkinEffectIEC(x))
		yp := must[float64](t)(ProximityEffectIEC(ThreeCores, x, d/(d+2*2.4e-3)))
		entry := must[Table9Entry](t)(Table9(s, Copper, PVCConduit))
		rounding := float64(0.5e-3 * OhmPerKilofoot / row.Copper)
		ratio := float64(entry.Resistance / row.Copper)
		assert.Greater(t, ratio, 1+ys-rounding, "%d kcmil", kcm)
		assert.Less(t, ratio, 1+ys+yp+rounding, "%d kcmil", kcm)
	}
}

func TestInternalReactance(t *testing.T) {
	r := must[ResistancePerLength](t)(solid(AWG(10)).Resistance(Celsius(75)))
	x := must[ResistancePerLength](t)(InternalReactance(r, 60))
	assert.InEpsilon(t, 2*math.Pi*60*50e-9, float64(x), 1e-5)
	// At high frequency resistance and internal reactance of a conductor meet.
	big := must[ResistancePerLength](t)(solid(KCMilSize(1000)).Resistance(Celsius(20)))
	ac := must[ResistancePerLength](t)(ACResistance(big, 1e6))
	x = must[ResistancePerLength](t)(InternalReactance(big, 1e6))
	assert.InEpsilon(t, float64(ac), float64(x), 0.01)
}

func TestSkinBounds(t *testing.T) {
	bounds(t, "frequency", 1, 1e6, func(x float64) error {
		_, err := SkinParameter(0.01, unit.Frequency(x))
		return err
	})
	bounds(t, "resistance", 1e-9, 100, func(x float64) error {
		_, err := SkinParameter(ResistancePerLength(x), 60)
		return err
	})
	bounds(t, "skin parameter", 0, 1000, func(x float64) error { _, _, err := SkinEffect(x); return err })
	bounds(t, "skin parameter", 0, 100, func(x float64) error { _, err := SkinEffectIEC(x); return err })
	bounds(t, "skin parameter", 0, 2.8, func(x float64) error { _, err := ProximityEffectIEC(TwoCores, x, 0.5); return err })
	bounds(t, "diameter over spacing", 0, 1, func(x float64) error { _, err := ProximityEffectIEC(ThreeCores, 1, x); return err })
	for _, c := range []Cores{0, 1, 4, 255} {
		_, err := ProximityEffectIEC(c, 1, 0.5)
		refused(t, err, "two or three")
	}
	// A busbar at a megahertz is beyond the series.
	_, err := ACResistance(1e-9, 1e6)
	refused(t, err, "skin parameter")
	_, err = InternalReactance(1e-9, 1e6)
	refused(t, err, "skin parameter")
	_, err = ACResistance(0, 0)
	refused(t, err, "frequency")
	_, err = InternalReactance(0, 60)
	refused(t, err, "resistance")
}

// Resistance grows with temperature and with frequency, its ratio with
// frequency and with area.
func FuzzACResistance(f *testing.F) {
	f.Add(int8(-3), 0.3, 0.5, 0.2, 0.4)
	f.Add(int8(10), 0.9, 0.1, 0.7, 0.8)
	f.Fuzz(func(t *testing.T, n int8, a, b, c, d float64) {
		gauge := int(fold(float64(n)/43, largestGauge, finestGauge))
		t1, t2 := fold(a, -60, 300), fold(b, -60, 300)
		f1, f2 := math.Pow(10, fold(c, 0, 6)), math.Pow(10, fold(d, 0, 6))
		t1, t2, f1, f2 = min(t1, t2), max(t1, t2), min(f1, f2), max(f1, f2)
		for _, m := range []Metal{Copper, Aluminium} {
			w := Wire{AWG(gauge), m, Solid, false}
			cold, err1 := w.Resistance(Celsius(t1))
			hot, err2 := w.Resistance(Celsius(t2))
			r1, err3 := ACResistance(cold, unit.Frequency(f1))
			r2, err4 := ACResistance(hot, unit.Frequency(f1))
			r3, err5 := ACResistance(cold, unit.Frequency(f2))
			if err1 != nil || err2 != nil || err3 != nil || err4 != nil || err5 != nil {
				t.Fatal(err1, err2, err3, err4, err5)
			}
			const bits = 1 - 1e-12
			if !(r1 >= cold*bits && r2 >= r1*bits && r3 >= r1*bits) {
				t.Fatalf("%v: %v at %v °C %v Hz, %v at %v °C, %v at %v Hz", w, r1, t1, f1, r2, t2, r3, f2)
			}
		}
	})
}
