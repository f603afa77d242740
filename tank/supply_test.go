package tank

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// customary is the density at which a psi is so many feet of water.
func customary(feetPerPSI float64) Density {
	return Density(float64(PSI) / (gravity * feetPerPSI * float64(Foot)))
}

func TestOperatingPoints(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/operating_points.csv") {
		if q := r.Text("quantity"); q != "operating_flow" && q != "operating_head" {
			continue
		}
		s := Supply{
			Tank: demo,
			Pump: powerLaw(t, r.Param("H0", "ft"), r.Param("a", "ft/gpm^m"), r.Param("m", "")),
			Main: RisingMain{
				Lift: unit.Length(r.Param("static", "ft")) * Foot, Water: Water{Density: 1000},
				Losses: []HeadLoss{{Head: unit.Length(r.Param("k", "ft/gpm^x")) * Foot, At: USGallonPerMinute, Exponent: r.Param("x", "")}},
			},
		}
		at, err := s.At(0)
		require.NoError(t, err, r.Source())
		if r.Text("quantity") == "operating_flow" {
			r.Expected(float64(at.Flow / USGallonPerMinute))
		} else {
			r.Expected(float64(at.Head / Foot))
		}
	}
}

// fillSupply reads the supply of a row of fill.csv, with its demand and
// exponent.
func fillSupply(t testing.TB, r reftest.Row) (s Supply, demand FlowRate, n float64) {
	t.Helper()
	number := func(name, u string, otherwise float64) float64 {
		if r.HasParam(name) {
			return r.Param(name, u)
		}
		return otherwise
	}
	n = number("n", "", 1)
	demand = FlowRate(number("demand", "gpm", 0)) * USGallonPerMinute
	if !r.HasParam("ft_per_psi") {
		kPa := func(name string) unit.Pressure { return unit.Pressure(r.Param(name, "kPa")) * Kilopascal }
		h0, a := r.Param("H0", "m"), r.Param("a", "m/(L/s)^2")
		curve, err := FitCurve(unit.Length(h0), CurvePoint{0.5e-3, unit.Length(h0 - a/4)}, CurvePoint{1e-3, unit.Length(h0 - a)})
		require.NoError(t, err)
		return Supply{
			Tank: Vessel{
				Volume: unit.Volume(r.Param("tank", "m3")), Precharge: kPa("precharge"),
				CutIn: kPa("cut_in"), CutOut: kPa("cut_out"), Atmosphere: kPa("atm"),
			},
			Pump: curve,
			Main: RisingMain{Lift: unit.Length(r.Param("lift", "m")), Water: Water{Density: Density(r.Param("rho", "kg/m3"))}},
		}, demand, n
	}
	s.Tank = demo
	if r.HasParam("tank") {
		s.Tank = vessel(r)
	}
	s.Pump = powerLaw(t, r.Param("H0", "ft"), number("a", "ft/gpm^m", 0.6), number("m", "", 2))
	s.Main = RisingMain{Lift: unit.Length(r.Param("lift", "ft")) * Foot, Water: Water{Density: customary(r.Param("ft_per_psi", ""))}}
	if r.HasParam("pipe_k") {
		s.Main.Losses = []HeadLoss{{Head: unit.Length(r.Param("pipe_k", "ft/gpm^1.852")) * Foot, At: USGallonPerMinute, Exponent: 1.852}}
	}
	if r.HasParam("electric") {
		w0, w1 := r.Param("electric", "W"), r.Param("electric_per_flow", "W/gpm")
		var err error
		s.Input, err = InputThrough([]InputPoint{
			{0, unit.Power(w0)}, {20 * USGallonPerMinute, unit.Power(w0 + 20*w1)},
		})
		require.NoError(t, err)
	}
	return s, demand, n
}

func TestFills(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/fill.csv") {
		s, demand, n := fillSupply(t, r)
		f, err := s.Fill(demand, n)
		volume, flow, seconds := unit.Volume(USGallon), USGallonPerMinute, Minute
		if r.Text("unit") == "m3" || r.Text("unit") == "L/s" || r.Text("unit") == "s" {
			volume, flow, seconds = 1, LitrePerSecond, 1
		}
		switch quantity := r.Text("quantity"); quantity {
		case "stall_pressure", "equilibrium_pressure_with_demand":
			var stall *StallError
			require.ErrorAs(t, err, &stall, r.Source())
			require.ErrorIs(t, err, ErrNeverStops)
			require.NotErrorIs(t, err, ErrDomain)
			r.Expected(float64(stall.Pressure / PSI))
			continue
		case "drawdown":
			r.Expected(float64(f.Stored / volume))
		case "pump_flow_at_cut_in":
			r.Expected(float64(f.CutIn.Flow / flow))
		case "pump_flow_at_cut_out":
			r.Expected(float64(f.CutOut.Flow / flow))
		case "fill_time":
			r.Expected(float64(f.Time / seconds))
		case "mean_net_flow":
			r.Expected(float64(f.MeanFlow() / flow))
		case "hydraulic_energy_per_fill":
			r.Expected(float64(f.Work) / 3600)
		case "electric_energy_per_fill":
			r.Expected(float64(f.Energy) / 3600)
		case "max_cycles_per_hour":
			c, err := s.WorstDemand()
			require.NoError(t, err)
			r.Expected(float64(c.Starts / PerHour))
			assert.InDelta(t, 5.23, float64(c.Demand/USGallonPerMinute), 0.005, "the notes' worst demand")
		default:
			constantFlow(t, r, s, f)
		}
		require.NoError(t, err, r.Source())
	}
}

// constantFlow checks what a constant flow in place of the falling one gives.
func constantFlow(t *testing.T, r reftest.Row, s Supply, f Fill) {
	t.Helper()
	mid, err := s.At(40 * PSI)
	require.NoError(t, err)
	flat := System{Drawdown: f.Stored, Pump: mid.Flow}
	switch r.Text("quantity") {
	case "rel_error_fill_time_using_cut_in_flow":
		flat.Pump = f.CutIn.Flow
		fallthrough
	case "rel_error_fill_time_using_mid_pressure_flow":
		run, err := flat.ShortestRun()
		require.NoError(t, err)
		r.Expected(float64(run/f.Time) - 1)
	case "max_cycles_per_hour_constant_flow_rule":
		c, err := flat.WorstDemand()
		require.NoError(t, err)
		r.Expected(float64(c.Starts / PerHour))
	default:
		t.Fatal(r.Source(), "unknown quantity")
	}
}

// The closed form and quadrature are two ways to one time; so are a table of
// points and the law it was taken from, and Darcy's pipe and its own head at
// the flows in question.
func TestFillTwoWays(t *testing.T) {
	s := Supply{Tank: demo, Pump: powerLaw(t, 180, 0.6, 2), Main: RisingMain{Lift: 20 * Foot, Water: Water{Density: 1000}}}
	closed, err := s.Fill(0, 1)
	require.NoError(t, err)
	s.Main.Losses = []HeadLoss{{At: 1e-3, Exponent: 2}} // no loss, but quadrature
	open, err := s.Fill(0, 1)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(closed.Time), float64(open.Time), 1e-12)
	plain, err := Supply{Tank: demo, Pump: s.Pump, Main: RisingMain{Lift: 20 * Foot, Water: Water{Density: 1000}}}.pumping()
	require.NoError(t, err)
	require.True(t, plain.closed(0))
	assert.False(t, plain.closed(1e-4))
	assert.InEpsilon(t, plain.until(0, plain.drawdown(1), 0).time, plain.closedTime(), 1e-12)
	slow, err := s.Pump.AtSpeed(0.97)
	require.NoError(t, err)
	plain.pump = slow
	assert.InEpsilon(t, plain.until(0, plain.drawdown(1), 0).time, plain.closedTime(), 1e-12)

	// With the taps shut, 160 ft of water of 1000 kg/m³ at 9.80665 m/s².
	held, err := s.ShutOffPressure()
	require.NoError(t, err)
	assert.InEpsilon(t, 160*0.3048*9806.65, float64(held), 1e-12)
	_, err = Supply{}.ShutOffPressure()
	refused(t, err, "tank")

	// A fill that warmed the air settles where [Vessel.SettledPressure] says.
	warm, err := s.Fill(0, SurgeFill)
	require.NoError(t, err)
	settled, err := demo.SettledPressure(SurgeFill)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(settled), float64(warm.Settled), 1e-12)
	assert.InEpsilon(t, float64(demo.CutOut), float64(open.Settled), 1e-12)

	var points []CurvePoint
	for i := range 400 {
		q := s.Pump.RunOut() * FlowRate(i) / 400
		h, err := s.Pump.Head(q)
		require.NoError(t, err)
		points = append(points, CurvePoint{q, h})
	}
	s.Pump, err = CurveThrough(points)
	require.NoError(t, err)
	table, err := s.Fill(0, 1)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(closed.Time), float64(table.Time), 1e-5)
}

// A fill at quarter speed steps is the sum of many small ones by the flow at
// the middle of each: the limit of the simplest quadrature.
func TestFillIsTheLimitOfSmallSteps(t *testing.T) {
	water, err := WaterAt(Celsius(10))
	require.NoError(t, err)
	s := Supply{
		Tank: demo, Pump: powerLaw(t, 235, 1.52648, 1.77923),
		Main: RisingMain{
			Lift: 20, Water: water,
			Pipes:  []Pipe{{Diameter: 0.0266, Length: 60, Roughness: 1.5e-6}},
			Losses: []HeadLoss{{Head: 3, At: 0.6e-3, Exponent: 1}},
		},
	}
	const q = 0.2e-3
	f, err := s.Fill(q, 1)
	require.NoError(t, err)
	const steps = 4000
	sum := 0.0
	for i := range steps {
		v := float64(f.Stored) * (float64(i) + 0.5) / steps
		// Boyle's law for the pressure with so much stored.
		abs := float64(demo.CutIn+demo.Atmosphere) / (1 - v/(float64(demo.Volume)*float64((demo.Precharge+demo.Atmosphere)/(demo.CutIn+demo.Atmosphere))))
		at, err := s.At(unit.Pressure(abs) - demo.Atmosphere)
		require.NoError(t, err)
		sum += float64(f.Stored) / steps / float64(at.Flow-q)
	}
	assert.InEpsilon(t, sum, float64(f.Time), 1e-6)
	assert.InEpsilon(t, float64(f.Stored)+q*float64(f.Time), float64(f.Pumped), 1e-12)

	course, err := s.Course(q, 20)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(f.Time), float64(course[20].After), 1e-9)
	assert.InEpsilon(t, float64(demo.CutOut), float64(course[20].Pressure), 1e-12)
	for i := 1; i <= 20; i++ {
		assert.Greater(t, course[i].After, course[i-1].After)
		assert.Less(t, course[i].Flow, course[i-1].Flow)
	}
}

// Plain and waterlogged tanks fill too; the less air, the shorter the run, and
// with 1 gal of air left a pump of 10 gal/min clicks every few seconds.
func TestOtherTanks(t *testing.T) {
	s := Supply{Pump: powerLaw(t, 180, 0.6, 2), Main: RisingMain{Lift: 20 * Foot, Water: Water{Density: 1000}}}
	fill := func(c Cushion) Fill {
		s.Tank = c
		f, err := s.Fill(0, 1)
		require.NoError(t, err)
		return f
	}
	captive := fill(demo)
	plain := fill(PlainTank{Volume: demo.Volume, CutIn: demo.CutIn, CutOut: demo.CutOut, Atmosphere: demo.Atmosphere})
	dead := fill(Waterlogged{Air: USGallon, CutIn: demo.CutIn, CutOut: demo.CutOut, Atmosphere: demo.Atmosphere})
	assert.InDelta(t, 0.34, float64(plain.Time/captive.Time), 0.01)
	assert.InDelta(t, 0.31/10.7*60, float64(dead.Time), 0.05)
	c, err := s.WorstDemand()
	require.NoError(t, err)
	assert.True(t, c.Short())
	s.Tank = demo
	c, err = s.WorstDemand()
	require.NoError(t, err)
	assert.False(t, c.Short())
}

func TestSupplyStates(t *testing.T) {
	s := Supply{Tank: demo, Pump: powerLaw(t, 180, 0.6, 2), Main: RisingMain{Lift: 20 * Foot, Water: Water{Density: 1000}}}
	_, err := s.Cycle(0)
	require.ErrorIs(t, err, ErrNeverStarts)
	_, err = s.Cycle(9 * USGallonPerMinute)
	require.ErrorIs(t, err, ErrNeverStops)
	_, err = s.Fill(19*USGallonPerMinute, 1)
	require.ErrorIs(t, err, ErrNeverStops)
	require.ErrorContains(t, err, "it holds 0 psi")
	_, err = s.Course(9*USGallonPerMinute, 5)
	require.ErrorIs(t, err, ErrNeverStops)

	high := demo
	high.Precharge = 35 * PSI
	s.Tank = high
	_, err = s.Fill(0, 1)
	require.ErrorIs(t, err, ErrPrechargeAboveCutIn)

	s.Tank = demo
	s.Main.Lift = 120 * Foot
	_, err = s.At(30 * PSI)
	var off *ShutOffError
	require.ErrorAs(t, err, &off)
	_, err = s.Fill(0, 1)
	require.ErrorIs(t, err, ErrNeverStops)
	require.ErrorContains(t, err, "its shut-off head is too low")
	// A demand meanwhile is not the reason.
	_, err = s.Cycle(1 * USGallonPerMinute)
	require.ErrorContains(t, err, "its shut-off head is too low")

	s.Main.Lift = 20 * Foot
	s.Pump, err = CurveThrough([]CurvePoint{{0, 60}, {0.2e-3, 50}})
	require.NoError(t, err)
	_, err = s.Fill(0, 1)
	require.ErrorIs(t, err, ErrBeyondCurve)
}

func TestSupplyRefuses(t *testing.T) {
	good := Supply{Tank: demo, Pump: powerLaw(t, 180, 0.6, 2), Main: RisingMain{Lift: 20 * Foot, Water: Water{Density: 1000}}}
	require.NoError(t, good.Validate())
	for name, change := range map[string]func(s *Supply){
		"tank":                      func(s *Supply) { s.Tank = nil },
		"volume":                    func(s *Supply) { s.Tank = Vessel{} },
		"pump curve":                func(s *Supply) { s.Pump = Curve{} },
		"lift":                      func(s *Supply) { s.Main.Lift = 1000 },
		"density":                   func(s *Supply) { s.Main.Water.Density = 0 },
		"viscosity":                 func(s *Supply) { s.Main.Pipes = []Pipe{{Diameter: 0.03, Length: 10}} },
		"inner diameter":            func(s *Supply) { s.Main.Pipes, s.Main.Water.Viscosity = []Pipe{{Length: 10}}, 1e-3 },
		"exponent of a head lost":   func(s *Supply) { s.Main.Losses = []HeadLoss{{Head: 1, At: 1e-3}} },
		"number of pipes or losses": func(s *Supply) { s.Main.Losses = make([]HeadLoss, 101) },
	} {
		s := good
		change(&s)
		refused(t, s.Validate(), name)
		_, err := s.At(30 * PSI)
		require.ErrorIs(t, err, ErrDomain)
	}
	for _, x := range notNumbers {
		_, err := good.At(unit.Pressure(x))
		refused(t, err, "pressure")
		_, err = good.Fill(FlowRate(x), 1)
		refused(t, err, "demand")
		_, err = good.Fill(0, x)
		refused(t, err, "polytropic exponent")
		_, err = good.Main.Head(FlowRate(x), 0)
		refused(t, err, "flow")
	}
	_, err := good.Course(0, 0)
	refused(t, err, "number of moments")
}

// The operating point lies on both curves, and less pressure means more flow.
func FuzzSupplyAt(f *testing.F) {
	f.Add(55.0, 0.4, 0.7, 30.0, 10.0, 3.0, 25.0, 0.9)
	f.Add(200.0, 0.1, 0.9, 60.0, 100.0, 0.0, 300.0, 1.0)
	f.Fuzz(func(t *testing.T, h0, mid, far, psi, lift, loss, length, speed float64) {
		q := FlowRate(0.8e-3)
		c, err := FitCurve(unit.Length(h0), CurvePoint{q / 2, unit.Length(h0 * (1 - mid*far))}, CurvePoint{q, unit.Length(h0 * (1 - far))})
		if err != nil {
			return
		}
		if c, err = c.AtSpeed(speed); err != nil {
			return
		}
		w, err := WaterAt(Celsius(10))
		require.NoError(t, err)
		s := Supply{Tank: demo, Pump: c, Main: RisingMain{
			Lift: unit.Length(lift), Water: w,
			Pipes:  []Pipe{{Diameter: 0.0266, Length: unit.Length(length)}},
			Losses: []HeadLoss{{Head: unit.Length(loss), At: q, Exponent: 1.852}},
		}}
		p := unit.Pressure(psi) * PSI
		at, err := s.At(p)
		if err != nil {
			return
		}
		on, err := c.Head(at.Flow)
		require.NoError(t, err)
		assert.InDelta(t, float64(on), float64(at.Head), 1e-9*(1+h0))
		system, err := s.Main.Head(at.Flow, p)
		require.NoError(t, err)
		assert.InDelta(t, float64(system), float64(at.Head), 1e-9*(1+h0))
		if lower, err := s.At(p / 2); err == nil {
			assert.GreaterOrEqual(t, lower.Flow, at.Flow*(1-1e-12))
		}
	})
}

// A pump and an input by points: time and energy against the sum of many small
// steps, and no kink of theirs lost.
func TestFillByPoints(t *testing.T) {
	pump, err := CurveThrough([]CurvePoint{{0, 56}, {0.3e-3, 52}, {0.55e-3, 45}, {0.6e-3, 40}, {0.7e-3, 33}, {0.9e-3, 15}})
	require.NoError(t, err)
	input, err := InputThrough([]InputPoint{{0.45e-3, 600}, {0.58e-3, 700}, {0.62e-3, 800}, {0.66e-3, 820}})
	require.NoError(t, err)
	s := Supply{
		Tank: demo, Pump: pump, Input: input,
		Main: RisingMain{Lift: 6, Water: Water{Density: 1000}, Losses: []HeadLoss{{Head: 2, At: 0.5e-3, Exponent: 2}}},
	}
	f, err := s.Fill(0.1e-3, 1)
	require.NoError(t, err)
	require.Greater(t, f.CutIn.Flow, FlowRate(0.66e-3))
	require.Less(t, f.CutOut.Flow, FlowRate(0.58e-3))
	const steps = 20000
	p, err := s.pumping()
	require.NoError(t, err)
	seconds, joules, work := 0.0, 0.0, 0.0
	for i := range steps {
		at, err := s.At(unit.Pressure(p.gauge(float64(f.Stored) * (float64(i) + 0.5) / steps)))
		require.NoError(t, err)
		dt := float64(f.Stored) / steps / float64(at.Flow-0.1e-3)
		seconds, joules, work = seconds+dt, joules+dt*float64(at.Input), work+dt*float64(at.Water)
	}
	assert.InEpsilon(t, seconds, float64(f.Time), 1e-7)
	assert.InEpsilon(t, joules, float64(f.Energy), 1e-7)
	assert.InEpsilon(t, work, float64(f.Work), 1e-7)

	// The way back, with the tank emptied against a running pump, passes the same
	// points.
	vd := float64(f.Stored)
	back := p.until(vd, 0, 0.9e-3)
	sum := 0.0
	for i := range steps {
		sum += vd / steps / (0.9e-3 - p.flow(vd*(float64(i)+0.5)/steps))
	}
	assert.InEpsilon(t, sum, back.time, 1e-7)
}
