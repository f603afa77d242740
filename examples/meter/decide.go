package main

import (
	"errors"
	"fmt"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
)

// A Finding is one line of the answer with what stands behind it.
type Finding struct {
	About  string `json:"about"`
	Answer string `json:"answer"`
	Source string `json:"source"`
}

// A Mistake is what is often made of such readings, beside what they say.
type Mistake struct {
	Mistake string `json:"mistake"`
	Gives   string `json:"gives"`
	Instead string `json:"instead"`
}

// A Span is a figure as far as the meters know it.
type Span struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Result holds the figures, left out where the readings say nothing of them.
type Result struct {
	ApparentVA    *Span   `json:"apparent_va,omitempty"`
	RealW         *Span   `json:"real_w,omitempty"`
	PowerFactor   *Span   `json:"power_factor,omitempty"`
	ReactiveVar   *Span   `json:"reactive_var,omitempty"`
	CapacitorUF   *Span   `json:"capacitor_uf,omitempty"`
	DCW           *Span   `json:"dc_w,omitempty"`
	Efficiency    *Span   `json:"efficiency,omitempty"`
	SourceMohm    *Span   `json:"source_mohm,omitempty"`
	OpenCircuitV  *Span   `json:"open_circuit_v,omitempty"`
	RunTimeH      *Span   `json:"run_time_h,omitempty"`
	MeanW         float64 `json:"mean_w,omitempty"`
	DayKWh        float64 `json:"day_kwh,omitempty"`
	DutyPercent   float64 `json:"duty_percent,omitempty"`
	StartRatio    float64 `json:"start_ratio,omitempty"`
	TrueV         float64 `json:"true_v,omitempty"`
	AveragingV    float64 `json:"averaging_v,omitempty"`
	FundamentalV  float64 `json:"fundamental_v,omitempty"`
	THDPercent    float64 `json:"thd_percent,omitempty"`
	TorquePercent float64 `json:"torque_percent,omitempty"`
	LabelVA       float64 `json:"label_va,omitempty"`
}

func (a *Answer) find(about, source, format string, args ...any) {
	a.Findings = append(a.Findings, Finding{about, fmt.Sprintf(format, args...), source})
}

// fail is find for readings that do not hold.
func (a *Answer) fail(about, source, format string, args ...any) {
	a.find(about, source, format, args...)
	a.Holds = false
}

// spread is what a reading stands for.
func spread[T ~float64](in Input, name string, x, percent float64) (inverter.Range[T], error) {
	m := inverter.Accuracy[T]{Share: percent / 100, Digits: int(in.Digits), Step: T(in.step[name])}
	if m.Step == 0 {
		m.Digits = 0
	}
	r, err := m.Of(T(x))
	if err != nil {
		return r, fmt.Errorf("%s: %w", name, err)
	}
	return r, nil
}

// decide works out what the readings imply.
func decide(in Input) (Answer, error) {
	a := Answer{Input: in, Holds: true, Cautions: cautions()}
	out, err := a.ac()
	if err != nil {
		return Answer{}, err
	}
	dc, err := a.dc(out)
	if err != nil {
		return Answer{}, err
	}
	for _, step := range []func() error{a.sag, a.wave, a.start, a.metered, a.label, func() error { return a.runTime(out, dc) }} {
		if err := step(); err != nil {
			return Answer{}, err
		}
	}
	a.mistakes(dc)
	a.Assumed = append(a.Assumed, a.Input.assumed...)
	return a, nil
}

// powers is real power as far as it is known; nil where it is not.
type powers = *inverter.Range[unit.Power]

// supposed is the power factor of a motor of which none was read.
var supposed = inverter.Range[float64]{Low: 0.6, High: 0.85}

// leastA is what flows at least where a meter shows any current (A).
const leastA = 1e-3

// ac is what volts, amperes and watts say of the load.
func (a *Answer) ac() (powers, error) {
	in := a.Input
	var watts inverter.Range[unit.Power]
	var err error
	if in.W != 0 {
		if watts, err = spread[unit.Power](in, "w", in.W, in.AccuracyPercent); err != nil {
			return nil, err
		}
	}
	if in.blind() {
		if in.A != 0 {
			a.fail("ac current", "rectified mean, scaled for sine", "not used: on a stepped wave an averaging meter is off by an amount that depends on the load; read it again with a true-rms meter")
		}
		return known(watts), nil
	}
	if in.A == 0 {
		return known(watts), nil
	}
	v, errV := spread[unit.Voltage](in, "v", in.V, in.AccuracyPercent)
	i, errA := spread[unit.Current](in, "a", in.A, in.AccuracyPercent)
	if err := errors.Join(errV, errA); err != nil {
		return nil, err
	}
	i.Low = max(i.Low, leastA)
	r := inverter.ACReadings{Voltage: v, Current: i, Real: watts}
	switch {
	case in.W != 0:
	case in.PF != 0:
		pf, err := spread[float64](in, "pf", in.PF, in.AccuracyPercent)
		if err != nil {
			return nil, err
		}
		r.PowerFactor = inverter.Range[float64]{Low: max(0.05, pf.Low), High: min(1, pf.High)}
	default:
		r.PowerFactor = supposed
		a.Input.assume("power factor %g to %g, that of single-phase motors under load", supposed.Low, supposed.High)
	}
	l, err := r.Load()
	if errors.Is(err, inverter.ErrContradiction) {
		a.fail("ac readings", "P = V·I·pf, pf at most 1", "%s W are more than %s V times %s A, whatever the accuracy allows: one of the three is of another load or another moment", figure(in.W), figure(in.V), figure(in.A))
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	a.Result.ApparentVA, a.Result.RealW = span(l.Apparent, 1), span(l.Real, 1)
	a.Result.PowerFactor, a.Result.ReactiveVar = span(l.PowerFactor, 1), span(l.Reactive, 1)
	a.find("apparent power", "S = V·I", "%s VA: this loads inverter and wires", a.Result.ApparentVA)
	a.find("real power", a.basis(), "%s W: this, over the efficiency, empties the battery", a.Result.RealW)
	rest := "reactive power"
	if in.Wave != "sine" {
		rest = "reactive power and distortion"
	}
	a.find("power factor", a.factorBasis(), "%s; %s %s var", a.Result.PowerFactor, rest, a.Result.ReactiveVar)
	return &l.Real, a.capacitor(r)
}

func (a *Answer) basis() string {
	switch {
	case a.Input.W != 0:
		return "measured"
	case a.Input.PF != 0:
		return "V·I·pf, as read"
	}
	return "V·I times a supposed power factor: a guess"
}

func (a *Answer) factorBasis() string {
	switch {
	case a.Input.W != 0:
		return "P/S"
	case a.Input.PF != 0:
		return "as read"
	}
	return "supposed"
}

func known(watts inverter.Range[unit.Power]) powers {
	if watts.High == 0 {
		return nil
	}
	return &watts
}

func (a *Answer) capacitor(r inverter.ACReadings) error {
	in := a.Input
	if in.Wave != "sine" {
		a.find("capacitor", "harmonics n·ωC·V_n", "none: across a stepped wave it draws current at each edge")
		return nil
	}
	if in.W == 0 && in.PF == 0 {
		return nil
	}
	c, err := r.Capacitor(in.TargetPF, unit.Frequency(in.Hz))
	if err != nil {
		return err
	}
	if c.High == 0 {
		a.find("capacitor", "Q - P·tan φ = ωC·V²", "none needed: the power factor is %g or better", in.TargetPF)
		return nil
	}
	a.Result.CapacitorUF = span(c, 1e6)
	a.find("capacitor", "Q - P·tan φ = ωC·V²", "%s µF would bring a lagging load to a power factor of %g: fewer amperes in wires and inverter, the same watts from the battery, and no help at the start",
		a.Result.CapacitorUF, in.TargetPF)
	return nil
}

// dc is what is taken from the battery, and the inverter's efficiency.
func (a *Answer) dc(out powers) (powers, error) {
	in := a.Input
	if in.DCA == 0 {
		return nil, nil
	}
	d, err := a.dcReadings("dc_v", in.DCV, "dc_a", in.DCA)
	if err != nil {
		return nil, err
	}
	p, err := d.Power()
	if err != nil {
		return nil, err
	}
	a.Result.DCW = span(p, 1)
	a.find("from the battery", "V·I, dc", "%s W", a.Result.DCW)
	if out == nil {
		return &p, nil
	}
	e, err := d.Efficiency(*out)
	source := "real power out over dc power in"
	if in.supposes() {
		source = "real power by a supposed power factor over dc power in: a guess"
	}
	if errors.Is(err, inverter.ErrContradiction) && in.supposes() {
		a.find("efficiency", source, "not known: no more comes out than goes in, so that the power factor is below %s, and less real power is taken than supposed above; read watts",
			figure(a.Result.DCW.High/a.Result.ApparentVA.Low))
		return &p, nil
	}
	if errors.Is(err, inverter.ErrContradiction) {
		a.fail("efficiency", "power out over power in", "%s W would come out of %s W: one of the readings is wrong, of another moment, or volt-amperes", span(*out, 1), a.Result.DCW)
		return &p, nil
	}
	if err != nil {
		return nil, err
	}
	a.Result.Efficiency = span(e, 1)
	a.find("efficiency", source, "%s", a.Result.Efficiency)
	return &p, nil
}

func (a *Answer) dcReadings(vName string, v float64, aName string, i float64) (inverter.DCReadings, error) {
	in := a.Input
	volts, errV := spread[unit.Voltage](in, vName, v, in.DCVoltsPercent)
	amperes, errA := spread[unit.Current](in, aName, i, in.ClampPercent)
	return inverter.DCReadings{Voltage: volts, Current: amperes}, errors.Join(errV, errA)
}

// span shows a range in a unit, to four digits.
func span[T ~float64](r inverter.Range[T], scale float64) *Span {
	return &Span{significant(scale * float64(r.Low)), significant(scale * float64(r.High))}
}

// holds reports whether a figure is within the span.
func (s *Span) holds(x float64) bool { return s != nil && x >= s.Low && x <= s.High }

// String is the span in words.
func (s *Span) String() string {
	if s.Low == s.High {
		return figure(s.Low)
	}
	return figure(s.Low) + " to " + figure(s.High)
}

// significant keeps four digits, so that last bits do not show.
func significant(x float64) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	if err != nil {
		return 0
	}
	return y
}

// figure shows four digits, without an exponent.
func figure(x float64) string { return strconv.FormatFloat(significant(x), 'f', -1, 64) }
