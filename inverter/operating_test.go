package inverter

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestOperateTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/constant_power.csv") {
		s := Source{
			OpenCircuit: unit.Voltage(row.Param("Voc", "V")),
			Battery:     unit.Resistance(row.Param("R", "ohm")),
		}
		q := row.Text("quantity")
		switch q {
		case "power at the cut-off":
			p, err := s.LargestPower(unit.Voltage(row.Param("Vcut", "V")))
			require.NoError(t, err, row.Source())
			row.Expected(float64(p))
			continue
		case "maximum deliverable power":
			p, err := s.CollapsePower()
			require.NoError(t, err, row.Source())
			row.Expected(float64(p))
			continue
		}
		p, err := s.Operate(unit.Power(row.Param("P", "W")))
		if q == "no operating point" {
			require.ErrorIs(t, err, ErrCollapse, row.Source())
			continue
		}
		require.NoError(t, err, row.Source())
		switch q {
		case "terminal voltage":
			row.Expected(float64(p.Voltage))
		case "dc current":
			row.Expected(float64(p.Current))
		case "loss in R":
			row.Expected(float64(s.Losses(p.Current).Total()))
		default:
			t.Fatalf("%s: no test for %q", row.Source(), q)
		}
	}
}

func TestOperateByPlace(t *testing.T) {
	p, err := flooded12V.Operate(1500)
	require.NoError(t, err)
	d, h := flooded12V.Drops(p.Current), flooded12V.Losses(p.Current)
	i := float64(p.Current)
	assert.InDelta(t, i*7e-3, float64(d.Battery), 1e-12)
	assert.InDelta(t, i*2e-3, float64(d.Cable), 1e-12)
	assert.InDelta(t, i*1e-3, float64(d.Contacts), 1e-12)
	assert.InDelta(t, 12.6, float64(p.Voltage+d.Battery+d.Cable+d.Contacts), 1e-12)
	assert.InDelta(t, 12.6, float64(p.Voltage+d.Total()), 1e-12)
	assert.InDelta(t, i*i*2e-3, float64(h.Cable), 1e-9)
	// Energy balance: what the source gives is what arrives and what heats.
	assert.InDelta(t, 12.6*i, float64(p.Power+h.Battery+h.Cable+h.Contacts), 1e-9)
}

func TestCollapse(t *testing.T) {
	p, err := flooded12V.Operate(3969 * (1 - 1e-12))
	require.NoError(t, err)
	assert.InDelta(t, 6.3, float64(p.Voltage), 1e-4)
	_, err = flooded12V.Operate(3970)
	var collapse *CollapseError
	require.ErrorAs(t, err, &collapse)
	require.ErrorIs(t, err, ErrCollapse)
	require.NotErrorIs(t, err, ErrDomain)
	assert.InDelta(t, 3969, float64(collapse.Largest), 1e-9)
	assert.InDelta(t, 3970, float64(collapse.Demand), 0)
	assert.EqualError(t, err, "inverter: source collapses at 3970 W dc, its largest power is 3969 W")
}

// With the cut-off at 5/6 of the open-circuit voltage the power there is 5/9 of
// the collapse power, whatever the voltage and the resistance.
func TestFiveNinths(t *testing.T) {
	for _, v := range []unit.Voltage{12.6, 25.2, 51.2} {
		for _, r := range []unit.Resistance{1e-3, 10e-3, 50e-3} {
			s := Source{OpenCircuit: v, Battery: r}
			p, err := s.LargestPower(v * 5 / 6)
			require.NoError(t, err)
			top, err := s.CollapsePower()
			require.NoError(t, err)
			closeTo(t, 5.0/9, float64(p/top), 1e-12)
		}
	}
}

func TestLargestPower(t *testing.T) {
	top, err := flooded12V.CollapsePower()
	require.NoError(t, err)
	p, err := flooded12V.LargestPower(6) // below half of V_oc
	require.NoError(t, err)
	assert.InDelta(t, float64(top), float64(p), 1e-9)
	p, err = flooded12V.LargestPower(12.6)
	require.NoError(t, err)
	assert.Zero(t, p)
	_, err = flooded12V.LargestPower(12.61)
	require.ErrorIs(t, err, ErrRestBelowCutOff)
	_, err = flooded12V.LargestPower(1.75) // a cell's threshold
	domainError(t, err, "cut-off voltage 1.75 V, want 5 V to 1 kV")
}

// The shortcut P/V is what the exact form tends to as the resistance goes.
func TestShortcutCurrent(t *testing.T) {
	i, err := ShortcutCurrent(1000, 12.6)
	require.NoError(t, err)
	s := Source{OpenCircuit: 12.6, Battery: 10e-6}
	p, err := s.Operate(1000)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(i), float64(p.Current), 1e-4)
	// At the terminal voltage it is exact; at the rest voltage it is low.
	p, err = flooded12V.Operate(1000)
	require.NoError(t, err)
	exact, err := ShortcutCurrent(1000, p.Voltage)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(p.Current), float64(exact), 1e-12)
	assert.Greater(t, float64(p.Current), float64(i))
}

func TestSourceBounds(t *testing.T) {
	for _, c := range []struct {
		s     Source
		words string
	}{
		{Source{12.6, 10e-3, 0, 0}, ""},
		{Source{5, 10e-6, 1, 1}, ""},
		{Source{1000, 1, 0, 0}, ""},
		{Source{}, "open-circuit voltage"},
		{Source{}, "battery resistance"},
		{Source{4.99, 10e-3, 0, 0}, "open-circuit voltage 4.99 V, want 5 V to 1 kV"},
		{Source{1001, 10e-3, 0, 0}, "open-circuit voltage"},
		{Source{12.6, 10, 0, 0}, "battery resistance 10 Ω, want 10 µΩ to 1 Ω"}, // 10 mΩ forgotten
		{Source{12.6, 9e-6, 0, 0}, "battery resistance"},
		{Source{12.6, 10e-3, 2, 0}, "cable resistance"},
		{Source{12.6, 10e-3, 0, 1.01}, "contact resistance"},
	} {
		err := c.s.Validate()
		if c.words == "" {
			require.NoError(t, err)
			_, err = c.s.Operate(1)
			require.NoError(t, err)
			continue
		}
		domainError(t, err, c.words)
		_, err = c.s.Operate(1)
		domainError(t, err, c.words)
		_, err = c.s.CollapsePower()
		domainError(t, err, c.words)
		_, err = c.s.LargestPower(10.5)
		domainError(t, err, c.words)
	}
	for _, x := range strange {
		for _, s := range []Source{
			{unit.Voltage(x), 10e-3, 0, 0},
			{12.6, unit.Resistance(x), 0, 0},
			{12.6, 10e-3, unit.Resistance(x), 0},
			{12.6, 10e-3, 0, unit.Resistance(x)},
		} {
			_, err := s.Operate(100)
			require.ErrorIs(t, err, ErrDomain)
		}
		_, err := flooded12V.Operate(unit.Power(x))
		require.ErrorIs(t, err, ErrDomain)
		_, err = flooded12V.LargestPower(unit.Voltage(x))
		require.ErrorIs(t, err, ErrDomain)
		_, err = ShortcutCurrent(unit.Power(x), 12)
		require.ErrorIs(t, err, ErrDomain)
		_, err = ShortcutCurrent(100, unit.Voltage(x))
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err := flooded12V.Operate(10e6)
	require.ErrorIs(t, err, ErrCollapse)
	_, err = flooded12V.Operate(10.1e6)
	require.ErrorIs(t, err, ErrDomain)
	require.NotErrorIs(t, err, ErrCollapse)
}

// Light load loses no digits: I·V_oc tends to P.
func TestOperateLightLoad(t *testing.T) {
	p, err := flooded12V.Operate(1e-9)
	require.NoError(t, err)
	closeTo(t, 1e-9/12.6, float64(p.Current), 1e-12)
	p, err = flooded12V.Operate(0)
	require.NoError(t, err)
	assert.Zero(t, p.Current)
	assert.InDelta(t, 12.6, float64(p.Voltage), 0)
}
