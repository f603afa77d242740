package inverter

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestHVFDeratingTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/hvf_derating.csv") {
		k, err := HVFDerating(row.Float("hvf"))
		require.NoError(t, err, row.Source())
		u := row.Float("uncertainty_abs")
		row.Within("derating_factor", float64(k.Low)+u, 1e-12, "a table laid beside its copy")
		if k.High < 1 {
			row.Within("uncertainty_abs", k.Mid()-k.Low, 1e-12, "a table laid beside its copy")
		}
	}
	last := 1.0
	for h := 0.0; h <= 0.12; h += 0.001 {
		k, err := HVFDerating(h)
		require.NoError(t, err)
		require.LessOrEqual(t, k.Low, last)
		require.LessOrEqual(t, k.High, 1.0)
		last = k.Low
	}
	for _, x := range append([]float64{0.1201, 12}, strange...) {
		_, err := HVFDerating(x)
		domainError(t, err, "harmonic voltage factor")
	}
}

// The factor of a wave and of its spectrum are one.
func TestHVFOfSpectrum(t *testing.T) {
	s, err := half.Spectrum(9999)
	require.NoError(t, err)
	for _, f := range [][2]func() (float64, error){{half.HVF, s.HVF}, {half.HVFSinglePhase, s.HVFSinglePhase}} {
		a, err := f[0]()
		require.NoError(t, err)
		b, err := f[1]()
		require.NoError(t, err)
		closeTo(t, a, b, 1e-6)
	}
}

// quarterHorse is the main winding of a textbook's motor of two revolving
// fields, at each harmonic.
type quarterHorse struct{ slip float64 }

// at returns the impedance, and copper loss (W) and net air-gap torque (N·m) per
// square ampere, at the order n.
func (m quarterHorse) at(n int) (z complex128, copper, torque float64) {
	const r1, r2, x1, x2, xm = 2.02, 4.12, 2.79, 2.12, 66.8
	x := float64(n)
	half := func(slip float64) complex128 {
		rotor, magnetizing := complex(r2/slip, x*x2), complex(0, x*xm)
		return rotor * magnetizing / (rotor + magnetizing) / 2
	}
	forward, backward := 1-(1-m.slip)/x, 1+(1-m.slip)/x
	f, b := half(forward), half(backward)
	synchronous := 2 * math.Pi * 60 / 2 * x
	return complex(r1, x*x1) + f + b, r1 + forward*real(f) + backward*real(b), (real(f) - real(b)) / synchronous
}

func TestMotorOnWaveform(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/waveform_motor.csv") {
		w := SteppedWave{Peak: unit.Voltage(row.Float("vpk_v"))}
		s := Spectrum{0, w.Peak}
		if row.Text("waveform") != "sine" {
			w.Zero = unit.Angle(row.Float("alpha_deg")) * Degree
			if row.Text("waveform") == "minimum THD" {
				w.Zero = LowestTHD
			}
			var err error
			s, err = w.Spectrum(9999)
			require.NoError(t, err, row.Source())
		}
		m := quarterHorse{row.Float("slip")}
		l, err := s.Load(func(n int) complex128 { z, _, _ := m.at(n); return z })
		require.NoError(t, err)
		perSquareVolt := func(pick func(z complex128, copper, torque float64) float64) float64 {
			x, err := s.Sum(func(n int) float64 {
				z, copper, torque := m.at(n)
				return pick(z, copper, torque) / real(z*cmplx.Conj(z))
			})
			require.NoError(t, err)
			return x
		}
		const why = "slip and peak are rounded to nine and ten digits"
		row.Digits("v1_rms_v", float64(s[1])/math.Sqrt2, 3, why)
		row.Digits("i_rms_a", float64(l.Current), 3, why)
		row.Within("p_in_w", float64(l.Real), 3e-8, why)
		row.Within("torque_net_nm", perSquareVolt(func(_ complex128, _, t float64) float64 { return t }), 6e-8, why)
		copper := perSquareVolt(func(_ complex128, c, _ float64) float64 { return c })
		row.Within("copper_loss_w", copper, 3e-8, why)
		closeTo(t, float64(l.Current), math.Hypot(float64(l.Fundamental), float64(l.Harmonic)), 1e-12)
		// What goes in leaves as heat of the copper or through the air gap.
		shaft := perSquareVolt(func(z complex128, c, _ float64) float64 { return real(z) - c })
		closeTo(t, float64(l.Real), copper+shaft, 1e-9)
	}
}

// On a sine the capacitor takes ωCV whatever is said of harmonics, and a real
// power only where there is a resistance.
func TestCapacitorOnSine(t *testing.T) {
	s := Spectrum{0, 120 * math.Sqrt2}
	bare := LineCapacitor{Capacitance: 30e-6, Frequency: 60}
	c, err := bare.On(s)
	require.NoError(t, err)
	closeTo(t, 2*math.Pi*60*30e-6*120, float64(c.Current), 1e-12)
	closeTo(t, 1, c.Ratio, 1e-12)
	assert.Zero(t, c.Real)
	assert.Zero(t, c.Harmonic)
	bare.Resistance = 2
	c, err = bare.On(s)
	require.NoError(t, err)
	closeTo(t, 2*float64(c.Current*c.Current), float64(c.Real), 1e-12)
}

// Through a resistance alone each of the four steps of a cycle dissipates CV²/2,
// so that I²·R = 2·f·C·V² where the pulses are over before the next step.
func TestCapacitorThroughResistance(t *testing.T) {
	s, err := half.Spectrum(mostOrder)
	require.NoError(t, err)
	for _, r := range []float64{0.5, 2, 5} {
		c := LineCapacitor{Capacitance: 30e-6, Frequency: 60, Resistance: unit.Resistance(r)}
		got, err := c.On(s)
		require.NoError(t, err)
		closeTo(t, math.Sqrt(2*60*30e-6/r)*float64(half.Peak), float64(got.Current), 2e-3)
		closeTo(t, r*float64(got.Current*got.Current), float64(got.Real), 1e-9)
	}
}

// With nothing in series the sum has no end: it grows with the root of the
// number of orders.
func TestCapacitorDiverges(t *testing.T) {
	c := LineCapacitor{Capacitance: 30e-6, Frequency: 60}
	last := 0.0
	for _, n := range []int{99, 399, 1599, 6399} {
		s, err := half.Spectrum(n)
		require.NoError(t, err)
		got, err := c.On(s)
		require.NoError(t, err)
		if last > 0 {
			closeTo(t, 2*last, float64(got.Current), 1e-9)
		}
		last = float64(got.Current)
	}
	// An inductance ends it.
	c.Inductance, c.Resistance = 200e-6, 0.2
	var ends [2]float64
	for i, n := range []int{2001, 60001} {
		s, err := half.Spectrum(n)
		require.NoError(t, err)
		got, err := c.On(s)
		require.NoError(t, err)
		ends[i] = float64(got.Current)
		assert.Greater(t, got.Ratio, 3.0)
	}
	closeTo(t, ends[1], ends[0], 1e-3)
}

// Four ramps of t a cycle drive C·V/t for as long as each lasts.
func TestCapacitorOnRamps(t *testing.T) {
	s, err := half.Spectrum(mostOrder)
	require.NoError(t, err)
	for _, rise := range []unit.Time{20e-6, 100e-6, 500e-6} {
		ramped, err := s.Ramped(rise, 60)
		require.NoError(t, err)
		got, err := LineCapacitor{Capacitance: 30e-6, Frequency: 60}.On(ramped)
		require.NoError(t, err)
		want := 30e-6 * float64(half.Peak) / float64(rise) * math.Sqrt(4*60*float64(rise))
		closeTo(t, want, float64(got.Current), 5e-3)
	}
	same, err := s.Ramped(0, 60)
	require.NoError(t, err)
	assert.Equal(t, s, same)
	for _, x := range append([]float64{1.1e-3}, strange...) {
		_, err = s.Ramped(unit.Time(x), 60)
		domainError(t, err, "rise time")
		_, err = s.Ramped(0, unit.Frequency(x))
		domainError(t, err, "frequency")
	}
}

func TestHarmonicLoadBounds(t *testing.T) {
	s := Spectrum{0, 170, 0, 20}
	for _, z := range []complex128{0, complex(math.NaN(), 1), complex(math.Inf(1), 0), 1e13, 1e-7} {
		_, err := s.Load(func(n int) complex128 {
			if n == 3 {
				return z
			}
			return 10
		})
		domainError(t, err, "impedance at order 3")
	}
	_, err := s.Load(func(int) complex128 { return complex(-1, 5) })
	domainError(t, err, "real power")
	good := LineCapacitor{30e-6, 60, 1, 1e-4}
	for _, x := range strange {
		for _, c := range []LineCapacitor{
			{unit.Capacitance(x), 60, 1, 1e-4},
			{30e-6, unit.Frequency(x), 1, 1e-4},
			{30e-6, 60, unit.Resistance(x), 1e-4},
			{30e-6, 60, 1, unit.Inductance(x)},
		} {
			_, err := c.On(s)
			require.ErrorIs(t, err, ErrDomain)
		}
	}
	_, err = good.On(Spectrum{0, 0})
	require.ErrorIs(t, err, ErrNoFundamental)
	good.Resistance = 0
	_, err = good.On(s)
	domainError(t, err, "series resistance 0 Ω, want 1 mΩ to 1 kΩ")
	_, err = LineCapacitor{Capacitance: 30, Frequency: 60}.On(s)
	domainError(t, err, "capacitance 30 F, want 1e-09 F to 10 mF")
}

// FuzzHarmonicLoad: a resistance takes V²/R at unity power factor, a scaled
// voltage scales the current, and no impedance panics.
func FuzzHarmonicLoad(f *testing.F) {
	f.Add(false, 0.5, 0.2, 0.4, 0.0)
	f.Add(true, 0.0, 0.0, 0.5, 1.0)
	f.Add(true, math.NaN(), math.Inf(1), 0.5, -1.0)
	seeds(f, 100, 4)
	f.Fuzz(func(t *testing.T, raw bool, r, l, zero, c float64) {
		r = fold(raw, r, 0.01, 1000)
		l = fold(raw, l, 0, 1)
		c = fold(raw, c, 1e-9, 1e-2)
		w := SteppedWave{170, unit.Angle(fold(false, zero, 0, mostZero))}
		s, err := w.Spectrum(199)
		require.NoError(t, err)
		rms, err := s.RMS()
		require.NoError(t, err)
		p, err := s.Load(func(int) complex128 { return complex(r, 0) })
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.InEpsilon(t, float64(rms*rms)/r, float64(p.Real), 1e-9)
		require.InDelta(t, 1, p.PowerFactor, 1e-9)
		q, err := LineCapacitor{unit.Capacitance(c), 60, unit.Resistance(r), unit.Inductance(l)}.On(s)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.LessOrEqual(t, q.PowerFactor, 1+1e-9)
		require.GreaterOrEqual(t, float64(q.Current), float64(q.Fundamental))
	})
}
