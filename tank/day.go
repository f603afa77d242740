package tank

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Supplied is what a supply did while water was drawn, over a day or any
// other time.
type Supplied struct {
	Followed

	Pumped        unit.Volume   // by the pump
	Energy        unit.Energy   // drawn by it; 0 if its input is not known
	Work          unit.Energy   // that the water got
	LeastPressure unit.Pressure // gauge, at the tank; 0 if any demand was unmet
}

// EnergyPerVolume returns what the water pumped cost; 0 where nothing was
// pumped.
//
// Definition: energy over volume.
func (s Supplied) EnergyPerVolume() EnergyPerVolume {
	if s.Pumped <= 0 {
		return 0
	}
	return EnergyPerVolume(float64(s.Energy) / float64(s.Pumped))
}

// A Moment is the state of a supply at a time.
type Moment struct {
	At       unit.Time     // since the beginning
	Stored   unit.Volume   // above that at cut-in
	Pressure unit.Pressure // gauge, at the tank
	Running  bool          // the pump
}

// Full returns the state of a tank that has just been filled.
//
// Definition: the drawdown stored, the pump at rest.
func (s Supply) Full() (Level, error) {
	p, err := s.pumping()
	if err != nil {
		return Level{}, err
	}
	return Level{Stored: unit.Volume(p.drawdown(1))}, nil
}

// Follow returns what tank, switch and pump do while water is drawn, piece by
// piece, from one switching of the pump to the next,
//
//	dV/dt = Q(V) − q while the pump runs, −q while it rests
//
// with V the water stored above that at cut-in (m³), Q the pump's flow at the
// pressure then (m³/s, see [Supply.At]) and q the demand (m³/s). The pump
// starts at cut-in and stops at cut-out. While demand exceeds its flow the
// pressure falls below cut-in until the pump, against less, delivers it, or
// until the tank is empty; with that, the pump's flow at the precharge is all
// there is and the rest of the demand is unmet. A demand between the flows at
// cut-in and at cut-out is held for ever at the pressure between, and the pump
// does not stop.
//
// Times of switching are exact, found by quadrature and not by steps of time;
// whole cycles within a piece are counted, so that a year costs what its pieces
// cost. Where the pieces begin and end changes nothing else. The air keeps its
// temperature. The pump's flow is taken to stop rising at the end of its curve.
//
// Outside the ranges, for a state outside the tank or more than 600 000 pieces
// of at most 400 days, err wraps [ErrDomain]; a precharge above cut-in gives a
// [PrechargeError], and a pump that runs beyond its curve at cut-in
// [ErrBeyondCurve]. A pump that delivers nothing, or never stops, is a result.
//
// Source: water balance of the tank, Boyle's law; see [Supply.Fill].
func (s Supply) Follow(from Level, draws []Draw) (Supplied, error) {
	p, err := s.pumping()
	if err == nil {
		err = p.checkFollow(&from, draws)
	}
	if err != nil {
		return Supplied{}, err
	}
	w := walk{pump: &p, reserve: p.reserve()}
	return p.supplied(&w, from, draws), nil
}

// mostMoments bounds a trace.
const mostMoments = 1_000_000

// Trace is [Supply.Follow] with a [Moment] at the beginning, at each switching
// and at the end of each piece. Between two moments the pressure follows no
// straight line; shorter pieces show more of it and change nothing. More than a
// million moments give an error that wraps [ErrDomain].
//
// Source: see [Supply.Follow].
func (s Supply) Trace(from Level, draws []Draw) ([]Moment, Supplied, error) {
	p, err := s.pumping()
	if err == nil {
		err = p.checkFollow(&from, draws)
	}
	if err != nil {
		return nil, Supplied{}, err
	}
	var moments []Moment
	w := walk{pump: &p, reserve: p.reserve()}
	w.trace = func(at, stored float64, running bool) bool {
		moments = append(moments, Moment{
			At: unit.Time(at), Stored: unit.Volume(stored), Pressure: unit.Pressure(max(0, p.gauge(stored))), Running: running,
		})
		return len(moments) <= mostMoments
	}
	done := p.supplied(&w, from, draws)
	if w.ended {
		return nil, Supplied{}, pkg.Invalid("number of moments", "more than "+strconv.Itoa(mostMoments), "1000000 at most: follow without a trace")
	}
	return moments, done, nil
}

// reserve is the water in the tank at cut-in.
func (p *pumping) reserve() float64 { return max(0, -p.stored(p.floor, 1)) }

func (p *pumping) supplied(w *walk, from Level, draws []Draw) Supplied {
	w.begin(float64(from.Stored), p.drawdown(1), from.Running)
	for _, d := range draws {
		w.draw(float64(d.For), float64(d.Demand))
	}
	s := Supplied{
		Followed: w.followed(),
		Pumped:   unit.Volume(w.pumped),
		Energy:   unit.Energy(w.total.energy), Work: unit.Energy(w.total.work),
	}
	if w.unmet == 0 {
		s.LeastPressure = unit.Pressure(max(0, p.gauge(w.least))) // an empty plain tank's is 0 but for the last bits
	}
	return s
}

// checkFollow refuses what cannot be followed, and moves a level that lies a
// rounding outside the tank into it.
func (p *pumping) checkFollow(from *Level, draws []Draw) error {
	vd, reserve := p.drawdown(1), p.reserve()
	const slack = 1e-9
	err := errors.Join(
		pkg.Range("water stored above cut-in", float64(from.Stored), -reserve-slack*vd, vd*(1+slack), domain.USGallon),
		drawFaults(draws),
	)
	if err != nil {
		return err
	}
	from.Stored = unit.Volume(math.Min(math.Max(float64(from.Stored), -reserve), vd))
	if _, err := p.at(p.on - p.atmosphere); errors.Is(err, ErrBeyondCurve) || errors.Is(err, ErrDomain) {
		return err
	}
	return nil
}
