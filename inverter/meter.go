package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ErrContradiction says that readings cannot all be right, whatever their
// accuracy allows: more watts than volt-amperes, more power out than in, or a
// battery whose voltage rises under load. One of the meters is of the wrong
// kind, on the wrong wire, or was read at another time.
var ErrContradiction = errors.New("inverter: the readings contradict each other")

// An Accuracy is what a meter's data sheet states as ±(share of reading +
// digits).
type Accuracy[T ~float64] struct {
	Share  float64 // of the reading, 0 to 0.2: 0.015 for 1.5 %
	Digits int     // steps of the last digit, 0 to 100
	Step   T       // what one step is: 0.1 V, 0.01 A; 0 only where Digits is 0
}

// Of returns what a reading stands for, from reading - e to reading + e with
//
//	e = share·reading + digits·step
//
// and not below 0. Valid for readings of 0 to 1e12.
//
// Definition: limits of error as data sheets of meters state them.
func (a Accuracy[T]) Of(reading T) (Range[T], error) {
	x := float64(reading)
	err := errors.Join(
		pkg.Range("reading", x, 0, 1e12, domain.One),
		pkg.Range("accuracy", a.Share, 0, 0.2, domain.Percent),
		checkOrder("digits", a.Digits, 0, 100),
		pkg.Range("step of the last digit", float64(a.Step), 0, 1e9, domain.One),
	)
	if err == nil && a.Digits > 0 && a.Step == 0 {
		err = pkg.Invalid("step of the last digit", "0", "what one digit is")
	}
	if err != nil {
		return Range[T]{}, err
	}
	e := a.Share*x + float64(a.Digits)*float64(a.Step)
	return Range[T]{Low: T(max(0, x-e)), High: T(x + e)}, nil
}

// checkSpan refuses a range that is not in order or leaves lo to hi.
func checkSpan[T ~float64](name string, r Range[T], lo, hi float64, u domain.Unit) error {
	err := errors.Join(pkg.Range(name, float64(r.Low), lo, hi, u), pkg.Range(name, float64(r.High), lo, hi, u))
	if err == nil && !r.Valid() {
		err = upsideDown(name, float64(r.Low), float64(r.High), u.Symbol)
	}
	return err
}

// ACReadings are what meters on the ac side say, each with its spread.
type ACReadings struct {
	Voltage Range[unit.Voltage] // true rms, 50 V to 1 kV
	Current Range[unit.Current] // true rms, 1 mA to 10 kA
	Real    Range[unit.Power]   // of a watt meter, 0 to 1 MW; both ends 0 where none was there
	// PowerFactor takes the place of Real: of a meter that shows it, 0.05 to 1, or
	// supposed. Both ends 0: there is none.
	PowerFactor Range[float64]
}

func (r ACReadings) check() error {
	return errors.Join(
		checkSpan("ac voltage", r.Voltage, leastAC, mostAC, domain.Volt),
		checkSpan("ac current", r.Current, 1e-3, 10e3, domain.Ampere),
		checkSpan("real power", r.Real, 0, mostPower, domain.Watt),
		r.checkPF(),
	)
}

func (r ACReadings) checkPF() error {
	if r.PowerFactor == (Range[float64]{}) {
		return nil
	}
	if r.Real.High != 0 {
		return pkg.Invalid("power factor", "beside watts", "one of them: watts over volt-amperes are the power factor")
	}
	return checkSpan("power factor", r.PowerFactor, leastPF, 1, domain.One)
}

// apparent is V·I, end by end.
func (r ACReadings) apparent() Range[ApparentPower] {
	return Range[ApparentPower]{
		Low:  ApparentPower(float64(r.Voltage.Low) * float64(r.Current.Low)),
		High: ApparentPower(float64(r.Voltage.High) * float64(r.Current.High)),
	}
}

// An ImpliedLoad is what readings say of a load.
type ImpliedLoad struct {
	Apparent    Range[ApparentPower] // V·I
	Real        Range[unit.Power]    // as read, but at most V·I
	PowerFactor Range[float64]       // P/S
	Reactive    Range[ReactivePower] // √(S² - P²); with distorted current not all of it can be corrected
}

// Load returns what the readings imply, at their worst on either side,
//
//	S = V·I,  pf = P/S,  Q = √(S² - P²)
//
// Since P is at most S each narrows the other. Watts that exceed volt-amperes by
// more than the spread are [ErrContradiction]. Where there was no watt meter the
// real power is not known, unless the power factor is: P = pf·S, and
// Q = S·√(1 - pf²).
//
// Definition: power triangle; ranges by interval arithmetic.
func (r ACReadings) Load() (ImpliedLoad, error) {
	if err := r.check(); err != nil {
		return ImpliedLoad{}, err
	}
	if pf := r.PowerFactor; pf.High > 0 {
		s := r.apparent()
		sin := func(pf float64) float64 { return math.Sqrt((1 - pf) * (1 + pf)) }
		return ImpliedLoad{
			Apparent: s, PowerFactor: pf,
			Real:     Range[unit.Power]{Low: unit.Power(pf.Low * float64(s.Low)), High: unit.Power(pf.High * float64(s.High))},
			Reactive: Range[ReactivePower]{Low: ReactivePower(float64(s.Low) * sin(pf.High)), High: ReactivePower(float64(s.High) * sin(pf.Low))},
		}, nil
	}
	if r.Real.High == 0 {
		return ImpliedLoad{}, pkg.Invalid("real power", "0 W", "a watt meter's reading; volts times amperes are no watts")
	}
	s, p := r.apparent(), r.Real
	if float64(p.Low) > float64(s.High) {
		return ImpliedLoad{}, ErrContradiction
	}
	p.High = min(p.High, unit.Power(s.High))
	s.Low = max(s.Low, ApparentPower(p.Low))
	leg := func(s ApparentPower, p unit.Power) ReactivePower {
		a, b := float64(s), float64(p)
		return ReactivePower(math.Sqrt(max(0, (a-b)*(a+b))))
	}
	return ImpliedLoad{
		Apparent: s, Real: p,
		PowerFactor: Range[float64]{Low: float64(p.Low) / float64(s.High), High: min(1, float64(p.High)/float64(s.Low))},
		Reactive:    Range[ReactivePower]{Low: leg(s.Low, p.High), High: leg(s.High, p.Low)},
	}, nil
}

// Capacitor returns the capacitor that would bring the load to a power factor,
// as [Correct] does, at the worst on either side:
//
//	C = (Q - P·tan φ)/(ω·V²)
//
// with Q, P and V as if their spreads had nothing to do with each other, which
// makes the range no narrower than it is. Its low end is 0 where the readings
// allow that the load has that power factor already. For lagging loads on a sine
// alone: no meter tells lagging from distorted. Valid for power factors of 0.05
// to 1 and 40 to 70 Hz.
//
// Source: as [Correct].
func (r ACReadings) Capacitor(to float64, f unit.Frequency) (Range[unit.Capacitance], error) {
	if err := errors.Join(pkg.Range("power factor wanted", to, leastPF, 1, domain.One), lineFrequency(f)); err != nil {
		return Range[unit.Capacitance]{}, err
	}
	l, err := r.Load()
	if err != nil {
		return Range[unit.Capacitance]{}, err
	}
	tan := math.Sqrt((1-to)*(1+to)) / to
	c := func(q ReactivePower, p unit.Power, v unit.Voltage) unit.Capacitance {
		return unit.Capacitance(max(0, float64(q)-float64(p)*tan) / (2 * math.Pi * float64(f) * float64(v*v)))
	}
	return Range[unit.Capacitance]{
		Low:  c(l.Reactive.Low, l.Real.High, r.Voltage.High),
		High: c(l.Reactive.High, l.Real.Low, r.Voltage.Low),
	}, nil
}
