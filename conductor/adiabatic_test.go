package conductor

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// lawOf reads a column of a reference table as the IEC's law of a metal.
func lawOf(t *testing.T, row reftest.Row) HeatingLaw {
	t.Helper()
	if row.Text("material") == "steel" {
		return SteelHeating()
	}
	return must[HeatingLaw](t)(metalOf(t, row).HeatingIEC())
}

func metalOf(t *testing.T, row reftest.Row) Metal {
	t.Helper()
	switch row.Text("material") {
	case "copper":
		return Copper
	case "aluminium":
		return Aluminium
	}
	t.Fatalf("%s: material %q", row.Source(), row.Text("material"))
	return 0
}

func TestAdiabaticFactors(t *testing.T) {
	rows := reftest.Rows(t, "conductor/adiabatic_k_factors.csv")
	require.Len(t, rows, 28)
	for _, row := range rows {
		k := must[AdiabaticFactor](t)(lawOf(t, row).Factor(Celsius(row.Float("initial_c")), Celsius(row.Float("final_c"))))
		got := float64(k / AmpereRootSecondPerSquareMillimetre)
		row.Digits("k_printed", got, 2, "the print is met within 1 unit")
		row.Printed("k_formula", got)
	}
}

func TestICEAConstants(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/icea_short_circuit_constants.csv") {
		m := metalOf(t, row)
		t1, t2 := Celsius(row.Float("t1_c")), Celsius(row.Float("t2_c"))
		k := must[AdiabaticFactor](t)(must[HeatingLaw](t)(m.HeatingICEA()).Factor(t1, t2))
		switch c := float64(k / AmpereRootSecondPerCircularMil); {
		case row.Text("c_printed") == "0.06773":
			row.Within("c_printed", c, 0.0007, "the print is 0.06 % under its own formula, 0.06777")
		case row.Has("c_printed"):
			row.Printed("c_printed", c)
		}
		row.Printed("c_formula", float64(k/AmpereRootSecondPerCircularMil))
		row.Printed("k_icea", float64(k/AmpereRootSecondPerSquareMillimetre))
		iec := must[AdiabaticFactor](t)(must[HeatingLaw](t)(m.HeatingIEC()).Factor(t1, t2))
		row.Printed("k_iec", float64(iec/AmpereRootSecondPerSquareMillimetre))
	}
}

// The condensed forms that stand beside the tables of k.
func TestFactorCondensed(t *testing.T) {
	for _, c := range []struct {
		law    HeatingLaw
		k, add float64
	}{
		{must[HeatingLaw](t)(Copper.HeatingIEC()), 226, 234.5},
		{must[HeatingLaw](t)(Aluminium.HeatingIEC()), 148, 228},
		{SteelHeating(), 78, 202},
	} {
		for t1 := 20.0; t1 < 100; t1 += 10 {
			for t2 := t1 + 20; t2 <= 300; t2 += 20 {
				want := c.k * math.Sqrt(math.Log(1+(t2-t1)/(c.add+t1)))
				k := must[AdiabaticFactor](t)(c.law.Factor(Celsius(t1), Celsius(t2)))
				assert.InEpsilon(t, want, float64(k/AmpereRootSecondPerSquareMillimetre), 0.003)
			}
		}
	}
}

func TestShortTimeWithstand(t *testing.T) {
	icea := must[HeatingLaw](t)(Copper.HeatingICEA())
	iec := must[HeatingLaw](t)(Copper.HeatingIEC())
	for _, row := range reftest.Rows(t, "conductor/short_time_withstand.csv") {
		area := unit.Area(row.Float("area_cmil")) * CircularMil
		seconds := unit.Time(row.Float("time_s"))
		if row.Text("time_s") == "0.016667" {
			seconds = 1. / 60 // a cycle, which the reference did not round
		}
		for column, law := range map[string]HeatingLaw{"i_icea_a": icea, "i_iec_a": iec} {
			k := must[AdiabaticFactor](t)(law.Factor(Celsius(row.Float("t1_c")), Celsius(row.Float("t2_c"))))
			energy := must[JouleIntegral](t)(k.LetThrough(area))
			i, err := k.LargestCurrent(area, seconds)
			if seconds < minShort {
				// A cycle is a matter of let-through energy.
				refused(t, err, "time")
				i = unit.Current(math.Sqrt(float64(energy) / float64(seconds)))
			} else {
				require.NoError(t, err)
			}
			row.Printed(column, float64(i))
		}
	}
}

func TestShortTimeExamples(t *testing.T) {
	icea := must[HeatingLaw](t)(Copper.HeatingICEA())
	iec := must[HeatingLaw](t)(Copper.HeatingIEC())
	for _, row := range reftest.Rows(t, "conductor/short_time_examples.csv") {
		area := func() unit.Area { return unit.Area(row.Param("A", "cmil")) * CircularMil }
		seconds := func() unit.Time { return unit.Time(row.Param("t", "s")) }
		switch kind := row.Text("kind"); kind {
		case "final temperature":
			t1 := Celsius(row.Param("T1", "C"))
			row.Expected(InCelsius(must[unit.Temperature](t)(icea.FinalTemperature(area(), amperes(row), seconds(), t1))))
			row.Printed("iec", InCelsius(must[unit.Temperature](t)(iec.FinalTemperature(area(), amperes(row), seconds(), t1))))
		case "least area":
			k := AdiabaticFactor(row.Param("k", "")) * AmpereRootSecondPerSquareMillimetre
			i := amperes(row)
			s, err := k.LeastArea(i, seconds())
			if seconds() < minShort {
				refused(t, err, "time")
				s = must[unit.Area](t)(k.LeastAreaFor(JouleIntegral(float64(i) * float64(i) * float64(seconds()))))
			} else {
				require.NoError(t, err)
			}
			row.Expected(float64(s / SquareMillimetre))
		case "melting current":
			i := must[unit.Current](t)(MeltingCurrentOnderdonk(area(), seconds(), Celsius(row.Param("Ta", "C"))))
			row.Expected(float64(i))
			row.Rejects("wrong", float64(i), 0.04)
		case "melting time":
			got := must[unit.Time](t)(MeltingTimeOnderdonk(area(), amperes(row), Celsius(row.Param("Ta", "C"))))
			row.Expected(float64(got))
			row.Rejects("wrong", float64(got), 0.08)
		case "preece":
			row.Expected(float64(must[unit.Current](t)(MeltingCurrentPreece(Copper, unit.Length(row.Param("d", "in"))*Inch))))
		default:
			t.Errorf("%s: unknown kind %q", row.Source(), kind)
		}
	}
}

// The law is the integral of I²·R/C: stepped in time it comes to the same.
func TestFinalTemperatureIsTheIntegral(t *testing.T) {
	law := must[HeatingLaw](t)(Copper.HeatingIEC())
	const area, current, seconds, steps = 10e-6, 1000.0, 2.0, 200000
	const density = current / area
	temperature, rho20 := 40.0, 17.241e-9
	for range steps {
		rho := rho20 * (temperature + 234.5) / 254.5
		temperature += rho * density * density / 3.45e6 * seconds / steps
	}
	got := must[unit.Temperature](t)(law.FinalTemperature(area, current, seconds, Celsius(40)))
	assert.InDelta(t, temperature, InCelsius(got), 0.01)
	// Two surges without a rest are one.
	half := must[unit.Temperature](t)(law.FinalTemperature(area, current, seconds/2, Celsius(40)))
	assert.InDelta(t, InCelsius(got), InCelsius(must[unit.Temperature](t)(law.FinalTemperature(area, current, seconds/2, half))), 1e-9)
	// The thermal model without a loss is the same law, with the coefficient and
	// the resistivity of the metal's standard instead of rounded ones.
	rho := must[Resistivity](t)(Copper.Resistivity(Celsius(20)))
	wire := ResistanceLaw{ResistancePerLength(float64(rho) / area), Celsius(20), 0.00393}
	model := ThermalModel{Resistance: wire, HeatCapacity: must[HeatCapacityPerLength](t)(Copper.HeatCapacity(area)), Ambient: Celsius(40)}
	after := must[unit.Temperature](t)(model.After(Celsius(40), current, seconds))
	assert.InDelta(t, InCelsius(got), InCelsius(after), 0.02)
	_, err := law.FinalTemperature(area, 5000, 2, Celsius(40))
	require.ErrorIs(t, err, ErrOverheat)
	assert.NotErrorIs(t, err, ErrDomain)
	require.ErrorContains(t, err, "beyond 500 °C: 5000 A for 2 s")
}

func TestLongestTimeOutside(t *testing.T) {
	k := 143 * AmpereRootSecondPerSquareMillimetre
	_, err := k.LongestTime(50*SquareMillimetre, 1000)
	var outside *AdiabaticTimeError
	require.ErrorAs(t, err, &outside)
	require.ErrorIs(t, err, ErrOutsideAdiabatic)
	assert.NotErrorIs(t, err, ErrDomain)
	assert.InEpsilon(t, 7.15*7.15, float64(outside.Formula), 1e-12)
	require.ErrorContains(t, err, "at 1000 A the formula gives 51.1 s, it holds for 0.1 s to 5 s")
	_, err = k.LongestTime(SquareMillimetre, 1000)
	require.ErrorIs(t, err, ErrOutsideAdiabatic)
	got := must[unit.Time](t)(k.LongestTime(10*SquareMillimetre, 1430))
	assert.InEpsilon(t, 1, float64(got), 1e-12)
}

func TestAdiabaticBounds(t *testing.T) {
	k := 115 * AmpereRootSecondPerSquareMillimetre
	law := must[HeatingLaw](t)(Copper.HeatingIEC())
	bounds(t, "time", 0.1, 5, func(x float64) error { _, err := k.LargestCurrent(1e-6, unit.Time(x)); return err })
	bounds(t, "time", 0.1, 5, func(x float64) error { _, err := k.LeastArea(1000, unit.Time(x)); return err })
	bounds(t, "time", 0, 5, func(x float64) error {
		_, err := law.FinalTemperature(1e-4, 100, unit.Time(x), Celsius(20))
		return err
	})
	bounds(t, "area", 0.0049e-6, 2000e-6*(1+1e-9), func(x float64) error { _, err := k.LargestCurrent(unit.Area(x), 1); return err })
	bounds(t, "area", 0.0049e-6, 2000e-6*(1+1e-9), func(x float64) error { _, err := k.LetThrough(unit.Area(x)); return err })
	bounds(t, "adiabatic factor", 1e6, 400e6, func(x float64) error { _, err := AdiabaticFactor(x).LargestCurrent(1e-6, 1); return err })
	bounds(t, "adiabatic factor", 1e6, 400e6, func(x float64) error { _, err := AdiabaticFactor(x).LeastAreaFor(1e6); return err })
	bounds(t, "fault current", 1, 1e6, func(x float64) error { _, err := k.LeastArea(unit.Current(x), 1); return err })
	bounds(t, "let-through energy", 1e-2, 1e12, func(x float64) error { _, err := k.LeastAreaFor(JouleIntegral(x)); return err })
	bounds(t, "initial temperature", minTemperature, hottestAdiabatic, func(x float64) error {
		_, err := law.FinalTemperature(1e-3, 0, 1, unit.Temperature(x))
		return err
	})
	bounds(t, "final temperature", 274.15, hottestAdiabatic, func(x float64) error {
		_, err := law.Factor(273.15, unit.Temperature(x))
		return err
	})
	for _, i := range []unit.Current{0, -5, unit.Current(math.NaN()), unit.Current(math.Inf(1))} {
		_, err := k.LongestTime(1e-6, i)
		refused(t, err, "fault current")
	}
	_, err := law.FinalTemperature(1e-4, -1, 1, Celsius(20))
	refused(t, err, "fault current")
	_, err = law.Factor(Celsius(160), Celsius(70))
	refused(t, err, "at least 1 K above the initial 160 °C")
	_, err = law.Factor(70, 160)
	refused(t, err, "initial temperature -203.15 °C (70 K)")
	_, err = HeatingLaw{}.Factor(Celsius(70), Celsius(160))
	refused(t, err, "heating constant")
	_, err = HeatingLaw{law.Constant, math.NaN()}.FinalTemperature(1e-4, 1, 1, Celsius(20))
	refused(t, err, "heating beta")
	_, err = AdiabaticFactor(143).LargestCurrent(1e-6, 1)
	refused(t, err, "adiabatic factor 0.000143 A·√s/mm² (143 A·√s/m²)")
	for _, m := range []Metal{0, 3} {
		_, err = m.HeatingIEC()
		refused(t, err, "metal")
		_, err = m.HeatingICEA()
		refused(t, err, "metal")
	}
}

func TestAdiabaticFormats(t *testing.T) {
	assert.Equal(t, "143.0 A·√s/mm²", fmt.Sprintf("%.1f", 143*AmpereRootSecondPerSquareMillimetre))
	assert.Equal(t, "1200 A²·s", fmt.Sprintf("%.0f", 1200*AmpereSquaredSecond))
}

// Limits of insulation make the factors of the tables.
func TestInsulationFactors(t *testing.T) {
	iec := must[HeatingLaw](t)(Copper.HeatingIEC())
	for _, c := range []struct {
		initial, final unit.Temperature
		k              float64
	}{{PVCOperating, PVCFault, 115}, {XLPEOperating, XLPEFault, 143}, {SeparateEarthTemperature, PVCFault, 143}} {
		k := must[AdiabaticFactor](t)(iec.Factor(c.initial, c.final))
		assert.InDelta(t, c.k, float64(k/AmpereRootSecondPerSquareMillimetre), 0.5)
	}
	icea := must[HeatingLaw](t)(Copper.HeatingICEA())
	k := must[AdiabaticFactor](t)(icea.Factor(ThermoplasticOperating, ThermoplasticFault))
	assert.InEpsilon(t, 0.05294, float64(k/AmpereRootSecondPerCircularMil), 1e-4)
}

// Current, time, area and temperature lead back to each other.
func FuzzAdiabaticRoundTrip(f *testing.F) {
	f.Add(0.5, 0.5, 0.5, 0.5, uint8(0))
	f.Add(0.1, 0.9, 0.3, 0.01, uint8(4))
	f.Fuzz(func(t *testing.T, a, b, c, d float64, which uint8) {
		var laws []HeatingLaw
		for _, m := range []Metal{Copper, Aluminium} {
			iec, _ := m.HeatingIEC()
			icea, _ := m.HeatingICEA()
			laws = append(laws, iec, icea)
		}
		laws = append(laws, SteelHeating())
		law := laws[int(which)%len(laws)]
		initial := fold(a, -60, 498)
		final := fold(b, initial+1, 499.9)
		area, seconds := unit.Area(fold(c, 0.01e-6, 2000e-6)), unit.Time(fold(d, 0.1001, 4.999))
		k, err := law.Factor(Celsius(initial), Celsius(final))
		if err != nil {
			t.Fatal(err)
		}
		i, err := k.LargestCurrent(area, seconds)
		if err != nil {
			t.Fatal(err)
		}
		same := func(what string, got, want float64) {
			if !(math.Abs(got-want) <= 1e-9*math.Abs(want)) {
				t.Fatalf("%s: %v, want %v", what, got, want)
			}
		}
		energy, err := k.LetThrough(area)
		if err != nil {
			t.Fatal(err)
		}
		same("energy", float64(energy), float64(i)*float64(i)*float64(seconds))
		if i >= maxFaultCurrent || i <= minFaultCurrent {
			return
		}
		back, err := k.LongestTime(area, i)
		if err != nil {
			t.Fatal(err)
		}
		same("time", float64(back), float64(seconds))
		least, err := k.LeastArea(i, seconds)
		if err != nil {
			t.Fatal(err)
		}
		same("area", float64(least), float64(area))
		if energy >= minJoule {
			again, err := k.LeastAreaFor(energy)
			if err != nil {
				t.Fatal(err)
			}
			same("area for the energy", float64(again), float64(area))
		}
		hot, err := law.FinalTemperature(area, i, seconds, Celsius(initial))
		if err != nil {
			t.Fatal(err)
		}
		same("final temperature", float64(hot), float64(Celsius(final)))
		less, err := law.FinalTemperature(area, i*0.99, seconds, Celsius(initial))
		if err != nil || !(less < hot) {
			t.Fatalf("less current, no less heat: %v, %v, %v", less, hot, err)
		}
	})
}
