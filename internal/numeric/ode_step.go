package numeric

import "math"

// first guesses the length of the first step from the slope and from how much
// it changes over a trial step.
//
// Source: E. Hairer, S. P. Nørsett and G. Wanner, Solving Ordinary Differential
// Equations I, 2nd ed., II.4.
func (s *Solver) first() float64 {
	size := func(v, w []float64) (norm float64) {
		for i := range v {
			d := v[i]
			if w != nil {
				d -= w[i]
			}
			if allowed := s.atol[i] + s.RTol*abs(s.y[i]); allowed > 0 {
				norm = max(norm, abs(d)/allowed)
			}
		}
		return norm
	}
	slope := s.k[6]
	d0, d1 := size(s.y, nil), size(slope, nil)
	h := 1e-6
	if d0 > 1e-5 && d1 > 1e-5 {
		h = 0.01 * d0 / d1
	}
	if s.MaxStep > 0 {
		h = min(h, s.MaxStep)
	}
	h = max(h, 100*ulp*abs(s.t), math.SmallestNonzeroFloat64)
	for i := range s.work {
		s.work[i] = s.y[i] + h*slope[i]
	}
	s.F(s.t+h, s.work, s.k[1])
	d2 := size(s.k[1], slope) / h
	longer := max(1e-6, h*1e-3)
	if d := max(d1, d2); d > 1e-15 {
		longer = math.Pow(0.01/d, 1.0/5)
	}
	if longer = min(100*h, longer); longer > 0 {
		return longer
	}
	return h
}

// calm is the logarithm of the least defect of a step that the next one is
// measured by, 1e-4.
const calm = -4 * math.Ln10

// Step advances by one step that the tolerances let pass, not beyond end and
// not beyond the first of the events. The end must lie ahead.
func (s *Solver) Step(end float64) error {
	if !(end > s.t) || !isFinite(end-s.t) || s.next == 0 || s.F == nil || len(s.Events) > len(s.found) {
		return ErrArgument
	}
	s.t0, s.event = s.t, -1
	s.y0, s.y = s.y, s.y0
	s.k[0], s.k[6] = s.k[6], s.k[0]
	s.open()
	h, err := s.pass(end)
	if err != nil {
		s.t, s.h = s.t0, 0
		s.y0, s.y = s.y, s.y0
		s.k[0], s.k[6] = s.k[6], s.k[0]
		copy(s.y0, s.y)
		return err
	}
	s.h, s.t = h, s.t0+h
	if s.t >= end || h == end-s.t0 {
		s.t = end
	}
	s.locate()
	return nil
}

// pass tries steps from t0 until one passes, and returns its length. A step
// that fails is shortened; one that passes sets the length of the next after
// its error and that of the step before it.
//
// Source: E. Hairer and G. Wanner, Solving Ordinary Differential Equations II,
// 2nd ed., IV.2, a controller with proportional and integral part, with the
// constants of their program for this pair.
func (s *Solver) pass(end float64) (float64, error) {
	const (
		beta     = 0.04
		alpha    = 0.2 - 0.75*beta
		caution  = 0.9
		shortest = 0.2
		longest  = 10
	)
	limit := s.MaxSteps
	if limit == 0 {
		limit = 1e7
	}
	planned, grow, ahead := s.next, longest+0.0, end-s.t0
	if s.MaxStep > 0 {
		planned = min(planned, s.MaxStep)
	}
	for ; ; s.tried++ {
		if s.tried >= limit {
			return 0, ErrSteps
		}
		h := min(planned, ahead)
		// A rest too short for a step of its own is shared.
		if h < ahead && 1.01*h > ahead {
			h = ahead / 2
		}
		if !(s.t0+h/10 > s.t0) && h < ahead {
			return 0, ErrStiff
		}
		s.stages(h)
		s.F(s.t0+h, s.y, s.k[6])
		d := s.defect(h)
		switch {
		case d <= 1:
			s.tried++
			ln := math.Log(d)
			factor := caution * math.Exp(beta*s.before-alpha*ln)
			s.before = max(ln, calm)
			s.next = h * max(shortest, min(grow, factor))
			if h == ahead {
				// The end cut this step short, which says nothing of the next.
				s.next = max(s.next, planned)
			}
			return h, nil
		case d > 1:
			planned = h * max(shortest, caution*math.Pow(d, -alpha))
		default: // not finite
			planned = h / 10
		}
		grow = 1
	}
}
