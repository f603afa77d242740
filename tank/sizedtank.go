package tank

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"
)

// The tank that meets everything asked of a pump's cycling, and which of the
// demands made it as large as it is.

// Governs is what decides the size of a tank. The zero value is nothing.
type Governs byte

// What can decide a tank's size.
const (
	GovernedByRun          Governs = iota + 1 // the least run
	GovernedByHourlyStarts                    // the most starts within an hour
	GovernedByDailyStarts                     // the most starts in a day
)

// String returns "least run", "starts an hour" or "starts a day".
func (g Governs) String() string {
	switch g {
	case GovernedByRun:
		return "least run"
	case GovernedByHourlyStarts:
		return "starts an hour"
	case GovernedByDailyStarts:
		return "starts a day"
	}
	return fmt.Sprintf("Governs(%d)", byte(g))
}

// A SizedTank is a tank and what made it so large.
type SizedTank struct {
	// Volume of the tank, Drawdown what it gives between cut-out and cut-in.
	Volume, Drawdown unit.Volume
	// Run, Hourly and Daily are the drawdowns that each demand asks for by
	// itself; 0 where it was not made.
	Run, Hourly, Daily unit.Volume
	// Governs names the demand that asks for most. Of two alike it is the
	// first, in the order of the constants.
	Governs Governs
}

// Sized returns the tank for a pump at the precharge and switch pressures of
// v, under all that p asks,
//
//	Vr = Q·t, Vh = Q/(4·Nh), Vd = min[Q/(4·Nd), U/Nd], V = max(Vr, Vh, Vd)/f
//
// where Q is the pump's flow (m³/s), t p.Run (s), Nh p.HourlyStarts and Nd
// p.DailyStarts (Hz), U the day's use (m³/s), such as 300*USGallonPerDay, and f
// v.AcceptanceFactor(). Fields of p that are 0 ask for nothing. A use of 0 is
// not known, and Vd is then that of the worst demand all day long; a known use
// U starts the pump at most U/Vd times, see [System.Day]. v.Volume is not used.
//
// A least run grants no rest, and starts an hour no run: ask for both. Errors
// are those of [DrawdownForRun], [DrawdownForStarts] and [Vessel.VolumeFor]; a
// p that asks for nothing gives an error that wraps [ErrDomain].
//
// Source: as [DrawdownForRun], [DrawdownForStarts] and [System.Day].
func (v Vessel) Sized(pump FlowRate, p Practice, use FlowRate) (SizedTank, error) {
	err := errors.Join(pumpRange(pump), demandRange("daily use", use))
	if p == (Practice{}) {
		err = errors.Join(err, pkg.Invalid("practice", "of nothing", "a least run or most starts"))
	}
	if err != nil {
		return SizedTank{}, err
	}
	var s SizedTank
	var errRun, errHour, errDay error
	if p.Run != 0 {
		s.Run, errRun = DrawdownForRun(pump, p.Run)
	}
	if p.HourlyStarts != 0 {
		s.Hourly, errHour = DrawdownForStarts(pump, p.HourlyStarts)
	}
	if p.DailyStarts != 0 {
		s.Daily, errDay = DrawdownForStarts(pump, p.DailyStarts)
		if use != 0 && errDay == nil {
			s.Daily = min(s.Daily, unit.Volume(float64(use)/float64(p.DailyStarts)))
		}
	}
	if err := errors.Join(errRun, errHour, errDay); err != nil {
		return SizedTank{}, err
	}
	s.Drawdown = max(s.Run, s.Hourly, s.Daily)
	switch least := s.Drawdown * (1 - 1e-12); { // the last bits decide nothing
	case s.Run >= least:
		s.Governs = GovernedByRun
	case s.Hourly >= least:
		s.Governs = GovernedByHourlyStarts
	default:
		s.Governs = GovernedByDailyStarts
	}
	if s.Volume, err = v.VolumeFor(s.Drawdown); err != nil {
		return SizedTank{}, err
	}
	return s, nil
}
