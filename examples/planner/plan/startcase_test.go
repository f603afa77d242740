package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
	"ridethrough.example/internal/reftest"
)

const startTable = "field/starts.csv"

// startState is the worst of all checks about starts.
func startState(p *Plan) State {
	state := Holds
	for _, c := range p.Checks {
		if isStart(c.ID) {
			state = min(state, c.State)
		}
	}
	return state
}

// held is the point of a figure's range nearest to a reading: the range meets
// the reading where it holds it.
func held(f Figure, r reftest.Row) float64 { return min(max(r.Float("expected"), f.Low), f.High) }

// What people told of their starts is what the plan says: it starts, it is
// marginal or fails at the sharpest check, it does not pass.
func TestStartCaseVerdicts(t *testing.T) {
	for _, r := range reftest.Rows(t, startTable) {
		if !r.Has("verdict") {
			continue
		}
		p := planned(t, r.Text("site"))
		state := startState(p)
		name := r.Text("id") + ": " + p.Verdict[0]
		switch r.Text("verdict") {
		case "starts":
			// The sharp checks of the dc side may doubt a bank that nobody measured.
			assert.NotEqual(t, Fails, state, name)
			for _, key := range p.Keys {
				assert.Equal(t, Holds, checkOf(t, p, key+".start_runup").State, name)
			}
		case "marginal":
			assert.NotEqual(t, Holds, state, name)
			for _, c := range p.Checks {
				if strings.HasSuffix(c.ID, ".start_runup") {
					assert.Equal(t, Depends, c.State, name)
				}
			}
		case "fails":
			assert.Equal(t, Fails, state, name)
		default:
			t.Errorf("verdict %q", r.Text("verdict"))
		}
		assertFinite(t, p)
	}
}

func TestStartCaseTwoWirePump(t *testing.T) {
	p := planned(t, "c04_two_wire")
	dip := figure(t, p, "well_pump.start_motor_v")
	row(t, startTable, "C04").Expected(230 - dip.Shortcut.Value)
	assert.Greater(t, dip.Low, dip.Shortcut.Value, "the current falls with the voltage")
	row(t, startTable, "C04b").Expected(figure(t, p, "well_pump.run_drop_v").Shortcut.Value)
	// On its way up it never has less than with the rotor held.
	assert.GreaterOrEqual(t, figure(t, p, "well_pump.runup_motor_v").Low, dip.Low)

	cool := p.Site
	cool.Loads = []Load{cool.Loads[0]}
	cool.Loads[0].Run = append([]Segment(nil), cool.Loads[0].Run...)
	for i := range cool.Loads[0].Run {
		cool.Loads[0].Run[i].Temperature = must[unit.Temperature](t, "20 °C")
	}
	q, err := Make(cool)
	require.NoError(t, err)
	row(t, startTable, "C04c").Expected(figure(t, q, "well_pump.run_drop_v").Shortcut.Value)

	// The makers' rule of 65 %, and what it leaves of the torque.
	c := checkOf(t, p, "well_pump.start_voltage")
	row(t, startTable, "C54").Expected(c.Limit / 100 * c.Limit / 100)
	long := cool
	for i := range long.Loads[0].Run {
		long.Loads[0].Run[i].Size = conductor.AWG(20)
	}
	q, err = Make(long)
	require.NoError(t, err)
	assert.Equal(t, Depends, checkOf(t, q, "well_pump.start_voltage").State)
	assert.Greater(t, figure(t, q, "well_pump.runup_s").High, figure(t, p, "well_pump.runup_s").High)
}

func TestStartCaseSteppedWave(t *testing.T) {
	s := siteFile(t, "c12_stepped_jet")
	r := row(t, startTable, "C12")
	v := float64(readMaker(t, s).fundamental())
	r.Expected(v)
	r.Rejects("published_wrong", v, 0.03)
	p, err := Make(s)
	require.NoError(t, err)
	c := checkOf(t, p, "jet_pump.start_runup")
	assert.Contains(t, c.Message, "Marginal")
	assert.Contains(t, c.Message, "the surge rating holds the current")
	// On a sine wave it starts sooner.
	s.Inverter.Wave = "sine"
	sine, err := Make(s)
	require.NoError(t, err)
	assert.Less(t, figure(t, sine, "jet_pump.runup_s").High, figure(t, p, "jet_pump.runup_s").High)
}

func TestStartCaseOldRefrigerator(t *testing.T) {
	p := planned(t, "c22_old_refrigerator")
	row(t, startTable, "C22").Expected(figure(t, p, "battery.runtime_h").Shortcut.Value)
	assert.Contains(t, strings.Join(notes(p), " "), "missed by a slow meter", "1100 W over 800 W is no start")
}

func TestStartCaseCoffeeMaker(t *testing.T) {
	p := planned(t, "c24_coffee_maker")
	i := figure(t, p, "battery.continuous_dc_a")
	row(t, startTable, "C24").Expected(i.Shortcut.Value)
}

func TestStartCaseAirConditioner(t *testing.T) {
	p := planned(t, "c27_air_conditioner")
	r := row(t, startTable, "C27")
	r.Expected(held(figure(t, p, "battery.continuous_dc_a"), r))
	s := p.Site
	s.Loads = []Load{s.Loads[0]}
	s.Loads[0].Measured.Current = must[unit.Current](t, "3.6 A (measured)")
	morning, err := Make(s)
	require.NoError(t, err)
	r = row(t, startTable, "C27b")
	r.Expected(held(figure(t, morning, "battery.continuous_dc_a"), r))

	// A battery is emptied sooner than its ampere-hours over amperes say.
	p = planned(t, "c28_small_air_conditioner")
	r = row(t, startTable, "C28")
	hours := figure(t, p, "battery.runtime_continuous_h")
	r.Expected(held(hours, r))
	r.Rejects("published_wrong", hours.High, 0.1)
}

func TestStartCaseFurnaceBlower(t *testing.T) {
	p := planned(t, "c31_furnace_blower")
	assert.InEpsilon(t, 400, figure(t, p, "blower.start_dc_a").Shortcut.Value, 0.05, "ten times the 40 A of the ac side")
	i := figure(t, p, "battery.continuous_dc_a")
	assert.Less(t, i.High, 100.0, "the 1080 VA are 600 to 750 W")
	s := p.Site
	s.Loads = []Load{s.Loads[0]}
	s.Loads[0].Measured.Power = must[unit.Power](t, "1080 W")
	all, err := Make(s)
	require.NoError(t, err)
	row(t, startTable, "C31").Expected(figure(t, all, "battery.continuous_dc_a").Shortcut.Value)
	// A surge of 4000 VA is short of 40 A by a fifth: held to that it starts.
	_, ok := p.Figure("blower.need_soft_start_percent")
	assert.True(t, ok)
}

// A 14 V pack of four cells and three links gives 3733 A. The planner knows no
// voltage under fault and takes that of a rested full bank, 14.4 V, which errs
// to the side of the fuse.
func TestStartCaseSmallLithium(t *testing.T) {
	i := figure(t, planned(t, "c46_small_lithium"), "battery.fault_a")
	assert.Greater(t, i.High, 3733.0)
	assert.Less(t, i.High, 3733*1.03)
}

// Two weak batteries are better than none in their place.
func TestStartCaseWeakBatteries(t *testing.T) {
	p := planned(t, "c49_weak_batteries")
	s := p.Site
	s.Battery.Parallel = 2
	two, err := Make(s)
	require.NoError(t, err)
	const id = "refrigerator.start_runup"
	assert.Equal(t, Depends, checkOf(t, p, id).State, "it keeps shutting down")
	assert.LessOrEqual(t, checkOf(t, two, id).State, checkOf(t, p, id).State)
	assert.Less(t, checkOf(t, two, "refrigerator.start_dc").Margin(), checkOf(t, p, "refrigerator.start_dc").Margin())
	assert.Contains(t, strings.Join(p.Verdict, " "), "starts, at the depth limit marginal: at the bad end the low-voltage cut-off trips from the first instant")
	assert.Contains(t, strings.Join(two.Verdict, " "), "as the outage begins (charged to 100 %) marginal", "even full it trips now")
	assert.LessOrEqual(t, figure(t, two, "refrigerator.runup_dc_v").High, figure(t, p, "refrigerator.runup_dc_v").High)
	f, ok := p.Figure("refrigerator.need_battery_ohm")
	require.True(t, ok)
	assert.Contains(t, f.Also, "5 strings of the same batteries in parallel have in place of 4")
}

func TestStartCaseLowVoltage(t *testing.T) {
	p := planned(t, "c58_low_voltage")
	c := checkOf(t, p, "refrigerator.supply_low")
	row(t, startTable, "C58").Expected(c.Low / 100)
	assert.Equal(t, Fails, c.State)
	// The start winding drops out later than at the rated voltage.
	s := p.Site
	s.Inverter.Output = must[unit.Voltage](t, "115 V")
	rated, err := Make(s)
	require.NoError(t, err)
	assert.Less(t, figure(t, rated, "refrigerator.runup_s").High, figure(t, p, "refrigerator.runup_s").High)
}

// The cases that are planned elsewhere: an alarm that comes and goes is a dc side
// that depends, and a pump far from its inverter starts on a full bank alone.
func TestStartCaseOthers(t *testing.T) {
	assert.Equal(t, Depends, checkOf(t, planned(t, "c43_thin_cable"), "battery.running").State)
	far := planned(t, "c02_distant_well")
	assert.Equal(t, Depends, checkOf(t, far, "well_pump.start_runup").State)
	assert.Contains(t, strings.Join(far.Verdict, " "), "as the outage begins (charged to 100 %) starts, at the depth limit marginal")
	c10 := planned(t, "c10_one_hp")
	assert.Equal(t, Depends, checkOf(t, c10, "submersible.start_runup").State)
	f := figure(t, c10, "submersible.need_surge_va")
	assert.InEpsilon(t, 11000, f.High, 0.1, "the case reckons 11 kVA for a start without a limit")
}
