package battery

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A NeverChargesError is the answer where the standing load and the
// self-discharge take all that the charger gives, or more.
type NeverChargesError struct {
	Charger, Standing, SelfDischarge unit.Current // as in [Recharge]
}

// Error names the three currents.
//
// Definition: the fields of e.
func (e *NeverChargesError) Error() string {
	return fmt.Sprintf("battery: never charges: the charger gives %.4g A, standing load and self-discharge take %.4g A",
		float64(e.Charger), float64(e.Standing+e.SelfDischarge))
}

// Deficit returns by how much the battery is drained while the charger runs,
// 0 where it just holds.
//
// Definition: standing load plus self-discharge less the charger's current.
func (e *NeverChargesError) Deficit() unit.Current {
	return max(0, e.Standing+e.SelfDischarge-e.Charger)
}

// BulkTime returns the time to put a charge back at a constant current,
//
//	t = Q/(I·η)
//
// where Q is the charge removed (Ah), I the net current into the battery (A)
// and η the coulombic efficiency. It is the whole time only where the charger
// is so small that the battery takes its current to the end; else use
// [Recharge], which has the absorption tail.
//
// Valid for 0.1 mAh to 100 kAh, 1 µA to 100 kA and η of 0.3 to 1; otherwise
// err wraps [ErrDomain].
//
// Definition: charge returned over charge needed.
func BulkTime(removed unit.Charge, net unit.Current, efficiency float64) (unit.Time, error) {
	if !(removed >= leastRemoved && removed <= mostCapacity && net >= leastNet && net <= mostCurrent &&
		efficiency >= leastEfficiency && efficiency <= 1) {
		return 0, errors.Join(
			pkg.Range("charge removed", float64(removed), float64(leastRemoved), float64(mostCapacity), domain.AmpereHour),
			pkg.Range("net charging current", float64(net), float64(leastNet), float64(mostCurrent), domain.Ampere),
			pkg.Range("charge efficiency", efficiency, leastEfficiency, 1, domain.One),
		)
	}
	return unit.Time(float64(removed) / (float64(net) * efficiency)), nil
}

const (
	leastRemoved    = 1e-4 * AmpereHour
	leastNet        = unit.Current(1e-6)
	leastEfficiency = 0.3
)

// ShortcutRecharge returns the handbook estimate of a recharge from flat,
//
//	t = C/I + ta
//
// where C is the rated capacity (Ah), I the charger's current (A) and ta a
// fixed absorption time (h): 220 Ah on 30 A and 8 h give 15.3 h. The handbook
// calls the end of the first part 80 % full, although C/I has by then returned
// all the ampere-hours, without any loss. It is here to be compared with
// [Recharge].
//
// Valid for 0.5 Ah to 100 kAh, 1 mA to 100 kA and 0 to 100 h; otherwise err
// wraps [ErrDomain].
//
// Common practice: a charger maker's handbook.
func ShortcutRecharge(capacity unit.Charge, charger unit.Current, absorption unit.Time) (unit.Time, error) {
	err := errors.Join(checkCapacity("capacity", capacity), checkCurrent("charger current", charger),
		pkg.Range("absorption time", float64(absorption), 0, 100*float64(Hour), domain.Hour))
	if err != nil {
		return 0, err
	}
	return unit.Time(float64(capacity)/float64(charger)) + absorption, nil
}

// A rechargeHabit is how a type takes charge.
type rechargeHabit struct {
	efficiency Range[float64]   // coulombic
	bulkEnds   float64          // state of charge at which the voltage limit is met
	tail       Range[unit.Time] // least time from there to full
}

// rechargeHabits are by Chemistry.
var rechargeHabits = [...]rechargeHabit{
	Flooded:              {Range[float64]{Low: 0.85, High: 0.95}, 0.80, Range[unit.Time]{Low: 4 * Hour, High: 8 * Hour}},
	AGM:                  {Range[float64]{Low: 0.85, High: 0.95}, 0.80, Range[unit.Time]{Low: 4 * Hour, High: 8 * Hour}},
	Gel:                  {Range[float64]{Low: 0.85, High: 0.95}, 0.80, Range[unit.Time]{Low: 4 * Hour, High: 8 * Hour}},
	LithiumIronPhosphate: {Range[float64]{Low: 0.99, High: 0.99}, 0.95, Range[unit.Time]{Low: 0, High: 1 * Hour}},
}

// A Recharge is a battery on a charger. The zero value is invalid.
type Recharge struct {
	Chemistry Chemistry
	Capacity  unit.Charge // of the whole bank, 0.5 Ah to 100 kAh
	// From is the state of charge at the start, 0 (flat) to 1.
	From float64
	// Charger is what the charger gives, 1 mA to 100 kA, once the battery is
	// below its voltage. See [Bank.CheckCharger] for what the battery takes.
	Charger unit.Current
	// Standing is what loads and the inverter's idle draw take all the while,
	// 0 to 100 kA.
	Standing unit.Current
	// SelfDischarge is the battery's own loss as a current, 0 to 100 A, such as
	// from [SelfDischarge.Current].
	SelfDischarge unit.Current
	// Efficiency is the coulombic one, 0.3 to 1. Zero: 0.85 to 0.95 for
	// lead-acid, 0.99 for lithium iron phosphate.
	Efficiency Range[float64]
}

func (r Recharge) validate() error {
	return errors.Join(
		r.Chemistry.validate(),
		checkCapacity("capacity", r.Capacity),
		checkFraction("state of charge", r.From, 0),
		checkCurrent("charger current", r.Charger),
		pkg.Range("standing load", float64(r.Standing), 0, float64(mostCurrent), domain.Ampere),
		pkg.Range("self-discharge", float64(r.SelfDischarge), 0, 100, domain.Ampere),
		checkRange("charge efficiency", r.efficiency(), leastEfficiency, 1, domain.One),
	)
}

// valid is validate without its allocations.
func (r Recharge) valid(e Range[float64]) bool {
	return r.Chemistry.Valid() && r.Capacity >= leastCapacity && r.Capacity <= mostCapacity &&
		r.From >= 0 && r.From <= 1 && r.Charger >= leastCurrent && r.Charger <= mostCurrent &&
		r.Standing >= 0 && r.Standing <= mostCurrent && r.SelfDischarge >= 0 && r.SelfDischarge <= 100 &&
		e.Low >= leastEfficiency && e.High >= e.Low && e.High <= 1
}

func (r Recharge) efficiency() Range[float64] {
	if r.Efficiency == (Range[float64]{}) && r.Chemistry.Valid() {
		return rechargeHabits[r.Chemistry].efficiency
	}
	return r.Efficiency
}

// A RechargeTime is the two parts of a recharge. The low ends belong to the
// higher efficiency and the quicker tail.
type RechargeTime struct {
	Bulk  Range[unit.Time] // at the charger's full current, up to BulkEnds
	Tail  Range[unit.Time] // the absorption, from there to full
	Total Range[unit.Time] // Bulk and Tail

	Net      unit.Current       // into the battery in bulk
	Removed  unit.Charge        // what was missing at the start
	Returned Range[unit.Charge] // what must go in, with the losses
	BulkEnds float64            // state of charge at the end of bulk
}

// Time returns how long the recharge takes,
//
//	In = I - Is - Id
//	tb = (sb - s)·C/(In·η)               where s < sb, else 0
//	tt = max((1-s')·C/(In·η), ta·(1-s')/(1-sb)),  s' = max(s, sb)
//
// where I, Is and Id are r.Charger, r.Standing and r.SelfDischarge (A), C is
// r.Capacity (Ah), s is r.From and η the efficiency. The assumptions, by type:
//
//   - lead-acid takes the full current up to sb = 80 % and then ta = 4 to 8 h
//     for the last fifth, whose current the battery sets and not the charger;
//     lithium iron phosphate up to 95 %, and then 0 to 1 h;
//   - a charger so small that the last part takes longer than ta at its full
//     current is the limit to the end: then Total is [BulkTime] of all that was
//     removed;
//   - a start in the tail needs its share of ta.
//
// A bigger charger meets the voltage limit sooner, so that bulk ends below sb:
// at the highest currents of [ChargeRateLimit] the tail is nearer ta's high
// end. The last tenth of a lead-acid battery takes charge at an efficiency of
// perhaps a half; the whole-charge figures used here hold that loss. A flat
// battery left for days on a small charger is damaged by sulphation.
//
// Where In is not positive the error is a [NeverChargesError]. An r outside its
// bounds is an [ErrDomain].
//
// Common practice: bulk arithmetic and absorption hours of charger makers; the
// ends of bulk, efficiencies and lithium tail as stated above.
func (r Recharge) Time() (t RechargeTime, err error) {
	e := r.efficiency()
	if !r.valid(e) {
		return t, r.validate()
	}
	net := r.Charger - r.Standing - r.SelfDischarge
	if !(net > 1e-9*r.Charger) { // what is below that is rounding
		return t, &NeverChargesError{r.Charger, r.Standing, r.SelfDischarge}
	}
	h := &rechargeHabits[r.Chemistry]
	late, share := h.bulkEnds, unit.Time(1)
	if r.From > late { // a start in the tail needs its share of it
		late, share = r.From, unit.Time((1-r.From)/(1-h.bulkEnds))
	}
	whole := float64(r.Capacity) / float64(net) // (s) from flat to full at η = 1
	slow, quick := 1/e.Low, 1/e.High            // charge in for charge stored
	bulk, tail := whole*(late-r.From), whole*(1-late)
	removed := unit.Charge(float64(r.Capacity) * (1 - r.From))
	t.Bulk.Low, t.Bulk.High = unit.Time(bulk*quick), unit.Time(bulk*slow)
	t.Tail.Low, t.Tail.High = h.tail.Low*share, h.tail.High*share
	if x := unit.Time(tail * quick); x > t.Tail.Low {
		t.Tail.Low = x
	}
	if x := unit.Time(tail * slow); x > t.Tail.High {
		t.Tail.High = x
	}
	t.Total.Low, t.Total.High = t.Bulk.Low+t.Tail.Low, t.Bulk.High+t.Tail.High
	t.Net, t.Removed, t.BulkEnds = net, removed, h.bulkEnds
	t.Returned.Low, t.Returned.High = removed*unit.Charge(quick), removed*unit.Charge(slow)
	return t, nil
}
