package tank

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestPrechargeTemperature(t *testing.T) {
	charge := func(r reftest.Row) Charge {
		return Charge{
			Precharge:   unit.Pressure(r.Param("precharge", "psi")) * PSI,
			Temperature: Fahrenheit(r.Param("t1", "degF")),
			Atmosphere:  unit.Pressure(r.Param("atm", "psi")) * PSI,
		}
	}
	logged := func(r reftest.Row) Waterlogged {
		return Waterlogged{
			Air:        unit.Volume(r.Param("air", "gal")) * USGallon,
			CutIn:      unit.Pressure(r.Param("cut_in", "psi")) * PSI,
			CutOut:     unit.Pressure(r.Param("cut_out", "psi")) * PSI,
			Atmosphere: unit.Pressure(r.Param("atm", "psi")) * PSI,
		}
	}
	for _, r := range reftest.Rows(t, "tank/precharge_temperature.csv") {
		gal := gallons(t, r)
		switch quantity := r.Text("quantity"); quantity {
		case "precharge_after":
			p, err := charge(r).At(Fahrenheit(r.Param("t2", "degF")))
			require.NoError(t, err)
			r.Expected(float64(p / PSI))
		case "slope":
			c := charge(r)
			p, err := c.At(c.Temperature + Fahrenheit(10) - Fahrenheit(0))
			require.NoError(t, err)
			r.Expected(float64((p - c.Precharge) / PSI))
		case "drawdown":
			r.Expected(gal(vessel(r).Drawdown()))
		case "waterlogged_drawdown":
			r.Expected(gal(logged(r).Drawdown()))
		case "waterlogged_worst_run":
			c, err := logged(r).ShortCycle(FlowRate(r.Param("pump", "gpm")) * USGallonPerMinute)
			require.NoError(t, err)
			r.Expected(float64(c.On))
		case "usable_above_cut_in":
			_, err := vessel(r).Drawdown()
			var e *PrechargeError
			require.ErrorAs(t, err, &e)
			r.Expected(float64(e.Usable / USGallon))
		default:
			t.Fatal(r.Source(), "unknown quantity", quantity)
		}
	}
}

// There and back again is where it began, and colder air is weaker.
func TestChargeRoundTrip(t *testing.T) {
	c := Charge{Precharge: 28 * PSI, Temperature: Celsius(20)}
	cold, err := c.At(Celsius(-10))
	require.NoError(t, err)
	assert.Less(t, float64(cold), float64(c.Precharge))
	back, err := Charge{Precharge: cold, Temperature: Celsius(-10)}.At(Celsius(20))
	require.NoError(t, err)
	assert.InEpsilon(t, float64(c.Precharge), float64(back), 1e-12)
	// Gauge pressure in proportion to degrees is the trap.
	assert.Greater(t, float64(cold/PSI), 26*0.9-0.5)
}

func TestChargeBounds(t *testing.T) {
	good := Charge{Precharge: 28 * PSI, Temperature: Celsius(20)}
	for _, x := range append(notNumbers, 0, 35, 233, 334) {
		_, err := good.At(unit.Temperature(x))
		refused(t, err, "temperature")
		bad := good
		bad.Temperature = unit.Temperature(x)
		_, err = bad.At(Celsius(20))
		refused(t, err, "temperature at measurement")
	}
	for _, x := range append(notNumbers, 0, 28, float64(151*PSI)) {
		bad := good
		bad.Precharge = unit.Pressure(x)
		_, err := bad.At(Celsius(20))
		refused(t, err, "precharge")
	}
	for _, x := range append(notNumbers, 14.7) {
		bad := good
		bad.Atmosphere = unit.Pressure(x)
		_, err := bad.At(Celsius(20))
		refused(t, err, "atmosphere")
	}
	for _, limit := range []unit.Temperature{coldest, hottest} {
		_, err := good.At(limit)
		require.NoError(t, err)
	}
	weak := Charge{Precharge: 1 * PSI, Temperature: Celsius(60)}
	p, err := weak.At(Celsius(-40))
	require.NoError(t, err)
	assert.Negative(t, float64(p), "a partial vacuum")
}

func TestPrechargeForBounds(t *testing.T) {
	for _, x := range append(notNumbers, 0, 30, float64(4.9*PSI), float64(149.1*PSI)) {
		_, err := PrechargeFor(unit.Pressure(x))
		refused(t, err, "cut-in")
	}
	for _, x := range []unit.Pressure{5 * PSI, 149 * PSI} {
		_, err := PrechargeFor(x)
		require.NoError(t, err)
	}
}
