package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// textbookCable is the AirCable of a row of the textbook problems.
func textbookCable(row reftest.Row) AirCable {
	switch row.Text("kind") {
	case "bare":
		d := unit.Length(row.Param("D", "mm") / 1000)
		return AirCable{d, d, 0, row.Param("e", ""), unit.Temperature(row.Param("T", "K")), QuarterPower}
	case "plastic":
		return AirCable{
			unit.Length(row.Param("d", "mm") / 1000), unit.Length(row.Param("D", "mm") / 1000),
			ThermalResistivity(1 / row.Param("k", "W/(m K)")), row.Param("e", ""), Celsius(row.Param("T", "C")), ChurchillChu,
		}
	default:
		return AirCable{
			unit.Length(row.Param("d", "mm") / 1000), unit.Length(row.Param("D", "mm") / 1000),
			ThermalResistivity(1 / row.Param("k", "W/(m K)")), row.Param("e", ""), unit.Temperature(row.Param("T", "K")), QuarterPower,
		}
	}
}

func TestSteadyHeating(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/steady_heating.csv") {
		switch kind := row.Text("kind"); kind {
		case "heat":
			// A wire whose only thermal resistance is 1 K·m/W is as many
			// kelvin above ambient as it has watts a metre.
			law := ResistanceLaw{Resistance: ResistancePerLength(row.Param("R", "ohm/m")), At: Celsius(20)}
			got := must[unit.Temperature](t)(HeatPath{ToAmbient: 1}.Temperature(unit.Current(row.Param("I", "A")), law, Celsius(20)))
			row.Expected(InCelsius(got) - 20)
		case "rise":
			rated := RatedCurrent{unit.Current(row.Param("Iz", "A")), Celsius(row.Param("Tc", "C")), Celsius(row.Param("T0", "C"))}
			got := must[unit.Temperature](t)(rated.Temperature(unit.Current(row.Param("I", "A")), Celsius(row.Param("T", "C"))))
			row.Expected(InCelsius(got))
		default:
			surface, conductor, err := textbookCable(row).Temperatures(HeatPerLength(row.Param("q", "W/m")))
			require.NoError(t, err, row.Source())
			switch kind {
			case "bare", "conductor":
				row.Expected(float64(conductor))
			case "surface":
				row.Expected(float64(surface))
			case "plastic":
				row.Expected(InCelsius(conductor))
				row.Rejects("wrong", InCelsius(conductor), 0.01)
			}
		}
	}
}

// Neher and McGrath both ways: the current that a temperature allows brings it.
func TestHeatPathRoundTrip(t *testing.T) {
	law := must[ResistanceLaw](t)(Wire{AWG(-3), Copper, Stranded, false}.ResistanceLaw(Celsius(75)))
	p := HeatPath{ToAmbient: 4 * CelsiusFootPerWatt, DielectricRise: 2}
	for _, tc := range []float64{31, 60, 75, 90, 105, 250} {
		i := must[unit.Current](t)(p.Ampacity(law.Resist(Celsius(tc)), Celsius(tc), Celsius(20)))
		got := must[unit.Temperature](t)(p.Temperature(i, law, Celsius(20)))
		assert.InDelta(t, tc, InCelsius(got), 1e-9)
	}
}

// In the units of the code: (Tc − Ta) in °C, R in µΩ/ft and Rca in thermal
// ohm-feet give kiloamperes by the same square root.
func TestAmpacityInCodeUnits(t *testing.T) {
	const microohmPerFoot = 25.7
	i := must[unit.Current](t)(HeatPath{ToAmbient: 5 * CelsiusFootPerWatt}.Ampacity(microohmPerFoot*1e-6*OhmPerFoot, Celsius(90), Celsius(20)))
	assert.InEpsilon(t, 1000*math.Sqrt((90-20)/(microohmPerFoot*5)), float64(i), 1e-12)
}

func TestHeatPathRunsAway(t *testing.T) {
	law := ResistanceLaw{0.01, Celsius(75), 0.00323}
	p := HeatPath{ToAmbient: 5}
	limit := must[unit.Current](t)(p.RunawayCurrent(law))
	assert.InEpsilon(t, math.Sqrt(1/(0.01*0.00323*5)), float64(limit), 1e-12)
	for _, i := range []unit.Current{limit * (1 + 1e-9), 2 * limit, maxCurrent} {
		_, err := p.Temperature(i, law, Celsius(30))
		require.ErrorIs(t, err, ErrRunaway)
		var runaway *RunawayError
		require.ErrorAs(t, err, &runaway)
		assert.Equal(t, RunawayError{i, limit}, *runaway)
		assert.ErrorContains(t, err, "no steady temperature exists")
	}
	_, err := p.Temperature(limit*0.99, law, Celsius(30))
	require.ErrorIs(t, err, ErrTooHot)
	assert.ErrorContains(t, err, "1083 °C: at")
	law.Coefficient = 0
	_, err = p.RunawayCurrent(law)
	refused(t, err, "temperature coefficient")
	_, err = p.Temperature(limit*1.5, law, Celsius(30))
	require.NoError(t, err, "a resistance that stays does not run away")
}

func TestHeatPathBounds(t *testing.T) {
	p := HeatPath{ToAmbient: 1}
	law := ResistanceLaw{0.001, Celsius(20), 0.00393}
	bounds(t, "thermal resistance", minPath, maxPath, func(x float64) error {
		_, err := HeatPath{ToAmbient: ThermalResistance(x)}.Ampacity(0.01, Celsius(75), Celsius(30))
		return err
	})
	bounds(t, "dielectric rise", 0, 300, func(x float64) error {
		_, err := HeatPath{1, unit.Temperature(x)}.Temperature(1, law, Celsius(20))
		return err
	})
	bounds(t, "resistance", minPerLength, maxPerLength, func(x float64) error {
		_, err := p.Ampacity(ResistancePerLength(x), Celsius(75), Celsius(30))
		return err
	})
	bounds(t, "ambient temperature", minTemperature, maxTemperature, func(x float64) error {
		_, err := p.Temperature(1, law, unit.Temperature(x))
		return err
	})
	bounds(t, "current", 0, maxCurrent, func(x float64) error {
		_, err := HeatPath{ToAmbient: minPath}.Temperature(unit.Current(x), ResistanceLaw{1e-9, Celsius(20), 0}, Celsius(20))
		return err
	})
	_, err := p.Ampacity(0.01, Celsius(301), Celsius(30))
	refused(t, err, "conductor temperature")
	_, err = p.Ampacity(0.01, Celsius(30), Celsius(30))
	refused(t, err, "conductor temperature 30 °C, want above that of the surroundings, 30 °C")
	_, err = HeatPath{1, 20}.Ampacity(0.01, Celsius(50), Celsius(30))
	refused(t, err, "above that of the surroundings, 50 °C")
}
