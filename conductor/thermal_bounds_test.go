package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// The fast look at the arguments and the slow one that names what is wrong
// agree on the ends of each range: where the first were stricter, a function
// would return nothing and no error.
func TestFastAndSlowChecksAgree(t *testing.T) {
	both := func(ok bool, err error) {
		t.Helper()
		require.NoError(t, err)
		assert.True(t, ok)
	}
	for _, l := range []ResistanceLaw{
		{minPerLength, minTemperature, maxCoefficient},
		{maxPerLength, maxTemperature, 0},
		{1, Celsius(20), minCoefficient},
	} {
		both(l.ok(), l.check())
	}
	for _, c := range []CableLayers{
		{maxLayer, maxLayer, maxLayer, maxLayer, maxConductors, maxFactor, maxFactor, maxDielectric},
		{0, 0, 0, 0, 1, 0, 0, 0},
	} {
		both(c.ok(), c.check())
	}
	for _, p := range []HeatPath{{minPath, 0}, {maxPath, 300}} {
		both(p.ok(), p.check())
	}
	law := ResistanceLaw{0.001, Celsius(20), 0.00393}
	for _, m := range []ThermalModel{
		{law, minCapacity, minLoss, minTemperature},
		{law, maxCapacity, maxLoss, maxTemperature},
		{law, 1, 0, Celsius(20)},
	} {
		both(modelOK(&m), m.check())
	}
	for _, d := range []DutyCycle{{minPart, maxTime}, {maxTime, minPart}} {
		both(d.ok(), d.check())
	}
	for _, c := range []LoadCycle{{minPart, maxTime, 0, maxCurrent}, {maxTime, minPart, maxCurrent, 0}} {
		both(cycleOK(&c), c.check())
	}
	for _, r := range []MarineRun{{2 * minLength, 1e-3, minDrop, 1e-9}, {2 * maxLength, maxCurrent, maxDrop, 1e-6}} {
		both(r.ok(), r.check())
	}
	for _, x := range []unit.Temperature{minTemperature, hottest} {
		both(hotOK(x), checkHot("temperature", x))
	}
	for _, x := range []unit.Time{0, maxTime} {
		both(timeOK(x), checkTime("time", x))
	}
	for _, x := range []unit.Current{0, maxCurrent} {
		both(currentOK(x), checkAnyCurrent(x))
	}
	for _, x := range []ResistancePerLength{minPerLength, maxPerLength} {
		both(perLengthOK(x), checkPerLength(x))
	}
}

// A size that has the area to the last circular mil is large enough.
func TestMarineSizeOfExactArea(t *testing.T) {
	run := MarineRun{1, 9343.0 / 4, 1, 4 * Resistivity(CircularMil)}
	require.InDelta(t, 9343, float64(must[unit.Area](t)(run.Area())/CircularMil), 0)
	assert.Equal(t, AWG(10), must[Size](t)(run.SmallestSAE()))
	run.Current += 1e-6
	assert.Equal(t, AWG(8), must[Size](t)(run.SmallestSAE()))
}

// The range of K that the error names is copper at −60 and 300 °C.
func TestKTemperatureNamesTheRange(t *testing.T) {
	_, err := KTemperature(Copper, 1)
	low := must[Resistivity](t)(Copper.Resistivity(Celsius(-60)))
	high := must[Resistivity](t)(Copper.Resistivity(Celsius(300)))
	assert.InDelta(t, 1.18206e-8, float64(low), 1e-13)
	assert.InDelta(t, 3.62138e-8, float64(high), 1e-13)
	assert.ErrorContains(t, err, "want 1.18207e-08 Ω·m to 3.62138e-08 Ω·m")
}

// Thick insulation melts the conductor behind a surface that stays cool.
func TestConductorTooHotBehindCoolSurface(t *testing.T) {
	c := AirCable{1e-3, 20e-3, 100, 0.9, Celsius(30), ChurchillChu}
	_, _, err := c.Temperatures(30)
	require.ErrorIs(t, err, ErrTooHot)
	surface, conductor, err := c.Temperatures(10)
	require.NoError(t, err)
	assert.Less(t, InCelsius(surface), 60.0)
	assert.Greater(t, InCelsius(conductor), 400.0)
	_, _, err = c.Temperature(100, ResistanceLaw{0.02, Celsius(20), 0})
	require.ErrorIs(t, err, ErrTooHot)
}
