package numeric

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

// swing is the harmonic oscillator of period 2π.
func swing(_ float64, y, dy []float64) { dy[0], dy[1] = y[1], -y[0] }

// kepler is the motion of a planet in a plane: place and speed.
func kepler(_ float64, y, dy []float64) {
	r := math.Hypot(y[0], y[1])
	dy[0], dy[1] = y[2], y[3]
	dy[2], dy[3] = -y[0]/(r*r*r), -y[1]/(r*r*r)
}

// pericentre is where the orbit of a semi-axis of 1 is closest.
func pericentre(e float64) []float64 {
	return []float64{1 - e, 0, 0, math.Sqrt((1 + e) / (1 - e))}
}

// rotating is a stable system with a pair of 377 rad/s.
var rotating = [6][6]float64{
	{-20, 377, 1, 0, 0, 3},
	{-377, -20, 0, 1, 0, 0},
	{5, 0, -30, 12, 0, 0},
	{0, 5, -12, -30, 0, 0},
	{0, 0, 1, 1, -2, 0},
	{1, 0, 0, 0, 0.5, -4},
}

func linear6(_ float64, y, dy []float64) {
	for i := range rotating {
		row := &rotating[i]
		dy[i] = row[0]*y[0] + row[1]*y[1] + row[2]*y[2] + row[3]*y[3] + row[4]*y[4] + row[5]*y[5]
	}
}

// system returns the equations of a row of ode.csv, without events.
func system(row reftest.Row) (p ODE, start []float64) {
	p = ODE{RTol: 1e-12, ATol: []float64{1e-12}}
	switch row.Text("problem") {
	case "van der Pol":
		p.F = func(_ float64, y, dy []float64) { dy[0], dy[1] = y[1], (1-y[0]*y[0])*y[1]-y[0] }
		return p, []float64{2, 0}
	case "three bodies":
		const mu = 0.012277471
		p.F = func(_ float64, y, dy []float64) {
			cube := func(x float64) float64 { return math.Pow(x*x+y[1]*y[1], 1.5) }
			one, two := (1-mu)/cube(y[0]+mu), mu/cube(y[0]-1+mu)
			dy[0], dy[1] = y[2], y[3]
			dy[2] = y[0] + 2*y[3] - one*(y[0]+mu) - two*(y[0]-1+mu)
			dy[3] = y[1] - 2*y[2] - one*y[1] - two*y[1]
		}
		return p, []float64{0.994, 0, 0, -2.00158510637908252240537862224}
	case "pendulum":
		p.F = func(_ float64, y, dy []float64) { dy[0], dy[1] = y[1], -math.Sin(y[0]) }
		return p, []float64{row.Param("A", ""), 0}
	case "run-up":
		sm := row.Param("sm", "")
		p.F = func(_ float64, y, dy []float64) { dy[0] = -6 / (y[0]/sm + sm/y[0]) }
		return p, []float64{1}
	case "inductive circuit":
		q, a := row.Param("q", ""), row.Param("a", "")
		r := 1 / math.Sqrt(1+q*q)
		p.F = func(t float64, y, dy []float64) { dy[0] = (math.Sin(t+a) - r*y[0]) / (q * r) }
		return p, []float64{0}
	case "Kepler":
		p.F = kepler
		return p, pericentre(0.6)
	case "linear":
		p.F = linear6
		return p, []float64{1, 0, 2, -1, 0.5, 3}
	}
	return ODE{}, nil
}

func TestReferences(t *testing.T) {
	for _, row := range reftest.Rows(t, "numeric/ode.csv") {
		p, y := system(row)
		require.NotNil(t, p.F, row.Source())
		end, quantity := 20.0, row.Text("quantity")
		switch {
		case row.HasParam("t"):
			end = row.Param("t", "")
		case row.HasParam("s"):
			target := row.Param("s", "")
			p.Events = []Event{{G: func(_ float64, y []float64) float64 { return y[0] - target }}}
		default:
			p.Events = []Event{{G: first, Direction: Falling}}
		}
		s := NewSolver(p, len(y))
		require.NoError(t, s.Start(0, y), row.Source())
		highest := 0.0
		for s.T() < end && s.Event() < 0 {
			require.NoError(t, s.Step(end), row.Source())
			_, v := s.Max(first)
			highest = max(highest, v)
		}
		var got float64
		switch quantity {
		case "time":
			require.Equal(t, 0, s.Event(), row.Source())
			got = s.T()
		case "speed":
			got = s.Y()[1]
		case "maximum":
			got = highest
		default:
			got = s.Y()[int(row.Float("quantity"))]
		}
		row.Expected(got)
	}
}

// first is the first state.
func first(_ float64, y []float64) float64 { return y[0] }

// fixed goes from 0 to end in n equal steps and returns the solver, which
// stands before the slope at the end of its last step is known.
func fixed(p ODE, y []float64, end float64, n int) *Solver {
	s := NewSolver(p, len(y))
	copy(s.y, y)
	for i := range n {
		s.y0, s.y = s.y, s.y0
		s.t0, s.h = end*float64(i)/float64(n), end/float64(n)
		s.F(s.t0, s.y0, s.k[0])
		s.stages(s.h)
		s.F(s.t0+s.h, s.y, s.k[6])
	}
	return s
}

// Half the step gives 1/32 of the error of the solution, and 1/32 of that of
// one step's polynomial and of its error estimate.
func TestConvergenceOrder(t *testing.T) {
	p := ODE{F: kepler, RTol: 1e-3, ATol: []float64{1e-3}}
	y := pericentre(0.3)
	global := func(n int) float64 {
		end := fixed(p, y, 2*math.Pi, n).y
		return math.Hypot(end[0]-y[0], end[1]-y[1])
	}
	var out [4]float64
	exact := func(h float64) []float64 { return fixed(p, y, h, 64).y }
	local := func(h float64) float64 {
		s := fixed(p, y, h, 1)
		s.dense(h/3, out[:])
		e := exact(h / 3)
		return math.Hypot(out[0]-e[0], out[1]-e[1])
	}
	estimate := func(h float64) float64 {
		s := fixed(p, y, h, 1)
		s.atol = []float64{1, 1, 1, 1}
		return s.defect(h)
	}
	order := func(f, g float64) float64 { return math.Log2(f / g) }
	assert.InDelta(t, 5, order(global(800), global(1600)), 0.1)
	assert.InDelta(t, 5, order(local(0.04), local(0.02)), 0.15)
	assert.InDelta(t, 5, order(estimate(0.04), estimate(0.02)), 0.15)
	// Without its y, a right-hand side is a quadrature, exact to degree 4.
	quartic := ODE{F: func(t float64, _, dy []float64) { dy[0] = 5*t*t*t*t - 3*t*t + 1 }}
	assert.InDelta(t, 32-8+2, fixed(quartic, []float64{0}, 2, 1).y[0], 1e-13)
}

func TestOscillatorOverManyPeriods(t *testing.T) {
	for _, tol := range []float64{1e-4, 1e-6, 1e-8, 1e-10, 1e-12} {
		s := NewSolver(ODE{F: swing, RTol: tol, ATol: []float64{tol}}, 2)
		require.NoError(t, s.Start(0, []float64{1, 0}))
		const end = 1000 * 2 * math.Pi
		require.NoError(t, s.Run(end))
		assert.InDelta(t, end, s.T(), 0)
		drift := math.Hypot(s.Y()[0], s.Y()[1]) - 1
		assert.InDelta(t, 0, drift, 0.7*end*tol, "%g: amplitude", tol)
		assert.InDelta(t, 0, math.Atan2(s.Y()[1], s.Y()[0]), 0.7*end*tol, "%g: phase", tol)
	}
}

func TestKeplerReturns(t *testing.T) {
	p := ODE{F: kepler, RTol: 1e-12, ATol: []float64{1e-13}}
	// The ascending node after the pericentre is the end of a period.
	p.Events = []Event{{G: func(_ float64, y []float64) float64 { return y[1] }, Direction: Rising}}
	y := pericentre(0.6)
	s := NewSolver(p, 4)
	require.NoError(t, s.Start(0, y))
	for i := 1; i <= 10; i++ {
		require.NoError(t, s.Run(100))
		require.True(t, s.Fired(0))
		assert.InEpsilon(t, 2*math.Pi*float64(i), s.T(), 3e-10)
		assert.InDeltaSlice(t, y, s.Y(), 1e-9)
		r := math.Hypot(s.Y()[0], s.Y()[1])
		assert.InDelta(t, -0.5, (s.Y()[2]*s.Y()[2]+s.Y()[3]*s.Y()[3])/2-1/r, 1e-10, "energy")
	}
}

func TestLogistic(t *testing.T) {
	exact := func(t float64) float64 { return 1 / (1 + 999*math.Exp(-3*t)) }
	s := NewSolver(ODE{
		F:    func(_ float64, y, dy []float64) { dy[0] = 3 * y[0] * (1 - y[0]) },
		RTol: 1e-11, ATol: []float64{1e-14},
	}, 1)
	require.NoError(t, s.Start(0, []float64{0.001}))
	var out [1]float64
	for s.T() < 8 {
		require.NoError(t, s.Step(8))
		assert.InEpsilon(t, exact(s.T()), s.Y()[0], 2e-10)
		from, to := s.Last()
		for i := range 11 {
			at := min(to, from+(to-from)*float64(i)/10)
			require.True(t, s.At(at, out[:]))
			assert.InEpsilon(t, exact(at), out[0], 1e-9, "between the steps")
		}
	}
}

func TestStepKeepsItsPromises(t *testing.T) {
	s := NewSolver(ODE{F: swing, RTol: 1e-3, ATol: []float64{1e-3}, MaxStep: 0.125}, 2)
	require.NoError(t, s.Start(2, []float64{1, 0}))
	last := s.T()
	for s.T() < 5 {
		require.NoError(t, s.Step(5))
		from, to := s.Last()
		assert.InDelta(t, last, from, 0)
		assert.InDelta(t, s.T(), to, 0)
		assert.Greater(t, to, from)
		assert.LessOrEqual(t, to-from, 0.125*(1+1e-12))
		assert.InDelta(t, -s.Y()[0], s.Slope()[1], 0)
		last = to
	}
	assert.InDelta(t, 5, s.T(), 0)
	var out [2]float64
	assert.False(t, s.At(4.5, out[:]), "before the last step")
	assert.False(t, s.At(5.1, out[:]), "ahead")
	assert.False(t, s.At(math.NaN(), out[:]))
	assert.False(t, s.At(5, out[:1]), "too short")
	// A step that the end cuts short does not shorten the ones after it.
	steps := s.Steps()
	require.NoError(t, s.Step(5+1e-9))
	require.NoError(t, s.Step(6))
	assert.Equal(t, steps+2, s.Steps())
	from, to := s.Last()
	assert.Greater(t, to-from, 0.1)
}

func TestStartAgainIsTheSame(t *testing.T) {
	s := NewSolver(ODE{F: kepler, RTol: 1e-8, ATol: []float64{1e-8}}, 4)
	var once []float64
	for range 3 {
		require.NoError(t, s.Start(0, pericentre(0.4)))
		require.NoError(t, s.Run(5))
		if once == nil {
			once = append(once, s.Y()...)
		}
		assert.Equal(t, once, s.Y())
	}
}

// A tolerance for each state: the second, which is loose, leaves the steps to
// the first.
func TestToleranceOfEachState(t *testing.T) {
	f := func(_ float64, y, dy []float64) { dy[0], dy[1] = -y[0], 1000*math.Cos(30*y[0]) }
	run := func(atol ...float64) int {
		s := NewSolver(ODE{F: f, RTol: 1e-14, ATol: atol}, 2)
		require.NoError(t, s.Start(0, []float64{1, 0}))
		require.NoError(t, s.Run(1))
		return s.Steps()
	}
	assert.Less(t, run(1e-6, 1e9), run(1e-6, 1e-6)/2)
	assert.Equal(t, run(1e-6, 1e-6), run(1e-6))
}

// A state that rests at 0 needs no absolute tolerance.
func TestRestAtZero(t *testing.T) {
	s := NewSolver(ODE{F: linear6, RTol: 1e-9}, 6)
	require.NoError(t, s.Start(0, make([]float64, 6)))
	require.NoError(t, s.Run(1))
	assert.Equal(t, make([]float64, 6), s.Y())
}

func TestMax(t *testing.T) {
	s := NewSolver(ODE{F: swing, RTol: 1e-10, ATol: []float64{1e-10}}, 2)
	require.NoError(t, s.Start(0, []float64{0, 1}))
	at, v := s.Max(first)
	assert.InDelta(t, 0, at, 0)
	assert.InDelta(t, 0, v, 0)
	best, when := math.Inf(-1), 0.0
	for s.T() < 4 {
		require.NoError(t, s.Step(4))
		from, to := s.Last()
		at, v := s.Max(first)
		assert.True(t, at >= from && at <= to)
		assert.GreaterOrEqual(t, v, max(math.Sin(from), math.Sin(to))-1e-9)
		if v > best {
			best, when = v, at
		}
	}
	assert.InDelta(t, 1, best, 1e-9)
	assert.InDelta(t, math.Pi/2, when, 1e-4)
}

func TestRefusals(t *testing.T) {
	good := func() ODE { return ODE{F: swing, RTol: 1e-6, ATol: []float64{1e-6}} }
	start := []float64{1, 0}
	nan, inf := math.NaN(), math.Inf(1)
	for name, spoil := range map[string]func(*ODE){
		"no function":        func(p *ODE) { p.F = nil },
		"no tolerance":       func(p *ODE) { p.RTol = 0 },
		"tight":              func(p *ODE) { p.RTol = 0.9e-14 },
		"loose":              func(p *ODE) { p.RTol = 0.11 },
		"NaN tolerance":      func(p *ODE) { p.RTol = nan },
		"negative tolerance": func(p *ODE) { p.ATol = []float64{-1} },
		"NaN atol":           func(p *ODE) { p.ATol = []float64{1, nan} },
		"infinite atol":      func(p *ODE) { p.ATol = []float64{1, inf} },
		"three of two":       func(p *ODE) { p.ATol = []float64{1, 1, 1} },
		"negative step":      func(p *ODE) { p.MaxStep = -1 },
		"NaN step":           func(p *ODE) { p.MaxStep = nan },
		"negative steps":     func(p *ODE) { p.MaxSteps = -1 },
		"empty event":        func(p *ODE) { p.Events = make([]Event, 1) },
	} {
		p := good()
		spoil(&p)
		s := NewSolver(p, 2)
		require.ErrorIs(t, s.Start(0, start), ErrArgument, name)
		require.ErrorIs(t, s.Step(1), ErrArgument, name)
	}
	for _, p := range []ODE{{F: swing, RTol: 1e-14}, {F: swing, RTol: 0.1, MaxStep: inf}} {
		require.NoError(t, NewSolver(p, 2).Start(0, start))
	}
	s := NewSolver(good(), 2)
	require.ErrorIs(t, s.Step(1), ErrArgument, "not started")
	require.ErrorIs(t, s.Start(0, start[:1]), ErrArgument, "one of two")
	require.ErrorIs(t, s.Start(nan, start), ErrArgument)
	require.ErrorIs(t, s.Start(inf, start), ErrArgument)
	require.ErrorIs(t, s.Start(0, []float64{1, nan}), ErrArgument)
	require.ErrorIs(t, s.Start(0, []float64{inf, 1}), ErrArgument)
	require.ErrorIs(t, NewSolver(good(), 0).Start(0, nil), ErrArgument, "no states")
	require.ErrorIs(t, NewSolver(good(), -1).Start(0, nil), ErrArgument)
	require.NoError(t, s.Start(1, start))
	for _, end := range []float64{1, 0.5, nan, inf, -inf} {
		require.ErrorIs(t, s.Step(end), ErrArgument, end)
		require.ErrorIs(t, s.Run(end), ErrArgument, end)
	}
	require.NoError(t, s.Start(-math.MaxFloat64, start))
	require.ErrorIs(t, s.Step(math.MaxFloat64), ErrArgument, "overflows")
	require.NoError(t, s.Start(1, start))
	s.Events = []Event{{G: first}}
	require.ErrorIs(t, s.Step(2), ErrArgument, "events without Restart")
	require.NoError(t, s.Restart())
	require.NoError(t, s.Step(2))
}

func TestFailures(t *testing.T) {
	one := func(f func(t, y float64) float64) *Solver {
		return NewSolver(ODE{
			F:    func(t float64, y, dy []float64) { dy[0] = f(t, y[0]) },
			RTol: 1e-9, ATol: []float64{1e-9},
		}, 1)
	}
	s := one(func(_, _ float64) float64 { return math.NaN() })
	require.ErrorIs(t, s.Start(0, []float64{1}), ErrStiff, "NaN everywhere")
	require.ErrorIs(t, s.Step(1), ErrArgument)

	s = one(func(t, _ float64) float64 { return math.Sqrt(1 - t) })
	require.NoError(t, s.Start(0, []float64{1}))
	require.ErrorIs(t, s.Run(2), ErrStiff, "NaN from a time on")
	assert.InDelta(t, 1, s.T(), 1e-3)
	assert.InDelta(t, 1+2.0/3, s.Y()[0], 1e-3)

	s = one(func(_, y float64) float64 { return y * y })
	require.NoError(t, s.Start(0, []float64{1}))
	require.Error(t, s.Run(2), "runs away")
	assert.InDelta(t, 1, s.T(), 1e-6)
	assert.Greater(t, s.Y()[0], 1e6)
	assert.False(t, math.IsInf(s.Y()[0], 0))
	from, to := s.Last()
	assert.InDelta(t, from, to, 0)

	s = one(func(_, y float64) float64 { return -1e9 * (y - 1) })
	s.MaxSteps = 1000
	require.NoError(t, s.Start(0, []float64{0}))
	require.ErrorIs(t, s.Run(1), ErrSteps, "stiff")
	assert.Equal(t, 1000, s.Steps())
	at, y := s.T(), s.Y()[0]
	// The solver stands at its last state and goes on from there.
	s.MaxSteps = 2000
	require.ErrorIs(t, s.Run(1), ErrSteps)
	assert.Greater(t, s.T(), at)
	assert.InDelta(t, 1, y, 1e-6)

	// A jump costs rejected steps, and some accuracy.
	s = one(func(t, _ float64) float64 { return math.Copysign(1, t-math.Phi) })
	require.NoError(t, s.Start(0, []float64{0}))
	require.NoError(t, s.Run(3))
	assert.InDelta(t, 3-2*math.Phi, s.Y()[0], 1e-6)
}

func TestScaleOfTime(t *testing.T) {
	for _, w := range []float64{1e-9, 1e-3, 1, 377, 1e6, 1e12} {
		s := NewSolver(ODE{
			F:    func(_ float64, y, dy []float64) { dy[0], dy[1] = w*y[1], -w*y[0] },
			RTol: 1e-9, ATol: []float64{1e-9},
		}, 2)
		require.NoError(t, s.Start(0, []float64{1, 0}), w)
		require.NoError(t, s.Run(10/w), w)
		assert.InDelta(t, math.Cos(10), s.Y()[0], 1e-7, w)
		assert.Less(t, s.Steps(), 180, w)
	}
	// A start far from time 0.
	s := NewSolver(ODE{F: swing, RTol: 1e-6, ATol: []float64{1e-6}}, 2)
	require.NoError(t, s.Start(1e12, []float64{1, 0}))
	require.NoError(t, s.Run(1e12+10))
}

func TestODEAllocatesNothing(t *testing.T) {
	p := ODE{F: swing, RTol: 1e-9, ATol: []float64{1e-9}, Events: []Event{{G: first}, {G: first, Direction: Rising}}}
	s := NewSolver(p, 2)
	y, out, sum := []float64{1, 0}, make([]float64, 2), 0.0
	assert.Zero(t, testing.AllocsPerRun(20, func() {
		if err := s.Start(0, y); err != nil {
			t.Error(err)
		}
		for s.T() < 10 {
			if err := s.Step(10); err != nil {
				t.Error(err)
			}
			_, v := s.Max(first)
			s.At(s.T(), out)
			sum += v
			if s.Event() >= 0 {
				if err := s.Restart(); err != nil {
					t.Error(err)
				}
			}
		}
	}))
	assert.NotZero(t, sum)
}

// exponential returns e^(At)·y of a 2×2 matrix in closed form.
func exponential(a, b, c, d, t float64, y [2]float64) [2]float64 {
	// e^(At) = e^(mt)·(C·I + S·(A − m·I)) with m half the trace.
	m, q := (a+d)/2, (a-d)*(a-d)/4+b*c
	var cc, ss float64
	switch w := math.Sqrt(math.Abs(q)); {
	case w*t < 1e-8:
		cc, ss = 1, t
	case q > 0:
		cc, ss = math.Cosh(w*t), math.Sinh(w*t)/w
	default:
		cc, ss = math.Cos(w*t), math.Sin(w*t)/w
	}
	e := math.Exp(m * t)
	return [2]float64{
		e * (cc*y[0] + ss*((a-m)*y[0]+b*y[1])),
		e * (cc*y[1] + ss*(c*y[0]+(d-m)*y[1])),
	}
}

// Any linear system of two states is solved to its tolerance, times what its
// growth makes of an error, and better to a tighter one.
func FuzzLinearSystem(f *testing.F) {
	f.Add(0.0, 1.0, -1.0, 0.0, 1.0, 0.0)
	f.Add(-3.0, 0.5, 2.0, -1.0, 1.0, -2.0)
	f.Add(-50.0, 0.0, 0.0, -0.1, 4.0, 4.0)
	f.Add(1.0, 1.0, 0.0, 1.0, 0.0, 3.0)
	f.Add(-0.1, 40.0, -40.0, -0.1, 1.0, 0.0)
	f.Add(2.0, -7.0, 3.0, -2.0, 1e-3, 5.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, y0, y1 float64) {
		norm := 0.0
		for _, v := range []float64{a, b, c, d} {
			norm = max(norm, math.Abs(v))
		}
		size := max(math.Abs(y0), math.Abs(y1))
		if !(norm <= 60 && size <= 10) {
			return
		}
		const end = 1.0
		want := exponential(a, b, c, d, end, [2]float64{y0, y1})
		// The largest growth of an error from any time to the end, coarsely.
		growth := 1.0
		for i := range 101 {
			for _, e := range [][2]float64{{1, 0}, {0, 1}} {
				g := exponential(a, b, c, d, end*float64(i)/100, e)
				growth = max(growth, math.Abs(g[0]), math.Abs(g[1]))
			}
		}
		if growth > 1e6 {
			return
		}
		run := func(tol float64) (float64, int) {
			s := NewSolver(ODE{
				F: func(_ float64, y, dy []float64) {
					dy[0], dy[1] = a*y[0]+b*y[1], c*y[0]+d*y[1]
				}, RTol: tol, ATol: []float64{tol},
			}, 2)
			if err := s.Start(0, []float64{y0, y1}); err != nil {
				t.Fatal(err)
			}
			if err := s.Run(end); err != nil {
				t.Fatal(err)
			}
			return math.Hypot(s.Y()[0]-want[0], s.Y()[1]-want[1]), s.Steps()
		}
		for tol := 1e-4; tol > 1e-11; tol /= 10 {
			coarse, n := run(tol)
			allowed := tol * (1 + size*growth) * growth * float64(n)
			if !(coarse <= allowed) {
				t.Errorf("tolerance %g: error %g in %d steps, allowed %g", tol, coarse, n, allowed)
			}
			fine, more := run(tol / 100)
			if !(fine <= coarse/2 || fine <= 2*tol*(1+size*growth)*growth) {
				t.Errorf("tolerance %g: error %g, and %g at 1/100", tol, coarse, fine)
			}
			if more < n {
				t.Errorf("tolerance %g: %d steps, and %d at 1/100", tol, n, more)
			}
		}
	})
}
