package plan

import (
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
	"ridethrough.example/conductor"
	"ridethrough.example/internal/reftest"
	"ridethrough.example/tank"
)

func TestMain(m *testing.M) { reftest.Main(m) }

// planned reads and plans a site file of the folder testdata.
func planned(t *testing.T, name string) *Plan {
	t.Helper()
	p, err := Make(siteFile(t, name))
	require.NoError(t, err)
	return p
}

func siteFile(tb testing.TB, name string) Site {
	tb.Helper()
	f, err := os.Open("../testdata/" + name + ".toml")
	require.NoError(tb, err)
	s, err := Read(f)
	require.NoError(tb, errors.Join(err, f.Close()))
	return s
}

func figure(t *testing.T, p *Plan, key string) Figure {
	t.Helper()
	f, ok := p.Figure(key)
	require.True(t, ok, "no figure %s", key)
	return f
}

func checkOf(t *testing.T, p *Plan, id string) Check {
	t.Helper()
	for _, c := range p.Checks {
		if c.ID == id {
			return c
		}
	}
	require.Fail(t, "no check "+id)
	return Check{}
}

// row returns the row of a reference table with that id.
func row(t *testing.T, table, id string) reftest.Row {
	t.Helper()
	for _, r := range reftest.Rows(t, table) {
		if r.Text("id") == id {
			return r
		}
	}
	require.Fail(t, "no row "+id)
	return reftest.Row{}
}

const cases = "field/cases.csv"

func TestCaseDistantWell(t *testing.T) {
	p := planned(t, "c02_distant_well")
	drop := figure(t, p, "well_pump.run_drop_v")
	row(t, cases, "C02b").Expected(drop.Shortcut.Value)
	assert.Less(t, drop.High, drop.Shortcut.Value, "a power factor below 1 costs less than I·R")
	// 7.78 V are just past 3 % of 240 V; by the exact form they are not.
	assert.InDelta(t, 3.24, 100*drop.Shortcut.Value/240, 0.01)
	assert.Equal(t, Holds, checkOf(t, p, "well_pump.run_drop").State)
	// Subtracting 72 A times the loop gives the dip of 47 V that the case names.
	dip := figure(t, p, "well_pump.start_motor_v")
	assert.InDelta(t, 240-47, dip.Shortcut.Value, 1)
	assert.Greater(t, dip.Low, dip.Shortcut.Value)

	site := p.Site
	site.Loads[0].Run[1].Size = conductor.AWG(6)
	whole, err := Make(site)
	require.NoError(t, err)
	row(t, cases, "C02").Expected(figure(t, whole, "well_pump.run_drop_v").Shortcut.Value)
}

func TestCasePumpHouse(t *testing.T) {
	p := planned(t, "c06_pump_house")
	drop := figure(t, p, "pump_house.run_drop_v")
	row(t, cases, "C06").Expected(drop.Shortcut.Value)
	assert.Equal(t, Holds, checkOf(t, p, "pump_house.circuit").State)
}

func TestCaseOneHorsepower(t *testing.T) {
	p := planned(t, "c10_one_hp")
	r := row(t, cases, "C10")
	w := figure(t, p, "submersible.run_real_w")
	r.Expected(w.Low)
	r.Rejects("published_wrong", w.Low, 0.05)
	// About 11 kVA are asked of twice 2.5 kVA.
	start := checkOf(t, p, "submersible.start_surge")
	assert.Equal(t, Fails, start.State)
	assert.InEpsilon(t, 11000, (start.Low+start.High)/2, 0.1)
	assert.False(t, p.Passes())
	assert.Contains(t, p.Verdict[0], "NO")
}

func TestCaseDeepWell(t *testing.T) {
	p := planned(t, "c11_deep_well")
	r := row(t, cases, "C11")
	i := figure(t, p, "battery.continuous_dc_a")
	r.Expected(i.Shortcut.Value)
	r.Rejects("published_wrong", i.Shortcut.Value, 0.1)
	assert.Greater(t, i.High, i.Shortcut.Value, "sag raises the current")
	assert.Less(t, figure(t, p, "battery.runtime_h").High, 0.2, "the article says 27.6 minutes")
}

func TestCaseColdFood(t *testing.T) {
	p := planned(t, "c19_cold_food")
	w := figure(t, p, "battery.average_dc_w")
	row(t, cases, "C19").Expected(10 * w.High)
	assert.InEpsilon(t, w.High, w.Low, 1e-9, "metered averages leave no spread")
	assert.Equal(t, Holds, checkOf(t, p, "battery.outage").State)
}

func TestCaseTwoFreezers(t *testing.T) {
	p := planned(t, "c21_two_freezers")
	l := p.Site.Loads[0].Measured
	duty := figure(t, p, "freezers.duty_percent")
	// Running power times duty gives the metered average back, at both ends.
	assert.InEpsilon(t, 300*duty.High/100, 400*duty.Low/100, 1e-9)
	row(t, cases, "C21").Expected(24 * 300 * duty.High / 100 / 1000)
	assert.Equal(t, Measured, l.Energy.Basis)
}

func TestCaseAquariumPump(t *testing.T) {
	p := planned(t, "c29_aquarium_pump")
	r := row(t, cases, "C29")
	hours := figure(t, p, "battery.runtime_continuous_h")
	r.Expected(hours.High)
	assert.Less(t, hours.Low, hours.High, "a soft battery meets the cut-off earlier")
	r.Rejects("published_wrong", hours.High, 0.1)
	assert.InEpsilon(t, 2.5, hours.High, 0.05, "the owner measured two and a half hours")
	assert.Contains(t, strings.Join(notes(p), " "), "stepped")
}

func notes(p *Plan) []string {
	var all []string
	for _, s := range p.Sections {
		all = append(all, s.Notes...)
	}
	return all
}

func TestCaseLeftOn(t *testing.T) {
	p := planned(t, "c42_left_on")
	row(t, cases, "C42").Expected(figure(t, p, "inverter.idle_wh").High / 12)
}

func TestCaseThinCable(t *testing.T) {
	p := planned(t, "c43_thin_cable")
	drop := figure(t, p, "dc_cable.drop_running_v")
	row(t, cases, "C43").Expected(drop.Shortcut.Value)
	assert.Greater(t, drop.Low, drop.Shortcut.Value, "sag raises the current")
	assert.False(t, p.Passes())
	assert.Less(t, checkOf(t, p, "dc_cable.drop").Margin(), 1.0)
}

func TestCaseBlowerIsVoltAmperes(t *testing.T) {
	s := mustRead(t, `
name = "furnace"
[[load]]
name = "blower"
voltage = "120 V"
no_motor = true
power_factor = 0.6
[load.measured]
current = "5.0 A (measured)"
[battery]
chemistry = "AGM"
unit_voltage = "12 V"
capacity = "100 Ah"
rate = "20 h"
[inverter]
power = "1000 W"
`)
	p, err := Make(s)
	require.NoError(t, err)
	row(t, cases, "C32").Expected(figure(t, p, "blower.run_apparent_va").High)
}

func must[T ~float64](t *testing.T, text string) Value[T] {
	t.Helper()
	v, err := read[T](text)
	require.NoError(t, err)
	return v
}

func mustRead(tb testing.TB, text string) Site {
	tb.Helper()
	s, err := Read(strings.NewReader(text))
	require.NoError(tb, err)
	return s
}

// The figures below are common practice, no source.
func TestCommonPractice(t *testing.T) {
	const table = "field/common_practice.csv"
	p := planned(t, "half_horse_jet")
	row(t, table, "circuit-15").Expected(figure(t, p, "jet_pump.circuit_va").High)

	// 75 A at 12 V through 85 to 92 % are 765 to 828 W of 1200 VA.
	w, va := figure(t, p, "jet_pump.run_real_w"), figure(t, p, "jet_pump.run_apparent_va")
	assert.InDelta(t, 765, w.Low, 0.5)
	assert.InDelta(t, 828, w.High, 0.5)
	assert.InDelta(t, 1200, va.High, 0.5)
	assert.Contains(t, va.Also, "power factor 0.637..0.69 at")
	assert.InDelta(t, 1200, w.Shortcut.Value, 0.5)
	assert.NotEmpty(t, w.Shortcut.Why)

	// Without the meters the plate speaks, up to its service factor.
	plain := p.Site
	plain.Loads = append([]Load(nil), plain.Loads...)
	plain.Loads[0].Measured = Readings{}
	plain.Loads[0].Voltage = must[unit.Voltage](t, "120 V")
	q, err := Make(plain)
	require.NoError(t, err)
	current := figure(t, q, "jet_pump.run_ac_a")
	row(t, table, "jet-run").Expected(current.Low)
	row(t, table, "jet-sf").Expected(current.High)
	run := figure(t, q, "jet_pump.run_real_w")
	row(t, table, "jet-va").Expected(run.Shortcut.Value)
	row(t, table, "jet-surge").Expected(figure(t, q, "jet_pump.start_real_w").Shortcut.Value)
	assert.Less(t, run.High, run.Shortcut.Value)

	plain.Loads[0].Breaker = must[unit.Current](t, "20 A")
	q, err = Make(plain)
	require.NoError(t, err)
	row(t, table, "circuit-20").Expected(figure(t, q, "jet_pump.circuit_va").High)

	// 100 Ah over 75 A are 1 h 20 min by the shortcut, and less in truth.
	r := row(t, table, "ah-over-a")
	short, err := battery.ShortcutRuntime(unit.Charge(r.Param("C", "Ah"))*battery.AmpereHour, unit.Current(r.Param("I", "A")))
	require.NoError(t, err)
	r.Expected(float64(short / battery.Hour))
	hours := figure(t, p, "battery.runtime_continuous_h")
	assert.Greater(t, hours.Shortcut.Value, hours.High)

	// A drawdown that fills in five minutes, and 15 minutes of pumping a day.
	r = row(t, table, "starts")
	flow := 5 * tank.USGallonPerMinute
	system := tank.System{Drawdown: flow.Volume(unit.Time(r.Param("run", "min")) * tank.Minute), Pump: flow}
	day, err := system.Day(flow * tank.FlowRate(r.Param("day", "min")/1440))
	require.NoError(t, err)
	r.Expected(day.Starts)
	assert.InDelta(t, 15, figure(t, p, "jet_pump.per_day_min").High, 1e-9)
}
