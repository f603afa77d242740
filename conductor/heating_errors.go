package conductor

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"
)

// ErrRunaway is the answer where the heat grows faster with temperature than
// the loss, so that the conductor settles at no temperature. [RunawayError]
// carries the figures.
var ErrRunaway = errors.New("conductor: thermal runaway")

// A RunawayError says that a current has no steady temperature. It is
// [ErrRunaway].
type RunawayError struct {
	Current unit.Current // asked for; of a cycle, the larger of its two
	Limit   unit.Current // above which a steady current runs away
}

// Error gives the figures in words.
//
// Definition: the fields of the error.
func (e *RunawayError) Error() string {
	return fmt.Sprintf("%v: %.4g, and above %.4g no steady temperature exists", ErrRunaway, e.Current, e.Limit)
}

// Is reports whether target is [ErrRunaway].
//
// Definition: every RunawayError is a runaway.
func (e *RunawayError) Is(target error) bool { return target == ErrRunaway }

// ErrTooHot is the answer where a conductor passes 1083 °C, where copper melts
// and the models end. Insulation is gone long before. [TooHotError] carries the
// figures.
var ErrTooHot = errors.New("conductor: hotter than 1083 °C")

// A TooHotError says that a conductor does not stay below 1083 °C. It is
// [ErrTooHot].
type TooHotError struct {
	Current unit.Current // of the conductor; zero where only heat was given
}

// Error gives the figures in words.
//
// Definition: the fields of the error.
func (e *TooHotError) Error() string {
	if e.Current == 0 {
		return ErrTooHot.Error()
	}
	return fmt.Sprintf("%v: at %.4g", ErrTooHot, e.Current)
}

// Is reports whether target is [ErrTooHot].
//
// Definition: every TooHotError is this answer.
func (e *TooHotError) Is(target error) bool { return target == ErrTooHot }

// ErrNeverReached is the answer where a temperature is asked for that the
// conductor does not come to. [NeverReachedError] carries the figures.
var ErrNeverReached = errors.New("conductor: the temperature is never reached")

// A NeverReachedError says at what temperature a conductor settles instead. It
// is [ErrNeverReached].
type NeverReachedError struct {
	Limit  unit.Temperature // asked for
	Steady unit.Temperature // where the conductor settles, or starts without settling
}

// Error gives the figures in words.
//
// Definition: the fields of the error.
func (e *NeverReachedError) Error() string {
	return fmt.Sprintf("%v: %.1f °C, the conductor tends to %.1f °C", ErrNeverReached, InCelsius(e.Limit), InCelsius(e.Steady))
}

// Is reports whether target is [ErrNeverReached].
//
// Definition: every NeverReachedError is this answer.
func (e *NeverReachedError) Is(target error) bool { return target == ErrNeverReached }
