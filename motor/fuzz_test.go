package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

func FuzzParse(f *testing.F) {
	for _, s := range []string{"", "K", "v", "measured", "rule of thumb", "PSC", "three-phase", "\xff", "ſ"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if c, err := ParseCodeLetter(s); err == nil {
			back, err := ParseCodeLetter(c.String())
			require.NoError(t, err)
			require.Equal(t, c, back)
		} else {
			require.ErrorIs(t, err, ErrDomain)
		}
		if b, err := ParseBasis(s); err == nil {
			back, err := ParseBasis(b.String())
			require.NoError(t, err)
			require.Equal(t, b, back)
		} else {
			require.ErrorIs(t, err, ErrDomain)
		}
		if typ, err := ParseType(s); err == nil {
			back, err := ParseType(typ.String())
			require.NoError(t, err)
			require.Equal(t, typ, back)
		} else {
			require.ErrorIs(t, err, ErrDomain)
		}
	})
}

// Current and letter are inverse to each other, and more current is never an
// earlier letter.
func FuzzCodeLetter(f *testing.F) {
	f.Add(30.0, 115.0, 0.5, 1)
	f.Add(151.0, 460.0, 20.0, 3)
	f.Add(math.NaN(), 0.0, -1.0, 2)
	f.Fuzz(func(t *testing.T, i, v, p float64, m int) {
		c, err := ClassifyCodeLetter(unit.Current(i), unit.Voltage(v), m, unit.Power(p))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		lo, hi, err := c.KVAPerHP()
		require.NoError(t, err)
		k, err := LockedRotorKVAPerHP(unit.Current(i), unit.Voltage(v), m, unit.Power(p))
		require.NoError(t, err)
		require.GreaterOrEqual(t, k*(1+1e-11), lo)
		require.LessOrEqual(t, k, hi)
		if back, err := LockedRotorCurrent(k, unit.Voltage(v), m, unit.Power(p)); err == nil {
			require.InEpsilon(t, i, float64(back), 1e-9)
		}
		if more, err := ClassifyCodeLetter(unit.Current(1.3*i), unit.Voltage(v), m, unit.Power(p)); err == nil {
			require.GreaterOrEqual(t, more, c)
		}
	})
}

// Whatever stands on a plate: no panic, and what comes out is in order.
func FuzzNameplate(f *testing.F) {
	f.Add(372.8, 115.0, 1, 8.6, 10.8, 45.0, 1.6, byte('M'), 0.0, 0.0, byte(2), 30.0, 4.0)
	f.Add(7457.0, 230.0, 3, 28.0, 0.0, 0.0, 1.15, byte('V'), 0.89, 0.85, byte(6), 0.0, 6.0)
	f.Add(0.5, 0.0, 0, -1.0, math.Inf(1), math.NaN(), 0.0, byte(0), 65.0, 1.5, byte(99), -3.0, math.NaN())
	f.Fuzz(func(t *testing.T, p, v float64, m int, full, service, locked, factor float64, code byte, eff, pf float64, typ byte, inrush, multiplier float64) {
		n := Nameplate{
			Output: unit.Power(p), Voltage: unit.Voltage(v), Phases: m, FullLoadCurrent: unit.Current(full),
			ServiceFactorCurrent: unit.Current(service), LockedRotorCurrent: unit.Current(locked), ServiceFactor: factor,
			Code: CodeLetter(code), Efficiency: eff, PowerFactor: pf, Type: Type(typ),
		}
		valid := n.Validate() == nil
		require.Equal(t, valid, faults(&n) == nil, "the short test and the wordy one agree")
		i, _, err := n.LockedRotor()
		if err == nil {
			require.True(t, valid && i.Valid())
		}
		for _, run := range []func() (Running, error){n.Running, n.RunningAtServiceFactor} {
			if r, err := run(); err == nil {
				require.True(t, valid)
				consistent(t, r)
			} else if valid {
				require.ErrorIs(t, err, ErrMissing)
			}
		}
		e := StartEvidence{Inrush: Exactly(unit.Current(inrush)), Multiplier: Exactly(multiplier), Driven: DrivenLoad(typ)}
		d, err := n.Start(e)
		if err != nil {
			return
		}
		require.True(t, valid)
		require.True(t, d.Current.Valid() && d.Apparent.Valid() && d.Real.Valid() && d.PowerFactor.Valid())
		require.LessOrEqual(t, d.Real.High, unit.Power(d.Apparent.High))
		require.Equal(t, d.Unbounded, math.IsInf(float64(d.Real.High), 1))
		require.NotZero(t, d.Basis)
		require.Positive(t, float64(d.Current.Low), "a start takes current")
		if z, err := d.Impedances(); err == nil {
			ratio, err := VoltageRatio(z[2], z[3])
			require.NoError(t, err)
			assert.True(t, ratio >= 0.5-1e-9 && ratio < 1, "a source of the motor's own size takes up to half")
		}
		if low, err := d.At(d.Voltage * 0.8); err == nil {
			require.LessOrEqual(t, low.Current.High, d.Current.High)
		}
	})
}

// Plates of every size and completeness, made so that most are plausible:
// each fraction picks a figure from its usual span, below a tenth none.
func FuzzPlausiblePlate(f *testing.F) {
	f.Add(0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, byte(1))
	f.Add(0.9, 0.05, 0.05, 0.3, 0.0, 0.0, 0.2, 0.9, byte(6))
	f.Add(0.2, 0.6, 0.0, 0.8, 0.7, 0.0, 0.0, 0.1, byte(3))
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, h, k float64, typ byte) {
		pick := func(x, lo, hi float64) float64 {
			if x = math.Abs(math.Mod(x, 1)); !(x >= 0.1) {
				return 0
			}
			return lo + (hi-lo)*(x-0.1)/0.9
		}
		n := Nameplate{Voltage: 230, Phases: 1 + 2*int(typ&1), Type: Type(typ >> 1 & 7)}
		n.Output = unit.Power(pick(a, 0.25, 10)) * Horsepower
		base := float64(n.Output) / 230
		n.FullLoadCurrent = unit.Current(base * pick(b, 1, 3))
		n.ServiceFactor = pick(c, 1, 1.6)
		n.ServiceFactorCurrent = n.FullLoadCurrent * unit.Current(pick(d, 1, 1.6))
		n.LockedRotorCurrent = unit.Current(base * pick(e, 4, 12))
		if x := pick(g, 0, 1); x != 0 {
			n.Code = CodeLetter(codeLetters[int(x*18)])
		}
		n.Efficiency, n.PowerFactor = pick(h, 0.5, 0.9), pick(k, 0.5, 0.95)
		require.Equal(t, n.Validate() == nil, faults(&n) == nil, "the short test and the wordy one agree")
		if n.Validate() != nil {
			return
		}
		for _, run := range []func() (Running, error){n.Running, n.RunningAtServiceFactor} {
			r, err := run()
			if err != nil {
				require.ErrorIs(t, err, ErrMissing)
				continue
			}
			consistent(t, r)
			// More comes in than goes out, within the stated tolerance.
			require.GreaterOrEqual(t, float64(r.Real.High), float64(n.Output)*(1-ratingTolerance))
		}
		start, err := n.Start(StartEvidence{Multiplier: Range[float64]{Low: 3, High: 7}})
		if err != nil {
			require.ErrorIs(t, err, ErrMissing)
			return
		}
		require.True(t, start.Current.Valid() && start.Real.Valid())
	})
}

// Readings either agree or are refused, and watts never exceed volt-amperes.
func FuzzReading(f *testing.F) {
	f.Add(120.0, 1, 10.0, 1200.0, 800.0, 0.67, byte(2))
	f.Add(230.0, 3, 0.0, 0.0, 800.0, 0.67, byte(0))
	f.Add(math.NaN(), 0, -1.0, 0.0, math.Inf(1), 2.0, byte(77))
	f.Fuzz(func(t *testing.T, v float64, m int, i, s, p, pf float64, typ byte) {
		r, err := Reading{
			Voltage: unit.Voltage(v), Phases: m, Current: unit.Current(i), Apparent: ApparentPower(s),
			Real: unit.Power(p), PowerFactor: pf, Type: Type(typ),
		}.Running()
		if err == nil {
			consistent(t, r)
		}
	})
}

// A source only ever takes voltage away, and a stiffer one takes less.
func FuzzVoltageRatio(f *testing.F) {
	f.Add(5.86, 2.28, 1.0, 0.1)
	f.Add(0.0, 0.0, -1.0, math.NaN())
	f.Fuzz(func(t *testing.T, r, x, rs, xs float64) {
		z := complex(r, math.Abs(x))
		ratio, err := VoltageRatio(z, complex(rs, math.Abs(xs)))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.LessOrEqual(t, ratio, 1+1e-12)
		stiffer, err := VoltageRatio(z, complex(rs/2, math.Abs(xs)/2))
		require.NoError(t, err)
		require.GreaterOrEqual(t, stiffer, ratio*(1-1e-12))
	})
}

// Readings on the two sides of an inverter never give more than the plug takes.
func FuzzDCSide(f *testing.F) {
	f.Add(1200.0, 120.0, 12.0, 75.0, 0.85, 0.92)
	f.Add(math.NaN(), 0.0, -12.0, math.Inf(1), 0.9, 0.8)
	f.Fuzz(func(t *testing.T, s, plug, u, i, lo, hi float64) {
		r, err := DCSide{
			Apparent: ApparentPower(s), PlugVoltage: unit.Voltage(plug), BatteryVoltage: unit.Voltage(u),
			BatteryCurrent: unit.Current(i), Efficiency: Range[float64]{Low: lo, High: hi},
		}.Running()
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, r.Real.Valid() && r.PowerFactor.Valid())
		require.LessOrEqual(t, r.PowerFactor.High, 1.0)
	})
}
