package plan

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func schedule(t *testing.T, p *Plan, title string) Schedule {
	t.Helper()
	for _, s := range p.Schedules {
		if strings.Contains(s.Title, title) {
			return s
		}
	}
	require.Fail(t, "no schedule "+title)
	return Schedule{}
}

// Every row has a cell a column, and the list runs from the battery to each
// load.
func TestSchedulesAreRectangular(t *testing.T) {
	for _, name := range []string{"c02_distant_well", "c06_pump_house", "c11_deep_well", "c43_thin_cable", "half_horse_jet"} {
		p := planned(t, name)
		for _, s := range p.Schedules {
			for _, row := range s.Rows {
				assert.Len(t, row, len(s.Columns), "%s: %s", name, s.Title)
			}
		}
		list := schedule(t, p, "From battery to motor")
		assert.Len(t, list.Rows, 3+len(p.Site.Loads))
		assert.Equal(t, "battery posts, dc", list.Rows[0][0])
	}
}

// A 2 hp motor of 230 V: 12 A in the code's table, a wire of 15 A and an
// inverse-time breaker of 30 A (a trade magazine's code question).
func TestMotorCircuitOfTheSchedule(t *testing.T) {
	rows := schedule(t, planned(t, "c02_distant_well"), "Cables").Rows
	require.Len(t, rows, 3)
	assert.Contains(t, rows[1][5], "table current 12 A: wire of 15 A, breaker to 30 A")
	assert.Equal(t, "the same", rows[2][5])
	assert.Equal(t, "joint 1", rows[1][1])
	assert.Equal(t, "joint 1", rows[2][0])
}

// The voltage falls from the posts to the inverter, and rises nowhere on the
// way to a load.
func TestLineListFalls(t *testing.T) {
	p, err := Make(mustRead(t, sampleText(t)))
	require.NoError(t, err)
	rows := schedule(t, p, "From battery to motor").Rows
	volts := func(row, column int) float64 {
		x, err := parseNumber(rows[row][column])
		require.NoError(t, err, rows[row])
		return x
	}
	for _, column := range []int{1, 3} {
		assert.Less(t, volts(1, column), volts(0, column))
		assert.LessOrEqual(t, volts(3, column), volts(2, column))
	}
	assert.Less(t, volts(0, 3), volts(0, 1))
}

func TestFuseOfTheSite(t *testing.T) {
	good := sampleText(t)
	for _, tt := range []struct{ old, with, check string }{
		{`fuse = "150 A (nameplate)"`, `fuse = "400 A"`, "dc_cable.fuse"},
		{`fuse = "150 A (nameplate)"`, `fuse = "40 A"`, "dc_cable.fuse_least"},
		{`fuse = "150 A (nameplate)"`, `fuse = "150..250 A"`, "dc_cable.fuse"},
		{`interrupting = "20 kA (nameplate)"`, `interrupting = "1 kA"`, "dc_cable.interrupting"},
		{`size = "2/0 AWG"`, `size = "14 AWG"`, "dc_cable.fuse"},
	} {
		require.Contains(t, good, tt.old)
		p, err := Make(mustRead(t, strings.Replace(good, tt.old, tt.with, 1)))
		require.NoError(t, err)
		assert.NotEqual(t, Holds, checkOf(t, p, tt.check).State, tt.with)
		assert.False(t, p.Passes(), tt.with)
	}
	// Beyond 7 in it depends on a sheath, and beyond the cable's end it is wrong.
	p, err := Make(mustRead(t, strings.Replace(good, `fuse_distance = "15 cm`, `fuse_distance = "1 m`, 1)))
	require.NoError(t, err)
	assert.Equal(t, Depends, checkOf(t, p, "dc_cable.fuse_distance").State)
	assert.False(t, p.Passes())
	_, err = Make(mustRead(t, strings.Replace(good, `fuse_distance = "15 cm`, `fuse_distance = "3 m`, 1)))
	assert.ErrorContains(t, err, "farther from the battery than the cable is long")
}

// Where nothing starts, nothing is said of a start; and a source that collapses
// has no output.
func TestLineListBlanks(t *testing.T) {
	rows := planned(t, "c46_small_lithium").Schedules[0].Rows
	assert.Equal(t, []string{"", ""}, rows[0][3:])
	for _, row := range planned(t, "c43_thin_cable").Schedules[0].Rows {
		assert.NotContains(t, row[3:], "collapses")
	}
	p, err := Make(mustRead(t, strings.Replace(fmt.Sprintf(heater, 3000), "\"5 mohm\"", "\"3..15 mohm\"", 1)))
	require.NoError(t, err)
	rows = p.Schedules[0].Rows
	require.Equal(t, "collapses", rows[1][1])
	assert.Empty(t, rows[2][1])
	assert.Empty(t, rows[3][1])
}
