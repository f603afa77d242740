package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"math/cmplx"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/examples/internal/console"
	"ridethrough.example/internal/reftest"
)

func TestMain(m *testing.M) { reftest.Main(m) }

// call runs the program.
func call(args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	code = run(args, &out, &errs)
	return code, out.String(), errs.String()
}

// answer runs the program for JSON and reads it.
func answer(t *testing.T, args ...string) (int, Answer) {
	t.Helper()
	code, out, errs := call(append([]string{"-format", "json"}, args...)...)
	require.Empty(t, errs, args)
	var a Answer
	d := json.NewDecoder(strings.NewReader(out))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(&a))
	return code, a
}

// quarter is the quarter-horsepower machine of testdata/motor/start_quasi.csv.
func quarter(more ...string) []string {
	return append([]string{
		"-volts", "110", "-main-r-ohm", "2.02", "-main-x-ohm", "2.79", "-rotor-r-ohm", "4.12", "-rotor-x-ohm", "2.12",
		"-magnetizing-ohm", "66.8", "-turns", "1.18", "-auxiliary-r-ohm", "7.14", "-auxiliary-x-ohm", "3.22",
		"-start-x-ohm", "14.5", "-start-r-ohm", "3", "-inertia-kgm2", "0.0146", "-full-speed-rpm", "1700",
		"-load-nm", "0.8", "-load-rpm", "1710", "-breakaway-percent", "15",
	}, more...)
}

func TestQuarterHorse(t *testing.T) {
	code, out, errs := call(quarter()...)
	assert.Equal(t, console.Done, code, errs)
	for _, want := range []string{"Starts: 0.913 s to 1700 rpm", "17.5 A at most", "0.48", "opens at 1350 rpm", "0.91"} {
		assert.Contains(t, out, want)
	}
	for _, row := range reftest.Rows(t, "motor/start_quasi.csv") {
		code, a := answer(t, quarter("-source-volts", row.Text("v"), "-inertia-kgm2", row.Text("j_kgm2"))...)
		c := a.Cases[0]
		if row.Text("quantity") == "hangs" {
			assert.Equal(t, console.Fails, code)
			assert.Equal(t, fails, a.Verdict)
			assert.Contains(t, a.Why[0], "hangs at")
			continue
		}
		figures := map[string]float64{
			"switch": c.SwitchOpensS, "full speed": c.FullSpeedS, "energy": 3600 * c.EnergyWh, "square time": c.SquareTimeA2S,
		}
		row.Expected(figures[row.Text("quantity")])
	}
}

// The table at rest and at the switch, beside the curves of the machine.
func TestSpeedCurve(t *testing.T) {
	_, a := answer(t, quarter()...)
	for _, row := range reftest.Rows(t, "motor/speed_curve.csv") {
		if row.Text("n_rpm") != "0" {
			continue
		}
		const why = "five digits are shown"
		row.Within("i_capstart_a", a.Cases[0].LockedRotorA, 5e-5, why)
		row.Within("pf_capstart", a.Cases[0].LockedRotorPF, 5e-5, why)
		row.Within("t_capstart_nm", a.Samples[0].TorqueNM, 5e-5, why)
		row.Within("p_capstart_w", a.Samples[0].RealW, 5e-5, why)
	}
}

// The machine of testdata/motor/start_dynamic.csv: its first row has no load.
func TestDynamic(t *testing.T) {
	args := quarter("-dynamic", "yes", "-drives", "none", "-full-speed-rpm", "1710")
	args = slices.DeleteFunc(args, func(s string) bool {
		return slices.Contains([]string{"-load-nm", "0.8", "-load-rpm", "-breakaway-percent", "15"}, s)
	})
	args = slices.Delete(args, slices.Index(args, "1710"), slices.Index(args, "1710")+1) // the load's speed
	_, a := answer(t, args...)
	for _, row := range reftest.Rows(t, "motor/start_dynamic.csv") {
		if row.Text("case") != "A_cos_rc3_free" {
			continue
		}
		const why = "five digits are shown"
		row.Within("i_peak_a", a.Dynamic.PeakA, 5e-5, why)
		row.Within("t_peak_s", a.Dynamic.PeakS, 5e-5, why)
		row.Within("i_rms_cycle1_a", a.Dynamic.FirstCycleA, 5e-5, why)
		row.Within("t_switch_open_s", a.Dynamic.SwitchOpensS, 5e-5, why)
		row.Within("vc_left_abs_v", a.Dynamic.CapacitorLeft, 5e-5, why)
		row.Within("t_95pct_s", a.Dynamic.FullSpeedS, 5e-5, why)
	}
	assert.Len(t, a.Dynamic.Angles, 6)
	for _, p := range a.Dynamic.Angles {
		assert.LessOrEqual(t, p.PeakA, a.Dynamic.WorstA)
	}
}

func TestExitCodes(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	for name, tt := range map[string]struct {
		args []string
		code int
		says string
	}{
		"starts":        {quarter(), console.Done, ""},
		"hums":          {quarter("-source-volts", "15"), console.Fails, ""},
		"hangs":         {quarter("-source", "limited", "-limit-a", "5"), console.Fails, ""},
		"gives up":      {quarter("-source", "generator", "-rating-va", "500"), console.Fails, ""},
		"nothing":       {nil, console.Usage, "usage"},
		"unknown flag":  {[]string{"-hp", "3"}, console.Usage, "hp"},
		"unknown form":  {[]string{"-format", "xml", "-volts", "110"}, console.Usage, "usage"},
		"argument":      {quarter("x"), console.Usage, "usage"},
		"help":          {[]string{"-h"}, console.Done, "usage"},
		"bad number":    {quarter("-volts", "mains"), console.Input, `volts: "mains"`},
		"NaN":           {quarter("-source-r-ohm", "NaN"), console.Input, "source_r_ohm"},
		"word":          {quarter("-source", "battery"), console.Input, "want line, limited, generator"},
		"yes or no":     {quarter("-dynamic", "1"), console.Input, "dynamic"},
		"control":       {quarter("-drives", "\x1b[31m"), console.Input, `\x1b`},
		"letter":        {quarter("-code", "O"), console.Input, "code"},
		"size":          {quarter("-feeder-ft", "10", "-feeder-size", "12"), console.Input, "feeder_size"},
		"no size":       {quarter("-feeder-ft", "10"), console.Input, "feeder_size is missing"},
		"no length":     {quarter("-feeder-size", "12 AWG"), console.Input, "feeder_ft or feeder_m is missing"},
		"two lengths":   {quarter("-feeder-size", "12 AWG", "-feeder-m", "3", "-feeder-ft", "10"), console.Input, "feeder_ft and feeder_m are both given"},
		"missing ohms":  {[]string{"-volts", "110", "-main-r-ohm", "2"}, console.Input, "main_x_ohm is missing"},
		"missing volts": {[]string{"-output-hp", "1"}, console.Input, "volts is missing"},
		"missing size":  {[]string{"-volts", "115"}, console.Input, "output_hp is missing"},
		"not rewired":   {quarter("-source-volts", "220"), console.Input, "source_volts 220 on a motor wired for volts 110"},
		"odd poles":     {quarter("-poles", "3"), console.Input, "even number"},
		"limit":         {quarter("-source", "limited"), console.Input, "limit_a or rating_va is missing"},
		"stray limit":   {quarter("-limit-a", "30"), console.Input, "limit_a is for source limited"},
		"engine":        {quarter("-engine-w", "300"), console.Input, "engine_w is for source generator"},
		"strong engine": {quarter("-source", "generator", "-rating-va", "1000", "-engine-w", "2000"), console.Input, "engine power"},
		"no rating":     {quarter("-source", "generator"), console.Input, "rating_va is missing"},
		"load":          {quarter("-drives", "none"), console.Input, "load_nm is for a load"},
		"piston":        {quarter("-drives", "piston"), console.Input, "breakaway_percent of a piston"},
		"full speed":    {quarter("-full-speed-rpm", "1800"), console.Input, "full_speed_rpm 1800"},
		"angle":         {quarter("-angle-deg", "30"), console.Input, "angle_deg is for dynamic"},
		"dynamic limit": {quarter("-dynamic", "yes", "-source", "limited", "-limit-a", "15", "-source-x-ohm", "1"), console.Input, "dynamic"},
		"wires' limit":  {quarter("-dynamic", "yes", "-source", "limited", "-limit-a", "15", "-feeder-x-ohm", "1"), console.Input, "leave out feeder_x_ohm"},
		"with wires":    {quarter("-dynamic", "yes", "-source", "limited", "-limit-a", "15", "-feeder-ft", "10", "-feeder-size", "12 AWG"), console.Done, ""},
		"three phases":  {quarter("-type", "three-phase"), console.Input, "turns is for one phase"},
		"plot":          {quarter("-plot", file), console.Input, "plot"},
	} {
		code, out, errs := call(tt.args...)
		assert.Equal(t, tt.code, code, "%s: %s%s", name, out, errs)
		assert.Contains(t, errs, tt.says, name)
		assert.NotContains(t, errs, "\x1b", name)
		if code == console.Input || code == console.Usage {
			assert.Empty(t, out, name)
		} else if name != "help" {
			assert.Contains(t, out, "licensed electrician", name)
			assert.Contains(t, out, "locked rotor burns", name)
			assert.Contains(t, out, "holds its charge", name)
		}
	}
}

func TestReasons(t *testing.T) {
	for _, tt := range []struct {
		args []string
		want []string
	}{
		{quarter("-source-volts", "15"), []string{"Does not start", "hums and stands still", "0.12 N·m"}},
		{quarter("-source", "limited", "-limit-a", "4", "-until-s", "60"), []string{"below the 1350 rpm at which its start switch opens", "start winding and capacitor stay on", "would take 17.5 A", "Backfeed"}},
		{quarter("-load-nm", "2.8", "-drives", "piston", "-breakaway-percent", "100"), []string{"without its start winding the motor brings the load no further"}},
		{quarter("-inertia-kgm2", "5"), []string{"after 10 s and still gains speed"}},
		{quarter("-source", "generator", "-rating-va", "500"), []string{"engine of the generator stalls", "Carbon monoxide", "Backfeed"}},
		{quarter("-source-volts", "95"), []string{"Marginal", "with a source 5 % weaker"}},
		{quarter("-inertia-kgm2", "0.1"), []string{"Marginal", "takes its starting current for 3.3 s"}},
	} {
		code, out, errs := call(tt.args...)
		assert.Equal(t, console.Fails, code, errs)
		for _, want := range tt.want {
			assert.Contains(t, out, want)
		}
	}
}

// A motor that hums is shown for a second, as it stands.
func TestStandsStill(t *testing.T) {
	_, a := answer(t, quarter("-source-volts", "15", "-source-r-ohm", "1")...)
	require.Len(t, a.Samples, 6)
	for _, s := range a.Samples {
		assert.Zero(t, s.RPM)
		assert.InEpsilon(t, a.Cases[0].RestCurrentA, s.CurrentA, 1e-3)
		assert.InEpsilon(t, a.Cases[0].RestMotorV, s.MotorV, 1e-3)
		assert.InEpsilon(t, a.Cases[0].RestTorqueNM, s.TorqueNM, 1e-3)
		assert.True(t, s.SwitchClosed)
	}
	assert.InDelta(t, 1, a.Samples[5].TimeS, 0)
}

// A feeder of 100 ft of 12 AWG at 50 °C: 5.31 mΩ/m at 20 °C of uncoated copper
// with 2 % for its strands, 200 ft of it, and 0.00393/K.
func TestFeeder(t *testing.T) {
	_, a := answer(t, quarter("-feeder-ft", "100", "-feeder-size", "12 AWG")...)
	assert.InEpsilon(t, 5.21e-3*1.02*60.96*(1+0.00393*30), a.Motor.FeederROhm, 0.01)
	assert.InEpsilon(t, 0.050/304.8*60.96, a.Motor.FeederXOhm, 0.01)
	_, b := answer(t, quarter("-feeder-r-ohm", plain(a.Motor.FeederROhm), "-feeder-x-ohm", plain(a.Motor.FeederXOhm))...)
	assert.InEpsilon(t, a.Cases[0].FullSpeedS, b.Cases[0].FullSpeedS, 1e-4)
	assert.InEpsilon(t, a.Cases[0].LeastV, b.Cases[0].LeastV, 1e-4)
}

// A textbook's three-phase motor at rest, by the divider of its phase, and its
// feeder counted for one conductor.
func TestThreePhases(t *testing.T) {
	args := []string{
		"-type", "three-phase", "-volts", "460", "-main-r-ohm", "0.641", "-main-x-ohm", "1.106", "-rotor-r-ohm", "0.332", "-rotor-x-ohm", "0.464",
		"-magnetizing-ohm", "26.3", "-inertia-kgm2", "0.1", "-load-nm", "60", "-load-rpm", "1740",
	}
	code, a := answer(t, args...)
	assert.Equal(t, console.Done, code, a.Why)
	rotor := 26.3i * (0.332 + 0.464i) / (0.332 + 26.764i)
	z := 0.641 + 1.106i + rotor
	i := 460 / 1.7320508 / abs(z)
	assert.InEpsilon(t, i, a.Cases[0].RestCurrentA, 1e-4)
	assert.InEpsilon(t, i, a.Cases[0].LockedRotorA, 1e-4)
	_, b := answer(t, append(args, "-feeder-m", "100", "-feeder-size", "10 mm2")...)
	line := complex(b.Motor.FeederROhm, b.Motor.FeederXOhm)
	assert.InEpsilon(t, 0.183*(1+0.00393*30), real(line), 0.02, "100 m of 10 mm², 1.83 Ω/km at 20 °C")
	assert.InEpsilon(t, 460/1.7320508/abs(z+line), b.Cases[0].RestCurrentA, 1e-4)
	code, _, errs := call(append(args, "-dynamic", "yes")...)
	assert.Equal(t, console.Input, code)
	assert.Contains(t, errs, "dynamic is for one phase")
}

func TestShapeOfJSON(t *testing.T) {
	_, out, _ := call(quarter("-format", "json", "-dynamic", "yes", "-source-r-ohm", "1")...)
	var raw map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &raw))
	var walk func(name string, v any)
	walk = func(name string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, x := range v {
				walk(k, x)
			}
		case []any:
			for _, x := range v {
				walk(name, x)
			}
		case float64:
			bare := slices.Contains([]string{"volts", "hertz", "poles", "turns", "source_volts", "locked_rotor_power_factor"}, name)
			assert.True(t, bare || units.MatchString(name), name)
		}
	}
	walk("", raw)
	assert.NotContains(t, out, `\u003c`)
}

func TestSameInputSameBytes(t *testing.T) {
	for _, format := range []string{"text", "json"} {
		_, first, _ := call(quarter("-format", format, "-dynamic", "yes")...)
		_, again, _ := call(quarter("-format", format, "-dynamic", "yes")...)
		assert.Equal(t, first, again)
	}
}

func TestPlots(t *testing.T) {
	folders := []string{t.TempDir(), filepath.Join(t.TempDir(), "new", "folder")}
	for _, dir := range folders {
		code, _, errs := call(quarter("-dynamic", "yes", "-source-r-ohm", "1", "-plot", dir)...)
		assert.Equal(t, console.Done, code, errs)
	}
	texts := map[string][]string{
		"torque-speed.svg": {"torque, N·m", "start switch opens, 1350 rpm", "this start", "what source and wires leave", "runs at 17"},
		"voltage-time.svg": {"time, s", "motor, V rms", "line, A rms", "start switch opens after", "full speed, 1700 rpm"},
		"current-time.svg": {"Line current", "capacitor keeps", "peak, "},
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
}

var units = regexp.MustCompile(`_(a|v|w|va|wh|s|rpm|percent|nm|kgm2|ohm|uf|a2s|j|deg|hp|pu|m|c)$`)

func abs(z complex128) float64 { return cmplx.Abs(z) }

type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errors.New("pipe is broken") }

func TestWriteFails(t *testing.T) {
	var errs bytes.Buffer
	assert.Equal(t, console.Input, run(quarter(), brokenPipe{}, &errs))
	assert.Contains(t, errs.String(), "pipe is broken")
}

func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
