package tank

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Draw is a time during which water is drawn at one rate.
type Draw struct {
	For    unit.Time // 0 to 400 days
	Demand FlowRate  // 0, or 1e-9 m³/s to 20 L/s
}

// A Level is what a tank holds and whether its pump runs.
type Level struct {
	// Stored is the water above what the tank holds at cut-in: from minus the
	// reserve to the drawdown.
	Stored unit.Volume
	// Running says that the pump does.
	Running bool
}

// A Followed is what tank, switch and pump did while water was drawn.
type Followed struct {
	Starts    int         // of the pump
	PumpTime  unit.Time   // that it ran
	Drawn     unit.Volume // that came out of the taps
	Unmet     unit.Volume // that was asked for with the tank empty
	Least     unit.Volume // least of [Level]'s Stored on the way
	End       Level       // at the end of the last piece
	LongestOn unit.Time   // longest run of the pump without a rest; of one that had started before, from here on
}

// mostDraws bounds a profile: a minute of each day for 400 days.
const mostDraws = 600_000

// Follow returns what tank, switch and pump do while water is drawn, piece by
// piece, from one switching of the pump to the next,
//
//	dS/dt = Q - q while the pump runs, -q while it rests
//
// with S the water stored above that at cut-in (m³), Q the pump's flow and q the
// demand (m³/s). The pump starts at S = 0 and stops at S = Vd, the drawdown.
// While demand exceeds the pump's flow, S falls below 0 into the reserve (m³),
// the water that the tank still holds at cut-in; with that gone, the pump's flow
// is all there is and the rest of the demand is unmet. Times of switching are
// exact; whole cycles within one piece are counted and not walked through, so
// that a year costs what its pieces cost. Where the pieces begin and end changes
// nothing else.
//
// The pump's flow is constant, as [System] has it. Outside the ranges, for a
// reserve above 1.9 m³, a state outside the tank, or more than 600 000 pieces,
// err wraps [ErrDomain].
//
// Source: water balance of the tank.
func (s System) Follow(from Level, reserve unit.Volume, draws []Draw) (Followed, error) {
	if err := s.checkFollow(from, reserve, draws); err != nil {
		return Followed{}, err
	}
	w := walk{pump: &pumping{fixed: float64(s.Pump)}, reserve: float64(reserve)}
	w.begin(float64(from.Stored), float64(s.Drawdown), from.Running)
	for _, d := range draws {
		w.draw(float64(d.For), float64(d.Demand))
	}
	return w.followed(), nil
}

func (w *walk) followed() Followed {
	return Followed{
		Starts: w.starts, PumpTime: unit.Time(w.total.time), Drawn: unit.Volume(w.drawn), Unmet: unit.Volume(w.unmet),
		Least: unit.Volume(w.least), LongestOn: unit.Time(max(w.longest, w.run)),
		End: Level{Stored: unit.Volume(w.stored), Running: w.running},
	}
}

func (s System) checkFollow(from Level, reserve unit.Volume, draws []Draw) error {
	err := errors.Join(
		s.Validate(),
		pkg.Range("reserve below cut-in", float64(reserve), 0, float64(mostVolume), domain.USGallon),
	)
	if err != nil {
		return err
	}
	err = pkg.Range("water stored above cut-in", float64(from.Stored), -float64(reserve), float64(s.Drawdown), domain.USGallon)
	return errors.Join(err, drawFaults(draws))
}

func drawFaults(draws []Draw) error {
	if len(draws) > mostDraws {
		return pkg.Invalid("number of draws", strconv.Itoa(len(draws)), "600000 at most")
	}
	for _, d := range draws {
		if !(d.For >= 0 && d.For <= 400*Day && (d.Demand == 0 || d.Demand >= leastDemand && d.Demand <= mostFlow)) {
			return errors.Join(pkg.Range("time of a draw", float64(d.For), 0, 400*float64(Day), domain.Second), demandRange("demand", d.Demand))
		}
	}
	return nil
}
