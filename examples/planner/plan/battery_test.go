package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The kinetic model credits the rests, but not more than there is: it lies
// between the two ends of Peukert's law, within the 4 % by which the models
// are known to differ.
func TestKineticLiesInTheBracket(t *testing.T) {
	for _, name := range []string{"c02_distant_well", "c21_two_freezers", "half_horse_jet", ""} {
		p, err := Make(mustRead(t, sampleText(t)))
		if name != "" {
			p = planned(t, name)
		}
		require.NoError(t, err)
		kinetic := figure(t, p, "battery.runtime_kinetic_h")
		pessimistic, optimistic := figure(t, p, "battery.runtime_running_current_h"), figure(t, p, "battery.runtime_average_current_h")
		assert.GreaterOrEqual(t, kinetic.Low, 0.96*pessimistic.Low, name)
		assert.LessOrEqual(t, kinetic.High, 1.04*optimistic.High, name)
	}
}

// A start holds at the depth limit exactly where its trip charge lies below.
func TestTripChargeAgreesWithTheCheck(t *testing.T) {
	good := sampleText(t)
	for _, depth := range []string{"50 %", "70 %", "85 %", "95 %"} {
		p, err := Make(mustRead(t, strings.Replace(good, `depth_limit = "70 %"`, `depth_limit = "`+depth+`"`, 1)))
		require.NoError(t, err)
		end := 100 - 100*p.Site.Battery.DepthLimit.High
		for _, key := range p.Keys {
			trip, check := figure(t, p, key+".start_trip_percent"), checkOf(t, p, key+".start_dc")
			if trip.High < float64(end)-1 {
				assert.Equal(t, Holds, check.State, "%s at %s", key, depth)
			}
			if trip.High > float64(end)+1 {
				assert.NotEqual(t, Holds, check.State, "%s at %s", key, depth)
			}
		}
	}
}

// A start that fails at the depth limit says from which charge on it holds.
func TestVerdictNamesTheTripCharge(t *testing.T) {
	p, err := Make(mustRead(t, strings.Replace(sampleText(t), `depth_limit = "70 %"`, `depth_limit = "95 %"`, 1)))
	require.NoError(t, err)
	trip := figure(t, p, "well_pump.start_trip_percent")
	assert.Contains(t, strings.Join(p.Verdict, " "), "the start of well pump holds while the charge is above "+num(round3(trip.High))+" %")
}

func TestCharger(t *testing.T) {
	good := sampleText(t)
	change := func(pairs ...string) *Plan {
		text := good
		for i := 0; i < len(pairs); i += 2 {
			require.Contains(t, text, pairs[i])
			text = strings.Replace(text, pairs[i], pairs[i+1], 1)
		}
		p, err := Make(mustRead(t, text))
		require.NoError(t, err)
		assertFinite(t, p)
		return p
	}
	// A maintainer against a standing load.
	p := change(`current = "40 A (nameplate)"`, `current = "1.5 A"`, `standing = "1 A (measured)"`, `standing = "2 A"`)
	assert.Equal(t, Fails, checkOf(t, p, "charger.charges").State)
	_, ok := p.Figure("battery.recharge_h")
	assert.False(t, ok, "what never charges has no hours")
	assert.False(t, p.Passes())

	p = change(`current = "40 A (nameplate)"`, `current = "200 A"`)
	assert.Equal(t, Fails, checkOf(t, p, "charger.limit").State)

	slow, fast := change(`current = "40 A (nameplate)"`, `current = "20 A"`), change()
	assert.Greater(t, figure(t, slow, "battery.recharge_h").Low, figure(t, fast, "battery.recharge_h").High)

	// A flooded bank taken to a tenth of its charge at -15 °C bursts.
	p = change(`temperature = "12 °C (measured)"  # of`, `temperature = "-15 °C"  # of`, `#? temperature_factor = "80 %"`, `temperature_factor = "50 %"`,
		`depth_limit = "70 %"`, `depth_limit = "90 %"`)
	assert.Equal(t, Fails, checkOf(t, p, "battery.freezing").State)
	p = change(`temperature = "12 °C (measured)"  # of`, `temperature = "-15 °C"  # of`, `#? temperature_factor = "80 %"`, `temperature_factor = "50 %"`,
		`depth_limit = "70 %"`, `depth_limit = "20 %"`)
	assert.Equal(t, Holds, checkOf(t, p, "battery.freezing").State)

	// Lithium iron phosphate in the cold is not charged, and gives no hydrogen.
	p = change(`chemistry = "flooded"`, `chemistry = "LFP"`, `unit_voltage = "6 V (nameplate)"`, `unit_voltage = "12.8 V"`,
		`series = 4`, `series = 2`, `temperature = "12 °C (measured)"  # of`, `temperature = "-3 °C"  # of`,
		`second_capacity = "172 Ah (nameplate)"`, `second_capacity = "215 Ah"`, `#? temperature_factor = "80 %"`, `temperature_factor = "70 %"`)
	limit := checkOf(t, p, "charger.limit")
	assert.Equal(t, Fails, limit.State)
	assert.Contains(t, limit.Message, "must not be charged")
	_, ok = p.Figure("battery.ventilation_m3h")
	assert.False(t, ok)
}

// Boost charge of vented cells by IEC 62485-2: 0.05·n·(4·1·5 mA/Ah)·C/1000
// is 0.001·n·C m³/h, here of 12 cells and 440 Ah.
func TestVentilationByHand(t *testing.T) {
	p, err := Make(mustRead(t, sampleText(t)))
	require.NoError(t, err)
	assert.InDelta(t, 0.001*12*440, figure(t, p, "battery.ventilation_m3h").High, 1e-9)
}
