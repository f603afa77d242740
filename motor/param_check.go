package motor

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// This file refuses catalogues that cannot be of one motor.

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
