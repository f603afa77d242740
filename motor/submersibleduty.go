package motor

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/quantity"
)

// A SubmersibleDuty is what the trade asks of the cycling of a submersible
// pump motor.
type SubmersibleDuty struct {
	// PerDay is the most starts in 24 hours, an average over months and evenly
	// spread.
	PerDay float64
	// Period is the time that leaves from one start to the next on average (s).
	Period unit.Time
	// Run is the least time to run once started (s).
	Run unit.Time
	// Rest is the least time to stand before the next start (s).
	Rest unit.Time
}

// SubmersibleStarts returns the custom for a submersible pump motor by shaft
// output and number of phases:
//
//	output             1 phase   3 phases   3 phases, soft start or drive
//	up to 3/4 hp       300       300        300 a day
//	1 to 5 1/2 hp      100       300        300
//	7 1/2 to 30 hp      50       100        200
//	40 hp and more       -       100        100
//
// It is to run for at least 1 min up to 3/4 hp and 2 min above, and to stand
// for 1 min. A size between two rows takes the row of fewer starts. Motors 6
// inches wide and wider want a quarter of an hour between starts besides. The
// manual of the motor goes before it.
//
// A single-phase motor above 30 hp is a [NotCoveredError]; an output outside
// 1/20 to 500 hp and a number of phases besides 1 and 3 give an error that
// wraps [ErrDomain].
//
// Common practice: application manuals of submersible motors.
func SubmersibleStarts(output unit.Power, phases int, soft bool) (SubmersibleDuty, error) {
	if err := errors.Join(checkOutput(output), checkPhases(phases)); err != nil {
		return SubmersibleDuty{}, err
	}
	hp := float64(output/Horsepower) / 1.001
	d := SubmersibleDuty{PerDay: 300, Run: quantity.Minute, Rest: quantity.Minute}
	if hp > 0.75 {
		d.Run = 2 * quantity.Minute
	}
	switch {
	case phases == 1 && hp > 30:
		return SubmersibleDuty{}, notCovered("the custom of starts a day", UncoveredSize, "single-phase submersible motors above 30 hp")
	case phases == 1 && hp > 5.5:
		d.PerDay = 50
	case phases == 1 && hp > 0.75:
		d.PerDay = 100
	case phases == 3 && hp > 5.5 && hp <= 30 && soft:
		d.PerDay = 200
	case phases == 3 && hp > 5.5:
		d.PerDay = 100
	}
	d.Period = quantity.Day / unit.Time(d.PerDay)
	return d, nil
}
