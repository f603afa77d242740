package inverter

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// FuzzLoss: dc power rises with ac power, covers idle draw and output, comes
// back through the inverse, and no input panics.
func FuzzLoss(f *testing.F) {
	f.Add(3000.0, 30.0, 0.02, 0.05, 1000.0, 1200.0)
	f.Add(20.0, 0.0, 0.0, 0.0, 0.0, 0.0)
	f.Add(100e3, 25e3, 1.0, 1.0, 1e6, 1e6)
	f.Add(math.NaN(), math.Inf(1), -1.0, 2.0, math.Inf(-1), math.NaN())
	f.Fuzz(func(t *testing.T, rated, idle, v, r, p, s float64) {
		l := Loss{unit.Power(rated), unit.Power(idle), v, r}
		dc, err := l.DCPower(unit.Power(p))
		_, _, errPeak := l.PeakEfficiency()
		require.Equal(t, l.Validate() == nil, errPeak == nil)
		_, errAt := l.ACPowerAt(unit.Power(p), ApparentPower(s))
		require.True(t, errAt == nil || errors.Is(errAt, ErrDomain) || errors.Is(errAt, ErrBelowIdle))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.GreaterOrEqual(t, float64(dc), idle+p)
		more, err := l.DCPower(unit.Power(min(p*1.01, 1e6)))
		require.NoError(t, err)
		require.GreaterOrEqual(t, float64(more), float64(dc))
		if dc <= mostDC {
			back, err := l.ACPower(dc)
			require.NoError(t, err)
			require.InDelta(t, p, float64(back), 1e-9*p+1e-9*rated)
		}
		e, err := l.Efficiency(unit.Power(p))
		require.NoError(t, err)
		require.True(t, e >= 0 && e <= 1)
		low, err := l.DCPowerAt(unit.Power(p), ApparentPower(s))
		if err == nil {
			require.GreaterOrEqual(t, float64(low), float64(dc)*(1-1e-9))
		}
	})
}

// FuzzFit: three points on a model's curve give the model back; any points
// give a valid model or an argument error.
func FuzzFit(f *testing.F) {
	f.Add(3000.0, 0.01, 0.02, 0.05, 0.1, 0.5, 1.0)
	f.Add(1000.0, 0.0, 0.0, 0.0, 0.2, 0.3, 0.9)
	f.Fuzz(func(t *testing.T, rated, p0, v, r, a, b, c float64) {
		l := Loss{unit.Power(rated), unit.Power(p0 * rated), v, r}
		if l.Validate() != nil || !(a > 0.02 && b > a+0.05 && c > b+0.05 && c < 2) {
			return
		}
		at := func(p float64) EfficiencyPoint {
			out := unit.Power(p) * l.Rated
			e, err := l.Efficiency(out)
			require.NoError(t, err)
			return EfficiencyPoint{out, e}
		}
		if at(a).Efficiency < 0.01 {
			return
		}
		got, err := FitThree(l.Rated, at(a), at(b), at(c))
		if err != nil {
			// A coefficient at the very edge of its range may fall over it.
			require.ErrorIs(t, err, ErrDomain)
			require.True(t, p0 > 0.2499 || v > 0.999 || r > 0.999 || p0 < 1e-6 || v < 1e-6 || r < 1e-6, "%v: %v", l, err)
			return
		}
		require.NoError(t, got.Validate())
		require.InDelta(t, p0, float64(got.Idle)/rated, 1e-8)
		require.InDelta(t, v, got.Linear, 1e-8)
		require.InDelta(t, r, got.Quadratic, 1e-8)
	})
}

// FuzzFitAnything: whatever the points, the fit is a valid model that goes
// through them, or an argument error.
func FuzzFitAnything(f *testing.F) {
	f.Add(1000.0, 10.0, 100.0, 0.8, 500.0, 0.9, 1000.0, 0.88)
	f.Fuzz(func(t *testing.T, rated, idle, p1, e1, p2, e2, p3, e3 float64) {
		pr := unit.Power(rated)
		a, b, c := EfficiencyPoint{unit.Power(p1), e1}, EfficiencyPoint{unit.Power(p2), e2}, EfficiencyPoint{unit.Power(p3), e3}
		check := func(l Loss, err error, points ...EfficiencyPoint) {
			if err != nil {
				require.ErrorIs(t, err, ErrDomain)
				return
			}
			require.NoError(t, l.Validate())
			for _, p := range points {
				e, err := l.Efficiency(p.Output)
				require.NoError(t, err)
				require.InDelta(t, p.Efficiency, e, 1e-4)
			}
		}
		l, err := FitThree(pr, a, b, c)
		check(l, err, a, b, c)
		l, err = FitTwo(pr, a, b)
		check(l, err, a, b)
		l, err = FitIdleTwo(pr, unit.Power(idle), a, b)
		check(l, err, a, b)
		l, err = FitIdleOne(pr, unit.Power(idle), a)
		check(l, err, a)
		l, err = Flat(pr, unit.Power(idle), e1)
		check(l, err)
	})
}

// FuzzOperate: volts times amperes are the power, drops and terminal voltage
// the open-circuit voltage, and the current scales with the resistance.
func FuzzOperate(f *testing.F) {
	f.Add(12.6, 7e-3, 2e-3, 1e-3, 1500.0, 10.5)
	f.Add(12.6, 10e-3, 0.0, 0.0, 3969.0, 6.3)
	f.Add(math.NaN(), math.Inf(1), -1.0, 2.0, math.Inf(-1), math.NaN())
	f.Fuzz(func(t *testing.T, voc, rb, rc, rk, p, cut float64) {
		s := Source{unit.Voltage(voc), unit.Resistance(rb), unit.Resistance(rc), unit.Resistance(rk)}
		if largest, err := s.LargestPower(unit.Voltage(cut)); err == nil && largest > 0 && largest <= mostDC {
			at, err := s.Operate(largest * (1 - 1e-12))
			require.NoError(t, err)
			require.InDelta(t, max(cut, voc/2), float64(at.Voltage), 1e-4*voc)
		}
		at, err := s.Operate(unit.Power(p))
		if errors.Is(err, ErrCollapse) {
			top, err := s.CollapsePower()
			require.NoError(t, err)
			require.GreaterOrEqual(t, p, float64(top)*(1-1e-12))
			return
		}
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		d := s.Drops(at.Current)
		require.InEpsilon(t, voc, float64(at.Voltage+d.Battery+d.Cable+d.Contacts), 1e-9)
		require.InDelta(t, p, float64(at.Voltage)*float64(at.Current), 1e-9*p)
		require.GreaterOrEqual(t, float64(at.Voltage), voc/2*(1-1e-12))
		require.InDelta(t, voc*float64(at.Current), p+float64(s.Losses(at.Current).Total()), 1e-9*p)
		// Twice the voltage and four times the resistance: half the current.
		if 2*voc <= mostVolt && 4*max(rb, rc, rk) <= mostResistance {
			twice, err := Source{2 * s.OpenCircuit, 4 * s.Battery, 4 * s.Cable, 4 * s.Contacts}.Operate(unit.Power(p))
			require.NoError(t, err)
			require.InDelta(t, float64(at.Current)/2, float64(twice.Current), 1e-12*float64(at.Current))
		}
	})
}

// FuzzSurge: a longer time never allows more, and never less than the
// continuous rating.
func FuzzSurge(f *testing.F) {
	f.Add(3000.0, 6000.0, 5.0, 3750.0, 600.0, 1.0, 10.0)
	f.Fuzz(func(t *testing.T, c, s1, t1, s2, t2, x, y float64) {
		s := Surge{ApparentPower(c), []SurgePoint{{ApparentPower(s1), unit.Time(t1)}, {ApparentPower(s2), unit.Time(t2)}}}
		a, link, err := s.Allowed(unit.Time(min(x, y)))
		b, _, errB := s.Allowed(unit.Time(max(x, y)))
		if err != nil || errB != nil {
			require.ErrorIs(t, errors.Join(err, errB), ErrDomain)
			return
		}
		require.GreaterOrEqual(t, float64(a), float64(b))
		require.GreaterOrEqual(t, float64(b), c)
		require.Equal(t, link == SurgeRating, min(x, y) <= t2)
	})
}

// FuzzCheckStart: no demand panics, the verdict is that of the weakest link,
// and the margin of the cut-off says what the dip says.
func FuzzCheckStart(f *testing.F) {
	f.Add(1500.0, 2500.0, 1000.0, 2300.0, 0.6, 12.6, 10e-3, 9.5)
	f.Add(1e6, 1e6, 1e6, 1e6, 0.6, 12.6, 10e-3, 9.5)
	f.Fuzz(func(t *testing.T, s1, s2, p1, p2, lasts, voc, r, start float64) {
		sys := system12V
		sys.Source = Source{OpenCircuit: unit.Voltage(voc), Battery: unit.Resistance(r)}
		sys.CutOff.Start = unit.Voltage(start)
		d := Demand{
			Range[ApparentPower]{Low: ApparentPower(s1), High: ApparentPower(s2)},
			Range[unit.Power]{Low: unit.Power(p1), High: unit.Power(p2)},
		}
		c, err := sys.CheckStart(d, unit.Time(lasts))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		assert.Equal(t, c.Verdict() == Passes, c.Weakest().Margin.Low >= 1)
		assert.LessOrEqual(t, c.CutOff.Margin.Low, c.Collapse.Margin.Low)
		assert.LessOrEqual(t, c.Weakest().Margin.Low, c.Weakest().Margin.High)
		if m := c.CutOff.Margin.Low; math.Abs(m-1) > 1e-9 && float64(c.Limit) > voc/2 {
			assert.Equal(t, m > 1, c.Voltage.Low > c.Limit)
		}
	})
}

// FuzzRunDown: more power never lasts longer, and what is drawn and what is
// left make the capacity.
func FuzzRunDown(f *testing.F) {
	f.Add(12.8, 12e-3, 11.6, 720e3, 1500.0, 10.5)
	f.Add(12.8, 12e-3, 11.6, 720e3, 3050.0, 5.0)
	f.Fuzz(func(t *testing.T, voc, r, empty, q, p, cut float64) {
		s := Source{OpenCircuit: unit.Voltage(voc), Battery: unit.Resistance(r)}
		a, err := s.RunDown(unit.Voltage(empty), unit.Charge(q), unit.Power(p), unit.Voltage(cut))
		if err != nil {
			require.True(t, errors.Is(err, ErrDomain) || errors.Is(err, ErrCollapse))
			return
		}
		require.False(t, math.IsNaN(float64(a.Time)))
		require.GreaterOrEqual(t, float64(a.Time), 0.0)
		require.InEpsilon(t, q, float64(a.Drawn)+a.Left*q, 1e-9)
		require.True(t, a.Left >= -1e-12 && a.Left <= 1)
		b, err := s.RunDown(unit.Voltage(empty), unit.Charge(q), unit.Power(1.1*p), unit.Voltage(cut))
		if err == nil {
			require.LessOrEqual(t, float64(b.Time), float64(a.Time)*(1+1e-6))
		}
	})
}
