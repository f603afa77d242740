package plan

import (
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sampleText is the commented site file that -sample writes.
func sampleText(t testing.TB) string {
	t.Helper()
	data, err := os.ReadFile("../site.toml")
	require.NoError(t, err)
	return string(data)
}

func TestSampleReads(t *testing.T) {
	s, err := Read(strings.NewReader(sampleText(t)))
	require.NoError(t, err)
	assert.Len(t, s.Loads, 3)
	assert.True(t, s.Loads[0].FillsTank)
	assert.Len(t, s.Loads[0].Run, 1)
}

// The keys that are commented out must be right as well: with every "#?"
// taken away the file must still read.
func TestSampleReadsWithEveryKeyInUse(t *testing.T) {
	_, err := Read(strings.NewReader(strings.ReplaceAll(sampleText(t), "#? ", "")))
	require.NoError(t, err)
}

// Each key that is commented out must plan when it alone is put to use, save
// for those that the sample offers instead of others or in pairs.
func TestSampleKeysWorkAlone(t *testing.T) {
	text := sampleText(t)
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		bare, ok := strings.CutPrefix(line, "#? ")
		if !ok {
			continue
		}
		used := slices.Clone(lines)
		used[i] = bare
		s, err := Read(strings.NewReader(strings.Join(used, "\n")))
		if err == nil {
			_, err = Make(s)
		}
		if err != nil {
			assert.Regexp(t, "need each other|want one of|say the same|says nothing without", err.Error(), "line %d: %s", i+1, bare)
		}
	}
}

// A key that the sample does not explain would be a key nobody finds.
func TestSampleExplainsEveryKey(t *testing.T) {
	text := sampleText(t)
	var walk func(reflect.Type)
	seen := map[reflect.Type]bool{}
	walk = func(typ reflect.Type) {
		for typ.Kind() == reflect.Slice || typ.Kind() == reflect.Pointer {
			typ = typ.Elem()
		}
		if typ.Kind() != reflect.Struct || seen[typ] {
			return
		}
		seen[typ] = true
		for i := range typ.NumField() {
			field := typ.Field(i)
			if key := field.Tag.Get("toml"); key != "" && key != "-" {
				found := strings.Contains(text, "\n"+key+" = ") || strings.Contains(text, "\n#? "+key+" = ") ||
					strings.Contains(text, key+"]")
				assert.True(t, found, "sample has no key %s of %s", key, typ)
			}
			if field.Tag.Get("toml") != "" || field.Anonymous {
				walk(field.Type)
			}
		}
	}
	walk(reflect.TypeFor[Site]())
}

func TestReadRefuses(t *testing.T) {
	good := sampleText(t)
	change := func(old, with string) string {
		require.Contains(t, good, old)
		return strings.Replace(good, old, with, 1)
	}
	for name, tt := range map[string]struct{ text, want string }{
		"empty":           {"", "empty"},
		"only blanks":     {" \n\n", "empty"},
		"ten megabytes":   {strings.Repeat("# comment\n", 1<<20), "more than 256 KiB"},
		"no UTF-8":        {"name = \"a\"\nnote = \"\xff\"\n", "line 2: bytes that are no UTF-8"},
		"no TOML":         {"name = \n", "line 1"},
		"unknown key":     {change("precharge =", "pre_charge ="), "tank.pre_charge: unknown key"},
		"unknown table":   {good + "\n[pump]\nhp = 1\n", "unknown key"},
		"number, no unit": {change(`"28 psi (measured)"`, "28"), "no unit, want a pressure"},
		"wrong unit":      {change(`"28 psi (measured)"`, `"28 gal"`), `"gal" is no unit of pressure, want psi, kPa or bar`},
		"upside down":     {change(`"18..24 W (nameplate)"`, `"24..18 W"`), "upside down"},
		"list for text":   {change(`"28 psi (measured)"`, `["28 psi"]`), "wrong kind of value"},
		"bool for text":   {change(`"28 psi (measured)"`, `true`), "number"},
		"text for int":    {change("series = 4", `series = "four"`), "line"},
		"bad letter":      {change(`code_letter = "K"`, `code_letter = "I"`), "code letter"},
		"bad chemistry":   {change(`"flooded"`, `"wood"`), "chemistry"},
		"bad size":        {change(`"12 AWG"`, `"12 SWG"`), "load"},
		"key twice":       {change("series = 4", "series = 4\nseries = 5"), "line"},
		"no load":         {"name = \"a\"\n", "load: missing"},
		"empty table":     {change(`"28 psi (measured)"`, `{}`), "want text in quotes"},
		"table as value":  {change(`"28 psi (measured)"`, `{Low = 5.0}`), "unknown key"},
		"subtable":        {good + "\n[tank.volume]\nLow = 5.0\n", "tank"},
		"number for word": {change(`"flooded"`, `2`), "want text in quotes"},
		"number, letter":  {change(`code_letter = "K"`, `code_letter = 71`), "want text in quotes"},
		"count of zero":   {change("series = 4", "series = 0"), "not above zero"},
		"escape in name":  {change(`name = "well pump"`, "name = \"a\\u001b[31mb\""), "cannot be printed"},
		"newline in name": {change(`name = "well pump"`, "name = \"a\\nPLAN\""), "cannot be printed"},
		"nominal range":   {change(`unit_voltage = "6 V (nameplate)"`, `unit_voltage = "6..12 V"`), "not a range"},
		"many loads":      {good + strings.Repeat("\n[[load]]\nname = \"a\"\nvoltage = \"120 V\"\n", 100), "want 100 at most"},
		"many unknown":    {manyKeys(500) + good, "and 480 more"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Read(strings.NewReader(tt.text))
			require.Error(t, err)
			assert.Contains(t, err.Error(), tt.want)
			var input *InputError
			assert.ErrorAs(t, err, &input)
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

func TestReadForgives(t *testing.T) {
	good := sampleText(t)
	for name, text := range map[string]string{
		"byte-order mark":  "\ufeff" + good,
		"carriage returns": strings.ReplaceAll(good, "\n", "\r\n"),
		"capital unit":     strings.Replace(good, `"28 psi (measured)"`, `"28 PSI"`, 1),
		"vulgar fraction":  strings.Replace(good, `"1/3 hp (nameplate)"`, `"⅓ hp"`, 1),
		"true minus":       strings.Replace(good, `"12 °C (measured)"`, `"−2 degC"`, 1),
	} {
		s, err := Read(strings.NewReader(text))
		if assert.NoError(t, err, name) {
			_, err = Make(s)
			assert.NoError(t, err, name)
		}
	}
}

// Every fault inside the file must carry its line.
func TestFaultsCarryTheirLine(t *testing.T) {
	good := sampleText(t)
	for old, with := range map[string]string{
		`"28 psi (measured)"`:    `"28 gal"`,
		`series = 4`:             `series = "4"`,
		`parallel = 2`:           `strings = 2`,
		`duty = "30..40 %"`:      `duty = 0.3..0.4`,
		`code_letter = "K"`:      `code_letter = "Q"`,
		`fills_tank = true`:      `fills_tank = "yes"`,
		`length = "18 m"`:        `length = 18`,
		`"9000 VA for 0.5 s"`:    `"9000 VA"`,
		`precharge = "28 psi (m`: `precharge = 1979-05-27 # (m`,
	} {
		require.Contains(t, good, old)
		line := 1 + strings.Count(good[:strings.Index(good, old)], "\n")
		_, err := Read(strings.NewReader(strings.Replace(good, old, with, 1)))
		var input *InputError
		require.ErrorAs(t, err, &input, "%s", with)
		assert.Equal(t, line, input.Line, "%s: %v", with, err)
		assert.NotContains(t, err.Error(), "plan.", "Go types mean nothing to the reader")
	}
}

func FuzzRead(f *testing.F) {
	f.Add(sampleText(f))
	f.Add("name = \"x\"\n[[load]]\nname=\"y\"\n")
	f.Add("[tank]\nvolume = 3\n[[load.run]]\n")
	f.Add("load = [{name='a', run=[{}]}]")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := Read(strings.NewReader(text))
		if err != nil {
			if err.Error() == "" {
				t.Error("an error without words")
			}
			return
		}
		// What reads must plan or be refused; it must not panic.
		if p, err := Make(s); err == nil && len(p.Verdict) == 0 {
			t.Error("a plan without a verdict")
		}
	})
}
