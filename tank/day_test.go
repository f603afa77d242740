package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/numeric"
)

// house is the supply of the fill references with pipe and input.
func house(t testing.TB) Supply {
	t.Helper()
	in, err := InputThrough([]InputPoint{{0, 500}, {20 * USGallonPerMinute, 1000}})
	require.NoError(t, err)
	return Supply{
		Tank: demo, Pump: powerLaw(t, 180, 0.6, 2), Input: in,
		Main: RisingMain{
			Lift: 20 * Foot, Water: Water{Density: customary(2.31)},
			Losses: []HeadLoss{{Head: 0.0885068756344 * Foot, At: USGallonPerMinute, Exponent: 1.852}},
		},
	}
}

// A steady demand gives the fills of the reference, cycle after cycle.
func TestSupplyFollowsSteadyDemand(t *testing.T) {
	s := house(t)
	const q = 4 * USGallonPerMinute
	c, err := s.Cycle(q)
	require.NoError(t, err)
	assert.InEpsilon(t, 4.12178709747, float64(c.On/Minute), 1e-8, "PF4 of fill.csv")
	got, err := s.Follow(Level{}, []Draw{{For: 1000 * c.Period(), Demand: q}})
	require.NoError(t, err)
	f, err := s.Fill(q, 1)
	require.NoError(t, err)
	assert.InDelta(t, 1000, got.Starts, 1)
	assert.InEpsilon(t, 1000*float64(c.On), float64(got.PumpTime), 1e-9)
	assert.InEpsilon(t, 1000*float64(f.Energy), float64(got.Energy), 1e-9)
	assert.InEpsilon(t, 1000*float64(f.Work), float64(got.Work), 1e-9)
	assert.InEpsilon(t, 1000*float64(f.Pumped), float64(got.Pumped), 1e-9)
	assert.InEpsilon(t, float64(demo.CutIn), float64(got.LeastPressure), 1e-12)
	assert.InEpsilon(t, float64(f.Energy)/float64(f.Pumped), float64(got.EnergyPerVolume()), 1e-9)
	assert.Zero(t, Supplied{}.EnergyPerVolume())
}

// hours is a day of one household: gallons in each hour.
func hours() []Draw {
	gallons := []float64{0, 0, 0, 0, 1, 8, 30, 40, 20, 10, 6, 6, 12, 8, 5, 5, 8, 20, 30, 25, 20, 15, 8, 0}
	draws := make([]Draw, len(gallons))
	for i, g := range gallons {
		draws[i] = Draw{For: Hour, Demand: FlowRate(g) * USGallonPerMinute / 60}
	}
	return draws
}

// The same day by a differential equation solver with events for the switch.
func TestSupplyAgainstSolver(t *testing.T) {
	s := house(t)
	full, err := s.Full()
	require.NoError(t, err)
	draws := append(hours(), Draw{For: 150, Demand: 13 * USGallonPerMinute}, Draw{For: 3000, Demand: 9 * USGallonPerMinute})
	got, err := s.Follow(full, draws)
	require.NoError(t, err)

	pressure := func(v float64) unit.Pressure {
		abs := float64(demo.Volume) * float64(demo.Precharge+demo.Atmosphere) / (airAtCutIn() - v)
		return unit.Pressure(abs) - demo.Atmosphere
	}
	running, q := 0.0, 0.0
	vd := float64(full.Stored)
	solver := numeric.NewSolver(numeric.ODE{
		F: func(_ float64, y, dy []float64) {
			dy[0], dy[1], dy[2] = -q, 0, 0
			if running > 0 {
				at, err := s.At(pressure(min(y[0], vd*1.0001)))
				require.NoError(t, err)
				dy[0], dy[1], dy[2] = float64(at.Flow)-q, float64(at.Input), 1
			}
		},
		RTol: 1e-10, ATol: []float64{1e-12, 1e-4, 1e-6},
		Events: []numeric.Event{
			{G: func(_ float64, y []float64) float64 { return y[0] }, Direction: numeric.Falling},
			{G: func(_ float64, y []float64) float64 { return y[0] - vd }, Direction: numeric.Rising},
		},
	}, 3)
	starts, now := 0, 0.0
	y := []float64{vd, 0, 0}
	for _, d := range draws {
		q = float64(d.Demand)
		end := now + float64(d.For)
		require.NoError(t, solver.Start(now, y))
		for solver.T() < end {
			require.NoError(t, solver.Run(end))
			switch {
			case solver.Event() == 0 && running == 0:
				running, starts = 1, starts+1
				require.NoError(t, solver.Restart())
			case solver.Event() == 1:
				running = 0
				require.NoError(t, solver.Restart())
			}
		}
		now = end
		copy(y, solver.Y())
	}
	assert.Equal(t, starts, got.Starts)
	assert.InEpsilon(t, y[2], float64(got.PumpTime), 1e-7)
	assert.InEpsilon(t, y[1], float64(got.Energy), 1e-7)
	assert.InDelta(t, y[0], float64(got.End.Stored), 1e-7)
}

func airAtCutIn() float64 {
	return float64(demo.Volume) * float64((demo.Precharge+demo.Atmosphere)/(demo.CutIn+demo.Atmosphere))
}

// Twice what the pump can deliver: the tank empties, and the rest is unmet.
func TestSupplyUnmet(t *testing.T) {
	s := house(t)
	full, err := s.Full()
	require.NoError(t, err)
	got, err := s.Follow(full, []Draw{{For: 2 * Hour, Demand: 30 * USGallonPerMinute}})
	require.NoError(t, err)
	assert.Zero(t, got.LeastPressure)
	assert.InEpsilon(t, 3600*float64(USGallon), float64(got.Drawn+got.Unmet), 1e-12)
	empty, err := s.At(demo.Precharge)
	require.NoError(t, err)
	left, err := demo.WaterLeft(demo.CutOut)
	require.NoError(t, err)
	fromTank := float64(got.Drawn) - float64(got.Pumped)
	assert.InEpsilon(t, float64(left), fromTank, 1e-9, "the tank is empty")
	assert.InEpsilon(t, float64(got.PumpTime)*float64(empty.Flow), float64(got.Pumped), 0.01, "most of the time at the precharge")
	assert.Equal(t, 1, got.Starts)
	assert.True(t, got.End.Running)
}

// A demand between the flows at cut-in and at cut-out is held for ever.
func TestSupplyHolds(t *testing.T) {
	s := house(t)
	const q = 9 * USGallonPerMinute
	var stall *StallError
	_, err := s.Fill(q, 1)
	require.ErrorAs(t, err, &stall)
	got, err := s.Follow(Level{}, []Draw{{For: 399 * unit.Time(86400), Demand: q}})
	require.NoError(t, err)
	at, err := s.At(stall.Pressure)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(q), float64(at.Flow), 1e-9)
	want := float64(demo.Volume) * float64(demo.Precharge+demo.Atmosphere) / float64(stall.Pressure+demo.Atmosphere)
	assert.InEpsilon(t, airAtCutIn()-want, float64(got.End.Stored), 1e-9)
	assert.InEpsilon(t, float64(at.Input)*399*86400, float64(got.Energy), 1e-5, "but for the minutes on the way there")
	assert.True(t, got.End.Running)
}

func TestTrace(t *testing.T) {
	s := house(t)
	full, err := s.Full()
	require.NoError(t, err)
	want, err := s.Follow(full, hours())
	require.NoError(t, err)
	moments, got, err := s.Trace(full, hours())
	require.NoError(t, err)
	assert.Equal(t, want.Starts, got.Starts)
	assert.InEpsilon(t, float64(want.Energy), float64(got.Energy), 1e-12)
	starts := 0
	for i, m := range moments {
		assert.True(t, m.Pressure >= demo.CutIn*(1-1e-9) && m.Pressure <= demo.CutOut*(1+1e-9))
		if i > 0 {
			assert.GreaterOrEqual(t, m.At, moments[i-1].At)
			if m.Running && !moments[i-1].Running {
				starts++
				assert.InEpsilon(t, float64(demo.CutIn), float64(m.Pressure), 1e-9)
			}
			if !m.Running && moments[i-1].Running {
				assert.InEpsilon(t, float64(demo.CutOut), float64(m.Pressure), 1e-9)
			}
		}
	}
	assert.Equal(t, got.Starts, starts)
	assert.InEpsilon(t, 86400, float64(moments[len(moments)-1].At), 1e-9)

	s.Tank = Waterlogged{Air: 0.01 * USGallon, CutIn: demo.CutIn, CutOut: demo.CutOut}
	_, _, err = s.Trace(Level{}, []Draw{{For: 30 * Day, Demand: 4 * USGallonPerMinute}})
	refused(t, err, "number of moments")
	many, err := s.Follow(Level{}, []Draw{{For: 365 * Day, Demand: 4 * USGallonPerMinute}})
	require.NoError(t, err)
	assert.Greater(t, many.Starts, 10_000_000, "cycles are counted")
}

func TestSupplyFollowRefuses(t *testing.T) {
	s := house(t)
	for name, f := range map[string]func() error{
		"water stored above cut-in": func() error { _, err := s.Follow(Level{Stored: 1}, nil); return err },
		"time of a draw":            func() error { _, err := s.Follow(Level{}, []Draw{{For: -1}}); return err },
		"demand":                    func() error { _, err := s.Follow(Level{}, []Draw{{For: 1, Demand: 10}}); return err },
		"number of draws":           func() error { _, _, err := s.Trace(Level{}, make([]Draw, mostDraws+1)); return err },
		"tank":                      func() error { _, err := Supply{}.Full(); return err },
	} {
		refused(t, f(), name)
	}
	// A pump too weak for the lift: it runs, and nothing comes.
	s.Main.Lift = 300 * Foot
	got, err := s.Follow(Level{}, []Draw{{For: Hour, Demand: USGallonPerMinute}})
	require.NoError(t, err)
	assert.InEpsilon(t, 60*float64(USGallon), float64(got.Drawn+got.Unmet), 1e-12)
	assert.Zero(t, got.Pumped)
	assert.InEpsilon(t, 500*3600, float64(got.Energy), 1e-9, "it draws its power for nothing")
}

// Water is neither made nor lost, energy of a straight input is that of run time
// and volume, and where pieces end makes no difference.
func FuzzSupplyFollow(f *testing.F) {
	f.Add(0.6, 2.0, 20.0, 0.1, 4.0, 3000.0, 12.0, 900.0, 0.3, 0.5)
	f.Add(1.2, 1.8, 60.0, 0.0, 9.0, 90000.0, 0.5, 40000.0, 0.7, 1.0)
	f.Add(0.3, 2.5, -5.0, 2.0, 30.0, 3000.0, 0.0, 900.0, 0.99, 0.0)
	f.Fuzz(func(t *testing.T, a, m, lift, pipe, q1, t1, q2, t2, cut, level float64) {
		if !(a >= 0.2 && a <= 3 && m >= 1.5 && m <= 3 && pipe >= 0 && pipe <= 2 && cut > 0 && cut < 1 && level >= 0 && level <= 1) {
			return
		}
		s := house(t)
		s.Pump = powerLaw(t, 180, a, m)
		s.Main.Lift = unit.Length(lift) * Foot
		s.Main.Losses[0].Head = unit.Length(pipe) * Foot
		full, err := s.Full()
		if err != nil {
			return
		}
		full.Stored *= unit.Volume(level)
		d1 := Draw{unit.Time(t1), FlowRate(q1) * USGallonPerMinute}
		d2 := Draw{unit.Time(t2), FlowRate(q2) * USGallonPerMinute}
		got, err := s.Follow(full, []Draw{d1, d2})
		if err != nil {
			return
		}
		asked := float64(d1.For)*float64(d1.Demand) + float64(d2.For)*float64(d2.Demand)
		slack := 1e-9 * (asked + float64(demo.Volume))
		assert.InDelta(t, asked, float64(got.Drawn+got.Unmet), slack, "all that was asked for")
		assert.InDelta(t, float64(got.Pumped-got.Drawn), float64(got.End.Stored-full.Stored), slack, "water balance")
		// 500 W and 25 W a gal/min, up to the last point of the input.
		if s.Pump.RunOut() <= 20*USGallonPerMinute {
			want := 500*float64(got.PumpTime) + 1500*float64(got.Pumped/USGallon)
			assert.InDelta(t, want, float64(got.Energy), 1e-9*(want+1), "energy balance")
		}
		finite(t, nil, float64(got.PumpTime), float64(got.Work), float64(got.Least), float64(got.LeastPressure))

		part := d1
		part.For = unit.Time(float64(d1.For) * cut)
		rest := d1
		rest.For = d1.For - part.For
		split, err := s.Follow(full, []Draw{part, rest, d2})
		require.NoError(t, err)
		// A piece that ends within a rounding of a switching may count it before or
		// after.
		assert.InDelta(t, got.Starts, split.Starts, 1)
		if split.Starts == got.Starts && split.End.Running == got.End.Running {
			assert.InDelta(t, float64(got.PumpTime), float64(split.PumpTime), 1e-6*(1+float64(got.PumpTime)))
			assert.InDelta(t, float64(got.Drawn), float64(split.Drawn), 1e-6*(asked+1e-3))
			assert.InDelta(t, float64(got.End.Stored), float64(split.End.Stored), 1e-6*float64(demo.Volume))
		}
	})
}

// The tighter the demand to what the pump delivers at cut-out, the longer the
// fill, without end and without a jump.
func TestFillNearStall(t *testing.T) {
	s := house(t)
	f, err := s.Fill(0, 1)
	require.NoError(t, err)
	last := f.Time
	for e := 1; e <= 12; e++ {
		q := f.CutOut.Flow * FlowRate(1-math.Pow(10, -float64(e)))
		g, err := s.Fill(q, 1)
		require.NoError(t, err)
		assert.Greater(t, g.Time, last)
		if e > 2 {
			// Each factor of ten costs the same time, that of the slope at cut-out.
			assert.Less(t, g.Time-last, 3*Hour)
		}
		last = g.Time
	}
}

// What a tank cannot hold, and what no draw is, on either side of the bounds.
func TestSupplyBounds(t *testing.T) {
	s := house(t)
	p, err := s.pumping()
	require.NoError(t, err)
	vd, reserve := unit.Volume(p.drawdown(1)), unit.Volume(p.reserve())
	left, err := demo.WaterLeft(demo.CutIn)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(left), float64(reserve), 1e-12)
	c := System{Drawdown: vd, Pump: 1e-3}
	for _, stored := range []unit.Volume{-reserve, 0, vd} {
		_, err = s.Follow(Level{Stored: stored}, nil)
		require.NoError(t, err)
		_, err = c.Follow(Level{Stored: stored}, reserve, nil)
		require.NoError(t, err)
	}
	for _, stored := range []unit.Volume{-reserve * 1.001, vd * 1.001} {
		_, err = s.Follow(Level{Stored: stored}, nil)
		refused(t, err, "water stored above cut-in")
		_, err = c.Follow(Level{Stored: stored}, reserve, nil)
		refused(t, err, "water stored above cut-in")
	}
	for d, name := range map[Draw]string{
		{400 * Day, 0}: "", {400*Day + 1, 0}: "time of a draw", {0, 1e-9}: "", {1, 0.9e-9}: "demand",
		{0, mostFlow}: "", {1, mostFlow * 1.001}: "demand", {-1e-9, 0}: "time of a draw",
	} {
		_, err1 := s.Follow(Level{}, []Draw{d})
		_, err2 := c.Follow(Level{}, 0, []Draw{d})
		for _, err := range []error{err1, err2} {
			if name == "" {
				require.NoError(t, err, "%v", d)
			} else {
				refused(t, err, name)
			}
		}
	}
	// At cut-in, 68.8 ft and 20 ft, the curve has ended; at cut-out it has not.
	s.Pump, err = CurveThrough([]CurvePoint{{0, 180 * Foot}, {9 * USGallonPerMinute, 131 * Foot}})
	require.NoError(t, err)
	s.Main.Losses = nil
	_, err = s.At(demo.CutOut)
	require.NoError(t, err)
	_, err = s.Follow(Level{}, nil)
	require.ErrorIs(t, err, ErrBeyondCurve)
}
