package plan

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// Every absurd, negative, zero or contradictory figure is refused with words
// and with the line on which it stands.
func TestMakeRefuses(t *testing.T) {
	good := sampleText(t)
	for _, tt := range []struct{ old, with, want string }{
		{`output = "1/3 hp (nameplate)" # shaft`, `output = "1 W" # shaft`, "output"},
		{`output = "1/3 hp (nameplate)" # shaft`, `output = "-1 hp" # shaft`, "above zero"},
		{`output = "1/3 hp (nameplate)" # shaft`, `output = "0 hp" # shaft`, "above zero"},
		{`output = "1/3 hp (nameplate)" # shaft`, `output = "900 hp" # shaft`, "output"},
		{`output = "1/3 hp (nameplate)" # shaft`, `output = "2 hp" # shaft`, "not below"},
		{`voltage = "115 V (nameplate)"`, `voltage = "0 V"`, "above zero"},
		{`voltage = "115 V (nameplate)"`, `voltage = "115 kV"`, "voltage"},
		{`full_load_current = "6.2 A (nameplate)"`, `full_load_current = "6.2 mA"`, "full-load current"},
		{`full_load_current = "6.2 A (nameplate)"`, `full_load_current = "0 A"`, "above zero"},
		{`service_factor_current = "7.4 A (nameplate)"`, `service_factor_current = "5 A"`, "below full-load current"},
		{`service_factor = "1.35 (nameplate)"`, `service_factor = "0.5"`, "service factor"},
		{`phases = 1`, `phases = 2`, "phases"},
		{`drives = "pump"`, `drives = "boat"`, "submersible pump"},
		{`power = "520 W (measured)"`, `power = "900 W"`, "more than"},
		{`power = "520 W (measured)"`, `power = "-5 W"`, "above zero"},
		{`current = "6.6 A (measured)"`, `current = "-6.6 A"`, "above zero"},
		{`flow = "18 L/min (measured)"`, `flow = "0 L/min"`, "above zero"},
		{`water_use = "250 L/day"`, `water_use = "-1 L/day"`, "below zero"},
		{`length = "20 h"`, `length = "900 d"`, "want 1 min to 400 days"},
		{`duty = "30..40 %"`, `duty = "140 %"`, "0 to 100 %"},
		{`duty = "30..40 %"`, `duty = "-1 %"`, "below zero"},
		{`average = "32 W (measured)"`, `average = "200 W"`, "not above the running power"},
		{`average = "32 W (measured)"`, `average = "0 W"`, "above zero"},
		{`volume = "44 gal (nameplate)"`, `volume = "44 m3"`, "volume"},
		{`volume = "44 gal (nameplate)"`, `volume = "0 gal"`, "above zero"},
		{`precharge = "28 psi (measured)"`, `precharge = "0.03 kPa"`, "precharge"},
		{`cut_in = "30 psi (measured)"`, `cut_in = "60 psi"`, "cut-out"},
		{`cut_out = "50 psi (measured)"`, `cut_out = "30 psi"`, "cut-out"},
		{`altitude = "350 m"`, `altitude = "350000 m"`, "altitude"},
		{`unit_voltage = "6 V (nameplate)"`, `unit_voltage = "7.3 V"`, "nominal voltage"},
		{`capacity = "220 Ah (nameplate)"`, `capacity = "0 Ah"`, "above zero"},
		{`capacity = "220 Ah (nameplate)"`, `capacity = "-220 Ah"`, "above zero"},
		{`rate = "20 h (nameplate)"`, `rate = "20 s"`, "rate"},
		{`second_rate = "5 h (nameplate)"`, `second_rate = "20 h"`, "different hour rates"},
		{`second_capacity = "172 Ah (nameplate)"`, `second_capacity = "240 Ah"`, "Peukert exponent"},
		{`second_rate = "5 h (nameplate)"`, ``, "need each other"},
		{`health = "90 % (stated)"`, `health = "900 %"`, "state of health"},
		{`charge_at_start = "100 %"`, `charge_at_start = "20 %"`, "at or below what the depth limit leaves"},
		{`depth_limit = "70 %"`, `depth_limit = "0 %"`, "above zero"},
		{`temperature = "12 °C (measured)"`, `temperature = "212 °C"`, "temperature"},
		{`temperature = "12 °C (measured)"`, `temperature = "-30 °C"`, "temperature"},
		{`series = 4`, `series = -4`, "series"},
		{`parallel = 2`, `parallel = 2000`, "parallel"},
		{`power = "3000 W (nameplate)"  # c`, `power = "3 W"  # c`, "rat"},
		{`power = "3000 W (nameplate)"  # c`, `power = "0 W"  # c`, "above zero"},
		{`"9000 VA for 0.5 s", "6000 VA for 5 s"`, `"6000 VA for 0.5 s", "9000 VA for 5 s"`, "surge rating"},
		{`"9000 VA for 0.5 s"`, `"2000 VA for 0.5 s"`, "surge rating"},
		{`idle = "18..24 W (nameplate)"`, `idle = "1800 W"`, "idle"},
		{`"91 % at 600 W", "86 % at 3000 W"`, `"86 % at 600 W", "99 % at 3000 W"`, "loss"},
		{`"91 % at 600 W", "86 % at 3000 W"`, `"191 % at 600 W"`, "efficiency"},
		{`cut_off = "20 V (nameplate)"`, `cut_off = "10.5 V"`, "cut"},
		{`cut_off = "20 V (nameplate)"`, `cut_off = "42 V"`, "not below the rested bank"},
		{`output = "120 V (nameplate)"`, `output = "12 V"`, "80 V to 500 V"},
		{`wave = "sine"`, `wave = "square"`, "stepped"},
		{`length = "18 m"`, `length = "0.5 cm"`, "length"},
		{`length = "18 m"`, `length = "180000 ft"`, "length"},
		{`metal = "copper"              # or`, `metal = "iron" # or`, "aluminium"},
		{`temperature = "30 °C"         # of`, `temperature = "3000 °C"         # of`, "temperature"},
		{`length = "6 ft (measured)"`, `length = "-6 ft"`, "above zero"},
		{`contacts = "0.4..0.8 mohm (rule of thumb)"`, `contacts = "40 ohm"`, "contact"},
	} {
		t.Run(tt.old+" -> "+tt.with, func(t *testing.T) {
			require.Contains(t, good, tt.old)
			line := 1 + strings.Count(good[:strings.Index(good, tt.old)], "\n")
			s, err := Read(strings.NewReader(strings.Replace(good, tt.old, tt.with, 1)))
			if err == nil {
				_, err = Make(s)
			}
			require.Error(t, err)
			assert.Contains(t, err.Error(), tt.want)
			var input *InputError
			require.ErrorAs(t, err, &input)
			assert.Positive(t, input.Line, "%v", err)
			// The line is that of the key, or of the table that holds it when
			// two keys contradict each other.
			table := 1 + strings.Count(good[:strings.LastIndex(good[:strings.Index(good, tt.old)], "\n[")+1], "\n")
			assert.GreaterOrEqual(t, input.Line, min(table, line), "%v", err)
			assert.LessOrEqual(t, input.Line, line+12, "%v", err)
		})
	}
}

// States that are answers plan, and their checks do not hold.
func TestAnswersAreNoErrors(t *testing.T) {
	good := sampleText(t)
	for _, tt := range []struct{ old, with, check string }{
		{`precharge = "28 psi (measured)"`, `precharge = "35 psi"`, "tank.precharge"},
		{`precharge = "28 psi (measured)"`, `precharge = "60 psi"`, "tank.precharge"},
		{`surge = ["9000 VA for 0.5 s", "6000 VA for 5 s", "4000 VA for 60 s"]`, ``, "well_pump.start_surge"},
		{`output = "120 V (nameplate)"`, `output = "230 V"`, "well_pump.supply_high"},
		{`length = "20 h"`, `length = "10 d"`, "battery.outage"},
		{`water_use = "250 L/day"`, `water_use = "250000 L/day"`, "well_pump.demand"},
		{`size = "2/0 AWG"`, `size = "10 AWG"`, "dc_cable.ampacity"},
		{`size = "2/0 AWG"`, `size = "240 mm2"`, "dc_cable.ampacity"},
		{`size = "12 AWG"               # or`, `size = "0.5 mm2"               # or`, "well_pump.run_1_ampacity"},
		{`breaker = "15 A (nameplate)"  # of`, `breaker = "100 A"  # of`, "well_pump.breaker"},
		{`breaker = "15 A (nameplate)"  # of`, `breaker = "25 A"  # of`, "well_pump.breaker"},
		{`standing = "1 A (measured)"`, `standing = "40 A"`, "charger.charges"},
		{`wave = "sine"`, `wave = "stepped"`, "well_pump.start_voltage"},
		{`cut_off = "20 V (nameplate)"`, `cut_off = "25 V"`, "battery.outage"},
		{`precharge = "28 psi (measured)"`, `precharge = "26..32 psi"`, "tank.precharge"},
		{`code_letter = "K" `, ``, "well_pump.start_surge"},
		{`length = "18 m"`, `length = "2500 m"`, "well_pump.start_voltage"},
		{`code_letter = "K"`, `code_letter = "V"`, "well_pump.start_surge"},
		{`phases = 1`, `phases = 3`, "well_pump.phases"},
		{`breaker = "15 A (nameplate)"  # of`, `breaker = "5 A"  # of`, "well_pump.circuit"},
		{`contacts = "0.4..0.8 mohm (rule of thumb)"`, `contacts = "200 mohm"`, "well_pump.start_dc"},
		{`power = "3000 W (nameplate)"`, `power = "1000 W"`, "inverter.running"},
	} {
		t.Run(tt.with, func(t *testing.T) {
			require.Contains(t, good, tt.old)
			text := strings.Replace(good, tt.old, tt.with, 1)
			if strings.Contains(tt.with, "phases = 3") {
				text = strings.Replace(text, `motor = "capacitor-start" `, `motor = "three-phase" `, 1)
			}
			if strings.Contains(tt.with, `"1000 W"`) {
				text = strings.Replace(text, `"91 % at 600 W", "86 % at 3000 W"`, `"91 % at 600 W"`, 1)
			}
			p, err := Make(mustRead(t, text))
			require.NoError(t, err)
			assert.NotEqual(t, Holds, checkOf(t, p, tt.check).State)
			assert.False(t, p.Passes())
			assertFinite(t, p)
		})
	}
}

// A bank that is far too small for its loads lasts no time, which is no plan
// that holds.
func TestTooSmallABankLastsNoTime(t *testing.T) {
	text := sampleText(t)
	for old, with := range map[string]string{
		`"220 Ah (nameplate)"`: `"2.2 Ah"`, `"172 Ah (nameplate)"`: `"1.72 Ah"`,
	} {
		require.Contains(t, text, old)
		text = strings.Replace(text, old, with, 1)
	}
	p, err := Make(mustRead(t, text))
	require.NoError(t, err)
	c := checkOf(t, p, "battery.outage")
	assert.Equal(t, Fails, c.State)
	assert.False(t, p.Passes())
	assertFinite(t, p)
}

// A rest voltage is laid beside the state of charge.
func TestRestVoltage(t *testing.T) {
	good := sampleText(t)
	const old = `#? open_circuit = "25.4 V (measured)"`
	require.Contains(t, good, old)
	for volts, want := range map[string]string{
		"27.0 V": "above the", "22.0 V": "charge_at_start says", "240 V": "above the", "12.7 V": "cell",
	} {
		_, err := Make(mustRead(t, strings.Replace(good, old, `open_circuit = "`+volts+`"`, 1)))
		assert.ErrorContains(t, err, want, volts)
	}
	plain, err := Make(mustRead(t, good))
	require.NoError(t, err)
	measured, err := Make(mustRead(t, strings.Replace(good, old, `open_circuit = "25.5 V"`, 1)))
	require.NoError(t, err)
	// A high reading at the start says nothing of the end.
	assert.LessOrEqual(t, figure(t, measured, "well_pump.start_dc_v").Low, figure(t, plain, "well_pump.start_dc_v").Low*(1+1e-9))
	// Without a state of charge it follows from the voltage.
	text := strings.Replace(good, old, `open_circuit = "24.6 V"`, 1)
	text = strings.Replace(text, `charge_at_start = "100 %"`, "", 1)
	p, err := Make(mustRead(t, text))
	require.NoError(t, err)
	assert.Less(t, figure(t, p, "battery.runtime_h").High, figure(t, plain, "battery.runtime_h").Low)
}

// A measured inrush that a slow meter missed gives way to the plate.
func TestSlowMeter(t *testing.T) {
	good := sampleText(t)
	text := strings.Replace(good, `#? inrush = "31 A"`, `inrush = "9 A"`, 1)
	p, err := Make(mustRead(t, text))
	require.NoError(t, err)
	plain, err := Make(mustRead(t, good))
	require.NoError(t, err)
	assert.Equal(t, figure(t, plain, "well_pump.start_apparent_va"), figure(t, p, "well_pump.start_apparent_va"))
	assert.Contains(t, strings.Join(p.Assumptions, " "), "too slow")
	// With nothing else to go by the start is in doubt.
	text = strings.Replace(text, `code_letter = "K" `, ``, 1)
	p, err = Make(mustRead(t, text))
	require.NoError(t, err)
	assert.Equal(t, Depends, checkOf(t, p, "well_pump.start_surge").State)
}

// Every efficiency point that is typed lies within the range that is used.
func TestEfficiencyPointsAreUsed(t *testing.T) {
	text := strings.Replace(sampleText(t), `["91 % at 600 W", "86 % at 3000 W"]`, `["92 % at 500 W", "70 % at 1500 W", "85 % at 3000 W"]`, 1)
	s := mustRead(t, text)
	m := &maker{site: s.clone()}
	require.NoError(t, m.readBank())
	require.NoError(t, m.readInverter())
	for ac, eta := range map[unit.Power]float64{500: 0.92, 1500: 0.70, 3000: 0.85} {
		low, high := 1.0, 0.0
		for _, l := range m.inv.losses {
			e, err := l.Efficiency(ac)
			require.NoError(t, err)
			low, high = min(low, e), max(high, e)
		}
		assert.LessOrEqual(t, low, eta+1e-9, "%v W", float64(ac))
		assert.GreaterOrEqual(t, high, eta-1e-9, "%v W", float64(ac))
	}
}

// A plan echoes the site as it was typed.
func TestMakeLeavesTheSiteAlone(t *testing.T) {
	s := mustRead(t, `
name = "x"
[[load]]
name = "pump"
full_load_current = "8 A"
[load.measured]
voltage = "120 V"
[battery]
chemistry = "AGM"
unit_voltage = "12 V"
capacity = "100 Ah"
rate = "20 h"
[inverter]
power = "2000 W"
`)
	p, err := Make(s)
	require.NoError(t, err)
	assert.Zero(t, p.Site.Loads[0].Phases)
	assert.False(t, p.Site.Loads[0].Voltage.Given())
	assert.Zero(t, p.Site.Battery.Series)
}

// A metered average alone is enough for the energy account.
func TestAverageAlone(t *testing.T) {
	text := sampleText(t)
	for old, with := range map[string]string{
		`full_load_current = "1.4 A (nameplate)"`: ``, `current = "1.2 A (measured)"`: ``, `power = "95 W (measured)"`: ``,
	} {
		require.Contains(t, text, old)
		text = strings.Replace(text, old, with, 1)
	}
	p, err := Make(mustRead(t, text))
	require.NoError(t, err)
	w, duty := figure(t, p, "chest_freezer.run_real_w"), figure(t, p, "chest_freezer.duty_percent")
	assert.InDelta(t, 32, w.Low, 1e-9)
	assert.InDelta(t, 160, w.High, 1e-9)
	assert.InDelta(t, 20, duty.Low, 1e-9)
	assert.InDelta(t, 100, duty.High, 1e-9)
}

// A horsepower between two of the code table lies between their starts.
func TestSizeBetweenTheTables(t *testing.T) {
	text := strings.Replace(sampleText(t), `code_letter = "K" `, ``, 1)
	for old, with := range map[string]string{
		`output = "1/3 hp (nameplate)" # shaft`: `output = "0.6 hp" # shaft`, `full_load_current = "6.2 A (nameplate)"`: `full_load_current = "9 A"`,
		`service_factor_current = "7.4 A (nameplate)"`: ``, `voltage = "118 V (measured)"`: ``, `current = "6.6 A (measured)"`: ``, `power = "520 W (measured)"`: ``,
	} {
		require.Contains(t, text, old)
		text = strings.Replace(text, old, with, 1)
	}
	p, err := Make(mustRead(t, text))
	require.NoError(t, err)
	// NEC table 430.251(A): 58.8 A at 1/2 hp and 82.8 A at 3/4 hp of 115 V.
	f := figure(t, p, "well_pump.start_apparent_va")
	assert.InDelta(t, 58.8*115, f.Low, 1)
	assert.InDelta(t, 82.8*115, f.High, 1)
}

// assertFinite checks that no figure is NaN, infinite or upside down, and that
// each can be explained.
func assertFinite(t *testing.T, p *Plan) {
	t.Helper()
	for _, s := range p.Sections {
		for _, f := range s.Figures {
			assert.True(t, f.Low <= f.High && !math.IsInf(f.Low, 0) && !math.IsInf(f.High, 0), "%s: %v to %v", f.Key, f.Low, f.High)
			assert.NotEmpty(t, f.Formula, f.Key)
			assert.NotEmpty(t, f.Numbers, f.Key)
			assert.NotEmpty(t, f.Source, f.Key)
			assert.NotEmpty(t, f.Label, f.Key)
			if f.Shortcut != nil {
				assert.NotEmpty(t, f.Shortcut.Rule, f.Key)
				assert.NotEmpty(t, f.Shortcut.Why, f.Key)
			}
			for _, text := range []string{f.Also, f.Numbers} {
				assert.NotContains(t, text, "NaN", f.Key)
				assert.NotContains(t, text, "Inf", f.Key)
				assert.NotContains(t, text, "%!", f.Key)
			}
		}
	}
	for _, c := range p.Checks {
		assert.True(t, c.Low <= c.High && !math.IsInf(c.High, 0), "%s: %v to %v", c.ID, c.Low, c.High)
		assert.False(t, math.IsNaN(c.Margin()) || math.IsInf(c.Margin(), 0), c.ID)
		assert.NotEmpty(t, c.Message, c.ID)
		assert.NotEmpty(t, c.Source, c.ID)
	}
}

func TestSampleHoldsAndExplains(t *testing.T) {
	p, err := Make(mustRead(t, sampleText(t)))
	require.NoError(t, err)
	assert.True(t, p.Passes(), "%v", p.Verdict)
	assertFinite(t, p)
	assert.Len(t, p.Cautions, 10)
}

// A wider range of what is known never gives a narrower answer.
func TestWiderInputsGiveWiderAnswers(t *testing.T) {
	good := sampleText(t)
	narrow, err := Make(mustRead(t, good))
	require.NoError(t, err)
	for old, with := range map[string]string{
		`health = "90 % (stated)"`:          `health = "80..100 %"`,
		`temperature = "12 °C (measured)"`:  `temperature = "5..20 °C"`,
		`power = "520 W (measured)"`:        `power = "480..560 W"`,
		`duty = "30..40 %"`:                 `duty = "20..50 %"`,
		`depth_limit = "70 %"`:              `depth_limit = "60..80 %"`,
		`capacity = "220 Ah (nameplate)"`:   `capacity = "200..240 Ah"`,
		`idle = "18..24 W (nameplate)"`:     `idle = "10..30 W"`,
		`contacts = "0.4..0.8 mohm`:         `contacts = "0.2..2 mohm`,
		`"91 % at 600 W", "86 % at 3000 W"`: `"89..92 % at 600 W", "84..87 % at 3000 W"`,
	} {
		require.Contains(t, good, old)
		wide, err := Make(mustRead(t, strings.Replace(good, old, with, 1)))
		require.NoError(t, err, with)
		for _, key := range []string{"battery.runtime_h", "battery.runtime_continuous_h", "battery.average_dc_w", "well_pump.start_dc_v"} {
			n, w := figure(t, narrow, key), figure(t, wide, key)
			assert.LessOrEqual(t, w.Low, n.Low*(1+1e-9), "%s with %s", key, with)
			assert.GreaterOrEqual(t, w.High, n.High*(1-1e-9), "%s with %s", key, with)
		}
	}
}

// The state of a check follows from range and limits.
func TestJudge(t *testing.T) {
	for _, tt := range []struct {
		c    Check
		want State
	}{
		{Check{Low: 1, High: 2, Limit: 3}, Holds},
		{Check{Low: 1, High: 2, Limit: 2}, Holds},
		{Check{Low: 1, High: 2, Limit: 1.5}, Depends},
		{Check{Low: 1, High: 2, Limit: 0.5}, Fails},
		{Check{Low: 1, High: 2, Limit: 0.5, GoodLimit: 1.1}, Depends},
		{Check{Low: 1, High: 2, Limit: 1, AtLeast: true}, Holds},
		{Check{Low: 1, High: 2, Limit: 1.5, AtLeast: true}, Depends},
		{Check{Low: 1, High: 2, Limit: 2.5, AtLeast: true}, Fails},
	} {
		assert.Equal(t, tt.want, tt.c.judge().State, "%+v", tt.c)
	}
	assert.InDelta(t, 1.5, Check{Low: 1, High: 2, Limit: 3}.Margin(), 1e-12)
	assert.InDelta(t, 2, Check{Low: 4, High: 5, Limit: 2, AtLeast: true}.Margin(), 1e-12)
}

func TestSlug(t *testing.T) {
	for name, want := range map[string]string{
		"well pump": "well_pump", "Sump Pump #2": "sump_pump_2", "3rd": "load_3rd", "": "load", "Кран": "load", "a--b": "a_b",
	} {
		assert.Equal(t, want, slug(name), name)
	}
}

func TestEveryDimensionHasUnits(t *testing.T) {
	_, err := read[unit.Temperature]("5 furlong")
	assert.ErrorContains(t, err, "°C, °F or K")
	_, err = read[Ratio]("5 furlong")
	assert.ErrorContains(t, err, "a plain number, %, h/day or min/day")
}
