package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func system(r reftest.Row) System {
	return System{
		Drawdown: unit.Volume(r.Param("drawdown", "gal")) * USGallon,
		Pump:     FlowRate(r.Param("pump", "gpm")) * USGallonPerMinute,
	}
}

func TestPumpCycles(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/pump_cycles.csv") {
		s := system(r)
		var c Cycle
		var err error
		if r.HasParam("demand") {
			c, err = s.At(FlowRate(r.Param("demand", "gpm")) * USGallonPerMinute)
		} else {
			c, err = s.WorstDemand()
		}
		require.NoError(t, err, r.Source())
		switch quantity := r.Text("quantity"); quantity {
		case "run_time", "run_time_at_half_rate_demand":
			r.Expected(float64(c.On / Minute))
		case "off_time":
			r.Expected(float64(c.Off / Minute))
		case "cycles_per_day":
			r.Expected(float64(c.Starts / PerDay))
		case "max_cycles_per_hour":
			r.Expected(float64(c.Starts / PerHour))
		case "run_time_no_demand":
			run, err := s.ShortestRun()
			require.NoError(t, err)
			r.Expected(float64(run / Minute))
		default:
			t.Fatal(r.Source(), "unknown quantity", quantity)
		}
	}
}

// Common practice, no source: a switch with a five-minute run that pumps 15
// minutes a day starts 3 times. Run and pumping time go in and come out again,
// so that nothing here counts as a figure checked.
func TestCommonPractice(t *testing.T) {
	vd, err := demo.Drawdown()
	require.NoError(t, err)
	s := System{Drawdown: vd, Pump: FlowRate(float64(vd) / float64(5*Minute))}
	use := s.Pump * FlowRate(15*Minute/Day)
	day, err := s.Day(use)
	require.NoError(t, err)
	assert.InDelta(t, 3, day.Starts, 1e-9)
	assert.InDelta(t, 5, float64(day.Run/Minute), 1e-9)
	assert.InDelta(t, 15, float64(day.PumpTime/Minute), 1e-9)
	assert.InDelta(t, 5, float64(s.Pump/USGallonPerMinute), 0.02, "85 gal take a pump of 5 gal/min")
}

func TestPumpThatDoesNotCycle(t *testing.T) {
	s := System{Drawdown: 10 * USGallon, Pump: 10 * USGallonPerMinute}
	for q, want := range map[FlowRate]error{
		0: ErrNeverStarts, s.Pump: ErrNeverStops, 2 * s.Pump: ErrNeverStops,
	} {
		_, err := s.At(q)
		require.ErrorIs(t, err, want)
		require.NotErrorIs(t, err, ErrDomain)
		_, err = s.Day(q)
		require.ErrorIs(t, err, want)
	}
	just := FlowRate(math.Nextafter(float64(s.Pump), 0))
	c, err := s.At(just)
	require.NoError(t, err)
	finite(t, err, float64(c.On), float64(c.Period()), float64(c.Starts))
}

// Half the pump's flow starts it most often, and a cycle's water balances.
func TestWorstDemand(t *testing.T) {
	s := System{Drawdown: 25.1 * USGallon, Pump: 12 * USGallonPerMinute}
	worst, err := s.WorstDemand()
	require.NoError(t, err)
	shortest, err := s.ShortestRun()
	require.NoError(t, err)
	assert.InEpsilon(t, 4*float64(shortest), float64(worst.Period()), 1e-12)
	for part := 0.02; part < 1; part += 0.02 {
		q := s.Pump * FlowRate(part)
		c, err := s.At(q)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, float64(c.Period()), float64(worst.Period())*(1-1e-12))
		assert.GreaterOrEqual(t, float64(c.On), float64(shortest))
		assert.GreaterOrEqual(t, float64(c.Off), float64(shortest))
		assert.InEpsilon(t, float64(s.Pump)*float64(c.On), float64(c.Delivered()), 1e-12, "pumped is delivered")
		assert.InEpsilon(t, float64(q)*float64(c.Period()), float64(c.Delivered()), 1e-12)
		mirror, err := s.At(s.Pump - q)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(c.On), float64(mirror.Off), 1e-9, "on and off change places")
	}
}

// Pump time does not depend on the tank; starts do.
func TestDay(t *testing.T) {
	s := System{Drawdown: 10 * USGallon, Pump: 10 * USGallonPerMinute}
	day, err := s.Day(300 * USGallonPerDay)
	require.NoError(t, err)
	assert.InEpsilon(t, 30, float64(day.PumpTime/Minute), 1e-12)
	assert.InEpsilon(t, 30, day.Starts, 1e-12)
	assert.InEpsilon(t, 1, float64(day.Run/Minute), 1e-12)
	assert.InEpsilon(t, float64(day.PumpTime), day.Starts*float64(day.Run), 1e-12)
	s.Drawdown *= 2
	larger, err := s.Day(300 * USGallonPerDay)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(day.PumpTime), float64(larger.PumpTime), 1e-12)
	assert.InEpsilon(t, day.Starts/2, larger.Starts, 1e-12)
}

func TestSystemBounds(t *testing.T) {
	good := System{Drawdown: 10 * USGallon, Pump: 10 * USGallonPerMinute}
	for _, x := range append(notNumbers, 0, 25.1, 0.99e-9) {
		bad := good
		bad.Drawdown = unit.Volume(x)
		for _, err := range systemErrors(bad) {
			refused(t, err, "drawdown")
		}
	}
	for _, x := range append(notNumbers, 0, 10, 1.6e-5, 0.0201) {
		bad := good
		bad.Pump = FlowRate(x)
		for _, err := range systemErrors(bad) {
			refused(t, err, "pump flow")
		}
	}
	for _, x := range append(notNumbers, 5, 0.99e-9) {
		_, err := good.At(FlowRate(x))
		refused(t, err, "demand")
		_, err = good.Day(FlowRate(x))
		refused(t, err, "daily use")
	}
	for _, q := range []FlowRate{leastPump, mostFlow} {
		require.NoError(t, System{Drawdown: leastDrawdown, Pump: q}.Validate())
		require.NoError(t, System{Drawdown: mostVolume, Pump: q}.Validate())
	}
	_, err := good.At(leastDemand)
	require.NoError(t, err)
}

func systemErrors(s System) []error {
	_, e1 := s.At(5 * USGallonPerMinute)
	_, e2 := s.WorstDemand()
	_, e3 := s.ShortestRun()
	_, e4 := s.Day(100 * USGallonPerDay)
	return []error{e1, e2, e3, e4, s.Validate()}
}
