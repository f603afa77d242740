package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestFusingAWG(t *testing.T) {
	const coarse = "printed to two or three figures, and rounded to thousands"
	for _, row := range reftest.Rows(t, "conductor/fusing_awg_copper.csv") {
		s := sizeOf(t, row, "gauge")
		d := must[unit.Length](t)(s.Diameter())
		area := must[unit.Area](t)(s.Area())
		preece := float64(must[unit.Current](t)(MeltingCurrentPreece(Copper, d)))
		row.Printed("preece_a", preece)
		second := float64(must[unit.Current](t)(MeltingCurrentOnderdonk(area, 1, Celsius(25))))
		row.Printed("onderdonk_1s_a", second)
		cycles := float64(must[unit.Current](t)(MeltingCurrentOnderdonk(area, 0.032, Celsius(25))))
		row.Printed("onderdonk_32ms_a", cycles)
		if row.Has("preece_printed_a") {
			row.Within("preece_printed_a", preece, 0.035, coarse)
		}
		row.Within("onderdonk_1s_printed_a", second, 0.03, coarse)
		row.Within("onderdonk_32ms_printed_a", cycles, 0.025, coarse)
	}
}

func TestFusingDiameters(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/fusing_preece_diameters.csv") {
		i := unit.Current(row.Float("fusing_current_a"))
		d := float64(must[unit.Length](t)(MeltingDiameterPreece(metalOf(t, row), i)) / Inch)
		row.Printed("diameter_in_formula", d)
		switch {
		case row.Has("wrong"):
			row.Rejects("wrong", d, 0.1)
		default:
			row.Digits("diameter_in_printed", d, 2, "0.02215 is printed rounded up")
		}
	}
}

// Melting is the adiabatic law carried to 1083 °C, with a constant 2 % higher.
func TestOnderdonkIsAdiabatic(t *testing.T) {
	icea := must[HeatingLaw](t)(Copper.HeatingICEA())
	for _, ambient := range []float64{-20, 25, 40, 90} {
		i := must[unit.Current](t)(MeltingCurrentOnderdonk(10*KCMil, 1, Celsius(ambient)))
		c := icea.Constant * math.Log((1083+234)/(ambient+234))
		assert.InEpsilon(t, math.Sqrt(c)*float64(10*KCMil), float64(i), 0.011)
	}
}

// A limit of destruction is far from a rating.
func TestMeltingIsNoRating(t *testing.T) {
	for _, n := range []int{14, 12, 10, 8, 6} {
		d := must[unit.Length](t)(AWG(n).Diameter())
		melts := must[unit.Current](t)(MeltingCurrentPreece(Copper, d))
		rated := map[int]unit.Current{14: 20, 12: 25, 10: 35, 8: 50, 6: 65}[n] // NEC table 310.16, 75 °C
		assert.Greater(t, float64(melts/rated), 7.0)
	}
}

func TestMeltingBounds(t *testing.T) {
	const area = 5e-6
	bounds(t, "time", 1e-3, 10, func(x float64) error { _, err := MeltingCurrentOnderdonk(area, unit.Time(x), 300); return err })
	bounds(t, "area", 0.0049e-6, 2000e-6*(1+1e-9), func(x float64) error { _, err := MeltingCurrentOnderdonk(unit.Area(x), 1, 300); return err })
	bounds(t, "ambient temperature", minTemperature, maxTemperature, func(x float64) error {
		_, err := MeltingCurrentOnderdonk(area, 1, unit.Temperature(x))
		return err
	})
	bounds(t, "wire diameter", minWire, maxWire, func(x float64) error { _, err := MeltingCurrentPreece(Copper, unit.Length(x)); return err })
	bounds(t, "fusing current", 0.5, 2000, func(x float64) error { _, err := MeltingDiameterPreece(Aluminium, unit.Current(x)); return err })
	for _, i := range []unit.Current{0, -1, unit.Current(math.NaN()), unit.Current(math.Inf(1))} {
		_, err := MeltingTimeOnderdonk(area, i, 300)
		refused(t, err, "current")
	}
	_, err := MeltingCurrentPreece(0, 0.001)
	refused(t, err, "metal")
	_, err = MeltingDiameterPreece(9, 10)
	refused(t, err, "metal")
	var outside *AdiabaticTimeError
	for _, i := range []unit.Current{20, 1e6} {
		_, err = MeltingTimeOnderdonk(area, i, 300)
		require.ErrorAs(t, err, &outside)
		require.ErrorContains(t, err, "it holds for 0.001 s to 10 s")
	}
}

func FuzzMeltingRoundTrip(f *testing.F) {
	f.Add(0.5, 0.5, 0.5)
	f.Fuzz(func(t *testing.T, a, b, c float64) {
		area, seconds := unit.Area(fold(a, 0.005e-6, 500e-6)), unit.Time(fold(b, 0.00101, 9.99))
		at := Celsius(fold(c, -60, 300))
		i, err := MeltingCurrentOnderdonk(area, seconds, at)
		if err != nil {
			t.Fatal(err)
		}
		if i < maxFaultCurrent {
			back, err := MeltingTimeOnderdonk(area, i, at)
			if err != nil || math.Abs(float64(back/seconds)-1) > 1e-9 {
				t.Fatalf("%v became %v: %v", seconds, back, err)
			}
		}
		for _, m := range []Metal{Copper, Aluminium} {
			want := unit.Current(fold(a, 1, 1900))
			d, err1 := MeltingDiameterPreece(m, want)
			got, err2 := MeltingCurrentPreece(m, d)
			if err1 != nil || err2 != nil || math.Abs(float64(got/want)-1) > 1e-9 {
				t.Fatalf("%v became %v: %v, %v", want, got, err1, err2)
			}
		}
	})
}
