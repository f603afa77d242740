package inverter

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestPowerFactorTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/power_factor.csv") {
		if row.HasParam("slip") {
			row.Expected(quarterHorseFigure(t, row))
			continue
		}
		c, err := Correct(watts(row, "P"), row.Param("pf1", ""), row.Param("pf2", ""), volts(row, "V"), unit.Frequency(row.Param("f", "Hz")))
		require.NoError(t, err, row.Source())
		got, ok := map[string]float64{
			"capacitance":      1e6 * float64(c.Capacitance),
			"reactive after":   float64(c.After.Reactive),
			"apparent before":  float64(c.Before.Apparent),
			"current before":   float64(c.Was),
			"current after":    float64(c.Is),
			"capacitor rating": float64(c.Rating),
		}[row.Text("quantity")]
		require.True(t, ok, row.Source())
		row.Expected(got)
		if row.Has("wrong") {
			row.Rejects("wrong", got, 0.1)
		}
	}
}

// quarterHorseFigure computes a figure of the motor from what meters without
// any error would read.
func quarterHorseFigure(t *testing.T, row reftest.Row) float64 {
	t.Helper()
	v := row.Param("V", "V")
	m := quarterHorse{row.Param("slip", "")}
	z, _, torque := m.at(1)
	l, err := Spectrum{0, unit.Voltage(v * math.Sqrt2)}.Load(func(int) complex128 { return z })
	require.NoError(t, err)
	r := ACReadings{Voltage: Exactly(unit.Voltage(v)), Current: Exactly(l.Current), Real: Exactly(l.Real)}
	a, err := r.Load()
	require.NoError(t, err)
	gap := torque * float64(l.Current*l.Current)
	speed := (1 - m.slip) * 60 * math.Pi
	switch q := row.Text("quantity"); q {
	case "motor current":
		return float64(l.Current)
	case "motor power factor":
		return a.PowerFactor.Mid()
	case "motor real power":
		return float64(a.Real.Mid())
	case "motor apparent power":
		return float64(a.Apparent.Mid())
	case "motor reactive power":
		return float64(a.Reactive.Mid())
	case "motor air-gap torque":
		return gap
	case "motor shaft power":
		return gap*speed - 24 - 13
	case "motor shaft torque":
		return gap - (24+13)/speed
	case "motor capacitor to unity":
		c, err := r.Capacitor(1, 60)
		require.NoError(t, err)
		return 1e6 * float64(c.Mid())
	default:
		t.Fatalf("%s: no test for %q", row.Source(), q)
		return 0
	}
}

func TestMeterFieldTable(t *testing.T) {
	amperes := func(row reftest.Row, name string) unit.Current { return unit.Current(row.Param(name, "A")) }
	for _, row := range reftest.Rows(t, "inverter/meter_field.csv") {
		var got float64
		switch q := row.Text("quantity"); q {
		case "apparent power":
			x, err := Triangle(watts(row, "P"), row.Param("pf", ""))
			require.NoError(t, err)
			got = float64(x.Apparent)
		case "current":
			x, err := MeteredPoint{volts(row, "V"), watts(row, "P"), row.Param("pf", ""), 0, 48, 0.9}.Show()
			require.NoError(t, err)
			got = float64(x.Current)
		case "mean power", "energy a day":
			p, err := MeanPower(unit.Energy(row.Param("E", "kWh"))*KilowattHour, hours(row, "t"))
			require.NoError(t, err)
			if got = float64(p); q == "energy a day" {
				got *= float64(Day) / float64(KilowattHour)
			}
		case "run time":
			x, err := ShortcutRunTime(unit.Energy(row.Param("E", "Wh"))*WattHour, watts(row, "P"))
			require.NoError(t, err)
			got = float64(x / Hour)
		case "start over run":
			x, seen, err := StartRatio(row.Param("start", ""), row.Param("run", ""))
			require.NoError(t, err)
			assert.False(t, seen, row.Source())
			got = x
		case "ac apparent power":
			l, err := ACReadings{Voltage: Exactly(volts(row, "V")), Current: Exactly(amperes(row, "I")), PowerFactor: Exactly(0.8)}.Load()
			require.NoError(t, err)
			got = float64(l.Apparent.Mid())
		case "dc power":
			p, err := DCReadings{Exactly(volts(row, "V")), Exactly(amperes(row, "I"))}.Power()
			require.NoError(t, err)
			got = float64(p.Mid())
		case "dc current if the label were all":
			i, err := ShortcutCurrent(unit.Power(row.Param("V", "V")*row.Param("I", "A")), volts(row, "Vdc"))
			require.NoError(t, err)
			got = float64(i)
		default:
			t.Fatalf("%s: no test for %q", row.Source(), q)
		}
		row.Expected(got)
		if row.Has("claim") {
			row.Rejects("claim", got, 0.2)
		}
	}
}

// ±(1 % + 3 digits of 0.1 V) at 120.0 V is 1.5 V.
func TestAccuracy(t *testing.T) {
	r, err := Accuracy[unit.Voltage]{0.01, 3, 0.1}.Of(120)
	require.NoError(t, err)
	assert.InDelta(t, 118.5, float64(r.Low), 1e-12)
	assert.InDelta(t, 121.5, float64(r.High), 1e-12)
	r, err = Accuracy[unit.Voltage]{0.01, 3, 0.1}.Of(0.2)
	require.NoError(t, err)
	assert.Zero(t, r.Low, "no reading stands for less than nothing")
	exact, err := Accuracy[unit.Voltage]{}.Of(120)
	require.NoError(t, err)
	assert.Equal(t, Exactly[unit.Voltage](120), exact)
	_, err = Accuracy[unit.Voltage]{1.5, 0, 0}.Of(120)
	domainError(t, err, "accuracy 150 %, want 0 % to 20 %")
	_, err = Accuracy[unit.Voltage]{0.01, 3, 0}.Of(120)
	domainError(t, err, "step of the last digit 0, want what one digit is")
	_, err = Accuracy[unit.Voltage]{0.01, 101, 1}.Of(120)
	domainError(t, err, "digits")
	for _, x := range strange {
		_, err = Accuracy[unit.Voltage]{x, 1, 1}.Of(120)
		require.ErrorIs(t, err, ErrDomain)
		_, err = Accuracy[unit.Voltage]{0, 1, unit.Voltage(x)}.Of(120)
		require.ErrorIs(t, err, ErrDomain)
		_, err = Accuracy[unit.Voltage]{0, 0, 0}.Of(unit.Voltage(x))
		require.ErrorIs(t, err, ErrDomain)
	}
}

// A reactive power prints with its own unit.
func TestReactivePowerPrints(t *testing.T) {
	assert.Equal(t, "1315 var", fmt.Sprintf("%.0f", ReactivePower(1314.7)))
}

// span around a number.
func about[T ~float64](x, by float64) Range[T] {
	return Range[T]{Low: T(x * (1 - by)), High: T(x * (1 + by))}
}

// The true load lies in what its readings imply, at each corner of the spread.
func TestLoadHoldsCorners(t *testing.T) {
	r := ACReadings{Voltage: about[unit.Voltage](118, 0.01), Current: about[unit.Current](6.6, 0.02), Real: about[unit.Power](520, 0.03)}
	l, err := r.Load()
	require.NoError(t, err)
	c, err := r.Capacitor(0.95, 60)
	require.NoError(t, err)
	for i := range 8 {
		pick := func(bit int, lo, hi float64) float64 {
			if i>>bit&1 == 0 {
				return lo
			}
			return hi
		}
		v := pick(0, float64(r.Voltage.Low), float64(r.Voltage.High))
		a := pick(1, float64(r.Current.Low), float64(r.Current.High))
		p := pick(2, float64(r.Real.Low), float64(r.Real.High))
		q := math.Sqrt(v*v*a*a - p*p)
		assert.True(t, float64(l.Apparent.Low) <= v*a*(1+1e-12) && v*a <= float64(l.Apparent.High)*(1+1e-12))
		assert.True(t, l.PowerFactor.Low <= p/(v*a)*(1+1e-12) && p/(v*a) <= l.PowerFactor.High*(1+1e-12))
		assert.True(t, float64(l.Reactive.Low) <= q*(1+1e-12) && q <= float64(l.Reactive.High)*(1+1e-12))
		exact, err := Correct(unit.Power(p), p/(v*a), 0.95, unit.Voltage(v), 60)
		require.NoError(t, err)
		assert.True(t, c.Low <= exact.Capacitance && exact.Capacitance <= c.High)
	}
}

func TestContradictions(t *testing.T) {
	r := ACReadings{Voltage: about[unit.Voltage](120, 0.01), Current: about[unit.Current](4, 0.01), Real: about[unit.Power](520, 0.01)}
	_, err := r.Load()
	require.ErrorIs(t, err, ErrContradiction, "520 W of 480 VA")
	r.Real = about[unit.Power](485, 0.02)
	l, err := r.Load()
	require.NoError(t, err, "within the spread")
	assert.InDelta(t, 1, l.PowerFactor.High, 0)
	assert.LessOrEqual(t, float64(l.Real.High), float64(l.Apparent.High))
	assert.Zero(t, l.Reactive.Low)

	d := DCReadings{Exactly[unit.Voltage](12.4), Exactly[unit.Current](40)}
	_, err = d.Efficiency(Exactly[unit.Power](520))
	require.ErrorIs(t, err, ErrContradiction, "520 W of 496 W")
	e, err := d.Efficiency(about[unit.Power](430, 0.05))
	require.NoError(t, err)
	assert.InDelta(t, 430*0.95/496, e.Low, 1e-12)
	assert.InDelta(t, 430*1.05/496, e.High, 1e-12)
	e, err = d.Efficiency(about[unit.Power](490, 0.05))
	require.NoError(t, err)
	assert.InDelta(t, 1, e.High, 0)
	dead := DCReadings{Exactly[unit.Voltage](12.4), Exactly[unit.Current](0)}
	_, err = dead.Efficiency(Exactly[unit.Power](0))
	domainError(t, err, "dc power")
	r.Real = Range[unit.Power]{}
	_, err = r.Load()
	domainError(t, err, "real power 0 W, want a watt meter's reading")
}

// 12.60 V at 2 A and 11.80 V at 82 A are 10 mΩ; meters of 0.5 % and 2 % know
// it within a third.
func TestSag(t *testing.T) {
	light := DCReadings{Exactly[unit.Voltage](12.6), Exactly[unit.Current](2)}
	heavy := DCReadings{Exactly[unit.Voltage](11.8), Exactly[unit.Current](82)}
	s, err := light.Sag(heavy)
	require.NoError(t, err)
	assert.InDelta(t, 10e-3, float64(s.Resistance.Mid()), 1e-9)
	assert.InDelta(t, 12.62, float64(s.OpenCircuit.Mid()), 1e-9)
	spread := func(v, i float64) DCReadings {
		return DCReadings{about[unit.Voltage](v, 5e-3), about[unit.Current](i, 2e-2)}
	}
	s, err = spread(12.6, 2).Sag(spread(11.8, 82))
	require.NoError(t, err)
	assert.InDelta(t, 8.3e-3, float64(s.Resistance.Low), 0.1e-3)
	assert.InDelta(t, 11.8e-3, float64(s.Resistance.High), 0.1e-3)
	assert.True(t, s.OpenCircuit.Low < 12.62 && s.OpenCircuit.High > 12.62)
	// The source that gave the readings gives them back.
	back := Source{OpenCircuit: 12.62, Battery: 10 * Milliohm}
	p, err := back.Operate(11.8 * 82)
	require.NoError(t, err)
	assert.InDelta(t, 82, float64(p.Current), 1e-9)
	assert.InDelta(t, 11.8, float64(p.Voltage), 1e-9)

	_, err = spread(12.6, 80).Sag(spread(12.5, 82))
	require.ErrorIs(t, err, ErrTooClose)
	_, err = light.Sag(light)
	require.ErrorIs(t, err, ErrTooClose)
	_, err = DCReadings{Exactly[unit.Voltage](11), Exactly[unit.Current](2)}.Sag(heavy)
	require.ErrorIs(t, err, ErrContradiction)
	s, err = spread(12.0, 2).Sag(spread(11.95, 82))
	require.NoError(t, err)
	assert.Zero(t, s.Resistance.Low, "the spread allows for none")
}

func TestStartRatio(t *testing.T) {
	_, seen, err := StartRatio[unit.Current](17.49, 3.6)
	require.NoError(t, err)
	assert.True(t, seen)
	_, seen, err = StartRatio(2.5, 1.0)
	require.NoError(t, err)
	assert.True(t, seen)
	for _, x := range append([]float64{0, 1e7}, strange...) {
		_, _, err = StartRatio(x, 1)
		require.ErrorIs(t, err, ErrDomain)
		_, _, err = StartRatio(1, x)
		require.ErrorIs(t, err, ErrDomain)
	}
}

func TestMeterBounds(t *testing.T) {
	good := ACReadings{Voltage: Exactly[unit.Voltage](120), Current: Exactly[unit.Current](5), Real: Exactly[unit.Power](400)}
	point := MeteredPoint{120, 400, 0.7, 0, 12, 0.9}
	_, err := point.Show()
	require.NoError(t, err)
	for _, x := range strange {
		for i := range 3 {
			for _, hi := range []bool{false, true} {
				r := good
				set := func(lo, high *float64) {
					if hi {
						*high = x
					} else {
						*lo = x
					}
				}
				switch i {
				case 0:
					set((*float64)(&r.Voltage.Low), (*float64)(&r.Voltage.High))
				case 1:
					set((*float64)(&r.Current.Low), (*float64)(&r.Current.High))
				default:
					set((*float64)(&r.Real.Low), (*float64)(&r.Real.High))
				}
				_, err := r.Load()
				require.ErrorIs(t, err, ErrDomain)
				_, err = r.Capacitor(1, 60)
				require.ErrorIs(t, err, ErrDomain)
			}
		}
		_, err = ACReadings{Voltage: good.Voltage, Current: good.Current, PowerFactor: Exactly(x)}.Load()
		require.ErrorIs(t, err, ErrDomain)
		_, err = good.Capacitor(x, 60)
		require.ErrorIs(t, err, ErrDomain)
		_, err = good.Capacitor(1, unit.Frequency(x))
		require.ErrorIs(t, err, ErrDomain)
		for i := range 6 {
			a := [6]float64{120, 400, 0.7, 1.2, 12, 0.9}
			a[i] = x
			_, err = MeteredPoint{unit.Voltage(a[0]), unit.Power(a[1]), a[2], a[3], unit.Voltage(a[4]), a[5]}.Show()
			require.ErrorIs(t, err, ErrDomain)
		}
		for i := range 5 {
			a := [5]float64{4000, 0.8, 0.95, 120, 60}
			a[i] = x
			_, err = Correct(unit.Power(a[0]), a[1], a[2], unit.Voltage(a[3]), unit.Frequency(a[4]))
			require.ErrorIs(t, err, ErrDomain)
		}
		_, err = Triangle(unit.Power(x), 0.8)
		require.ErrorIs(t, err, ErrDomain)
		_, err = Triangle(100, x)
		require.ErrorIs(t, err, ErrDomain)
		for _, d := range []DCReadings{
			{Exactly(unit.Voltage(x)), Exactly[unit.Current](4)},
			{Exactly[unit.Voltage](12), Exactly(unit.Current(x))},
			{Range[unit.Voltage]{Low: 13, High: 12}, Exactly[unit.Current](4)},
		} {
			_, err = d.Power()
			require.ErrorIs(t, err, ErrDomain)
			_, err = d.Efficiency(Exactly[unit.Power](10))
			require.ErrorIs(t, err, ErrDomain)
			_, err = d.Sag(d)
			require.ErrorIs(t, err, ErrDomain)
		}
		_, err = MeanPower(unit.Energy(x), Hour)
		require.ErrorIs(t, err, ErrDomain)
		_, err = MeanPower(1, unit.Time(x))
		require.ErrorIs(t, err, ErrDomain)
		_, err = ShortcutRunTime(unit.Energy(x), 1)
		require.ErrorIs(t, err, ErrDomain)
		_, err = ShortcutRunTime(1*KilowattHour, unit.Power(x))
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err = Correct(4000, 0.8, 0.79, 120, 60)
	domainError(t, err, "power factor wanted 0.79, want 0.8 to 1")
	_, err = Correct(4000, 80, 95, 120, 60)
	domainError(t, err, "power factor 80, want 0.05 to 1")
	good.Real = Range[unit.Power]{Low: 410, High: 400}
	_, err = good.Load()
	domainError(t, err, "want a low end not above the high end")
	_, err = MeanPower(104, 670)
	domainError(t, err, "energy 0.0288889 Wh (104 J), want 1 Wh to 1e+09 Wh")
	_, err = MeanPower(104*KilowattHour, 59)
	domainError(t, err, "time")
	_, err = ShortcutRunTime(420, 800)
	domainError(t, err, "usable energy 0.116667 Wh (420 J), want 1 Wh to 1e+09 Wh")
}

// FuzzMeters: what the meters show of a point implies that point again, however
// wide they are, and a heater on a stepped wave deceives an averaging clamp.
func FuzzMeters(f *testing.F) {
	f.Add(false, 0.3, 0.2, 0.6, 0.1, 0.8, 0.02)
	f.Add(true, 120.0, 246.2, 0.62, 1.2, 12.0, 0.9)
	f.Add(true, 120.0, 0.0, 1.0, 1.2, 12.0, 1.0)
	f.Add(true, math.NaN(), math.Inf(1), 0.5, 0.0, 12.0, 0.9)
	seeds(f, 200, 6)
	f.Fuzz(func(t *testing.T, raw bool, v, p, pf, form, dc, share float64) {
		v = fold(raw, v, leastAC, mostAC)
		p = fold(raw, p, 1, 5000)
		pf = fold(raw, pf, leastPF, 1)
		form = fold(raw, form, 1, 3)
		dc = fold(raw, dc, 10, 60)
		share = fold(false, share, 0, 0.1)
		point := MeteredPoint{unit.Voltage(v), unit.Power(p), pf, form, unit.Voltage(dc), 0.9}
		m, err := point.Show()
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		if form > 0 {
			require.InEpsilon(t, float64(m.Current)*sineForm/form+1e-300, float64(m.Averaging)+1e-300, 1e-12)
		}
		a := ACReadings{Voltage: about[unit.Voltage](v, share), Current: about[unit.Current](float64(m.Current), share), Real: about[unit.Power](p, share)}
		l, err := a.Load()
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		const slack = 1e-6
		in := func(lo, x, hi float64) {
			require.True(t, lo <= x*(1+slack)+slack && x <= hi*(1+slack)+slack, "%v in %v to %v", x, lo, hi)
		}
		triangle, err := Triangle(unit.Power(p), pf)
		require.NoError(t, err)
		in(float64(l.Apparent.Low), float64(m.Apparent), float64(l.Apparent.High))
		in(float64(l.Real.Low), p, float64(l.Real.High))
		in(l.PowerFactor.Low, pf, l.PowerFactor.High)
		in(float64(l.Reactive.Low)*(1-1e-4), float64(triangle.Reactive)+1e-4*float64(triangle.Apparent), math.Inf(1))
		in(0, float64(triangle.Reactive), float64(l.Reactive.High)+1e-4*float64(triangle.Apparent))
		require.InEpsilon(t, float64(triangle.Apparent), math.Hypot(p, float64(triangle.Reactive)), 1e-9)
		d := DCReadings{about[unit.Voltage](dc, share), about[unit.Current](float64(m.DC), share)}
		e, err := d.Efficiency(l.Real)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		in(e.Low, 0.9, e.High)
		c, err := Correct(unit.Power(p), pf, 1, unit.Voltage(v), 60)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		r, err := a.Capacitor(1, 60)
		require.NoError(t, err)
		require.LessOrEqual(t, float64(c.Capacitance), float64(r.High)*(1+1e-6)+1e-6)
	})
}

// A power factor that was read, or is supposed, stays what it is: watts and vars
// follow from it.
func TestLoadByPowerFactor(t *testing.T) {
	r := ACReadings{
		Voltage: Range[unit.Voltage]{Low: 116, High: 118}, Current: Range[unit.Current]{Low: 3.9, High: 4.1},
		PowerFactor: Range[float64]{Low: 0.6, High: 0.8},
	}
	l, err := r.Load()
	require.NoError(t, err)
	assert.Equal(t, r.PowerFactor, l.PowerFactor)
	closeTo(t, 0.6*116*3.9, float64(l.Real.Low), 1e-12)
	closeTo(t, 0.8*118*4.1, float64(l.Real.High), 1e-12)
	closeTo(t, 0.6*116*3.9, float64(l.Reactive.Low), 1e-12) // sin of 0.8
	closeTo(t, 0.8*118*4.1, float64(l.Reactive.High), 1e-12)
	r.Real = Exactly[unit.Power](300)
	_, err = r.Load()
	domainError(t, err, "power factor beside watts")
}

// Loads taken for each other were said to be too close.
func TestSagOfLoadsTakenForEachOther(t *testing.T) {
	light := DCReadings{Voltage: Exactly[unit.Voltage](25.3), Current: Exactly[unit.Current](1)}
	heavy := DCReadings{Voltage: Exactly[unit.Voltage](24.1), Current: Exactly[unit.Current](26)}
	_, err := light.Sag(heavy)
	require.NoError(t, err)
	_, err = heavy.Sag(light)
	domainError(t, err, "current of the heavy load 1 A")
}
