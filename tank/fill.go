package tank

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// A Fill is what one run of the pump does, from cut-in to cut-out.
type Fill struct {
	Time    unit.Time      // that the pump runs
	Stored  unit.Volume    // in the tank: the drawdown
	Pumped  unit.Volume    // with what was drawn meanwhile
	Energy  unit.Energy    // drawn by the pump; 0 if its input is not known
	Work    unit.Energy    // that the water got, the integral of ρ·g·H·Q
	CutIn   OperatingPoint // as the pump starts
	CutOut  OperatingPoint // as it stops
	Settled unit.Pressure  // gauge, once the air is as warm as at cut-in
}

// MeanFlow returns the mean flow into the tank, drawdown over time.
//
// Definition: volume over time.
func (f Fill) MeanFlow() FlowRate { return FlowRate(float64(f.Stored) / float64(f.Time)) }

// A StallError says that a pump runs for ever: it holds a pressure below
// cut-out, because its shut-off head is too low or because the demand takes all
// that it delivers there. A worn pump and a falling water level bring a system
// here, and it empties a battery.
type StallError struct {
	Pressure unit.Pressure // gauge, that it holds; 0 if none
	CutOut   unit.Pressure // gauge, of the switch
	Demand   FlowRate      // meanwhile
	ShutOff  unit.Pressure // gauge, that it would hold with nothing drawn; 0 if none
}

// Error returns the state in words.
//
// Definition: see [StallError].
func (e *StallError) Error() string {
	why := "its shut-off head is too low"
	if e.ShutOff > e.CutOut {
		why = fmt.Sprintf("a demand of %.4g gal/min takes what it delivers", float64(e.Demand/USGallonPerMinute))
	}
	return fmt.Sprintf("tank: the pump never stops: it holds %.4g psi and cut-out is %.4g psi, as %s",
		float64(e.Pressure/PSI), float64(e.CutOut/PSI), why)
}

// Is reports whether target is [ErrNeverStops].
//
// Definition: see [errors.Is].
func (e *StallError) Is(target error) bool { return target == ErrNeverStops }

// Fill returns one fill of the tank from cut-in to cut-out, while a demand is
// drawn, with the air compressed by an exponent n,
//
//	t = ∫ dV/(Q(V) − q),  P(V) = (Pon + Pa)·[A/(A − V)]ⁿ − Pa
//
// from V = 0 to the drawdown, where V is the water stored above that at cut-in
// (m³), A the air at cut-in (m³), Q the pump's flow at the pressure P (m³/s,
// see [Supply.At]) and q the demand (m³/s), 0 or 1e-9 m³/s to 20 L/s. Energy
// drawn and work on the water are integrals of their powers over the same time.
// For n 1, m 2, no friction and no demand the time has a closed form,
//
//	t = A·(Pon + Pa)·√a·[F(Poff + Pa) − F(Pon + Pa)]
//	F(x) = −s/(B·x) + c/(2·B^1.5)·ln[(√B − s)/(√B + s)],  s = √(B − c·x)
//
// with c = 1/(ρ·g), B = H0 − z + c·Pa and H0, a of the curve; otherwise
// quadrature is used. n is 1, [Isothermal], to 1.4, [Adiabatic]; a fill of
// minutes is near 1, and the air is taken to be at rest temperature at cut-in.
//
// A pump that never reaches cut-out gives a [StallError], which is
// [ErrNeverStops]; one that would run beyond its curve [ErrBeyondCurve]; a
// precharge above cut-in a [PrechargeError]; what is outside the ranges an
// error that wraps [ErrDomain].
//
// Source: water balance with Boyle's law or a polytropic process; quadrature of
// Gauss and Legendre.
func (s Supply) Fill(demand FlowRate, n float64) (Fill, error) {
	p, err := s.pumping()
	err = errors.Join(err, demandRange("demand", demand))
	if !exponentOK(n) {
		err = errors.Join(err, pkg.Range("polytropic exponent", n, Isothermal, Adiabatic, domain.One))
	}
	if err != nil {
		return Fill{}, err
	}
	p.n = n
	return p.fill(float64(demand))
}

func (p *pumping) fill(demand float64) (f Fill, err error) {
	if err := p.reaches(demand); err != nil {
		return Fill{}, err
	}
	if f.CutIn, err = p.at(p.on - p.atmosphere); err != nil {
		return Fill{}, err
	}
	if f.CutOut, err = p.at(p.off - p.atmosphere); err != nil {
		return Fill{}, err
	}
	vd := p.drawdown(p.n)
	l := p.until(0, vd, demand)
	if p.closed(demand) {
		l.time = p.closedTime()
	}
	f.Time, f.Energy, f.Work = unit.Time(l.time), unit.Energy(l.energy), unit.Energy(l.work)
	f.Stored, f.Pumped = unit.Volume(vd), unit.Volume(vd+demand*l.time)
	f.Settled = unit.Pressure(p.absolute(vd, 1) - p.atmosphere)
	return f, nil
}

// reaches says why cut-out is never reached, if it is not.
func (p *pumping) reaches(demand float64) error {
	held := 0.0
	if demand <= float64(p.pump.RunOut()) {
		held = p.restPressure(demand)
	}
	if cutOut := p.off - p.atmosphere; !(held > cutOut) {
		return &StallError{
			Pressure: unit.Pressure(max(0, held)), CutOut: unit.Pressure(cutOut), Demand: FlowRate(demand),
			ShutOff: unit.Pressure(max(0, p.restPressure(0))),
		}
	}
	return nil
}

// closed reports whether the time of a fill has a closed form.
func (p *pumping) closed(demand float64) bool {
	return demand == 0 && p.n == 1 && p.main.smooth() && p.pump.points == nil && p.pump.m == 2
}

func (p *pumping) closedTime() float64 {
	// At a speed r, r²·H0 - a·Q²: the exponent 2 leaves a as it is.
	c := 1 / p.weight
	b := float64(p.pump.ShutOff()) - p.main.static(0) + c*p.atmosphere
	root := math.Sqrt(b)
	f := func(x float64) float64 {
		s := math.Sqrt(b - c*x)
		return -s/(b*x) + c/(2*b*root)*math.Log((root-s)/(root+s))
	}
	return p.air * p.on * math.Sqrt(p.pump.a) * (f(p.off) - f(p.on))
}

// A FillPoint is a moment of a fill.
type FillPoint struct {
	After  unit.Time   // since cut-in
	Stored unit.Volume // above that at cut-in
	OperatingPoint
}

// Course returns a fill at n+1 moments, equal volumes apart, from cut-in to
// cut-out: how pressure, flow and power go while the tank fills. n is 1 to
// 1000; the air keeps its temperature. Errors are those of [Supply.Fill].
//
// Source: see [Supply.Fill].
func (s Supply) Course(demand FlowRate, n int) ([]FillPoint, error) {
	p, err := s.pumping()
	err = errors.Join(err, demandRange("demand", demand))
	if n < 1 || n > 1000 {
		err = errors.Join(err, pkg.Invalid("number of moments", strconv.Itoa(n), "1 to 1000"))
	}
	if err == nil {
		err = p.reaches(float64(demand))
	}
	if err != nil {
		return nil, err
	}
	points := make([]FillPoint, n+1)
	vd, t, before := p.drawdown(1), 0.0, 0.0
	for i := range points {
		v := vd * float64(i) / float64(n)
		t += p.until(before, v, float64(demand)).time
		before = v
		at, err := p.at(min(p.gauge(v), p.off-p.atmosphere))
		if err != nil {
			return nil, err
		}
		points[i] = FillPoint{After: unit.Time(t), Stored: unit.Volume(v), OperatingPoint: at}
	}
	return points, nil
}

// Cycle returns the cycle at a steady demand, as [System.At] does, with the
// pump's flow falling while the pressure rises. No demand gives
// [ErrNeverStarts]; other errors are those of [Supply.Fill].
//
// Source: see [Supply.Fill].
func (s Supply) Cycle(demand FlowRate) (Cycle, error) {
	p, err := s.pumping()
	if err = errors.Join(err, demandRange("demand", demand)); err != nil {
		return Cycle{}, err
	}
	if demand == 0 {
		return Cycle{}, ErrNeverStarts
	}
	f, err := p.fill(float64(demand))
	if err != nil {
		return Cycle{}, err
	}
	off := float64(f.Stored) / float64(demand)
	return Cycle{Demand: demand, On: f.Time, Off: unit.Time(off), Starts: unit.Frequency(1 / (float64(f.Time) + off))}, nil
}

// WorstDemand returns the cycle at the demand that starts the pump most often,
// a little below half of its flow at the middle pressure. Errors are those of
// [Supply.Fill] with no demand.
//
// Source: see [Supply.Fill]; golden section over the demand.
func (s Supply) WorstDemand() (Cycle, error) {
	p, err := s.pumping()
	if err != nil {
		return Cycle{}, err
	}
	f, err := p.fill(0)
	if err != nil {
		return Cycle{}, err
	}
	vd, most := float64(f.Stored), float64(f.CutOut.Flow)
	q := numeric.Maximum(func(q float64) float64 {
		return 1 / (p.until(0, vd, q).time + vd/q)
	}, most*1e-3, most*(1-1e-9), 0)
	return s.Cycle(FlowRate(q))
}
