package battery

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// An Autonomy is what the size of a battery follows from that must carry its
// load for days without any charging, by the order of steps of IEEE 1013. The
// zero value is invalid.
type Autonomy struct {
	Daily unit.Charge // drawn each day, at the battery; 0.01 Ah to 100 kAh
	Days  float64     // without charging, 0.25 to 60

	MaxDepth      float64 // deepest discharge over the days, 0.1 to 1
	MaxDailyDepth float64 // deepest discharge in one day, 0.01 to 1; zero: no limit
	EndOfLife     float64 // capacity left at the end of life, 0.5 to 1

	Chemistry Chemistry
	// Temperature is the lowest expected of the electrolyte.
	Temperature unit.Temperature
	// TemperatureFactor multiplies the size, 0.8 to 4. Zero: from Temperature,
	// with nothing credited for warmth.
	TemperatureFactor float64
	DesignMargin      float64 // multiplies the size, 1 to 2

	// RunningCurrent is the largest that runs for long, which picks the hour
	// rate at which the battery's capacity is to be read. Zero: not known.
	RunningCurrent unit.Current
}

// An AutonomyLimit is the adjustment that decides an [AutonomySize].
type AutonomyLimit byte

// The adjustments of which the largest is taken. The zero value is none.
const (
	ByDepth      AutonomyLimit = iota + 1 // deepest discharge over the days
	ByDailyDepth                          // deepest discharge in one day
	ByEndOfLife                           // capacity left at the end of life
)

// String returns the name, or "AutonomyLimit(9)" for a value that is none.
//
// Definition: "depth of discharge", "daily depth of discharge", "end of life".
func (l AutonomyLimit) String() string {
	switch l {
	case ByDepth:
		return "depth of discharge"
	case ByDailyDepth:
		return "daily depth of discharge"
	case ByEndOfLife:
		return "end of life"
	}
	return "AutonomyLimit(" + strconv.Itoa(int(l)) + ")"
}

// An AutonomySize is the result of an [Autonomy] with every number on the way.
type AutonomySize struct {
	Unadjusted    unit.Charge // Daily·Days
	ForDepth      unit.Charge // Unadjusted/MaxDepth
	ForDailyDepth unit.Charge // Daily/MaxDailyDepth; zero: no limit was given
	ForEndOfLife  unit.Charge // Unadjusted/EndOfLife

	Adjusted  unit.Charge   // the largest of the three
	Governing AutonomyLimit // and which it is

	TemperatureFactor float64
	AfterTemperature  unit.Charge // Adjusted·TemperatureFactor
	DesignMargin      float64
	Required          unit.Charge // AfterTemperature·DesignMargin

	// RateTime is the hour rate at which a battery's capacity is to be read
	// before it is laid beside Required. Zero: no RunningCurrent was given.
	RateTime unit.Time
}

const leastDaily = 0.01 * AmpereHour

// holds is validate without the words, for the usual case.
func (a Autonomy) holds() bool {
	return a.Daily >= leastDaily && a.Daily <= mostCapacity && a.Days >= 0.25 && a.Days <= 60 &&
		a.MaxDepth >= 0.1 && a.MaxDepth <= 1 && a.EndOfLife >= 0.5 && a.EndOfLife <= 1 && a.Chemistry.Valid() &&
		a.DesignMargin >= 1 && a.DesignMargin <= 2 &&
		(a.MaxDailyDepth == 0 || a.MaxDailyDepth >= 0.01 && a.MaxDailyDepth <= 1) &&
		(a.RunningCurrent == 0 || a.RunningCurrent >= leastCurrent && a.RunningCurrent <= mostCurrent)
}

func (a Autonomy) validate() error {
	if a.holds() {
		if a.TemperatureFactor != 0 {
			return checkSizingFactor(a.TemperatureFactor)
		}
		return checkTemperature("electrolyte temperature", a.Temperature)
	}
	err := errors.Join(
		pkg.Range("daily charge", float64(a.Daily), float64(leastDaily), float64(mostCapacity), domain.AmpereHour),
		pkg.Range("days of autonomy", a.Days, 0.25, 60, domain.One),
		checkFraction("depth limit", a.MaxDepth, 0.1),
		checkFraction("capacity left at the end of life", a.EndOfLife, 0.5),
		a.Chemistry.validate(),
		pkg.Range("design margin", a.DesignMargin, 1, 2, domain.One),
	)
	if a.MaxDailyDepth != 0 {
		err = errors.Join(err, checkFraction("daily depth limit", a.MaxDailyDepth, 0.01))
	}
	if a.RunningCurrent != 0 {
		err = errors.Join(err, checkCurrent("running current", a.RunningCurrent))
	}
	if a.TemperatureFactor != 0 {
		return errors.Join(err, checkSizingFactor(a.TemperatureFactor))
	}
	return errors.Join(err, checkTemperature("electrolyte temperature", a.Temperature))
}

// Size returns the capacity that the battery must have when new,
//
//	C = max(q·n/d, q/dd, q·n/e)·F_t·F_m
//
// where q is the charge of a day (Ah), n the days, d the depth limit over the
// days, dd that of one day, e the capacity left at the end of life, F_t the
// temperature factor and F_m the design margin. The largest of the three
// adjustments is taken and never their product: a battery that is large enough
// for the tightest has what the others ask for. The depth limit does not hold
// at the end of life: [Condition.Usable] keeps it there and so asks for more.
//
// The hour rate is C'/I, where C' is the largest of the three before the last
// two factors and I the running current (A): the cold and the margin do not
// make the discharge slower. It is at most 500 h. F_t is as for [Sizing.Size],
// for a discharge as long as the autonomy.
//
// An a outside its bounds, and a temperature that no table covers, is an
// [ErrDomain].
//
// Source: IEEE Std 1013 (order of the steps, recalled).
func (a Autonomy) Size() (AutonomySize, error) {
	if err := a.validate(); err != nil {
		return AutonomySize{}, err
	}
	days := unit.Time(a.Days) * Day
	f, err := temperatureFactor(a.TemperatureFactor, a.Chemistry, a.Temperature, days)
	if err != nil {
		return AutonomySize{}, err
	}
	q := float64(a.Daily)
	s := AutonomySize{
		Unadjusted:   unit.Charge(q * a.Days),
		ForDepth:     unit.Charge(q * a.Days / a.MaxDepth),
		ForEndOfLife: unit.Charge(q * a.Days / a.EndOfLife),

		TemperatureFactor: f, DesignMargin: a.DesignMargin,
	}
	s.Adjusted, s.Governing = s.ForDepth, ByDepth
	if a.MaxDailyDepth != 0 {
		s.ForDailyDepth = unit.Charge(q / a.MaxDailyDepth)
		if s.ForDailyDepth > s.Adjusted {
			s.Adjusted, s.Governing = s.ForDailyDepth, ByDailyDepth
		}
	}
	if s.ForEndOfLife > s.Adjusted {
		s.Adjusted, s.Governing = s.ForEndOfLife, ByEndOfLife
	}
	s.AfterTemperature = s.Adjusted * unit.Charge(f)
	s.Required = s.AfterTemperature * unit.Charge(a.DesignMargin)
	if a.RunningCurrent != 0 {
		s.RateTime = min(unit.Time(float64(s.Adjusted)/float64(a.RunningCurrent)), mostRatingTime)
	}
	return s, nil
}

// Strings returns how many parallel strings are needed,
//
//	p = C/Cb, rounded up
//
// where C is s.Required (Ah) and Cb the capacity of one string at the hour rate
// s.RateTime (Ah). A capacity outside 0.5 Ah to 100 kAh, or more than 100
// strings, is an [ErrDomain].
//
// Source: IEEE Std 1013 (number of parallel strings, recalled).
func (s AutonomySize) Strings(each unit.Charge) (int, error) {
	if err := checkCapacity("capacity of a string", each); err != nil {
		return 0, err
	}
	// The last bits of the quotient must not cost a string.
	n := math.Ceil(float64(s.Required/each) * (1 - 1e-12))
	if !(n >= 1 && n <= 100) {
		return 0, pkg.Invalid("parallel strings", strconv.FormatFloat(n, 'g', 6, 64), "1 to 100")
	}
	return int(n), nil
}
