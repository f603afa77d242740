package tank

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The shortcuts promise more water than comes out.
func TestShortcutsPromiseMore(t *testing.T) {
	for _, s := range []Vessel{at(30, 50, 2, 0), at(40, 60, 2, 0), at(50, 70, 2, 0)} {
		s.Volume = demo.Volume
		vd, err := s.Drawdown()
		require.NoError(t, err)
		naive, err := s.GaugeOnlyDrawdown()
		require.NoError(t, err)
		third, err := s.ThirdOfVolume()
		require.NoError(t, err)
		assert.Greater(t, float64(naive), float64(vd))
		assert.Greater(t, float64(third), float64(vd))
	}
}
