package conductor

import (
	"math"

	"gonum.org/v1/gonum/unit"
)

// A FitVerdict says how a stud goes into a hole. The zero value is none.
type FitVerdict uint8

// The verdicts.
const (
	// Fits: the smallest of the holes clears the stud by 0.1 to 1 mm.
	Fits FitVerdict = iota + 1
	// Tight: it depends on the hole at hand, some pass and some do not, or by a
	// hair. Never drill a terminal up to make it pass.
	Tight
	// Loose: even the smallest hole has more than 1 mm of play, and contact area
	// is lost. Use the terminal of the right stud.
	Loose
	// DoesNotPass: the largest hole is smaller than the stud.
	DoesNotPass
)

// String returns "fits", "tight", "loose", "does not pass" or, for the zero
// value, "no verdict".
//
// Definition: the words of this package.
func (v FitVerdict) String() string {
	switch v {
	case Fits:
		return "fits"
	case Tight:
		return "tight"
	case Loose:
		return "loose"
	case DoesNotPass:
		return "does not pass"
	default:
		return "no verdict"
	}
}

// A StudFit is the verdict on a stud in a hole with the clearance, hole less
// stud, which is negative where the stud does not pass.
type StudFit struct {
	Verdict   FitVerdict
	Clearance Range[unit.Length]
}

const (
	leastClearance = 0.1e-3 // (m)
	mostClearance  = 1.0e-3
	clearanceSlack = 1e-9 // for the last bits
)

// Fit returns how a stud goes into a hole that lies between two diameters; a
// measured hole has the two equal. With the clearance c = hole − stud at the small
// and large end of the range,
//
//	c large < 0              does not pass
//	c small < 0.1 mm         tight
//	c small > 1.0 mm         loose
//	otherwise                fits
//
// Valid for holes of 2 to 30 mm; otherwise, and for the zero Stud, err wraps
// [ErrDomain].
//
// Common practice: 0.1 mm to pass, 1.0 mm for contact.
func (s Stud) Fit(hole Range[unit.Length]) (StudFit, error) {
	if !s.IsValid() {
		return StudFit{}, s.refuse()
	}
	if !(hole.Low >= minHole && hole.High <= maxHole && hole.Valid()) {
		return StudFit{}, checkHole(hole)
	}
	d := unit.Length(studs[s.row-1].diameter) * mm
	f := StudFit{Fits, Range[unit.Length]{Low: hole.Low - d, High: hole.High - d}}
	switch {
	case f.Clearance.High < -clearanceSlack:
		f.Verdict = DoesNotPass
	case f.Clearance.Low < leastClearance-clearanceSlack:
		f.Verdict = Tight
	case f.Clearance.Low > mostClearance+clearanceSlack:
		f.Verdict = Loose
	}
	return f, nil
}

// FitTerminal returns how a stud goes into a ring terminal that is labelled for
// another: [Stud.Fit] with the usual hole of the label.
//
// The zero Stud, on either side, gives an error that wraps [ErrDomain].
//
// Common practice: as [Stud.Fit] and [Stud.TerminalHole].
func (s Stud) FitTerminal(label Stud) (StudFit, error) {
	hole, err := label.TerminalHole()
	if err != nil {
		return StudFit{}, err
	}
	return s.Fit(hole)
}

const minHole, maxHole = 2e-3, 30e-3 // (m)

func checkHole(hole Range[unit.Length]) error {
	high := pkg.Range("largest hole", float64(hole.High), math.Max(minHole, float64(hole.Low)), maxHole, inMillimetres)
	if err := pkg.Range("smallest hole", float64(hole.Low), minHole, maxHole, inMillimetres); err != nil {
		return err
	}
	return high
}
