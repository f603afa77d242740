package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A cable too thin for any fuse leaves two figures that are true: what it
// carries, and what the load asks for. A fuse within the first that is below the
// second does not pass.
func TestFuseOfAThinCable(t *testing.T) {
	p := changedPlan(t, `size = "2/0 AWG"`, `size = "8 AWG"`, `fuse = "150 A (nameplate)"`, `fuse = "40 A"`)
	most, least := checkOf(t, p, "dc_cable.fuse"), checkOf(t, p, "dc_cable.fuse_least")
	assert.Equal(t, Holds, most.State)
	assert.Positive(t, most.Limit)
	assert.Equal(t, Fails, least.State)
	assert.Greater(t, least.Limit, most.Limit)
}

// A fuse without a cable is neither good nor bad.
func TestFuseOfNoCable(t *testing.T) {
	p := changedPlan(t, `size = "2/0 AWG"`, ``, `length = "6 ft (measured)"`, ``)
	c := checkOf(t, p, "dc_cable.fuse")
	assert.Equal(t, Depends, c.State)
	assert.Contains(t, c.Message, "not known")
}
