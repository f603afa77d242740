package conductor

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// referenceModel is the model of a row of the transient reference.
func referenceModel(t *testing.T, row reftest.Row) ThermalModel {
	t.Helper()
	law := ResistanceLaw{ResistancePerLength(row.Float("r75_ohm_per_kft")) * OhmPerKilofoot, Celsius(75), 0.00323}
	rated := RatedCurrent{unit.Current(row.Float("iz_75c_a")), Celsius(75), Celsius(30)}
	area := must[unit.Area](t)(nominalTable8(t, sizeOf(t, row, "size")))
	return ThermalModel{
		law, must[HeatCapacityPerLength](t)(Copper.HeatCapacity(area)),
		must[ThermalConductance](t)(rated.Loss(law.Resistance)), rated.Ambient,
	}
}

func TestTransientHeating(t *testing.T) {
	const molten = 1083
	size := ""
	counted := map[string]string{}
	for _, row := range reftest.Rows(t, "conductor/transient_heating.csv") {
		m := referenceModel(t, row)
		if s := row.Text("size"); s != size {
			size = s
			row.Printed("g_w_per_m_k", float64(m.Loss))
			row.Printed("c_j_per_m_k", float64(m.HeatCapacity))
			row.Printed("runaway_current_a", float64(must[unit.Current](t)(m.RunawayCurrent())))
		}
		i, after := unit.Current(row.Float("current_a")), unit.Time(row.Float("time_s"))

		got := must[unit.Temperature](t)(m.After(m.Ambient, i, after))
		row.Printed("temperature_c", InCelsius(got))

		adiabatic := m
		adiabatic.Loss = 0
		got, err := adiabatic.After(m.Ambient, i, after)
		if row.Text("adiabatic_c") == "over 2000" || row.Float("adiabatic_c") > molten {
			require.ErrorIs(t, err, ErrTooHot, row.Source())
		} else {
			require.NoError(t, err, row.Source())
			row.Printed("adiabatic_c", InCelsius(got))
		}

		got, err = m.Steady(i)
		if _, isWord := strconv.ParseFloat(row.Text("steady_c"), 64); isWord != nil {
			require.ErrorIs(t, err, ErrRunaway, row.Source())
		} else {
			require.NoError(t, err, row.Source())
			// It repeats from time to time of a current, and counts once.
			key := row.Text("size") + row.Text("current_a")
			if first, again := counted[key]; again {
				assert.Equal(t, first, row.Text("steady_c"), row.Source())
			} else {
				counted[key] = row.Text("steady_c")
				row.Printed("steady_c", InCelsius(got))
			}
		}
	}
}

var (
	// cable6 is 6 AWG in free air.
	cable6 = ThermalModel{ResistanceLaw{0.491 * OhmPerKilofoot, Celsius(75), 0.00323}, 45.871, 0.32307, Celsius(30)}
	// cold6 is the same without any loss.
	cold6 = ThermalModel{cable6.Resistance, cable6.HeatCapacity, 0, Celsius(30)}
)

// Two stretches of time are one, from either side of the ambient temperature.
func TestAfterComposes(t *testing.T) {
	for _, m := range []ThermalModel{cable6, cold6} {
		for _, start := range []float64{-40, 30, 200} {
			for _, i := range []unit.Current{0, 95, 249.35, 380} {
				half := must[unit.Temperature](t)(m.After(Celsius(start), i, 20))
				whole := must[unit.Temperature](t)(m.After(half, i, 31))
				assert.InEpsilon(t, float64(must[unit.Temperature](t)(m.After(Celsius(start), i, 51))), float64(whole), 1e-12)
			}
		}
	}
}

// TimeTo undoes After, heating and cooling, below and above the runaway current.
func TestTimeTo(t *testing.T) {
	for _, m := range []ThermalModel{cable6, cold6} {
		for _, start := range []float64{-40, 30, 200} {
			for _, i := range []unit.Current{0, 50, 95, 249.35, 380} {
				end := must[unit.Temperature](t)(m.After(Celsius(start), i, 40))
				if math.Abs(float64(end)-float64(Celsius(start))) < 1e-6 {
					continue
				}
				got, err := m.TimeTo(end, Celsius(start), i)
				require.NoError(t, err)
				assert.InEpsilon(t, 40, float64(got), 1e-6, "%v from %v", i, start)
			}
		}
	}
	assert.Zero(t, must[unit.Time](t)(cable6.TimeTo(Celsius(90), Celsius(90), 10)))
}

func TestTimeToNever(t *testing.T) {
	never := func(m ThermalModel, limit, start float64, i unit.Current, tends float64) {
		t.Helper()
		_, err := m.TimeTo(Celsius(limit), Celsius(start), i)
		require.ErrorIs(t, err, ErrNeverReached)
		var n *NeverReachedError
		require.ErrorAs(t, err, &n)
		assert.Equal(t, Celsius(limit), n.Limit)
		assert.InDelta(t, tends, InCelsius(n.Steady), 0.01)
		assert.ErrorContains(t, err, "the conductor tends to")
	}
	never(cable6, 76, 30, 95, 75)
	never(cable6, 74, 90, 95, 75)
	never(cable6, 20, 30, 95, 75)
	never(cable6, 31, 30, 0, 30)
	never(cable6, 29, 30, 380, 30) // it only gets hotter
	never(cold6, 29, 30, 0, 30)
	never(cold6, 31, 30, 0, 30)
	_, err := cable6.TimeTo(cable6.Ambient, Celsius(90), 0)
	require.ErrorIs(t, err, ErrNeverReached, "approached without end")
}

// Without current the rise falls to 1/e in a time constant.
func TestTimeConstant(t *testing.T) {
	tau := must[unit.Time](t)(cable6.TimeConstant())
	got := must[unit.Temperature](t)(cable6.After(Celsius(130), 0, tau))
	assert.InDelta(t, 30+100/math.E, InCelsius(got), 1e-9)
	_, err := cold6.TimeConstant()
	refused(t, err, "loss")
	_, err = ThermalModel{}.TimeConstant()
	refused(t, err, "heat capacity")
}

func TestRunaway(t *testing.T) {
	limit := must[unit.Current](t)(cable6.RunawayCurrent())
	_, err := cable6.Steady(limit * 1.001)
	var runaway *RunawayError
	require.ErrorAs(t, err, &runaway)
	assert.Equal(t, limit*1.001, runaway.Current)
	assert.InEpsilon(t, float64(limit), float64(runaway.Limit), 1e-12)
	_, err = cable6.Steady(limit * 0.999)
	var hot *TooHotError
	require.ErrorAs(t, err, &hot)
	assert.Equal(t, limit*0.999, hot.Current)
	_, err = cold6.Steady(1)
	require.ErrorIs(t, err, ErrRunaway, "heat that is not lost adds up")
	assert.Zero(t, must[unit.Current](t)(cold6.RunawayCurrent()))
	assert.Equal(t, Celsius(30), must[unit.Temperature](t)(cold6.Steady(0)))
	constant := cable6
	constant.Resistance.Coefficient = 0
	_, err = constant.RunawayCurrent()
	refused(t, err, "temperature coefficient")
	constant.Loss = 0
	_, err = constant.Steady(1)
	require.ErrorAs(t, err, &runaway)
	assert.Zero(t, runaway.Limit)

	// 2.6 times an ampacity for a rise of 45 K, in every size.
	assert.InDelta(t, 2.62, float64(limit)/95, 0.01)
}

// At the runaway current itself the temperature climbs in a straight line.
func TestAfterAtRunaway(t *testing.T) {
	limit := must[unit.Current](t)(cable6.RunawayCurrent())
	rise := func(s unit.Time) float64 {
		return InCelsius(must[unit.Temperature](t)(cable6.After(Celsius(30), limit, s))) - 30
	}
	assert.InEpsilon(t, 10*rise(10), rise(100), 1e-9)
}

func TestThermalModelRefused(t *testing.T) {
	model := func(set func(*ThermalModel, float64)) func(float64) error {
		return func(x float64) error {
			m := cable6
			set(&m, x)
			_, err := m.Steady(0)
			return err
		}
	}
	bounds(t, "resistance", minPerLength, maxPerLength, model(func(m *ThermalModel, x float64) { m.Resistance.Resistance = ResistancePerLength(x) }))
	bounds(t, "heat capacity", minCapacity, maxCapacity, model(func(m *ThermalModel, x float64) { m.HeatCapacity = HeatCapacityPerLength(x) }))
	for _, x := range []ThermalConductance{5e-324, 0.99e-6} {
		m := cable6
		m.Loss = x
		_, err := m.TimeConstant()
		refused(t, err, "loss")
	}
	bounds(t, "loss", 0, maxLoss, model(func(m *ThermalModel, x float64) { m.Loss = ThermalConductance(x) }))
	bounds(t, "ambient temperature", minTemperature, maxTemperature, model(func(m *ThermalModel, x float64) { m.Ambient = unit.Temperature(x) }))
	bounds(t, "temperature at the start", minTemperature, hottest, func(x float64) error {
		_, err := cable6.After(unit.Temperature(x), 0, 1)
		return err
	})
	bounds(t, "time", 0, maxTime, func(x float64) error {
		_, err := cable6.After(Celsius(30), 95, unit.Time(x))
		return err
	})
	small := ThermalModel{ResistanceLaw{1e-9, Celsius(20), 0}, 1e5, 1e4, Celsius(20)}
	bounds(t, "current", 0, maxCurrent, func(x float64) error {
		_, err := small.After(Celsius(30), unit.Current(x), 1)
		return err
	})
	bounds(t, "current", 0, maxCurrent, func(x float64) error {
		_, err := small.Steady(unit.Current(x))
		return err
	})
	_, err := cable6.TimeTo(1000+hottest, Celsius(30), 95)
	refused(t, err, "temperature limit")
	_, err = ThermalModel{}.RunawayCurrent()
	refused(t, err, "resistance")
	_, err = cable6.After(Celsius(30), 2000, 3600)
	require.ErrorIs(t, err, ErrTooHot)
	_, err = cable6.After(Celsius(30), 1e5, maxTime)
	require.ErrorIs(t, err, ErrTooHot, "beyond every number")
}
