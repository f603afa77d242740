package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/examples/internal/console"
	"ridethrough.example/examples/planner/plan"
	"ridethrough.example/internal/reftest"
)

func TestMain(m *testing.M) { reftest.Main(m) }

// call runs the program on a system typed in, or without one on the demo.
func call(system string, args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	if system != "" {
		args = append(args, "-")
	}
	code = run(args, strings.NewReader(system), &out, &errs)
	return code, out.String(), errs.String()
}

// An asked is an answer read back from JSON.
type asked struct {
	Holds             bool
	Checks            []Check
	Sections          []part
	Assumed, Cautions []string
}

type part struct {
	Title   string
	Figures []Figure
	Tables  []struct {
		Key  string
		Rows []map[string]any
	}
	Notes []string
}

// ask runs the program for JSON and reads it.
func ask(t *testing.T, system string) (int, asked) {
	t.Helper()
	code, out, errs := call(system, "-format", "json")
	require.Empty(t, errs, system)
	var a asked
	require.NoError(t, json.Unmarshal([]byte(out), &a))
	return code, a
}

func (a asked) find(key string) (Figure, bool) {
	for _, s := range a.Sections {
		for _, f := range s.Figures {
			if f.Key == key {
				return f, true
			}
		}
	}
	return Figure{}, false
}

// figure is the value of a key.
func (a asked) figure(t *testing.T, key string) float64 {
	t.Helper()
	f, ok := a.find(key)
	require.True(t, ok, key)
	return f.Value
}

// row is a line of a table.
func (a asked) row(t *testing.T, table, name string) map[string]any {
	t.Helper()
	for _, s := range a.Sections {
		for _, tb := range s.Tables {
			for _, r := range tb.Rows {
				if tb.Key == table && r["row"] == name {
					return r
				}
			}
		}
	}
	require.Fail(t, "no row "+table+", "+name)
	return nil
}

// cell is a figure of a table.
func (a asked) cell(t *testing.T, table, name, column string) float64 {
	t.Helper()
	x, ok := a.row(t, table, name)[column].(float64)
	require.True(t, ok, "%s, %s, %s", table, name, column)
	return x
}

func (a asked) check(t *testing.T, id string) Check {
	t.Helper()
	i := slices.IndexFunc(a.Checks, func(c Check) bool { return c.ID == id })
	require.GreaterOrEqual(t, i, 0, id)
	return a.Checks[i]
}

const (
	gallon = 3.785411784
	kpa    = 6.894757293168361
	foot   = 0.3048

	sixDigits = 5e-6
	why       = "six digits are shown"
)

// system is that of PF1 in testdata/tank/fill.csv. Each change is a text in it and
// what takes its place.
func system(changes ...string) string {
	const pf1 = `
atmosphere = "14.7 psi"
demands = ["4 gpm"]
[tank]
volume = "85 gal"
precharge = "28 psi"
cut_in = "30 psi"
cut_out = "50 psi"
[pump]
kind = "submersible"
curve = ["180 ft at 0 gpm", "165 ft at 5 gpm", "120 ft at 10 gpm"]
input = ["500 W at 0 gpm", "1000 W at 20 gpm"]
[well]
level = "20 ft"
`
	return strings.NewReplacer(changes...).Replace(pf1)
}

// ofRow is the system of a row of testdata/tank/fill.csv.
func ofRow(r reftest.Row) (text string, known bool) {
	if r.HasParam("rho") { // in SI, and water of another density
		return "", false
	}
	h0, a, m := r.Param("H0", "ft"), 0.6, 2.0
	if r.HasParam("a") {
		a, m = r.Param("a", "ft/gpm^m"), r.Param("m", "")
	}
	changes := []string{
		"180 ft", fmt.Sprintf("%.17g ft", h0), "165 ft", fmt.Sprintf("%.17g ft", h0-a*math.Pow(5, m)),
		"120 ft", fmt.Sprintf("%.17g ft", h0-a*math.Pow(10, m)),
	}
	for _, name := range []string{"tank", "precharge", "cut_in", "cut_out"} {
		if r.HasParam(name) {
			key := strings.ReplaceAll(name, "tank", "volume")
			old := map[string]string{"volume": "85 gal", "precharge": "28 psi", "cut_in": "30 psi", "cut_out": "50 psi"}[key]
			changes = append(changes, fmt.Sprintf("%s = %q", key, old), fmt.Sprintf("%s = %q", key, r.ParamText(name)))
		}
	}
	if r.HasParam("demand") {
		changes = append(changes, "4 gpm", r.ParamText("demand"))
	}
	if r.HasParam("n") {
		changes = append(changes, "[tank]", "[tank]\nexponent = "+r.ParamText("n"))
	}
	if r.HasParam("pipe_k") {
		changes = append(changes, "[well]", "[[pipe]]\ninside = \"1.049 in\"\nlength = \"100 ft\"\nhazen_williams_c = 140\n[well]")
	}
	return system(changes...), true
}

// The fills of the reference, by 40-digit quadrature.
func TestFills(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/fill.csv") {
		text, known := ofRow(r)
		if !known {
			continue
		}
		_, a := ask(t, text)
		demand := r.HasParam("demand")
		drawn := "cycles"
		got := math.NaN()
		switch quantity := r.Text("quantity"); quantity {
		case "drawdown":
			got = a.figure(t, "tank.drawdown_l") / gallon
			if r.HasParam("n") {
				got = a.figure(t, "tank.drawdown_warm_l") / gallon
			}
		case "pump_flow_at_cut_in":
			got = a.cell(t, "points", "cut-in", "flow_gpm")
		case "pump_flow_at_cut_out":
			got = a.cell(t, "points", "cut-out", "flow_gpm")
		case "fill_time":
			got = a.figure(t, "fill.time_min")
			switch {
			case demand:
				got = a.cell(t, drawn, r.ParamText("demand"), "run_min")
			case r.HasParam("n"):
				got = a.figure(t, "fill.time_warm_min")
			}
		case "mean_net_flow":
			if demand || r.HasParam("n") {
				continue
			}
			got = a.figure(t, "fill.mean_flow_lpm") / gallon
		case "hydraulic_energy_per_fill":
			got = a.figure(t, "fill.work_wh")
		case "electric_energy_per_fill":
			got = a.figure(t, "fill.energy_wh")
			if demand {
				got = a.cell(t, drawn, r.ParamText("demand"), "energy_wh")
			}
		case "rel_error_fill_time_using_mid_pressure_flow", "rel_error_fill_time_using_cut_in_flow":
			f, _ := a.find("fill.time_min")
			i := map[bool]int{true: 0, false: 1}[strings.HasSuffix(quantity, "cut_in_flow")]
			r.Within("expected", f.Shortcuts[i].Percent/100, 1e-4, "the reference's own tolerance")
			continue
		case "max_cycles_per_hour":
			got = a.figure(t, "cycles.worst_starts_per_hour")
		case "max_cycles_per_hour_constant_flow_rule":
			f, _ := a.find("cycles.worst_starts_per_hour")
			got = f.Shortcuts[0].Value
		case "stall_pressure":
			got = a.figure(t, "fill.held_kpa") / kpa
		case "equilibrium_pressure_with_demand":
			assert.Contains(t, a.row(t, drawn, r.ParamText("demand"))["why"], "it holds 48.23 psi")
			continue
		default:
			require.Fail(t, "what is "+quantity)
		}
		if r.HasParam("pipe_k") && r.Text("quantity") != "drawdown" {
			// The reference's k is that of a handbook, 0.8 % above the base formula.
			assert.InEpsilon(t, r.Float("expected"), got, 0.002, r.Source())
			continue
		}
		r.Within("expected", got, sixDigits, why)
	}
}

func TestWaterLeft(t *testing.T) {
	_, a := ask(t, system())
	for _, r := range reftest.Rows(t, "tank/boyle_examples.csv") {
		key := map[string]string{"TD1x": "drawdown", "AU2": "left_most", "AU3": "left_least", "AU4": "left_mean"}[r.Text("id")]
		if key != "" {
			r.Within("expected", a.figure(t, "tank."+key+"_l")/gallon, sixDigits, why)
		}
	}
}

func TestPrecharge(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/precharge_temperature.csv") {
		switch r.Text("id") {
		case "GT1":
			_, a := ask(t, system("[tank]", "[tank]\nprecharge_at = \"70 °F\"\ncoldest = \"35 °F (measured)\""))
			r.Within("expected", a.figure(t, "tank.precharge_cold_kpa")/kpa, sixDigits, why)
		case "GT11":
			code, a := ask(t, system("[tank]", "[tank]\nair_left = \"1 gal\""))
			assert.Equal(t, console.Done, code)
			r.Within("expected", a.figure(t, "waterlogged.drawdown_l")/gallon, sixDigits, why)
			assert.Less(t, a.figure(t, "waterlogged.run_s"), 2.0, "a pump of 10 gal/min fills 0.31 gal in that")
		case "GT12":
			code, a := ask(t, system("28 psi", "35 psi"))
			assert.Equal(t, console.Fails, code)
			r.Within("expected", a.figure(t, "tank.usable_l")/gallon, sixDigits, why)
			assert.Contains(t, a.check(t, "tank.precharge").Says, "the taps run dry")
			assert.False(t, a.Holds)
			for _, key := range []string{"tank.drawdown_l", "fill.time_min", "day.starts"} {
				_, ok := a.find(key)
				assert.False(t, ok, key)
			}
		}
	}
	_, a := ask(t, system("28 psi", "10 psi"))
	assert.Contains(t, a.check(t, "tank.precharge").Says, "lower than the custom")
	_, a = ask(t, system("28 psi", "30 psi"))
	assert.Contains(t, a.check(t, "tank.precharge").Says, "nothing is left")
}

// 30/50 psi at an altitude, and beside sea level.
func TestAltitude(t *testing.T) {
	sea := 0.0
	for _, r := range reftest.Rows(t, "tank/altitude_drawdown.csv") {
		at := func(m string) float64 {
			_, a := ask(t, system("atmosphere = \"14.7 psi\"", fmt.Sprintf("altitude = \"%s m\"", m)))
			f := a.figure(t, "tank.acceptance_ratio")
			if sea != 0 {
				assert.InDelta(t, 100*(f/sea-1), a.figure(t, "tank.altitude_percent"), 1e-3)
			}
			return f
		}
		if sea == 0 {
			sea = at("0")
		}
		r.Within("factor_30_50", at(r.Text("altitude_m")), sixDigits, why)
	}
}

func TestHead(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/total_head.csv") {
		column := map[string]string{"TH11": "cut_in_ft", "TH12": "cut_out_ft"}[r.Text("id")]
		if column == "" {
			continue
		}
		_, a := ask(t, system())
		r.Within("expected", a.cell(t, "head", "total", column), sixDigits, why)
	}
	// All parts together: a drawdown of 6 ft at 10 gal/min, and a rise of 5 ft.
	_, a := ask(t, system("level = ", "rise = \"5 ft\"\ndrawdown = \"6 ft at 10 gpm\"\nlevel = ",
		"[well]", "[[pipe]]\nkind = \"PE\"\nsize = \"1 in\"\nlength = \"100 ft\"\nfittings = [\"3 elbow\", \"K 2\"]\n[well]"))
	sum := 0.0
	for _, part := range []string{"water level at rest", "drawdown of the well", "rise to the tank", "pressure in the tank", "friction of pipes", "fittings"} {
		sum += a.cell(t, "head", part, "cut_in_m")
	}
	assert.InDelta(t, a.cell(t, "head", "total", "cut_in_m"), sum, 1e-4)
	q := a.cell(t, "points", "cut-in", "flow_gpm")
	assert.InEpsilon(t, 0.6*q, a.cell(t, "head", "drawdown of the well", "cut_in_ft"), sixDigits)
	assert.InEpsilon(t, a.cell(t, "points", "cut-in", "head_m"), a.cell(t, "head", "total", "cut_in_m"), sixDigits)
	// K of three elbows, 1.125 in the middle, and of 2; 1.049 in inside.
	const d = 1.049 * 0.0254
	v := q * gallon / 60e3 / (math.Pi / 4 * d * d)
	assert.InEpsilon(t, (3*1.125+2)*v*v/19.6133, a.cell(t, "head", "fittings", "cut_in_m"), 1e-5)
}

// A jet pump by altitude and temperature.
func TestSuction(t *testing.T) {
	jet := func(more ...string) string {
		return system(append(more, `kind = "submersible"`, `kind = "jet"`, `atmosphere = "14.7 psi"`, `altitude = "0 m"`)...)
	}
	for _, r := range reftest.Rows(t, "tank/npsh_examples.csv") {
		if r.Text("quantity") != "max_suction_lift" {
			continue
		}
		text := fmt.Sprintf("water_temperature = \"%s\"\n%s", strings.Replace(r.ParamText("temp"), "C", "°C", 1),
			jet("[pump]", "[pump]\nsuction_head_required = \"3 m\""))
		_, a := ask(t, strings.Replace(text, "0 m\"\n", r.ParamText("altitude")+"\"\n", 1))
		// Without a suction pipe there is none of the row's friction of 0.5 m.
		assert.InDelta(t, r.Float("expected")+0.5, a.figure(t, "suction.greatest_lift_m"), 1e-4, r.Source())
	}
	code, a := ask(t, jet())
	assert.Equal(t, console.Done, code)
	assert.True(t, a.check(t, "pump.suction").Holds)
	f, _ := a.find("suction.greatest_lift_m")
	assert.InDelta(t, 22*foot, f.Shortcuts[0].Value, 1e-4, "the table's lift at sea level")
	code, a = ask(t, jet("20 ft", "27 ft"))
	assert.Equal(t, console.Fails, code)
	assert.Contains(t, a.check(t, "pump.suction").Says, "cavitates")
	pipe := "[[pipe]]\nkind = \"PE\"\nsize = \"1 in\"\nlength = \"20 ft\"\nsuction = true\nfittings = [\"foot valve\"]\n[well]"
	_, a = ask(t, jet("[well]", pipe))
	assert.InEpsilon(t, a.cell(t, "head", "friction of pipes", "cut_in_m")+a.cell(t, "head", "fittings", "cut_in_m"), a.figure(t, "suction.friction_m"), 1e-5)
	_, a = ask(t, jet("[well]", strings.Replace(pipe, "20 ft", "3000 ft", 1)+"\nrise = \"-30 ft\""))
	assert.Contains(t, a.check(t, "pump.suction").Says, "suction: the")
}

// Along the curve, flow goes as the speed and head as its square.
func TestFrequency(t *testing.T) {
	_, a := ask(t, system("[pump]", "[pump]\nfrequency = \"57 Hz\"\nrated_frequency = \"60 Hz\""))
	r := 57.0 / 60
	q := a.cell(t, "points_slow", "cut-in", "flow_gpm")
	assert.InEpsilon(t, 89.3, r*r*180-0.6*q*q, 1e-5, "head is lift and pressure")
	assert.InEpsilon(t, r*r*r*(500+25*q/r), a.cell(t, "points_slow", "cut-in", "input_w"), 1e-5)
	f, _ := a.find("pump.flow_slow_lpm")
	assert.Positive(t, f.Shortcuts[0].Percent, "the flow falls faster than the speed")
	assert.Greater(t, a.figure(t, "fill.time_slow_min"), a.figure(t, "fill.time_min"))

	code, a := ask(t, system("[pump]", "[pump]\nfrequency = \"50 Hz\""))
	assert.Equal(t, console.Fails, code)
	assert.Contains(t, a.check(t, "pump.frequency").Says, "never stops", "125 ft at no flow, 135.5 ft at cut-out")
	assert.True(t, a.check(t, "pump.cut_out").Holds)
	_, a = ask(t, system("[pump]", "[pump]\nfrequency = \"45 Hz\""))
	assert.Zero(t, a.figure(t, "pump.flow_slow_lpm"), "101.25 ft at no flow, 112.4 ft at mid pressure")
	code, a = ask(t, system("28 psi", "35 psi", "[pump]", "[pump]\nfrequency = \"57 Hz\""))
	assert.Equal(t, console.Fails, code)
	assert.Len(t, a.Checks, 1, "the precharge is told once")
}

func TestNeverReachesCutOut(t *testing.T) {
	code, a := ask(t, system("180 ft", "130 ft", "165 ft", "115 ft", "120 ft", "70 ft"))
	assert.Equal(t, console.Fails, code)
	assert.Contains(t, a.check(t, "pump.cut_out").Says, "shut-off head is too low")
	assert.Contains(t, a.row(t, "points", "cut-out")["why"], "delivers nothing")
	assert.Positive(t, a.figure(t, "day.longest_run_min"))

	code, a = ask(t, system("180 ft", "80 ft", "165 ft", "65 ft", "120 ft", "20 ft"))
	assert.Equal(t, console.Fails, code, "not even cut-in")
	assert.False(t, a.check(t, "day.unmet").Holds)
	_, out, _ := call(system("180 ft", "80 ft", "165 ft", "65 ft", "120 ft", "20 ft", "[well]", "[well]\ncasing = \"6 in\"\nintake = \"90 ft\"\ndrawdown = \"5 ft at 9 gpm\""))
	assert.Contains(t, out, "At cut-in the pump has no flow")
}

func TestBeyondTheCurve(t *testing.T) {
	code, a := ask(t, system("[pump]", "[pump]\nthrough = \"points\""))
	assert.Equal(t, console.Fails, code)
	assert.Contains(t, a.check(t, "pump.cut_out").Says, "beyond the last point", "120 ft at 10 gal/min, and 89.3 ft at cut-in")
	_, out, _ := call(system("[pump]", "[pump]\nthrough = \"points\""))
	assert.Contains(t, out, "The day cannot be followed")
	assert.Contains(t, out, "parts are those of no flow")
}

func TestShortCycles(t *testing.T) {
	code, a := ask(t, system("85 gal", "5 gal", "[pump]", "[pump]\nmotor = \"1 hp\""))
	assert.Equal(t, console.Fails, code)
	assert.Contains(t, a.check(t, "pump.short_cycle").Says, "short-cycles")
	for _, id := range []string{"pump.run", "pump.starts_hour"} {
		c := a.check(t, id)
		assert.False(t, c.Holds, id)
		assert.True(t, c.Advice, id)
	}
	// 5 gal give 5/85 of the time.
	_, whole := ask(t, system())
	assert.InEpsilon(t, whole.figure(t, "fill.time_min")*5/85, a.figure(t, "fill.time_min"), 1e-5)
}

// What the customs of a size are, as in the tables.
func TestCustom(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/starts_practice.csv") {
		_, a := ask(t, system("[pump]", fmt.Sprintf("[pump]\nmotor = \"%s hp\"\nphases = %s", r.Text("to_hp"), r.Text("phases"))))
		id := map[string]string{"daily_starts": "pump.starts_day", "run_min": "pump.run", "hourly_starts": "pump.starts_hour"}[r.Text("quantity")]
		assert.Regexp(t, `custom (allows|asks for) `+regexp.QuoteMeta(r.Text("value"))+`\b`, a.check(t, id).Says, r.Source())
	}
}

func TestWell(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/well.csv") {
		if !r.HasParam("static") || r.Text("id") == "WT3" || r.Text("id") == "WV3" || r.Text("id") == "WR2" {
			continue // a dug well, from which this pump draws less than its 5 gal/min
		}
		capacity := r.Param("capacity", "gpm/ft")
		lift := r.Param("static", "ft")
		// The pump delivers what the row has at cut-in, at no other loss than
		// the well's drawdown, which the row's pump does not see.
		q := 10.0
		if r.HasParam("pump") {
			q = r.Param("pump", "gpm")
		}
		head := lift + 30*2.31 + q/capacity
		_, a := ask(t, system("20 ft", fmt.Sprintf("%g ft\"\ndrawdown = \"10 ft at %g gpm\"\ncasing = \"%s\"\nintake = \"%s", lift, 10*capacity, r.ParamText("casing"), r.ParamText("intake")),
			"180 ft", fmt.Sprintf("%.9g ft", head+100), "165 ft", fmt.Sprintf("%.9g ft", head+75), "120 ft", fmt.Sprintf("%.9g ft", head),
			"at 5 gpm", fmt.Sprintf("at %g gpm", q/2), "at 10 gpm", fmt.Sprintf("at %g gpm", q)))
		const near = 2e-5
		const because = "the flow is found by a root, six digits are shown"
		switch r.Text("quantity") {
		case "yield":
			r.Within("expected", a.figure(t, "well.yield_lpm")/gallon, near, because)
		case "time_to_intake":
			r.Within("expected", a.figure(t, "well.until_min"), near, because)
			assert.False(t, a.check(t, "well.yield").Holds)
		case "settled_drawdown":
			r.Within("expected", a.figure(t, "well.pumping_level_m")/foot-lift, near, because)
			assert.True(t, a.check(t, "well.yield").Holds)
		case "delivered_in_2_h":
			r.Within("expected", a.figure(t, "well.two_hours_l")/gallon, near, because)
		case "recovery":
			r.Within("expected", a.figure(t, "well.recovery_min"), near, because)
		}
	}
}

// A day's balance of water and energy, whatever the profile.
func TestDay(t *testing.T) {
	var weights []string
	for i := range 24 {
		weights = append(weights, fmt.Sprint(i%5))
	}
	for _, how := range []string{`profile = "household"`, `profile = "flat"`, `profile = "two-hour"`, "hours = [" + strings.Join(weights, ",") + "]"} {
		code, a := ask(t, system("[well]", "[day]\nuse = \"300 gal/day\"\n"+how+"\n[well]"))
		assert.Equal(t, console.Done, code)
		drawn := a.figure(t, "day.use_l")
		assert.InEpsilon(t, 300*gallon, drawn, sixDigits)
		assert.Zero(t, a.figure(t, "day.unmet_l"))
		assert.InEpsilon(t, a.figure(t, "day.energy_wh_per_l")*drawn, a.figure(t, "day.energy_wh"), 1e-5)
		f, _ := a.find("day.starts")
		assert.InEpsilon(t, 300/25.0994955205, f.Shortcuts[0].Value, sixDigits)
		assert.LessOrEqual(t, f.Value, f.Shortcuts[0].Value, "water drawn while the pump runs saves starts")
		flow := drawn / gallon / a.figure(t, "day.run_min")
		assert.True(t, flow > 8.612 && flow < 12.295, "between the flows at cut-out and at cut-in: %g", flow)
	}
	code, a := ask(t, system("[well]", "[day]\nuse = \"4000 gal/day\"\nprofile = \"two-hour\"\n[well]"))
	assert.Equal(t, console.Fails, code, "33 gal/min")
	assert.Positive(t, a.figure(t, "day.unmet_l"))
	assert.Zero(t, a.figure(t, "day.least_pressure_kpa"))
}

// Uses by tier of the tables, for two persons, and what lasts at them.
func TestStores(t *testing.T) {
	code, a := ask(t, "persons = 2\nbattery = \"1 kWh (stated)\"\nstored_water = \"100 L\"\ninverter_efficiency = \"80 %\"\n"+system())
	assert.Equal(t, console.Done, code)
	for _, r := range reftest.Rows(t, "tank/water_demand.csv") {
		tier, end, _ := strings.Cut(r.Text("item"), " ")
		if !slices.Contains([]string{"drinking", "stored", "emergency", "washing", "normal"}, tier) || strings.Contains(r.Text("item"), "gallons") || strings.Contains(r.Text("item"), "misread") {
			continue
		}
		if end == "" {
			end = "low"
		}
		litres := r.Float("value")
		if r.Text("unit") == "gal/day" {
			litres *= gallon
		}
		use := a.cell(t, "tiers", tier, "use_"+end+"_l_per_day")
		assert.InEpsilon(t, 2*litres, use, sixDigits, r.Source())
		other := map[string]string{"low": "high", "high": "low"}[end]
		assert.InEpsilon(t, 16.3528797513*gallon/use*24, a.cell(t, "tiers", tier, "tank_"+other+"_h"), 1e-5)
		assert.InEpsilon(t, 100/use, a.cell(t, "tiers", tier, "stored_"+other+"_d"), 1e-5)
		assert.InEpsilon(t, a.figure(t, "battery.water_l")/use, a.cell(t, "tiers", tier, "battery_"+other+"_d"), 2e-5)
	}
	assert.InEpsilon(t, 800/a.figure(t, "day.energy_wh_per_l"), a.figure(t, "battery.water_l"), 1e-5)
	assert.InEpsilon(t, 100*a.figure(t, "day.energy_wh_per_l")/0.8, a.figure(t, "stored.saved_wh"), 1e-5)

	_, out, _ := call("battery = \"1 kWh\"\n" + system("28 psi", "35 psi"))
	assert.Contains(t, out, "Water for a charge of the battery is not known")
}

// Without measured power an efficiency is used, and says so.
func TestEfficiency(t *testing.T) {
	const input = `input = ["500 W at 0 gpm", "1000 W at 20 gpm"]`
	_, a := ask(t, system(input, `efficiency = ["30 % at 9 gpm"]`))
	// 180 - 0.6·81 ft at 9 gal/min, and 3960 gal/min·ft a horsepower.
	watts := 9 * (180 - 0.6*81) / 3960.0 * 745.699872 / 0.3
	assert.InEpsilon(t, watts, a.cell(t, "points", "cut-in", "input_w"), 2e-4)
	_, a = ask(t, system(input, ""))
	assert.Contains(t, strings.Join(a.Assumed, "\n"), "32.5 % from wire to water", "25 to 40 % of the table")
	_, a = ask(t, system(input, "", `"165 ft at 5 gpm", `, "", `"180 ft at 0 gpm", `, ""))
	assert.Contains(t, strings.Join(a.Assumed, "\n"), "guessed from one point")
	q := a.cell(t, "points", "mid pressure", "flow_gpm")
	assert.InEpsilon(t, 112.4, 160-40*q*q/100, 1e-5, "4/3 of 120 ft at no flow")
}

func TestExitCodes(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	pipe := func(lines string) string { return system("[well]", "[[pipe]]\n"+lines+"\n[well]") }
	for name, tt := range map[string]struct {
		system string
		args   []string
		code   int
		says   string
	}{
		"demo":              {"", nil, console.Done, ""},
		"PF1":               {system(), nil, console.Done, ""},
		"fails":             {system("28 psi", "35 psi"), nil, console.Fails, ""},
		"help":              {"", []string{"-h"}, console.Done, "usage"},
		"unknown flag":      {"", []string{"-colour"}, console.Usage, "colour"},
		"unknown form":      {"", []string{"-format", "xml"}, console.Usage, "usage"},
		"two files":         {"", []string{"a.toml", "b.toml"}, console.Usage, "usage"},
		"no such file":      {"", []string{"nowhere.toml"}, console.Input, "nowhere.toml"},
		"a folder":          {"", []string{t.TempDir()}, console.Input, "directory"},
		"plots":             {system(), []string{"-plots", file}, console.Input, "plots"},
		"blank":             {" \n", nil, console.Input, "empty"},
		"too long":          {strings.Repeat("# comment\n", 1<<15), nil, console.Input, "256 KiB"},
		"no UTF-8":          {"name = \"\xff\"", nil, console.Input, "UTF-8"},
		"no TOML":           {"name = \n", nil, console.Input, "line 1"},
		"unknown key":       {system("precharge", "pre_charge"), nil, console.Input, "line 6, column 1: tank.pre_charge: unknown key"},
		"many unknown":      {manyKeys(50) + system(), nil, console.Input, "and 30 more"},
		"key twice":         {system("[tank]", "[tank]\nvolume = \"80 gal\""), nil, console.Input, "line 6"},
		"wrong unit":        {system("28 psi", "28 gal"), nil, console.Input, `line 6: tank.precharge: "gal" is no unit of pressure`},
		"no unit":           {system("28 psi", "28"), nil, console.Input, "line 6: tank.precharge: no unit"},
		"bare number":       {system(`"28 psi"`, "28"), nil, console.Input, "line 6: tank.precharge: want text in quotes"},
		"empty table":       {system(`"28 psi"`, "{}"), nil, console.Input, "line 6: tank.precharge: want text in quotes"},
		"range":             {system("28 psi", "26..28 psi"), nil, console.Input, "line 6: tank.precharge: want one figure"},
		"basis":             {system("28 psi", "28 psi (heard)"), nil, console.Input, `basis "heard"`},
		"no pair":           {system("180 ft at 0 gpm", "180 ft"), nil, console.Input, "pump.curve[0]: \"180 ft\", want something like"},
		"pair, no head":     {system("180 ft at", "180 W at"), nil, console.Input, `"W" is no unit of length`},
		"pair, no flow":     {system("180 ft at 0 gpm", "180 ft at 0 ft"), nil, console.Input, `"ft" is no unit of flow`},
		"no list":           {system(`demands = ["4 gpm"]`, `demands = "4 gpm"`), nil, console.Input, "line 3: demands: want a list"},
		"no table":          {"day = 3\n" + system(), nil, console.Input, "day: want a table"},
		"no word":           {system(`"submersible"`, "3"), nil, console.Input, "pump.kind: want text"},
		"control":           {"name = \"\\u001b[31m\"\n" + system(), nil, console.Input, "name: want text in quotes that can be printed"},
		"no whole number":   {"persons = 1.5\n" + system(), nil, console.Input, "persons: want a whole number"},
		"nobody":            {"persons = 0\n" + system(), nil, console.Input, "persons: want a whole number"},
		"a crowd":           {"persons = 1001\n" + system(), nil, console.Input, "persons: 1001"},
		"no number":         {system("[tank]", "[tank]\nexponent = \"1.2\""), nil, console.Input, "tank.exponent: want a number"},
		"exponent":          {system("[tank]", "[tank]\nexponent = 2"), nil, console.Input, "tank.exponent: 2, want 1 to 1.4"},
		"exponent NaN":      {system("[tank]", "[tank]\nexponent = nan"), nil, console.Input, "tank.exponent"},
		"no truth":          {pipe("kind = \"PE\"\nsize = \"1 in\"\nlength = \"9 m\"\nsuction = 1"), nil, console.Input, "suction: want true or false"},
		"missing volume":    {system(`volume = "85 gal"`, ""), nil, console.Input, "tank.volume: missing"},
		"missing curve":     {system(`curve = ["180 ft at 0 gpm", "165 ft at 5 gpm", "120 ft at 10 gpm"]`, ""), nil, console.Input, "pump.curve: missing"},
		"missing level":     {system(`level = "20 ft"`, ""), nil, console.Input, "well.level: missing"},
		"pump kind":         {system(`"submersible"`, `"piston"`), nil, console.Input, "want one of jet, submersible"},
		"through":           {system("[pump]", "[pump]\nthrough = \"line\""), nil, console.Input, "want one of fit, points"},
		"fit of two":        {system("[pump]", "[pump]\nthrough = \"fit\"", `"165 ft at 5 gpm", `, ""), nil, console.Input, "a fit takes three points"},
		"fit of no zero":    {system("[pump]", "[pump]\nthrough = \"fit\"", "at 0 gpm", "at 1 gpm"), nil, console.Input, "first point at no flow"},
		"points of one":     {system("[pump]", "[pump]\nthrough = \"points\"", `"180 ft at 0 gpm", `, "", `"165 ft at 5 gpm", `, ""), nil, console.Input, "two points or more"},
		"curve that rises":  {system("165 ft", "185 ft"), nil, console.Input, "pump.curve: tank: head of the first point"},
		"bad points":        {system("at 0 gpm\", \"165", "at 1 gpm\", \"165"), nil, console.Input, "first point of a curve"},
		"profile":           {system("[well]", "[day]\nprofile = \"weekend\"\n[well]"), nil, console.Input, "want one of flat, household, two-hour"},
		"profile and hours": {system("[well]", "[day]\nprofile = \"flat\"\nhours = [1]\n[well]"), nil, console.Input, "profile and hours are both given"},
		"few hours":         {system("[well]", "[day]\nhours = [1, 2]\n[well]"), nil, console.Input, "2 numbers, want 24"},
		"dry hours":         {system("[well]", "[day]\nhours = [0"+strings.Repeat(", 0", 23)+"]\n[well]"), nil, console.Input, "day.hours: tank: sum of weights"},
		"negative hours":    {system("[well]", "[day]\nhours = [-1"+strings.Repeat(", 2", 23)+"]\n[well]"), nil, console.Input, "day.hours: tank: weight of an hour"},
		"no use":            {system("[well]", "[day]\nuse = \"0 gal/day\"\n[well]"), nil, console.Input, "day.use: tank: daily use"},
		"two airs":          {"altitude = \"3 m\"\n" + system(), nil, console.Input, "altitude and atmosphere are both given"},
		"altitude":          {system(`atmosphere = "14.7 psi"`, `altitude = "20000 m"`), nil, console.Input, "altitude: tank: altitude"},
		"atmosphere":        {system("14.7 psi", "1 psi"), nil, console.Input, "tank: atmosphere"},
		"two inputs":        {system("[pump]", "[pump]\nefficiency = [\"30 % at 8 gpm\"]"), nil, console.Input, "input and efficiency are both given"},
		"input":             {system("500 W", "0 W"), nil, console.Input, "pump.input: tank: input power"},
		"efficiency":        {system("input = [\"500 W at 0 gpm\", \"1000 W at 20 gpm\"]", "efficiency = [\"95 % at 8 gpm\"]"), nil, console.Input, "pump.efficiency: tank: efficiency"},
		"phases":            {system("[pump]", "[pump]\nphases = 2"), nil, console.Input, "pump.phases: 2, want 1 or 3"},
		"motor":             {system("[pump]", "[pump]\nmotor = \"100 hp\""), nil, console.Input, "pump.motor: tank: motor output"},
		"frequency":         {system("[pump]", "[pump]\nfrequency = \"57\""), nil, console.Input, "want 10 Hz to 150 Hz"},
		"too slow":          {system("[pump]", "[pump]\nfrequency = \"10 Hz\"\nrated_frequency = \"60 Hz\""), nil, console.Input, "pump.frequency: tank: speed ratio"},
		"rated only":        {system("[pump]", "[pump]\nrated_frequency = \"60 Hz\""), nil, console.Input, "says nothing without frequency"},
		"jet's":             {system("[pump]", "[pump]\nabove_well_head = \"1 m\""), nil, console.Input, "for a jet pump"},
		"required":          {system("[pump]", "[pump]\nsuction_head_required = \"60 ft\"", "submersible", "jet"), nil, console.Input, "pump.suction_head_required: tank: suction head required"},
		"battery":           {"battery = \"0 Wh\"\n" + system(), nil, console.Input, "battery: not above zero"},
		"great battery":     {"battery = \"9000000 kWh\"\n" + system(), nil, console.Input, "battery: tank: energy"},
		"inverter":          {"inverter_efficiency = \"80 %\"\n" + system(), nil, console.Input, "says nothing without battery"},
		"bad inverter":      {"battery = \"1 kWh\"\ninverter_efficiency = \"120 %\"\n" + system(), nil, console.Input, "want 10 % to 100 %"},
		"stored":            {"stored_water = \"0 L\"\n" + system(), nil, console.Input, "stored_water: not above zero"},
		"a lake":            {"stored_water = \"9000 m3\"\n" + system(), nil, console.Input, "stored_water: tank: water available"},
		"cold alone":        {system("[tank]", "[tank]\ncoldest = \"4 °C\""), nil, console.Input, "need each other"},
		"too cold":          {system("[tank]", "[tank]\ncoldest = \"-60 °C\"\nprecharge_at = \"20 °C\""), nil, console.Input, "tank.coldest: tank: temperature"},
		"air left":          {system("[tank]", "[tank]\nair_left = \"9000 gal\""), nil, console.Input, "tank.air_left: tank: "},
		"well alone":        {system("[well]", "[well]\ncasing = \"6 in\""), nil, console.Input, "casing, intake and drawdown need each other"},
		"dry well":          {system("[well]", "[well]\ncasing = \"6 in\"\nintake = \"19 ft\"\ndrawdown = \"5 ft at 9 gpm\""), nil, console.Input, "well: tank: intake"},
		"no drawdown":       {system("[well]", "[well]\ncasing = \"6 in\"\nintake = \"90 ft\"\ndrawdown = \"0 ft at 9 gpm\""), nil, console.Input, "well.drawdown: tank: drawdown of the well"},
		"deep":              {system("20 ft", "900 m"), nil, console.Input, "well: tank: lift"},
		"boiling":           {"water_temperature = \"120 °C\"\n" + system(), nil, console.Input, "water_temperature: tank: water temperature"},
		"demand":            {system("4 gpm", "40 m3"), nil, console.Input, "demands[0]"},
		"great demand":      {system("4 gpm", "4000 gpm"), nil, console.Input, "demands: tank: demand"},
		"many demands":      {system(`"4 gpm"`, strings.Repeat(`"4 gpm", `, 21)), nil, console.Input, "want 20 at most"},
		"many points":       {system(`"165 ft at 5 gpm", `, strings.Repeat(`"165 ft at 5 gpm", `, 101)), nil, console.Input, "want 100 points at most"},
		"many pipes":        {system("[well]", strings.Repeat("[[pipe]]\ninside = \"1 in\"\nkind = \"PE\"\nlength = \"1 m\"\n", 21)+"[well]"), nil, console.Input, "21 pipes, want 20 at most"},
		"pipe kind":         {pipe("kind = \"lead\"\nsize = \"1 in\"\nlength = \"9 m\""), nil, console.Input, "pipe[0].kind: \"lead\""},
		"pipe size":         {pipe("kind = \"PE\"\nsize = \"7 in\"\nlength = \"9 m\""), nil, console.Input, "pipe[0]: tank: nominal size"},
		"pipe twice":        {pipe("kind = \"PE\"\nsize = \"1 in\"\ninside = \"1 in\"\nlength = \"9 m\""), nil, console.Input, "one of them"},
		"size alone":        {pipe("size = \"1 in\"\nlength = \"9 m\""), nil, console.Input, "size says nothing without kind"},
		"no length":         {pipe("kind = \"PE\"\nsize = \"1 in\""), nil, console.Input, "pipe[0]: length is missing"},
		"no surface":        {pipe("inside = \"1 in\"\nlength = \"9 m\""), nil, console.Input, "want kind, roughness or hazen_williams_c"},
		"two frictions":     {pipe("inside = \"1 in\"\nlength = \"9 m\"\nroughness = \"1 mm\"\nhazen_williams_c = 140"), nil, console.Input, "both given"},
		"bad C":             {pipe("inside = \"1 in\"\nlength = \"9 m\"\nhazen_williams_c = 14"), nil, console.Input, "pipe[0]: tank: "},
		"rough":             {pipe("inside = \"1 in\"\nlength = \"9 m\"\nroughness = \"9 mm\""), nil, console.Input, "pipe[0]: tank: roughness"},
		"no suction":        {pipe("kind = \"PE\"\nsize = \"1 in\"\nlength = \"9 m\"\nsuction = true"), nil, console.Input, "no suction pipe"},
		"fitting":           {pipe("kind = \"PE\"\nsize = \"1 in\"\nlength = \"9 m\"\nfittings = [\"2 bend\"]"), nil, console.Input, "pipe[0].fittings[0]: \"2 bend\", want one of ball valve"},
		"no fittings":       {pipe("kind = \"PE\"\nsize = \"1 in\"\nlength = \"9 m\"\nfittings = [\"0 elbow\"]"), nil, console.Input, "want 1 to 100"},
		"bad K":             {pipe("kind = \"PE\"\nsize = \"1 in\"\nlength = \"9 m\"\nfittings = [\"K NaN\"]"), nil, console.Input, "want K of 0 to 1000"},
	} {
		t.Run(name, func(t *testing.T) {
			code, out, errs := call(tt.system, tt.args...)
			assert.Equal(t, tt.code, code, "%s%s", out, errs)
			assert.Contains(t, errs, tt.says)
			assert.NotContains(t, errs, "\x1b")
			assert.NotContains(t, errs, "main.", "Go types mean nothing to the reader")
			switch {
			case code == console.Input || code == console.Usage:
				assert.Empty(t, out)
				assert.NotEmpty(t, errs)
			case tt.says == "":
				assert.Empty(t, errs)
				for _, c := range []string{"Pressure:", "Freezing:", "Shock:", "Backfeed:", "licensed electrician"} {
					assert.Contains(t, out, c)
				}
			}
		})
	}
}

// manyKeys returns n lines with keys of their own.
func manyKeys(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "k%d = 1\n", i)
	}
	return b.String()
}

// What -sample writes is reckoned without change, with a byte-order mark and with
// carriage returns.
func TestSample(t *testing.T) {
	code, text, _ := call("", "-sample")
	require.Equal(t, console.Done, code)
	_, want, _ := call("")
	for _, system := range []string{text, "\ufeff" + text, strings.ReplaceAll(text, "\n", "\r\n")} {
		code, got, errs := call(system)
		assert.Equal(t, console.Done, code, errs)
		assert.Equal(t, want, got)
	}
}

// A key that is commented out works when it alone is put to use, but where it is
// instead of others.
func TestSampleKeysWorkAlone(t *testing.T) {
	rows := strings.Split(string(sample), "\n")
	for i, row := range rows {
		bare, ok := strings.CutPrefix(row, "#? ")
		if !ok {
			continue
		}
		used := slices.Clone(rows)
		used[i] = bare
		if _, err := read(strings.NewReader(strings.Join(used, "\n"))); err != nil {
			assert.Regexp(t, "both given|for a jet pump|no suction pipe", err.Error(), bare)
		}
	}
}

// A key that the sample does not explain would be a key nobody finds.
func TestSampleExplainsEveryKey(t *testing.T) {
	text := string(sample)
	var walk func(reflect.Type)
	walk = func(typ reflect.Type) {
		for typ.Kind() == reflect.Slice {
			typ = typ.Elem()
		}
		if typ.Kind() != reflect.Struct {
			return
		}
		for i := range typ.NumField() {
			field := typ.Field(i)
			if key := field.Tag.Get("toml"); key != "" && key != "-" {
				found := strings.Contains(text, "\n"+key+" = ") || strings.Contains(text, "\n#? "+key+" = ") || strings.Contains(text, "["+key+"]")
				assert.True(t, found, "the sample has no key %s of %s", key, typ)
				walk(field.Type)
			}
		}
	}
	walk(reflect.TypeFor[System]())
	for _, names := range []string{words(pumpKinds), words(profiles), words(pipeKinds)} {
		for _, name := range strings.Split(names, ", ") {
			assert.Contains(t, text, name)
		}
	}
}

// Every fault of a key carries its line.
func TestFaultsCarryTheirLine(t *testing.T) {
	text := string(sample)
	for old, with := range map[string]string{
		`"36 psi (measured)"`:  `"36 gal"`,
		`persons = 3`:          `persons = "3"`,
		`"6 in"`:               `"6"`,
		`length = "7 m"`:       `length = "7 psi"`,
		`size = "1 in"`:        `size = 1`,
		`exponent = 1.2`:       `exponent = 7`,
		`phases = 1`:           `phases = 2`,
		`profile = "househol`:  `profile = "farmhol`,
		`"57 Hz"`:              `"57 V"`,
		`kind = "submersible"`: `kind = "hand"`,
	} {
		require.Contains(t, text, old)
		line := 1 + strings.Count(text[:strings.Index(text, old)], "\n")
		_, err := read(strings.NewReader(strings.Replace(text, old, with, 1)))
		var input *plan.InputError
		require.ErrorAs(t, err, &input, with)
		assert.Equal(t, line, input.Line, "%s: %v", with, err)
	}
}

func TestShapeOfJSON(t *testing.T) {
	_, a := ask(t, "")
	var keys []string
	for _, s := range a.Sections {
		for _, f := range s.Figures {
			keys = append(keys, f.Key)
			assert.NotEmpty(t, f.Source, f.Key)
		}
		for _, tb := range s.Tables {
			for _, r := range tb.Rows {
				for k, v := range r {
					if _, ok := v.(float64); ok {
						keys = append(keys, k)
					}
				}
			}
		}
	}
	units := regexp.MustCompile(`[_.](l|lpm|gpm|kpa|psi|m|ft|min|s|h|d|w|wh|wh_per_l|lpm_per_m|percent|ratio|starts_per_hour|l_per_day)$`)
	for _, k := range keys {
		assert.True(t, units.MatchString(k) || k == "starts_per_hour" || k == "day.starts", k)
	}
	assert.Equal(t, cautions(), a.Cautions)
	_, out, _ := call("", "-format", "json")
	assert.NotContains(t, out, `\u003c`)
	assert.NotContains(t, out, "NaN")
	for _, want := range []string{`"volume": "170 L (nameplate)"`, `"frequency_hz": 57`, `"2 elbow"`, `"3.2 m at 25 L/min (measured)"`} {
		assert.Contains(t, out, want, "inputs as typed")
	}
}

func TestSameInputSameBytes(t *testing.T) {
	for _, format := range []string{"text", "json"} {
		_, first, _ := call("", "-format", format)
		_, again, _ := call("", "-format", format)
		assert.Equal(t, first, again)
	}
}

func TestPlots(t *testing.T) {
	folders := []string{t.TempDir(), filepath.Join(t.TempDir(), "new", "folder")}
	for _, dir := range folders {
		code, _, errs := call("", "-plots", dir)
		assert.Equal(t, console.Done, code, errs)
	}
	texts := map[string][]string{
		"pump-curve.svg":   {"flow, L/min", "head, m", "pump at 57 Hz", "system at cut-in", "(58 psi)", "mid pressure: "},
		"pressure-day.svg": {"hour of the day", "tank, kPa", "pump on", "cut-in, 38 psi", "cut-out, 58 psi"},
	}
	for name, wants := range texts {
		first, err := os.ReadFile(filepath.Join(folders[0], name))
		require.NoError(t, err)
		again, err := os.ReadFile(filepath.Join(folders[1], name))
		require.NoError(t, err)
		assert.Equal(t, first, again, name)
		d := xml.NewDecoder(bytes.NewReader(first))
		for {
			_, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			require.NoError(t, err, name)
		}
		for _, want := range wants {
			assert.Contains(t, string(first), want, name)
		}
		assert.NotContains(t, string(first), "NaN", name)
	}
	// What cannot be followed is not drawn, and no error.
	for _, text := range []string{system("28 psi", "35 psi"), system("[pump]", "[pump]\nthrough = \"points\"")} {
		dir := t.TempDir()
		code, _, errs := call(text, "-plots", dir)
		assert.Equal(t, console.Fails, code, errs)
		assert.FileExists(t, filepath.Join(dir, "pump-curve.svg"))
		assert.NoFileExists(t, filepath.Join(dir, "pressure-day.svg"))
	}
	dir := t.TempDir()
	code, _, errs := call(system("180 ft", "80 ft", "165 ft", "65 ft", "120 ft", "20 ft"), "-plots", dir)
	assert.Equal(t, console.Fails, code, errs)
	assert.FileExists(t, filepath.Join(dir, "pressure-day.svg"), "a pump that delivers nothing")
}

type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errors.New("pipe is broken") }
func (brokenPipe) Read([]byte) (int, error)  { return 0, errors.New("pipe is broken") }

func TestPipesBreak(t *testing.T) {
	for _, args := range [][]string{nil, {"-sample"}, {"-format", "json"}} {
		var errs bytes.Buffer
		assert.Equal(t, console.Input, run(args, nil, brokenPipe{}, &errs))
		assert.Contains(t, errs.String(), "pipe is broken")
	}
	var errs bytes.Buffer
	assert.Equal(t, console.Input, run([]string{"-"}, brokenPipe{}, io.Discard, &errs))
	assert.Contains(t, errs.String(), "pipe is broken")
}

func FuzzRead(f *testing.F) {
	f.Add(system())
	f.Add(string(sample))
	f.Add("[tank]\nvolume = {}\n[[pipe]]\nfittings = [\"K\"]")
	f.Fuzz(func(t *testing.T, text string) {
		if strings.TrimSpace(text) == "" {
			return
		}
		code, out, errs := call(text)
		if (code == console.Input) != (out == "") || (code == console.Input) != (errs != "") {
			t.Errorf("code %d with %q and %q", code, out, errs)
		}
		if strings.Contains(out, "NaN") || strings.Contains(out, "Inf") {
			t.Errorf("no number in %s", out)
		}
	})
}
