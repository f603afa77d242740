package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestMain(m *testing.M) { reftest.Main(m) }

// notNumbers are what no argument may be.
var notNumbers = []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, math.MaxFloat64}

// demo is the 85 gal tank of the trade journals.
var demo = Vessel{
	Volume: 85 * USGallon, Precharge: 28 * PSI, CutIn: 30 * PSI, CutOut: 50 * PSI, Atmosphere: 14.7 * PSI,
}

// vessel reads a row whose inputs are in gal and psi.
func vessel(r reftest.Row) Vessel {
	v := Vessel{
		Precharge:  unit.Pressure(r.Param("precharge", "psi")) * PSI,
		CutIn:      unit.Pressure(r.Param("cut_in", "psi")) * PSI,
		CutOut:     unit.Pressure(r.Param("cut_out", "psi")) * PSI,
		Atmosphere: unit.Pressure(r.Param("atm", "psi")) * PSI,
	}
	if r.HasParam("tank") {
		v.Volume = unit.Volume(r.Param("tank", "gal")) * USGallon
	}
	return v
}

// gallons is the tail of most checks.
func gallons(t *testing.T, r reftest.Row) func(v unit.Volume, err error) float64 {
	t.Helper()
	return func(v unit.Volume, err error) float64 {
		t.Helper()
		require.NoError(t, err, r.Source())
		return float64(v / USGallon)
	}
}

// refused checks that err is an argument error that names the quantity.
func refused(t *testing.T, err error, quantity string) {
	t.Helper()
	require.ErrorIs(t, err, ErrDomain)
	require.ErrorContains(t, err, "tank: "+quantity+" ")
	var d *DomainError
	require.ErrorAs(t, err, &d)
	assert.Equal(t, "tank", d.Package)
}

// finite fails on NaN and infinities in a result without error.
func finite(t *testing.T, err error, xs ...float64) {
	t.Helper()
	if err != nil {
		return
	}
	for _, x := range xs {
		require.False(t, math.IsNaN(x) || math.IsInf(x, 0), "result %v without an error", x)
	}
}

func TestUnits(t *testing.T) {
	si := map[string]float64{
		"psi": float64(PSI), "US gal": float64(USGallon), "ft": float64(Foot),
		"US gal/min": float64(USGallonPerMinute), "hp": float64(Horsepower),
	}
	for _, r := range reftest.Rows(t, "tank/units.csv") {
		r.Printed("si", si[r.Text("symbol")])
	}
	assert.InEpsilon(t, 1, float64(24*Hour/Day), 1e-12)
	assert.InEpsilon(t, 24, float64(PerHour/PerDay), 1e-12)
	assert.InEpsilon(t, 1.01325, float64(SeaLevel/Bar), 1e-12)
	assert.InEpsilon(t, 100, float64(Bar/Kilopascal), 1e-12)
	assert.InEpsilon(t, 4.54609, float64(ImperialGallon/Litre), 1e-12)
	assert.InEpsilon(t, 20, InCelsius(Fahrenheit(68)), 1e-12)
	assert.InEpsilon(t, 68, InFahrenheit(Celsius(20)), 1e-12)
}
