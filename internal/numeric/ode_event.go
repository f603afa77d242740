package numeric

// A Direction says which sign changes count as an event.
type Direction int

// The directions; the zero value is both.
const (
	Both Direction = iota
	Rising
	Falling
)

// An Event happens where G changes its sign. G must be continuous in t and y
// over a step; it writes to nothing and keeps nothing.
//
// The solver looks at G at the ends and the quarters of each step, so that a
// pair of sign changes between two of these goes unseen: MaxStep helps. A G
// that is 0 where a step begins, or whose event has just ended the step before,
// is not found there again.
type Event struct {
	G         func(t float64, y []float64) float64
	Direction Direction
}

// A crossing is what the solver knows of an event.
type crossing struct {
	side  float64 // G where it was last seen beside 0; 0 where it is not known
	value float64 // G at the sample under test
	fired bool    // the event ended the last step
}

// Event returns the index of the event that ended the last step, -1 if none.
// Of events at one time it is the first.
func (s *Solver) Event() int { return s.event }

// Fired says whether event i happened where the last step ended. With two
// events at one time it is true of both, or the second one ends the next step,
// which is then shorter than anything.
func (s *Solver) Fired(i int) bool {
	return s.event >= 0 && i >= 0 && i < len(s.Events) && s.found[i].fired
}

// crosses says whether a change from one value of G to another is the event.
func (e Event) crosses(from, to float64) bool {
	return from < 0 && to >= 0 && e.Direction != Falling ||
		from > 0 && to <= 0 && e.Direction != Rising
}

// open notes the sides of all events at the beginning of a step.
func (s *Solver) open() {
	for i, e := range s.Events {
		c := &s.found[i]
		c.side = 0
		if !c.fired {
			c.side = e.G(s.t0, s.y0)
		}
	}
}

// The places in a step where events are looked at. Where one begins on its
// zero, its side shows only after the beginning, and it may come back early.
var samples = [...]float64{0x1p-24, 0x1p-20, 0x1p-16, 0x1p-12, 0x1p-8, 0x1p-4, 0.25, 0.5, 0.75, 1}

const early = 6

// locate ends the step at the first event in it.
func (s *Solver) locate() {
	if len(s.Events) == 0 {
		return
	}
	places := samples[early:]
	for i := range s.Events {
		s.found[i].fired = false
		if s.found[i].side == 0 {
			places = samples[:]
		}
	}
	lo := 0.0
	for _, theta := range places {
		hi := theta * s.h
		x, first := s.between(lo, hi)
		if first >= 0 {
			s.shorten(first, lo, x, hi)
			return
		}
		for i := range s.Events {
			if c := &s.found[i]; c.value < 0 || c.value > 0 {
				c.side = c.value
			}
		}
		lo = hi
	}
}

// between returns the first event from lo to hi into the step by the polynomial,
// and its place, or -1.
func (s *Solver) between(lo, hi float64) (x float64, first int) {
	y, t := s.y, s.t
	if hi < s.h {
		s.dense(hi, s.work)
		y, t = s.work, s.t0+hi
	}
	for i, e := range s.Events {
		s.found[i].value = e.G(t, y)
	}
	x, first = hi, -1
	for i, e := range s.Events {
		if !e.crosses(s.found[i].side, s.found[i].value) {
			continue
		}
		root, err := Root(func(x float64) float64 {
			switch x {
			case lo:
				return s.found[i].side
			case hi:
				return s.found[i].value
			}
			s.dense(x, s.work)
			return e.G(s.t0+x, s.work)
		}, lo, hi, 4*ulp*abs(s.t0))
		if err != nil {
			root = hi
		}
		if first < 0 || root < x {
			x, first = root, i
		}
	}
	return x, first
}

// shorten repeats the step so that it ends at event i, which lies between lo
// and hi and by the polynomial at x. The polynomial is of a lower order than
// the step itself; so the place is found again among steps of varied length,
// near x first.
func (s *Solver) shorten(i int, lo, x, hi float64) {
	e, near := s.Events[i], (hi-lo)/1024
	for _, b := range [...][2]float64{{max(lo, x-near), min(hi, x+near)}, {lo, hi}} {
		root, err := Root(func(h float64) float64 {
			s.stages(h)
			return e.G(s.t0+h, s.y)
		}, b[0], b[1], 4*ulp*abs(s.t0))
		if err == nil {
			x = root
			break
		}
	}
	if x != s.h {
		s.t = s.t0 + x
	}
	s.h = x
	s.stages(x)
	s.F(s.t, s.y, s.k[6])
	for j, other := range s.Events {
		s.found[j].fired = j == i || other.crosses(s.found[j].side, other.G(s.t, s.y))
		if s.found[j].fired && s.event < 0 {
			s.event = j
		}
	}
}
