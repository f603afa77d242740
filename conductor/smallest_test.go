package conductor

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func search(current unit.Current, allowed unit.Voltage) Search {
	return Search{
		Circuit: TwoWire,
		Segment: Segment{Wire: Wire{Metal: Copper, Stranding: Stranded}, OneWay: 200 * Foot, Temperature: Celsius(75)},
		Load:    DC(current),
		Allowed: allowed,
	}
}

func TestSmallestIsSmallest(t *testing.T) {
	for _, sizes := range [][]Size{BuildingSizes(), MetricSizes()} {
		for _, i := range []unit.Current{1, 5, 12, 30, 80} {
			s := search(i, 7.2)
			got, drop, err := s.Smallest(sizes)
			require.NoError(t, err)
			assert.LessOrEqual(t, drop, s.Allowed)
			assert.Equal(t, drop, must[unit.Voltage](t)(s.drop(got)))
			if at := slices.Index(sizes, got); at > 0 {
				assert.Greater(t, must[unit.Voltage](t)(s.drop(sizes[at-1])), s.Allowed, "one size down fails")
			}
			// The order of the list does not matter, and the list stays as it is.
			back := slices.Clone(sizes)
			slices.Reverse(back)
			same := slices.Clone(back)
			again, _, err := s.Smallest(back)
			require.NoError(t, err)
			assert.Equal(t, got, again)
			assert.Equal(t, same, back)
		}
	}
}

func TestSmallestAtTheLimit(t *testing.T) {
	s := search(12, 1)
	s.Allowed = must[unit.Voltage](t)(s.drop(AWG(8)))
	got, _, err := s.Smallest(BuildingSizes())
	require.NoError(t, err)
	assert.Equal(t, AWG(8), got, "a drop equal to the allowed one is allowed")
	s.Allowed *= 1 - 1e-9
	got, _, err = s.Smallest(BuildingSizes())
	require.NoError(t, err)
	assert.Equal(t, AWG(6), got)
}

func TestNoSizeSuffices(t *testing.T) {
	_, _, err := search(5000, 0.1).Smallest(BuildingSizes())
	require.ErrorIs(t, err, ErrNoSize)
	assert.NotErrorIs(t, err, ErrDomain)
	var e *NoSizeError
	require.ErrorAs(t, err, &e)
	assert.Equal(t, KCMilSize(2000), e.Best)
	assert.InDelta(t, 2*200*6.43e-6*5000, float64(e.Drop), 0.1)
	assert.ErrorContains(t, err, "2000 kcmil drops 12.9 V, allowed 0.1 V")
}

// Aluminium begins at 10 mm²: the smaller sizes of the list are no candidates.
func TestSmallestPassesOverMissingSizes(t *testing.T) {
	s := search(1, 7.2)
	s.Segment.Wire.Metal = Aluminium
	got, _, err := s.Smallest(MetricSizes())
	require.NoError(t, err)
	assert.Equal(t, "10 mm²", got.String())
	s.Allowed = 0.001
	_, _, err = s.Smallest(MetricSizes())
	var e *NoSizeError
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "300 mm²", e.Best.String())
	_, _, err = s.Smallest(MetricSizes()[:3])
	refused(t, err, "a combination that IEC 60228 has")
}

func TestSmallestRefuses(t *testing.T) {
	_, _, err := search(12, 7.2).Smallest(nil)
	refused(t, err, "list of sizes empty")
	_, _, err = search(12, 7.2).Smallest([]Size{AWG(10), {}})
	refused(t, err, "no size")
	_, _, err = search(12, 0).Smallest(BuildingSizes())
	refused(t, err, "allowed drop")
	_, _, err = search(-1, 7.2).Smallest(BuildingSizes())
	refused(t, err, "current")
	s := search(12, 7.2)
	s.Circuit = 0
	_, _, err = s.Smallest(BuildingSizes())
	refused(t, err, "circuit")
	_, _, err = Search{}.Smallest(BuildingSizes())
	refused(t, err, "power factor")
}

func TestBuildingSizes(t *testing.T) {
	sizes := BuildingSizes()
	assert.Equal(t, AWG(14), sizes[0])
	assert.Equal(t, KCMilSize(2000), sizes[len(sizes)-1])
	assert.True(t, slices.IsSortedFunc(sizes, Size.Compare))
	assert.Contains(t, sizes, AWG(-3))
	assert.NotContains(t, sizes, AWG(7))
	assert.Len(t, sizes, 28)
}

func TestMetricEquivalents(t *testing.T) {
	find := func(a float64) Size { return MetricSize(unit.Area(a) * SquareMillimetre) }
	label := func(s Size) float64 { return float64(s.number) / 100 }
	for _, row := range reftest.Rows(t, "conductor/awg_iec_equivalence.csv") {
		s := sizeOf(t, row, "size")
		w := Wire{s, Copper, Stranded, false}
		r := must[ResistancePerLength](t)(w.Resistance(Celsius(20)))
		row.Printed("awg_strand_ohm_per_km_20c", float64(r/OhmPerKilometre))

		sizes := MetricSizes()
		at, _ := slices.BinarySearchFunc(sizes, s, Size.Compare)
		row.Printed("iec_at_or_above_mm2", label(sizes[at]))
		if row.Has("iec_below_mm2") {
			row.Printed("iec_below_mm2", label(sizes[at-1]))
		} else {
			assert.Zero(t, at)
		}
		equal := must[Size](t)(MetricEquivalent(w))
		row.Printed("iec_size_by_resistance_mm2", label(equal))
		assert.GreaterOrEqual(t, equal.Compare(sizes[at]), 0, "never smaller than by area")
	}
	_, err := MetricEquivalent(Wire{KCMilSize(1000), Copper, Stranded, false})
	require.ErrorIs(t, err, ErrNoSize)
	_, err = MetricEquivalent(Wire{})
	refused(t, err, "no size")
	got := must[Size](t)(MetricEquivalent(Wire{find(95), Copper, Stranded, false}))
	assert.Equal(t, find(95), got, "a metric size is its own equal")
}
