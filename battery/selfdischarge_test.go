package battery

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestSelfDischargeTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/self_discharge.csv") {
		if row.Text("use") == "check" {
			s := SelfDischarge{Share: row.Float("pct_20c") / 100, Time: Month, Temperature: Celsius(20)}
			row.Printed("pct_per_month", 100*must[float64](t)(s.At(Celsius(row.Float("temp_c")))))
			continue
		}
		c := Flooded
		switch kind := row.Text("type"); {
		case strings.Contains(kind, "AGM"), strings.Contains(kind, "spiral"):
			c = AGM
		case strings.Contains(kind, "gel"):
			c = Gel
		}
		low, high, err := TypicalSelfDischarge(c)
		require.NoError(t, err)
		temp := Celsius(20)
		if row.Has("temp_c") {
			temp = Celsius(row.Float("temp_c"))
		}
		lo, hi := 100*must[float64](t)(low.At(temp)), 100*must[float64](t)(high.At(temp))
		assert.True(t, row.Float("pct_per_month") >= lo-1e-9 && row.Float("pct_per_month") <= hi+1e-9, "%s: %v to %v", row.Source(), lo, hi)
	}
}

var sealedLoss = SelfDischarge{Share: 0.03, Time: Month, Temperature: Celsius(20)}

func TestSelfDischarge(t *testing.T) {
	left := must[float64](t)(sealedLoss.Left(Celsius(20), 10*Month))
	assert.InDelta(t, 0.7, left, 1e-12)
	assert.InDelta(t, 10, float64(must[unit.Time](t)(sealedLoss.Until(Celsius(20), left))/Month), 1e-9)
	assert.InDelta(t, 5, float64(must[unit.Time](t)(sealedLoss.Until(Celsius(30), left))/Month), 1e-9)
	assert.Zero(t, must[float64](t)(sealedLoss.Left(Celsius(60), 3660*Day)), "never below empty")
	i := must[unit.Current](t)(sealedLoss.Current(100*AmpereHour, Celsius(20)))
	assert.InDelta(t, 3.0/(365.25/12*24), float64(i), 1e-12)
	m := must[unit.Current](t)(sealedLoss.MaintainerCurrent(100*AmpereHour, Celsius(20), 0.05, 0.5))
	assert.InDelta(t, 0.05+2*float64(i), float64(m), 1e-12)
	// The book recharges after 4 months where antimony loses 12 % a month,
	// after 8 where gel loses 2: half and five sixths are then left.
	_, high, err := TypicalSelfDischarge(Flooded)
	require.NoError(t, err)
	assert.Greater(t, float64(must[unit.Time](t)(high.Until(Celsius(20), 0.5))/Month), 4.0)
	low, _, err := TypicalSelfDischarge(Gel)
	require.NoError(t, err)
	assert.Greater(t, must[float64](t)(low.Left(Celsius(20), 8*Month)), 5.0/6)
}

func TestSelfDischargeRefuses(t *testing.T) {
	for _, s := range []SelfDischarge{
		{},
		{Share: 3, Time: Month, Temperature: Celsius(20)},
		{Share: 0.03, Time: 1, Temperature: Celsius(20)},
		{Share: 0.03, Time: Month, Temperature: 20},
		{Share: math.NaN(), Time: Month, Temperature: Celsius(20)},
		{Share: 0.03, Time: 367 * Day, Temperature: Celsius(20)},
	} {
		_, err := s.At(Celsius(20))
		refused(t, err, "%v", s)
		_, err = s.Left(Celsius(20), Month)
		refused(t, err)
		_, err = s.Until(Celsius(20), 0.5)
		refused(t, err)
		_, err = s.Current(100*AmpereHour, Celsius(20))
		refused(t, err)
		_, err = s.MaintainerCurrent(100*AmpereHour, Celsius(20), 0, 1)
		refused(t, err)
	}
	_, err := sealedLoss.At(20)
	refused(t, err)
	for _, x := range []unit.Time{-1, 3661 * Day, unit.Time(math.NaN())} {
		_, err = sealedLoss.Left(Celsius(20), x)
		refused(t, err)
	}
	for _, x := range []float64{-0.1, 1.1, math.NaN()} {
		_, err = sealedLoss.Until(Celsius(20), x)
		refused(t, err)
	}
	_, err = sealedLoss.Current(100, Celsius(20))
	refused(t, err)
	for _, e := range []float64{0, 0.09, 1.1, 85, math.NaN()} {
		_, err = sealedLoss.MaintainerCurrent(100*AmpereHour, Celsius(20), 0, e)
		refused(t, err)
	}
	for _, i := range []unit.Current{-1, 1001, unit.Current(math.NaN())} {
		_, err = sealedLoss.MaintainerCurrent(100*AmpereHour, Celsius(20), i, 1)
		refused(t, err)
	}
	for _, c := range []Chemistry{0, LithiumIronPhosphate, 9} {
		_, _, err := TypicalSelfDischarge(c)
		refused(t, err)
	}
}

// Left and Until are inverses, and warmth never helps.
func FuzzSelfDischarge(f *testing.F) {
	f.Add(0.03, 293.0, 5e6)
	f.Add(math.NaN(), 293.0, 1.0)
	f.Fuzz(func(t *testing.T, share, kelvin, stored float64) {
		s := SelfDischarge{Share: share, Time: Month, Temperature: Celsius(20)}
		x, err := s.Left(unit.Temperature(kelvin), unit.Time(stored))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.True(t, x >= 0 && x <= 1)
		if x > 0 {
			back := must[unit.Time](t)(s.Until(unit.Temperature(kelvin), x))
			// 1 - x carries the last bits of 1.
			require.InDelta(t, stored, float64(back), 1e-9*stored+1e-15*float64(Month)/share*math.Exp2((293.15-kelvin)/10)+1e-9)
		}
		warmer, err := s.Left(unit.Temperature(kelvin+1), unit.Time(stored))
		if err == nil {
			require.LessOrEqual(t, warmer, x)
		}
	})
}

// Both ends of every range hold, and a step beyond does not.
func TestSelfDischargeEnds(t *testing.T) {
	for name, at := range map[string]struct {
		call   func(x float64) error
		lo, hi float64
	}{
		"share": {func(x float64) error {
			s := sealedLoss
			s.Share = x
			_, err := s.At(s.Temperature)
			return err
		}, 1e-4, 0.5},
		"time": {func(x float64) error {
			s := sealedLoss
			s.Time = unit.Time(x)
			_, err := s.At(s.Temperature)
			return err
		}, float64(Day), float64(366 * Day)},
		"capacity": {func(x float64) error {
			_, err := sealedLoss.Current(unit.Charge(x), Celsius(20))
			return err
		}, float64(leastCapacity), float64(mostCapacity)},
		"temperature": {func(x float64) error {
			_, err := sealedLoss.Current(AmpereHour, unit.Temperature(x))
			return err
		}, float64(Celsius(-40)), float64(Celsius(60))},
		"efficiency": {func(x float64) error {
			_, err := sealedLoss.MaintainerCurrent(AmpereHour, Celsius(20), 0, x)
			return err
		}, 0.1, 1},
	} {
		require.NoError(t, at.call(at.lo), name)
		require.NoError(t, at.call(at.hi), name)
		for _, x := range []float64{at.lo * (1 - 1e-9), at.hi * (1 + 1e-9), math.NaN(), math.Inf(1), 0, -1} {
			refused(t, at.call(x), "%s %v", name, x)
		}
	}
	_, err := sealedLoss.MaintainerCurrent(AmpereHour, Celsius(20), 1000, 1)
	require.NoError(t, err)
}
