package main

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/examples/internal/console"
	"ridethrough.example/internal/reftest"
)

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

// What is said of a pump that never stops, of a well that runs dry and of a jet
// pump too high holds for them.
func TestWordsForFailures(t *testing.T) {
	sampled := func(changes ...string) string {
		text := string(sample)
		for i := 0; i < len(changes); i += 2 {
			require.Contains(t, text, changes[i])
			text = strings.Replace(text, changes[i], changes[i+1], 1)
		}
		return text
	}
	code, text, errs := call(sampled("88 m at 0", "60 m at 0", "85 m at 10", "58 m at 10", "77 m at 20", "50 m at 20",
		"63 m at 30", "40 m at 30", "41 m at 40", "25 m at 40"))
	require.Equal(t, console.Fails, code, errs)
	assert.Contains(t, text, "7.69 L/min, where there is nothing", "0 L/min is not the same as 7.69")
	assert.Contains(t, text, "The pump never stops: its minutes")
	assert.NotContains(t, text, "use over drawdown")
	assert.NotContains(t, text, "starts a day, custom")

	code, text, errs = call(sampled("3.2 m at 25 L/min", "9 m at 8 L/min"))
	require.Equal(t, console.Fails, code, errs)
	assert.Contains(t, text, "at that flow, then the yield")
	assert.Contains(t, text, "does not know the intake")

	code, text, errs = call(sampled(`"submersible"`, `"jet"`))
	require.Equal(t, console.Fails, code, errs)
	assert.Contains(t, text, "no pump draws it from above")
	assert.Contains(t, text, "pipe.suction: none")
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
