package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// buildingWire is a wire of the free-air reference: bare diameter and 75 °C
// resistance of the code's table, insulation to an outside diameter.
func buildingWire(t *testing.T, row reftest.Row) (AirCable, ResistanceLaw) {
	t.Helper()
	r8 := must[Table8Row](t)(Table8(sizeOf(t, row, "size"), Stranded))
	cable := AirCable{
		Conductor: r8.OverallDiameter, Outside: unit.Length(row.Float("outside_diameter_in")) * Inch,
		Insulation: PVCResistivity, Emissivity: 0.9, Ambient: Celsius(30), Convection: ChurchillChu,
	}
	return cable, ResistanceLaw{r8.Copper, Celsius(75), table8CopperAlpha}
}

// at60Hz is a resistance with the skin effect of 60 Hz by the approximation of
// IEC 60287-1-1, which the reference has in its figures: 0.3 % in 4/0 AWG.
func at60Hz(r ResistancePerLength) ResistancePerLength {
	x := 8 * math.Pi * 60 * 1e-7 / float64(r)
	return r * ResistancePerLength(1+x*x/(192+0.8*x*x))
}

func TestFreeAirModel(t *testing.T) {
	const air = "properties of air differ by some tenths of a per cent between sources"
	for _, row := range reftest.Rows(t, "conductor/free_air_model.csv") {
		cable, law := buildingWire(t, row)
		hot, size := at60Hz(law.Resistance), sizeOf(t, row, "size")
		for _, rating := range []struct {
			celsius float64
			model   string
			rated   TemperatureRating
		}{{60, "model_60c_a", Rated60C}, {75, "model_75c_a", Rated75C}, {90, "model_90c_a", Rated90C}} {
			at := Celsius(rating.celsius)
			i := must[unit.Current](t)(cable.Ampacity(at60Hz(law.Resist(at)), at))
			row.Within(rating.model, float64(i), 0.002, air)
			ratio := i / must[unit.Current](t)(FreeAirAmpacity(size, rating.rated))
			assert.True(t, ratio >= 0.92 && ratio <= 1.12, "%s: %.3f of the code's figure at %v °C", row.Source(), float64(ratio), rating.celsius)
		}
		cable.Convection = IECSurface
		i := must[unit.Current](t)(cable.Ampacity(hot, Celsius(75)))
		row.Within("iec60287_75c_a", float64(i), 0.002, "diameter of the metal rounded to a mil")
		table := must[unit.Current](t)(FreeAirAmpacity(size, Rated75C))
		ratio := i / table
		assert.True(t, ratio >= 1.05 && ratio <= 1.21, "%s: %.3f", row.Source(), float64(ratio))

		area := must[unit.Area](t)(size.Area())
		rated := RatedCurrent{table, Celsius(75), Celsius(30)}
		m := ThermalModel{law, must[HeatCapacityPerLength](t)(Copper.HeatCapacity(area)), must[ThermalConductance](t)(rated.Loss(hot)), Celsius(30)}
		row.Printed("tau_conductor_s", float64(must[unit.Time](t)(m.TimeConstant())))

		// The same with the heat of the insulation and the current of the model.
		cable.Convection = ChurchillChu
		rated.Current = must[unit.Current](t)(cable.Ampacity(hot, Celsius(75)))
		m.Loss = must[ThermalConductance](t)(rated.Loss(hot))
		d, outside := float64(cable.Conductor), float64(cable.Outside)
		m.HeatCapacity += HeatCapacityPerLength(1.7e6 * math.Pi / 4 * (outside*outside - d*d))
		row.Within("tau_with_insulation_s", float64(must[unit.Time](t)(m.TimeConstant())), 0.005, air)
	}
}

// The larger sizes of the code stay farther below the balance, up to 16 %: insulation of 60 mil
// under 8 mil of jacket, as thin building wire has from 250 to 500 kcmil.
func TestFreeAirModelOfLargeSizes(t *testing.T) {
	for _, n := range []int{250, 300, 350, 400, 500} {
		r8 := must[Table8Row](t)(Table8(KCMilSize(n), Stranded))
		law := ResistanceLaw{r8.Copper, Celsius(75), table8CopperAlpha}
		cable := AirCable{r8.OverallDiameter, r8.OverallDiameter + 2*68*Mil, PVCResistivity, 0.9, Celsius(30), ChurchillChu}
		for celsius, rated := range map[float64]TemperatureRating{60: Rated60C, 75: Rated75C, 90: Rated90C} {
			i := must[unit.Current](t)(cable.Ampacity(at60Hz(law.Resist(Celsius(celsius))), Celsius(celsius)))
			ratio := i / must[unit.Current](t)(FreeAirAmpacity(KCMilSize(n), rated))
			assert.True(t, ratio > 1.02 && ratio < 1.16, "%d kcmil, %v: %.3f", n, rated, float64(ratio))
		}
	}
}

// A heat put in gives temperatures that give the heat back.
func TestAirCableRoundTrip(t *testing.T) {
	for _, law := range []Convection{ChurchillChu, QuarterPower, IECSurface} {
		c := AirCable{3e-3, 6e-3, 5, 0.9, Celsius(30), law}
		for _, q := range []HeatPerLength{0, 0.01, 1, 20, 200} {
			surface, conductor, err := c.Temperatures(q)
			require.NoError(t, err)
			lost := must[HeatPerLength](t)(c.SurfaceLoss(surface))
			assert.InDelta(t, float64(q), float64(lost), 1e-6)
			back, ts, err := c.Heat(conductor)
			require.NoError(t, err)
			assert.InDelta(t, float64(q), float64(back), 1e-6)
			assert.InDelta(t, float64(surface), float64(ts), 1e-6)
			layer := must[ThermalResistance](t)(Layer(c.Insulation, c.Conductor, c.Outside))
			assert.InDelta(t, float64(conductor-surface), float64(q)*float64(layer), 1e-9)
		}
	}
}

// A current gives the temperature that allows it.
func TestAirCableAmpacityRoundTrip(t *testing.T) {
	w := Wire{AWG(8), Copper, Stranded, false}
	law := must[ResistanceLaw](t)(w.ResistanceLaw(Celsius(20)))
	c := AirCable{3.7e-3, 5.5e-3, 5, 0.9, Celsius(25), ChurchillChu}
	for _, tc := range []float64{25, 40, 75, 105, 250} {
		i := must[unit.Current](t)(c.Ampacity(law.Resist(Celsius(tc)), Celsius(tc)))
		_, got, err := c.Temperature(i, law)
		require.NoError(t, err)
		assert.InDelta(t, tc, InCelsius(got), 1e-6)
	}
	_, _, err := c.Temperature(3000, law)
	require.ErrorIs(t, err, ErrTooHot)
	_, _, err = c.Temperatures(50000)
	require.ErrorIs(t, err, ErrTooHot)
	assert.EqualError(t, err, ErrTooHot.Error())
}

// Insulation thinner than the critical radius cools a wire, thicker insulation
// warms it again: the loss has a maximum at a radius of about k/h.
func TestCriticalRadius(t *testing.T) {
	temperature := func(outside float64) float64 {
		c := AirCable{2e-3, unit.Length(outside), 5, 0.9, Celsius(20), QuarterPower}
		_, conductor, err := c.Temperatures(4)
		require.NoError(t, err)
		return InCelsius(conductor)
	}
	assert.Less(t, temperature(6e-3), temperature(2e-3))
	assert.Greater(t, temperature(0.3), temperature(0.03))
}

func TestAirCableRefused(t *testing.T) {
	good := AirCable{2e-3, 4e-3, 5, 0.9, Celsius(30), ChurchillChu}
	law := ResistanceLaw{0.005, Celsius(20), 0.00393}
	for says, spoil := range map[string]func(*AirCable){
		"conductor diameter":  func(c *AirCable) { c.Conductor = 0 },
		"outside diameter":    func(c *AirCable) { c.Outside = 1e-3 },
		"thermal resistivity": func(c *AirCable) { c.Insulation = 0 },
		"emissivity":          func(c *AirCable) { c.Emissivity = 1.01 },
		"ambient temperature": func(c *AirCable) { c.Ambient = 30 },
		"convection":          func(c *AirCable) { c.Convection = 0 },
		"convection 4":        func(c *AirCable) { c.Convection = 4 },
	} {
		c := good
		spoil(&c)
		_, err := c.SurfaceLoss(Celsius(60))
		refused(t, err, says)
		_, _, err = c.Heat(Celsius(60))
		refused(t, err, says)
		_, _, err = c.Temperatures(1)
		refused(t, err, says)
		_, err = c.Ampacity(0.01, Celsius(60))
		refused(t, err, says)
		_, _, err = c.Temperature(1, law)
		refused(t, err, says)
	}
	bare := good
	bare.Outside, bare.Insulation = bare.Conductor, 0
	_, err := bare.Ampacity(0.01, Celsius(60))
	require.NoError(t, err, "bare wire has no insulation to be asked for")
	_, _, err = good.Heat(Celsius(29))
	refused(t, err, "above that of the surroundings")
	_, _, err = good.Temperature(1, ResistanceLaw{})
	refused(t, err, "resistance")
	bounds(t, "surface temperature", minTemperature, hottest, func(x float64) error {
		_, err := good.SurfaceLoss(unit.Temperature(x))
		return err
	})
	bounds(t, "heat", 0, 100e3, func(x float64) error {
		_, _, err := AirCable{0.5, 0.5, 0, 1, Celsius(30), ChurchillChu}.Temperatures(HeatPerLength(x))
		return err
	})
	bounds(t, "current", 0, maxCurrent, func(x float64) error {
		_, _, err := good.Temperature(unit.Current(x), ResistanceLaw{1e-9, Celsius(20), 0})
		return err
	})
	bounds(t, "resistance", minPerLength, maxPerLength, func(x float64) error {
		_, err := good.Ampacity(ResistancePerLength(x), Celsius(60))
		return err
	})
}
