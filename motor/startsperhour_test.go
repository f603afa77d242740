package motor

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestAllowableStartsAgainstFile(t *testing.T) {
	table := reftest.Rows(t, "motor/mg10_starts.csv")
	require.Len(t, table, len(startRows), "rows in the code and in the file")
	for _, row := range table {
		for _, poles := range []int{2, 4, 6} {
			s, err := AllowableStarts(hp(row, "hp"), poles, 3, 0)
			require.NoError(t, err, row.Source())
			row.Printed(fmt.Sprintf("a_%dpole", poles), s.PerHour)
			row.Printed(fmt.Sprintf("c_%dpole_s", poles), float64(s.Rest))
			assert.False(t, s.InertiaLimits)

			// With less than the greatest inertia B/Wk² gives B back.
			b := fmt.Sprintf("b_%dpole_lbft2", poles)
			wk2 := 0.9 * row.Float(b)
			s, err = AllowableStarts(hp(row, "hp"), poles, 3, Inertia(wk2)*PoundSquareFoot)
			require.NoError(t, err, row.Source())
			assert.True(t, s.InertiaLimits)
			row.Printed(b, s.PerHour*wk2)
		}
	}
	for _, row := range reftest.Rows(t, "motor/mg10_worked.csv") {
		s, err := AllowableStarts(unit.Power(row.Param("hp", "hp"))*Horsepower, int(row.Param("poles", "")), 3,
			Inertia(row.Param("Wk2", "lb-ft2"))*PoundSquareFoot)
		require.NoError(t, err)
		row.Expected(s.PerHour)
	}
}

// lastHalf returns half of the last digit of a printed figure without exponent.
func lastHalf(text string) float64 {
	_, decimals, _ := strings.Cut(text, ".")
	return 0.5 * math.Pow10(-len(decimals))
}

// Larger motors start less often, bear more load and rest longer; slower ones
// bear more. The greatest load inertia is the limit that NEMA MG 1 12.54 has
// by an equation (from memory), which every figure follows to 0.54 of its last
// digit.
func TestAllowableStartsLaws(t *testing.T) {
	for i, r := range startRows {
		for k := range 3 {
			if i > 0 {
				last := startRows[i-1]
				assert.Less(t, r.a[k], last.a[k], r.hp)
				assert.Greater(t, r.b[k], last.b[k], r.hp)
				assert.GreaterOrEqual(t, r.c[k], last.c[k], r.hp)
			}
		}
		assert.InDelta(t, r.a[1]/2, r.a[0], 0.051+r.a[0]*0.005, "%v hp: two poles start half as often as four", r.hp)
		assert.InDelta(t, 1.133, r.a[2]/r.a[1], 0.02, "%v hp", r.hp)
		assert.Less(t, r.b[0], r.b[1])
		assert.Less(t, r.b[1], r.b[2])
		assert.Greater(t, r.c[0], r.c[1])
		assert.GreaterOrEqual(t, r.c[1], r.c[2])
	}
	for _, row := range reftest.Rows(t, "motor/mg10_starts.csv") {
		hp := row.Float("hp")
		for poles, speed := range map[int]float64{2: 3.6, 4: 1.8, 6: 1.2} {
			a := 24.0
			if poles == 2 {
				a = 27
			}
			limit := a*math.Pow(hp, 0.95)/math.Pow(speed, 2.4) - 0.0685*math.Pow(hp, 1.5)/math.Pow(speed, 1.8)
			name := fmt.Sprintf("b_%dpole_lbft2", poles)
			assert.InDelta(t, limit, row.Float(name), lastHalf(row.Text(name))*1.08, "%s %s", row.Source(), name)
		}
	}
}

func TestAllowableStartsRefuse(t *testing.T) {
	for _, tt := range []struct {
		hp            float64
		poles, phases int
		wk2           float64
		reason        Uncovered
	}{
		{1, 4, 1, 1, UncoveredPhases},
		{0.5, 4, 3, 1, UncoveredSize},
		{1.25, 4, 3, 1, UncoveredSize},
		{300, 4, 3, 1, UncoveredSize},
		{5, 8, 3, 1, UncoveredPoles},
		{5, 0, 3, 1, UncoveredPoles},
		{25, 4, 3, 122.1, UncoveredInertia},
		{25, 4, 3, 50 / float64(PoundSquareFoot), UncoveredInertia}, // 50 without its unit
	} {
		_, err := AllowableStarts(unit.Power(tt.hp)*Horsepower, tt.poles, tt.phases, Inertia(tt.wk2)*PoundSquareFoot)
		require.ErrorIs(t, err, ErrNotCovered)
		var e *NotCoveredError
		require.ErrorAs(t, err, &e)
		assert.Equal(t, tt.reason, e.Reason, err)
	}
	full, err := AllowableStarts(25*Horsepower, 4, 3, 122*PoundSquareFoot)
	require.NoError(t, err)
	assert.InDelta(t, 1, full.PerHour, 1e-12)
	for _, j := range append([]float64{-0.1, 1.01e4}, bad...) {
		_, err := AllowableStarts(25*Horsepower, 4, 3, Inertia(j))
		require.ErrorIs(t, err, ErrDomain, j)
	}
	_, err = AllowableStarts(25, 4, 3, 0)
	require.ErrorIs(t, err, ErrDomain)
	_, err = AllowableStarts(25*Horsepower, 4, 2, 0)
	require.ErrorIs(t, err, ErrDomain)
}

func TestSubmersibleStarts(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/submersible_starts.csv") {
		for _, column := range []string{"from_hp", "to_hp"} {
			d, err := SubmersibleStarts(hp(row, column), int(row.Float("phases")), row.Text("soft") == "yes")
			require.NoError(t, err, row.Source())
			row.Printed("value", map[string]float64{
				"starts": d.PerDay, "run": float64(d.Run) / 60, "rest": float64(d.Rest) / 60, "period": float64(d.Period) / 60,
			}[row.Text("quantity")])
		}
	}
	// Between two rows, and beyond.
	for _, tt := range []struct {
		hp     float64
		phases int
		soft   bool
		starts float64
	}{
		{0.8, 1, false, 100},
		{0.8, 3, true, 300},
		{6, 1, false, 50},
		{6, 3, true, 200},
		{35, 3, true, 100},
	} {
		d, err := SubmersibleStarts(unit.Power(tt.hp)*Horsepower, tt.phases, tt.soft)
		require.NoError(t, err)
		assert.InDelta(t, tt.starts, d.PerDay, 0, tt)
		assert.InDelta(t, 86400, d.PerDay*float64(d.Period), 1e-9)
	}
	_, err := SubmersibleStarts(40*Horsepower, 1, false)
	require.ErrorIs(t, err, ErrNotCovered)
	for _, p := range append([]float64{0, 1}, bad...) {
		_, err := SubmersibleStarts(unit.Power(p), 1, false)
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err = SubmersibleStarts(Horsepower, 2, false)
	require.ErrorIs(t, err, ErrDomain)
}

// More inertia never allows more starts, and never more than none does.
func FuzzAllowableStarts(f *testing.F) {
	f.Add(25.0, 4, 3, 2.0, 1.5)
	f.Add(math.NaN(), 3, 1, -1.0, 0.0)
	f.Fuzz(func(t *testing.T, hp float64, poles, phases int, j, less float64) {
		if !(less >= 0 && less <= j) {
			return
		}
		p := unit.Power(hp) * Horsepower
		a, err := AllowableStarts(p, poles, phases, Inertia(j))
		if err != nil {
			return
		}
		b, err := AllowableStarts(p, poles, phases, Inertia(less))
		require.NoError(t, err)
		require.LessOrEqual(t, a.PerHour, b.PerHour)
		require.Greater(t, a.PerHour, 0.999)
		require.Equal(t, a.Rest, b.Rest)
	})
}
