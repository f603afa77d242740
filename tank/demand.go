package tank

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Tier is how much water people are given, or allow themselves. The zero
// value is no tier. The tiers differ a hundredfold from first to last, so a
// plan states which one it is for.
type Tier byte

// The tiers, thriftiest first.
const (
	// Drinking is water to drink and in food, for survival: 2.5 to 3 L.
	Drinking Tier = iota + 1
	// Stored is the household stock that civil defence asks for: 1 US gallon,
	// for three days or more.
	Stored
	// Emergency is drinking, basic hygiene and cooking: 7.5 to 15 L.
	Emergency
	// Washing includes laundry and bathing, for weeks: 70 L.
	Washing
	// Normal is the planning figure for a house on its own well: 50 to 100 US
	// gallons.
	Normal
)

// tiers[t] is the name and the use a person.
var tiers = [...]struct {
	name string
	use  Range[FlowRate]
}{
	Drinking:  {"drinking", Range[FlowRate]{Low: 2.5 * LitrePerDay, High: 3 * LitrePerDay}},
	Stored:    {"stored", Range[FlowRate]{Low: USGallonPerDay, High: USGallonPerDay}},
	Emergency: {"emergency", Range[FlowRate]{Low: 7.5 * LitrePerDay, High: 15 * LitrePerDay}},
	Washing:   {"washing", Range[FlowRate]{Low: 70 * LitrePerDay, High: 70 * LitrePerDay}},
	Normal:    {"normal", Range[FlowRate]{Low: 50 * USGallonPerDay, High: 100 * USGallonPerDay}},
}

func (t Tier) known() bool { return t > 0 && int(t) < len(tiers) }

// String returns the tier's name, or "none".
//
// Definition: the constants' names in lower case.
func (t Tier) String() string {
	if !t.known() {
		return "none"
	}
	return tiers[t].name
}

// Use returns what a number of persons use, 1 to 1000. Read it back as
// float64(r.Low/LitrePerDay). Otherwise err wraps [ErrDomain].
//
// Source: Sphere Handbook (2011), water supply standard 1 (drinking,
// emergency); FEMA (stored); WHO hierarchy of needs (2011) as quoted by the
// Groundwater Project, Domestic Wells (washing); Penn State Extension and USDA
// Water Systems Handbook (normal).
func (t Tier) Use(persons int) (Range[FlowRate], error) {
	if !t.known() {
		err := pkg.Invalid("tier", strconv.Itoa(int(t)), "Drinking to Normal")
		return Range[FlowRate]{}, errors.Join(err, personsRange(persons))
	}
	if err := personsRange(persons); err != nil {
		return Range[FlowRate]{}, err
	}
	u, n := tiers[t].use, FlowRate(persons)
	return Range[FlowRate]{Low: n * u.Low, High: n * u.High}, nil
}

// Customs of planning with the tiers.
const (
	// StoredFor is how long a household stock of [Stored] is to last, at least.
	StoredFor = 3 * Day
	// IndoorShare is how much of a house's normal use is indoors; the rest, for
	// garden and car, can wait.
	IndoorShare = 0.7
)

// EmergencyParts is what the tier [Emergency] is made of.
type EmergencyParts struct {
	Drinking Range[FlowRate] // to drink and in food, 2.5 to 3 L
	Hygiene  Range[FlowRate] // basic, 2 to 6 L
	Cooking  Range[FlowRate] // basic, 3 to 6 L
}

// PartsOfEmergency returns what a number of persons use of each part, 1 to
// 1000. Otherwise err wraps [ErrDomain].
//
// Source: Sphere Handbook (2011), water supply standard 1.
func PartsOfEmergency(persons int) (EmergencyParts, error) {
	if err := personsRange(persons); err != nil {
		return EmergencyParts{}, err
	}
	n := FlowRate(persons) * LitrePerDay
	return EmergencyParts{
		Drinking: Range[FlowRate]{Low: 2.5 * n, High: 3 * n},
		Hygiene:  Range[FlowRate]{Low: 2 * n, High: 6 * n},
		Cooking:  Range[FlowRate]{Low: 3 * n, High: 6 * n},
	}, nil
}

// IndoorUse returns the metered indoor use of an average household of the
// United States in the 1990s, older fixtures included,
//
//	U = 37.2·N + 69.2 gal/day
//
// where N is the number of persons, 1 to 1000 (a household has a few).
// Otherwise err wraps [ErrDomain].
//
// Source: P. W. Mayer et al., Residential End Uses of Water, 1999.
func IndoorUse(persons int) (FlowRate, error) {
	if err := personsRange(persons); err != nil {
		return 0, err
	}
	return (37.2*FlowRate(persons) + 69.2) * USGallonPerDay, nil
}

func personsRange(n int) error {
	return pkg.Range("persons", float64(n), 1, 1000, domain.One)
}

// Lasts returns how long a store of water lasts,
//
//	t = V/U
//
// where V is the water available (m³), up to 1000 m³, and U the use (m³/s),
// from 1e-9 m³/s to 20 L/s. Read it back as float64(t/Day). No water gives 0;
// no use gives an error that wraps [ErrDomain], as does a value outside. A
// cistern may hold 44 m³, so that 44 with its gallon forgotten passes.
//
// Definition: volume over flow.
func Lasts(available unit.Volume, use FlowRate) (unit.Time, error) {
	err := errors.Join(
		pkg.Range("water available", float64(available), 0, 1000, domain.USGallon),
		pkg.Range("use", float64(use), float64(leastDemand), float64(mostFlow), flowUnit),
	)
	if err != nil {
		return 0, err
	}
	return unit.Time(float64(available) / float64(use)), nil
}
