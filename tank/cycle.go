package tank

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Answers of a pump that does not cycle.
var (
	// ErrNeverStops says that demand takes all that the pump delivers, so that
	// cut-out is never reached and the pump runs until its energy is gone.
	ErrNeverStops = errors.New("tank: the pump never stops: demand is not below pump flow")
	// ErrNeverStarts says that nothing is drawn, so that cut-in is never reached.
	ErrNeverStarts = errors.New("tank: the pump never starts: no demand")
)

// A System is a tank's drawdown and the pump that refills it. The pump's flow
// is taken as constant; a real one falls as the pressure rises, and its flow
// at the middle of the two switch pressures gives times within 1 % where the
// flow at cut-in or at cut-out is off by an eighth to a quarter.
type System struct {
	// Drawdown between cut-out and cut-in, 1 µL to 1.9 m³.
	Drawdown unit.Volume
	// Pump is the flow while the pump runs, 1 L/min to 20 L/s.
	Pump FlowRate
}

// A Cycle is one turn of a pressure switch at steady demand.
type Cycle struct {
	// Demand that was assumed.
	Demand FlowRate
	// On is how long the pump runs, Off how long it rests.
	On, Off unit.Time
	// Starts is how often the pump starts: float64(c.Starts/PerHour).
	Starts unit.Frequency
}

// Period returns the time from start to start, Ton + Toff in the symbols of
// [System.At].
//
// Definition: the sum of run and rest.
func (c Cycle) Period() unit.Time { return c.On + c.Off }

// Delivered returns the water drawn in one period, q·T in the symbols of
// [System.At]: more than the drawdown by what is drawn while the pump runs. A
// day's use over it is the starts a day at this demand.
//
// Definition: demand times period.
func (c Cycle) Delivered() unit.Volume {
	return unit.Volume(float64(c.Demand) * float64(c.On+c.Off))
}

// A DayOfUse is what a day's water asks of the pump.
type DayOfUse struct {
	// PumpTime is the time the pump runs in a day.
	PumpTime unit.Time
	// Starts in a day, at most: water drawn while the pump runs saves some.
	Starts float64
	// Run is the least length of one run.
	Run unit.Time
}

const leastDrawdown = unit.Volume(1e-9)

// Validate reports both fields' errors, joined; each wraps [ErrDomain].
//
// Common practice: the bounds are those of household systems.
func (s System) Validate() error {
	if s.ok() {
		return nil
	}
	return s.faults()
}

// ok is the short cut of faults.
func (s System) ok() bool {
	return s.Drawdown >= leastDrawdown && s.Drawdown <= mostVolume && pumpOK(s.Pump)
}

func (s System) faults() error {
	return errors.Join(
		pkg.Range("drawdown", float64(s.Drawdown), float64(leastDrawdown), float64(mostVolume), domain.USGallon),
		pumpRange(s.Pump),
	)
}

// cycles reports whether a demand makes the pump start and stop.
func (s System) cycles(q FlowRate) bool { return q >= leastDemand && q < s.Pump }

// noCycle says why there is no cycle: a bad argument, or an answer.
func (s System) noCycle(name string, q FlowRate) error {
	if err := errors.Join(s.faults(), demandRange(name, q)); err != nil {
		return err
	}
	if q == 0 {
		return ErrNeverStarts
	}
	return ErrNeverStops
}

// At returns the cycle at a steady demand,
//
//	Ton = Vd/(Q − q), Toff = Vd/q, T = Vd·Q/[q·(Q − q)]
//
// where Vd is s.Drawdown (m³), Q is s.Pump (m³/s) and q is the demand (m³/s).
//
// A demand at or above the pump's flow gives [ErrNeverStops], none gives
// [ErrNeverStarts]. Other demands below 1e-9 m³/s or above 20 L/s, and fields
// outside their range, give an error that wraps [ErrDomain].
//
// Source: water balance of the tank at constant flows; the pumping-cycle
// equations of state design manuals for water and wastewater.
func (s System) At(demand FlowRate) (Cycle, error) {
	if !(s.ok() && s.cycles(demand)) {
		return Cycle{}, s.noCycle("demand", demand)
	}
	vd, q, net := float64(s.Drawdown), float64(demand), float64(s.Pump-demand)
	on, off := vd/net, vd/q
	return Cycle{
		Demand: demand, On: unit.Time(on), Off: unit.Time(off), Starts: unit.Frequency(1 / (on + off)),
	}, nil
}

// WorstDemand returns the cycle at the demand that starts the pump most often,
// half of its flow,
//
//	q = Q/2, Tmin = 4·Vd/Q
//
// in the symbols of [System.At], because dT/dq is zero there. On and off are
// then equal. Outside the ranges err wraps [ErrDomain].
//
// Source: as [System.At]; 15·Q/N of design manuals is the same with Q in
// gal/min and N in starts an hour.
func (s System) WorstDemand() (Cycle, error) {
	return s.At(s.Pump / 2)
}

// ShortestRun returns the least time that the pump runs once started,
//
//	Ton = Vd/Q
//
// in the symbols of [System.At]: nothing is drawn while it runs. The least
// rest, at a demand just below the pump's flow, is as long. A rule that sets
// the drawdown to so many minutes of pump flow grants that run and no rest.
// Outside the ranges err wraps [ErrDomain].
//
// Source: water balance of the tank.
func (s System) ShortestRun() (unit.Time, error) {
	if !s.ok() {
		return 0, s.faults()
	}
	return unit.Time(float64(s.Drawdown) / float64(s.Pump)), nil
}

// Day returns pump time and starts for a daily use, as 300*USGallonPerDay,
//
//	t = U/Q a day, N = U/Vd a day
//
// where U is the use (m³/s), in the symbols of [System.At]. N counts each
// drawdown as drawn while the pump rests, which is the most; at a steady
// demand it is the use over [Cycle.Delivered].
//
// A use at or above the pump's flow gives [ErrNeverStops], none gives
// [ErrNeverStarts]; outside the ranges err wraps [ErrDomain].
//
// Source: water balance of the tank over a day.
func (s System) Day(use FlowRate) (DayOfUse, error) {
	if !(s.ok() && s.cycles(use)) {
		return DayOfUse{}, s.noCycle("daily use", use)
	}
	u, q, vd := float64(use)*float64(Day), float64(s.Pump), float64(s.Drawdown)
	return DayOfUse{PumpTime: unit.Time(u / q), Starts: u / vd, Run: unit.Time(vd / q)}, nil
}
