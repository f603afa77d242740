package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestCyclicLoading(t *testing.T) {
	counted := map[unit.Time][2]string{}
	for _, row := range reftest.Rows(t, "conductor/cyclic_loading.csv") {
		d := DutyCycle{unit.Time(row.Float("on_s")), unit.Time(row.Float("off_s"))}
		tau := unit.Time(row.Float("tau_s"))
		duty := must[float64](t)(d.Duty())
		rms := must[float64](t)(d.RMSFactor())
		peak := must[float64](t)(d.PeakRise(tau))
		// Both repeat with the duty and count once.
		figures := [2]string{row.Text("duty"), row.Text("rms_factor")}
		if first, again := counted[d.On/d.Off]; again {
			assert.Equal(t, first, figures, row.Source())
		} else {
			counted[d.On/d.Off] = figures
			row.Printed("duty", duty)
			row.Printed("rms_factor", rms)
		}
		row.Printed("peak_over_continuous", peak)
		row.Printed("equivalent_factor", must[float64](t)(d.HeatingFactor(tau)))
		row.Printed("rms_understates_rise_by", peak/(rms*rms))
	}
}

func TestDutyMultipliers(t *testing.T) {
	rows := reftest.Rows(t, "conductor/nec_630_11_duty.csv")
	require.Len(t, DutyMultipliers(), len(rows))
	for n, row := range rows {
		duty := row.Float("duty_percent") / 100
		got := must[DutyMultiplier](t)(DutyMultiplierOf(duty))
		assert.Equal(t, DutyMultipliers()[n], got)
		row.Printed("multiplier_nonmotor", got.WithoutMotor)
		row.Printed("multiplier_motor_generator", got.MotorGenerator)
		// A cycle of that duty has the rms factor, which the print follows.
		rms := must[float64](t)(DutyCycle{unit.Time(duty), unit.Time(max(1-duty, minPart))}.RMSFactor())
		if duty < 1 {
			row.Printed("sqrt_duty", rms)
		}
		assert.InEpsilon(t, math.Sqrt(duty), got.WithoutMotor, 0.0072)
		assert.GreaterOrEqual(t, got.MotorGenerator, got.WithoutMotor, "a motor that runs on adds heat")
	}
}

// The printed example: 40 A at a duty of 50 % count as 28.4 A.
func TestDutyMultiplierExample(t *testing.T) {
	assert.InDelta(t, 28.40, 40*must[DutyMultiplier](t)(DutyMultiplierOf(0.5)).WithoutMotor, 0.005)
}

// Between the rows the higher one holds, and below the last the last.
func TestDutyMultiplierBetweenRows(t *testing.T) {
	for duty, want := range map[float64]float64{1: 1, 0.9000001: 1, 0.9: 0.95, 0.51: 0.78, 0.200001: 0.55, 0.2: 0.45, 0.01: 0.45} {
		assert.InDelta(t, want, must[DutyMultiplier](t)(DutyMultiplierOf(duty)).WithoutMotor, 0, "duty %v", duty)
	}
	for _, duty := range []float64{0, -0.1, 1.0001, 50, math.NaN(), math.Inf(1)} {
		_, err := DutyMultiplierOf(duty)
		refused(t, err, "duty")
	}
}

// A caller that writes into the rows it got does not change the table.
func TestDutyMultipliersAreACopy(t *testing.T) {
	DutyMultipliers()[0].WithoutMotor = 7
	assert.InDelta(t, 1, DutyMultipliers()[0].WithoutMotor, 0)
}

// rms averaging is on the unsafe side always, and right in the limit of short
// cycles; a long cycle counts as continuous.
func TestHeatingFactorLimits(t *testing.T) {
	for _, d := range []DutyCycle{{60, 120}, {5, 55}, {300, 1}} {
		rms := must[float64](t)(d.RMSFactor())
		assert.InEpsilon(t, rms, must[float64](t)(d.HeatingFactor(1e7)), 1e-4)
		assert.InDelta(t, 1, must[float64](t)(d.HeatingFactor(0.1)), 1e-12)
		for _, tau := range []unit.Time{1, 35, 642, 1e5} {
			assert.GreaterOrEqual(t, must[float64](t)(d.HeatingFactor(tau)), rms)
		}
	}
}

func TestDutyCycleRefused(t *testing.T) {
	bounds(t, "on-time", minPart, maxTime, func(x float64) error {
		_, err := DutyCycle{unit.Time(x), 1}.Duty()
		return err
	})
	bounds(t, "off-time", minPart, maxTime, func(x float64) error {
		_, err := DutyCycle{1, unit.Time(x)}.RMSFactor()
		return err
	})
	bounds(t, "thermal time constant", minPart, maxTime, func(x float64) error {
		_, err := DutyCycle{1, 1}.HeatingFactor(unit.Time(x))
		return err
	})
	_, err := DutyCycle{}.PeakRise(10)
	refused(t, err, "on-time")
}
