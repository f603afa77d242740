package conductor

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The answers are told apart, and none of them is an argument error.
func TestHeatingErrors(t *testing.T) {
	answers := []error{
		&RunawayError{Current: 120, Limit: 92},
		&TooHotError{Current: 120},
		&NeverReachedError{Limit: Celsius(90), Steady: Celsius(75)},
		&AreaError{Area: 150 * SquareMillimetre},
	}
	kinds := []error{ErrRunaway, ErrTooHot, ErrNeverReached, ErrNoSize}
	for n, answer := range answers {
		for k, kind := range kinds {
			assert.Equal(t, n == k, errors.Is(answer, kind), "%v", answer)
		}
		assert.NotErrorIs(t, answer, ErrDomain)
		assert.ErrorContains(t, answer, kinds[n].Error())
	}
	assert.EqualError(t, answers[0], "conductor: thermal runaway: 120 A, and above 92 A no steady temperature exists")
	assert.EqualError(t, answers[1], "conductor: hotter than 1083 °C: at 120 A")
	assert.EqualError(t, answers[2], "conductor: the temperature is never reached: 90.0 °C, the conductor tends to 75.0 °C")
}
