package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// DiffusionTerms is how many terms of its series [Diffusion] takes, as its
// authors did: 10. With 2000 terms a published 47 min life is 1 % shorter, so
// parameters and number of terms belong together.
const DiffusionTerms = 10

// A DiffusionRate is β² of the diffusion model (1/s). Make one with
// [BetaPerRoot].
type DiffusionRate float64

// BetaPerRoot returns β² from a β printed per root of a minute:
//
//	BetaPerRoot(0.273, battery.Minute)
//
// Definition: β²/per.
func BetaPerRoot(beta float64, per unit.Time) DiffusionRate {
	return DiffusionRate(beta * beta / float64(per))
}

// A Diffusion is the diffusion model of a battery: charge carriers move to the
// electrode through a layer, and the battery is empty when none are left
// there. It stands beside [Kinetic] as a check that has another form and other
// parameters: over 21 published loads of one cell the two agree within 0.8 %
// but for three with swings of high current every minute, where they differ
// by 2 to 5 %. It knows no charging. The zero value is invalid.
//
// Source: D. Rakhmatov and S. Vrudhula, An analytical high-level battery model
// for use in energy management of portable electronic systems, ICCAD 2001;
// with D. Wallach, ISLPED 2002.
type Diffusion struct {
	Capacity unit.Charge   // α, delivered in an endless discharge; 0.5 Ah to 100 kAh
	Rate     DiffusionRate // β², 1e-7 to 1 a second
}

func (m Diffusion) validate() error {
	return errors.Join(
		checkCapacity("diffusion capacity", m.Capacity),
		pkg.Range("diffusion rate per second", float64(m.Rate), 1e-7, 1, domain.One),
	)
}

func (m Diffusion) checkCurrent(i unit.Current) error {
	most := fastest * float64(m.Capacity) / float64(Hour)
	return pkg.Range("current", float64(i), 0, most, domain.Ampere)
}

// Lost returns the charge σ that a load has taken from a full battery by its
// end, with what is out of reach for the moment,
//
//	σ = Σ I·D + 2·Σ I·Σ (exp(-β²m²·(L-t-D)) - exp(-β²m²·(L-t)))/(β²m²)
//
// where I is the current of a step (A), t its start (s) and D its time (s), L
// the time of the whole load (s), and m runs from 1 to [DiffusionTerms]. The
// battery is empty when σ reaches α. It falls again in a rest. What a load
// that empties the battery on its way takes beyond that is counted on.
//
// Steps of 0 to ten times the capacity an hour for 0 to 10000 h; otherwise,
// and for a model outside its bounds, err wraps [ErrDomain].
//
// Source: Rakhmatov and Vrudhula, 2001, with ten terms, carried from step to
// step term by term.
func (m Diffusion) Lost(load []Step) (unit.Charge, error) {
	if err := m.check(load); err != nil {
		return 0, err
	}
	var modes [DiffusionTerms]float64
	s := diffusionState{rate: float64(m.Rate), modes: modes[:]}
	for _, step := range load {
		s.after(float64(step.Current), float64(step.For))
	}
	return unit.Charge(s.lost(0, 0)), nil
}

// Life returns when a load empties a full battery, and false where it does not
// before its end. Bounds as for [Diffusion.Lost].
//
// Source: as for [Diffusion.Lost], σ(L) = α.
func (m Diffusion) Life(load []Step) (life unit.Time, emptied bool, err error) {
	if err := m.check(load); err != nil {
		return 0, false, err
	}
	var modes [DiffusionTerms]float64
	life, emptied = m.life(load, modes[:])
	return life, emptied, nil
}

func (m Diffusion) check(load []Step) error {
	err := m.validate()
	for _, s := range load {
		err = errors.Join(err, m.checkCurrent(s.Current),
			pkg.Range("time of a step", float64(s.For), 0, float64(mostStepTime), domain.Hour))
	}
	return err
}

// diffusionLooks is how often a step is looked at: under a constant current
// the loss may turn when fast and slow terms run against each other.
const diffusionLooks = 32

// life is Life with as many terms as there are modes.
func (m Diffusion) life(load []Step, modes []float64) (unit.Time, bool) {
	s := diffusionState{rate: float64(m.Rate), modes: modes}
	alpha, begun := float64(m.Capacity), 0.0
	for _, step := range load {
		i, t := float64(step.Current), float64(step.For)
		over := func(x float64) float64 { return s.lost(i, x) - alpha }
		from := 0.0
		for n := 1; i > 0 && n <= diffusionLooks; n++ {
			x := float64(n) / diffusionLooks
			to := t * x * x // closer where the fast terms move
			if over(to) >= 0 {
				end, err := numeric.Root(over, from, to, 0)
				if err != nil {
					end = from
				}
				return unit.Time(begun + end), true
			}
			from = to
		}
		s.after(i, t)
		begun += t
	}
	return unit.Time(begun), false
}

// A diffusionState is the charge drawn, and term by term the charge out of
// reach: u' = I - β²m²·u.
type diffusionState struct {
	rate  float64
	drawn float64
	modes []float64
}

// lost returns σ a time t further on under a current.
func (s *diffusionState) lost(i, t float64) float64 {
	sum := 0.0
	for n, u := range s.modes {
		l := s.rate * float64((n+1)*(n+1))
		r := math.Expm1(-l * t)
		sum += u + (u-i/l)*r
	}
	return s.drawn + i*t + 2*sum
}

// after moves the state on.
func (s *diffusionState) after(i, t float64) {
	for n, u := range s.modes {
		l := s.rate * float64((n+1)*(n+1))
		s.modes[n] += (u - i/l) * math.Expm1(-l*t)
	}
	s.drawn += i * t
}
