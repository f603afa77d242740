package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

func TestDutyCycleLoad(t *testing.T) {
	d := DutyCycle{
		Periods: []DutyPeriod{
			{Duration: Hour, Power: 1000, Voltage: Range[unit.Voltage]{Low: 20, High: 30}},
			{Duration: Hour, Power: 480, Current: 5},
			{Duration: Hour},
		},
		Voltage: Range[unit.Voltage]{Low: 24, High: 24},
	}
	for i, want := range []float64{50, 25, 0} {
		assert.InDelta(t, want, float64(must[unit.Current](t)(d.Load(i))), 1e-12, i)
	}
	d.Convert = AverageVoltage
	assert.InDelta(t, 40, float64(must[unit.Current](t)(d.Load(0))), 1e-12, "fewer volts, more amperes")
	assert.InDelta(t, 3, hours(must[unit.Time](t)(d.Duration())), 1e-12)
	assert.InDelta(t, 65, ampereHours(must[unit.Charge](t)(d.Charge())), 1e-9)
	d.Random = DutyPeriod{Duration: Minute, Current: 60}
	assert.InDelta(t, 66, ampereHours(must[unit.Charge](t)(d.Charge())), 1e-9)
	assert.InDelta(t, 3, hours(must[unit.Time](t)(d.Duration())), 1e-12)
	for _, i := range []int{-1, 3} {
		_, err := d.Load(i)
		refused(t, err)
	}
}

func TestPowerVoltageString(t *testing.T) {
	assert.Equal(t, "lowest voltage", LowestVoltage.String())
	assert.Equal(t, "average voltage", AverageVoltage.String())
	assert.Equal(t, "PowerVoltage(9)", PowerVoltage(9).String())
}

func TestDutyCycleRefuses(t *testing.T) {
	good := DutyPeriod{Duration: Hour, Current: 10}
	for name, d := range map[string]DutyCycle{
		"none":                 {},
		"too many":             {Periods: make([]DutyPeriod, 1001)},
		"no duration":          {Periods: []DutyPeriod{{Current: 10}}},
		"too short":            {Periods: []DutyPeriod{{Duration: 0.09, Current: 10}}},
		"too long":             {Periods: []DutyPeriod{{Duration: 501 * Hour, Current: 10}}},
		"too long together":    {Periods: []DutyPeriod{{Duration: 400 * Hour, Current: 10}, {Duration: 101 * Hour, Current: 1}}},
		"NaN duration":         {Periods: []DutyPeriod{{Duration: unit.Time(math.NaN()), Current: 10}}},
		"negative current":     {Periods: []DutyPeriod{good, {Duration: Hour, Current: -1}}},
		"NaN current":          {Periods: []DutyPeriod{{Duration: Hour, Current: unit.Current(math.NaN())}}},
		"infinite power":       {Periods: []DutyPeriod{{Duration: Hour, Power: unit.Power(math.Inf(1))}}},
		"power and no voltage": {Periods: []DutyPeriod{{Duration: Hour, Power: 100}}},
		"voltage upside down":  {Periods: []DutyPeriod{{Duration: Hour, Power: 100, Voltage: Range[unit.Voltage]{Low: 24, High: 20}}}},
		"voltage too low":      {Periods: []DutyPeriod{{Duration: Hour, Power: 100, Voltage: Range[unit.Voltage]{Low: 0.9, High: 20}}}},
		"nothing drawn":        {Periods: []DutyPeriod{{Duration: Hour}}},
		"bad convention":       {Periods: []DutyPeriod{good}, Convert: 2},
		"bad random":           {Periods: []DutyPeriod{good}, Random: DutyPeriod{Current: 5}},
	} {
		_, err := d.Charge()
		refused(t, err, name)
		_, err = d.Duration()
		refused(t, err, name)
		_, err = d.Load(0)
		refused(t, err, name)
	}
	_, err := DutyCycle{Periods: []DutyPeriod{good, {Duration: Hour, Current: -1}}}.Charge()
	var at *PeriodError
	require.ErrorAs(t, err, &at)
	assert.Equal(t, 2, at.Period)
	assert.Equal(t, "battery: period 2: battery: current of a period -1 A, want 0 A to 100 kA", err.Error())
	_, err = DutyCycle{Periods: []DutyPeriod{good}, Random: DutyPeriod{Current: 5}}.Charge()
	assert.Contains(t, err.Error(), "battery: random load: ")
	assert.Equal(t, "battery: period 3: refused", (&PeriodError{Period: 3}).Error(), "made by hand")
	_, err = DutyCycle{Periods: []DutyPeriod{{Duration: 0.1, Current: 1e-3}, {Duration: 499 * Hour, Current: 100e3, Power: 10e6, Voltage: Range[unit.Voltage]{Low: 1500, High: 1500}}}}.Duration()
	refused(t, err, "the sum of two loads within their bounds")
	_, err = DutyCycle{Periods: []DutyPeriod{{Duration: 0.1, Current: 1e-3}, {Duration: 499 * Hour, Current: 90e3}}}.Duration()
	require.NoError(t, err)
}

// Both ends of every range of a period hold, and a step beyond does not.
func TestDutyPeriodEnds(t *testing.T) {
	base := DutyPeriod{Duration: Hour, Current: 10, Power: 100, Voltage: Range[unit.Voltage]{Low: 24, High: 24}}
	for name, at := range map[string]struct {
		set    func(p *DutyPeriod, x float64)
		lo, hi float64
	}{
		"duration": {func(p *DutyPeriod, x float64) { p.Duration = unit.Time(x) }, 0.1, float64(500 * Hour)},
		"current":  {func(p *DutyPeriod, x float64) { p.Current, p.Power = unit.Current(x), 0 }, 0, 100e3},
		"power":    {func(p *DutyPeriod, x float64) { p.Power, p.Voltage.High, p.Voltage.Low = unit.Power(x), 1500, 1500 }, 0, 10e6},
		"voltage":  {func(p *DutyPeriod, x float64) { p.Voltage.Low, p.Voltage.High = unit.Voltage(x), unit.Voltage(x) }, 1, 1500},
	} {
		for _, x := range []float64{at.lo, at.hi} {
			p := base
			at.set(&p, x)
			// Beside it a load, so that a rest may be looked at too.
			d := DutyCycle{Periods: []DutyPeriod{p}}
			if x == 0 {
				d.Periods = append(d.Periods, base)
			}
			_, err := d.Charge()
			require.NoError(t, err, "%s %v", name, x)
		}
		for _, x := range []float64{at.lo - 1e-9, at.hi * (1 + 1e-9), math.NaN(), math.Inf(1), -1} {
			p := base
			at.set(&p, x)
			_, err := DutyCycle{Periods: []DutyPeriod{p, base}}.Charge()
			refused(t, err, "%s %v", name, x)
		}
	}
}
