package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestAccelerationAgainstExamples(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/acceleration.csv") {
		var got float64
		switch row.Text("quantity") {
		case "time":
			speed := Speed(row.Param("n", "rpm")) * RPM
			rated := row.Param("P", "W") / float64(speed)
			var j Inertia
			if row.HasParam("E") {
				var err error
				j, err = InertiaOfEnergy(unit.Energy(row.Param("E", "J")), speed)
				require.NoError(t, err)
			} else {
				j = Inertia(row.Param("J", ""))
			}
			s, err := AccelerationTime(j, 0, speed, unit.Torque(rated*(row.Param("Tm", "")-row.Param("Tl", ""))))
			require.NoError(t, err)
			got = float64(s)
		case "quickest peak slip":
			s, err := QuickestPeakSlip(row.Param("s", ""))
			require.NoError(t, err)
			got = s
		case "heat", "starts a minute":
			h, err := NoLoadStartHeat(Inertia(row.Param("J", "")), Speed(row.Param("n", "rpm"))*RPM, row.Param("R", ""))
			require.NoError(t, err)
			got = float64(h.Rotor + h.Stator)
			if row.HasParam("loss") {
				n, err := StartsWithinLoss(unit.Power(row.Param("loss", "W")), h.Rotor+h.Stator)
				require.NoError(t, err)
				got = n / 60
			}
		case "pound square foot":
			got = float64(PoundSquareFoot / KilogramSquareMetre)
		case "divisor", "rounded divisor":
			f := AccelerationTime
			if row.Text("quantity") == "rounded divisor" {
				f = RoundedAccelerationTime
			}
			s, err := f(PoundSquareFoot, 0, 1000*RPM, FootPound)
			require.NoError(t, err)
			got = 1000 / float64(s)
		default:
			t.Fatal(row.Source())
		}
		row.Expected(got)
		alsoComputed(t, row, got)
	}
}

func TestAccelerationRefuses(t *testing.T) {
	for _, f := range []func(Inertia, Speed, Speed, unit.Torque) (unit.Time, error){AccelerationTime, RoundedAccelerationTime} {
		for _, torque := range []unit.Torque{0, -1, -1e6} {
			_, err := f(0.01, 0, 1500*RPM, torque)
			require.ErrorIs(t, err, ErrNoAcceleratingTorque)
			require.NotErrorIs(t, err, ErrDomain)
		}
		_, err := f(0.01, 1600*RPM, 1500*RPM, 1)
		require.ErrorIs(t, err, ErrDomain)
		none, err := f(0.01, 1500*RPM, 1500*RPM, 1)
		require.NoError(t, err)
		assert.Zero(t, none)
		// In steps as in one.
		whole, err := f(0.01, 0, 1500*RPM, 2)
		require.NoError(t, err)
		a, err := f(0.01, 0, 700*RPM, 2)
		require.NoError(t, err)
		b, err := f(0.01, 700*RPM, 1500*RPM, 2)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(whole), float64(a+b), 1e-12)
	}
	exact, err := AccelerationTime(0.02, 0, 1700*RPM, 2)
	require.NoError(t, err)
	rounded, err := RoundedAccelerationTime(0.02, 0, 1700*RPM, 2)
	require.NoError(t, err)
	assert.InDelta(t, 0.0025, 1-float64(rounded/exact), 0.0001)
}

// Time goes with the inertia and against the torque.
func FuzzAccelerationTime(f *testing.F) {
	f.Add(0.0146, 0.0, 179.0, 2.0)
	f.Add(math.NaN(), -1.0, math.Inf(1), 0.0)
	f.Fuzz(func(t *testing.T, j, from, to, torque float64) {
		a, err := AccelerationTime(Inertia(j), Speed(from), Speed(to), unit.Torque(torque))
		if err != nil {
			return
		}
		require.True(t, finite(float64(a)) && a >= 0)
		b, err := AccelerationTime(Inertia(j/2), Speed(from), Speed(to), unit.Torque(torque))
		if err == nil {
			require.InDelta(t, float64(a), 2*float64(b), 1e-9*float64(a))
		}
		b, err = AccelerationTime(Inertia(j), Speed(from), Speed(to), unit.Torque(torque/2))
		if err == nil {
			require.InDelta(t, float64(b), 2*float64(a), 1e-9*float64(b))
		}
	})
}
