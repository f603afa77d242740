package tank

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// When a day's water is drawn, and how much more than the mean a peak is.

// A Profile holds the weight of each hour of a day, midnight first: only their
// ratios count, so that shares, percentages and metered litres all do. The
// zero value has no water to share out and is refused.
type Profile [24]float64

// FlatProfile draws as much in each hour. It hides every peak: with it a pump
// that is too small looks large enough.
//
// Definition: 24 equal shares.
func FlatProfile() Profile {
	var p Profile
	for i := range p {
		p[i] = 1
	}
	return p
}

// HouseholdProfile has the two humps of a household, 6 to 9 in the morning and
// 17 to 20 in the evening, in percent of the day. Its peak hour takes 10 %, 2.4
// times the mean; one house on one day is far less even.
//
// Common practice: the shape of metered households, with rounded figures that
// stand on no single source.
func HouseholdProfile() Profile {
	return Profile{
		1, 1, 1, 1, 1, 3,
		8, 10, 8, 5, 4, 4,
		4, 3, 3, 3, 4, 7,
		9, 8, 5, 4, 2, 1,
	}
}

// TwoHourProfile draws the whole day's use between 7 and 9, the hardest of the
// planning rules: see [TwoHourPeak].
//
// Common practice: a state extension service asks that a system deliver the
// day's use in a peak of 2 h.
func TwoHourProfile() Profile {
	return Profile{7: 1, 8: 1}
}

// Bounds of a profile's weights and of a use that is shared out by it.
const (
	mostWeight = 1e9
	mostDayUse = mostFlow / 24
)

// Draws shares a day's use out over 24 hours, for [System.Follow],
//
//	q_i = V_i − V_(i−1), V_i = 24·U·(w_1 + … + w_i)/(w_1 + … + w_24)
//
// where U is the use (m³/s), such as 300*USGallonPerDay, and w_i is the weight
// of hour i. Each V_i is rounded to a multiple of the last bit of 24·U before
// the differences are taken, so that the flows sum to 24·U and the volumes to
// the day's use exactly, with no rounding left over, whatever the weights: the
// last hour that draws takes what the others have left. Less than 1e-9 m³/s,
// a drop every half minute, is drawn in a later hour instead.
//
// Valid for uses of 1e-9 m³/s to 0.83 L/s, weights of 0 to 1e9 of which one is
// positive, and hours up to 20 L/s; otherwise err wraps [ErrDomain].
//
// Definition: shares in proportion to weights.
func (p Profile) Draws(use FlowRate) ([]Draw, error) {
	sum, err := p.sum()
	err = errors.Join(err, pkg.Range("daily use", float64(use), float64(leastDemand), float64(mostDayUse), flowUnit))
	if err != nil {
		return nil, err
	}
	total := 24 * float64(use)
	bit := math.Nextafter(total, math.Inf(1)) - total
	draws := make([]Draw, len(p))
	so, drawn, last := 0.0, 0.0, 0
	for i, w := range p {
		draws[i].For = Hour
		so += w
		// Both are whole multiples of the bit, and so is their difference.
		upTo := math.RoundToEven(total*(so/sum)/bit) * bit
		if q := upTo - drawn; q >= float64(leastDemand) {
			draws[i].Demand, drawn, last = FlowRate(q), upTo, i
		}
	}
	// What was too little to draw in the last hours.
	draws[last].Demand += FlowRate(total - drawn)
	return draws, nil
}

// PeakFactor returns by how much the hour that takes most exceeds the mean,
//
//	k = 24·max(w_i)/(w_1 + … + w_24)
//
// with the symbols of [Profile.Draws]: 1 for a flat day, 24 where all is drawn
// in one hour.
//
// Valid for the weights of [Profile.Draws]; otherwise err wraps [ErrDomain].
//
// Definition: greatest over mean hourly use.
func (p Profile) PeakFactor() (float64, error) {
	sum, err := p.sum()
	if err != nil {
		return 0, err
	}
	most := 0.0
	for _, w := range p {
		most = max(most, w)
	}
	return 24 * (most / sum), nil
}

// sum adds the weights, in order as Draws does, and says which is none.
func (p Profile) sum() (float64, error) {
	sum := 0.0
	for _, w := range p {
		if err := pkg.Range("weight of an hour", w, 0, mostWeight, domain.One); err != nil {
			return 0, err
		}
		sum += w
	}
	return sum, pkg.Range("sum of weights", sum, 1e-9, 24*mostWeight, domain.One)
}

// How far water use of a group of houses exceeds its mean of the year.
const (
	// MaximumDayFactor is the use of the year's greatest day over the mean.
	MaximumDayFactor = 2.2
	// PeakHourFactor is the use of its greatest hour over the mean.
	PeakHourFactor = 5.3
)

// PeakUse returns what the greatest day and the greatest hour of a year take,
//
//	Ud = 2.2·U, Uh = 5.3·U
//
// where U is the mean use over the year (m³/s). One house alone is less even:
// see [SevenMinutePeak].
//
// Valid for 1e-9 m³/s to 0.83 L/s; otherwise err wraps [ErrDomain].
//
// Source: F. P. Linaweaver et al., A Study of Residential Water Use, 1967, as a
// textbook quotes it.
func PeakUse(mean FlowRate) (day, hour FlowRate, err error) {
	if err := pkg.Range("mean use", float64(mean), float64(leastDemand), float64(mostDayUse), flowUnit); err != nil {
		return 0, 0, err
	}
	return MaximumDayFactor * mean, PeakHourFactor * mean, nil
}

// TwoHourPeak returns the flow that delivers a day's use within two hours,
//
//	Q = U·24 h/2 h
//
// where U is the daily use (m³/s), such as 300*USGallonPerDay.
//
// Valid for 1e-9 m³/s to 0.83 L/s; otherwise err wraps [ErrDomain].
//
// Common practice: planning rule of a state extension service.
func TwoHourPeak(use FlowRate) (FlowRate, error) {
	if err := pkg.Range("daily use", float64(use), float64(leastDemand), float64(mostDayUse), flowUnit); err != nil {
		return 0, err
	}
	return use * FlowRate(Day/twoHours), nil
}

const twoHours = unit.Time(2) * Hour
