package tank

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Practice is what the trade asks of a submersible pump motor's cycling.
// The sources conflict: 15 starts an hour all day would be 360, above the 300
// that others allow, so both are to be kept.
type Practice struct {
	// DailyStarts is the most starts over 24 h, evenly spread: 100*PerDay is
	// one every 14.4 minutes, not 100 within a working day.
	DailyStarts unit.Frequency
	// HourlyStarts is the most starts within any one hour.
	HourlyStarts unit.Frequency
	// Run is the least time the pump is to run once started, for the motor to
	// carry off the heat of the start.
	Run unit.Time
}

// PracticeFor returns the custom for a motor by its shaft output and number of
// phases (1 or 3). Sizes between two printed ones take the stricter figure:
//
//	output             starts a day   starts   run
//	                   1 ph    3 ph   an hour
//	up to 3/4 hp       300     300    15       1 min
//	1 to 5 1/2 hp      100     300    7.5      2 min
//	7 1/2 to 30 hp      50     100    7.5      2 min
//
// Some makers ask for 3 to 12 minutes of rest as well; ask the motor's own
// manual first. Valid for 1/10 to 30 hp; otherwise err wraps [ErrDomain].
//
// Common practice: motor makers' tables as reprinted by the trade press, and a
// residential pressure tank standard for starts an hour.
func PracticeFor(output unit.Power, phases int) (Practice, error) {
	err := pkg.Range("motor output", float64(output), float64(Horsepower/10), float64(30*Horsepower), domain.Horsepower)
	if phases != 1 && phases != 3 {
		err = errors.Join(err, pkg.Invalid("phases", strconv.Itoa(phases), "1 or 3"))
	}
	if err != nil {
		return Practice{}, err
	}
	p := Practice{DailyStarts: 300 * PerDay, HourlyStarts: 15 * PerHour, Run: 1 * Minute}
	if output > 0.75*Horsepower {
		p.HourlyStarts, p.Run = 7.5*PerHour, 2*Minute
	}
	switch {
	case output > 5.5*Horsepower && phases == 1:
		p.DailyStarts = 50 * PerDay
	case output > 5.5*Horsepower, output > 0.75*Horsepower && phases == 1:
		p.DailyStarts = 100 * PerDay
	}
	return p, nil
}
