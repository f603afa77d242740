package conductor

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"
)

// A Limit is one of the things that bound the choice of a conductor.
type Limit uint8

const (
	// RunningDrop is the voltage lost while the load runs.
	RunningDrop Limit = iota
	// StartingDrop is the voltage lost while it starts.
	StartingDrop
	// LongTermCurrent is the ampacity.
	LongTermCurrent
	// ShortTimeCurrent is the adiabatic limit of a surge or fault.
	ShortTimeCurrent
	// TerminalRange is the range of sizes that the terminals take.
	TerminalRange
	// StudHole is the fit of the terminal's hole on the stud.
	StudHole
	// NumLimits is their number.
	NumLimits
)

var limitNames = [...]string{"running drop", "starting drop", "ampacity", "short-time current", "terminal size", "stud"}

// String returns the name of the limit.
//
// Definition: the words of this package.
func (l Limit) String() string {
	if int(l) < len(limitNames) {
		return limitNames[l]
	}
	return "no limit"
}

// A LimitCheck lays one conductor beside one limit.
type LimitCheck struct {
	Stated bool // whether the limit was stated; one that was not passes
	// Known: the figures could be worked out. Where they could not, as for a size
	// that a table does not have, the conductor fails.
	Known bool
	// Value and Bound in SI units: the drop and the allowed one (V), the current
	// and the ampacity (A), the least area and the area (m²). For terminals and
	// studs, the area and the bound it breaks or is nearest to (m²), and the stud
	// and the hole (m).
	Value, Bound float64
	// Use is what part of the limit is used, 1 being the limit itself; a hole that
	// is too wide fails below it. It is 0 where nothing is known.
	Use    float64
	Passes bool
}

// An AmpacityBasis says where the ampacity of a conductor comes from. The zero
// value is none: ampacity is then no limit.
type AmpacityBasis uint8

const (
	// NoAmpacityBasis leaves ampacity out.
	NoAmpacityBasis AmpacityBasis = iota
	// CodeAmpacity is [Branch.Current] with the wire's size and metal.
	CodeAmpacity
	// BoatAmpacity is [BoatCable.Ampacity] with the wire's size.
	BoatAmpacity
	// StatedAmpacity is the one that the catalogue states.
	StatedAmpacity
)

// Limits are what a conductor has to pass. A limit whose allowed value is zero is
// not stated; at least one has to be.
type Limits struct {
	Circuit     Circuit             // two-wire or three-phase
	OneWay      unit.Length         // from source to load, not out and back
	Temperature unit.Temperature    // of the conductor, for the drop
	Reactance   ResistancePerLength // of one conductor; zero for direct current
	// Source is the voltage at the head of the run, for the exact drop; zero: the
	// usual approximation, which is exact for direct current.
	Source unit.Voltage

	Running        Load         // steady load, for the drop
	AllowedRunning unit.Voltage // the drop itself; zero: no limit
	// Starting is the load at the start as a current, which for a motor is the
	// locked-rotor current: the real one is less where the voltage sinks.
	Starting        Load
	AllowedStarting unit.Voltage // zero: no limit

	Basis AmpacityBasis // of the ampacity; zero: no limit
	// LeastAmpacity is what is asked of it, 125 % of a continuous load.
	LeastAmpacity unit.Current
	// Branch and Boat hold the conditions of the run, with no size; in Branch the
	// metal is not read either.
	Branch Branch
	Boat   BoatCable

	// Surge for SurgeTime must not heat the conductor from Initial to above Final;
	// zero Surge: no limit.
	Surge          unit.Current
	SurgeTime      unit.Time // 0.1 to 5 s
	Initial, Final unit.Temperature

	// SmallestTerminal and LargestTerminal are the sizes that the terminals at
	// both ends take; zero: no limit.
	SmallestTerminal, LargestTerminal Size
	// Stud that the terminals have to go on; zero: no limit. Candidates without a
	// hole pass.
	Stud Stud
}

// Check lays one conductor beside all limits and reports whether it passes them.
//
//   - running and starting drop: [Impedance.Drop] of the run with one segment, or
//     source less [Impedance.LoadVoltage] where Source is given; a line that
//     leaves no voltage drops all of it
//   - ampacity: LeastAmpacity/Iz
//   - short-time current: S' = I·√t/k over the area, k of [HeatingLaw.Factor] by
//     the IEC
//   - terminal size: the area between those of the two sizes, by name
//   - stud: [Stud.Fit] in the candidate's hole, which has to be [Fits]
//
// Limits or a candidate out of their range give an error that wraps [ErrDomain];
// an ambient that leaves no ampacity gives [ErrNoAmpacity].
//
// Source: as [Run.Impedance], [Branch.Ampacity], [BoatCable.Ampacity],
// [AdiabaticFactor.LeastArea] and [Stud.Fit].
func (l Limits) Check(c Candidate) ([NumLimits]LimitCheck, bool, error) {
	w, err := prepare(&l)
	if err = errors.Join(err, c.check()); err != nil {
		return [NumLimits]LimitCheck{}, false, err
	}
	return w.checks(&c), w.passes(&c), nil
}

// ErrNoConductor is the answer where no conductor of a list passes all limits.
// [NoConductorError] carries the figures. It is [ErrNoSize] too.
var ErrNoConductor = fmt.Errorf("%w: none passes all limits", ErrNoSize)

// A NoConductorError says which conductor was the last to fail, and why. It is
// [ErrNoConductor] and [ErrNoSize].
type NoConductorError struct {
	Last   Candidate             // the last in the order: the largest, or the dearest
	Checks [NumLimits]LimitCheck // of it
	Fails  Limit                 // the limit that it fails by most
}

// Error gives the figures in words.
//
// Definition: the fields of the error.
func (e *NoConductorError) Error() string {
	return fmt.Sprintf("%v: %v fails the limit of %v", ErrNoConductor, e.Last.Wire, e.Fails)
}

// Is reports whether target is [ErrNoConductor] or [ErrNoSize].
//
// Definition: every NoConductorError is the answer that no size suffices.
func (e *NoConductorError) Is(target error) bool {
	return target == ErrNoConductor || target == ErrNoSize
}
