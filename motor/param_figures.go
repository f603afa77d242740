package motor

import (
	"fmt"
	"math"
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
