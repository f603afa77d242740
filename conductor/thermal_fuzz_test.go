package conductor

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/unit"
)

// fuzzModel is a wire of some size that is cooled somehow.
func fuzzModel(area, loss, ambient float64) ThermalModel {
	a := 0.2 * math.Exp(fold(area, 0, math.Log(1000))) // (mm²)
	rho, alpha := Copper.at20()
	return ThermalModel{
		Resistance:   ResistanceLaw{ResistancePerLength(rho / a * 1e6), Celsius(20), alpha},
		HeatCapacity: HeatCapacityPerLength(3.45 * a),
		Loss:         ThermalConductance(math.Round(fold(loss, 0, 3)*1e6) / 1e6), // 0, or 1 µW/(K·m) and more
		Ambient:      Celsius(fold(ambient, -60, 80)),
	}
}

// The first law: what the conductor has taken up is what the current has put
// in less what has been lost, by quadrature over the time.
func FuzzEnergyBalance(f *testing.F) {
	f.Add(0.5, 0.1, 0.7, 0.3, 0.5, 0.2)
	f.Add(0.3, 0.0, 0.2, 0.5, 0.9, 0.8)
	f.Add(0.9, 0.99, 0.7, 0.999, 0.01, 0.0)
	f.Fuzz(func(t *testing.T, area, loss, ambient, start, current, time float64) {
		m := fuzzModel(area, loss, ambient)
		t0 := Celsius(fold(start, -60, 250))
		i := unit.Current(fold(current, 0, 30) * float64(m.HeatCapacity) / 3.45) // up to 30 A/mm²
		tau := float64(m.HeatCapacity) / max(float64(m.Loss), 0.01)
		span := fold(time, 0, min(3*tau, 1000))
		end, err := m.After(t0, i, unit.Time(span))
		if err != nil {
			require.ErrorIs(t, err, ErrTooHot)
			return
		}
		power := func(s float64) float64 {
			at, err := m.After(t0, i, unit.Time(s))
			require.NoError(t, err)
			return float64(i)*float64(i)*float64(m.Resistance.Resist(at)) - float64(m.Loss)*float64(at-m.Ambient)
		}
		put := quad.Fixed(power, 0, span, 40, nil, 0)
		stored := float64(m.HeatCapacity) * float64(end-t0)
		// Both are measured against the heat that the conductor holds, as a
		// difference of two temperatures in kelvin has lost digits.
		assert.InDelta(t, put, stored, 1e-9*float64(m.HeatCapacity)*1000)
	})
}

// A greater current is hotter at every time, and from cold a longer time too.
func FuzzTemperatureIsMonotone(f *testing.F) {
	f.Add(0.5, 0.1, 0.7, 0.3, 0.5, 0.2, 0.4)
	f.Add(0.1, 0.0, 0.1, 0.9, 0.91, 0.9, 0.95)
	f.Fuzz(func(t *testing.T, area, loss, ambient, i1, i2, t1, t2 float64) {
		m := fuzzModel(area, loss, ambient)
		c := float64(m.HeatCapacity)
		slow, fast := fold(i1, 0, 30)*c/3.45, fold(i2, 0, 30)*c/3.45
		early, late := fold(t1, 0, 1000), fold(t2, 0, 1000)
		slow, fast = min(slow, fast), max(slow, fast)
		early, late = min(early, late), max(early, late)
		at := func(i, s float64) float64 {
			got, err := m.After(m.Ambient, unit.Current(i), unit.Time(s))
			if err != nil {
				require.ErrorIs(t, err, ErrTooHot)
				return math.Inf(1)
			}
			return float64(got)
		}
		const rounding = 1e-9
		assert.LessOrEqual(t, at(slow, late), at(fast, late)+rounding)
		assert.LessOrEqual(t, at(fast, early), at(fast, late)+rounding)
		steady, err := m.Steady(unit.Current(fast))
		if err == nil {
			assert.LessOrEqual(t, at(fast, late), float64(steady)+1e-6, "it does not pass where it settles")
		}
	})
}

// A cycle's limit lies between rest and continuous current, and no number of
// cycles from cold passes it.
func FuzzCyclicLimit(f *testing.F) {
	f.Add(0.5, 0.1, 0.7, 0.3, 0.5, 0.2, 3)
	f.Add(0.2, 0.9, 0.0, 0.99, 0.01, 0.9, 1000)
	f.Fuzz(func(t *testing.T, area, loss, ambient, current, on, rest float64, n int) {
		m := fuzzModel(area, loss, ambient)
		c := LoadCycle{
			On: unit.Time(fold(on, 0.1, 1000)), Rest: unit.Time(fold(rest, 0.1, 1000)),
			Current: unit.Current(fold(current, 0, 30) * float64(m.HeatCapacity) / 3.45),
		}
		limit, err := m.CyclicLimit(c)
		if err != nil {
			assert.True(t, errors.Is(err, ErrTooHot) || errors.Is(err, ErrRunaway), "%v", err)
			return
		}
		const rounding = 1e-6
		assert.GreaterOrEqual(t, float64(limit.AfterRest), float64(m.Ambient)-rounding)
		assert.GreaterOrEqual(t, float64(limit.AfterOn), float64(limit.AfterRest)-rounding)
		if steady, err := m.Steady(c.Current); err == nil {
			assert.LessOrEqual(t, float64(limit.AfterOn), float64(steady)+rounding)
		}
		n = 1 + (n&math.MaxInt)%10000
		some, err := m.AfterCycles(m.Ambient, c, n)
		require.NoError(t, err, "what has a limit reaches it from below")
		assert.LessOrEqual(t, float64(some.AfterOn), float64(limit.AfterOn)+rounding)
		more, err := m.AfterCycles(m.Ambient, c, n+1)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, float64(more.AfterOn), float64(some.AfterOn)-rounding)
	})
}

// In free air: heat in is heat out; hotter conductors carry more, hotter air
// less, and the current brings the temperature.
func FuzzAirCable(f *testing.F) {
	f.Add(0.3, 0.5, 0.5, 0.9, 0.6, 0.5, byte(0))
	f.Add(0.01, 0.0, 0.9, 0.0, 0.1, 0.01, byte(1))
	f.Fuzz(func(t *testing.T, diameter, wall, rho, emissivity, ambient, rise float64, convection byte) {
		d := 0.2e-3 * math.Exp(fold(diameter, 0, math.Log(150)))
		c := AirCable{
			unit.Length(d), unit.Length(d * (1 + fold(wall, 0, 3))), ThermalResistivity(fold(rho, 0.1, 10)),
			fold(emissivity, 0, 1), Celsius(fold(ambient, -60, 80)), ChurchillChu + Convection(convection%3),
		}
		tc := c.Ambient + unit.Temperature(fold(rise, 0.01, 200))
		law := ResistanceLaw{ResistancePerLength(1.7e-8 / (d * d)), Celsius(20), 0.00393}
		q, surface, err := c.Heat(tc)
		require.NoError(t, err)
		assert.True(t, surface >= c.Ambient && surface <= tc, "surface %v", surface)
		i, err := c.Ampacity(law.Resist(tc), tc)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(q), float64(i)*float64(i)*float64(law.Resist(tc)), 1e-9, "energy balance")
		_, back, err := c.Temperature(i, law)
		require.NoError(t, err)
		assert.InDelta(t, float64(tc), float64(back), 1e-4)

		more, _, err := c.Heat(tc + 10)
		require.NoError(t, err)
		assert.Greater(t, more, q)
		warm := c
		warm.Ambient += 0.005
		less, _, err := warm.Heat(tc)
		require.NoError(t, err)
		assert.Less(t, less, q)
	})
}

// The size found has the area, and the one before it has not.
func FuzzMarineSize(f *testing.F) {
	f.Add(20.0, 60.0, 0.36)
	f.Add(1000.0, 100.0, 1.2)
	f.Fuzz(func(t *testing.T, feet, amperes, volts float64) {
		run := MarineRun{unit.Length(feet) * Foot, unit.Current(amperes), unit.Voltage(volts), MarineK}
		want, err := run.Area()
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		const rounding = 1e-12
		s, err := run.SmallestSAE()
		if err != nil {
			require.ErrorIs(t, err, ErrNoSize)
			assert.Greater(t, float64(want/CircularMil), 205500*(1-rounding))
			return
		}
		drop, err := run.Drop(must[unit.Area](t)(SAEArea(s)))
		require.NoError(t, err)
		assert.LessOrEqual(t, float64(drop), volts*(1+rounding))
		before := AWG(int(s.number) + 1)
		for before.IsValid() && before.Compare(AWG(18)) >= 0 {
			if a, err := SAEArea(before); err == nil {
				drop, err := run.Drop(a)
				require.NoError(t, err)
				assert.Greater(t, float64(drop), volts*(1-rounding))
				break
			}
			before = AWG(int(before.number) + 1)
		}
		awg, err := run.SmallestAWG()
		require.NoError(t, err)
		assert.LessOrEqual(t, awg.Compare(s), 0, "AWG has more metal than SAE")
	})
}

// Whatever is put in, an answer or an error comes out, and a good answer is a
// finite number.
func TestThermalNothingPanics(t *testing.T) {
	odd := []float64{0, -1, 1e-3, 1, 300, 350, 1e5, 1e-300, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)}
	finite := func(err error, xs ...float64) {
		for _, x := range xs {
			if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
				t.Errorf("result %v without error", x)
			}
		}
		if err != nil && err.Error() == "" {
			t.Error("an error that says nothing")
		}
	}
	for _, a := range odd {
		for _, b := range odd {
			for _, c := range odd {
				i, s, at := unit.Current(a), unit.Time(b), unit.Temperature(c)
				law := ResistanceLaw{ResistancePerLength(a), at, b}
				m := ThermalModel{ResistanceLaw{ResistancePerLength(a), 300, 0.003}, HeatCapacityPerLength(b), ThermalConductance(c), 300}
				for _, m := range []ThermalModel{m, cable6, cold6, {law, 1, 1, 300}} {
					x, err := m.After(at, i, s)
					finite(err, float64(x))
					x, err = m.Steady(i)
					finite(err, float64(x))
					r, err := m.RunawayCurrent()
					finite(err, float64(r))
					u, err := m.TimeTo(at, unit.Temperature(b), i)
					finite(err, float64(u))
					y, err := m.AfterCycles(at, LoadCycle{s, s, i, unit.Current(c)}, 1000)
					finite(err, float64(y.AfterOn), float64(y.AfterRest))
					y, err = m.CyclicLimit(LoadCycle{s, unit.Time(c), i, i})
					finite(err, float64(y.AfterOn), float64(y.AfterRest))
				}
				p := HeatPath{ThermalResistance(a), unit.Temperature(b)}
				j, err := p.Ampacity(ResistancePerLength(c), at, 300)
				finite(err, float64(j))
				x, err := p.Temperature(i, law, at)
				finite(err, float64(x))
				air := AirCable{unit.Length(a), unit.Length(b), 5, c, 300, ChurchillChu}
				for _, air := range []AirCable{air, {1e-3, 2e-3, ThermalResistivity(a), 0.9, at, QuarterPower}, {1e-3, 1e-3, 0, b, at, IECSurface}} {
					q, ts, err := air.Heat(at)
					finite(err, float64(q), float64(ts))
					ts, tc, err := air.Temperatures(HeatPerLength(b))
					finite(err, float64(ts), float64(tc))
					ts, tc, err = air.Temperature(i, law)
					finite(err, float64(ts), float64(tc))
				}
				rated := RatedCurrent{i, at, unit.Temperature(b)}
				x, err = rated.Temperature(unit.Current(c), at)
				finite(err, float64(x))
				x, err = rated.AircraftEstimate(unit.Current(b))
				finite(err, float64(x))
				g, err := rated.Loss(ResistancePerLength(c))
				finite(err, float64(g))
				h, err := DutyCycle{unit.Time(a), s}.HeatingFactor(unit.Time(c))
				finite(err, h)
				v, err := MarineRun{unit.Length(a), unit.Current(b), unit.Voltage(c), MarineK}.Area()
				finite(err, float64(v))
				z, err := Buried(ThermalResistivity(a), unit.Length(b), unit.Length(c))
				finite(err, float64(z))
				z, err = Layer(ThermalResistivity(a), unit.Length(b), unit.Length(c))
				finite(err, float64(z))
			}
		}
	}
}
