package inverter

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// fold maps any number into lo to hi, so that what a fuzzer tries is worth
// trying; raw leaves it as it is.
func fold(raw bool, x, lo, hi float64) float64 {
	if raw {
		return x
	}
	if y := math.Abs(math.Mod(x, 1)); y <= 1 {
		return lo + (hi-lo)*y
	}
	return lo
}

// seeds adds n inputs of k numbers between 0 and 1, the same in every run.
func seeds(f *testing.F, n, k int) {
	f.Helper()
	r := rand.New(rand.NewPCG(1, 2))
	for range n {
		in := []any{false}
		for range k {
			in = append(in, r.Float64())
		}
		f.Add(in...)
	}
}

// FuzzLoss: dc power rises with ac power, covers idle draw and output, comes
// back through the inverse, and no input panics.
func FuzzLoss(f *testing.F) {
	f.Add(true, 3000.0, 30.0, 0.02, 0.05, 1000.0, 1200.0)
	f.Add(true, 20.0, 0.0, 0.0, 0.0, 0.0, 0.0)
	f.Add(true, 100e3, 25e3, 1.0, 1.0, 1e6, 1e6)
	f.Add(true, math.NaN(), math.Inf(1), -1.0, 2.0, math.Inf(-1), math.NaN())
	seeds(f, 300, 6)
	f.Fuzz(func(t *testing.T, raw bool, rated, idle, v, r, p, s float64) {
		rated = fold(raw, rated, 20, 100e3)
		idle = fold(raw, idle, 0, mostIdle*rated)
		v = fold(raw, v, 0, 1)
		r = fold(raw, r, 0, 1)
		p = fold(raw, p, 0, 3*rated)
		s = fold(raw, s, p, 4*rated)
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
	f.Add(true, 3000.0, 0.01, 0.02, 0.05, 0.1, 0.5, 1.0)
	f.Add(true, 1000.0, 0.0, 0.0, 0.0, 0.2, 0.3, 0.9)
	seeds(f, 300, 7)
	f.Fuzz(func(t *testing.T, raw bool, rated, p0, v, r, a, b, c float64) {
		rated = fold(raw, rated, 20, 100e3)
		p0 = fold(raw, p0, 0, 0.25)
		v = fold(raw, v, 0, 1)
		r = fold(raw, r, 0, 1)
		a = fold(raw, a, 0.02, 0.5)
		b = fold(raw, b, 0.55, 1)
		c = fold(raw, c, 1.05, 2)
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
	f.Add(true, 1000.0, 10.0, 100.0, 0.8, 500.0, 0.9, 1000.0, 0.88)
	seeds(f, 300, 8)
	f.Fuzz(func(t *testing.T, raw bool, rated, idle, p1, e1, p2, e2, p3, e3 float64) {
		rated = fold(raw, rated, 20, 100e3)
		idle = fold(raw, idle, 0, 0.1*rated)
		p1 = fold(raw, p1, 0.02*rated, 0.3*rated)
		e1 = fold(raw, e1, 0.6, 0.95)
		p2 = fold(raw, p2, 0.3*rated, 0.7*rated)
		e2 = fold(raw, e2, 0.7, 0.98)
		p3 = fold(raw, p3, 0.7*rated, 1.5*rated)
		e3 = fold(raw, e3, 0.7, 0.98)
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
	f.Add(true, 12.6, 7e-3, 2e-3, 1e-3, 1500.0, 10.5)
	f.Add(true, 12.6, 10e-3, 0.0, 0.0, 3969.0, 6.3)
	f.Add(true, math.NaN(), math.Inf(1), -1.0, 2.0, math.Inf(-1), math.NaN())
	seeds(f, 300, 6)
	f.Fuzz(func(t *testing.T, raw bool, voc, rb, rc, rk, p, cut float64) {
		voc = fold(raw, voc, 9, 60)
		rb = fold(raw, rb, 1e-5, 0.1)
		rc = fold(raw, rc, 0, 0.05)
		rk = fold(raw, rk, 0, 0.01)
		p = fold(raw, p, 0, voc*voc/(4*rb))
		cut = fold(raw, cut, 5, 1.1*voc)
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
	f.Add(true, 3000.0, 6000.0, 5.0, 3750.0, 600.0, 1.0, 10.0)
	seeds(f, 300, 7)
	f.Fuzz(func(t *testing.T, raw bool, c, s1, t1, s2, t2, x, y float64) {
		c = fold(raw, c, 10, 10e3)
		s2 = fold(raw, s2, c, 2*c)
		s1 = fold(raw, s1, s2, 3*c)
		t1 = fold(raw, t1, 1e-3, 10)
		t2 = fold(raw, t2, t1+1e-3, 600)
		x = fold(raw, x, 0, 1000)
		y = fold(raw, y, 0, 1000)
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
	f.Add(true, 1500.0, 2500.0, 1000.0, 2300.0, 0.6, 12.6, 10e-3, 9.5)
	f.Add(true, 1e6, 1e6, 1e6, 1e6, 0.6, 12.6, 10e-3, 9.5)
	seeds(f, 300, 8)
	f.Fuzz(func(t *testing.T, raw bool, s1, s2, p1, p2, lasts, voc, r, start float64) {
		s1 = fold(raw, s1, 1, 10e3)
		s2 = fold(raw, s2, s1, 12e3)
		p1 = fold(raw, p1, 1, s1)
		p2 = fold(raw, p2, p1, s2)
		lasts = fold(raw, lasts, 0, 4)
		voc = fold(raw, voc, 9, 60)
		r = fold(raw, r, 1e-5, 0.1)
		start = fold(raw, start, 5, 10.5)
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
	f.Add(true, 12.8, 12e-3, 11.6, 720e3, 1500.0, 10.5)
	f.Add(true, 12.8, 12e-3, 11.6, 720e3, 3050.0, 5.0)
	seeds(f, 300, 6)
	f.Fuzz(func(t *testing.T, raw bool, voc, r, empty, q, p, cut float64) {
		voc = fold(raw, voc, 9, 60)
		r = fold(raw, r, 1e-5, 0.1)
		empty = fold(raw, empty, 0.6*voc, 0.99*voc)
		q = fold(raw, q, 1e4, 1e7)
		p = fold(raw, p, 1, voc*voc/(4*r))
		cut = fold(raw, cut, 5, voc)
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
