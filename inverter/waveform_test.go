package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// half is the stepped wave of the trade: 120 V rms and 170 V peak.
var half = SteppedWave{Peak: 169.7, Zero: 45 * Degree}

func TestSteppedWaveTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/waveform_threelevel.csv") {
		w := SteppedWave{Peak: 1, Zero: unit.Angle(row.Float("alpha_deg")) * Degree}
		if row.Text("alpha_deg") == "23.21826332" {
			w.Zero = LowestTHD
		}
		f, err := w.Figures()
		require.NoError(t, err, row.Source())
		duty, err := w.Duty()
		require.NoError(t, err)
		row.Printed("duty", duty)
		row.Printed("vrms_v", float64(f.RMS))
		row.Printed("v1_rms_v", float64(f.Fundamental))
		row.Within("thd", f.THD, 2e-9, "sums to n = 200000 carry nine digits")
		row.Printed("crest_factor", f.Crest)
		for column, n := range map[string]int{"thd_15": 15, "thd_49": 49} {
			thd, err := w.THDTo(n)
			require.NoError(t, err)
			row.Printed(column, thd)
		}
		hvf, err := w.HVF()
		require.NoError(t, err)
		row.Printed("hvf_nema", hvf)
		hvf, err = w.HVFSinglePhase()
		require.NoError(t, err)
		row.Printed("hvf_all_odd", hvf)
		for column, n := range map[string]int{
			"b1_v": 1, "b3_v": 3, "b5_v": 5, "b7_v": 7, "b9_v": 9, "b11_v": 11, "b13_v": 13, "b15_v": 15,
		} {
			b, err := w.Harmonic(n)
			require.NoError(t, err)
			row.Printed(column, float64(b))
		}
	}
}

func TestHoldRMSTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/waveform_regulated_rms.csv") {
		h, err := HoldRMS(unit.Voltage(row.Float("vpk_v")), 120)
		require.NoError(t, err, row.Source())
		assert.True(t, h.Held)
		closeTo(t, 120, float64(h.Figures.RMS), 1e-12)
		third, err := h.Wave.Harmonic(3)
		require.NoError(t, err)
		first, err := h.Wave.Harmonic(1)
		require.NoError(t, err)
		row.Printed("duty", h.Wave.duty())
		row.Printed("alpha_deg", float64(h.Wave.Zero/Degree))
		row.Printed("v1_rms_v", float64(h.Figures.Fundamental))
		row.Printed("thd", h.Figures.THD)
		row.Digits("v3_over_v1", math.Abs(float64(third/first)), 2, "the peak is rounded to ten digits")
		row.Printed("torque_ratio_vs_120v_sine", h.Torque)
	}
}

// Below the rms asked for a square wave is left, which falls with the battery.
func TestHoldRMSNoMore(t *testing.T) {
	h, err := HoldRMS(108, 120)
	require.NoError(t, err)
	assert.False(t, h.Held)
	assert.Zero(t, h.Wave.Zero)
	closeTo(t, 108, float64(h.Figures.RMS), 1e-15)
	closeTo(t, 0.9*2*math.Sqrt2/math.Pi, math.Sqrt(h.Torque), 1e-12)
	at, err := HoldRMS(120, 120)
	require.NoError(t, err)
	assert.True(t, at.Held)
	assert.Greater(t, at.Torque, h.Torque)
}

func TestWaveExamples(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/waveform_examples.csv") {
		w := SteppedWave{Peak: 1}
		if row.HasParam("V") {
			w.Peak = volts(row, "V")
		}
		if row.HasParam("alpha") {
			w.Zero = unit.Angle(row.Param("alpha", "deg")) * Degree
		}
		f, err := w.Figures()
		require.NoError(t, err, row.Source())
		var got float64
		switch q := row.Text("quantity"); q {
		case "fundamental":
			got = float64(f.Fundamental)
		case "power in resistance":
			got = float64(f.RMS*f.RMS) / row.Param("R", "ohm")
		case "distortion factor":
			s, err := w.Spectrum(9999)
			require.NoError(t, err)
			sum, err := s.Sum(func(n int) float64 {
				if n == 1 {
					return 0
				}
				return math.Pow(float64(n), -4)
			})
			require.NoError(t, err)
			got = math.Sqrt(sum) / float64(f.Fundamental)
		case "harmonic over fundamental", "distortion factor of one":
			n := int(row.Param("n", ""))
			b, err := w.Harmonic(n)
			require.NoError(t, err)
			got = float64(b) / math.Sqrt2 / float64(f.Fundamental)
			if q == "distortion factor of one" {
				got /= float64(n * n)
			}
		case "zero angle of least distortion":
			got = float64(LowestTHD / Degree)
		case "distortion":
			got = f.THD
		case "power in R-L load":
			s, err := w.Spectrum(int(row.Param("n", "")))
			require.NoError(t, err)
			x := 2 * math.Pi * row.Param("f", "Hz") * row.Param("L", "mH") * 1e-3
			l, err := s.Load(func(n int) complex128 { return complex(row.Param("R", "ohm"), x*float64(n)) })
			require.NoError(t, err)
			got = float64(l.Real)
		case "harmonic voltage factor":
			s := make(Spectrum, 14)
			s[1] = 1
			for n, name := range map[int]string{5: "V5", 7: "V7", 11: "V11", 13: "V13"} {
				s[n] = unit.Voltage(row.Param(name, ""))
			}
			got, err = s.HVF()
			require.NoError(t, err)
		case "harmonic voltage factor of the wave":
			got, err = w.HVF()
			require.NoError(t, err)
		case "the same with triplens":
			got, err = w.HVFSinglePhase()
			require.NoError(t, err)
		case "fundamental at a stated rms":
			h, err := HoldRMS(w.Peak, volts(row, "rms"))
			require.NoError(t, err)
			got = float64(h.Figures.Fundamental)
		case "reading of an averaging meter":
			got = float64(f.Average)
		default:
			t.Fatalf("%s: no test for %q", row.Source(), q)
		}
		row.Expected(got)
		if row.Has("wrong") {
			row.Rejects("wrong", got, 0.005)
		}
	}
}

// All figures beside the integrals that define them.
func TestFiguresByIntegration(t *testing.T) {
	for _, alpha := range []float64{0, 0.1, 23.2, 30, 45, 61.7, 80, 89} {
		w := SteppedWave{Peak: 170, Zero: unit.Angle(alpha) * Degree}
		f, err := w.Figures()
		require.NoError(t, err)
		a, b := float64(w.Zero), math.Pi-float64(w.Zero)
		integral := func(g func(x float64) float64) float64 {
			return quad.Fixed(g, a, b, 64, quad.Legendre{}, 0)
		}
		closeTo(t, math.Sqrt(integral(func(float64) float64 { return 170 * 170 })/math.Pi), float64(f.RMS), 1e-12)
		closeTo(t, integral(func(float64) float64 { return 170 })/math.Pi, float64(f.Rectified), 1e-12)
		rest := float64(f.RMS * f.RMS)
		for n := 1; n <= 25; n++ {
			want := integral(func(x float64) float64 { return 170 * math.Sin(float64(n)*x) }) * 2 / math.Pi
			if n%2 == 0 {
				want = 0 // the other half cycle takes it away
			}
			got, err := w.Harmonic(n)
			require.NoError(t, err)
			require.InDelta(t, want, float64(got), 1e-9*170, "%v° n=%d", alpha, n)
			if n == 1 {
				rest -= want * want / 2
				closeTo(t, want/math.Sqrt2, float64(f.Fundamental), 1e-12)
			}
		}
		closeTo(t, math.Sqrt(rest)/float64(f.Fundamental), f.THD, 1e-9)
		reading, err := w.TrueRMS(f.Average)
		require.NoError(t, err)
		closeTo(t, float64(f.RMS), float64(reading), 1e-12)
	}
}

// The three other angles of the books, on one wave.
func TestAngleConventions(t *testing.T) {
	for name, build := range map[string]func() (SteppedWave, error){
		"conduction": func() (SteppedWave, error) { return Conducting(170, 120*Degree) },
		"dwell":      func() (SteppedWave, error) { return Dwelling(170, 60*Degree) },
		"duty":       func() (SteppedWave, error) { return WithDuty(170, 2./3) },
	} {
		w, err := build()
		require.NoError(t, err, name)
		require.InDelta(t, 30, float64(w.Zero/Degree), 1e-12, name)
		third, err := w.Harmonic(3)
		require.NoError(t, err)
		require.InDelta(t, 0, float64(third), 1e-12, name)
	}
	// One angle taken for another is a wrong answer, not an error.
	right, err := Conducting(170, 60*Degree)
	require.NoError(t, err)
	wrong := SteppedWave{170, 60 * Degree}
	assert.InDelta(t, right.duty(), wrong.duty(), 1e-12, "60° is the one angle where two of them agree")
	right, err = Dwelling(170, 60*Degree)
	require.NoError(t, err)
	assert.InDelta(t, 2, right.duty()/wrong.duty(), 1e-12)
	w, err := WithDuty(1, leastDuty)
	require.NoError(t, err)
	require.NoError(t, w.Validate())
}

func TestNullAngle(t *testing.T) {
	for n := 3; n <= 99; n += 2 {
		a, err := NullAngle(n)
		require.NoError(t, err)
		b, err := SteppedWave{Peak: 100, Zero: a}.Harmonic(n)
		require.NoError(t, err)
		require.InDelta(t, 0, float64(b), 1e-12)
	}
	_, err := NullAngle(4)
	domainError(t, err, "inverter: order 4, want an odd one")
	for _, n := range []int{-3, 0, 1, 101} {
		_, err := NullAngle(n)
		domainError(t, err, "order")
	}
}

// The angle of least distortion is a minimum, and solves its equation.
func TestLowestTHD(t *testing.T) {
	a := float64(LowestTHD)
	require.InDelta(t, 1, (math.Pi-2*a)*math.Tan(a), 1e-14)
	thd := func(x unit.Angle) float64 { return SteppedWave{Peak: 1, Zero: x}.figures().THD }
	assert.Less(t, thd(LowestTHD), thd(LowestTHD-Degree))
	assert.Less(t, thd(LowestTHD), thd(LowestTHD+Degree))
	assert.InDelta(t, 0.28964, thd(LowestTHD), 5e-6)
}

func TestWaveBounds(t *testing.T) {
	for _, x := range strange {
		for _, w := range []SteppedWave{{unit.Voltage(x), 0.5}, {170, unit.Angle(x)}} {
			require.ErrorIs(t, w.Validate(), ErrDomain)
			_, err := w.Figures()
			require.ErrorIs(t, err, ErrDomain)
			_, err = w.Harmonic(1)
			require.ErrorIs(t, err, ErrDomain)
			_, err = w.THDTo(9)
			require.ErrorIs(t, err, ErrDomain)
			_, err = w.Duty()
			require.ErrorIs(t, err, ErrDomain)
			_, err = w.HVF()
			require.ErrorIs(t, err, ErrDomain)
			_, err = w.Spectrum(9)
			require.ErrorIs(t, err, ErrDomain)
		}
		_, err := WithDuty(unit.Voltage(x), 0.5)
		require.ErrorIs(t, err, ErrDomain)
		_, err = WithDuty(170, x)
		require.ErrorIs(t, err, ErrDomain)
		_, err = HoldRMS(unit.Voltage(x), 120)
		require.ErrorIs(t, err, ErrDomain)
		_, err = HoldRMS(170, unit.Voltage(x))
		require.ErrorIs(t, err, ErrDomain)
		_, err = half.TrueRMS(unit.Voltage(x))
		require.ErrorIs(t, err, ErrDomain)
	}
	for _, delta := range []unit.Angle{1.7 * Degree, 181 * Degree, 0} {
		_, err := Conducting(170, delta)
		domainError(t, err, "zero angle")
	}
	for _, dwell := range []float64{math.NaN(), math.Inf(1), -0.1, 60} {
		_, err := Dwelling(170, unit.Angle(dwell))
		domainError(t, err, "zero angle")
	}
	_, err := SteppedWave{Peak: 170, Zero: 30}.Figures()
	domainError(t, err, "zero angle 1718.87 ° (30 rad), want 0 ° to 89.1 °")
	_, err = SteppedWave{}.Figures()
	domainError(t, err, "peak voltage 0 V, want 1 V to 1 kV")
	_, err = HoldRMS(170, 16.9)
	domainError(t, err, "rms voltage")
	_, err = HoldRMS(170, 17)
	require.NoError(t, err)
	for _, n := range []int{0, -1, mostOrder + 1} {
		_, err = half.Harmonic(n)
		domainError(t, err, "order")
		_, err = half.THDTo(n)
		domainError(t, err, "highest order")
		_, err = half.Spectrum(n)
		domainError(t, err, "highest order")
	}
	first, err := half.THDTo(1)
	require.NoError(t, err)
	assert.Zero(t, first)
}

// FuzzSteppedWave: the figures hang together whatever the wave, and no input
// panics.
func FuzzSteppedWave(f *testing.F) {
	f.Add(true, 170.0, math.Pi/4, 120.0)
	f.Add(true, 1.0, 0.0, 1.0)
	f.Add(true, 1000.0, mostZero, 100.0)
	f.Add(true, math.NaN(), math.Inf(1), -1.0)
	seeds(f, 200, 3)
	f.Fuzz(func(t *testing.T, raw bool, peak, zero, rms float64) {
		peak = fold(raw, peak, leastPeak, mostVolt)
		zero = fold(raw, zero, 0, mostZero)
		rms = fold(raw, rms, peak/10, mostVolt)
		w := SteppedWave{unit.Voltage(peak), unit.Angle(zero)}
		x, err := w.Figures()
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		// The mean is below the rms, the rms below the peak, and a square wave
		// has the least crest factor.
		require.LessOrEqual(t, float64(x.Rectified), float64(x.RMS)*(1+1e-15))
		require.LessOrEqual(t, float64(x.RMS), peak)
		require.GreaterOrEqual(t, x.Crest, 1.0)
		require.GreaterOrEqual(t, x.THD, 0.2896)
		require.InEpsilon(t, float64(x.RMS), float64(x.Fundamental)*math.Hypot(1, x.THD), 1e-9)
		last := 0.0
		for _, n := range []int{1, 3, 15, 49, 301} {
			thd, err := w.THDTo(n)
			require.NoError(t, err)
			require.GreaterOrEqual(t, thd, last)
			require.LessOrEqual(t, thd, x.THD*(1+1e-9))
			last = thd
		}
		twice := w
		twice.Peak *= 2
		if y, err := twice.Figures(); err == nil {
			require.InEpsilon(t, x.THD, y.THD, 1e-12)
			require.InEpsilon(t, float64(2*x.Average), float64(y.Average), 1e-12)
		}
		back, err := WithDuty(w.Peak, max(leastDuty, w.duty()))
		require.NoError(t, err)
		require.InDelta(t, zero, float64(back.Zero), 1e-12)
		h, err := HoldRMS(w.Peak, unit.Voltage(rms))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.Equal(t, peak >= rms, h.Held)
		require.InEpsilon(t, min(peak, rms), float64(h.Figures.RMS), 1e-9)
		require.LessOrEqual(t, h.Torque, 0.93)
	})
}
