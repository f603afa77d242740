package battery

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

func TestVoltageModel(t *testing.T) {
	m := voltageModels(t)["lead 12 V"]
	assert.InDelta(t, 100, ampereHours(m.Capacity()), 1e-9)
	for _, p := range m.Points() {
		got := must[VoltagePoint](t)(m.At(p.StateOfCharge))
		assert.InDelta(t, float64(p.OpenCircuit), float64(got.OpenCircuit), 1e-14)
		assert.InDelta(t, float64(p.Resistance), float64(got.Resistance), 1e-16)
	}
	x := must[VoltagePoint](t)(m.At(0.375))
	assert.InDelta(t, 12.15, float64(x.OpenCircuit), 1e-12)
	assert.InDelta(t, 0.013, float64(x.Resistance), 1e-15)
	load := must[LoadPoint](t)(m.Voltage(0.375, 100))
	assert.InDelta(t, 10.85, float64(load.Voltage), 1e-12)
	assert.InDelta(t, 1085, float64(load.Power), 1e-9)
	back := must[LoadPoint](t)(m.VoltageAtPower(0.375, load.Power))
	assert.InDelta(t, 100, float64(back.Current), 1e-9, "there and back")
	_, err := m.Voltage(0.375, 1000)
	require.ErrorIs(t, err, ErrCollapse)
	_, err = m.VoltageAtPower(0.375, 3000)
	require.ErrorIs(t, err, ErrCollapse)
	for _, x := range junk {
		if !(x >= 0 && x <= 1) {
			_, err := m.At(x)
			refused(t, err)
			_, err = m.Voltage(x, 1)
			refused(t, err)
			_, err = m.VoltageAtPower(x, 1)
			refused(t, err)
			_, err = m.Voltage(0.5, unit.Current(x))
			refused(t, err)
		}
	}
	zero := VoltageModel{}
	assert.Zero(t, zero.Capacity())
	assert.Empty(t, zero.Points())
	_, err = zero.At(0.5)
	refused(t, err)
	_, err = zero.Voltage(0.5, 1)
	refused(t, err)
	_, err = zero.VoltageAtPower(0.5, 1)
	refused(t, err)
	_, err = zero.TripAtPower(100, 10)
	refused(t, err)
	_, err = zero.TripAtCurrent(100, 10)
	refused(t, err)
}

func TestNewVoltageModelRefuses(t *testing.T) {
	good := []VoltagePoint{{0, 11.6, 0.02}, {0.5, 12.2, 0.01}, {1, 12.8, 0.01}}
	m := must[VoltageModel](t)(NewVoltageModel(good, 100*AmpereHour))
	for name, change := range map[string]func([]VoltagePoint){
		"not from 0":        func(p []VoltagePoint) { p[0].StateOfCharge = 0.1 },
		"not to 1":          func(p []VoltagePoint) { p[2].StateOfCharge = 0.9 },
		"twice":             func(p []VoltagePoint) { p[1].StateOfCharge = 0 },
		"beyond":            func(p []VoltagePoint) { p[1].StateOfCharge = 1 },
		"NaN":               func(p []VoltagePoint) { p[1].StateOfCharge = math.NaN() },
		"falling voltage":   func(p []VoltagePoint) { p[2].OpenCircuit = 12.1 },
		"no voltage":        func(p []VoltagePoint) { p[0].OpenCircuit = 0 },
		"NaN voltage":       func(p []VoltagePoint) { p[1].OpenCircuit = unit.Voltage(math.NaN()) },
		"rising resistance": func(p []VoltagePoint) { p[2].Resistance = 0.011 },
		"no resistance":     func(p []VoltagePoint) { p[2].Resistance = 0 },
		"milliohms":         func(p []VoltagePoint) { p[0].Resistance = 20 },
	} {
		bad := append([]VoltagePoint(nil), good...)
		change(bad)
		_, err := NewVoltageModel(bad, 100*AmpereHour)
		refused(t, err, name)
	}
	for _, points := range [][]VoltagePoint{nil, good[:1], make([]VoltagePoint, 10001)} {
		_, err := NewVoltageModel(points, 100*AmpereHour)
		refused(t, err)
	}
	for _, x := range junk {
		_, err := NewVoltageModel(good, unit.Charge(x))
		refused(t, err)
	}
	good[1].OpenCircuit = 99
	assert.InDelta(t, 12.2, float64(must[VoltagePoint](t)(m.At(0.5)).OpenCircuit), 1e-12, "kept apart from the caller's slice")
}

func TestResistanceAtCharge(t *testing.T) {
	for _, x := range []struct{ soc, flat, want float64 }{{1, 3, 5}, {0, 3, 15}, {0.5, 3, 6.25}, {0.5, 2, 5.625}, {0.3, 1, 5}} {
		r := must[unit.Resistance](t)(ResistanceAtCharge(5*Milliohm, x.soc, x.flat))
		assert.InDelta(t, x.want, float64(r/Milliohm), 1e-12)
	}
	for _, x := range junk {
		if x != 1e-3 {
			_, err := ResistanceAtCharge(unit.Resistance(x), 0.5, 2)
			refused(t, err)
		}
		_, err := ResistanceAtCharge(0.005, 0.5, x)
		refused(t, err)
		if !(x >= 0 && x <= 1) {
			_, err = ResistanceAtCharge(0.005, x, 2)
			refused(t, err)
		}
	}
}

func TestVoltageModels(t *testing.T) {
	weak, strong, err := pair.VoltageModels(SagCondition{Temperature: Celsius(-10)})
	require.NoError(t, err)
	assert.Equal(t, pair.Rating().Capacity, weak.Capacity())
	r, _, err := pair.InternalResistance(0)
	require.NoError(t, err)
	for s := 0.0; s <= 1; s += 0.05 {
		v := must[Range[unit.Voltage]](t)(pair.OpenCircuit(s, Celsius(-10)))
		lo, hi := must[VoltagePoint](t)(weak.At(s)), must[VoltagePoint](t)(strong.At(s))
		assert.InDelta(t, float64(v.Low), float64(lo.OpenCircuit), 0.002)
		assert.InDelta(t, float64(v.High), float64(hi.OpenCircuit), 0.002)
		assert.InDelta(t, 2*float64(r.High)*(1+2*(1-s)*(1-s)*(1-s)), float64(lo.Resistance), 1e-9+1e-3*float64(r.High))
		assert.InDelta(t, 2*float64(r.Low)*(1+(1-s)*(1-s)*(1-s)), float64(hi.Resistance), 1e-9+1e-3*float64(r.High))
		cold := must[unit.Resistance](t)(ColdResistance(r.Low, Celsius(-10)))
		assert.InDelta(t, 2*float64(r.Low), float64(cold), 1e-12, "twice as much at -10 °C")
		a, errA := weak.Voltage(s, 100)
		b, errB := strong.Voltage(s, 100)
		require.NoError(t, errors.Join(errA, errB))
		assert.Less(t, a.Voltage, b.Voltage)
	}
	// Age and circuit add; the capacity at the rate is the caller's.
	old, _, err := pair.VoltageModels(SagCondition{
		Temperature: Celsius(25), AgeRise: 2, Circuit: 3 * Milliohm, Capacity: 80 * AmpereHour,
		FlatRise: Range[float64]{Low: 1, High: 1},
	})
	require.NoError(t, err)
	x := must[VoltagePoint](t)(old.At(0.5))
	assert.InDelta(t, 2*float64(r.High)+0.003, float64(x.Resistance), 1e-12)
	assert.InDelta(t, 80, ampereHours(old.Capacity()), 1e-9)

	lithium := Bank{Series: 1, Parallel: 1, Block: Block{
		Chemistry: LithiumIronPhosphate, Voltage: 12.8, Exponent: 1.05,
		Rating: Rating{Capacity: 100 * AmpereHour, Time: 5 * Hour},
	}}
	_, _, err = lithium.VoltageModels(SagCondition{Temperature: Celsius(15)})
	require.NoError(t, err)
	_, _, err = lithium.VoltageModels(SagCondition{Temperature: Celsius(14.9)})
	refused(t, err)
	_, _, err = lithium.VoltageModels(SagCondition{Temperature: Celsius(0), TemperatureRise: 2})
	require.NoError(t, err)
	for name, c := range map[string]SagCondition{
		"kelvin":   {Temperature: 25},
		"hot":      {Temperature: Celsius(55)}, // beyond the charts
		"zero":     {},
		"capacity": {Temperature: 298, Capacity: 100},
		"circuit":  {Temperature: 298, Circuit: 11},
		"rise":     {Temperature: 298, TemperatureRise: 0.2},
		"age":      {Temperature: 298, AgeRise: 0.9},
		"flat":     {Temperature: 298, FlatRise: Range[float64]{Low: 3, High: 2}},
		"NaN":      {Temperature: unit.Temperature(math.NaN())},
	} {
		_, _, err := pair.VoltageModels(c)
		refused(t, err, name)
	}
	_, _, err = Bank{}.VoltageModels(SagCondition{Temperature: 298})
	refused(t, err)
}

// The voltage falls with current, with power and with depth.
func FuzzVoltageModel(f *testing.F) {
	f.Add(byte(0), 0.5, 50.0, 0.1)
	f.Add(byte(1), 0.9, 300.0, 0.5)
	names := []string{"lead 12 V", "lithium 51.2 V", "two points"}
	models := voltageModels(f)
	f.Fuzz(func(t *testing.T, which byte, soc, load, more float64) {
		m := models[names[int(which)%3]]
		if !(more >= 0 && more <= 1) {
			return
		}
		for _, read := range []func(s, x float64) (LoadPoint, error){
			func(s, x float64) (LoadPoint, error) { return m.Voltage(s, unit.Current(x)) },
			func(s, x float64) (LoadPoint, error) { return m.VoltageAtPower(s, unit.Power(10*x)) },
		} {
			x, err := read(soc, load)
			if err != nil {
				continue
			}
			require.InDelta(t, float64(x.Power), float64(x.Current)*float64(x.Voltage), 1e-9*float64(x.Power)+1e-300)
			if y, err := read(soc, load*(1+more)); err == nil {
				require.LessOrEqual(t, float64(y.Voltage), float64(x.Voltage)*(1+1e-14))
			}
			if y, err := read(soc-more, load); err == nil {
				require.LessOrEqual(t, float64(y.Voltage), float64(x.Voltage)*(1+1e-14))
			}
		}
	})
}
