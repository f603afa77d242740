package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/tank"
)

// wellText is the [well] table of the sample.
func wellText(t *testing.T) string {
	t.Helper()
	text := sampleText(t)
	return text[strings.Index(text, "[well]"):strings.Index(text, "# --- The battery bank")]
}

func figureOf(t *testing.T, p *Plan, key string) Figure {
	t.Helper()
	f, ok := p.Figure(key)
	require.True(t, ok, key)
	return f
}

// The fill PF1 of the references of package tank: 85 gal, 28/30/50 psi, a pump
// of 180 ft - 0.6 (ft/gpm²) Q² and 20 ft of lift fill in 2.350 min, with 12.29
// gal/min at first and 8.61 at last; at worst 6.31 starts an hour.
func TestWellAgainstReference(t *testing.T) {
	text := sampleText(t)
	text = strings.Replace(text, wellText(t), `[well]
water_level = "20 ft"
pump = ["180 ft at 0 gpm", "177.6 ft at 2 gpm", "170.4 ft at 4 gpm", "158.4 ft at 6 gpm", "150.6 ft at 7 gpm", "141.6 ft at 8 gpm",
	"131.4 ft at 9 gpm", "120 ft at 10 gpm", "107.4 ft at 11 gpm", "93.6 ft at 12 gpm", "78.6 ft at 13 gpm"]
`, 1)
	text = strings.Replace(text, `volume = "44 gal (nameplate)"`, `volume = "85 gal"`, 1)
	text = strings.Replace(text, `altitude = "350 m" `, `altitude = "0 m" `, 1)
	p, err := Make(mustRead(t, text))
	require.NoError(t, err)
	assert.InEpsilon(t, 2.350, figureOf(t, p, "well_pump.shortest_run_min").Low, 0.005)
	assert.InEpsilon(t, 6.315, figureOf(t, p, "well_pump.worst_starts_per_hour").Low, 0.005)
	assert.InEpsilon(t, 25.10*3.785, figureOf(t, p, "tank.drawdown_l").Low, 0.001)
	// 180 ft less 20 ft of lift, at 2.31 ft a psi.
	assert.InEpsilon(t, 160/2.31, checkOf(t, p, "well_pump.cut_out").Low, 0.002)
	// 10.68 gal/min on the mean, 112 ft: 0.30 hp in the water of 520 W.
	assert.InEpsilon(t, 10.61*112.4/3960*745.7/520*100, figureOf(t, p, "well_pump.wire_to_water_percent").Low, 0.01)
	// The day's 250 L are pumped at flows between those at cut-in and cut-out.
	minutes := figureOf(t, p, "well_pump.per_day_min").Low
	assert.Greater(t, minutes, 250/3.785/12.29)
	assert.Less(t, minutes, 250/3.785/8.61)
}

func TestWellRefuses(t *testing.T) {
	good := sampleText(t)
	for _, tt := range []struct{ old, with, want string }{
		{`"46 m at 0 L/min (nameplate)"`, `"46 m at 1 L/min"`, "want no flow"},
		{`"46 m at 0 L/min (nameplate)"`, `"46 m"`, `"38 m at 15 L/min"`},
		{`"46 m at 0 L/min (nameplate)"`, `"40 m at 0 L/min"`, "more flow and less head"},
		{`water_level = "5.5 m (measured)"`, ``, "want the [tank] as well as water_level"},
		{`water_level = "5.5 m (measured)"`, `water_level = "5500 m"`, "lift 5.5 km"},
		{`inside = "26.6 mm" `, `inside = "26.6 m" `, "inner diameter"},
		{`length = "14 m"`, ``, "want inside and length"},
		{`drawdown = "0.6 m at 18 L/min (measured)"`, `drawdown = "0.6 m at 0 L/min"`, "flow of a head lost"},
		{`#? temperature = "10 °C"       # of the water`, `temperature = "110 °C"`, "water temperature"},
		{`profile = "household"`, `profile = "weekend"`, "want household, flat or two-hour"},
		{`flow = "18 L/min (measured)"`, `flow = "18 L/min"` + "\nduty = \"1 %\"", "leave duty out"},
	} {
		t.Run(tt.with, func(t *testing.T) {
			require.Contains(t, good, tt.old)
			s, err := Read(strings.NewReader(strings.Replace(good, tt.old, tt.with, 1)))
			if err == nil {
				_, err = Make(s)
			}
			require.ErrorContains(t, err, tt.want)
			assert.Contains(t, err.Error(), "line ")
		})
	}
}

func TestWellAnswers(t *testing.T) {
	good := sampleText(t)
	for _, tt := range []struct{ old, with, check string }{
		{`water_level = "5.5 m (measured)"`, `water_level = "15 m"`, "well_pump.cut_out"},
		{`water_level = "5.5 m (measured)"`, `water_level = "60 m"`, "well_pump.delivered"},
		{`water_use = "250 L/day"`, `water_use = "9000 L/day"`, "well_pump.delivered"},
	} {
		t.Run(tt.with, func(t *testing.T) {
			text := strings.Replace(good, tt.old, tt.with, 1)
			text = strings.Replace(text, `profile = "household"`, `profile = "two-hour"`, 1)
			p, err := Make(mustRead(t, text))
			require.NoError(t, err)
			assert.Equal(t, Fails, checkOf(t, p, tt.check).State)
			assertFinite(t, p)
		})
	}
}

// What to store: with the pump alone the idle draw is most of it; where the
// start is in doubt, water needs none; where the bank is short, so much.
func TestStoringWater(t *testing.T) {
	good := sampleText(t)
	notes := func(text string) string {
		p, err := Make(mustRead(t, text))
		require.NoError(t, err)
		var all []string
		for _, s := range p.Sections {
			all = append(all, s.Notes...)
		}
		return strings.Join(all, "\n")
	}
	assert.Contains(t, notes(good), "Storing energy beats storing water")
	assert.Contains(t, notes(strings.Replace(good, `code_letter = "K"`, `code_letter = "V"`, 1)), "Store water, not energy")
	blower := good[strings.Index(good, "[[load]]\nname = \"furnace"):strings.Index(good, "# --- The pressure tank")]
	alone := strings.Replace(good, blower, "", 1)
	assert.Contains(t, notes(alone), "lets the inverter stay off")
	assert.Contains(t, notes(strings.Replace(alone, `length = "20 h"`, `length = "30 d"`, 1)), "Storing water")

	// 520 W and the inverter's loss for 18.3 L/min: at 88 to 91 % that is
	// 0.52 to 0.55 Wh a litre.
	p, err := Make(mustRead(t, good))
	require.NoError(t, err)
	e := figureOf(t, p, "water.energy_per_litre_wh")
	assert.InDelta(t, 520/0.9/18.2/60, e.Low, 0.03)
	// 250 L a day over 20 h.
	assert.InEpsilon(t, 250*20/24.0, figureOf(t, p, "water.for_outage_l").Low, 1e-9)
	assert.InEpsilon(t, e.Low*250*20/24, figureOf(t, p, "water.stored_saves_wh").Low, 1e-9)
}

// A curve that ends too early is told what it lacks, in its own line.
func TestCurveTooShort(t *testing.T) {
	text := strings.Replace(sampleText(t), `"32 m at 20 L/min (nameplate)", "22 m at 26 L/min (nameplate)",`, "", 1)
	_, err := Make(mustRead(t, text))
	var at *InputError
	require.ErrorAs(t, err, &at)
	assert.Equal(t, "well.pump", at.Key)
	require.ErrorIs(t, err, tank.ErrBeyondCurve)
	assert.ErrorContains(t, err, "less head and more flow")
}
