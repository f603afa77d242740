package inverter

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNames(t *testing.T) {
	assert.Equal(t, []string{"no verdict", "fails", "depends", "passes", "no verdict"},
		[]string{Verdict(0).String(), Fails.String(), Depends.String(), Passes.String(), Verdict(4).String()})
	seen := map[string]bool{}
	for l := Link(0); l <= Empty; l++ {
		assert.NotEmpty(t, l.String())
		assert.False(t, seen[l.String()], l.String())
		seen[l.String()] = true
	}
	assert.Equal(t, "surge rating", SurgeRating.String())
	assert.Equal(t, "collapse of the source", Collapse.String())
	assert.Equal(t, "empty battery", Empty.String())
	assert.Equal(t, "unknown link", Link(200).String())
}
