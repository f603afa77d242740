package conductor

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestUnitsProgram(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/units_program.csv") {
		of := row.Text("of")
		switch row.Text("quantity") {
		case "diameter":
			d := must[unit.Length](t)(sizeOf(t, row, "of").Diameter())
			row.Printed("expected", float64(d/Mil))
		case "area":
			in := map[string]unit.Area{"mm2": SquareMillimetre, "cmil": CircularMil}[row.Text("unit")]
			row.Printed("expected", float64(must[unit.Area](t)(sizeOf(t, row, "of").Area())/in))
		case "gauge number":
			mils := map[string]unit.Length{"460 mil": 460, "101.9 mil": 101.9}[of]
			row.Printed("expected", must[float64](t)(GaugeNumber(mils*Mil)))
		case "conversion":
			row.Printed("expected", map[string]float64{
				"1 in":          float64(Inch/Metre) * 1000,
				"1 cmil":        float64(CircularMil / SquareMillimetre),
				"1 mm2":         float64(SquareMillimetre / CircularMil),
				"1000 ft":       float64(1000 * Foot / Metre),
				"1 ohm cmil/ft": float64(OhmCircularMilPerFoot / OhmMetre),
			}[of])
		case "copper at 20 C":
			rho := must[Resistivity](t)(Copper.Resistivity(Celsius(20)))
			row.Printed("expected", float64(rho/OhmCircularMilPerFoot))
		case "fahrenheit":
			var f float64
			_, err := fmt.Sscan(of, &f)
			assert.NoError(t, err)
			row.Printed("expected", InCelsius(Fahrenheit(f)))
			assert.InDelta(t, f, InFahrenheit(Fahrenheit(f)), 1e-9)
		default:
			t.Errorf("%s: unknown quantity", row.Source())
		}
	}
}

func TestUnitsHangTogether(t *testing.T) {
	assert.InEpsilon(t, 3.280839895, float64(OhmPerKilofoot/OhmPerKilometre), 1e-9)
	assert.InEpsilon(t, 1000, float64(OhmPerFoot/OhmPerKilofoot), 1e-12)
	assert.InEpsilon(t, 1000, float64(KCMil/CircularMil), 1e-12)
	assert.InEpsilon(t, 1e-6, float64(OhmSquareMillimetrePerMetre/OhmMetre), 1e-12)
	assert.InEpsilon(t, 1.21, float64((1.21 * OhmPerKilofoot).Over(1000*Foot)), 1e-12)
}

func TestFormat(t *testing.T) {
	assert.Equal(t, "0.00397 Ω/m", fmt.Sprintf("%.5f", 1.21*OhmPerKilofoot))
	assert.Equal(t, "1.724e-08 Ω·m", fmt.Sprintf("%.3e", Resistivity(1e-6/58)))
	assert.Equal(t, "1 Ω/m", fmt.Sprint(OhmPerMetre))
	assert.Contains(t, fmt.Sprintf("%d", OhmPerMetre), "%!d")
}
