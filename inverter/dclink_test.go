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

// link1kW is the inverter of the reference's starts behind a dc link.
var link1kW = DCLink{Voltage: 110, Frequency: 60, Capacitance: 2000e-6, Full: 180, Conductance: 5, Power: 1000}

// With the power that a held motor takes behind 1 Ω the link gives the voltage
// that the phasor solution has there.
func TestDCLinkHeldMotor(t *testing.T) {
	byCase := map[string]reftest.Row{}
	for _, row := range reftest.Rows(t, "motor/start_phasors.csv") {
		byCase[row.Text("case")] = row
	}
	for _, name := range []string{"locked_rotor_rc3", "locked_rotor_rc9"} {
		stiff, soft := byCase[name+"_Rs0"], byCase[name+"_Rs1"]
		z := cmplx.Rect(stiff.Float("v_terminal_v")/stiff.Float("i_total_a"), math.Acos(stiff.Float("pf_source")))
		l := link1kW
		l.Power = unit.Power(soft.Float("w_source") - soft.Float("i_total_a")*soft.Float("i_total_a"))
		v, f, err := l.Under(z, 0)
		require.NoError(t, err)
		soft.Within("v_terminal_v", float64(v), 1e-8, "the impedance comes from nine digits")
		assert.InDelta(t, 60, float64(f), 0)
		l.Current = unit.Current(soft.Float("i_total_a") / 2)
		v, _, err = l.Under(z, 0)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(l.Current), float64(v)/cmplx.Abs(z), 1e-12)
	}
}

func TestDCLinkMethods(t *testing.T) {
	open, series, limit := link1kW.Linear()
	assert.InDelta(t, 110, float64(open), 0)
	assert.Equal(t, complex(0, 0), series)
	assert.True(t, math.IsInf(float64(limit), 1))
	l := link1kW
	l.Current, l.Power = 20, 0
	_, _, limit = l.Linear()
	assert.InDelta(t, 20, float64(limit), 0)
	c, full, g, power := l.Link()
	assert.Equal(t, []float64{2000e-6, 180, 5}, []float64{float64(c), float64(full), float64(g)})
	assert.True(t, math.IsInf(float64(power), 1))
	_, _, _, power = link1kW.Link()
	assert.InDelta(t, 1000, float64(power), 0)

	// A feeble charger: at the crest of the output the link takes what it gives.
	l = link1kW
	l.Conductance, l.Power = 0.05, 0
	v, _, err := l.Under(10, 0)
	require.NoError(t, err)
	crest := math.Sqrt2 * float64(v)
	assert.InEpsilon(t, float64(v*v)/10, 0.05*(180-crest)*crest, 1e-12)
	// A load that gives power back, or takes none, is held.
	for _, z := range []complex128{10i, -10, -3 + 4i} {
		v, _, err = l.Under(z, 0)
		require.NoError(t, err)
		assert.InDelta(t, 110, float64(v), 0)
	}
}

func TestDCLinkBounds(t *testing.T) {
	for words, tt := range map[string]struct {
		lo, hi float64
		set    func(l *DCLink, x float64)
	}{
		"output voltage":                      {50, 180 / math.Sqrt2, func(l *DCLink, x float64) { l.Voltage = unit.Voltage(x) }},
		"frequency":                           {10, 400, func(l *DCLink, x float64) { l.Frequency = unit.Frequency(x) }},
		"current limit":                       {0.05, 20e3, func(l *DCLink, x float64) { l.Current = unit.Current(x) }},
		"capacitance of the dc link":          {50e-6, 10, func(l *DCLink, x float64) { l.Capacitance = unit.Capacitance(x) }},
		"voltage of the dc link":              {110 * math.Sqrt2, 2000, func(l *DCLink, x float64) { l.Full = unit.Voltage(x) }},
		"charging conductance of the dc link": {0.01, 200, func(l *DCLink, x float64) { l.Conductance = unit.Conductance(x) }},
		"charging power of the dc link":       {20, mostDC, func(l *DCLink, x float64) { l.Power = unit.Power(x) }},
	} {
		for _, x := range []float64{tt.lo * (1 + 1e-12), tt.hi * (1 - 1e-12)} {
			l := link1kW
			tt.set(&l, x)
			require.NoError(t, l.Validate(), "%s %v", words, x)
		}
		for _, x := range append([]float64{0.9 * tt.lo, 1.1 * tt.hi}, strange...) {
			l := link1kW
			tt.set(&l, x)
			_, _, err := l.Under(10, 0)
			require.ErrorIs(t, err, ErrDomain, "%s %v", words, x)
			require.ErrorIs(t, l.Validate(), ErrDomain)
		}
	}
	l := link1kW
	l.Full = 48
	domainError(t, l.Validate(), "voltage of the dc link")
	l = link1kW
	l.Conductance = 1e6
	domainError(t, l.Validate(), "charging conductance of the dc link")
	require.ErrorIs(t, DCLink{}.Validate(), ErrDomain)
	for _, z := range []complex128{0, 0.9e-3, 1.1e9, cmplx.NaN(), cmplx.Inf()} {
		_, _, err := link1kW.Under(z, 0)
		domainError(t, err, "magnitude of the load")
	}
}

// FuzzDCLink: no limit is broken, and less of anything that feeds the link never
// gives more voltage.
func FuzzDCLink(f *testing.F) {
	f.Add(true, 110.0, 0.0, 2e-3, 180.0, 5.0, 1000.0, 5.86, 2.28)
	f.Add(true, 50.0, 0.05, 1e-5, 71.0, 0.01, 20.0, 1e-3, -3.0)
	f.Add(true, math.NaN(), -1.0, 0.0, math.Inf(1), math.NaN(), -1.0, 0.0, 0.0)
	seeds(f, 200, 8)
	f.Fuzz(func(t *testing.T, raw bool, v0, limit, c, full, g, most, re, im float64) {
		v0, limit = fold(raw, v0, 100, 250), fold(raw, limit, 1, 60)
		c, full = fold(raw, c, 1e-4, 1e-2), fold(raw, full, 360, 450)
		g, most = fold(raw, g, 0.01, 10), fold(raw, most, 100, 6000)
		re, im = fold(raw, re, 0.1, 60), fold(raw, im, -20, 20)
		l := DCLink{
			Voltage: unit.Voltage(v0), Frequency: 60, Current: unit.Current(limit), Capacitance: unit.Capacitance(c),
			Full: unit.Voltage(full), Conductance: unit.Conductance(g), Power: unit.Power(most),
		}
		z := complex(re, im)
		v, _, err := l.Under(z, 1)
		require.Equal(t, l.Validate() == nil && cmplx.Abs(z) >= 1e-3 && cmplx.Abs(z) <= 1e9, err == nil)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		const over = 1 + 1e-9
		u := float64(v)
		require.True(t, u >= 0 && u <= v0*over)
		p := u * u * max(0, re) / (cmplx.Abs(z) * cmplx.Abs(z))
		crest := math.Sqrt2 * u
		require.LessOrEqual(t, p, g*(full-crest)*crest*over+1e-6)
		if most != 0 {
			require.LessOrEqual(t, p, most*over)
		}
		for name, change := range map[string]func(l *DCLink){
			"power":       func(l *DCLink) { l.Power *= 0.9 },
			"conductance": func(l *DCLink) { l.Conductance *= 0.9 },
			"full":        func(l *DCLink) { l.Full *= 0.99 },
			"current":     func(l *DCLink) { l.Current *= 0.9 },
		} {
			worse := l
			change(&worse)
			if v, _, err := worse.Under(z, 1); err == nil {
				require.LessOrEqual(t, float64(v), u*over, name)
			}
		}
	})
}

func BenchmarkDCLinkUnder(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		l, sum, i := link1kW, 0.0, 0
		for b.Loop() {
			v, _, _ := l.Under(complex(12100/loads[i&15], 2), 0.5)
			sum += float64(v)
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		sum, i, gc, full, most := 0.0, 0, 5.0, 180.0, 1000.0
		for b.Loop() {
			re, im := 12100/loads[i&15], 2.0
			z := math.Hypot(re, im)
			g := re / (z * z)
			sum += min(110, math.Sqrt2*gc*full/(g+2*gc), math.Sqrt(most/g))
			i++
		}
		sink = sum
	})
}
