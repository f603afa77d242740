package tank

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// How much flow a house wants at its worst, by two methods of the trade.

// A SevenMinuteOutlet is a row of the table of the seven-minute method.
type SevenMinuteOutlet struct {
	Flow FlowRate    // of the outlet
	Use  unit.Volume // of one full use
	// Drawn within the seven minutes in a house of 1, of 1 1/2, of 2 to 2 1/2
	// and of 3 to 4 bathrooms.
	Drawn [4]unit.Volume
}

// sevenMinutes is the table, in US gallons; its figures are those of old
// fixtures.
var sevenMinutes = [...]struct {
	fixture   Fixture
	flow, use float64
	drawn     [4]unit.Volume
}{
	{ShowerOrTub, 5, 35, [4]unit.Volume{35, 35, 53, 70}},
	{Lavatory, 4, 2, [4]unit.Volume{2, 4, 6, 8}},
	{ToiletOld, 4, 5, [4]unit.Volume{5, 10, 15, 20}},
	{KitchenSink, 5, 3, [4]unit.Volume{3, 3, 3, 3}},
	{ClothesWasher, 5, 35, [4]unit.Volume{0, 18, 18, 18}},
	{Dishwasher, 2, 14, [4]unit.Volume{0, 0, 3, 3}},
}

// sevenMinutePump is what the table has the pump deliver, in gal/min.
var sevenMinutePump = [4]FlowRate{7, 10, 14, 17}

// SevenMinutes returns the row of an outlet in the table of [SevenMinutePeak].
//
// Valid for [ShowerOrTub], [Lavatory], [ToiletOld], [KitchenSink],
// [ClothesWasher] and [Dishwasher]; otherwise err wraps [ErrDomain].
//
// Common practice: a table of the water systems trade, in two copies.
func (f Fixture) SevenMinutes() (SevenMinuteOutlet, error) {
	for _, r := range sevenMinutes {
		if r.fixture == f {
			o := SevenMinuteOutlet{Flow: FlowRate(r.flow) * USGallonPerMinute, Use: unit.Volume(r.use) * USGallon}
			for i, v := range r.drawn {
				o.Drawn[i] = v * USGallon
			}
			return o, nil
		}
	}
	return SevenMinuteOutlet{}, pkg.Invalid("fixture", f.String(), "one of the seven-minute table")
}

// A Peak is what a house draws at its busiest.
type Peak struct {
	// Drawn within the seven minutes.
	Drawn unit.Volume
	// Mean is Drawn over seven minutes.
	Mean FlowRate
	// Pump is what the table has the pump deliver, Mean to a gallon a minute.
	Pump FlowRate
}

// SevenMinutePeak returns what a house draws in the seven busiest minutes of
// its day, by bathrooms,
//
//	V = Σ v_i, Q = V/7 min
//
// where v_i is what each outlet draws in that time, see
// [Fixture.SevenMinutes]: 45, 70, 98 and 122 gal, for pumps of 7, 10, 14 and
// 17 gal/min. The fixtures behind it are old, so that it errs to the large
// side. A tank's drawdown and the well's stored water lend their volume: the
// pump may then be smaller.
//
// Valid for 1, 1 1/2, 2, 2 1/2, 3, 3 1/2 and 4 bathrooms; otherwise err wraps
// [ErrDomain].
//
// Common practice: a table of the water systems trade, in two copies; a state
// design guide quotes the same flows.
func SevenMinutePeak(bathrooms float64) (Peak, error) {
	i := -1
	switch bathrooms {
	case 1:
		i = 0
	case 1.5:
		i = 1
	case 2, 2.5:
		i = 2
	case 3, 3.5, 4:
		i = 3
	}
	if i < 0 {
		return Peak{}, pkg.Invalid("bathrooms", strconv.FormatFloat(bathrooms, 'g', -1, 64), "1 to 4 in halves")
	}
	var v unit.Volume
	for _, r := range sevenMinutes {
		v += r.drawn[i] * USGallon
	}
	return Peak{
		Drawn: v, Mean: FlowRate(float64(v) / (7 * float64(Minute))), Pump: sevenMinutePump[i] * USGallonPerMinute,
	}, nil
}

// An Allowance is what a fixture counts for in [AllowancePeak].
type Allowance struct {
	Peak FlowRate // its share of the peak demand
	Flow FlowRate // its own flow, which the pump must reach in any case
}

// Allowance returns the peak demand allowance and the flow of a fixture.
//
// Valid for [Showerhead], [Lavatory], [ToiletOld], which stands for any with a
// flush tank, [KitchenSink], [Dishwasher], [LaundrySink] and [ClothesWasher];
// otherwise err wraps [ErrDomain].
//
// Source: a method for private water systems in the library of the EPA's
// Seahome, 2008.
func (f Fixture) Allowance() (Allowance, error) {
	var gpm FlowRate
	switch f {
	case Showerhead, KitchenSink:
		gpm = 1
	case Lavatory, Dishwasher:
		gpm = 0.5
	case ToiletOld:
		gpm = 0.75
	case LaundrySink:
		gpm = 1.5
	case ClothesWasher:
		gpm = 2
	default:
		return Allowance{}, pkg.Invalid("fixture", f.String(), "one of the peak demand allowance")
	}
	// A fixture runs for a quarter of the peak.
	q := gpm * USGallonPerMinute
	return Allowance{Peak: q, Flow: 4 * q}, nil
}

// A FixtureCount is a number of fixtures of a kind.
type FixtureCount struct {
	Fixture Fixture
	Count   int // 0 to 1000
}

// AllowancePeak returns the flow that a house's pump is to deliver, by the
// fixtures in it,
//
//	Q = max(Σ n_i·a_i, max f_i)
//
// where n_i is how many there are, a_i the allowance and f_i the flow of each
// kind, see [Fixture.Allowance]. For several houses on one pump the method
// takes half of the sum. A kind of which there are none counts for nothing; no
// fixtures give 0.
//
// Valid for counts of 0 to 1000 each; otherwise err wraps [ErrDomain].
//
// Source: as [Fixture.Allowance].
func AllowancePeak(fixtures []FixtureCount) (FlowRate, error) {
	var sum, most FlowRate
	for _, c := range fixtures {
		a, err := c.Fixture.Allowance()
		if err = errors.Join(err, pkg.Range("fixtures", float64(c.Count), 0, 1000, domain.One)); err != nil {
			return 0, err
		}
		if c.Count > 0 {
			sum += FlowRate(c.Count) * a.Peak
			most = max(most, a.Flow)
		}
	}
	return max(sum, most), nil
}
