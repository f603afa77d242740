package numeric

import (
	"errors"
	"math"
)

// What ends an integration early. The solver then stands at the last state
// that its tolerances let pass.
var (
	// ErrArgument says that a field, a length or a time cannot be.
	ErrArgument = errors.New("numeric: argument of the differential equation out of range")
	// ErrSteps says that ODE.MaxSteps steps did not reach the end.
	ErrSteps = errors.New("numeric: too many steps")
	// ErrStiff says that no step is short enough: the solution runs away, or
	// the right-hand side is not finite or not smooth.
	ErrStiff = errors.New("numeric: step length vanishes")
)

// An ODE is a system of differential equations, y' = F(t, y), with the
// accuracy that is wanted of its solution.
type ODE struct {
	// F writes the slope of y at time t into dy. It keeps neither slice and
	// does not write to y. Where it jumps, the error estimate is too small: let
	// an event end the step there, and Restart.
	F func(t float64, y, dy []float64)
	// RTol and ATol bound the error that each step adds to a state y:
	// ATol + RTol·|y|. RTol is 1e-14 to 0.1. ATol holds one number for all
	// states, or one a state; none counts as 0, with which a state that passes
	// through 0 is held to no error at all there.
	RTol float64
	ATol []float64
	// MaxStep is the longest step; 0 sets no limit.
	MaxStep float64
	// MaxSteps is the number of steps since Start, rejected ones among them,
	// after which [ErrSteps] ends the integration; 0 stands for ten million.
	MaxSteps int
	// Events end a step where they happen.
	Events []Event
}

// A Solver integrates an [ODE] from step to step. It allocates in NewSolver
// only, and is good for any number of starts. The fields of the ODE may change
// between steps, if Restart follows.
//
//	s := NewSolver(ODE{F: f, RTol: 1e-9, ATol: []float64{1e-9}}, 2)
//	err := s.Start(0, []float64{1, 0})
//	for err == nil && s.T() < 10 {
//		err = s.Step(10)
//	}
type Solver struct {
	ODE

	t0, t, h float64 // the last step: from t0 to t, of length h, 0 after Restart
	next     float64 // the length that the next step tries
	before   float64 // the logarithm of the last step's defect, calm at least
	tried    int     // steps since Start

	y0, y, atol, work []float64
	k                 [7][]float64 // the slopes of the last step
	found             []crossing   // one for each event
	event             int          // the event that ended the last step, or -1
}

// NewSolver returns a solver of a system of n states.
func NewSolver(p ODE, n int) *Solver {
	n = max(n, 0)
	all := make([]float64, 11*n)
	cut := func() (v []float64) {
		v, all = all[:n:n], all[n:]
		return v
	}
	s := &Solver{ODE: p, y0: cut(), y: cut(), atol: cut(), work: cut()}
	for i := range s.k {
		s.k[i] = cut()
	}
	s.found = make([]crossing, len(p.Events))
	s.event = -1
	return s
}

// Start puts the solver at the state y at time t. It copies y.
func (s *Solver) Start(t float64, y []float64) error {
	if len(y) != len(s.y) {
		return ErrArgument
	}
	copy(s.y, y)
	s.t, s.tried = t, 0
	clear(s.found)
	return s.Restart()
}

// Restart goes on from the present time after F, another field of the ODE, or
// the state that Y returns was changed. The events that have just happened do
// not happen again at this place.
func (s *Solver) Restart() error {
	s.next = 0
	if err := s.check(); err != nil {
		return err
	}
	s.t0, s.h, s.before, s.event = s.t, 0, calm, -1
	copy(s.y0, s.y)
	// Step begins with the slope in k[6], where a step leaves it.
	s.F(s.t, s.y, s.k[6])
	for _, v := range s.k[6] {
		if !isFinite(v) {
			return ErrStiff
		}
	}
	s.next = s.first()
	return nil
}

// check refuses what no integration can begin with.
func (s *Solver) check() error {
	n := len(s.y)
	ok := s.F != nil && n > 0 && isFinite(s.t) &&
		s.RTol >= 1e-14 && s.RTol <= 0.1 && s.MaxStep >= 0 && s.MaxSteps >= 0 &&
		(len(s.ATol) == n || len(s.ATol) <= 1)
	for _, v := range s.y {
		ok = ok && isFinite(v)
	}
	for _, v := range s.ATol {
		ok = ok && v >= 0 && isFinite(v)
	}
	for _, e := range s.Events {
		ok = ok && e.G != nil
	}
	if !ok {
		return ErrArgument
	}
	for i := range s.atol {
		switch len(s.ATol) {
		case 0:
			s.atol[i] = 0
		case 1:
			s.atol[i] = s.ATol[0]
		default:
			s.atol[i] = s.ATol[i]
		}
	}
	if missing := len(s.Events) - len(s.found); missing > 0 {
		s.found = append(s.found, make([]crossing, missing)...)
	}
	return nil
}

// Run steps to the end or to the first event.
func (s *Solver) Run(end float64) error {
	for {
		if err := s.Step(end); err != nil || s.t >= end || s.event >= 0 {
			return err
		}
	}
}

// T is the present time.
func (s *Solver) T() float64 { return s.t }

// Y is the present state. Who writes to it calls Restart.
func (s *Solver) Y() []float64 { return s.y }

// Slope is y' at the present time. It is not to be written to.
func (s *Solver) Slope() []float64 { return s.k[6] }

// Last returns the beginning and the end of the last step, which are one after
// Start, Restart and an error.
func (s *Solver) Last() (from, to float64) { return s.t0, s.t }

// Steps is the number of steps since Start, rejected ones among them.
func (s *Solver) Steps() int { return s.tried }

// At writes the state at time t into out, by the polynomial of order 4 through
// the last step, and returns false if t is outside of it or out too short.
func (s *Solver) At(t float64, out []float64) bool {
	if !(t >= s.t0 && t <= s.t) || len(out) < len(s.y) {
		return false
	}
	switch t {
	case s.t:
		copy(out, s.y)
	case s.t0:
		copy(out, s.y0)
	default:
		s.dense(t-s.t0, out)
	}
	return true
}

// Max returns the greatest value of f over the last step and its time, from the
// polynomial of [Solver.At]. Of several maxima inside the step it finds one.
// The time is known to 1e-8 of the step, which is as sharp as a maximum is.
func (s *Solver) Max(f func(t float64, y []float64) float64) (t, value float64) {
	at := func(x float64) float64 {
		if x >= s.h {
			return f(s.t, s.y)
		}
		s.dense(x, s.work)
		return f(s.t0+x, s.work)
	}
	value = f(s.t0, s.y0)
	if s.h == 0 {
		return s.t, value
	}
	const parts = 4
	best := 0
	for i := 1; i <= parts; i++ {
		if v := at(s.h * float64(i) / parts); v > value {
			best, value = i, v
		}
	}
	lo, hi := s.h*float64(max(best-1, 0))/parts, s.h*float64(min(best+1, parts))/parts
	t = s.t0 + s.h*float64(best)/parts
	if best == parts {
		t = s.t
	}
	// Where the function falls away from the end of a step, that end is it.
	if best == 0 && at(s.h/1024) <= value || best == parts && at(s.h*1023/1024) <= value {
		return t, value
	}
	x := Maximum(at, lo, hi, 1e-9*s.h)
	if v := at(x); v > value {
		t, value = s.t0+x, v
	}
	return t, value
}

func abs(x float64) float64 { return math.Abs(x) }

func isFinite(x float64) bool { return x-x == 0 }
