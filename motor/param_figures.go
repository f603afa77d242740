package motor

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Figure is one of the figures that a catalogue gives of a motor.
type Figure byte

// The figures of a catalogue, in the order of [Fit.Residuals].
const (
	FigureFullLoadCurrent Figure = iota
	FigurePowerFactor
	FigureEfficiency
	FigureSlip // from the full-load speed
	FigureLockedRotorCurrent
	FigureLockedRotorPowerFactor
	FigureStartingTorque
	FigureBreakdownTorque
	figureCount
)

// figureNames are the texts, in the order of the constants.
var figureNames = [figureCount]string{
	"full-load current", "power factor", "efficiency", "full-load slip",
	"locked-rotor current", "locked-rotor power factor", "starting torque", "breakdown torque",
}

// String returns the name of the figure in words, and "unknown" for a value that
// is none.
//
// Definition: the name of the constant.
func (f Figure) String() string {
	if f < figureCount {
		return figureNames[f]
	}
	return "unknown"
}

// Tolerances say how far each figure of a [Catalogue] may be off, as a part of
// it: 0.1 is 10 %. They are the weights of the fit. Zero: the ones of
// [DefaultTolerances].
type Tolerances struct {
	FullLoadCurrent        float64 // at rated output
	PowerFactor            float64 // at rated output
	Efficiency             float64 // at rated output
	Slip                   float64 // of the slip, not of the speed
	LockedRotorCurrent     float64 // with the rotor held
	LockedRotorPowerFactor float64 // with the rotor held
	StartingTorque         float64 // with the rotor held
	BreakdownTorque        float64 // the greatest of the running motor
}

// DefaultTolerances returns the tolerances of a fit that gives none: full-load
// current, power factor and efficiency 5 %, slip 20 %, locked-rotor current and
// its power factor 10 %, starting torque 20 %, breakdown torque 10 %.
//
// Common practice: the order of the tolerances of IEC 60034-1 on rated figures,
// which allow 20 % of the slip and the locked-rotor current, 10 % of the
// breakdown and 15 to 25 % of the starting torque; the others as figures are
// printed.
func DefaultTolerances() Tolerances {
	return Tolerances{
		FullLoadCurrent: 0.05, PowerFactor: 0.05, Efficiency: 0.05, Slip: 0.2,
		LockedRotorCurrent: 0.1, LockedRotorPowerFactor: 0.1, StartingTorque: 0.2, BreakdownTorque: 0.1,
	}
}

func (t Tolerances) array() [figureCount]float64 {
	return [figureCount]float64{
		t.FullLoadCurrent, t.PowerFactor, t.Efficiency, t.Slip,
		t.LockedRotorCurrent, t.LockedRotorPowerFactor, t.StartingTorque, t.BreakdownTorque,
	}
}

// each returns the tolerance of each figure, the usual one where there is none.
func (t Tolerances) each() [figureCount]float64 {
	each, usual := t.array(), DefaultTolerances().array()
	for i := range each {
		if each[i] == 0 {
			each[i] = usual[i]
		}
	}
	return each
}

// The bounds of a catalogue's figures.
const (
	leastTolerance    = 1e-6
	greatestTolerance = 1
	leastLoadSpeed    = 0.6    // full-load speed over synchronous speed
	greatestLoadSpeed = 0.9995 // the figure is rounded to a revolution or so
	leastTorqueRatio  = 0.05
	mostTorqueRatio   = 8
	leastBreakdown    = 1.05
)

// optional checks a figure that may be zero for not given.
func optional(name string, x, lo, hi float64, u domain.Unit) error {
	if x == 0 {
		return nil
	}
	return pkg.Range(name, x, lo, hi, u)
}

// Validate reports everything that is wrong with the catalogue: output of 1/20
// to 500 hp, voltage of 10 V to 15 kV, 10 to 400 Hz, 2 to 24 poles, and of the
// figures given: currents of 50 mA to 20 kA, efficiency 0.05 to 0.99, power
// factors 0.1 to 1, full-load speed 0.6 to 0.9995 of the synchronous one,
// starting torque 0.05 to 8 and breakdown torque 1.05 to 8 of the rated one,
// ratio of reactances 0.1 to 10, tolerances 10⁻⁶ to 1. Figures of which two
// cannot both be true are a [ContradictionError]:
//
//	P > √m·V·I·cos φ·η, or less by more than their tolerances together
//	η > 1 - s    I_lr < I    T_lr·ω_s > √m·V·I_lr·cos φ_lr
//
// the last because the air gap passes no more than the line gives.
//
// Definition: the ranges are those of motors; balance of power.
func (c Catalogue) Validate() error {
	err := c.validateFrame()
	for i, t := range c.Tolerance.array() {
		err = errors.Join(err, optional("tolerance of "+figureNames[i], t, leastTolerance, greatestTolerance, domain.One))
	}
	if err != nil {
		return err
	}
	ns, rpm := synchronous(c.Frequency, c.Poles), domain.Unit{Symbol: "rpm", Size: float64(RPM)}
	err = errors.Join(
		optional("full-load current", float64(c.FullLoadCurrent), leastAmperes, greatestAmps, domain.Ampere),
		optional("power factor", c.PowerFactor, leastPowerFactor, 1, domain.One),
		optional("efficiency", c.Efficiency, leastEfficiency, greatestEfficiency, domain.One),
		optional("full-load speed", float64(c.FullLoadSpeed), leastLoadSpeed*ns*(1-1e-9), greatestLoadSpeed*ns*(1+1e-9), rpm),
		optional("locked-rotor current", float64(c.LockedRotorCurrent), leastAmperes, greatestAmps, domain.Ampere),
		optional("locked-rotor power factor", c.LockedRotorPowerFactor, leastPowerFactor, 1, domain.One),
		optional("starting torque over rated torque", c.StartingTorque, leastTorqueRatio, mostTorqueRatio, domain.One),
		optional("breakdown torque over rated torque", c.BreakdownTorque, leastBreakdown, mostTorqueRatio, domain.One),
		optional("stator over rotor reactance", c.ReactanceRatio, 0.1, 10, domain.One),
	)
	if err != nil {
		return err
	}
	return c.contradictions()
}

func (c Catalogue) validateFrame() error {
	err := errors.Join(checkOutput(c.Output), checkFrame(c.Voltage, c.Frequency, c.Poles, 0), c.Start.validate("start"), c.Run.validate("run"))
	if c.Type > ThreePhase || c.Type == ShadedPole {
		err = errors.Join(err, pkg.Invalid("motor type", strconv.Itoa(int(c.Type)), "unknown for a main winding alone, or a type other than shaded-pole"))
	}
	if c.Start != (Branch{}) && !c.Type.switched() {
		err = errors.Join(err, pkg.Invalid("start branch", "of a motor without start switch", "none"))
	}
	if c.Run != (Branch{}) && c.Type != PermanentSplit && c.Type != CapacitorStartRun {
		err = errors.Join(err, pkg.Invalid("run branch", "of a motor without run capacitor", "none"))
	}
	return err
}

// wanted returns the figures given; 0: not given.
func (c Catalogue) wanted() [figureCount]float64 {
	slip := 0.0
	if c.FullLoadSpeed != 0 {
		slip = 1 - float64(c.FullLoadSpeed)/synchronous(c.Frequency, c.Poles)
	}
	return [figureCount]float64{
		float64(c.FullLoadCurrent), c.PowerFactor, c.Efficiency, slip,
		float64(c.LockedRotorCurrent), c.LockedRotorPowerFactor, c.StartingTorque, c.BreakdownTorque,
	}
}

// or is x, or a where x is not given.
func or(x, a float64) float64 {
	if x == 0 {
		return a
	}
	return x
}

func (c Catalogue) contradictions() error {
	w, tol := c.wanted(), c.Tolerance.each()
	factor := lineFactor(c.phases()) * float64(c.Voltage)
	p := float64(c.Output)
	slip, eff, pf := w[FigureSlip], w[FigureEfficiency], w[FigurePowerFactor]
	var err error
	if i := w[FigureFullLoadCurrent]; i != 0 {
		room := 1.0
		for _, f := range [...]Figure{FigureFullLoadCurrent, FigurePowerFactor, FigureEfficiency} {
			if w[f] != 0 {
				room += tol[f]
			}
		}
		through := factor * i * or(pf, 1) * or(eff, 1)
		if p > through*room || pf != 0 && eff != 0 && p*room < through {
			err = errors.Join(err, contradiction("output %.4g, but full-load current, power factor and efficiency give %.4g", c.Output, unit.Power(through)))
		}
	}
	if slip != 0 && eff > 1-slip {
		err = errors.Join(err, contradiction("efficiency %.3g, but the rotor alone loses the slip, %.3g", eff, slip))
	}
	lr := w[FigureLockedRotorCurrent]
	if lr != 0 && lr < w[FigureFullLoadCurrent] {
		err = errors.Join(err, contradiction("locked-rotor current %.4g below full-load current %.4g", c.LockedRotorCurrent, c.FullLoadCurrent))
	}
	if gap, line := c.StartingTorque*p, factor*lr*or(c.LockedRotorPowerFactor, 1); lr != 0 && gap > line {
		err = errors.Join(err, contradiction("starting torque of %.3g times the rated one takes %.4g across the air gap, the line gives %.4g",
			c.StartingTorque, unit.Power(gap), unit.Power(line)))
	}
	return err
}

// enough reports what the figures given leave open: a fit needs one that speaks
// of the current of the running motor, one of its leakage and one of its rotor.
func (c Catalogue) enough() error {
	w := c.wanted()
	switch {
	case w[FigureFullLoadCurrent] == 0 && (w[FigurePowerFactor] == 0 || w[FigureEfficiency] == 0):
		return missing("full-load current, or power factor and efficiency,")
	case w[FigureLockedRotorCurrent] == 0 && w[FigureBreakdownTorque] == 0:
		return missing("locked-rotor current or breakdown torque")
	case w[FigureSlip] == 0 && w[FigureLockedRotorPowerFactor] == 0 && w[FigureStartingTorque] == 0:
		return missing("full-load speed, starting torque or locked-rotor power factor")
	}
	return nil
}

func (c Catalogue) phases() int {
	if c.Type == ThreePhase {
		return 3
	}
	return 1
}

// A Residual is what a fitted circuit makes of one figure of a [Catalogue].
type Residual struct {
	Figure    Figure
	Want, Got float64 // in the figure's SI unit, or a ratio
	Relative  float64 // Got/Want - 1
	Tolerance float64 // of the fit, relative
}

// over is the distance in tolerances.
func (r Residual) over() float64 { return math.Abs(r.Relative) / r.Tolerance }

// A MisfitError says that no circuit follows the figures of a catalogue: they
// belong to different motors or voltages, or to a motor that one cage does not
// describe. It is an [ErrDomain] by [errors.Is].
type MisfitError struct {
	Worst Residual // the figure furthest off, in tolerances
}

// Error returns the figure that is furthest off.
//
// Definition: "motor: no circuit follows the figures: " and the worst of them.
func (e *MisfitError) Error() string {
	return fmt.Sprintf("motor: no circuit follows the figures: %s %.4g, at best %.4g (%+.0f %%)",
		e.Worst.Figure, e.Worst.Want, e.Worst.Got, 100*e.Worst.Relative)
}

// Is reports whether target is [ErrDomain].
//
// Definition: a misfit is an argument error.
func (e *MisfitError) Is(target error) bool { return target == ErrDomain }
