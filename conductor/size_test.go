package conductor

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// everySize returns all sizes that there are.
func everySize() []Size {
	sizes := MetricSizes()
	for n := largestGauge; n <= finestGauge; n++ {
		sizes = append(sizes, AWG(n))
	}
	for n := minKCMil; n <= maxKCMil; n++ {
		sizes = append(sizes, KCMilSize(n))
	}
	return sizes
}

func TestSizeConstructorsBounds(t *testing.T) {
	assert.True(t, AWG(-3).IsValid())
	assert.True(t, AWG(40).IsValid())
	assert.Equal(t, Size{}, AWG(-4))
	assert.Equal(t, Size{}, AWG(41))
	assert.True(t, KCMilSize(50).IsValid())
	assert.True(t, KCMilSize(2500).IsValid())
	assert.Equal(t, Size{}, KCMilSize(49))
	assert.Equal(t, Size{}, KCMilSize(2501))
	assert.Equal(t, "2.5 mm²", MetricSize(2.5*SquareMillimetre).String())
	for _, a := range []unit.Area{0, 2.5, 2.4 * SquareMillimetre, 35, 400 * SquareMillimetre} {
		assert.Equal(t, Size{}, MetricSize(a))
	}
	assert.False(t, Size{}.IsValid())
	assert.Equal(t, "no size", Size{}.String())
}

func TestCompareOrdersByArea(t *testing.T) {
	sizes := everySize()
	slices.SortFunc(sizes, Size.Compare)
	for i := 1; i < len(sizes); i++ {
		a, b := sizes[i-1], sizes[i]
		require.Equal(t, -1, a.Compare(b), "%v and %v", a, b)
		require.Equal(t, 1, b.Compare(a))
		require.LessOrEqual(t, a.area(), b.area())
		require.Zero(t, a.Compare(a))
	}
	assert.Equal(t, -1, Size{}.Compare(AWG(40)))
	assert.Equal(t, -1, AWG(10).Compare(AWG(8)))
	assert.Equal(t, -1, AWG(0).Compare(AWG(-3)))
	assert.Equal(t, -1, AWG(-3).Compare(KCMilSize(250)))
	assert.Equal(t, -1, AWG(-3).Compare(MetricSize(120*SquareMillimetre)))
	assert.Equal(t, 1, AWG(-3).Compare(MetricSize(95*SquareMillimetre)))
}
