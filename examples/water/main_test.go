package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
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
	"ridethrough.example/examples/internal/tomlfile"
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
		"plot":              {system(), []string{"-plot", file}, console.Input, "plot"},
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
		"battery of a lake": {"battery = \"900 kWh\"\n" + system(), nil, console.Input, "battery: tank: water available"},
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
		var input *tomlfile.Error
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
		code, _, errs := call("", "-plot", dir)
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
		code, _, errs := call(text, "-plot", dir)
		assert.Equal(t, console.Fails, code, errs)
		assert.FileExists(t, filepath.Join(dir, "pump-curve.svg"))
		assert.NoFileExists(t, filepath.Join(dir, "pressure-day.svg"))
	}
	dir := t.TempDir()
	code, _, errs := call(system("180 ft", "80 ft", "165 ft", "65 ft", "120 ft", "20 ft"), "-plot", dir)
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
